package uk

import (
	"math"
	"slices"
	"sync"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/units"
)

var (
	cableShort      = table("cable-factor-short-straight")
	cableShortBound = table("cable-factor-short-straight-bound")
	cableLong       = table("cable-factor-long-or-bent")
	conduitShort    = table("conduit-factor-short-straight")
	conduitLong     = table("conduit-factor-long-or-bent")
	conduitLarge    = table("conduit-factor-large-multiplier")
)

// micrometre drops the dust that adding up legs leaves on a length, so that
// legs of 2.1 m and 0.9 m make a run of 3 m and no more.
func micrometre(length units.Metres) units.Metres {
	return units.Metres(math.Round(float64(length)*1e6) / 1e6)
}

// ShortStraight reports whether a pull is read from the tables for short
// straight runs: no bends and not longer than 3 m, 3 m itself included.
//
//	length  m  between draw-in points, > 0
//	bends   –  right angles; a double set counts as one
//
// Source: IET On-Site Guide, headings of Tables E1 and E2 (read).
func ShortStraight(length units.Metres, bends int) bool {
	return bends == 0 && micrometre(length) <= 3
}

// CableFactor returns the factor of one single in conduit; the sum of the
// factors is compared with the conduit's.
//
//	c      a Single; solid and stranded alike but in short straight runs, both
//	       insulations alike. Flexible (class 5) has no factor.
//	short  whether ShortStraight holds for the pull
//
// Sizes are exact. The short table has 1 mm² solid only: stranded takes the
// factor of 1.5 mm² as a bound, cited as derived. From 4 mm² it has stranded
// only.
//
// Source: IET On-Site Guide, Tables E1 and E3 (read; the cells say which of E1
// are from memory).
func CableFactor(c factors.Cable, short bool) (factors.Value, error) {
	t := cableLong()
	if short {
		t = cableShort()
	}
	switch {
	case c.Form != factors.Single:
		return factors.Value{}, notSingle(t, c)
	case c.Strands == factors.Flexible:
		return factors.Value{}, madeUp(t, c.Strands)
	case !short:
		return t.At(factors.Num(c.CSA))
	}
	v, err := t.At(factors.Word(c.Strands.String()), factors.Num(c.CSA))
	if err != nil {
		if bound, none := cableShortBound().At(factors.Word(c.Strands.String()), factors.Num(c.CSA)); none == nil {
			return bound, nil
		}
	}
	return v, err
}

// guideSize is the size under which the guide has a conduit: it knows the
// 40 mm class as 38 mm, a little narrower and so on the careful side.
func guideSize(size units.Millimetres) units.Millimetres {
	if size == 40 {
		return 38
	}
	return size
}

// ConduitFactor returns what one pull may hold, to compare with the sum of its
// cable factors, and writes the look-up into w.
//
//	length  m   between draw-in points, > 0
//	bends   –   right angles, >= 0; a double set counts as one
//	size    mm  nominal outside diameter; 40 is read as 38
//
// Between two tabulated lengths the next longer row holds. 38, 50 and 63 mm
// take a multiple of the 32 mm factor, or their own in a short straight run.
// Past the last row (10 m, 5 m with three bends, 2.5 m with four) it returns a
// Miss of kind ErrPastTable: the guide offers no factor there.
//
// Source: IET On-Site Guide, Tables E2 and E4 and the note to E4 (read; each
// cell from memory says so).
func ConduitFactor(w *sum.Work, length units.Metres, bends int, size units.Millimetres) (sum.Term, error) {
	length = micrometre(length)
	guide := guideSize(size)
	if ShortStraight(length, bends) {
		v, err := conduitShort().At(factors.Num(guide))
		if err != nil {
			return sum.Term{}, err
		}
		noteSize(w, size, guide)
		return w.Given("what the conduit may hold, short straight run", v.Term("conduit factor")), nil
	}
	if guide > 32 {
		return largeConduit(w, length, bends, size)
	}
	v, err := conduitLong().At(factors.Num(bends), factors.Num(length), factors.Num(guide))
	if err != nil {
		return sum.Term{}, err
	}
	noteRow(w, length, v)
	return w.Given("what the conduit may hold", v.Term("conduit factor")), nil
}

// largeConduit is ConduitFactor above 32 mm in a run with bends or over 3 m.
func largeConduit(w *sum.Work, length units.Metres, bends int, size units.Millimetres) (sum.Term, error) {
	guide := guideSize(size)
	multiple, err := conduitLarge().At(factors.Num(guide))
	if err != nil {
		return sum.Term{}, err
	}
	v, err := conduitLong().At(factors.Num(bends), factors.Num(length), factors.Num(32))
	if err != nil {
		return sum.Term{}, err
	}
	noteSize(w, size, guide)
	noteRow(w, length, v)
	return w.Let("conduit factor", "what the conduit may hold, a multiple of the 32 mm factor", "",
		sum.Times(sum.T(multiple.Term("multiple")), sum.T(v.Term("32 mm factor")))), nil
}

func noteSize(w *sum.Work, size, guide units.Millimetres) {
	if w.Keeps() && size != guide {
		w.Notef("%s mm: the guide has this class as %s mm, on the careful side", units.Format(float64(size)), units.Format(float64(guide)))
	}
}

func noteRow(w *sum.Work, length units.Metres, v factors.Value) {
	if row := v.Cite.Keys[1].Num; w.Keeps() && row != float64(length) {
		shown := math.Round(float64(length)*1e3) / 1e3
		if at, err := v.Cite.Table.At(v.Cite.Keys[0], factors.Num(shown), v.Cite.Keys[2]); err != nil || at.Cite.Keys[1].Num != row {
			shown = float64(length) // the millimetre alone would point to another row
		}
		w.Notef("%s m: the %s m row holds", units.Format(shown), units.Format(row))
	}
}

// ConduitSizes lists the nominal sizes of a material that have factors, in
// rising order, 63 mm included. It panics for a material it does not know.
//
// Source: IET On-Site Guide, Table E2; steel is made as 40 mm, plastic as 38
// and 40 mm (read).
func ConduitSizes(m factors.Material) []units.Millimetres {
	var out []units.Millimetres
	for _, k := range conduitShort().Keys() {
		switch size := units.Millimetres(k.Num); {
		case size != 38:
			out = append(out, size)
		case m == factors.Steel:
			out = append(out, 40)
		default:
			out = append(out, 38, 40)
		}
	}
	return out
}

var conduitCables = sync.OnceValue(func() []units.SquareMM { return sizes(cableLong().Keys()) })

// SizesWithFactor lists the cross-sections that have a cable factor in conduit
// or trunking, for some make of conductor, in rising order.
func SizesWithFactor(k factors.Kind) []units.SquareMM {
	if k == factors.Trunking {
		return slices.Clone(trunkingCables())
	}
	return slices.Clone(conduitCables())
}
