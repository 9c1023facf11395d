package uk_test

import (
	"slices"
	"testing"

	"tubewright/factors/uk"
	"tubewright/factors/units"
)

// Every rating that BS 7671, Table 41.3 has an impedance for (derived, agrees
// with memory) is one that breakers come in.
func TestRatedCurrents(t *testing.T) {
	all := uk.RatedCurrents()
	if !slices.IsSorted(all) || all[len(all)-1] != 125 {
		t.Errorf("%v", all)
	}
	for _, In := range []units.Amps{3, 6, 10, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125} {
		if !slices.Contains(all, In) {
			t.Errorf("no %v A", In)
		}
	}
	for _, In := range []units.Amps{7, 30, 64} {
		if slices.Contains(all, In) {
			t.Errorf("%v A", In)
		}
	}
}
