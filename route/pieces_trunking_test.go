package route_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tubewright/factors/sum"
	"tubewright/route"
)

// laidTrunking lays the pieces, corners and fittings of a trunking through
// space and returns where it ends, in metres, and the lines of the corners that
// fall within pieces. A folded corner is folded here as it is on the bench: about
// the outside face at its line.
func laidTrunking(t fataler, s route.SetOut) (at route.Point, corners []float64) {
	dir := s.Parts[0].Dir
	at = at.Add(dir, s.Ends[0].SetbackMM()/1000)
	for _, p := range s.Parts {
		if p.Dir.Sub(dir).Len() > 1e-9 {
			t.Fatalf("part %+v does not go on in the direction %v", p, dir)
		}
		a := float64(p.Angle) * math.Pi / 180
		turned := route.Point{}.Add(dir, math.Cos(a)).Add(p.Toward, math.Sin(a))
		switch p.Kind {
		case route.StraightPart:
			at = at.Add(dir, p.Long()/1000)
			continue
		case route.MadePart:
			at = at.Add(dir, p.ReachMM/1000).Add(turned, p.ReachMM/1000)
		case route.BendPart:
			half := p.AcrossMM / 2000
			inside := route.Point{}.Add(p.Toward, math.Cos(a)).Add(dir, -math.Sin(a)) // where Toward comes to
			line := at.Add(dir, p.Long()/2000).Add(p.Toward, -half)
			at = line.Add(inside, half).Add(turned, p.Long()/2000)
			corners = append(corners, (p.From+p.To)/2)
		}
		dir = turned
	}
	return at.Add(dir, s.Ends[1].SetbackMM()/1000), corners
}

// TestFoldedCorners: the line of a folded corner lies on the outside face, half
// of the side across beyond the corner of the centre lines in either leg. By
// hand for 100x50 (the lid on the wide face, out from the wall): flat corners go
// across 100 mm, those towards the lid or from it across 50 mm.
func TestFoldedCorners(t *testing.T) {
	for _, tt := range []struct {
		in, path string
		at, side []float64
		long     float64
		faces    []string
	}{
		{"steel trunking 50x50", "right 1, up 1, out 0.5", []float64{1025, 2075}, []float64{50, 50}, 2600, []string{"folded on the outer side", "folded on the back"}},
		{"steel trunking 100x50", "right 1, up 1, out 0.5", []float64{1050, 2125}, []float64{100, 50}, 2650, []string{"folded on the outer side", "folded on the back"}},
		{"steel trunking 100x50", "right 1, in 1", []float64{1025}, []float64{50}, 2050, []string{"folded on the edges at the lid"}},
		{"steel trunking 100x50", "right 1, up 1, right 1", []float64{1050, 2150}, []float64{100, 100}, 3200, []string{"outer side", "outer side"}},
	} {
		j, err := route.Parse("t.yaml", []byte(fmt.Sprintf("job: t\nstock: {steel trunking: 6 m}\nruns:\n  A: {in: %s, bends: formed, path: %q}\n", tt.in, tt.path)))
		if err != nil {
			t.Fatal(err)
		}
		w := &sum.Work{}
		s := j.SetOut(w, 0)
		notches := s.Notches(0)
		if math.Abs(s.LengthMM-tt.long) > 1e-9 || math.Abs(s.CornerMM-s.GainMM-s.LengthMM) > 1e-9 || len(notches) != len(tt.at) {
			t.Fatalf("%s in %s: %+v", tt.path, tt.in, s)
		}
		for i, n := range notches {
			if math.Abs(n.At-tt.at[i]) > 1e-9 || math.Abs(n.EachSideMM-tt.side[i]) > 1e-9 || !strings.Contains(n.Faces, tt.faces[i]) {
				t.Errorf("%s in %s: %+v, want the line at %v, %v each side, %s", tt.path, tt.in, n, tt.at[i], tt.side[i], tt.faces[i])
			}
		}
		if last := w.Steps[len(w.Steps)-1]; !slices.ContainsFunc(w.Steps, func(s sum.Step) bool { return s.Symbol == "c" && math.Abs(s.Value-tt.long) < 1e-9 }) {
			t.Errorf("%s: the steps do not add up to %v: %v", tt.path, tt.long, last)
		}
	}
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
