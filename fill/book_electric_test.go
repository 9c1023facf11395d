package fill_test

import (
	"fmt"
	"math"
	"testing"

	"tubewright/fill"
)

// bare is a job of one run that stands alone, so that the length is that of
// the cores, and one circuit.
func bare(supply, length, circuit string) string {
	return fmt.Sprintf("job: example\nsupply: %s\nruns:\n  A: {in: plastic conduit 32, length: %s}\ncircuits:\n  x: {%s, runs: [A]}\n", supply, length, circuit)
}

const circuitX = "circuit x"

// at is a figure of the circuit's first point.
func at(figure func(fill.PointValues) float64) func(*asked) float64 {
	return func(a *asked) float64 { return figure(fill.Values(a.Job, 0)[0]) }
}

// TestDropExamples holds the voltage drop to published sums.
func TestDropExamples(t *testing.T) {
	const scaffold = "the source rounds the current to 21.74 A first"
	runExamples(t, []example{
		{title: "immersion heater in 6 mm²", source: whitfield + "4.3.11 (not read again)",
			job: bare("{voltage: 240 V}", "14 m", "device: B16, cable: 6, demand: 12.5 A"),
			prints: []printed{
				{what: "drop", book: "1.28", ours: value("drop", circuitX)},
				{what: "limit", book: "9.6", ours: limit("drop", circuitX), differs: "one limit of 4 % then; 5 % for other uses now"},
			}, found: []verdict{{"drop", circuitX, fill.Pass}}},
		{title: "immersion heater in 4 mm²", source: whitfield + "4.3.11 (not read again)",
			job:    bare("{voltage: 240 V}", "14 m", "device: B16, cable: 4, demand: 12.5 A"),
			prints: []printed{{what: "drop", book: "1.93", ours: value("drop", circuitX)}}},
		{title: "6 kW on 4 mm²", source: "lecture note after Whitfield (read)",
			job: bare("{voltage: 240 V}", "16 m", "device: B32, cable: 4, demand: 6 kW"),
			prints: []printed{
				{what: "drop", book: "4.4", ours: value("drop", circuitX)},
				{what: "per cent", book: "1.83", ours: at(func(v fill.PointValues) float64 { return v.DropPct })},
			}},
		{title: "10 kW shower", source: "trainer's blog on installing a shower (read)",
			job: bare("{voltage: 230 V}", "10 m", "device: B45, cable: 10, arrangement: direct, demand: 10 kW"),
			prints: []printed{{what: "current", book: "44", ours: step("drop", circuitX, "Ib"), differs: "43.48 A, rounded up there"},
				{what: "current, to two digits", book: "43.48", ours: step("drop", circuitX, "Ib")}}},
		{title: "40 m of ring taken for a radial", source: "forum, voltage drop (read)",
			job:    bare("{voltage: 230 V}", "40 m", "device: B32, cable: 2.5"),
			prints: []printed{{what: "drop", book: "23.04", ours: value("drop", circuitX)}}, found: []verdict{{"drop", circuitX, fill.Fail}}},
		{title: "the same as a ring", source: "forum, voltage drop (read)",
			job:    bare("{voltage: 230 V}", "40 m", "device: B32, cable: 2.5, arrangement: ring"),
			prints: []printed{{what: "drop", book: "5.76", ours: value("drop", circuitX)}}, found: []verdict{{"drop", circuitX, fill.Pass}}},
		{title: "the same at 26 A", source: "forum, voltage drop (read)",
			job:    bare("{voltage: 230 V}", "40 m", "device: B32, cable: 2.5, arrangement: ring, demand: 26 A"),
			prints: []printed{{what: "drop", book: "4.68", ours: value("drop", circuitX)}}},
		{title: "summerhouse on 4 mm²", source: "forum, summerhouse electric supply (read)",
			job: bare("{voltage: 230 V}", "40 m", "device: B25, cable: 4 thermosetting, arrangement: direct, demand: 5 kW, use: lighting"),
			prints: []printed{{what: "current", book: "21.74", ours: step("drop", circuitX, "Ib")},
				{what: "drop", book: "10.44", ours: value("drop", circuitX), differs: scaffold}, {what: "limit", book: "6.9", ours: limit("drop", circuitX)}},
			found: []verdict{{"drop", circuitX, fill.Fail}}},
		{title: "summerhouse on 4 mm², sockets only", source: "forum, summerhouse electric supply (read)",
			job:    bare("{voltage: 230 V}", "40 m", "device: B25, cable: 4 thermosetting, arrangement: direct, demand: 5 kW"),
			prints: []printed{{what: "limit", book: "11.5", ours: limit("drop", circuitX)}}, found: []verdict{{"drop", circuitX, fill.Pass}}},
		{title: "summerhouse on 6 mm²", source: "forum, summerhouse electric supply (read)",
			job:    bare("{voltage: 230 V}", "40 m", "device: B25, cable: 6 thermosetting, arrangement: direct, demand: 5 kW, use: lighting"),
			prints: []printed{{what: "drop", book: "6.9", ours: value("drop", circuitX)}}, found: []verdict{{"drop", circuitX, fill.Pass}}},
	})
}

const loopSupply = "{voltage: 230 V, earthing: TN-C-S, Ze: 0.35 ohm, fault: 1.5 kA}"

// perMetre is what a metre adds to the hot loop of a job with 100 m of run.
func perMetre(a *asked) float64 { return (fill.Values(a.Job, 0)[0].ZsHot - 0.35) / 100 }

// TestLoopExamples holds resistances and loops to published sums.
func TestLoopExamples(t *testing.T) {
	runExamples(t, []example{
		{title: "10 m of 1.5/1.0", source: "forum, question urgent for sparks (read)",
			job: bare("{voltage: 230 V, earthing: TN-S, Ze: 0.6 ohm}", "10 m", "device: B6, cable: 1.5, cpc: 1"),
			prints: []printed{
				{what: "R1 + R2 hot", book: "0.36", ours: func(a *asked) float64 { return fill.Values(a.Job, 0)[0].ZsHot - 0.6 }},
				{what: "Zs", book: "0.96", ours: value("fault", circuitX)},
				{what: "Zs as measured cold", book: "0.9", ours: at(func(v fill.PointValues) float64 { return v.ZsCold })},
			}},
		{title: "R1 + R2 of 0.85 split", source: "forum, calculating R2 from R1 and Rn (read)",
			job: bare("{voltage: 230 V}", "43.567 m", "device: B20, cable: 2.5, cpc: 1.5"),
			prints: []printed{
				{what: "R1 + R2", book: "0.85", ours: at(func(v fill.PointValues) float64 { return v.R1R2 })},
				{what: "R1", book: "0.32", ours: at(func(v fill.PointValues) float64 { return v.R1 })},
				{what: "R2", book: "0.53", ours: at(func(v fill.PointValues) float64 { return v.R2 })},
			}},
		{title: "ring of 0.54 ohm", source: "forum, calculating R1+R2 (read)",
			job: bare("{voltage: 230 V}", "72.8745 m", "device: B32, cable: 2.5, cpc: 1.5, arrangement: ring"),
			prints: []printed{
				{what: "r1", book: "0.54", ours: ringEnd(0)},
				{what: "r2", book: "0.9", ours: ringEnd(2)},
				{what: "(r1 + r2)/4", book: "0.36", ours: func(a *asked) float64 { return (ringEnd(0)(a) + ringEnd(2)(a)) / 4 }},
				{what: "R1 + R2 in the middle", book: "0.36", ours: at(func(v fill.PointValues) float64 { return v.R1R2 })},
				{what: "the other reply's product over sum", book: "0.3375", ours: at(func(v fill.PointValues) float64 { return v.R1R2 }), differs: "another quantity, and wrong for this purpose"},
			}},
		{title: "ratio of cpc to line", source: "trade article, end-to-end resistance values (opening read)",
			job: bare("{voltage: 230 V}", "10 m", "device: B32, cable: 2.5, cpc: 1.5, arrangement: ring"),
			prints: []printed{{what: "r2/r1", book: "1.67", ours: func(a *asked) float64 { return ringEnd(2)(a) / ringEnd(0)(a) },
				differs: "1.67 is the ratio of the areas; by the resistances of BS EN 60228 it is 1.63"}}},
		{title: "singles with an equal cpc: metre by metre", source: "Handbook of Electrical Installation Practice, table 20.21 (read)",
			job:    bare(loopSupply, "100 m", "device: B16, cable: 2.5"),
			prints: []printed{{what: "ohm a metre", book: "0.018", ours: perMetre}}},
		{title: "the same in thermosetting", source: "Handbook of Electrical Installation Practice, table 20.21 (read)",
			job:    bare(loopSupply, "100 m", "device: B16, cable: 2.5 thermosetting"),
			prints: []printed{{what: "ohm a metre", book: "0.019", ours: perMetre}}},
		{title: "twin and earth", source: "Handbook of Electrical Installation Practice, table 20.21 (read)",
			job: bare(loopSupply, "100 m", "device: B16, cable: 2.5 twin and earth"),
			prints: []printed{{what: "ohm a metre", book: "0.021", ours: perMetre,
				differs: "0.0234 with its 1.5 mm² cpc at 70 °C; the source must have another temperature or cpc"}}},
		{title: "30 m of 2.5/2.5", source: "sum by hand, cold and hot",
			job: bare(loopSupply, "30 m", "device: B32, cable: 2.5"),
			prints: []printed{
				{what: "Zs cold", book: "0.7946", ours: at(func(v fill.PointValues) float64 { return v.ZsCold })},
				{what: "its current", book: "289", ours: func(a *asked) float64 { return 230 / fill.Values(a.Job, 0)[0].ZsCold }},
				{what: "Zs hot", book: "0.8835", ours: value("fault", circuitX)},
				{what: "its current with Cmin", book: "247", ours: step("adiabatic", circuitX, "If")},
			}},
		{title: "57.1 m is within 5 In of a B32", source: "sum by hand",
			job: bare(loopSupply, "57.1 m", "device: B32, cable: 2.5"), found: []verdict{{"fault", circuitX, fill.Pass}}},
		{title: "57.2 m is not", source: "sum by hand",
			job: bare(loopSupply, "57.2 m", "device: B32, cable: 2.5"), found: []verdict{{"fault", circuitX, fill.Fail}}},
		{title: "80 % of the old limit of a B6", source: "forum, 17th-edition loop impedance table (read)",
			job: bare(loopSupply, "10 m", "device: B6, cable: 1.5"),
			prints: []printed{
				{what: "the old table", book: "7.67", ours: step("fault", circuitX, "Zs before 2015")},
				{what: "its cold limit", book: "6.13", ours: step("fault", circuitX, "Zs test"), differs: "edition before Cmin: 5.82 today"},
				{what: "today's cold limit", book: "5.82", ours: step("fault", circuitX, "Zs test")},
				{what: "today's table", book: "7.28", ours: step("fault", circuitX, "Zs table")},
			}},
		{title: "the old limits of a B16", source: "forum, 17th-edition loop impedance table (read)",
			job:    bare(loopSupply, "10 m", "device: B16, cable: 2.5"),
			prints: []printed{{what: "before Cmin", book: "2.87", ours: step("fault", circuitX, "Zs before 2015"), differs: "2.875, which the source cuts"}}},
		{title: "the old limits of a B32", source: "forum, 17th-edition loop impedance table (read)",
			job:    bare(loopSupply, "10 m", "device: B32, cable: 4"),
			prints: []printed{{what: "before Cmin", book: "1.44", ours: step("fault", circuitX, "Zs before 2015")}}},
	})
}

func ringEnd(k int) func(*asked) float64 {
	return func(a *asked) float64 {
		r1, rn, r2, ok := fill.RingEnds(a.Job, 0)
		if !ok {
			return math.NaN()
		}
		return []float64{r1, rn, r2}[k]
	}
}

// demanding is a job whose one circuit meets the household allowances.
func demanding(voltage, circuit string) string {
	return fmt.Sprintf("job: example\nsupply: {voltage: %s}\nboard: {main: {rating: 100 A}}\nchoices: {diversity: household}\nruns:\n  A: {in: plastic conduit 32, length: 5 m}\ncircuits:\n  x: {%s, runs: [A]}\n", voltage, circuit)
}

// TestDiversityExamples holds the demand of the board to published sums.
func TestDiversityExamples(t *testing.T) {
	demand := value("demand", "board")
	runExamples(t, []example{
		{title: "70 A cooker plate", source: "cooker repair trade page 5 (read)",
			job: demanding("230 V", "device: B63, cable: 16, arrangement: direct, use: cooker, demand: 70 A"), prints: []printed{{what: "demand", book: "28", ours: demand}}},
		{title: "with a socket", source: "cooker repair trade page 5 (read)",
			job:    demanding("230 V", "device: B63, cable: 16, arrangement: direct, use: cooker, socket in control: yes, demand: 70 A"),
			prints: []printed{{what: "demand", book: "33", ours: demand}}},
		{title: "30 A cooker", source: "newsgroup, kitchen without a cooker circuit (read)",
			job: demanding("230 V", "device: B32, cable: 6, arrangement: direct, use: cooker, demand: 30 A"), prints: []printed{{what: "demand", book: "16", ours: demand}}},
		{title: "12 kW cooker with socket", source: "Linsley, Basic Electrical Installation Work, pp. 297-298 (read)",
			job:    demanding("230 V", "device: B63, cable: 16, arrangement: direct, use: cooker, socket in control: yes, demand: 12 kW"),
			prints: []printed{{what: "connected", book: "52.17", ours: step("demand", "board", "I(x)")}, {what: "demand", book: "27.65", ours: demand}}},
		{title: "8 kW shower at 240 V", source: whitfield + "6.2.1 (read)",
			job: demanding("240 V", "device: B40, cable: 10, arrangement: direct, use: shower, demand: 8 kW"), prints: []printed{{what: "demand", book: "33.3", ours: demand}}},
		{title: "lampholder at 240 V", source: whitfield + "6.2.1 (read)",
			job:    demanding("240 V", "device: B6, cable: 1.5, arrangement: lighting, demand: 100 W"),
			prints: []printed{{what: "current", book: "0.42", ours: step("demand", "board", "I(x)")}}},
	})
}
