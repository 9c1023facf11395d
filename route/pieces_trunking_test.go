package route_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tubewright/route"
)

// laidTrunking walks the pieces, corners and fittings of a trunking through
// space and returns where it ends, in metres, and the corners that fall within
// pieces.
func laidTrunking(t *rapid.T, s route.SetOut) (at route.Point, corners []float64) {
	dir := s.Parts[0].Dir
	at = at.Add(dir, s.Ends[0].SetbackMM()/1000)
	for _, p := range s.Parts {
		if p.Dir.Sub(dir).Len() > 1e-9 {
			t.Fatalf("part %+v does not go on in the direction %v", p, dir)
		}
		at = at.Add(dir, p.Long()/1000).Add(dir, p.ReachMM/1000)
		if p.Kind == route.StraightPart {
			continue
		}
		a := float64(p.Angle) * math.Pi / 180
		dir = route.Point{}.Add(dir, math.Cos(a)).Add(p.Toward, math.Sin(a))
		at = at.Add(dir, p.ReachMM/1000)
		if p.Kind == route.BendPart {
			corners = append(corners, p.From)
		}
	}
	return at.Add(dir, s.Ends[1].SetbackMM()/1000), corners
}

// TestTrunkingEndsWhereThePathEnds: laid piece by piece with its fittings and
// folded corners, trunking ends where the path ends within 0.1 mm; no piece is
// longer than a stock length, each fitting parts two pieces, and no coupler
// stands on a cut-out.
func TestTrunkingEndsWhereThePathEnds(t *testing.T) {
	turns := map[string][]string{"right": {"up", "down", "in", "out"}, "left": {"up", "down", "in", "out"}, "up": {"left", "right", "out"}, "down": {"left", "right", "in"},
		"out": {"up", "left"}, "in": {"down", "right"}}
	unit := map[string]route.Point{"right": {X: 1}, "left": {X: -1}, "up": {Z: 1}, "down": {Z: -1}, "out": {Y: 1}, "in": {Y: -1}}
	rapid.Check(t, func(t *rapid.T) {
		word, want := "right", route.Point{}
		var steps []string
		for range rapid.IntRange(1, 6).Draw(t, "legs") {
			mm := rapid.IntRange(1200, 7000).Draw(t, "mm")
			steps = append(steps, fmt.Sprintf("%s %d mm", word, mm))
			want = want.Add(unit[word], float64(mm)/1000)
			word = rapid.SampledFrom(turns[word]).Draw(t, "turn")
		}
		if a := rapid.SampledFrom([]int{0, 30, 45, 60}).Draw(t, "angle"); a > 0 {
			last := strings.Fields(steps[len(steps)-1])[0]
			steps = append(steps, fmt.Sprintf("angle %d %s 900 mm", a, word))
			r := float64(a) * math.Pi / 180
			want = want.Add(unit[last], 0.9*math.Cos(r)).Add(unit[word], 0.9*math.Sin(r))
		}
		in := rapid.SampledFrom([]string{"steel trunking 50x50", "steel trunking 100x50", "plastic trunking 50x50, bends: formed", "plastic trunking 50x50, bends: made"}).Draw(t, "in")
		j := oneRun(t, in, strings.Join(steps, ", "), "")
		s := j.SetOut(nil, 0)
		got, corners := laidTrunking(t, s)
		if len(s.Lacks) > 0 || got.Sub(want).Len() > 1e-4 {
			t.Fatalf("%v: ends at %v, the path at %v (%v)", steps, got, want, s.Lacks)
		}
		fittings := 0
		for i, p := range s.Pieces {
			if p.Long() > 3000+1e-9 || p.Long() <= 0 {
				t.Fatalf("piece %+v", p)
			}
			if i > 0 && p.Ends[0] != "coupler" {
				fittings++
			}
			for _, c := range corners {
				if p.Ends[1] == "coupler" && math.Abs(c-p.To) < 50-1e-6 {
					t.Fatalf("coupler at %v on the cut-out at %v", p.To, c)
				}
			}
		}
		for _, p := range s.Parts {
			if p.Kind == route.MadePart {
				fittings--
			}
		}
		if fittings != 0 || strings.HasSuffix(in, "formed") && len(corners) != len(s.Parts)/2 {
			t.Fatalf("%v in %s: %+v", steps, in, s.Pieces)
		}
	})
}

// FuzzTrunking: no path of trunking panics when it is set out, cut and billed.
// Fittings that meet leave nothing to cut.
func FuzzTrunking(f *testing.F) {
	for _, s := range []string{"up 0.9, right 2.4", "set 40 mm, right 1", "right 1, angle 45 up 1.2, left 2", "up 0.001", "right 0.05, up 0.05", "right 1, bubble set 40 mm, right 9"} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, path string, formed bool) {
		in := map[bool]string{true: "steel trunking 100x50, bends: formed", false: "plastic trunking 50x50"}[formed]
		j, err := route.Parse("f.yaml", []byte("job: f\nruns:\n  A: {in: "+in+", path: "+strconv.Quote(path)+"}\n"))
		if err != nil || float64(j.Runs[0].Length) > 100 {
			return
		}
		if len(j.Bill()) == 0 {
			t.Fatalf("%q: nothing to buy", path)
		}
		lists, err := j.CutLists()
		if s := j.SetOut(nil, 0); err != nil || len(s.Lacks) == 0 && s.LengthMM >= 1 && len(lists) != 1 {
			t.Fatalf("%q: %d cut lists, %v, %v", path, len(lists), s.Lacks, err)
		}
	})
}
