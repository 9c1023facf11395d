package fill_test

import (
	"math"
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"
)

// TestFault: what disconnects, how fast, and what is said where the job does not
// give what is needed. Sums by hand from BS EN 60228 and BS 7671 Tables 41.1 to
// 41.5.
func TestFault(t *testing.T) {
	const tt = "{voltage: 230 V, earthing: TT, electrode: 120 ohm}"
	tests := []struct {
		what, supply, circuit string
		verdict               fill.Verdict
		value, limit          float64
		reason                string
	}{
		{"no figure outside", "{earthing: TN-S}", "device: B20, cable: 2.5", fill.Open, nan, nan, "supply: {Ze: 0.35 ohm}"},
		{"no earthing", "{Ze: 0.5 ohm}", "device: B20, cable: 2.5", fill.Open, nan, nan, "earthing is not given"},
		{"no electrode", "{earthing: TT}", "device: B20, cable: 2.5", fill.Open, nan, nan, "electrode"},
		{"fuse in TT", tt, "device: BS 88-2 32 A, cable: 4", fill.Open, nan, nan, "residual device"},
		{"cable known by its diameter is refused by its resistance", loopSupply, "device: B6, cable: 8 mm data", fill.Open, nan, nan, "diameter"},
		{"voltage out of the table's range", "{voltage: 240 V, earthing: TN-S, Ze: 0.5 ohm}", "device: B20, cable: 2.5", fill.Open, nan, nan, "up to 230 V"},
		{"breaker in TT", tt, "device: B20, cable: 2.5", fill.Fail, 120 + 0.02*1.2*14.82, 0.95 * 230 / 100, "too high for B20"},
		{"RCBO in TT", tt, "device: B20, cable: 2.5, RCBO: {residual: 30 mA, type: A}", fill.Pass, 120 + 0.02*1.2*14.82, 50 / 0.03, ""},
		{"RCBO of 500 mA in TT", tt, "device: B20, cable: 2.5, RCBO: {residual: 500 mA, type: A}", fill.Fail, 120 + 0.02*1.2*14.82, 100, "too high"},
		{"both parts of a TT loop", "{earthing: TT, electrode: 120 ohm, Ze: 21 ohm}", "device: B20, cable: 2.5, RCBO: {residual: 30 mA, type: A}", fill.Pass, 141 + 0.02*1.2*14.82, 50 / 0.03, ""},
		{"electrode that may dry out", "{earthing: TT, electrode: 250 ohm}", "device: B20, cable: 2.5, RCBO: {residual: 30 mA, type: A}", fill.Advise, 250 + 0.02*1.2*14.82, 50 / 0.03, "200 Ω"},
		{"residual device in place of a slow breaker", "{earthing: TN-S, Ze: 2 ohm}", "device: B32, cable: 2.5, RCBO: {residual: 30 mA, type: A}", fill.Advise, 2 + 0.02*1.2*14.82, 0.95 * 230 / 160, "fault protection rests on the residual device"},
		{"the same without one", "{earthing: TN-S, Ze: 2 ohm}", "device: B32, cable: 2.5", fill.Fail, 2 + 0.02*1.2*14.82, 0.95 * 230 / 160, "too high for B32"},
		{"type D for sockets", loopSupply, "device: D32, cable: 6", fill.Fail, 0.35 + 0.02*1.2*6.16, 0.95 * 230 / 640, "too high for D32"},
		{"type D over the scope of the short time", loopSupply, "device: D40, cable: 10, fixed equipment: yes", fill.Pass, 0.35 + 0.02*1.2*3.66, 0.95 * 230 / 400, ""},
		{"sold and not tabulated", loopSupply, "device: B45, cable: 10", fill.Pass, 0.35 + 0.02*1.2*3.66, 0.95 * 230 / 225, ""},
		{"fuse, 0.4 s", loopSupply, "device: BS 3036 30 A, cable: 6", fill.Pass, 0.35 + 0.02*1.2*6.16, 1.04, ""},
		{"fuse, fixed equipment, 5 s", loopSupply, "device: BS 88-3 45 A, cable: 10, fixed equipment: yes", fill.Pass, 0.35 + 0.02*1.2*3.66, 1, ""},
		{"fuse at 220 V", "{voltage: 220 V, earthing: TN-S, Ze: 0.35 ohm}", "device: BS 3036 30 A, cable: 6", fill.Pass, 0.35 + 0.02*1.2*6.16, 1.04 * 220 / 230, ""},
		{"90 °C cable heats more", loopSupply, "device: B20, cable: 4 thermosetting", fill.Pass, 0.35 + 0.02*1.28*9.22, 2.185, ""},
		{"fuse without a table", loopSupply, "device: BS 1361 30 A, cable: 6", fill.Open, nan, nan, "no published figure"},
	}
	for _, tt := range tests {
		f := judged(t, bare(tt.supply, "20 m", tt.circuit)).finding("fault", circuitX)
		if f.Verdict != tt.verdict || !near(f.Value, tt.value) || !near(f.Limit, tt.limit) || !strings.Contains(f.Reason, tt.reason) || (tt.reason == "") != (f.Reason == "") {
			t.Errorf("%s: %s %.6f of %.6f, want %s %.6f of %.6f\n%s", tt.what, f.Verdict, f.Value, f.Limit, tt.verdict, tt.value, tt.limit, f.Reason)
		}
	}
}

var nan = math.NaN()

func near(a, b float64) bool {
	return math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= 1e-9*max(1, math.Abs(b))
}

// TestFaultSilent: a job that says nothing of its supply's earthing is not asked
// for it circuit by circuit.
func TestFaultSilent(t *testing.T) {
	a := judged(t, bare("{voltage: 230 V}", "20 m", "device: B20, cable: 2.5"))
	for i := range a.Findings {
		switch f := &a.Findings[i]; f.Check {
		case "fault", "adiabatic", "residual", "breaking", "demand":
			t.Errorf("%s of %s: %s", f.Check, f.Subject, f.Reason)
		}
	}
	v := fill.Values(a.Job, 0)[0]
	if !near(v.R1R2, 0.02*14.82) || !math.IsNaN(v.ZsCold) || !math.IsNaN(v.ZsHot) || !near(v.ZsMax, 2.185) || !near(v.DropV, 18*20*20.0/1000) {
		t.Errorf("%+v", v)
	}
}

// TestDisconnectionTime: sockets are seen among the points; a circuit that only
// names its runs counts as one with sockets unless the job says otherwise.
func TestDisconnectionTime(t *testing.T) {
	const places = "job: x\nsupply: {earthing: TN-S, Ze: 0.3 ohm}\nplaces: {board: {is: board}, p: {is: %}}\nruns: {A: {from: board, to: p, in: plastic conduit 25, length: 2 m}}\ncircuits:\n  x: "
	tests := []struct {
		place, circuit string
		want           float64
	}{
		{"socket", "{device: B63, cable: 16, points: [p]}", 0.4},
		{"heater", "{device: B63, cable: 16, points: [p]}", 5},
		{"heater", "{device: B32, cable: 16, points: [p]}", 0.4},
		{"cooker switch", "{device: B40, cable: 10, points: [p], socket in control: yes}", 0.4},
		{"cooker switch", "{device: B40, cable: 10, points: [p]}", 5},
		{"socket", "{device: B63, cable: 16, runs: [A]}", 0.4},
		{"socket", "{device: B63, cable: 16, runs: [A], arrangement: direct}", 5},
		{"socket", "{device: B63, cable: 16, runs: [A], fixed equipment: yes}", 5},
		{"socket", "{device: B80, cable: 25, runs: [A]}", 5},
	}
	for _, tt := range tests {
		j, err := route.Parse("x.yaml", []byte(strings.Replace(places, "%", tt.place, 1)+tt.circuit+"\n"))
		if err != nil {
			t.Fatal(err)
		}
		if got, err := fill.DisconnectionTime(nil, j, 0); err != nil || got.Value != tt.want {
			t.Errorf("%s %s: %v s, want %v (%v)", tt.place, tt.circuit, got.Value, tt.want, err)
		}
	}
}

// TestSteelCPC: conduit that serves as cpc, 10 m of 20 mm at 1.492 mΩ/m (0.138
// Ω mm²/m over 92.5 mm², larger than the published 1.25), board tail 0.6 m and
// accessory tail 0.3 m of 4 mm² line (4.61 mΩ/m).
func TestSteelCPC(t *testing.T) {
	j, err := route.Parse("x.yaml", []byte(`job: x
supply: {earthing: TN-S, Ze: 0.3 ohm, fault: 1 kA}
allow: {board tail: 600 mm, accessory tail: 300 mm}
places: {board: {is: board}, b: {is: box}, p: {is: socket}, q: {is: socket}}
runs:
  A: {from: board, to: b, in: steel conduit 20, length: 6 m}
  B: {from: b, to: p, in: steel conduit 20, length: 4 m}
  C: {from: b, to: q, in: plastic conduit 20, length: 3 m}
circuits:
  x: {device: B20, cable: 4, cpc: conduit, points: [p, q]}
`))
	if err != nil {
		t.Fatal(err)
	}
	v := fill.Values(j, 0)
	steel := 10 * 138 / 92.5 / 1000
	if !near(v[0].R1, 10.9*4.61/1000) || !near(v[0].R2, steel) || !near(v[0].ZsHot, 0.3+1.2*(v[0].R1+steel)) {
		t.Errorf("p: %+v, steel %v", v[0], steel)
	}
	// q lies beyond plastic: its cpc is the copper of the hop from p, tails and all.
	if copper := 7.6 * 4.61 / 1000; !near(v[1].R2, steel+copper) {
		t.Errorf("q: R2 %v, want %v", v[1].R2, steel+copper)
	}
	r := fill.Check(j)
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Check == "adiabatic" && !near(f.Limit, 115*115*16) {
			t.Errorf("the line withstands least, %v; the tube 47² × 92.5² = %v", f.Limit, 47*47*92.5*92.5)
		}
	}
}

// TestSteelAtSmallCurrents: below 100 A the steel counts twice (memory, not
// verified).
func TestSteelAtSmallCurrents(t *testing.T) {
	for ze, times := range map[string]float64{"0.35 ohm": 1, "3 ohm": 2} {
		j, err := route.Parse("x.yaml", []byte("job: x\nsupply: {earthing: TN-S, Ze: "+ze+"}\nruns: {A: {in: steel conduit 25, length: 10 m}}\ncircuits: {x: {device: B6, cable: 1.5, cpc: conduit, runs: [A]}}\n"))
		if err != nil {
			t.Fatal(err)
		}
		v := fill.Values(j, 0)[0]
		outside := float64(j.Supply.Ze.V)
		if want := outside + 1.2*(v.R1+times*v.R2); !near(v.ZsHot, want) || !near(v.R2, 10*138/117.6/1000) {
			t.Errorf("Ze %s: %v, want %v; R2 %v", ze, v.ZsHot, want, v.R2)
		}
	}
}
