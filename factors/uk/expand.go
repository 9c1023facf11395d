package uk

import (
	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/units"
)

var (
	expansion        = table("pvc-expansion")
	expansionCoupler = table("pvc-expansion-coupler")
)

// ExpansionSpan returns how long a straight surface run of plastic conduit may
// be between expansion couplers, in metres: the makers' spacing, or less where
// the temperature range would move more than a coupler takes up.
//
//	swing  K  coldest to hottest; 0 where it is not known: the makers' spacing
//
// Source: makers' notes (read); of two coefficients in print the larger.
func ExpansionSpan(w *sum.Work, swing units.Celsius) sum.Term {
	spacing := must(expansionCoupler().At(factors.Word("spacing"))).Term("s")
	w.Given("expansion couplers at most this far apart", spacing)
	if swing <= 0 {
		return spacing
	}
	free := must(expansionCoupler().At(factors.Word("free movement"))).Term("f")
	alpha := must(expansion().At(factors.Word("larger"))).Term("α")
	alpha.Unit = "mm/(m K)"
	dT := sum.Term{Symbol: "ΔT", Value: float64(swing), Unit: "K"}
	w.Given("movement that a coupler takes up", free)
	w.Given("growth a metre and kelvin", alpha)
	w.Given("temperature range", dT)
	return w.Let("L", "straight run that one coupler takes up", "m",
		sum.Min(sum.T(spacing), sum.Over(sum.Times(sum.N(1000), sum.T(free)), sum.Times(sum.T(alpha), sum.T(dT)))))
}
