package units

import (
	"errors"
	"math"
	"testing"
)

// quantities are the readers under one shape, for tables and the fuzz target.
var quantities = map[string]func(string) (float64, error){
	"m":   func(s string) (float64, error) { v, err := ParseMetres(s); return float64(v), err },
	"mm":  func(s string) (float64, error) { v, err := ParseMillimetres(s); return float64(v), err },
	"mm²": func(s string) (float64, error) { v, err := ParseSquareMM(s); return float64(v), err },
	"A":   func(s string) (float64, error) { v, err := ParseAmps(s); return float64(v), err },
	"V":   func(s string) (float64, error) { v, err := ParseVolts(s); return float64(v), err },
	"ohm": func(s string) (float64, error) { v, err := ParseOhms(s); return float64(v), err },
	"W":   func(s string) (float64, error) { v, err := ParseWatts(s); return float64(v), err },
	"C":   func(s string) (float64, error) { v, err := ParseCelsius(s); return float64(v), err },
	"deg": func(s string) (float64, error) { v, err := ParseDegrees(s); return float64(v), err },
}

// A foot is 0.3048 m and an inch 25.4 mm by definition (international yard and
// pound agreement, 1959).
func TestQuantities(t *testing.T) {
	tests := []struct {
		unit, text string
		want       float64
	}{
		{"m", "6 m", 6}, {"m", "450 mm", 0.45}, {"m", "12 ft", 3.6576}, {"m", "3 in", 0.0762}, {"m", "6", 6}, {"m", "  2.5m ", 2.5}, {"m", "75cm", 0.75}, {"m", "0", 0},
		{"mm", "20", 20}, {"mm", "20 mm", 20}, {"mm", "2 cm", 20}, {"mm", "1 in", 25.4}, {"mm", "0.5 m", 500},
		{"mm²", "2.5", 2.5}, {"mm²", "2.5 mm²", 2.5}, {"mm²", "2.5mm2", 2.5}, {"mm²", "16 mm^2", 16},
		{"A", "20 A", 20}, {"A", "30 mA", 0.03}, {"A", "1.6 kA", 1600}, {"V", "230 V", 230}, {"V", "0.4 kV", 400},
		{"ohm", "0.35 ohm", 0.35}, {"ohm", "0.35 Ω", 0.35}, {"ohm", "12 mohm", 0.012}, {"W", "3 kW", 3000}, {"W", "450 VA", 450},
		{"C", "30 C", 30}, {"C", "-5 °C", -5}, {"C", "30", 30}, {"deg", "45", 45}, {"deg", "22.5°", 22.5}, {"deg", "90 degrees", 90},
	}
	for _, tt := range tests {
		got, err := quantities[tt.unit](tt.text)
		if err != nil || math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%q: %v %s, %v; want %v", tt.text, got, tt.unit, err, tt.want)
		}
	}
}

func TestQuantityErrors(t *testing.T) {
	tests := []struct {
		unit, text  string
		offset, len int
		want        string
	}{
		{"m", "", 0, 1, "no number here; expected a length such as 6 m, 450 mm or 12 ft"},
		{"m", "six m", 0, 1, "no number here; expected a length such as 6 m, 450 mm or 12 ft"},
		{"m", "  6 metres", 4, 6, `"metres" is no unit of length; such as 6 m, 450 mm or 12 ft`},
		{"m", "2,5 m", 1, 1, "a comma inside a number; write a point: 2.5"},
		{"m", "0,135", 1, 1, "a comma inside a number; write a point: 0.135"},
		{"m", "1.2.3 m", 0, 5, `"1.2.3" is no number; write it like 2.5 or 0.9`},
		{"m", ".5 m", 0, 2, `".5" is no number; write it like 2.5 or 0.9`},
		{"m", "010 m", 0, 3, "is 010 meant as 10?; write it without the leading 0"},
		{"m", "-3 m", 0, 4, "a length is not negative; such as 6 m, 450 mm or 12 ft"},
		{"m", "450", 0, 3, "is 450 right? a number without a unit is metres; write the unit: 6 m, 450 mm or 12 ft"},
		{"m", "20 km", 3, 2, `"km" is no unit of length; such as 6 m, 450 mm or 12 ft`},
		{"m", "12000 m", 0, 7, "12000 m is more than any length here; at most 10000 m"},
		{"m", "1e3 m", 1, 1, `an exponent in a number; write the number out`},
		{"m", "1_000 m", 1, 1, `an underscore inside a number; write the digits together`},
		{"m", "1234567890123456 m", 0, 16, `"1234567890123456" has too many digits; at most 15`},
		{"A", " 20", 1, 2, "a current needs its unit; such as 20 A"},
		{"A", "20 V", 3, 1, `"V" is no unit of current; such as 20 A`},
		{"C", "900 C", 0, 5, "900 C is more than any temperature here; at most 200 C"},
		{"C", "-900 C", 0, 6, "-900 C is less than any temperature here; at least -200 C"},
	}
	for _, tt := range tests {
		_, err := quantities[tt.unit](tt.text)
		var e *Error
		if !errors.As(err, &e) || e.Offset != tt.offset || e.Len != tt.len || e.Error() != tt.want {
			t.Errorf("%q: %+v\nwant %d, %d, %s", tt.text, err, tt.offset, tt.len, tt.want)
		}
	}
}

func TestCount(t *testing.T) {
	if n, err := Count(" 4 ", 10); n != 4 || err != nil {
		t.Errorf("%d, %v", n, err)
	}
	tests := []struct {
		text        string
		offset, len int
		want        string
	}{
		{" x", 1, 1, "no number here; expected a whole number"},
		{"  2.5", 2, 3, `"2.5" is no whole number; expected 0, 1, 2, …`},
		{"-1", 0, 2, `"-1" is no whole number; expected 0, 1, 2, …`},
		{"4 off", 0, 5, `"4 off" is no whole number; expected 0, 1, 2, …`},
		{" 11", 1, 2, "11 is too many; at most 10"},
		{"999999999999999", 0, 15, "999999999999999 is too many; at most 10"},
	}
	for _, tt := range tests {
		_, err := Count(tt.text, 10)
		var e *Error
		if !errors.As(err, &e) || e.Offset != tt.offset || e.Len != tt.len || e.Error() != tt.want {
			t.Errorf("%q: %+v\nwant %d, %d, %s", tt.text, err, tt.offset, tt.len, tt.want)
		}
	}
}

func TestFormat(t *testing.T) {
	for v, want := range map[float64]string{0: "0", math.Copysign(0, -1): "0", 6: "6", 2.5: "2.5", 0.1 + 0.2: "0.3", 1234567: "1234567", -5: "-5", 1e-9: "0", -1e-9: "0", 1.0 / 3: "0.333333"} {
		if got := Format(v); got != want {
			t.Errorf("%v: %s, want %s", v, got, want)
		}
	}
	if got := Metres(0.45).MM(); got != 450 {
		t.Errorf("0.45 m is %v mm", got)
	}
	if got := Millimetres(450).Metres(); got != 0.45 {
		t.Errorf("450 mm is %v m", got)
	}
}

// FuzzQuantity: no text panics, an error marks a part of the text, and what is
// read prints as something that reads the same.
func FuzzQuantity(f *testing.F) {
	for _, s := range []string{"6 m", "450 mm", "2.5 mm²", "-5 C", "1.2.3", "", " ", "\t6 m", "6 \u00a0m", "٣ m", "0.1 in", "9,5", "-.5", "00", "-0 C"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for name, parse := range quantities {
			v, err := parse(s)
			var e *Error
			if errors.As(err, &e) {
				if e.Offset < 0 || e.Len < 1 || e.Offset+e.Len > max(1, len(s)) || e.What == "" {
					t.Fatalf("%s %q: marks %d+%d of %d bytes: %v", name, s, e.Offset, e.Len, len(s), e)
				}
				continue
			}
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%s %q reads as %v", name, s, v)
			}
			again, err := parse(Format(v) + " " + name)
			if err != nil || math.Abs(again-v) > 1e-6 || Format(again) != Format(v) {
				t.Fatalf("%s %q: %v, printed and read again %v, %v", name, s, v, again, err)
			}
		}
		if _, err := Count(s, 100); err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Offset < 0 || e.Len < 1 || e.Offset+e.Len > max(1, len(s)) {
				t.Fatalf("count %q: %+v of %d bytes", s, err, len(s))
			}
		}
	})
}
