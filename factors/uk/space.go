package uk

import (
	"math"

	"tubewright/factors"
	"tubewright/factors/sum"
)

var (
	spaceFactor      = table("space-factor")
	diameter         = table("overall-diameter")
	diameterFlexible = table("overall-diameter-flexible-lsf")
	flatTwin         = table("flat-twin-and-earth")
	steelBore        = table("steel-conduit-bore")
	plasticConduit   = table("pvc-conduit")
	trunkingWall     = table("trunking-wall")
)

// SpaceFactor returns the share of the internal area that cables may fill
// where no factor is tabulated: trunking 0.45, conduit 0.35.
//
// Source: IET On-Site Guide, Appendix E (read). For conduit the sources differ
// (0.35, 0.40, 0.45); the tightest is carried and is advice.
func SpaceFactor(k factors.Kind) (factors.Value, error) {
	return spaceFactor().At(factors.Word(kindWord(k)))
}

// Diameter returns the overall diameter of a cable, in mm: the largest the
// standard lets a single have, one maker's nominal for a flexible one, the
// width of flat twin and earth (it counts as a circle on its longer axis), and
// for a Round cable the diameter given, which has no citation.
//
// Source: BS EN 50525-2-31 (memory, confirmed by Table E5) and -3-41 (derived
// from E5); BS 6004, typical (read). Sizes are exact.
func Diameter(c factors.Cable) (factors.Value, error) {
	switch {
	case c.Form == factors.Round:
		return factors.Value{Num: float64(c.OD), Unit: "mm"}, nil
	case c.Form == factors.TwinEarth:
		return flatTwin().At(factors.Num(c.CSA), factors.Word("width"))
	case c.Strands == factors.Flexible && c.Insulation == factors.Thermosetting:
		return diameterFlexible().At(factors.Num(c.CSA))
	case c.Strands == factors.Flexible:
		return factors.Value{}, madeUp(diameter(), c.Strands)
	}
	return diameter().At(factors.Word(c.Insulation.String()), factors.Word(c.Strands.String()), factors.Num(c.CSA))
}

// Bore returns the internal diameter of a conduit, in mm. Sizes are exact; no
// figure was found for 63 mm and for plastic 38 mm.
//
// Source: steel, BS 4568-1 outside diameter less twice the wall (derived);
// plastic, the least of BS 4607 (memory).
func Bore(e factors.Enclosure) (factors.Value, error) {
	t := steelBore()
	if e.Material == factors.Plastic {
		t = plasticConduit()
	}
	if e.Kind != factors.Conduit {
		return factors.Value{}, &factors.Miss{Table: t, Axis: t.Axes[0], Asked: factors.Word(e.String()), Known: t.Keys(), Kind: factors.ErrNoRow}
	}
	if e.Material == factors.Plastic {
		return t.At(factors.Num(e.Size), factors.Word("inside"))
	}
	return t.At(factors.Num(e.Size))
}

// InsideArea returns the internal area of an enclosure in mm² and writes the
// sum into w.
//
// Source: conduit, the circle of its Bore; steel trunking, outside less walls
// that reproduce Table E6 (derived); plastic trunking, its factor over the
// space factor that it was made with (read).
func InsideArea(w *sum.Work, e factors.Enclosure) (sum.Term, error) {
	const meaning = "internal area"
	switch {
	case e.Kind == factors.Conduit:
		bore, err := Bore(e)
		if err != nil {
			return sum.Term{}, err
		}
		pi := sum.Term{Symbol: "π", Value: math.Pi}
		return w.Let("A", meaning, "mm²", sum.Over(sum.Times(sum.T(pi), sum.Square(sum.T(bore.Term("bore")))), sum.N(4))), nil
	case e.Material == factors.Plastic:
		factor, err := TrunkingFactor(e)
		if err != nil {
			return sum.Term{}, err
		}
		share, err := SpaceFactor(e.Kind)
		if err != nil {
			return sum.Term{}, err
		}
		return w.Let("A", meaning, "mm²", sum.Over(sum.T(factor.Term("trunking factor")), sum.T(share.Term("space factor")))), nil
	}
	return insideSteelTrunking(w, e, meaning)
}

func insideSteelTrunking(w *sum.Work, e factors.Enclosure, meaning string) (sum.Term, error) {
	var terms [3]sum.Expr
	for i, d := range [...]struct{ dimension, symbol string }{{"width", "W"}, {"depth", "D"}, {"wall", "t"}} {
		v, err := trunkingWall().At(factors.Word(e.SizeName()), factors.Word(d.dimension))
		if err != nil {
			return sum.Term{}, err
		}
		terms[i] = sum.T(v.Term(d.symbol))
	}
	W, D, t := terms[0], terms[1], terms[2]
	walls := sum.Times(sum.N(2), t)
	return w.Let("A", meaning, "mm²", sum.Times(sum.Sub(W, walls), sum.Sub(D, walls))), nil
}
