package fill

import (
	"fmt"
	"math"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/route"
)

// ringRules are what the readings of a ring say together: line and neutral
// alike from end to end, and the readings of its points by their pattern.
func (c *comparer) ringRules(circuit int) []Comparison {
	var out []Comparison
	for _, r := range []func(*sum.Work, int) (Comparison, bool){c.balance, c.pattern} {
		if x, ok := r(nil, circuit); ok {
			x.Finding = judge(c.sheet.m, func(w *sum.Work, _ *matter, i int) Finding { y, _ := r(w, i); return y.Finding }, circuit)
			out = append(out, x)
		}
	}
	return out
}

func (c *comparer) ends(circuit int, t route.Test) (float64, bool) {
	r, read := c.at[readingKey{circuit, -1, t}]
	if !read || math.IsInf(r.Value, 1) {
		return none, false
	}
	return r.Value, true
}

// balance holds r1 and rn to each other: they are of one size and lie side by
// side.
//
// Source: textbooks, 0.05 Ω (read).
func (c *comparer) balance(w *sum.Work, circuit int) (Comparison, bool) {
	r1, line := c.ends(circuit, route.LineEnds)
	rn, neutral := c.ends(circuit, route.NeutralEnds)
	if !line || !neutral {
		return Comparison{}, false
	}
	by, _ := uk.RingBalance()
	limit := inOhms(by, "apart")
	larger, smaller := sum.Term{Symbol: "r1", Value: r1, Unit: "Ω"}, sum.Term{Symbol: "rn", Value: rn, Unit: "Ω"}
	if rn > r1 {
		larger, smaller = smaller, larger
	}
	d := w.Let("difference", "line and neutral from end to end", "Ω", sum.Sub(sum.T(larger), sum.T(smaller)))
	w.Given("how far apart they may be", limit)
	out := c.ringFinding(circuit, "r1, rn", d.Value, limit.Value)
	if !w.AtMost("ring", d, limit) {
		out.Verdict = Fail
		out.Reason = fmt.Sprintf("line and neutral differ by %s from end to end, more than %s", figure(d.Value, "Ω"), figure(limit.Value, "Ω"))
		out.Means = []string{"a loose terminal on the " + map[string]string{"r1": "line", "rn": "neutral"}[larger.Symbol] + ", which reads more", "the two ends of different circuits taken for one ring", "a smaller size in part of the ring"}
	}
	return out, true
}

func (c *comparer) ringFinding(circuit int, check string, value, limit float64) Comparison {
	ct := &c.sheet.m.Circuits[circuit]
	return Comparison{Low: none, High: none, Finding: Finding{Check: check, Subject: ct.Name, At: ct.At, Value: value, Limit: limit, Unit: "Ω", Verdict: Pass}}
}

// ringPoint is a reading at a point of a ring with what two ways to join the
// ends would read there.
type ringPoint struct {
	name                string
	read, cross, sameLg float64
}

// pattern compares the readings at the points of a ring with what they read
// with the ends cross-connected, about the same at all, and with the line of
// each leg joined to its own cpc: nothing at the board and rising to the
// middle. The values are scaled to r1 + r2 as read where they were.
//
// Source: ring test of the textbooks; 0.05 Ω between points from memory.
func (c *comparer) pattern(w *sum.Work, circuit int) (Comparison, bool) {
	points := c.ringPoints(circuit)
	if len(points) < 2 {
		return Comparison{}, false
	}
	_, by := uk.RingBalance()
	limit := inOhms(by, "apart")
	cross, same, worst := 0.0, 0.0, 0
	for i, p := range points {
		cross += (p.read - p.cross) * (p.read - p.cross)
		same += (p.read - p.sameLg) * (p.read - p.sameLg)
		if math.Abs(p.read-p.cross) > math.Abs(points[worst].read-points[worst].cross) {
			worst = i
		}
	}
	p := points[worst]
	d := w.Let("off", "the reading farthest from its place in the pattern, at "+p.name, "Ω", sum.Max(
		sum.Sub(sum.N(p.read), sum.N(p.cross)), sum.Sub(sum.N(p.cross), sum.N(p.read))))
	w.Given("how far the points may differ", limit)
	out := c.ringFinding(circuit, "ring points", d.Value, limit.Value)
	plain := math.Abs(p.read-p.cross) > c.within(nil, sum.Term{Value: p.cross}, false)
	switch {
	case plain && same < cross/4:
		out.Verdict, out.Reason = Advise, "the readings rise from the ends to the middle: each line end was joined to the cpc of its own leg, not across"
		out.Means = []string{"the ends joined the wrong way round for the test: change them over and test again"}
	case !w.AtMost("ring points", d, limit):
		out.Verdict = Advise
		out.Reason = fmt.Sprintf("%s reads %s where the cross-connected ring would read %s", p.name, figure(p.read, "Ω"), figure(p.cross, "Ω"))
		out.Means = offPattern(points, worst, limit.Value)
	}
	return out, true
}

// offPattern says what one point or several off the pattern usually mean.
func offPattern(points []ringPoint, worst int, limit float64) []string {
	off := 0
	for _, p := range points {
		if math.Abs(p.read-p.cross) > limit {
			off++
		}
	}
	if off == 1 && points[worst].read > points[worst].cross {
		return []string{"a spur to " + points[worst].name + " that is not drawn", "a loose terminal at " + points[worst].name}
	}
	return []string{"the ring bridged: two rings joined into one, or two of its points joined by another way", "an open leg, or ends of another circuit among them", "a loose terminal between the points that read apart"}
}

// ringPoints are the readings of line to cpc at a ring's points.
func (c *comparer) ringPoints(circuit int) []ringPoint {
	if c.sheet.m.RingCores(circuit, route.CPC) == nil {
		return nil
	}
	scale := 1.0
	r1, a := c.ends(circuit, route.LineEnds)
	r2, b := c.ends(circuit, route.CPCEnds)
	e1, err1 := c.sheet.ends(nil, circuit, route.LineEnds)
	e2, err2 := c.sheet.ends(nil, circuit, route.CPCEnds)
	if a && b && err1 == nil && err2 == nil {
		scale = (r1 + r2) / (e1 + e2)
	}
	f := uk.TestMultiplier(nil, c.sheet.celsius).Value
	var out []ringPoint
	for i := range c.sheet.paths[circuit] {
		r, read := c.at[readingKey{circuit, i, route.LineCPC}]
		if !read || math.IsInf(r.Value, 1) {
			continue
		}
		p := &c.sheet.paths[circuit][i]
		e := c.sheet.expect(nil, circuit, i, route.LineCPC)
		v, err := pointResistance(nil, c.sheet.m, circuit, p)
		if err != nil || !known(e.Value) {
			return nil
		}
		out = append(out, ringPoint{c.sheet.m.PathName(p), r.Value, e.Value * scale, (v.R1.Value + v.R2.Value) * f * scale})
	}
	return out
}
