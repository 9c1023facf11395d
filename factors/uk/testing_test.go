package uk_test

import (
	"math"
	"testing"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

// TestTestMultiplier: the printed figures of On-Site Guide Table I2 (memory)
// and, between and beyond them, the formula they come from, 1 + 0.004 (t − 20),
// which the same guide states.
func TestTestMultiplier(t *testing.T) {
	for celsius, want := range map[units.Celsius]float64{5: 0.94, 10: 0.96, 15: 0.98, 20: 1, 25: 1.02} {
		if got := uk.TestMultiplier(nil, celsius).Value; got != want {
			t.Errorf("%v °C: %v, printed %v", celsius, got, want)
		}
	}
	for celsius := units.Celsius(-10); celsius <= 45; celsius += 0.5 {
		w := &sum.Work{}
		got, want := uk.TestMultiplier(w, celsius).Value, 1+0.004*(float64(celsius)-20)
		if math.Abs(got-want) > 1e-12 {
			t.Errorf("%v °C: %v, formula %v", celsius, got, want)
		}
		if len(w.Steps) != 1 || len(w.Steps[0].Cites) == 0 {
			t.Errorf("%v °C: no table cited: %v", celsius, w.Steps)
		}
	}
}

// TestTestLimits holds the limits of the tests to the printed figures: 1 MΩ at
// 500 V and at 1000 V above 500 V (18th-edition study page, Part 6), 300 ms and
// 130 to 500 ms (memory), 40 ms at five times (Basic Electrical Installation
// Work, p. 359), 0.05 Ω (textbooks).
func TestTestLimits(t *testing.T) {
	least, test := uk.Insulation(400)
	over, overTest := uk.Insulation(690)
	if least.Num != 1 || test.Num != 500 || over.Num != 1 || overTest.Num != 1000 || uk.InsulationDoubt().Num != 2 {
		t.Errorf("insulation: %v at %v, %v at %v, doubt %v", least.Num, test.Num, over.Num, overTest.Num, uk.InsulationDoubt().Num)
	}
	from, to := uk.TripTime(true)
	none, most := uk.TripTime(false)
	if from.Num != 130 || to.Num != 500 || none.Cite != nil || most.Num != 300 || uk.FiveTimes().Num != 40 {
		t.Errorf("times: %v to %v, %v", from.Num, to.Num, most.Num)
	}
	if ends, points := uk.RingBalance(); ends.Num != 0.05 || points.Num != 0.05 {
		t.Errorf("ring: %v, %v", ends.Num, points.Num)
	}
}
