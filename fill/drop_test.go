package fill_test

import (
	"math"
	"strings"
	"testing"

	"tubewright/fill"
)

// TestDrop: the figures of BS 7671 Tables 4D1B and 4E1B through whole jobs; the
// sums by hand. Limits: Table 4Ab (memory; 3 % and 5 % read), over 100 m 6.4
// (memory).
func TestDrop(t *testing.T) {
	U := math.Sqrt(3) * 230
	z35 := 230 * (5 + 0.005*50) / 100
	tests := []struct {
		what, supply, length, circuit string
		verdict                       fill.Verdict
		value, limit                  float64
	}{
		{"power factor up to 16 mm²", "{voltage: 230 V}", "30 m", "device: B32, cable: 6, demand: {current: 20 A, power factor: 0.8}", fill.Pass, 0.8 * 7.3 * 20 * 30 / 1000, 11.5},
		{"three-phase: √3 is in the column", "{phases: 3}", "30 m", "device: C32, cable: 6, phases: 3, demand: 20 A", fill.Pass, 6.4 * 20 * 30 / 1000, 0.05 * U},
		{"three-phase power", "{phases: 3}", "30 m", "device: C32, cable: 6, phases: 3, demand: {power: 11040 W, power factor: 0.8}", fill.Pass, 0.8 * 6.4 * 20 * 30 / 1000, 0.05 * U},
		{"from 25 mm², factor not stated: z", "{voltage: 230 V}", "50 m", "device: B80, cable: 25, demand: 70 A", fill.Pass, 1.8 * 70 * 50 / 1000, 11.5},
		{"from 25 mm², factor stated: r and x", "{voltage: 230 V}", "50 m", "device: B80, cable: 25, demand: {current: 70 A, power factor: 0.8}", fill.Pass, (0.8*1.8 + 0.6*0.33) * 70 * 50 / 1000, 11.5},
		{"factor 1 stated: r alone", "{voltage: 230 V}", "50 m", "device: B100, cable: 50, demand: {current: 90 A, power factor: 1}", fill.Pass, 0.95 * 90 * 50 / 1000, 11.5},
		{"private supply", "{voltage: 230 V, private: yes}", "50 m", "device: B32, cable: 4, demand: 30 A", fill.Pass, 11 * 30 * 50 / 1000.0, 18.4},
		{"private supply, lighting", "{voltage: 230 V, private: yes}", "50 m", "device: B10, cable: 1.5, demand: 6 A, arrangement: lighting", fill.Pass, 29 * 6 * 50 / 1000.0, 13.8},
		{"lost before the board", "{voltage: 230 V, drop: 1 %}", "30 m", "device: B32, cable: 4, demand: 30 A", fill.Fail, 2.3 + 11*30*30/1000.0, 11.5},
		{"over 100 m", "{voltage: 230 V}", "150 m", "device: B32, cable: 16, demand: 28 A", fill.Pass, 2.8 * 28 * 150 / 1000, z35},
		{"half a per cent more at most", "{voltage: 230 V}", "250 m", "device: B32, cable: 35, demand: 30 A", fill.Pass, 1.3 * 30 * 250 / 1000, 230 * 5.5 / 100},
		{"lighting by its use", "{voltage: 230 V}", "40 m", "device: B16, cable: 2.5, demand: 10 A, use: lighting", fill.Fail, 18 * 10 * 40 / 1000.0, 6.9},
		{"cable known by its diameter", "{voltage: 230 V}", "40 m", "device: B6, cable: 8 mm data, demand: 1 A", fill.Open, nan, nan},
	}
	for _, tt := range tests {
		f := judged(t, bare(tt.supply, tt.length, tt.circuit)).finding("drop", circuitX)
		if f.Verdict != tt.verdict || !near(f.Value, tt.value) || !near(f.Limit, tt.limit) {
			t.Errorf("%s: %s %v of %v, want %s %v of %v: %s", tt.what, f.Verdict, f.Value, f.Limit, tt.verdict, tt.value, tt.limit, f.Reason)
		}
	}
}

// TestDropAtTemperature: Ct with Ib 13.5 A on a cable that carries 24 A alone is
// (300 − (1 − 0.3164) × 40) / 300 (BS 7671, Appendix 4, 6.1, memory), and none
// for a semi-enclosed fuse.
func TestDropAtTemperature(t *testing.T) {
	hot := func(circuit string) *fill.Finding {
		text := strings.Replace(bare("{voltage: 230 V}", "20 m", circuit), "runs:", "choices: {drop at temperature: yes}\nruns:", 1)
		return judged(t, text).finding("drop", circuitX)
	}
	share := 13.5 / 24
	if f, want := hot("device: B16, cable: 2.5, demand: 13.5 A"), 18*13.5*20/1000*(300-(1-share*share)*40)/300; !near(f.Value, want) {
		t.Errorf("%v, want %v", f.Value, want)
	}
	if f := hot("device: BS 3036 15 A, cable: 2.5, demand: 10 A"); f.Verdict != fill.Open || !strings.Contains(f.Reason, "semi-enclosed") {
		t.Errorf("%s %s", f.Verdict, f.Reason)
	}
	// Above 16 mm² it is laid on r, which takes the load's power factor.
	if f, want := hot("device: B80, cable: 25, demand: 70 A"), 1.8*70*20/1000; !near(f.Value, want) {
		t.Errorf("z: %v, want %v", f.Value, want)
	}
	share = 70.0 / 101
	if f, want := hot("device: B80, cable: 25, demand: {current: 70 A, power factor: 0.8}"), (0.8*1.8*(300-(1-share*share)*40)/300+0.6*0.33)*70*20/1000; !near(f.Value, want) {
		t.Errorf("r and x: %v, want %v", f.Value, want)
	}
}

// TestDropAdvice: the size named is the first that brings the drop within the
// limit. 20 A over 60 m: 4 mm² 13.2 V, 6 mm² 8.76 V, against 11.5 V.
func TestDropAdvice(t *testing.T) {
	f := judged(t, bare("{voltage: 230 V}", "60 m", "device: B20, cable: 2.5")).finding("drop", circuitX)
	if f.Verdict != fill.Fail || len(f.Instead) != 1 || f.Instead[0] != "6 mm²" {
		t.Errorf("%s, instead %v: %s", f.Verdict, f.Instead, f.Reason)
	}
}

// TestRingExactBesideRule: both are shown, and for a load in the middle they are
// one. 18 mV/A/m × 20 A × 40 m / 4 = 3.6 V.
func TestRingExactBesideRule(t *testing.T) {
	a := judged(t, `job: ring
allow: {board tail: 0 m, accessory tail: 0 m}
places: {board: {is: board}, p: {is: socket}, q: {is: socket}, r: {is: socket}}
runs:
  A: {from: board, to: p, in: plastic conduit 25, length: 10 m}
  B: {from: p, to: q, in: plastic conduit 25, length: 10 m}
  C: {from: q, to: r, in: plastic conduit 25, length: 10 m}
  D: {from: r, to: board, in: plastic conduit 25, length: 10 m}
circuits:
  x: {device: B32, cable: 2.5, arrangement: ring, points: [p, q, r], demand: 20 A}
`)
	if exact, rule := value("drop", circuitX)(a), step("drop", circuitX, "ΔU at L/4")(a); !near(exact, 3.6) || !near(rule, 3.6) {
		t.Errorf("exact %v, rule %v", exact, rule)
	}
	r1, rn, r2, ok := fill.RingEnds(a.Job, 0)
	if want := 40 * 7.41 / 1000; !ok || !near(r1, want) || !near(rn, want) || !near(r2, want) {
		t.Errorf("%v %v %v, want %v", r1, rn, r2, want)
	}
}
