package route_test

import (
	"math"
	"strconv"
	"testing"

	"tubewright/route"
)

// FuzzSetOut: no path that is read panics; the tube has a finite length, its
// pieces add up, it can be billed, and a run without marks or pieces has a reason.
func FuzzSetOut(f *testing.F) {
	for _, s := range []string{"up 0.9, right 2.4", "set 40 mm, right 1", "right 1, set 40 mm at 30 up, double set 20, right 9", "right 1, angle 45 up 1.2, left 2", "up 0.001", "up 500, bubble set 40 mm, up 2", "right 0.2, set 60 mm up and 9 mm out, set 50, up 1"} {
		f.Add(s, 80.0)
	}
	f.Fuzz(func(t *testing.T, path string, radius float64) {
		in := []string{"steel conduit 20", "steel trunking 50x50", "plastic trunking 50x50, bends: formed"}[len(path)%3]
		// Between two boxes that other runs hold, so that the tube is captive.
		text := "job: f\nplaces: {a: {is: box}, b: {is: box}, c: {is: socket}}\nruns:\n  A: {from: a, to: b, in: " + in + ", path: " + strconv.Quote(path) + "}\n" +
			"  C: {from: c, to: a, in: steel conduit 20, length: 1 m}\n  D: {from: c, to: b, in: steel conduit 20, length: 1 m}\n" +
			"tools: {formers: {20: " + strconv.FormatFloat(radius, 'f', 3, 64) + " mm}}\n"
		j, err := route.Parse("f.yaml", []byte(text))
		if err != nil || float64(j.Runs[0].Length) > 1e4 {
			return
		}
		s := j.SetOut(nil, 0)
		if math.IsNaN(s.LengthMM) || math.IsInf(s.LengthMM, 0) || s.LengthMM < 0 {
			t.Fatalf("%q: %v mm", path, s.LengthMM)
		}
		if float64(j.Runs[0].Length) < 100 {
			j.Bill()
		}
		long := 0.0
		for i := range s.Pieces {
			long += s.Pieces[i].Long()
			s.Marks(i)
			s.SaddlesOn(i)
		}
		if len(s.Lacks) == 0 && (len(s.Pieces) == 0 || math.Abs(long-s.LengthMM) > 1e-6*max(1, long)) {
			t.Fatalf("%q: pieces of %v mm, tube of %v mm", path, long, s.LengthMM)
		}
	})
}
