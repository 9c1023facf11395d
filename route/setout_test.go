package route_test

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tubewright/factors/sum"
	"tubewright/route"
)

// TestMarksOfABackToBackBend is worked by hand: steel 20, R 80 mm, right 1 m
// then up 0.8 m from a board to a box. The tube starts a thread of 13 mm off the
// board's face and ends 32 mm short of the box's centre. Corner to corner
// 1000 − 13 + 800 − 32 = 1755; gain 34.34; start of bend 987 − 80 = 907.
func TestMarksOfABackToBackBend(t *testing.T) {
	w := &sum.Work{}
	s := oneRun(t, "steel conduit 20", "right 1, up 0.8", "tools: {formers: {20: 80 mm}}\n").SetOut(w, 0)
	near(t, "corners", s.CornerMM, 1755, 1e-9)
	near(t, "gain", s.GainMM, 34.336, 0.001)
	near(t, "tube", s.LengthMM, 1720.664, 0.001)
	if len(s.Bends) != 1 {
		t.Fatalf("%+v", s.Bends)
	}
	near(t, "start", s.Bends[0].Start, 907, 1e-9)
	near(t, "centre", s.Bends[0].Centre, 907+125.664/2, 0.001)
	near(t, "end", s.Bends[0].End, 907+125.664, 0.001)
	text := ""
	for _, step := range w.Steps {
		text += step.Line() + "\n"
	}
	for _, want := range []string{"g(90°) = 2 × T(90°) − A(90°) = 2 × 80 mm − 125.7 mm = 34.34 mm", "c = L − Σg", "rule of thumb beside it: one and a half diameters a right angle, 30 mm; the exact gain here is 34.34 mm"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// TestTwist: a set turns the tube over between its bends; a bend out of the
// plane of the one before turns it a quarter, clockwise as seen along the tube
// when positive: the planes' axes are right × up = in and up × out = left, a
// quarter anticlockwise about up.
func TestTwist(t *testing.T) {
	for path, want := range map[string][]float64{
		"right 2, set 60 mm up, right 2":  {0, 180},
		"right 1, up 1, left 1":           {0, 0},
		"right 1, up 1, right 1":          {0, 180},
		"right 1, up 1, out 1":            {0, -90},
		"right 1, up 1, in 1":             {0, 90},
		"right 2, bubble set 60 mm, up 1": {0, 180, 180, 90},
	} {
		s := oneRun(t, "steel conduit 20", path, "").SetOut(nil, 0)
		var got []float64
		for _, b := range s.Bends {
			got = append(got, float64(b.Twist))
		}
		if !slices.EqualFunc(got, want, func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }) {
			t.Errorf("%s: twists %v, want %v", path, got, want)
		}
	}
}

// TestBubbleClearsItsObstacle: the middle bend of three rounds its corner off;
// the tube itself, not the corner, passes at the full depth.
func TestBubbleClearsItsObstacle(t *testing.T) {
	for _, angle := range []string{"", " at 30"} {
		s := oneRun(t, "steel conduit 20", "right 2, bubble set 90 mm up"+angle+", right 2", "tools: {formers: {20: 80 mm}}\n").SetOut(nil, 0)
		if len(s.Lacks) > 0 || len(s.Bends) != 3 {
			t.Fatalf("%+v", s)
		}
		near(t, "middle bend", float64(s.Bends[1].Angle), 2*float64(s.Bends[0].Angle), 1e-6)
		// Height gained over the first bend, the slope and half the middle one.
		a := float64(s.Bends[0].Angle) * math.Pi / 180
		height := 2*80*(1-math.Cos(a)) + (s.Bends[1].Start-s.Bends[0].End)*math.Sin(a)
		near(t, "crown", height, 90, 1e-6)
	}
}

// TestMadeBends: a run of made bends is straight pieces between fittings.
func TestMadeBends(t *testing.T) {
	s := oneRun(t, "steel conduit 20, bends: made", "right 1, up 0.8, right 1", "tools: {made bends: {20: 62 mm}}\n").SetOut(nil, 0)
	if len(s.Bends) != 0 || len(s.Pieces) != 3 {
		t.Fatalf("%+v", s)
	}
	near(t, "first", s.Pieces[0].Long(), 1000-13-62, 1e-9)
	near(t, "second", s.Pieces[1].Long(), 800-2*62, 1e-9)
	near(t, "third", s.Pieces[2].Long(), 1000-62-32, 1e-9)
}

// TestRolledSet: 30 mm one way and 40 mm the other is a set of 50 mm; the plane
// leans by atan2(roll, rise) from the rise.
func TestRolledSet(t *testing.T) {
	s := oneRun(t, "steel conduit 20", "right 2, set 30 mm up and 40 mm out, right 2", "").SetOut(nil, 0)
	if len(s.Sets) != 1 {
		t.Fatalf("%+v", s.Sets)
	}
	near(t, "true depth", s.Sets[0].DepthMM, 50, 1e-6)
	near(t, "roll", float64(s.Sets[0].Rolled), math.Atan2(40, 30)*180/math.Pi, 1e-6)
}

// TestExpansionCouplers: 13 m of plastic on the surface has a coupler every 6 m
// at most; the opening follows the day. 50 mm of movement over 50 K is 1 mm a
// kelvin: 20 °C under the highest leaves 20 mm.
func TestExpansionCouplers(t *testing.T) {
	s := oneRun(t, "plastic conduit 20", "right 13 m", "expansion: {lowest: -10 C, highest: 40 C, fitted at: 20 C}\n").SetOut(nil, 0)
	if len(s.Joints) != 2 {
		t.Fatalf("%+v", s.Joints)
	}
	near(t, "opening", s.Joints[0].OpeningMM, 20, 1e-9)
	// The couplers stand where whole lengths of 3 m end, half an opening further.
	for i, want := range []float64{3000, 3000, 3000, 3000} {
		near(t, "whole lengths", s.Pieces[i].Long(), want, 1e-9)
	}
	before := 0.0
	for _, e := range append(s.Joints, route.ExpansionJoint{At: s.LengthMM}) {
		if e.At-before > 6000+20 {
			t.Errorf("%v mm without an expansion coupler", e.At-before)
		}
		before = e.At
	}
	if s := oneRun(t, "plastic conduit 20", "right 5.9 m", "").SetOut(nil, 0); len(s.Joints) != 0 {
		t.Errorf("5.9 m: %+v", s.Joints)
	}
	if s := oneRun(t, "steel conduit 20", "right 13 m", "").SetOut(nil, 0); len(s.Joints) != 0 {
		t.Errorf("steel: %+v", s.Joints)
	}
}

// TestExpansionMark: the tube that slides is marked for the day by a maker's
// figures (MK technical page 671, read): in the middle of its 25 mm each way it
// stands 50 mm in the sliding socket, so 75 mm at the highest temperature, 25 mm
// at the lowest, and 75 − 20 mm where 20 mm are open. The tube before it is home
// in the fixed end, 19 mm. A job may state its own socket.
func TestExpansionMark(t *testing.T) {
	for _, c := range []struct {
		head string
		mark float64
	}{
		{"", 50}, {"expansion: {lowest: -10 C, highest: 40 C}\n", 50}, {"expansion: {lowest: -10 C, highest: 40 C, fitted at: 20 C}\n", 55},
		{"expansion: {lowest: -10 C, highest: 40 C, fitted at: 40 C}\n", 75}, {"expansion: {lowest: -10 C, highest: 40 C, fitted at: -10 C}\n", 25},
		{"expansion: {lowest: -10 C, highest: 40 C, fitted at: 20 C}\ntools: {sliding sockets: {20: 90 mm}}\n", 70},
	} {
		w := &sum.Work{}
		s := oneRun(t, "plastic conduit 20", "right 13 m", c.head).SetOut(w, 0)
		for _, e := range s.Joints {
			near(t, c.head+"mark", e.MarkMM, c.mark, 1e-9)
			near(t, c.head+"fixed end", e.FixedMM, 19, 1e-9)
		}
		if !strings.Contains(s.Opening.Sum, "i = d − o") || strings.Contains(c.head, "fitted") && !strings.Contains(s.Opening.Sum, "o = V × (tmax − tnow) / (tmax − tmin)") {
			t.Errorf("%s: working %q", c.head, s.Opening.Sum)
		}
	}
	s := oneRun(t, "plastic conduit 20", "right 13 m", "tools: {sliding sockets: {20: 40 mm}}\n").SetOut(nil, 0)
	if len(s.Advice) != 1 || !strings.Contains(s.Advice[0], "the tube leaves it") {
		t.Errorf("a socket shorter than the movement: %q", s.Advice)
	}
}

// TestCutLists: the pieces of the demonstration jobs are all cut, once, and
// the lengths used are proved to be the fewest; an offcut at hand is used
// before a new length.
func TestCutLists(t *testing.T) {
	files, err := filepath.Glob("../testdata/jobs/*.yaml")
	if err != nil || len(files) < 4 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		j, err := route.Parse(file, text)
		if err != nil {
			t.Fatal(err)
		}
		lists, err := j.CutLists()
		if err != nil {
			t.Fatal(err)
		}
		pieces := 0
		for i := range j.Runs {
			pieces += len(j.SetOut(nil, i).Pieces)
		}
		for k := range lists {
			l := &lists[k]
			seen := map[int]bool{}
			for _, b := range l.Plan.Bars {
				used := 0
				for _, c := range b.Cuts {
					if seen[c.Piece] {
						t.Errorf("%s: piece %d is cut twice", file, c.Piece)
					}
					seen[c.Piece] = true
					used += l.Pieces[c.Piece].LongMM
				}
				if used > b.Length {
					t.Errorf("%s: %d mm from a bar of %d mm", file, used, b.Length)
				}
			}
			pieces -= len(seen)
			if !l.Plan.Proved || l.Plan.New != l.Plan.Bound {
				t.Errorf("%s %v: %d lengths, bound %d", file, l.Enclosure, l.Plan.New, l.Plan.Bound)
			}
			if w := l.WastePercent(nil).Value; w < 0 || w > 100 {
				t.Errorf("%s: waste of %v %%", file, w)
			}
		}
		if pieces != 0 {
			t.Errorf("%s: %d pieces are in no list", file, pieces)
		}
	}
	j := oneRun(t, "steel conduit 20", "right 1 m", "stock: {offcuts: {steel conduit 20: [1.2 m, 0.8 m]}}\n")
	lists, err := j.CutLists()
	if err != nil || len(lists) != 1 || lists[0].Plan.New != 0 || len(lists[0].Plan.Bars) != 1 || lists[0].Plan.Bars[0].Length != 1200 {
		t.Fatalf("%+v, %v", lists, err)
	}
}
