package fill

import (
	"errors"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/route"
)

var (
	errNoNeutral = errors.New("no neutral of the circuit leads there")
	errNoRingCPC = errors.New("the cpc is no ring of its own: R2 at each point by a long lead")
	errNoRing    = errors.New("the circuit is no ring")
)

// atTest is a resistance at 20 °C brought to the temperature of the test.
func (s *sheet) atTest(w *sum.Work, symbol, meaning string, cold sum.Expr) sum.Term {
	if s.celsius == 20 {
		return w.Let(symbol, meaning, "Ω", cold)
	}
	f := uk.TestMultiplier(w, s.celsius)
	f.Symbol = "f"
	return w.Let(symbol, meaning, "Ω", sum.Times(sum.T(f), cold))
}

// ends is what a ring's conductor reads from end to end.
func (s *sheet) ends(w *sum.Work, circuit int, t route.Test) (float64, error) {
	f := [...]route.Function{route.LineEnds: route.Line, route.NeutralEnds: route.Neutral, route.CPCEnds: route.CPC}[t]
	cores := s.m.RingCores(circuit, f)
	switch {
	case cores == nil && s.m.Circuits[circuit].Arrangement.V != route.Ring:
		return none, errNoRing
	case cores == nil && t == route.CPCEnds:
		return none, errNoRingCPC
	case cores == nil:
		return none, errNoNeutral
	}
	r, err := coreOhm(s.m, circuit, f, cores[0])
	if err != nil {
		return none, err
	}
	length := 0.0
	for _, i := range cores {
		length += float64(s.m.Singles[i].Length)
	}
	if s.m.Circuits[circuit].Named && len(cores) > 0 {
		w.Note("the job names runs, not points: once round is taken as the length of the runs")
	}
	l := w.Given("once round the ring, tails included", sum.Term{Symbol: "l", Value: length, Unit: "m"})
	ohms := w.Given("a metre of the "+f.String()+" at 20 °C", inOhms(r, "r"))
	return s.atTest(w, t.String(), "the "+f.String()+" from end to end", sum.Over(sum.Times(sum.T(ohms), sum.T(l)), sum.N(1000))).Value, nil
}

// continuity is a resistance read at a point: of a ring with the ends of line
// and cpc, or line and neutral, cross-connected.
func (s *sheet) continuity(w *sum.Work, e *Expected) error {
	p := &s.paths[e.Circuit][e.Point]
	ring := s.m.Circuits[e.Circuit].Arrangement.V == route.Ring
	if e.Test == route.LineCPC {
		s.leaves(w, e)
	}
	switch {
	case e.Test == route.LineNeutral && len(p.NeutralCores) == 0:
		return errNoNeutral
	case ring && (e.Test == route.LineNeutral || e.Test == route.LineCPC && p.CPCBack > 0):
		return s.crossed(w, e, p)
	}
	r, err := pointResistance(w, s.m, e.Circuit, p)
	if err != nil {
		return err
	}
	switch e.Test {
	case route.LineCPC:
		e.Value = s.atTest(w, "R1+R2", "line and cpc, linked at the board", sum.Add(sum.T(r.R1), sum.T(r.R2))).Value
	case route.LineNeutral:
		e.Value = s.atTest(w, "R1+Rn", "line and neutral, linked at the board", sum.Add(sum.T(r.R1), sum.T(r.Rn))).Value
	default:
		e.Value = r.R2.Value
		if s.celsius != 20 {
			e.Value = s.atTest(w, "R2 at test", "the cpc, by a long lead from the board", sum.T(r.R2)).Value
		}
	}
	e.WithSteel = s.steelBeside(w, e.Test, p, r).Value
	return nil
}

// leaves is the most that R1 + R2 may read: what Ze leaves of the test limit of
// Zs.
func (s *sheet) leaves(w *sum.Work, e *Expected) {
	external, err := externalLoop(w, s.m)
	if err != nil {
		return
	}
	limit, err := zsLimitOf(w, s.m, e.Circuit)
	if err != nil {
		return
	}
	e.Most = w.Let("R1+R2 most", "what Ze leaves of the test limit of Zs", "Ω", sum.Sub(sum.T(limit.Test), sum.T(external))).Value
}

// loop is Zs at a point, at the temperature of the test: a ring as it works,
// both ways in parallel.
func (s *sheet) loop(w *sum.Work, e *Expected) error {
	p := &s.paths[e.Circuit][e.Point]
	limit, limitErr := zsLimitOf(w, s.m, e.Circuit)
	if limitErr == nil {
		e.Most, e.Table = limit.Test.Value, limit.Zs.Value
	}
	external, err := externalLoop(w, s.m)
	if err != nil {
		return err
	}
	r, err := pointResistance(w, s.m, e.Circuit, p)
	if err != nil {
		return err
	}
	R := s.atTest(w, "R1+R2", "line and cpc in service", sum.Add(sum.T(r.R1), sum.T(r.R2)))
	e.Value = w.Let("Zs", "earth fault loop at the temperature of the test", "Ω", sum.Add(sum.T(external), sum.T(R))).Value
	if low := s.steelBeside(w, e.Test, p, r); known(low.Value) {
		e.WithSteel = w.Let("Zs with steel", "as low as the tube may bring it", "Ω", sum.Add(sum.T(external), sum.T(low))).Value
	}
	return limitErr
}
