package route_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"tubewright/factors/sum"
	"tubewright/route"
)

// TestTrunkingFace: a conduit leaves a trunking by its side, half of the width
// to an edge and half of the depth to lid or back, and the coupler on the face
// stands off it: 2 × 13 mm less the 13 mm that it takes. By hand from a trunking
// of 100x50 on the wall; its lid faces out, and down where it leaves the wall.
func TestTrunkingFace(t *testing.T) {
	for _, tt := range []struct {
		trunking, conduit, from string
		off                     float64
	}{
		{"right 1", "up 1", "centre line of the trunking", 50 + 13},
		{"right 1", "out 1", "centre line of the trunking", 25 + 13},
		{"right 1", "right 1", "point where the path meets the trunking", 13},
		{"out 1", "down 1", "centre line of the trunking", 25 + 13},
		{"out 1", "left 1", "centre line of the trunking", 50 + 13},
		{"right 1, out 1", "right 1", "centre line of the trunking", 25 + 13}, // an internal corner: the lid faces back along the first leg
	} {
		text := fmt.Sprintf("job: e\nplaces: {b: {is: board}, e: {is: entry}, x: {is: box}}\nruns:\n  T: {from: b, to: e, in: steel trunking 100x50, path: %q}\n  A: {from: e, to: x, in: steel conduit 20, path: %q}\n", tt.trunking, tt.conduit)
		j, err := route.Parse("e.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		e := j.SetOut(&sum.Work{}, 1).Ends[0]
		if math.Abs(e.SetbackMM()-tt.off) > 1e-9 || e.From != tt.from || !strings.Contains(e.Sum, "f1 + 2 × t") {
			t.Errorf("%s, %s: %+v, want %v mm from the %s", tt.trunking, tt.conduit, e, tt.off, tt.from)
		}
	}
}

// TestTwoGangFace: a two-gang box is 135 mm wide and 75 mm high, so that a tube
// enters its side 67.5 mm from the centre and its top at 37.5 mm. By hand, between
// two twin sockets 600 mm apart: 600 - 2 × (67.5 + 13) = 439 mm.
//
// Source: BS 4662 steel boxes in a supplier's sheet (sizes read).
func TestTwoGangFace(t *testing.T) {
	for _, tt := range []struct {
		kind, path string
		gangs      int
		cut        float64
	}{
		{"socket", "right 600 mm", 2, 439},
		{"socket", "up 600 mm", 2, 499},
		{"socket", "right 600 mm", 1, 499},
		{"switch", "left 600 mm", 2, 499}, // two gangs on one plate
		{"switch", "left 600 mm", 4, 439},
	} {
		j, err := route.Parse("g.yaml", fmt.Appendf(nil, "job: g\nplaces: {a: {is: %[1]s, gangs: %[2]d}, b: {is: %[1]s, gangs: %[2]d}}\nruns:\n  A: {from: a, to: b, in: steel conduit 20, path: %[3]s}\n", tt.kind, tt.gangs, tt.path))
		if err != nil {
			t.Fatal(err)
		}
		s := j.SetOut(nil, 0)
		if got := s.PiecesMM(); math.Abs(got-tt.cut) > 1e-9 {
			t.Errorf("%s of %d, %s: cut to %v mm, want %v", tt.kind, tt.gangs, tt.path, got, tt.cut)
		}
	}
}

// TestStatedFaceMeansTheDefault: a face that the job states takes the place of
// the table's in the same sum, so that stating the table's figure changes
// nothing: 37.5 mm of a socket, 32 mm of a round box, 50 mm of an adaptable one.
func TestStatedFaceMeansTheDefault(t *testing.T) {
	for kind, faces := range map[string]string{"socket": "37.5 mm", "box": "32 mm", "switch": "37.5 mm", "board": "0 mm", "elbow": "60 mm", "coupler": "0 mm", "entry": "0 mm"} {
		for _, bushes := range []string{"male", "female"} {
			for _, in := range []string{"steel conduit 20", "plastic conduit 20"} {
				off := func(more string) route.TubeEnd {
					text := fmt.Sprintf("job: f\nplaces: {p: {is: %s}, x: {is: box}}\n%schoices: {bushes: %s}\nruns:\n  A: {from: p, to: x, in: %s, path: up 1}\n", kind, more, bushes, in)
					j, err := route.Parse("f.yaml", []byte(text))
					if err != nil {
						t.Fatal(err)
					}
					return j.SetOut(nil, 0).Ends[0]
				}
				plain, stated := off(""), off("tools: {faces: {"+kind+": "+faces+"}}\n")
				if plain.FaceMM != stated.FaceMM || plain.Entry != stated.Entry {
					t.Errorf("%s, %s, %s bushes: %+v stated, %+v by default", kind, in, bushes, stated, plain)
				}
			}
		}
	}
}
