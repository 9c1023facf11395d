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

// TestSaddlesClearOfCouplers: no saddle stands on a coupler, plain or for
// expansion, the spaces stay within the table's, and the end ones near their
// bends and boxes (225 mm, 25 mm steel lying 1.75 m in the tables).
func TestSaddlesClearOfCouplers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.IntRange(3800, 14000).Draw(t, "mm")
		in := rapid.SampledFrom([]string{"steel conduit 20", "plastic conduit 25"}).Draw(t, "in")
		far := rapid.IntRange(300, 900).Draw(t, "far")
		s := oneRun(t, in, fmt.Sprintf("right %d mm, up %d mm", mm, far), "tools: {formers: {20: 80 mm, 25: 100 mm}}\n").SetOut(nil, 0)
		if len(s.Lacks) > 0 {
			t.Fatalf("%+v", s.Lacks)
		}
		last := math.NaN()
		for _, d := range s.Saddles {
			for _, p := range s.Pieces {
				if p.Ends[1] == "coupler" && math.Abs(d.At-p.To) < s.ThreadMM+s.ODMM-1e-6 {
					t.Fatalf("saddle at %v on the coupler at %v", d.At, p.To)
				}
			}
			for _, j := range s.Joints {
				shoulder := j.At - j.OpeningMM/2 // 19 mm of the tube before it, 75 mm of socket after
				if d.At > shoulder-19-s.ODMM+1e-6 && d.At < shoulder+75+s.ODMM-1e-6 {
					t.Fatalf("saddle at %v on the expansion coupler at %v", d.At, j.At)
				}
			}
			if d.Part == 0 && math.IsNaN(last) && d.At > 225+1e-9 || d.Part == 0 && d.At-last > 1750+1e-6 {
				t.Fatalf("saddle at %v, the one before at %v", d.At, last)
			}
			last = d.At
		}
	})
}
