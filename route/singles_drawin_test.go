package route_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tubewright/route"

	"pgregory.net/rapid"
)

// TestDrawInPlan: every core stands once in each pull that it passes and in no
// other; pulls that hold nothing are left out; every core is led away from one
// place, in an order that can be carried out.
func TestDrawInPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := drawPlan(t, anyPlan).parse(t)
		drawn := map[int][]int{}
		plan := j.DrawIn()
		for _, d := range plan {
			if len(d.Singles) == 0 {
				t.Fatalf("pull %s holds nothing", j.Pulls[d.Pull].Name(j))
			}
			drawn[d.Pull] = append(drawn[d.Pull], d.Singles...)
		}
		want := map[int][]int{}
		for i := range j.Singles {
			for k := range j.Pulls {
				if slices.ContainsFunc(j.Singles[i].Way, func(p route.Pass) bool { return slices.Contains(j.Pulls[k].Runs, p.Run) }) {
					want[k] = append(want[k], i)
				}
			}
		}
		for k := range j.Pulls {
			if slices.Sort(drawn[k]); !slices.Equal(want[k], drawn[k]) {
				t.Fatalf("pull %s: cores %v, not %v", j.Pulls[k].Name(j), drawn[k], want[k])
			}
		}
		newDrawing(j).carryOut(t, plan)
	})
}

// A piece of tube: so far straight on, or turned by so much.
type tube struct {
	mm, degrees int
	text        string // in a path, from the board outwards
	back        string // and towards it
}

// TestFeedEnd: each pull is fed from the end with the lighter pull by the
// capstan equation worked out another way, every straight carried through all
// bends after it; from the board's side unless that saves a tenth. Its cores end
// at both its ends, so nothing ties it to the next.
//
// Source: T2 = T1 e^μθ (textbook; friction 0.5 is an assumption, named in the
// plan).
func TestFeedEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "runs")
		places := []string{"  p0: {is: board}"}
		var runs []string
		pulls := [][]tube{{}}
		starts := []int{0}  // the place where each pull starts
		var points []string // where its cores end
		for i := 1; i <= n; i++ {
			pieces := drawTube(t)
			pulls[len(pulls)-1] = append(pulls[len(pulls)-1], pieces...)
			kind := rapid.SampledFrom([]string{"socket", "coupler", "elbow"}).Draw(t, "kind")
			if i == n {
				kind = "socket"
			}
			switch kind {
			case "elbow":
				pulls[len(pulls)-1] = append(pulls[len(pulls)-1], tube{degrees: 90})
			case "socket":
				pulls, starts = append(pulls, nil), append(starts, i)
				points = append(points, fmt.Sprint("p", i))
			}
			places = append(places, fmt.Sprintf("  p%d: {is: %s}", i, kind))
			runs = append(runs, drawTubeText(t, i, pieces))
		}
		text := "job: x\nplaces:\n" + strings.Join(places, "\n") + "\nruns:\n" + strings.Join(runs, "\n") + "\ncircuits: {c: {device: B16, cable: 2.5, points: [" + strings.Join(points, ", ") + "]}}\n"
		j, err := route.Parse("x.yaml", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		plan := j.DrawIn()
		if len(plan) != len(pulls)-1 {
			t.Fatalf("%d pulls, not %d\n%s", len(plan), len(pulls)-1, text)
		}
		for k, d := range plan {
			near, far := starts[k], starts[k+1]
			there, back := capstan(pulls[k], false), capstan(pulls[k], true)
			if back < there*0.9 {
				near, far = far, near
			}
			if d.Feed != near || d.Out != far {
				t.Fatalf("pull %d fed at p%d, not p%d: %v from the board, %v towards it\n%s", k, d.Feed, near, there, back, text)
			}
		}
	})
}

var opposite = map[string]string{"up": "down", "down": "up", "left": "right", "right": "left"}

// drawTube draws a run of straights, bends and sets, in one plane.
func drawTube(t *rapid.T) []tube {
	var out []tube
	level := rapid.Bool().Draw(t, "level")
	for i := range rapid.IntRange(1, 3).Draw(t, "legs") {
		if i > 0 {
			out = append(out, tube{degrees: 90})
		}
		dirs := []string{"up", "down"}
		if level {
			dirs = []string{"left", "right"}
		}
		level = !level
		dir, mm := rapid.SampledFrom(dirs).Draw(t, "direction"), 100*rapid.IntRange(1, 40).Draw(t, "decimetres")
		out = append(out, tube{mm: mm, text: fmt.Sprintf("%s %d mm", dir, mm), back: fmt.Sprintf("%s %d mm", opposite[dir], mm)})
		if angle := rapid.SampledFrom([]int{0, 0, 30, 60}).Draw(t, "set"); angle > 0 {
			double, turn := "", 2*angle
			if rapid.Bool().Draw(t, "double") {
				double, turn = "double ", 4*angle
			}
			out = append(out, tube{degrees: turn, text: fmt.Sprintf("%sset 20 mm at %d", double, angle), back: fmt.Sprintf("%sset 20 mm in at %d", double, angle)})
		}
	}
	return out
}

// drawTubeText writes a run from the board outwards or, turned, towards it.
func drawTubeText(t *rapid.T, i int, pieces []tube) string {
	from, to := i-1, i
	turned := rapid.Bool().Draw(t, "turned")
	var steps []string
	for k := range pieces {
		p := pieces[k]
		if turned {
			p = pieces[len(pieces)-1-k]
			p.text = p.back
		}
		if p.text != "" {
			steps = append(steps, p.text)
		}
	}
	if turned {
		from, to = to, from
	}
	return fmt.Sprintf("  R%d: {from: p%d, to: p%d, in: plastic conduit 25, path: \"%s\"}", i, from, to, strings.Join(steps, ", "))
}

// capstan is the pull at the end of the pieces.
func capstan(pieces []tube, backwards bool) float64 {
	if backwards {
		pieces = slices.Clone(pieces)
		slices.Reverse(pieces)
	}
	sum := 0.0
	for i, p := range pieces {
		after := 0
		for _, q := range pieces[i+1:] {
			after += q.degrees
		}
		sum += float64(p.mm) * math.Exp(0.5*float64(after)*math.Pi/180)
	}
	return sum
}
