package sum_test

import (
	"testing"

	"tubewright/factors/sum"
)

// Halves go away from nought, also where binary fractions fall short of them:
// 1.005 is stored as 1.00499….
func TestCents(t *testing.T) {
	for in, want := range map[float64]float64{1.005: 1.01, 1.004: 1, -1.005: -1.01, 0: 0, 178.11: 178.11, 2.675: 2.68, 33.333333: 33.33} {
		if got := sum.Cents(sum.N(in)).Eval(); got != want {
			t.Errorf("%v: got %v, expected %v", in, got, want)
		}
	}
	var w sum.Work
	m := sum.Term{Symbol: "M", Value: 1979, Money: true}
	w.Let("S", "sundries", "", sum.Cents(sum.Times(sum.T(m), sum.N(0.09))))
	if got, want := w.Steps[0].Line(), "S = M × 0.09 = 1979.00 × 0.09 = 178.11"; got != want {
		t.Errorf("got %s, expected %s", got, want)
	}
}
