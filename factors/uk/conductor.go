package uk

import (
	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/units"
)

var (
	resistance     = table("conductor-resistance-20C")
	twinCPC        = table("flat-twin-and-earth-cpc")
	multiplier     = table("resistance-multiplier")
	kFactors       = table("k-factors")
	cpcSelection   = table("cpc-selection")
	steelArea      = table("steel-conduit-area")
	steelMetre     = table("steel-cpc-resistance")
	steelResistive = table("steel-resistivity")
)

// Resistance returns the largest resistance of a copper conductor at 20 °C, in
// mΩ/m. Solid and stranded conductors share one figure; flexible have more.
//
// Source: BS EN 60228 (read).
func Resistance(csa units.SquareMM, s factors.Strands) (factors.Value, error) {
	class := "class 2"
	if s == factors.Flexible {
		class = "class 5"
	}
	return resistance().At(factors.Word(class), factors.Num(csa))
}

// TwinEarthCPC returns the size of the protective conductor inside flat twin
// and earth, in mm².
//
// Source: BS 6004 (read; 1 mm² from memory).
func TwinEarthCPC(csa units.SquareMM) (factors.Value, error) { return twinCPC().At(factors.Num(csa)) }

// HotMultiplier returns what resistance at 20 °C is multiplied by for the
// conductors of a circuit at their highest temperature, the protective
// conductor bunched with the lines: 1.20 at 70 °C, 1.28 at 90 °C.
//
// Source: IET On-Site Guide, Table I3 (memory; 1 + 0.004 (t − 20)).
func HotMultiplier(i factors.Insulation) factors.Value {
	use := "bunched 70 °C"
	if i == factors.Thermosetting {
		use = "bunched 90 °C"
	}
	return must(multiplier().At(factors.Word("design"), factors.Word(use)))
}

// LineK returns k of a line conductor, in A√s/mm².
//
// Source: BS 7671, Table 43.1 (read).
func LineK(i factors.Insulation) factors.Value { return must(kFactors().At(kWord("live", i))) }

// BunchedK returns k of a protective conductor bunched with the lines.
//
// Source: BS 7671, Table 54.3 (read).
func BunchedK(i factors.Insulation) factors.Value {
	return must(kFactors().At(kWord("cpc bunched", i)))
}

// SteelK returns k of steel conduit or trunking round cables of that
// insulation.
//
// Source: BS 7671, Table 54.5 (read).
func SteelK(i factors.Insulation) factors.Value {
	return must(kFactors().At(kWord("steel conduit", i)))
}

func kWord(what string, i factors.Insulation) factors.Key {
	if i == factors.Thermosetting {
		return factors.Word(what + " 90 °C")
	}
	return factors.Word(what + " 70 °C")
}

// Adiabatic returns the least cross-section for a fault, S = √(I²t)/k, and
// writes the sum into w.
//
//	If  A        fault current
//	t   s        time to disconnection, 0.1 s to 5 s
//	k   A√s/mm²  of the conductor
//
// Below 0.1 s the energy that the device lets through decides instead.
//
// Source: BS 7671, 543.1.3 and 434.5.2.
func Adiabatic(w *sum.Work, If, t, k sum.Term) sum.Term {
	return w.Let("S", "least cross-section", "mm²", sum.Over(sum.Root(sum.Times(sum.Square(sum.T(If)), sum.T(t))), sum.T(k)))
}

// SelectedCPC returns the least protective conductor by selection for a line
// conductor of the same metal, in mm²: S up to 16 mm², 16 mm² up to 35 mm², S/2
// above.
//
// Source: BS 7671, Table 54.7 (read).
func SelectedCPC(w *sum.Work, S units.SquareMM) sum.Term {
	line := sum.T(sum.Term{Symbol: "S", Value: float64(S), Unit: "mm²"})
	row, of := "above 35 mm²", line
	switch {
	case S <= 16:
		row = "up to 16 mm²"
	case S <= 35:
		row, of = "16 to 35 mm²", sum.N(16)
	}
	share := must(cpcSelection().At(factors.Word(row))).Term("share")
	return w.Let("Sp", "protective conductor by selection", "mm²", sum.Times(sum.T(share), of))
}

// ConduitArea returns the steel of heavy gauge conduit, in mm².
//
// Source: π (OD − t) t at the nominal sizes of BS 4568 (derived).
func ConduitArea(e factors.Enclosure) (factors.Value, error) {
	return steelArea().At(factors.Num(e.Size))
}

// SteelResistance returns what a metre of steel conduit or trunking is taken
// to have at 20 °C, in mΩ: the larger of the published figure and of ρ/A from
// its dimensions. Trunking has the published figure alone, where there is one.
//
// Source: IEE Guidance Note 3 as a textbook has it (read); ρ of 0.138 Ω mm²/m
// (memory). Sound joints only; alternating current can double it.
func SteelResistance(w *sum.Work, e factors.Enclosure) (sum.Term, error) {
	size := factors.Num(e.Size)
	if e.Kind == factors.Trunking {
		size = factors.Word(e.SizeName())
	}
	published, err := steelMetre().At(factors.Word(kindWord(e.Kind)), size)
	if e.Kind == factors.Trunking {
		return published.Term("published"), err
	}
	A, none := ConduitArea(e)
	if none != nil {
		return sum.Term{}, none
	}
	rho := must(steelResistive().At(factors.Word("conduit")))
	computed := sum.Over(sum.Times(sum.N(1000), sum.T(rho.Term("ρ"))), sum.T(A.Term("A")))
	if err != nil {
		return w.Let("r", "a metre of the tube", "mΩ/m", computed), nil
	}
	return w.Let("r", "a metre of the tube: the larger of published and computed", "mΩ/m", sum.Max(sum.T(published.Term("published")), computed)), nil
}
