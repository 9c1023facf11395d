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

// walkTube follows straights and arcs piece by piece and returns where the far
// end of the last piece lies, in mm from the from place. Only the first
// direction and the side of each bend are taken from the set-out; the direction
// after a bend follows from its angle.
func walkTube(t fataler, s route.SetOut) vec {
	at, dir := vec{}, vecOf(s.Parts[0].Dir)
	at = at.plus(dir, s.Ends[0].SetbackMM())
	for _, p := range s.Parts {
		for i := range dir {
			if math.Abs(dir[i]-vecOf(p.Dir)[i]) > 1e-6 {
				t.Fatalf("part %+v does not go on in the direction %v", p, dir)
			}
		}
		a := float64(p.Angle) * math.Pi / 180
		side := vecOf(p.Toward)
		switch p.Kind {
		case route.StraightPart:
			at = at.plus(dir, p.To-p.From)
			continue
		case route.BendPart:
			if math.Abs((p.To-p.From)-s.RadiusMM*a) > 1e-6 {
				t.Fatalf("bend of %v° has %v mm of tube", p.Angle, p.To-p.From)
			}
			at = at.plus(dir, s.RadiusMM*math.Sin(a)).plus(side, s.RadiusMM*(1-math.Cos(a)))
			dir = vec{}.plus(dir, math.Cos(a)).plus(side, math.Sin(a))
		case route.MadePart:
			at = at.plus(dir, p.ReachMM)
			dir = vec{}.plus(dir, math.Cos(a)).plus(side, math.Sin(a))
			at = at.plus(dir, p.ReachMM)
		}
	}
	return at.plus(dir, s.Ends[1].SetbackMM())
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
		mm := rapid.IntRange(1500, 4000).Draw(t, "mm")
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
			steps = append(steps, fmt.Sprintf("bubble set %d mm %s", depth, aside))
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

// TestTubeEndsWhereThePathEnds follows the bent tube through space for random
// paths: it ends where the path ends within 0.1 mm, the pieces add up to the
// tube, none is longer than a stock length, and no coupler stands on a bend.
func TestTubeEndsWhereThePathEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		path, want := randomPath(t)
		in := rapid.SampledFrom([]string{"steel conduit 20", "steel conduit 25", "plastic conduit 20", "steel conduit 20, bends: made", "steel trunking 50x50"}).Draw(t, "in")
		j := oneRun(t, in, path, "tools: {formers: {20: 80 mm}}\n")
		s := j.SetOut(nil, 0)
		if len(s.Lacks) > 0 {
			t.Fatalf("%s: %+v", path, s.Lacks)
		}
		got := walkTube(t, s)
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

func checkPieces(t fataler, j *route.Job, s route.SetOut) {
	stock := float64(j.StockLength(j.Runs[0].Enc)) * 1000
	at := 0.0
	for _, p := range s.Pieces {
		gap := p.From - at
		if gap < -1e-9 || gap > 50+1e-9 || gap > 1e-9 && p.Ends[0] != "expansion coupler" {
			t.Fatalf("piece %+v starts %v mm after the one before", p, gap)
		}
		if p.Long() > stock+1e-9 || p.Long() <= 0 {
			t.Fatalf("piece of %v mm from a stock of %v mm", p.Long(), stock)
		}
		at = p.To
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
