package route_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"tubewright/route"

	"pgregory.net/rapid"
)

// oneRun is a job of one run between a board and a box.
func oneRun(t fataler, in, path, more string) *route.Job {
	t.Helper()
	text := fmt.Sprintf("job: set-out\nplaces:\n  a: {is: board}\n  b: {is: box}\nruns:\n  A: {from: a, to: b, in: %s, path: %q}\n%s", in, path, more)
	j, err := route.Parse("setout.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%s\n%v", text, err)
	}
	return j
}

type fataler interface {
	Helper()
	Fatalf(string, ...any)
}

// vec is a direction of this test's own, so that the walk owes nothing to the
// code that it judges.
type vec [3]float64

func vecOf(p route.Point) vec { return vec{p.X, p.Y, p.Z} }

func (v vec) plus(w vec, s float64) vec { return vec{v[0] + w[0]*s, v[1] + w[1]*s, v[2] + w[2]*s} }

// minus is the way from w to v.
func (v vec) minus(w vec) vec { return v.plus(w, -1) }

func (v vec) cross(w vec) vec {
	return vec{v[1]*w[2] - v[2]*w[1], v[2]*w[0] - v[0]*w[2], v[0]*w[1] - v[1]*w[0]}
}

func (v vec) dot(w vec) float64 { return v[0]*w[0] + v[1]*w[1] + v[2]*w[2] }

// turned turns v, square to the axis, about it: anticlockwise for one who looks
// along the axis. (Right, out of the wall and up are a left-handed frame: one who
// faces the wall, looking along −out, sees −out × up to his left.)
func (v vec) turned(axis vec, deg float64) vec {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	return vec{}.plus(v, cos).plus(axis.cross(v), sin)
}

// walkPieces makes the pieces one by one, as the page tells it, and joins them:
// it measures each mark from the first end of its piece, turns the tube as told
// under a former that always bends to the same side, and returns where the far
// end lies, in mm from the from place. Only the first direction and the side of
// the first bend of a piece come from the set-out's geometry.
func walkPieces(t fataler, s route.SetOut) vec {
	dir := vecOf(s.Parts[0].Dir)
	at := vec{}.plus(dir, s.Ends[0].SetbackMM())
	for i := range s.Pieces {
		p := &s.Pieces[i]
		pos := 0.0
		var inside vec // the line on the tube that the bend before has inside
		for k, m := range s.Marks(i) {
			a := float64(m.Angle) * math.Pi / 180
			if math.Abs(m.End-m.Start-s.RadiusMM*a) > 1e-6 || math.Abs(m.Centre-(m.Start+m.End)/2) > 1e-6 || math.Abs(m.Far-(p.Long()-m.End)) > 1e-6 {
				t.Fatalf("marks %+v on a piece of %v mm, radius %v mm", m, p.Long(), s.RadiusMM)
			}
			at = at.plus(dir, m.Start-pos)
			side := partAt(t, s, route.BendPart, p.From+m.Start).Toward
			inside = inside.turned(dir, float64(m.Turn)) // a tube turned to the right brings up the line on its left
			if k == 0 {
				inside = vecOf(side)
			}
			at = at.plus(dir, s.RadiusMM*math.Sin(a)).plus(inside, s.RadiusMM*(1-math.Cos(a)))
			dir, inside = vec{}.plus(dir, math.Cos(a)).plus(inside, math.Sin(a)), vec{}.plus(inside, math.Cos(a)).plus(dir, -math.Sin(a))
			pos = m.End
		}
		at = at.plus(dir, p.Long()-pos)
		if i+1 == len(s.Pieces) {
			break
		}
		if p.Ends[1] != "normal bend" {
			at = at.plus(dir, s.Pieces[i+1].From-p.To)
			continue
		}
		made := partAt(t, s, route.MadePart, p.To)
		at = at.plus(dir, made.ReachMM)
		dir = vecOf(made.Toward)
		at = at.plus(dir, made.ReachMM)
	}
	return at.plus(dir, s.Ends[1].SetbackMM())
}

func partAt(t fataler, s route.SetOut, kind route.PartKind, at float64) route.TubePart {
	for _, p := range s.Parts {
		if p.Kind == kind && math.Abs(p.From-at) < 1e-6 {
			return p
		}
	}
	t.Fatalf("no such part at %v mm", at)
	return route.TubePart{}
}

// back is the direction that undoes another.
var turnsBack = map[string]string{"up": "down", "down": "up", "left": "right", "right": "left", "in": "out", "out": "in"}

// randomPath draws a path in three dimensions and returns where it ends, in
// mm, counted here.
func randomPath(t *rapid.T) (string, vec) {
	units := map[string]vec{"right": {1, 0, 0}, "left": {-1, 0, 0}, "out": {0, 1, 0}, "in": {0, -1, 0}, "up": {0, 0, 1}, "down": {0, 0, -1}}
	words := []string{"up", "down", "left", "right", "in", "out"}
	var steps []string
	at, last := vec{}, ""
	for range rapid.IntRange(1, 7).Draw(t, "legs") {
		word := rapid.SampledFrom(words).Filter(func(w string) bool { return w != turnsBack[last] }).Draw(t, "direction")
		mm := rapid.IntRange(2200, 4000).Draw(t, "mm")
		steps = append(steps, fmt.Sprintf("%s %d mm", word, mm))
		at, last = at.plus(units[word], float64(mm)), word
		square := func(w string) bool { return w != word && w != turnsBack[word] }
		aside := rapid.SampledFrom(words).Filter(square).Draw(t, "aside")
		depth := rapid.IntRange(60, 150).Draw(t, "depth")
		angle := rapid.SampledFrom([]string{"", " at 45", " at 30", " at 22.5", " at 37"}).Draw(t, "angle")
		switch rapid.SampledFrom([]string{"none", "none", "set", "rolled", "double", "bubble", "bubble over", "angle"}).Draw(t, "kind") {
		case "set":
			steps = append(steps, fmt.Sprintf("set %d mm %s%s", depth, aside, angle))
			at = at.plus(units[aside], float64(depth))
		case "rolled":
			second := rapid.SampledFrom(words).Filter(func(w string) bool { return square(w) && w != aside && w != turnsBack[aside] }).Draw(t, "second")
			roll := rapid.IntRange(40, 120).Draw(t, "roll")
			steps = append(steps, fmt.Sprintf("set %d mm %s and %d mm %s%s", depth, aside, roll, second, angle))
			at = at.plus(units[aside], float64(depth)).plus(units[second], float64(roll))
		case "double":
			steps = append(steps, fmt.Sprintf("double set %d mm %s%s", depth, aside, angle))
		case "bubble":
			steps = append(steps, fmt.Sprintf("bubble set %d mm %s%s", depth, aside, rapid.SampledFrom([]string{"", " at 15", " at 27"}).Draw(t, "outer")))
		case "bubble over":
			steps = append(steps, fmt.Sprintf("bubble set %d mm %s over 200 mm%s", depth, aside, angle))
		case "angle":
			a := rapid.IntRange(10, 90).Draw(t, "turn")
			steps = append(steps, fmt.Sprintf("angle %d %s %d mm", a, aside, mm))
			r := float64(a) * math.Pi / 180
			at = at.plus(units[word], float64(mm)*math.Cos(r)).plus(units[aside], float64(mm)*math.Sin(r))
			return strings.Join(steps, ", "), at
		}
	}
	return strings.Join(steps, ", "), at
}

// heldJob is a job of one run between two boxes that other runs hold too, so
// that the tube is captive.
func heldJob(t fataler, in, path, more string) *route.Job {
	t.Helper()
	text := fmt.Sprintf("job: held\nplaces: {a: {is: box}, b: {is: box}, c: {is: socket}, d: {is: socket}}\nruns:\n  A: {from: a, to: b, in: %s, path: %q}\n"+
		"  C: {from: c, to: a, in: steel conduit 20, length: 1 m}\n  D: {from: b, to: d, in: steel conduit 20, length: 1 m}\n%s", in, path, more)
	j, err := route.Parse("held.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%s\n%v", text, err)
	}
	return j
}

// TestTubeEndsWhereThePathEnds makes the tube piece by piece for thousands of
// random paths in three dimensions, with sets, rolled sets, double and bubble
// sets, made bends, couplers, running and expansion couplers: it ends where the
// path ends within 0.1 mm, the pieces add up to the tube, none is longer than a
// stock length, and no coupler stands on a bend.
func TestTubeEndsWhereThePathEnds(t *testing.T) {
	for range 30 { // of a hundred each
		rapid.Check(t, func(t *rapid.T) {
			path, want := randomPath(t)
			in := rapid.SampledFrom([]string{"steel conduit 20", "steel conduit 25", "plastic conduit 20", "steel conduit 20, bends: made", "plastic conduit 20, bends: made"}).Draw(t, "in")
			job := rapid.SampledFrom([]func(fataler, string, string, string) *route.Job{oneRun, heldJob}).Draw(t, "job")
			j := job(t, in, path, "tools: {formers: {20: 80 mm}}\n")
			s := j.SetOut(nil, 0)
			if len(s.Lacks) > 0 {
				t.Fatalf("%s: %+v", path, s.Lacks)
			}
			got := walkPieces(t, s)
			for i := range got {
				if math.Abs(got[i]-want[i]) > 0.1 {
					t.Fatalf("%s in %s: the tube ends at %.3f, the path at %.3f", path, in, got, want)
				}
			}
			if math.Abs(s.CornerMM-s.GainMM-s.LengthMM) > 1e-6 {
				t.Fatalf("%s: %v − %v is not %v", path, s.CornerMM, s.GainMM, s.LengthMM)
			}
			checkPieces(t, j, s)
		})
	}
}

// TestWalkIsAProof: a tube made wrong by what the walk is to notice ends
// elsewhere by more than the 0.1 mm that the walk allows.
func TestWalkIsAProof(t *testing.T) {
	const path = "right 2, set 60 mm up and 40 mm out, right 2, up 3, out 2, bubble set 90 mm up, out 2"
	wrong := map[string]func(s *route.SetOut){
		"a mark 0.2 mm off": func(s *route.SetOut) {
			b := &s.Bends[2]
			b.Start, b.Centre, b.End = b.Start+0.2, b.Centre+0.2, b.End+0.2
			for i := range s.Parts {
				if p := &s.Parts[i]; p.Kind == route.BendPart && math.Abs(p.From-b.Start+0.2) < 1e-9 {
					p.From += 0.2
				}
			}
		},
		"turned the other way":    func(s *route.SetOut) { s.Bends[3].Twist = -s.Bends[3].Twist },
		"not turned over":         func(s *route.SetOut) { s.Bends[1].Twist = 0 },
		"a bend of another lean":  func(s *route.SetOut) { s.Bends[3].Twist += 0.1 },
		"cut 0.2 mm too long":     func(s *route.SetOut) { s.Pieces[len(s.Pieces)-1].To += 0.2 },
		"an end set back too far": func(s *route.SetOut) { s.Ends[1].FaceMM += 0.2 },
	}
	for name, spoil := range wrong {
		s := oneRun(t, "steel conduit 20", path, former80).SetOut(nil, 0)
		right := walkPieces(t, s)
		spoil(&s)
		d := walkPieces(t, s).minus(right)
		if math.Sqrt(d.dot(d)) <= 0.1 {
			t.Errorf("%s: the walk does not notice", name)
		}
	}
}

func checkPieces(t fataler, j *route.Job, s route.SetOut) {
	stock := float64(j.StockLength(j.Runs[0].Enc)) * 1000
	at := 0.0
	for _, p := range s.Pieces {
		gap := p.From - at
		if gap < -1e-9 || gap > 50+1e-9 || gap > 1e-9 && p.Ends[0] != "expansion coupler" {
			t.Fatalf("piece %+v starts %v mm after the one before", p, gap)
		}
		if opening := 25.0; p.Ends[0] == "expansion coupler" && math.Abs(gap-opening) > 1e-6 { // the middle of 50 mm
			t.Fatalf("piece %+v starts %v mm after the one before, the coupler is set to %v mm", p, gap, opening)
		}
		if p.Long() > stock+1e-9 || p.Long() <= 0 {
			t.Fatalf("piece of %v mm from a stock of %v mm", p.Long(), stock)
		}
		at = p.To
		for _, q := range s.Parts {
			if folded := s.RadiusMM == 0 && q.Kind == route.BendPart; folded && p.Ends[1] == "coupler" && math.Abs(q.From-p.To) < 50-1e-6 {
				t.Fatalf("coupler at %v on the cut-out at %v", p.To, q.From)
			}
		}
		for _, b := range s.Bends {
			if p.Ends[1] == "coupler" && b.Start < p.To+50-1e-6 && b.End > p.To-50+1e-6 {
				t.Fatalf("coupler at %v on the bend from %v to %v", p.To, b.Start, b.End)
			}
		}
	}
	if math.Abs(at-s.LengthMM) > 1e-9 {
		t.Fatalf("the pieces end at %v, the tube at %v", at, s.LengthMM)
	}
}

// TestTurnHand: which way the tube is turned, thought out at the bender and not
// from coordinates. The operator looks along the tube from the marked end; the
// former bends what is ahead upwards.
//
// Right along the wall, then up: the former's up is the wall's up, its right the
// way out of the wall (one who faces right has the wall on his left). Fed on
// without turning, the finished leg stands straight up behind the next bend and
// out of the wall is still on the right, at three o'clock. To be bent upwards it
// must come to twelve: the tube is turned to the left, anticlockwise.
func TestTurnHand(t *testing.T) {
	for path, want := range map[string]float64{
		"right 1, up 1, out 1":    -90,
		"right 1, up 1, in 1":     90,
		"left 1, up 1, out 1":     90,
		"up 1, right 1, out 1":    90, // out is on the left of one who looks up with his head to the right
		"right 1, up 1, right 1":  180,
		"right 1, up 1, left 0.5": 0,
	} {
		s := oneRun(t, "steel conduit 20", path, former80).SetOut(nil, 0)
		if got := float64(s.Marks(0)[1].Turn); got != want {
			t.Errorf("%s: turned by %v°, want %v°", path, got, want)
		}
	}
}
