package fill_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

// expectedAt is a reading of a job's first circuit.
func expectedAt(t testing.TB, text string, celsius units.Celsius, point int, test route.Test) *fill.Expected {
	t.Helper()
	j, err := route.Parse("x.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	e, ok := fill.NewTestSheet(j, celsius).Circuits[0].At(point, test)
	if !ok {
		t.Fatalf("the sheet has no %s", test)
	}
	return e
}

// TestSheetExamples holds the sheet to published sums, at the digits they
// print.
func TestSheetExamples(t *testing.T) {
	const ring = "device: B32, cable: 2.5, cpc: 1.5, arrangement: ring"
	tests := []struct {
		title, source, job string
		celsius            units.Celsius
		point              int
		test               route.Test
		book               string
	}{
		{"Zs of 10 m of 1.5/1.0, cold", "forum, question urgent for sparks: the second reply (read)",
			bare("{voltage: 230 V, earthing: TN-S, Ze: 0.6 ohm}", "10 m", "device: B6, cable: 1.5, cpc: 1"), 20, 0, route.EarthLoop, "0.90"},
		{"R1+R2 of 43.57 m of 2.5/1.5", "forum, R2 from R1 and Rn: 0.85 measured (read)",
			bare("{voltage: 230 V}", "43.57 m", "device: B32, cable: 2.5, cpc: 1.5"), 20, 0, route.LineCPC, "0.85"},
		{"R2 of the same", "the same", bare("{voltage: 230 V}", "43.57 m", "device: B32, cable: 2.5, cpc: 1.5"), 20, 0, route.CPCAlone, "0.53"},
		{"r1 of a ring", "forum, calculating R1+R2 (read)", bare("{voltage: 230 V}", "72.87 m", ring), 20, -1, route.LineEnds, "0.54"},
		{"(r1+r2)/4 of the ring", "the same: 0.36", bare("{voltage: 230 V}", "72.87 m", ring), 20, 0, route.LineCPC, "0.36"},
		{"r1 of 60 m of 2.5, at 15 °C", "BS EN 60228 and On-Site Guide I2, by hand: 7.41 × 60 / 1000 × 0.98",
			bare("{voltage: 230 V}", "60 m", ring), 15, -1, route.LineEnds, "0.4357"},
		{"R1+R2 of 20 m of 4/4", "On-Site Guide I1: 9.22 mΩ/m (read)", bare("{voltage: 230 V}", "20 m", "device: B32, cable: 4, cpc: 4"), 20, 0, route.LineCPC, "0.1844"},
		{"R1+R2 of 20 m of 6/2.5 at 25 °C", "On-Site Guide I1 and I2: 10.49 mΩ/m (read) × 1.02", bare("{voltage: 230 V}", "20 m", "device: B32, cable: 6, cpc: 2.5"), 25, 0, route.LineCPC, "0.2140"},
	}
	for _, tt := range tests {
		e := expectedAt(t, tt.job, tt.celsius, tt.point, tt.test)
		if got := rounded(e.Value, tt.book); got != tt.book {
			t.Errorf("%s: %s, book %s (%s)", tt.title, got, tt.book, tt.source)
		}
		if steps := e.Steps(); len(steps) < 2 || len(fill.Sources(steps)) == 0 {
			t.Errorf("%s: %d steps, sources %v", tt.title, len(steps), fill.Sources(steps))
		}
	}
}

// TestEndRatios: r2/r1 of the usual pairs by the resistance table, from a trade
// article on end-to-end values (1.67 by area for 2.5/1.5, "other sizes have
// other ratios") and BS EN 60228.
func TestEndRatios(t *testing.T) {
	for pair, want := range map[[2]string]string{{"2.5", "1.5"}: "1.63", {"2.5", "1"}: "2.44", {"4", "1.5"}: "2.62", {"2.5", "2.5"}: "1.00"} {
		job := bare("{voltage: 230 V}", "50 m", fmt.Sprintf("device: B32, cable: %s, cpc: %s, arrangement: ring", pair[0], pair[1]))
		r1, r2 := expectedAt(t, job, 20, -1, route.LineEnds), expectedAt(t, job, 20, -1, route.CPCEnds)
		if got := rounded(r2.Value/r1.Value, want); got != want {
			t.Errorf("%s: r2/r1 %s, want %s", pair, got, want)
		}
	}
}

// TestSheetLimits: what the readings are held to, from BS 7671 Table 41.3 (B32
// 1.37), the 0.8 rule, Table 64, Table 41.5 and the product standards.
func TestSheetLimits(t *testing.T) {
	job := "job: x\nsupply: {voltage: 230 V, earthing: TN-C-S, Ze: 0.35 ohm}\nboard: {main: {device: RCCB, rating: 63 A, residual: 30 mA, type: A}}\n" +
		"runs: {A: {in: plastic conduit 32, length: 20 m}}\ncircuits: {x: {device: B32, cable: 4, runs: [A]}}\n"
	most := func(point int, test route.Test) float64 { return expectedAt(t, job, 20, point, test).Most }
	for what, pair := range map[string][2]float64{
		"Zs, 0.8 × 1.37":       {most(0, route.EarthLoop), 0.8 * 1.37},
		"R1+R2, less Ze":       {most(0, route.LineCPC), 0.8*1.37 - 0.35},
		"Zs, hot, 0.95 U0/5In": {expectedAt(t, job, 20, 0, route.EarthLoop).Table, 0.95 * 230 / 160},
		"insulation":           {expectedAt(t, job, 20, -1, route.Insulation).Least, 1},
		"trip":                 {most(-1, route.Trip), 300},
		"five times":           {most(-1, route.FiveTimes), 40},
	} {
		if !near(pair[0], pair[1]) {
			t.Errorf("%s: %v, want %v", what, pair[0], pair[1])
		}
	}
	if e := expectedAt(t, job, 20, -1, route.HalfTrip); e.Prove != "does not trip at 15 mA" {
		t.Errorf("half: %s", e.Prove)
	}
}

// TestSheetAgrees: at 20 °C the sheet has the figures of Values and RingEnds.
func TestSheetAgrees(t *testing.T) {
	for _, file := range []string{"jobs/boatstore", "jobs/clubhouse", "jobs/classroom", "jobs/workshop", "arrangements/ring-and-spur", "arrangements/conduit-cpc", "arrangements/shared-cpc", "arrangements/intermediate"} {
		text, err := os.ReadFile("../testdata/" + file + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		j := mustParse(t, string(text))
		sheet := fill.NewTestSheet(j, 20)
		for i := range sheet.Circuits {
			c := &sheet.Circuits[i]
			if r1, rn, r2, ok := fill.RingEnds(j, i); ok {
				for test, want := range map[route.Test]float64{route.LineEnds: r1, route.NeutralEnds: rn, route.CPCEnds: r2} {
					if e, _ := c.At(-1, test); !near(e.Value, want) {
						t.Errorf("%s, %s: %v, want %v", file, test, e.Value, want)
					}
				}
			}
			for k, v := range fill.Values(j, i) {
				if e, ok := c.At(k, route.EarthLoop); !ok || !near(e.Value, v.ZsCold) || !near(e.Table, v.ZsMax) || !near(e.Most, v.ZsTest) {
					t.Errorf("%s, circuit %d, point %d: %+v, want %+v", file, i, k, e, v)
				}
				if e, ok := c.At(k, route.LineCPC); !ok || !c.IsRing() && !near(e.Value, v.R1R2) {
					t.Errorf("%s, circuit %d, point %d: %+v, want %+v", file, i, k, e, v)
				}
				if e, ok := c.At(k, route.CPCAlone); ok && !near(e.Value, v.R2) {
					t.Errorf("%s, circuit %d, point %d: %+v, want %+v", file, i, k, e, v)
				}
			}
		}
	}
}

// TestCrossedRing solves rings with their ends cross-connected by Kirchhoff's
// laws with a general solver and compares what every point reads. With a cpc of
// the line's size all points of the ring itself read (r1 + r2)/4 (ring test of
// the textbooks); with a smaller one none reads more.
func TestCrossedRing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := powerJob(t, true)
		milliohm := 12.1 // 1.5 mm², BS EN 60228
		equal := rapid.Bool().Draw(t, "cpc of the line's size")
		if equal {
			text, milliohm = strings.Replace(text, "cpc: 1.5", "cpc: 2.5", 1), 7.41
		}
		j, err := route.Parse("drawn.yaml", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		c := &fill.NewTestSheet(j, 20).Circuits[0]
		quarter, ok := c.Quarter(route.CPCEnds)
		if !ok {
			t.Fatal("no (r1 + r2)/4")
		}
		n := crossConnected(j, milliohm)
		for k := range c.Paths {
			p := &c.Paths[k]
			line, cpc := fmt.Sprintf("line %d", p.Place), fmt.Sprintf("cpc %d", p.Place)
			want := n.solve(t, line, map[string]float64{cpc: 1})[cpc]
			e, _ := c.At(k, route.LineCPC)
			if math.Abs(e.Value-want) > 1e-9 {
				t.Fatalf("point %d reads %v, the network %v\n%s", k, e.Value, want, text)
			}
			if spur := p.LineSpur > 0; equal && !spur && !near(e.Value, quarter) || !spur && e.Value > quarter+1e-12 {
				t.Fatalf("point %d reads %v, (r1 + r2)/4 is %v\n%s", k, e.Value, quarter, text)
			}
		}
	})
}

// crossConnected is the line and cpc of a ring whose ends at the board are
// joined crosswise, as resistors.
func crossConnected(j *route.Job, cpcMilliohm float64) *network {
	n := newNetwork()
	for kind, milliohm := range map[route.Function]float64{route.Line: 7.41, route.CPC: cpcMilliohm} {
		ring := j.RingCores(0, kind)
		for i := j.Circuits[0].Singles[0]; i < j.Circuits[0].Singles[1]; i++ {
			s := &j.Singles[i]
			if s.Function != kind {
				continue
			}
			from, to := fmt.Sprintf("%s %d", kind, s.From.Place), fmt.Sprintf("%s %d", kind, s.To.Place)
			switch slices.Index(ring, i) {
			case 0:
				from = kind.String() + " end 1"
			case len(ring) - 1:
				to = kind.String() + " end 2"
			}
			n.put(from, to, milliohm*float64(s.Length)/1000)
		}
	}
	n.join("line end 1", "cpc end 2")
	n.join("line end 2", "cpc end 1")
	return n
}

// TestSteelBeside: 6 m of 4 mm² beside 20 mm heavy gauge conduit, by hand from
// BS EN 60228 (4.61 mΩ/m) and the larger of the textbook's 1.25 mΩ/m and
// 138/92.49 mΩ/m: R2 27.66 mΩ, steel 8.95 mΩ, in parallel 6.76 mΩ.
func TestSteelBeside(t *testing.T) {
	job := "job: x\nallow: {board tail: 0 m, accessory tail: 0 m}\nplaces: {b: {is: board}, s: {is: socket}}\n" +
		"runs: {A: {from: b, to: s, in: steel conduit 20, length: 6 m}}\ncircuits: {x: {device: B20, cable: 4, points: [s]%s}}\n"
	e := expectedAt(t, fmt.Sprintf(job, ""), 20, 0, route.CPCAlone)
	if got := rounded(e.WithSteel, "0.0068"); got != "0.0068" || rounded(e.Value, "0.0277") != "0.0277" {
		t.Errorf("R2 %v, with steel %v", e.Value, e.WithSteel)
	}
	both := expectedAt(t, fmt.Sprintf(job, ""), 20, 0, route.LineCPC)
	if !near(both.WithSteel, e.Value+e.WithSteel) { // R1 is the cpc's own figure
		t.Errorf("R1+R2 with steel %v", both.WithSteel)
	}
	alone := expectedAt(t, fmt.Sprintf(job, ", cpc: conduit"), 20, 0, route.CPCAlone)
	if rounded(alone.Value, "0.0090") != "0.0090" || !math.IsNaN(alone.WithSteel) {
		t.Errorf("the steel as cpc: %v, beside it %v", alone.Value, alone.WithSteel)
	}
}

// TestSheetOpen: what a job does not say is named, not guessed.
func TestSheetOpen(t *testing.T) {
	steel := "job: x\nplaces: {b: {is: board}, s: {is: socket}}\nruns: {A: {from: b, to: s, in: steel conduit 25, length: 6 m}}\ncircuits: {x: {device: B20, cable: 2.5, arrangement: ring, cpc: conduit, points: [s]}}\n"
	j := mustParse(t, steel)
	c := &fill.NewTestSheet(j, 20).Circuits[0]
	if _, has := c.At(-1, route.CPCEnds); has {
		t.Error("a ring whose cpc is the conduit has no r2")
	}
	if e, has := c.At(0, route.CPCAlone); !has || math.IsNaN(e.Value) {
		t.Error("and R2 by a long lead at each point")
	}
	e, _ := c.At(0, route.EarthLoop)
	if !math.IsNaN(e.Value) || e.Why == "" || math.IsNaN(e.Most) {
		t.Errorf("Zs without a supply: %+v", e)
	}
}

// TestSteelUnfigured: trunking without a published resistance is named as a
// path in parallel, and no figure is promised.
func TestSteelUnfigured(t *testing.T) {
	for in, promised := range map[string]bool{"steel trunking 50x50": true, "steel trunking 75x50": false, "steel conduit 20": true} {
		j := mustParse(t, "job: x\nplaces: {b: {is: board}, s: {is: socket}}\nruns: {A: {from: b, to: s, in: "+in+", length: 6 m}}\ncircuits: {x: {device: B20, cable: 4, points: [s]}}\n")
		c := &fill.NewTestSheet(j, 20).Circuits[0]
		e, _ := c.At(0, route.CPCAlone)
		if len(c.Notes) == 0 || strings.Contains(c.Notes[0], "figures under steel") != promised || math.IsNaN(e.WithSteel) == promised {
			t.Errorf("%s: %v, %v", in, e.WithSteel, c.Notes)
		}
	}
}

// TestInsulationFalls: n equal points in parallel read 1/n of one, so each must
// have n MΩ for the circuit to read 1 MΩ.
func TestInsulationFalls(t *testing.T) {
	text, err := os.ReadFile("../testdata/jobs/clubhouse.yaml")
	if err != nil {
		t.Fatal(err)
	}
	sheet := fill.NewTestSheet(mustParse(t, string(text)), 20)
	points := 0
	for i := range sheet.Circuits {
		c := &sheet.Circuits[i]
		e, _ := c.At(-1, route.Insulation)
		siemens := 0.0
		for range c.Paths {
			siemens += 1 / e.Each
		}
		if !near(1/siemens, e.Least) {
			t.Errorf("circuit %d: %d points of %v MΩ read %v", i, len(c.Paths), e.Each, 1/siemens)
		}
		points += len(c.Paths)
	}
	if sheet.Points() != points || !near(sheet.BoardEach(), float64(points)) {
		t.Errorf("the board: %d points, %v MΩ", sheet.Points(), sheet.BoardEach())
	}
}
