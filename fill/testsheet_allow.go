package fill

import (
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/route"
)

// Allowance is what a reading was allowed to differ from the expected value by.
type Allowance struct {
	Share            float64 // of the value
	Continuity, Loop float64 // Ω
	Kelvin           float64
	Stated           bool // by the file, in part at least; else common practice
}

// meterAllowance is what a reading may differ by, as the file states it or by
// common practice.
type meterAllowance struct{ share, continuity, loop, kelvin sum.Term }

func allowanceOf(m *route.Measured) meterAllowance {
	usual := uk.MeterAllowance()
	a := meterAllowance{usual.Share.Term("share"), inOhms(usual.Continuity, "leads"), inOhms(usual.Loop, "leads"), usual.Kelvin.Term("ΔT")}
	state := func(t *sum.Term, said bool, v float64) {
		if said {
			t.Value, t.Cite = v, nil
		}
	}
	state(&a.share, m.Allow.Share.Said(), m.Allow.Share.V)
	state(&a.continuity, m.Allow.Continuity.Said(), float64(m.Allow.Continuity.V))
	state(&a.loop, m.Allow.Loop.Said(), float64(m.Allow.Loop.V))
	state(&a.kelvin, m.Allow.Kelvin.Said(), float64(m.Allow.Kelvin.V))
	return a
}

func (a *meterAllowance) exported(said *route.MeterAllowance) Allowance {
	return Allowance{a.share.Value, a.continuity.Value, a.loop.Value, a.kelvin.Value,
		said.Share.Said() || said.Continuity.Said() || said.Loop.Said() || said.Kelvin.Said()}
}

// within is what a reading of X may be out by: the instrument's share and its
// fixed part, and how well the temperature of the conductors is known.
func (c *comparer) within(w *sum.Work, X sum.Term, live bool) float64 {
	fixed := c.allow.continuity
	if live {
		fixed = c.allow.loop
	}
	parts := []sum.Expr{sum.Times(sum.T(c.allow.share), sum.T(X)), sum.T(fixed)}
	if !live {
		cold, warm := uk.TestMultiplier(nil, 20), uk.TestMultiplier(nil, 25)
		cold.Symbol, warm.Symbol = "f20", "f25"
		perKelvin := sum.Over(sum.Sub(sum.T(warm), sum.T(cold)), sum.T(sum.Term{Symbol: "5 K", Value: 5, Unit: "K"}))
		parts = append(parts, sum.Times(perKelvin, sum.T(c.allow.kelvin), sum.T(X)))
	}
	return w.Let("out by", "what instrument, leads and temperature may make of it", "Ω", sum.Add(parts...)).Value
}
