package fill_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

// compared sets readings beside a job.
func compared(t testing.TB, job, readings string) *fill.Comparisons {
	t.Helper()
	j, err := route.Parse("x.yaml", []byte(job))
	if err != nil {
		t.Fatalf("%v\n%s", err, job)
	}
	m, err := route.ParseMeasured(j, "readings.yaml", []byte(readings))
	if err != nil {
		t.Fatalf("%v\n%s", err, readings)
	}
	return fill.Compare(j, m)
}

func resultOf(t testing.TB, c *fill.Comparisons, check, subject string) *fill.Comparison {
	t.Helper()
	for i := range c.Results {
		if x := &c.Results[i]; x.Check == check && x.Subject == subject {
			return x
		}
	}
	t.Fatalf("no result %s, %s", check, subject)
	return nil
}

// radialJob is 30 m of 2.5/1.5 in plastic: R1 0.2223, R2 0.363, R1+R2 0.5853,
// Zs 0.9353 Ω at 20 °C by BS EN 60228; Zs test limit 0.8 × 2.19 = 1.752 Ω.
const radialJob = `job: x
allow: {board tail: 0 m, accessory tail: 0 m}
supply: {voltage: 230 V, earthing: TN-C-S, Ze: 0.35 ohm, fault: 1 kA}
board: {main: {device: RCCB, rating: 63 A, residual: 30 mA, type: A}}
places: {b: {is: board}, s: {is: socket}}
runs: {A: {from: b, to: s, in: %s, length: 30 m}}
circuits: {x: {device: B20, cable: 2.5, cpc: 1.5, points: [s]}}
`

// TestCompare: what each kind of reading comes to, and that the meaning named
// first fits. The meanings are common practice, no source.
func TestCompare(t *testing.T) {
	tests := []struct {
		readings, check, subject string
		verdict                  fill.Verdict
		says                     string // in the reason or a meaning
	}{
		{"points: {s: {R1+R2: 0.59 ohm}}", "R1+R2", "x, s", fill.Pass, ""},
		{"points: {s: {R1+R2: 0.82 ohm}}", "R1+R2", "x, s", fill.Advise, "loose"},
		{"points: {s: {R1+R2: 0.77 ohm}}", "R1+R2", "x, s", fill.Advise, "a cpc of 1 mm² in the place of 1.5 mm² would read 0.765 Ω"},
		{"points: {s: {R1+R2: 0.44 ohm}}", "R1+R2", "x, s", fill.Advise, "a cpc of 2.5 mm² in the place of 1.5 mm² would read 0.445 Ω"},
		{"points: {s: {R1+R2: 0.2 ohm}}", "R1+R2", "x, s", fill.Advise, "parallel"},
		{"points: {s: {R1+R2: 1.41 ohm}}", "R1+R2", "x, s", fill.Fail, "over the 1.402 Ω that Ze leaves"},
		{"points: {s: {R1+R2: open}}", "R1+R2", "x, s", fill.Fail, "out of its terminal"},
		{"points: {s: {R2: 0.36 ohm}}", "R2", "x, s", fill.Pass, ""},
		{"points: {s: {R1+Rn: 0.10 ohm}}", "R1+Rn", "x, s", fill.Advise, "a neutral borrowed"},
		{"points: {s: {Zs: 0.95 ohm}}", "Zs", "x, s", fill.Pass, ""},
		{"points: {s: {Zs: 1.752 ohm}}", "Zs", "x, s", fill.Advise, "Ze higher than given"},
		{"points: {s: {Zs: 1.753 ohm}}", "Zs", "x, s", fill.Fail, "though not over the table's own"},
		{"points: {s: {Zs: 2.3 ohm}}", "Zs", "x, s", fill.Fail, "over the 2.185 Ω that the table permits"},
		{"points: {s: {R1+R2: 0.59 ohm, Zs: 1.5 ohm}}", "Zs", "x, s", fill.Advise, "before the circuit"},
		{"points: {s: {R1+R2: 1.0 ohm, Zs: 1.4 ohm}}", "Zs", "x, s", fill.Advise, "the cause is in the circuit"},
		{"points: {s: {Zs: 0.4 ohm}}", "Zs", "x, s", fill.Advise, "parallel"},
		{"points: {s: {polarity: yes}}", "polarity", "x, s", fill.Pass, ""},
		{"points: {s: {polarity: no}}", "polarity", "x, s", fill.Fail, "crossed"},
		{"insulation: 1 Mohm", "insulation", "x", fill.Advise, "under the 2 MΩ"},
		{"insulation: 0.99 Mohm", "insulation", "x", fill.Fail, "under the least of 1 MΩ"},
		{"insulation: 10 kohm", "insulation", "x", fill.Fail, "short"},
		{"insulation: \"> 1 Mohm\"", "insulation", "x", fill.Pass, ""},
		{"insulation: 200 Mohm", "insulation", "x", fill.Pass, ""},
		{"residual: {trip: 300 ms}", "trip", "x", fill.Pass, ""},
		{"residual: {trip: 301 ms}", "trip", "x", fill.Fail, "over 300 ms"},
		{"residual: {half: trips}", "half", "x", fill.Advise, "leakage"},
		{"residual: {half: no trip}", "half", "x", fill.Pass, ""},
		{"residual: {five times: 41 ms}", "five times", "x", fill.Advise, "no longer asked for"},
	}
	for _, tt := range tests {
		c := compared(t, fmt.Sprintf(radialJob, "plastic conduit 25"), "measured: x\nambient: 20 C\ncircuits: {x: {"+tt.readings+"}}\n")
		x := resultOf(t, c, tt.check, tt.subject)
		if text := x.Reason + "; " + strings.Join(x.Means, "; "); x.Verdict != tt.verdict || !strings.Contains(text, tt.says) || tt.verdict != fill.Pass && (len(x.Means) == 0 || x.Reason == "") {
			t.Errorf("%s: %s, %s\nwant %s, %q", tt.readings, x.Verdict, text, tt.verdict, tt.says)
		}
		if len(x.Steps()) == 0 {
			t.Errorf("%s: no working", tt.readings)
		}
	}
}

// TestSteelIsNoFault: in steel conduit a low R2 passes and says why, in plastic
// the same reading does not. 30 m of 25 mm tube has 34 mΩ: with R1 at most
// 0.2536 Ω are left (Linsley's 1.14 mΩ/m and ρ/A, the larger).
func TestSteelIsNoFault(t *testing.T) {
	const readings = "measured: x\ncircuits: {x: {points: {s: {R1+R2: 0.27 ohm, Zs: 0.60 ohm}}}}\n"
	steel := compared(t, fmt.Sprintf(radialJob, "steel conduit 25"), readings)
	plastic := compared(t, fmt.Sprintf(radialJob, "plastic conduit 25"), readings)
	for _, check := range []string{"R1+R2", "Zs"} {
		if x := resultOf(t, steel, check, "x, s"); x.Verdict != fill.Pass || !strings.Contains(x.Reason, "steel in parallel") {
			t.Errorf("steel, %s: %s, %s", check, x.Verdict, x.Reason)
		}
		if x := resultOf(t, plastic, check, "x, s"); x.Verdict != fill.Advise {
			t.Errorf("plastic, %s: %s, %s", check, x.Verdict, x.Reason)
		}
	}
	low := compared(t, fmt.Sprintf(radialJob, "steel conduit 25"), strings.Replace(readings, "0.27", "0.15", 1))
	if x := resultOf(t, low, "R1+R2", "x, s"); x.Verdict != fill.Advise || !strings.Contains(x.Means[0], "first of all a path in parallel") {
		t.Errorf("lower still: %s, %v", x.Verdict, x.Means)
	}
}

// TestMeasuredOrigin: Zs is expected from Ze as measured, and a Ze above what
// the job gives is advised on.
func TestMeasuredOrigin(t *testing.T) {
	c := compared(t, fmt.Sprintf(radialJob, "plastic conduit 25"), "measured: x\nsupply: {Ze: 0.6 ohm, fault: 1.2 kA}\ncircuits: {x: {points: {s: {Zs: 1.19 ohm}}}}\n")
	if x := resultOf(t, c, "Zs", "x, s"); x.Verdict != fill.Pass || !near(x.Expected.Value, 0.6+0.5853) {
		t.Errorf("Zs: %s, expected %v", x.Verdict, x.Expected.Value)
	}
	if x := resultOf(t, c, "Ze", "origin"); x.Verdict != fill.Advise || !near(x.Expected.Value, 0.35) {
		t.Errorf("Ze: %s, expected %v: %s", x.Verdict, x.Expected.Value, x.Reason)
	}
	if x := resultOf(t, c, "fault", "origin"); x.Verdict != fill.Advise {
		t.Errorf("fault: %s", x.Verdict)
	}
}

// longRing is a ring of 80 m of 2.5/1.5 through four sockets 16 m apart: r1
// 0.5928, r2 0.968, (r1 + r2)/4 0.3902 Ω by BS EN 60228.
const longRing = `job: x
allow: {board tail: 0 m, accessory tail: 0 m}
places: {b: {is: board}, s1: {is: socket}, s2: {is: socket}, s3: {is: socket}, s4: {is: socket}}
runs:
  A: {from: b, to: s1, in: plastic conduit 25, length: 16 m}
  B: {from: s1, to: s2, in: plastic conduit 25, length: 16 m}
  C: {from: s2, to: s3, in: plastic conduit 25, length: 16 m}
  D: {from: s3, to: s4, in: plastic conduit 25, length: 16 m}
  E: {from: s4, to: b, in: plastic conduit 25, length: 16 m}
circuits: {x: {device: B32, cable: 2.5, cpc: 1.5, arrangement: ring, points: [s1, s2, s3, s4]}}
`

// TestRingSignature: the pattern of readings tells a ring whose ends were
// joined leg by leg, for which a point at a share x of the way round reads
// x (1 − x)(r1 + r2), from one cross-connected as it should be, and one with a
// loose terminal.
func TestRingSignature(t *testing.T) {
	r1, r2 := 80*7.41/1000, 80*12.1/1000
	leg := func(x float64) float64 { return x * (1 - x) * (r1 + r2) }
	points := func(ohm ...float64) string {
		var parts []string
		for i, v := range ohm {
			parts = append(parts, fmt.Sprintf("s%d: {R1+R2: %.3f ohm}", i+1, v))
		}
		return "measured: x\ncircuits: {x: {r1: 0.593 ohm, rn: 0.593 ohm, r2: 0.968 ohm, points: {" + strings.Join(parts, ", ") + "}}}\n"
	}
	for _, tt := range []struct {
		name    string
		ohm     []float64
		verdict fill.Verdict
		says    string
	}{
		{"cross-connected", []float64{0.38, 0.39, 0.39, 0.38}, fill.Pass, ""},
		{"leg by leg", []float64{leg(0.2), leg(0.4), leg(0.6), leg(0.8)}, fill.Advise, "joined to the cpc of its own leg"},
		{"a loose terminal", []float64{0.38, 0.39, 0.55, 0.38}, fill.Advise, "a loose terminal at s3"},
		{"bridged", []float64{0.20, 0.30, 0.60, 0.20}, fill.Advise, "bridged"},
	} {
		x := resultOf(t, compared(t, longRing, points(tt.ohm...)), "ring points", "x")
		if text := x.Reason + "; " + strings.Join(x.Means, "; "); x.Verdict != tt.verdict || !strings.Contains(text, tt.says) {
			t.Errorf("%s: %s, %s", tt.name, x.Verdict, text)
		}
	}
}

// TestRingBalance: line and neutral of a ring within 0.05 Ω (textbooks).
func TestRingBalance(t *testing.T) {
	for rn, want := range map[string]fill.Verdict{"0.59 ohm": fill.Pass, "0.643 ohm": fill.Pass, "0.644 ohm": fill.Fail, "0.54 ohm": fill.Fail, "open": fill.Fail} {
		c := compared(t, longRing, "measured: x\ncircuits: {x: {r1: 0.593 ohm, rn: "+rn+"}}\n")
		if rn == "open" {
			if x := resultOf(t, c, "rn", "x"); x.Verdict != want || !strings.Contains(x.Means[0], "open leg") {
				t.Errorf("open: %s, %v", x.Verdict, x.Means)
			}
			continue
		}
		if x := resultOf(t, c, "r1, rn", "x"); x.Verdict != want {
			t.Errorf("rn %s: %s, %s", rn, x.Verdict, x.Reason)
		}
	}
}

// TestDelayed: a delayed device trips between 130 and 500 ms (memory of BS EN
// 61008); no figure at five times was read for it.
func TestDelayed(t *testing.T) {
	job := strings.Replace(fmt.Sprintf(radialJob, "plastic conduit 25"), "type: A}", "type: A, delayed: yes}", 1)
	for ms, want := range map[string]fill.Verdict{"129": fill.Fail, "130": fill.Pass, "500": fill.Pass, "501": fill.Fail} {
		c := compared(t, job, "measured: x\ncircuits: {x: {residual: {trip: "+ms+" ms, five times: 40 ms}}}\n")
		if x := resultOf(t, c, "trip", "x"); x.Verdict != want {
			t.Errorf("%s ms: %s, %s", ms, x.Verdict, x.Reason)
		}
		if x := resultOf(t, c, "five times", "x"); x.Verdict != fill.Open {
			t.Errorf("five times: %s", x.Verdict)
		}
	}
}

// TestAllowance: what the file states widens and narrows what passes.
func TestAllowance(t *testing.T) {
	const reading = "measured: x\n%scircuits: {x: {points: {s: {R1+R2: 0.62 ohm}}}}\n"
	for _, tt := range []struct {
		allowance string
		want      fill.Verdict
	}{
		{"", fill.Pass}, // 0.5853 × (0.05 + 0.02) + 0.02 = 0.061
		{"allowance: {instrument: 1 %, continuity: 0.01 ohm, temperature: 1 C}\n", fill.Advise}, // 0.5853 × 0.014 + 0.01 = 0.018
		{"allowance: {instrument: 1 %, continuity: 0.03 ohm, temperature: 1 C}\n", fill.Pass},
	} {
		x := resultOf(t, compared(t, fmt.Sprintf(radialJob, "plastic conduit 25"), fmt.Sprintf(reading, tt.allowance)), "R1+R2", "x, s")
		if x.Verdict != tt.want {
			t.Errorf("%q: %s, %s", tt.allowance, x.Verdict, x.Reason)
		}
	}
}

// TestMissing: what is not measured is listed, good practice is not asked for,
// and R2 stands for R1+R2.
func TestMissing(t *testing.T) {
	c := compared(t, fmt.Sprintf(radialJob, "plastic conduit 25"), "measured: x\ncircuits: {x: {points: {s: {R2: 0.36 ohm}}}}\n")
	var missing []string
	for i := range c.Missing {
		missing = append(missing, c.Missing[i].Test.String())
	}
	if got, want := strings.Join(missing, " "), "Ze fault insulation polarity Zs trip"; got != want {
		t.Errorf("missing %s, want %s", got, want)
	}
}

// TestReadAsExpected: readings as the sheet expects them pass, at any
// temperature, of any job; a higher reading never
// gets a milder verdict.
func TestReadAsExpected(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, err := route.Parse("x.yaml", []byte(powerJob(t, rapid.Bool().Draw(t, "ring"))))
		if err != nil {
			t.Fatal(err)
		}
		celsius := rapid.IntRange(-5, 40).Draw(t, "celsius")
		times := rapid.Float64Range(1, 4).Draw(t, "times")
		m, worse := &route.Measured{}, &route.Measured{}
		m.Ambient.V, worse.Ambient.V = units.Celsius(celsius), units.Celsius(celsius)
		sheet := fill.NewTestSheet(j, m.Ambient.V)
		for _, e := range sheet.Circuits[0].Expected {
			if !math.IsNaN(e.Value) {
				r := route.Reading{Circuit: e.Circuit, Point: e.Point, Test: e.Test, Value: e.Value}
				m.Readings = append(m.Readings, r)
				r.Value *= times
				worse.Readings = append(worse.Readings, r)
			}
		}
		a, b := fill.Compare(j, m), fill.Compare(j, worse)
		if len(a.Results) != len(b.Results) {
			t.Fatalf("%d and %d results", len(a.Results), len(b.Results))
		}
		for i := range a.Results {
			over := a.Results[i].Value > a.Results[i].Limit // too long a circuit for its device
			if a.Results[i].Verdict != fill.Pass && !over || b.Results[i].Verdict < a.Results[i].Verdict {
				t.Fatalf("%s, %s: %s as expected, %s at %v times that", a.Results[i].Check, a.Results[i].Subject, a.Results[i].Verdict, b.Results[i].Verdict, times)
			}
		}
	})
}
