// Package units holds the quantities of the trade as types and reads them as
// written on a site note: 6 m, 450 mm, 12 ft, 2.5 mm², 20 A, 0.35 ohm.
//
// A number is read by one strict grammar: digits with at most one point. No
// exponent, no sign but a leading minus where the quantity may have one, no
// decimal comma, nothing that is not finite.
package units

import (
	"cmp"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// The quantities. A value of zero usually means "not said".
type (
	Metres      float64
	Millimetres float64
	SquareMM    float64 // mm²
	Amps        float64
	Volts       float64
	Ohms        float64
	Watts       float64
	Celsius     float64
	Degrees     float64
)

// MM returns the length in millimetres.
func (m Metres) MM() Millimetres { return Millimetres(m * 1000) }

// Metres returns the length in metres.
func (mm Millimetres) Metres() Metres { return Metres(mm / 1000) }

// Error says what is wrong with a written quantity and where in the text.
type Error struct {
	Offset, Len int // bytes of the text to mark
	What, Want  string
}

func (e *Error) Error() string {
	if e.Want == "" {
		return e.What
	}
	return e.What + "; " + e.Want
}

// unit is one way to write a unit and how many of the base unit it is.
type unit struct {
	name  string
	ratio float64
}

// dim is what a quantity is measured in. The first unit is the base.
type dim struct {
	name     string // "a length"
	example  string
	units    []unit
	bare     float64 // ratio of a number without a unit, 0 where one is needed
	negative bool
	most     float64 // largest believable value in the base unit
	bareMost float64 // largest believable number written without a unit
	bareHint string
}

var (
	length = dim{name: "a length", example: "6 m, 450 mm or 12 ft",
		units: []unit{{"m", 1}, {"mm", 1e-3}, {"cm", 1e-2}, {"ft", 0.3048}, {"in", 0.0254}},
		bare:  1, most: 10000, bareMost: 100, bareHint: "a number without a unit is metres"}
	size = dim{name: "a size", example: "20 mm",
		units: []unit{{"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", 25.4}},
		bare:  1, most: 100000, bareMost: 5000, bareHint: "a number without a unit is millimetres here"}
	area = dim{name: "a cable size", example: "2.5 or 2.5 mm²",
		units: []unit{{"mm²", 1}, {"mm2", 1}, {"sqmm", 1}, {"mm^2", 1}},
		bare:  1, most: 1000, bareMost: 1000, bareHint: "a number without a unit is mm²"}
	current     = dim{name: "a current", example: "20 A", units: []unit{{"A", 1}, {"mA", 1e-3}, {"kA", 1e3}}, most: 200000}
	voltage     = dim{name: "a voltage", example: "230 V", units: []unit{{"V", 1}, {"kV", 1e3}}, most: 1000}
	resistance  = dim{name: "a resistance", example: "0.35 ohm", units: []unit{{"ohm", 1}, {"Ω", 1}, {"\u2126", 1}, {"ohms", 1}, {"mohm", 1e-3}, {"mΩ", 1e-3}}, most: 10000}
	power       = dim{name: "a power", example: "3 kW or 450 W", units: []unit{{"W", 1}, {"kW", 1e3}, {"VA", 1}, {"kVA", 1e3}}, most: 1e6}
	temperature = dim{name: "a temperature", example: "30 C", units: []unit{{"C", 1}, {"°C", 1}, {"degC", 1}}, bare: 1, negative: true, most: 200, bareMost: 200}
	letThrough  = dim{name: "a let-through energy", example: "30000 A²s", units: []unit{{"A²s", 1}, {"A2s", 1}, {"kA²s", 1e6}, {"kA2s", 1e6}}, most: 1e12}
	share       = dim{name: "a share", example: "35 % or 0.35", units: []unit{{"%", 0.01}}, bare: 1, most: 1, bareMost: 1, bareHint: "a number without % is a fraction"}
	angle       = dim{name: "an angle", example: "45 degrees", units: []unit{{"degrees", 1}, {"degree", 1}, {"deg", 1}, {"°", 1}}, bare: 1, most: 360, bareMost: 360}
)

// ParseMetres reads a length; a number without a unit is metres.
func ParseMetres(s string) (Metres, error) { v, err := length.parse(s); return Metres(v), err }

// ParseMillimetres reads a small size; a number without a unit is millimetres.
func ParseMillimetres(s string) (Millimetres, error) {
	v, err := size.parse(s)
	return Millimetres(v), err
}

// ParseSquareMM reads a conductor's cross-section; a bare number is mm².
func ParseSquareMM(s string) (SquareMM, error) { v, err := area.parse(s); return SquareMM(v), err }

// ParseAmps reads a current, which needs its unit.
func ParseAmps(s string) (Amps, error) { v, err := current.parse(s); return Amps(v), err }

// ParseVolts reads a voltage, which needs its unit.
func ParseVolts(s string) (Volts, error) { v, err := voltage.parse(s); return Volts(v), err }

// ParseOhms reads a resistance, which needs its unit.
func ParseOhms(s string) (Ohms, error) { v, err := resistance.parse(s); return Ohms(v), err }

// ParseWatts reads a power, which needs its unit.
func ParseWatts(s string) (Watts, error) { v, err := power.parse(s); return Watts(v), err }

// ParseCelsius reads a temperature; a bare number is degrees Celsius.
func ParseCelsius(s string) (Celsius, error) { v, err := temperature.parse(s); return Celsius(v), err }

// ParseDegrees reads an angle; a bare number is degrees.
func ParseDegrees(s string) (Degrees, error) { v, err := angle.parse(s); return Degrees(v), err }

// parse reads "number unit" and returns the value in the base unit.
func (d *dim) parse(s string) (float64, error) {
	text := strings.TrimRight(s, " ")
	from := len(text) - len(strings.TrimLeft(text, " "))
	n, rest, err := Number(text[from:])
	if err != nil {
		err.Offset += from
		if err.Want == "" {
			err.Want = "expected " + d.name + " such as " + d.example
		}
		return 0, err
	}
	at := len(text) - len(rest)
	word := strings.TrimLeft(rest, " ")
	ratio, ok := d.ratio(word)
	switch {
	case !ok && word == "":
		return 0, &Error{from, max(1, len(text)-from), d.name + " needs its unit", "such as " + d.example}
	case !ok:
		return 0, &Error{at + len(rest) - len(word), len(word), strconv.Quote(word) + " is no unit of " + strings.TrimPrefix(d.name, "a "), "such as " + d.example}
	case n < 0 && !d.negative:
		return 0, &Error{from, max(1, len(text)-from), d.name + " is not negative", "such as " + d.example}
	case word == "" && n > d.bareMost:
		return 0, &Error{from, len(text) - from, "is " + text[from:] + " right? " + d.bareHint, d.bareWant(n)}
	case n*ratio < -d.most:
		return 0, &Error{from, len(text) - from, text[from:] + " is less than any " + strings.TrimPrefix(d.name, "a ") + " here", "at least -" + Format(d.most) + " " + d.units[0].name}
	case n*ratio > d.most:
		return 0, &Error{from, len(text) - from, text[from:] + " is more than any " + strings.TrimPrefix(strings.TrimPrefix(d.name, "a "), "an ") + " here", "at most " + Format(d.most/d.units[0].ratio) + " " + d.units[0].name}
	}
	// The division keeps 450 mm at exactly 0.45 m.
	if ratio < 1 && ratio == 1e-3 {
		return n / 1000, nil
	}
	return n * ratio, nil
}

// bareWant is what was meant by a bare number that is too large: 5 % or 0.05.
func (d *dim) bareWant(n float64) string {
	if d.units[0].name == "%" {
		return Format(n) + " % or " + Format(n/100)
	}
	return "write the unit: " + d.example
}

func (d *dim) ratio(word string) (float64, bool) {
	if word == "" {
		return d.bare, d.bare != 0
	}
	for _, u := range d.units {
		if u.name == word {
			return u.ratio, true
		}
	}
	return 0, false
}

// Number reads the digits that s starts with and returns what follows them.
func Number(s string) (n float64, rest string, err *Error) {
	end, points := 0, 0
	if strings.HasPrefix(s, "-") {
		end = 1
	}
	digits := 0
	for ; end < len(s); end++ {
		switch c := s[end]; {
		case c >= '0' && c <= '9':
			digits++
			continue
		case c == '.':
			points++
			continue
		}
		break
	}
	if digits == 0 {
		_, w := utf8.DecodeRuneInString(s)
		return 0, s, &Error{0, max(1, w), "no number here", ""}
	}
	if end < len(s) && s[end] == ',' && end+1 < len(s) && s[end+1] >= '0' && s[end+1] <= '9' {
		after := strings.IndexFunc(s[end+1:], func(r rune) bool { return r < '0' || r > '9' })
		if after < 0 {
			after = len(s) - end - 1
		}
		return 0, s, &Error{end, 1, "a comma inside a number", "write a point: " + s[:end] + "." + s[end+1:end+1+after]}
	}
	if err := mark(s, end); err != nil {
		return 0, s, err
	}
	word := s[:end]
	if points > 1 || strings.HasPrefix(strings.TrimPrefix(word, "-"), ".") || strings.HasSuffix(word, ".") {
		return 0, s, &Error{0, end, strconv.Quote(word) + " is no number", "write it like 2.5 or 0.9"}
	}
	whole := strings.TrimPrefix(word, "-")
	if len(whole) > 1 && whole[0] == '0' && whole[1] != '.' {
		return 0, s, &Error{0, end, "is " + word + " meant as " + cmp.Or(strings.TrimLeft(whole, "0"), "0") + "?", "write it without the leading 0"}
	}
	v, perr := strconv.ParseFloat(word, 64)
	if perr != nil || digits > 15 {
		return 0, s, &Error{0, end, strconv.Quote(word) + " has too many digits", "at most 15"}
	}
	return v, s[end:], nil
}

// mark finds what programmers write inside numbers and a site note does not.
func mark(s string, end int) *Error {
	digit := func(i int) bool { return i < len(s) && s[i] >= '0' && s[i] <= '9' }
	switch {
	case end == len(s):
	case s[end] == '_' && digit(end+1):
		return &Error{end, 1, "an underscore inside a number", "write the digits together"}
	case (s[end] == 'e' || s[end] == 'E') && (digit(end+1) || digit(end+2) && (s[end+1] == '-' || s[end+1] == '+')):
		return &Error{end, 1, "an exponent in a number", "write the number out"}
	}
	return nil
}

// ParseAmpSquaredSeconds reads the energy a device lets through, in A²s.
func ParseAmpSquaredSeconds(s string) (float64, error) { return letThrough.parse(s) }

// ParseShare reads a part of a whole: 35 % or 0.35.
func ParseShare(s string) (float64, error) { return share.parse(s) }

// Count reads a whole number from 0 to most.
func Count(s string, most int) (int, error) {
	text := strings.TrimRight(s, " ")
	from := len(text) - len(strings.TrimLeft(text, " "))
	text = text[from:]
	n, rest, err := Number(text)
	if err != nil {
		err.Offset += from
		err.Want = "expected a whole number"
		return 0, err
	}
	if rest != "" || n != math.Trunc(n) || n < 0 {
		return 0, &Error{from, len(text), strconv.Quote(text) + " is no whole number", "expected 0, 1, 2, …"}
	}
	if n > float64(most) {
		return 0, &Error{from, len(text), text + " is too many", "at most " + strconv.Itoa(most)}
	}
	return int(n), nil
}

// Format writes a number with as many digits as it needs, at most six places.
func Format(v float64) string {
	s := strconv.FormatFloat(v, 'f', 6, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}
