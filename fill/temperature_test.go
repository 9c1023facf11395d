package fill_test

import (
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"
)

// TestTemperatureOfPlastic judges both ends of the range that the job states.
//
// Source: BS EN 61386, −5 to 60 °C (read); a maker's 30 °F, 16.7 K, for direct
// sun (read).
func TestTemperatureOfPlastic(t *testing.T) {
	const advise, pass, fail = fill.Advise, fill.Pass, fill.Fail
	for _, tt := range []struct {
		swing, run string
		verdict    fill.Verdict
		value      float64
		reason     string
	}{
		{"lowest: -15 C, highest: 48 C, sun: yes, fitted at: 20 C", "", fail, -15, "-5 °C at least"},
		{"lowest: -5 C, highest: 43 C, sun: yes", "", pass, 59.7, ""},
		{"lowest: -5.1 C, highest: 43 C", "", fail, -5.1, "-5 °C at least"},
		{"lowest: 0 C, highest: 48 C, sun: yes", "", advise, 64.7, "64.7 °C"},
		{"lowest: 0 C, highest: 48 C", ", sun: yes", advise, 64.7, "shade"},
		{"lowest: 0 C, highest: 48 C, sun: yes", ", sun: no", pass, 48, ""},
		{"lowest: 0 C, highest: 61 C", "", fail, 61, "60 °C at most"},
		{"lowest: 0 C, highest: 20 C", ", ambient: 61 C", fail, 61, "60 °C at most"},
		{"sun: yes", ", ambient: 44 C", advise, 60.7, "60.7 °C"},
		{"sun: yes", "", pass, 46.7, ""},
	} {
		j, err := route.Parse("t.yaml", []byte("job: T\nexpansion: {"+tt.swing+"}\nruns: {P: {in: plastic conduit 32, length: 7 m, cables: 3 x 6"+tt.run+"}}\n"))
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, f := range fill.Check(j).Findings {
			if f.Check != "temperature" {
				continue
			}
			found = true
			if d := f.Value - tt.value; f.Verdict != tt.verdict || d > 1e-9 || d < -1e-9 || !strings.Contains(f.Reason, tt.reason) || f.Margin() < 0 != (f.Verdict > pass) {
				t.Errorf("%s%s: %s %v, margin %v: %s; want %s %v", tt.swing, tt.run, f.Verdict, f.Value, f.Margin(), f.Reason, tt.verdict, tt.value)
			}
		}
		if !found {
			t.Errorf("%s: no finding", tt.swing)
		}
	}
}
