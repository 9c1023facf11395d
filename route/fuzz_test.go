package route

import (
	"math"
	"testing"

	"tubewright/factors/source"
)

// FuzzPath: no path panics, complaints stand inside the text, and a path
// without complaint is walked to a length above 0.
func FuzzPath(f *testing.F) {
	for _, s := range []string{"up 0.9, right 2.4", "up 0,9", "set 40 mm, right 1", "right 1, set 40 mm at 30 up, double set 20", "right 1, angle 45 up 1.2, right 2", "right 1, set 40 mm up and 30 mm out at 30, right 1", "up 2, bubble set 40 mm, up 1", "up 2, double set 40 mm over 100 mm, up 1, bubble set 9 mm over 2 mm", "angle 45", "up, ,", "double", "up 1 ft", "in 2, out 3", "räight ½, up 1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		legs, errs := parsePath(text)
		for _, e := range errs {
			if e.offset < 0 || e.offset > len(text) || e.what == "" {
				t.Fatalf("%q: %+v", text, e)
			}
		}
		if len(errs) > 0 {
			return
		}
		corners, length, bends := walk(legs)
		if !(length > 0) || math.IsInf(float64(length), 0) || len(corners) < 2 || bends.Count < 0 || math.IsNaN(bends.Degrees) {
			t.Fatalf("%q: %v m, %v, %v", text, length, corners, bends)
		}
	})
}

// FuzzCables: no list of cables panics, and each cable that is read has a
// count and a size.
func FuzzCables(f *testing.F) {
	for _, s := range []string{"6 x 2.5, 4 x 1.5", "6x2,5", "1 x 2.5 twin and earth", "3 x 6.1 mm data", "2 × ⌀5.5", "4 x 6 solid", "x", "1 x dia 7", "2 x 2.5 solid thermosetting, ", "0 x 1", "4 x 2.5 mm² stranded"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p := &parser{Reader: &source.Reader{File: source.NewFile("f", []byte(text))}, job: newJob(nil), broken: map[string]bool{}}
		node := &source.Node{Kind: source.Scalar, Value: text, Line: 1, Column: 1}
		for _, l := range p.cableList(node) {
			if len(p.Problems) == 0 && (l.Count < 1 || l.Count > mostCables || l.Cable.Form == 0 || !(l.Cable.CSA > 0 || l.Cable.OD > 0)) {
				t.Fatalf("%q: %+v", text, l)
			}
		}
	})
}
