package route_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tubewright/route"
)

// TestOffWall: saddles after a set out from the wall hold the tube as far off it
// as the set is deep; those before it, over a double set that comes back, on a
// run round a corner and of a tube in the wall's own plane do not.
func TestOffWall(t *testing.T) {
	for _, tt := range []struct {
		path string
		sunk bool
		want []route.OffWall
	}{
		{"right 1, set 120 mm out at 45, right 1", false, []route.OffWall{{First: 3, Last: 4, MM: 120}}},
		{"right 1, set 150 mm up and 120 mm out at 45, right 1", false, []route.OffWall{{First: 3, Last: 4, MM: 120}}},
		{"right 1, set 120 mm out at 45, right 1, up 1", false, []route.OffWall{{First: 3, Last: 6, MM: 120}}},
		{"right 1, set 120 mm out at 45, right 1, set 60 mm in at 45, right 1", false, []route.OffWall{{First: 3, Last: 4, MM: 120}, {First: 5, Last: 6, MM: 60}}},
		{"right 1, set 10 mm out, right 1", false, nil},
		{"right 1, set 120 mm up at 45, right 1", false, nil},
		{"right 1, double set 60 mm out at 45 over 100 mm, right 1", false, nil},
		{"right 1, out 1, right 1", false, nil},
		{"right 1, set 120 mm out at 45, right 1", true, nil},
	} {
		j := oneRun(t, "steel conduit 20", tt.path, former80)
		if tt.sunk {
			j.Runs[0].Fixed.V = route.OnSurface + 1
		}
		s := j.SetOut(nil, 0)
		if diff := cmp.Diff(tt.want, s.OffWall); diff != "" || len(s.Lacks) > 0 {
			t.Errorf("%s: %+v %s", tt.path, s.Lacks, diff)
		}
		if said := strings.Contains(strings.Join(s.Advice, " "), "mm off the wall: packing or brackets"); said != (tt.want != nil) {
			t.Errorf("%s: %v", tt.path, s.Advice)
		}
	}
}
