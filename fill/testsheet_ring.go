package fill

import (
	"tubewright/factors/sum"
	"tubewright/route"
)

// crossed is what a point of a ring reads between line and the other conductor
// (cpc or neutral) when the ends are cross-connected: the line of one leg with
// the other conductor of the other leg. The way by one end is A = line one way
// + other the other way, by the other end B; the instrument sees A and B in
// parallel. With both conductors of one size A = B and every point reads
// (r1 + r2)/4; with a smaller cpc the middle reads that and the ends less. A
// spur adds its own two conductors.
//
// Source: ring test of the textbooks, (r1 + r2)/4; the exact form derived here.
func (s *sheet) crossed(w *sum.Work, e *Expected, p *route.PointPath) error {
	line, err := s.halves(w, e.Circuit, "1", coreWay{route.Line, "", p.Line, p.LineBack, p.LineSpur, p.LineCores})
	if err != nil {
		return err
	}
	way := coreWay{route.CPC, "", p.CPC, p.CPCBack, p.CPCSpur, p.CPCCores}
	number := "2"
	if e.Test == route.LineNeutral {
		way, number = coreWay{route.Neutral, "", p.Neutral, p.NeutralBack, p.NeutralSpur, p.NeutralCores}, "n"
	}
	other, err := s.halves(w, e.Circuit, number, way)
	if err != nil {
		return err
	}
	A := sum.T(w.Let("A", "by one pair of ends", "Ω", sum.Add(sum.T(line.one), sum.T(other.back))))
	B := sum.T(w.Let("B", "by the other pair", "Ω", sum.Add(sum.T(line.back), sum.T(other.one))))
	both := sum.Over(sum.Times(A, B), sum.Add(A, B))
	if line.spur.Value > 0 {
		both = sum.Add(both, sum.T(line.spur), sum.T(other.spur))
	}
	e.Value = s.atTest(w, e.Test.String(), "ends cross-connected", both).Value
	return nil
}

// halves are a ring conductor's resistances to a point, both ways round, and
// of the spur beyond.
type halves struct{ one, back, spur sum.Term }

func (s *sheet) halves(w *sum.Work, circuit int, number string, c coreWay) (h halves, err error) {
	r, err := coreOhm(s.m, circuit, c.function, c.cores[0])
	if err != nil {
		return h, err
	}
	ohms := sum.T(w.Given("a metre of the "+c.function.String()+" at 20 °C", inOhms(r, "r")))
	part := func(symbol, meaning string, metres float64) sum.Term {
		l := sum.T(sum.Term{Symbol: "l", Value: metres, Unit: "m"})
		return w.Let(symbol, "the "+c.function.String()+" "+meaning, "Ω", sum.Over(sum.Times(ohms, l), sum.N(1000)))
	}
	h.one = part("r"+number+" one way", "one way", c.one-c.spur)
	h.back = part("r"+number+" the other", "the other way", c.back-c.spur)
	if c.spur > 0 {
		h.spur = part("r"+number+" spur", "of the spur", c.spur)
	}
	return h, nil
}

// Quarter is what a cross-connected ring reads in its middle, (r1 + r2)/4 with
// the cpc and (r1 + rn)/4 with the neutral. It reports false where the circuit
// is no ring or one conductor has no figure.
func (c *CircuitTests) Quarter(other route.Test) (float64, bool) {
	a, ok := c.At(-1, route.LineEnds)
	b, also := c.At(-1, other)
	if !ok || !also || !known(a.Value) || !known(b.Value) {
		return none, false
	}
	return (a.Value + b.Value) / 4, true
}
