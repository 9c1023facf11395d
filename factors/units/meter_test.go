package units_test

import (
	"testing"

	"tubewright/factors/units"
)

func TestMeter(t *testing.T) {
	for text, want := range map[string]units.Megohms{"200 Mohm": 200, "1 MΩ": 1, "0.5 Mohm": 0.5, "2 Gohm": 2000, "450 kohm": 0.45} {
		if got, err := units.ParseMegohms(text); err != nil || got != want {
			t.Errorf("%s: %v, %v", text, got, err)
		}
	}
	for text, want := range map[string]units.Milliseconds{"24 ms": 24, "0.3 s": 300} {
		if got, err := units.ParseMilliseconds(text); err != nil || got != want {
			t.Errorf("%s: %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"200", "200 ohm", "-1 Mohm", "lots"} {
		if _, err := units.ParseMegohms(text); err == nil {
			t.Errorf("%s is read as insulation", text)
		}
	}
	if _, err := units.ParseMilliseconds("24"); err == nil {
		t.Error("24 is read as a time")
	}
}
