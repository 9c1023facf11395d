package fill

import (
	"errors"
	"fmt"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// resistances are those of a point's conductors at 20 °C. Steel is the part of
// R2 that lies in conduit or trunking.
type resistances struct{ R1, Rn, R2, Steel sum.Term }

var (
	errNoCPC  = errors.New("no protective conductor of the circuit leads there")
	errRound  = errors.New("the cable is known by its diameter alone, so its resistance is not")
	steelWarn = ruleText("below 100 A the impedance of steel may be twice its resistance (memory, not verified)")
)

// pointResistance works out R1, Rn and R2 of a point from the lengths that its
// cores really take.
func pointResistance(w *sum.Work, m *matter, circuit int, p *route.PointPath) (r resistances, err error) {
	line := coreWay{route.Line, "R1", p.Line, p.LineBack, p.LineSpur, p.LineCores}
	if p.Looped > 0 {
		w.Note("the line looped through the light comes a longer way than its switched line: taken for the fault")
		line.one, line.cores = p.Looped, p.LoopedCores
	}
	if r.R1, err = pathOhm(w, m, circuit, line); err != nil {
		return r, err
	}
	r.Rn = sum.Term{Symbol: "Rn", Value: none, Unit: "Ω"}
	if len(p.NeutralCores) > 0 {
		if r.Rn, err = pathOhm(nil, m, circuit, coreWay{route.Neutral, "Rn", p.Neutral, p.NeutralBack, p.NeutralSpur, p.NeutralCores}); err != nil {
			return r, err
		}
	}
	if len(p.CPCCores) == 0 && len(p.Steel) == 0 {
		r.R2 = sum.Term{Symbol: "R2", Value: none, Unit: "Ω"}
		return r, errNoCPC
	}
	copper := coreWay{route.CPC, "R2", p.CPC, p.CPCBack, p.CPCSpur, p.CPCCores}
	if len(p.Steel) == 0 {
		r.R2, err = pathOhm(w, m, circuit, copper)
		return r, err
	}
	if r.Steel, err = steelOhm(w, m, p.Steel); err != nil || len(p.CPCCores) == 0 {
		r.R2 = w.Let("R2", "cpc: the steel", "Ω", sum.T(r.Steel))
		return r, err
	}
	copper.symbol = "R2 copper"
	part, err := pathOhm(w, m, circuit, copper)
	r.R2 = w.Let("R2", "cpc: copper and steel", "Ω", sum.Add(sum.T(part), sum.T(r.Steel)))
	return r, err
}

// coreWay is one conductor's way to a point: on a ring both ways round, and
// what lies beyond the ring.
type coreWay struct {
	function        route.Function
	symbol          string
	one, back, spur float64 // m
	cores           []int
}

// pathOhm is the resistance of a conductor from the board to a point at 20 °C.
// Its cores are of one size, but for a cpc that serves several circuits.
func pathOhm(w *sum.Work, m *matter, circuit int, c coreWay) (sum.Term, error) {
	r, err := coreOhm(m, circuit, c.function, c.cores[0])
	if err != nil {
		return sum.Term{}, err
	}
	l := c.length(w)
	if !w.Keeps() {
		return sum.Term{Symbol: c.symbol, Value: r.Num * l.Value / 1000, Unit: "Ω"}, nil
	}
	ohms := w.Given(fmt.Sprintf("a metre of the %s at 20 °C", c.function), inOhms(r, "r"))
	return w.Let(c.symbol, "the "+c.function.String()+" at 20 °C", "Ω", sum.Over(sum.Times(sum.T(ohms), sum.T(l)), sum.N(1000))), nil
}

// length is what the conductor counts as: on a ring both ways in parallel.
func (c *coreWay) length(w *sum.Work) sum.Term {
	if c.back == 0 {
		return w.Given("length of the "+c.function.String()+", tails included", sum.Term{Symbol: "l", Value: c.one, Unit: "m"})
	}
	a := sum.T(sum.Term{Symbol: "one way", Value: c.one - c.spur, Unit: "m"})
	b := sum.T(sum.Term{Symbol: "the other", Value: c.back - c.spur, Unit: "m"})
	e := sum.Over(sum.Times(a, b), sum.Add(a, b))
	if c.spur > 0 {
		e = sum.Add(e, sum.T(sum.Term{Symbol: "spur", Value: c.spur, Unit: "m"}))
	}
	return w.Let("l", "the "+c.function.String()+", both ways round the ring in parallel", "m", e)
}

// coreOhm is the resistance of a metre of a core at 20 °C, in mΩ.
func coreOhm(m *matter, circuit int, f route.Function, core int) (factors.Value, error) {
	s := &m.Singles[core]
	cable := s.Cable
	if f != route.CPC && s.Circuit == circuit {
		cable = m.cableOf(circuit)
	}
	switch {
	case cable.Form == factors.Round:
		return factors.Value{}, errRound
	case cable.Form == factors.TwinEarth && f == route.CPC:
		size, err := uk.TwinEarthCPC(cable.CSA)
		if err != nil {
			return size, err
		}
		return uk.Resistance(units.SquareMM(size.Num), factors.Solid)
	}
	return uk.Resistance(cable.CSA, cable.Strands)
}

// steelOhm is the resistance of the runs of steel that serve as cpc.
func steelOhm(w *sum.Work, m *matter, runs []route.Pass) (sum.Term, error) {
	parts := make([]sum.Expr, 0, len(runs))
	for _, p := range runs {
		run := &m.Runs[p.Run]
		w.Notef("run %s, %s, serves as protective conductor: sound joints, and each accessory tied to its box", run.Name, run.Enc)
		r, err := uk.SteelResistance(w, run.Enc)
		if err != nil {
			return r, err
		}
		l := sum.T(sum.Term{Symbol: "l", Value: float64(run.Length), Unit: "m"})
		parts = append(parts, sum.Over(sum.Times(sum.T(r), l), sum.N(1000)))
	}
	return w.Let("R2 steel", "the steel at 20 °C", "Ω", sum.Add(parts...)), nil
}

// coresOhm is the resistance of cores end to end, each by its own size.
func coresOhm(m *matter, circuit int, f route.Function, cores []int) (float64, error) {
	total := 0.0
	for _, i := range cores {
		r, err := coreOhm(m, circuit, f, i)
		if err != nil {
			return 0, err
		}
		total += r.Num * float64(m.Singles[i].Length) / 1000
	}
	return total, nil
}
