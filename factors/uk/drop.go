package uk

import (
	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/units"
)

var (
	drop70      = table("4D1B")
	drop90      = table("4E1B")
	dropTwin    = table("4D5-voltage-drop")
	dropLimit   = table("voltage-drop-limit")
	dropOver100 = table("voltage-drop-over-100m")
)

// DropParts is what a table says of a cable's voltage drop, in mV/A/m. X has
// no figure up to 16 mm², where R is all there is.
type DropParts struct {
	R, X, Z  factors.Value
	Reactive bool // X is tabulated
}

// Drop returns the voltage drop of a cable enclosed in conduit or trunking,
// its conductors at their highest temperature.
//
//	c       a Single, or a thermoplastic TwinEarth on a single-phase circuit
//	lines   1 for a single-phase circuit, 3 for a three-phase one
//
// The single-phase figure is for line and neutral together, a metre of each;
// the three-phase figure is between lines, √3 in it already. A flexible cable
// has no figure here.
//
// Source: BS 7671, Tables 4D1B (read), 4E1B (read, three-phase 240 mm² memory)
// and 4D5 (partly memory; each cell says so).
func Drop(c factors.Cable, lines int) (DropParts, error) {
	if c.Form == factors.TwinEarth {
		return dropTwinEarth(c, lines)
	}
	t := drop70()
	if c.Insulation == factors.Thermosetting {
		t = drop90()
	}
	switch {
	case c.Form != factors.Single:
		return DropParts{}, notSingle(t, c)
	case c.Strands == factors.Flexible:
		return DropParts{}, madeUp(t, c.Strands)
	}
	supply := factors.Word("single-phase")
	if lines == 3 {
		supply = factors.Word("three-phase")
	}
	size := factors.Num(c.CSA)
	z, err := t.At(size, supply, factors.Word("z"))
	if err != nil {
		return DropParts{}, err
	}
	d := DropParts{R: z, Z: z}
	if c.CSA > 16 {
		d.R = must(t.At(size, supply, factors.Word("r")))
		d.X = must(t.At(size, supply, factors.Word("x")))
		d.Reactive = true
	}
	return d, nil
}

func dropTwinEarth(c factors.Cable, lines int) (DropParts, error) {
	t := dropTwin()
	if lines != 1 || c.Insulation == factors.Thermosetting {
		asked, known := "three-phase", "single-phase"
		if lines == 1 {
			asked, known = c.Insulation.String(), "thermoplastic"
		}
		return DropParts{}, &factors.Miss{Table: t, Axis: factors.Axis{Name: "cable"}, Asked: factors.Word(asked),
			Known: []factors.Key{factors.Word(known)}, Kind: factors.ErrNoRow}
	}
	v, err := t.At(factors.Num(c.CSA))
	return DropParts{R: v, Z: v}, err
}

// DropCorrection returns Ct, by which the resistive part of a voltage drop is
// multiplied when the conductors run cooler than the table takes them to.
//
//	tp      °C  highest conductor temperature of the insulation
//	Ca, Cg  –   1 where the ambient is below 30 °C
//	Ib, It  A   design current, and what the cable carries alone at 30 °C
//
// It is for devices other than semi-enclosed fuses and is never more than 1.
//
// Source: BS 7671, Appendix 4, section 6.1 (memory, re-derived from R ∝ 230 + t).
func DropCorrection(w *sum.Work, tp units.Celsius, Ca, Cg, Ib, It sum.Term) sum.Term {
	t := sum.T(sum.Term{Symbol: "tp", Value: float64(tp), Unit: "°C", Cite: clause("BS 7671 App 4, 6.1 (from memory)")})
	share := sum.Sub(sum.Times(sum.Square(sum.T(Ca)), sum.Square(sum.T(Cg))), sum.Over(sum.Square(sum.T(Ib)), sum.Square(sum.T(It))))
	above := sum.Sub(sum.Add(sum.N(230), t), sum.Times(share, sum.Sub(t, sum.N(30))))
	return w.Let("Ct", "correction for the conductors' temperature", "", sum.Min(sum.Over(above, sum.Add(sum.N(230), t)), sum.N(1)))
}

// DropAtFactor returns the voltage drop for a load of that power factor:
// cosφ × r, and sinφ × x more where the table has a reactive part.
//
//	r       mV/A/m  the resistive part, corrected for temperature if that is wanted
//	x       mV/A/m  the reactive part, without a symbol where there is none
//	cosphi  –       above 0 and up to 1, lagging
//
// Source: BS 7671, Appendix 4, section 6.2 (memory).
func DropAtFactor(w *sum.Work, r, x sum.Term, cosphi float64) sum.Term {
	phase := sum.T(sum.Term{Symbol: "cosφ", Value: cosphi, Cite: clause("BS 7671 App 4, 6.2 (from memory)")})
	e := sum.Times(phase, sum.T(r))
	if x.Symbol != "" {
		sine := w.Let("sinφ", "of the load", "", sum.Root(sum.Sub(sum.N(1), sum.Square(phase))))
		e = sum.Add(e, sum.Times(sum.T(sine), sum.T(x)))
	}
	return w.Let("mV/A/m", "with the load's power factor", r.Unit, e)
}

// DropLimit returns the largest voltage drop from the origin to the load, in
// per cent of the nominal voltage.
//
// Source: BS 7671, Appendix 4, Table 4Ab (memory; 3 % and 5 % also read as
// 6.9 V and 11.5 V).
func DropLimit(private, lighting bool) factors.Value {
	supply, use := "public supply", "other"
	if private {
		supply = "private supply"
	}
	if lighting {
		use = "lighting"
	}
	return must(dropLimit().At(factors.Word(supply), factors.Word(use)))
}

// DropOver100 returns what the limit grows by for wiring longer than 100 m: per
// metre beyond, and at most, both in per cent.
//
// Source: BS 7671, Appendix 4, section 6.4 (memory).
func DropOver100() (each, most factors.Value) {
	return must(dropOver100().At(factors.Word("each metre"))), must(dropOver100().At(factors.Word("most")))
}
