package fill

import (
	"fmt"
	"math"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// What a deviation usually means. All of it is common practice, no source.
var (
	meansSlow     = []string{"a worn or wrong device", "a delayed one where none is wanted", "a test lead on a circuit of another device", "loads left connected"}
	meansHalf     = []string{"standing leakage of what is connected", "neutral and cpc touching beyond the device", "a neutral borrowed from another circuit"}
	meansPolarity = []string{"line and neutral crossed at a terminal or joint", "the switch in the neutral", "a strapper in the place of the line"}
)

func (c *comparer) meansOpen(r *route.Reading) []string {
	if r.Test.OfRing() {
		return []string{"an open leg of the ring: a core out of its terminal, or two cores of the ring in one terminal of another circuit", "the two ends are not of one ring"}
	}
	out := []string{"a core out of its terminal or broken", "the link at the board not made", "a switch left open"}
	if c.sheet.m.Circuits[r.Circuit].CPCRule == route.ConduitCPC {
		out = append(out, "steel that serves as cpc: an open joint")
	}
	return out
}

func meansInsulation(megohms float64) []string {
	if megohms < 0.05 {
		return []string{"a short: a core trapped or pierced by a fixing, or a tail nipped behind an accessory", "neutral and cpc joined beyond the board, or a neutral borrowed from another circuit", "a load or lamp left connected"}
	}
	return []string{"a load, indicator lamp or surge device left connected", "damp in a box or tube", "insulation scraped in drawing in", "many points in parallel: halve the circuit and test each part"}
}

// meansHigh are the usual causes of a reading above what is expected.
func (c *comparer) meansHigh(r *route.Reading, e *Expected, out *Comparison) []string {
	means := c.asSize(r, e, out)
	switch {
	case r.Test == route.External:
		return []string{"the supply is not as declared: ask the distributor", "the main earthing terminal or a clamp on it loose"}
	case r.Test == route.EarthLoop:
		if R, read := c.at[readingKey{r.Circuit, r.Point, route.LineCPC}]; read && c.asExpected(R) {
			return append(means, "R1+R2 read here as expected, so the rest lies before the circuit: Ze, the main switch or the device's clamp", "a loop tester set to not trip a residual device reads high on a short circuit")
		}
		if R, read := c.at[readingKey{r.Circuit, r.Point, route.LineCPC}]; read && R.Value > c.judge(nil, R).High {
			return []string{"R1+R2 reads high here too, so the cause is in the circuit: see there"}
		}
		return append(means, "a loose or dirty terminal on the way", "a smaller or longer cpc or line than drawn", "Ze higher than given: measure it")
	case r.Test.OfRing():
		return append([]string{"a loose terminal: split the ring in halves to find it"}, append(means, "a longer way round or a smaller size than drawn")...)
	}
	means = append([]string{"a loose or dirty terminal, insulation under a clamp"}, append(means, "a longer way or a smaller size than drawn", "leads not nulled")...)
	if c.sheet.m.Circuits[r.Circuit].CPCRule == route.ConduitCPC {
		means = append(means, "a loose coupler, locknut or bush of the steel that serves as cpc")
	}
	return means
}

// meansLow are the usual causes of a reading below what is expected: a path in
// parallel before all.
func (c *comparer) meansLow(r *route.Reading, e *Expected, out *Comparison) []string {
	var means []string
	if r.Circuit >= 0 && (r.Test == route.CPCAlone || r.Test == route.LineCPC || r.Test == route.EarthLoop) {
		p := &c.sheet.paths[r.Circuit][r.Point]
		steel, _ := c.sheet.steelRuns(p)
		if len(steel) > 0 || len(p.Steel) > 0 {
			means = append(means, "first of all a path in parallel: the steel the circuit lies in, and the building it is fixed to; no fault by itself")
		} else {
			means = append(means, "a path in parallel: bonding, pipes, exposed metal of a fixed load; no fault by itself")
		}
	}
	means = append(means, c.asSize(r, e, out)...)
	switch {
	case r.Test == route.External:
		return []string{"bonding or an electrode left connected while measuring", "a better supply than declared"}
	case r.Test == route.EarthLoop:
		return append(means, "a shorter way than drawn", "Ze lower than given")
	case r.Test == route.LineNeutral || r.Test == route.NeutralEnds:
		return append(means, "a neutral borrowed from, or joined to, another circuit", "a shorter way than drawn", "a load left connected")
	case r.Test.OfRing():
		return append(means, "a shorter way round than drawn", "the ring bridged: two of its points joined by another way", "an interconnection with another circuit")
	}
	return append(means, "a shorter way or a larger size than drawn", "a neutral taken for the cpc, or joined to it", "leads nulled with a bad contact")
}

// asExpected reports whether a reading passes by itself.
func (c *comparer) asExpected(r *route.Reading) bool { return c.judge(nil, r).Verdict == Pass }

// asSize says which other conductor size would read as measured, where one
// would and the deviation is plain enough to tell.
func (c *comparer) asSize(r *route.Reading, e *Expected, out *Comparison) []string {
	if math.IsNaN(e.Value) || r.Circuit < 0 || r.Test.Live() || math.Abs(r.Value-e.Value) < 2*(out.High-e.Value) {
		return nil
	}
	var text []string
	best := math.Inf(1)
	for _, f := range partsOf[r.Test] {
		own, share := c.part(r, f)
		if share == 0 {
			continue
		}
		for _, size := range uk.ConductorSizes() {
			ohm, err := uk.Resistance(size, factors.Stranded)
			if err != nil || size < 1 || size > 16 || size == own {
				continue
			}
			have, _ := uk.Resistance(own, factors.Stranded)
			would := e.Value + share*(ohm.Num/have.Num-1)
			if gap := math.Abs(would - r.Value); gap < best && gap <= c.within(nil, sum.Term{Value: would}, false) {
				best = gap
				text = []string{fmt.Sprintf("a %s of %s mm² in the place of %s mm² would read %s", f, units.Format(float64(size)), units.Format(float64(own)), milliohms(would))}
			}
		}
	}
	return text
}

// partsOf are the conductors that a reading goes through.
var partsOf = map[route.Test][]route.Function{
	route.LineEnds: {route.Line}, route.NeutralEnds: {route.Neutral}, route.CPCEnds: {route.CPC},
	route.LineCPC: {route.Line, route.CPC}, route.LineNeutral: {route.Line, route.Neutral}, route.CPCAlone: {route.CPC},
}

// part is a conductor's size and its share of a reading in ohms at the test's
// temperature; no share where it is not told apart: in a cross-connected ring,
// in steel.
func (c *comparer) part(r *route.Reading, f route.Function) (own units.SquareMM, share float64) {
	m := c.sheet.m
	circuit := &m.Circuits[r.Circuit]
	own = m.cableOf(r.Circuit).CSA
	if f == route.CPC {
		own = circuit.CPC.V
	}
	if own == 0 || circuit.Sheathed() || circuit.CPCRule != route.OwnCPC {
		return own, 0
	}
	if r.Test.OfRing() {
		v, err := c.sheet.ends(nil, r.Circuit, r.Test)
		if err != nil {
			return own, 0
		}
		return own, v
	}
	if circuit.Arrangement.V == route.Ring {
		return own, 0
	}
	v, err := pointResistance(nil, m, r.Circuit, &c.sheet.paths[r.Circuit][r.Point])
	if err != nil {
		return own, 0
	}
	ohm := map[route.Function]float64{route.Line: v.R1.Value, route.Neutral: v.Rn.Value, route.CPC: v.R2.Value}[f]
	return own, ohm * uk.TestMultiplier(nil, c.sheet.celsius).Value
}
