package us_test

import (
	"errors"
	"testing"

	"tubewright/factors"
	"tubewright/factors/units"
	"tubewright/factors/us"
)

// Source: Mike Holt business newsletter, labour-unit adjustments (letter
// 2290), the whole list: 12 ft to 20 ft, 3 % to 25 %, and not on a line.
func TestHighWork(t *testing.T) {
	published := []float64{3, 5, 8, 10, 13, 16, 19, 22, 25}
	steps := map[float64]bool{}
	for i, want := range published {
		ft := float64(12 + i)
		v, err := us.HighWork(units.Metres(ft * 0.3048))
		if err != nil || v.Num != want {
			t.Errorf("%v ft: %v, %v; published %v %%", ft, v.Num, err, want)
		}
		if i > 0 {
			steps[want-published[i-1]] = true
		}
	}
	if len(steps) < 2 {
		t.Error("the article's list is not linear")
	}
	if v, err := us.HighWork(4.5); err != nil || v.Num != 10 {
		t.Errorf("4.5 m, 14.8 ft: %v, %v; the row of 15 ft has 10 %%", v.Num, err)
	}
	for _, m := range []units.Metres{0, 3.65, 6.1} {
		if v, err := us.HighWork(m); !errors.Is(err, factors.ErrPastTable) {
			t.Errorf("%v m: %v, %v; the list is 12 ft to 20 ft", m, v.Num, err)
		}
	}
}
