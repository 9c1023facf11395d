package route_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tubewright/route"
)

// The drawn runs of an enclosure are ordered by the cut list, others by the
// allowance; the bill says which.
func TestBillByCutList(t *testing.T) {
	for _, name := range []string{"boatstore", "workshop", "clubhouse"} {
		j := demoJob(t, "../testdata/jobs/"+name+".yaml")
		lists, err := j.CutLists()
		if err != nil {
			t.Fatal(err)
		}
		met := 0
		for _, it := range j.Bill() {
			for _, l := range lists {
				if it.Name != l.Enclosure.String()+" mm" && it.Name != l.Enclosure.String()+" with lid" {
					continue
				}
				met++
				if !it.Cut || it.Packs != float64(l.Plan.New) || !strings.Contains(it.Rule, "cut list") || math.Abs(it.Gross-it.Packs*it.Pack) > 1e-6 ||
					math.Abs(it.Lost-float64(l.Plan.Waste)/float64(l.Plan.Drawn)) > 1e-12 || it.Kept != float64(l.Plan.Kept)/1000 {
					t.Errorf("%s: %v lengths, %v m, %v lost (%v), the cut list takes %d", it.Name, it.Packs, it.Gross, it.Lost, it.Rule, l.Plan.New)
				}
			}
		}
		if met != len(lists) || met == 0 {
			t.Errorf("%s: %d of %d cut lists are on the bill", name, met, len(lists))
		}
	}
}

// What is not drawn, or cannot be made as drawn, is ordered by the allowance
// beside the cut list of the rest.
func TestBillByAllowance(t *testing.T) {
	const drawn, quick = `  A: {in: steel conduit 20, path: right 4}
`, `  Q: {in: steel conduit 20, length: 7.4 m}
`
	for name, c := range map[string]struct {
		runs  string
		packs float64
		cut   bool
		rule  string
	}{
		"drawn":           {drawn, 2, true, "after the offcuts at hand"},
		"quick":           {quick, 3, false, "plus the allowance for waste"}, // 7.4 × 1.1 in 3.75 m
		"both":            {drawn + quick, 5, true, "without that allowance: Q"},
		"offcuts left":    {drawn + quick, 5, true, "the cut list leaves offcuts of 3.498 m, the longest 3.498 m: what goes in them need not be bought"}, // 4 m in 3.75 and 0.25, a saw cut of 2 mm
		"cannot be made":  {drawn + "  X: {in: steel conduit 20, path: \"right 5 mm, up 5 mm\"}\n", 3, true, "without that allowance: X"},
		"cut of trunking": {"  T: {in: steel trunking 50x50, path: \"right 3, up 1\"}\n", 2, true, "cut list"}, // 2950 and 950 mm: the fitting takes 50 of each
		"folded trunking": {"  T: {in: steel trunking 50x50, path: \"right 3, up 1\", bends: formed}\n", 2, true, "cut list"},
	} {
		j, err := route.Parse("q.yaml", []byte("job: q\nruns:\n"+c.runs))
		if err != nil {
			t.Fatal(err)
		}
		if it := j.Bill()[0]; it.Cut != c.cut || it.Packs != c.packs || !strings.Contains(it.Rule, c.rule) {
			t.Errorf("%s: %v lengths, cut %t (%v)", name, it.Packs, it.Cut, it.Rule)
		}
	}
}

// TestTrunkingPieces: a fitting parts the length and takes its reach of each
// side, as the job states it or its wider side; a corner that is folded does
// neither. By hand.
func TestTrunkingPieces(t *testing.T) {
	for job, want := range map[string][]string{
		"runs: {T: {in: steel trunking 100x50, path: \"right 2, up 1\"}}":                                                       {"1900 open end flat bend", "900 flat bend open end"},
		"tools: {made bends: {steel trunking 100x50: 80 mm}}\nruns: {T: {in: steel trunking 100x50, path: \"right 2, out 1\"}}": {"1920 open end internal bend", "920 internal bend open end"},
		"runs: {T: {in: steel trunking 50x50, path: \"right 2, up 1\", bends: formed}}":                                         {"2950 open end coupler", "100 coupler open end"},
		"runs: {T: {in: plastic trunking 50x50, path: \"right 2, angle 45 up 1\"}}":                                             {"1950 open end flat bend 45°", "950 flat bend 45° open end"},
		"runs: {T: {in: plastic trunking 50x50, path: \"right 1, angle 30 up 1\"}}":                                             {"2013 open end open end"},
		"places: {a: {is: entry}, b: {is: entry}}\nruns: {T: {from: a, to: b, in: steel trunking 50x50, path: right 4}}":        {"3000 stop end coupler", "1000 coupler stop end"},
		"places: {a: {is: board}, b: {is: entry}, c: {is: entry}, d: {is: entry}}\nruns:\n  T: {from: a, to: b, in: steel trunking 50x50, path: right 2}\n  U: {from: b, to: c, in: steel trunking 50x50, path: right 1}\n  V: {from: b, to: d, in: steel trunking 50x50, path: up 1}": {"1950 flanged connector flat tee"},
	} {
		j, err := route.Parse("t.yaml", []byte("job: t\n"+job))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, p := range j.SetOut(nil, 0).Pieces {
			got = append(got, fmt.Sprintf("%.0f %s %s", p.Long(), p.Ends[0], p.Ends[1]))
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s:\n%s", job, diff)
		}
	}
}
