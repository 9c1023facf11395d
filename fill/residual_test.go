package fill_test

import (
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"
)

// TestResidual: where BS 7671 asks for 30 mA (411.3.3, 411.3.4, 415.1.1,
// 522.6.202, 701.411.3.3, read in NICEIC's and another summary), and which type
// answers to what leaks (531.3.3, read in IET Wiring Matters, July 2022).
func TestResidual(t *testing.T) {
	const (
		plain = "main: {device: switch, rating: 100 A}"
		rccb  = "main: {device: RCCB, rating: 80 A, residual: 30 mA, type: A}"
		split = "main: {rating: 100 A}, sections: [{main: {device: RCCB, rating: 63 A, residual: 30 mA, type: A}, ways: [1]}, {main: {device: RCCB, rating: 63 A, residual: 100 mA, type: AC}, ways: [2]}]"
	)
	tests := []struct {
		what, board, circuit string
		verdict              fill.Verdict // 0: no finding
		reason               string
	}{
		{"sockets behind a plain switch", plain, "device: B20, cable: 4, points: [s]", fill.Fail, "socket-outlets up to 32 A"},
		{"main switch not said", "ways: 4", "device: B20, cable: 4, points: [s], location: [bath or shower room]", fill.Open, "does not say what the main switch is"},
		{"sockets behind an RCCB", rccb, "device: B20, cable: 4, points: [s]", fill.Pass, ""},
		{"sockets on an RCBO", plain, "device: B20, cable: 4, points: [s], RCBO: {residual: 30 mA, type: A}", fill.Pass, ""},
		{"RCBO of 100 mA", plain, "device: B20, cable: 4, points: [s], RCBO: {residual: 100 mA, type: A}", fill.Fail, "30 mA is asked for"},
		{"RCBO of 100 mA behind the RCCB", rccb, "device: B20, cable: 4, points: [s], RCBO: {residual: 100 mA, type: A}", fill.Pass, ""},
		{"RCBO of 10 mA, delayed, behind the RCCB", rccb, "device: B20, cable: 4, points: [s], RCBO: {residual: 10 mA, type: A, delayed: yes}", fill.Pass, ""},
		{"sockets over 32 A", plain, "device: B40, cable: 10, points: [s]", 0, ""},
		{"heater", plain, "device: B16, cable: 2.5, points: [h]", 0, ""},
		{"heater that is concealed", plain, "device: B16, cable: 2.5, points: [h], location: [concealed]", fill.Fail, "less than 50 mm deep"},
		{"heater in a bathroom", plain, "device: B16, cable: 2.5, points: [h], location: [bath or shower room]", fill.Fail, "bath or shower room"},
		{"equipment outdoors", plain, "device: B16, cable: 2.5, points: [h], location: [outdoors]", fill.Fail, "outdoors"},
		{"luminaires in a household", plain, "device: B6, cable: 1.5, arrangement: lighting, groups: [{lights: [l]}], location: [household lighting]", fill.Fail, "luminaires in a household"},
		{"luminaires elsewhere", plain, "device: B6, cable: 1.5, arrangement: lighting, groups: [{lights: [l]}]", 0, ""},
		{"section of 30 mA", split, "way: 1, device: B20, cable: 4, points: [s]", fill.Pass, ""},
		{"section of 100 mA", split, "way: 2, device: B20, cable: 4, points: [s]", fill.Fail, "30 mA is asked for"},
		{"section of 100 mA, nothing asked, type AC", split, "way: 2, device: B16, cable: 2.5, points: [h]", fill.Advise, "type A is the usual least"},
		{"time-delayed", plain, "device: B20, cable: 4, points: [s], RCBO: {residual: 30 mA, type: A, delayed: yes}", fill.Fail, "time-delayed"},
		{"type AC, nothing said", plain, "device: B20, cable: 4, points: [s], RCBO: {residual: 30 mA, type: AC}", fill.Advise, "type AC is only for"},
		{"type AC, plain AC said", plain, "device: B20, cable: 4, points: [s], leakage: plain AC, RCBO: {residual: 30 mA, type: AC}", fill.Pass, ""},
		{"type AC, pulses said", plain, "device: B20, cable: 4, points: [s], leakage: pulsating DC, RCBO: {residual: 30 mA, type: AC}", fill.Fail, "want type A"},
		{"type A, mixed", plain, "device: B20, cable: 4, points: [s], leakage: mixed frequencies, RCBO: {residual: 30 mA, type: A}", fill.Fail, "want type F"},
		{"type B, mixed", plain, "device: B20, cable: 4, points: [s], leakage: mixed frequencies, RCBO: {residual: 30 mA, type: B}", fill.Pass, ""},
		{"type F, smooth", plain, "device: B20, cable: 4, points: [s], leakage: smooth DC, RCBO: {residual: 30 mA, type: F}", fill.Fail, "want type B"},
	}
	for _, tt := range tests {
		f := residualFinding(t, tt.board, "", tt.circuit)
		if f.Verdict != tt.verdict || !strings.Contains(f.Reason, tt.reason) || tt.reason == "" && f.Reason != "" {
			t.Errorf("%s: %s, want %s: %s", tt.what, f.Verdict, tt.verdict, f.Reason)
		}
	}
	if f := residualFinding(t, plain, "choices: {diversity: household}", "device: B6, cable: 1.5, arrangement: lighting, groups: [{lights: [l]}]"); f.Verdict != fill.Fail {
		t.Errorf("a household by its diversity: %s", f.Verdict)
	}
}

// residualFinding is the finding of the only circuit, empty when there is none.
func residualFinding(t *testing.T, board, more, circuit string) fill.Finding {
	t.Helper()
	j, err := route.Parse("x.yaml", []byte("job: x\n"+more+"\nboard: {"+board+`}
places: {board: {is: board}, s: {is: socket}, h: {is: heater}, l: {is: light}}
runs:
  A: {from: board, to: s, in: plastic conduit 25, length: 2 m}
  B: {from: s, to: h, in: plastic conduit 25, length: 2 m}
  C: {from: h, to: l, in: plastic conduit 25, length: 2 m}
circuits:
  x: {`+circuit+"}\n"))
	if err != nil {
		t.Fatal(err)
	}
	r := fill.Check(j)
	for i := range r.Findings {
		if r.Findings[i].Check == "residual" {
			return r.Findings[i]
		}
	}
	return fill.Finding{}
}
