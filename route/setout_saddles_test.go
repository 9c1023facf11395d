package route_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// No saddle stands on an expansion coupler, and none is farther from the next
// than the table has it.
func TestSaddlesClearOfExpansionCouplers(t *testing.T) {
	met := 0
	rapid.Check(t, func(t *rapid.T) {
		cm := rapid.IntRange(700, 4000).Draw(t, "cm")
		s := oneRun(t, "plastic conduit 20", fmt.Sprintf("right %d cm", cm), "").SetOut(nil, 0)
		for i, a := range s.Saddles {
			for _, j := range s.Joints {
				met++
				if math.Abs(a.At-j.At) < j.OpeningMM/2 {
					t.Errorf("saddle at %v in the coupler at %v", a.At, j.At)
				}
			}
			if i > 0 && a.At-s.Saddles[i-1].At > 1500+1e-6 {
				t.Errorf("%v mm between saddles", a.At-s.Saddles[i-1].At)
			}
		}
	})
	if met == 0 {
		t.Error("no expansion coupler met")
	}
}
