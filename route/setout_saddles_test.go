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

// TestSaddlesInEqualSpaces: whoever fixes a long tube wants its saddles in equal
// spaces, clear of the couplers all the same.
func TestSaddlesInEqualSpaces(t *testing.T) {
	uneven := 0
	const most = 14000
	for mm := 3800; mm <= most; mm += 50 {
		for _, in := range []string{"steel conduit 20", "plastic conduit 25", "steel conduit 32"} {
			s := oneRun(t, in, fmt.Sprintf("right %d mm", mm), "").SetOut(nil, 0)
			for i := 2; i < len(s.Saddles); i++ {
				if a, b := s.Saddles[i].At-s.Saddles[i-1].At, s.Saddles[i-1].At-s.Saddles[i-2].At; math.Abs(a-b) > 1e-6 {
					uneven++
					t.Errorf("%s, %d mm: spaces of %v and %v mm", in, mm, b, a)
					break
				}
			}
		}
	}
}

// TestShortStraightsHeld: a stub between a box and a bend has a saddle, in its
// middle, however close the two are, as long as a saddle can stand there: 120 mm
// do, 90 mm do not. The slope of a set that leaves the wall has nothing behind
// it, whatever its length; one along the wall is held like any straight.
func TestShortStraightsHeld(t *testing.T) {
	for _, c := range []struct {
		path string
		at   []float64 // mm from the start of the straight of that index
		part int
	}{
		{"right 193 mm, up 2", []float64{60}, 0}, // R 60, 13 mm of thread in the board: a straight of 120 mm
		{"right 163 mm, up 2", nil, 0},           // 90 mm
		{"right 2, up 280 mm, right 2", []float64{80}, 2},
		{"right 1, set 300 mm out at 45, right 1", nil, 2},
		{"right 3, set 1500 mm out at 45, right 3", nil, 2},
		{"right 1, set 100 mm up at 45, right 1", nil, 2},
		{"right 1, set 300 mm up at 45, right 1", nil, 2},
		{"right 1, set 400 mm up at 45, right 1", []float64{172, 344}, 2}, // 565.7 less 2 × 24.85: at its thirds
		{"right 1, double set 80 mm over 300 mm, right 1", nil, 4},
		{"right 1, double set 80 mm over 1 m, right 1", []float64{225, 775}, 4},
	} {
		s := oneRun(t, "steel conduit 20", c.path, "").SetOut(nil, 0)
		var at []float64
		for _, d := range s.Saddles {
			if d.Part == c.part {
				at = append(at, d.At-s.Parts[c.part].From)
			}
		}
		if len(at) != len(c.at) {
			t.Errorf("%s: saddles at %v on %+v, want %v", c.path, at, s.Parts[c.part], c.at)
			continue
		}
		for i := range at {
			near(t, c.path, at[i], c.at[i], 0.5)
		}
	}
}

// TestSaddlesFarApart: a set of 1.5 m off the wall at 45° has a slope of over 2 m
// with nothing behind it: the set-out says to hold it; a usual one does not. Both
// say that the saddles after it stand off the wall.
func TestSaddlesFarApart(t *testing.T) {
	for path, want := range map[string]int{"right 3, set 1500 mm out at 45, right 3": 2, "right 3, set 40 mm out at 30, right 3": 1} {
		if s := oneRun(t, "steel conduit 20", path, "").SetOut(nil, 0); len(s.Advice) != want {
			t.Errorf("%s: %q", path, s.Advice)
		}
	}
}

// TestEndSaddlesNear: every straight with saddles has one within 225 mm of both
// its ends, also where a coupler stands in the middle of a short one.
func TestEndSaddlesNear(t *testing.T) {
	paths := []string{"down 5028 mm, right 780 mm, in 611 mm, double set 97 mm down at 45, in 1553 mm, down 821 mm, out 552 mm"}
	for mm := 3300; mm < 3800; mm += 4 {
		paths = append(paths, fmt.Sprintf("right %d mm, up 530 mm, right 700 mm", mm))
	}
	for _, path := range paths {
		s := oneRun(t, "steel conduit 20", path, "").SetOut(nil, 0)
		for i, p := range s.Parts {
			var on []float64
			for _, d := range s.Saddles {
				if d.Part == i {
					on = append(on, d.At)
				}
			}
			if len(on) > 0 && (on[0]-p.From > 225+1e-6 || p.To-on[len(on)-1] > 225+1e-6) {
				t.Errorf("%s: saddles at %v on the straight from %v to %v", path, on, p.From, p.To)
			}
		}
	}
}
