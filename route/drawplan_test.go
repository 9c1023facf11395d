package route_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"slices"
	"strings"
	"testing"

	"tubewright/route"

	"pgregory.net/rapid"
)

// A drawing is a job while it is drawn in: of each core, the tubes that it
// passes in order, and how many of them it lies in, from the first so far to
// the last.
type drawing struct {
	job   *route.Job
	cores []drawnCore
}

type drawnCore struct {
	tubes    []drawnTube
	from, to int // the tubes that it lies in
}

// A drawnTube is one pull on the way of a core; before and after it lie so many
// metres of core.
type drawnTube struct {
	pull          *route.Pull
	enter, leave  int // places
	before, after float64
}

func newDrawing(j *route.Job) *drawing {
	w := &drawing{job: j, cores: make([]drawnCore, len(j.Singles))}
	for i := range j.Singles {
		s := &j.Singles[i]
		length := 0.0
		for _, p := range s.Way {
			length += float64(j.Runs[p.Run].Length)
		}
		tails := float64(s.Length) - length
		at, gone := s.From.Place, tails/2
		if j.Board.Place == s.From.Place && s.To.Place != at {
			gone = tails - 0.15
		} else if j.Board.Place == s.To.Place && s.To.Place != at {
			gone = 0.15
		}
		c := &w.cores[i]
		for _, p := range s.Way {
			r := &j.Runs[p.Run]
			next := r.From
			if p.Forward {
				next = r.To
			}
			if pull := j.PullOf(p.Run); pull != nil {
				if n := len(c.tubes); n == 0 || c.tubes[n-1].pull != pull {
					c.tubes = append(c.tubes, drawnTube{pull: pull, enter: at, before: gone})
				}
				last := &c.tubes[len(c.tubes)-1]
				last.leave, last.after = next, float64(s.Length)-gone-float64(r.Length)
			}
			gone += float64(r.Length)
			at = next
		}
	}
	return w
}

// carryOut draws the pulls one by one. It fails where a core is pulled towards
// from both ends, or before its end lies where it is fed; where the core left
// lying is not what is missing; and where cores go over others unannounced.
func (w *drawing) carryOut(t rapid.TB, plan []route.Draw) {
	filled := map[int]bool{}
	for k, d := range plan {
		if filled[d.Pull] != d.Over {
			t.Fatalf("draw %d: over %v", k+1, d.Over)
		}
		filled[d.Pull] = true
		for _, i := range d.Singles {
			w.draw(t, k, &plan[k], i)
		}
	}
	for i, c := range w.cores {
		if c.to-c.from != len(c.tubes) {
			t.Fatalf("core %d lies in %d of %d tubes", i, c.to-c.from, len(c.tubes))
		}
	}
}

func (w *drawing) draw(t rapid.TB, no int, d *route.Draw, single int) {
	c := &w.cores[single]
	k := slices.IndexFunc(c.tubes, func(x drawnTube) bool { return x.pull == &w.job.Pulls[d.Pull] })
	x := c.tubes[k]
	onward := d.Feed == x.enter
	if !onward && d.Feed != x.leave {
		t.Fatalf("draw %d is fed at neither end", no+1)
	}
	lies := c.to > c.from
	switch {
	case !lies:
		c.from, c.to = k, k+1
	case onward && k == c.to:
		c.to++
	case !onward && k == c.from-1:
		c.from--
	default:
		t.Fatalf("draw %d, pull %s: core %d lies in tubes %d to %d and is to be drawn into %d, fed at place %d", no+1, w.job.Pulls[d.Pull].Name(w.job), single, c.from, c.to, k, d.Feed)
	}
	lying := func(first bool, place int, want float64, more bool) {
		got, n := 0.0, 0
		for q := range d.Coils {
			if coil := &d.Coils[q]; coil.First == first && slices.Contains(coil.Singles, single) {
				got, n = float64(coil.Length(w.job, nil)), n+1
				if coil.Place != place {
					t.Fatalf("draw %d: core lies at place %d, not %d", no+1, coil.Place, place)
				}
			}
		}
		if more != (n == 1) || more && math.Abs(got-want) > 1e-6 {
			t.Fatalf("draw %d: %v m of core %d lie (first %v), not %v", no+1, got, single, first, want)
		}
	}
	out, back, beyond, behind := x.after, x.before, k+1 < len(c.tubes) || w.goesOn(single, x, true), k > 0 || w.goesOn(single, x, false)
	if !onward {
		out, back, beyond, behind = back, out, behind, beyond
	}
	lying(false, d.Out, out, beyond)
	lying(true, d.Feed, back, behind && !lies)
}

// goesOn reports whether a core goes on beyond a tube, if only in trunking.
func (w *drawing) goesOn(single int, x drawnTube, onward bool) bool {
	s := &w.job.Singles[single]
	if onward {
		return s.To.Place != x.leave
	}
	return s.From.Place != x.enter
}

// wholePlan reports whether any choice of feed ends leads every core away from
// one place, in an order that can be carried out: it tries them all.
func (w *drawing) wholePlan() bool {
	j := w.job
	index := map[*route.Pull]int{}
	for k := range j.Pulls {
		index[&j.Pulls[k]] = k
	}
	type meeting struct{ a, b, aLast, bFirst int } // a's last end by the file and b's first
	first := func(k int) int {                     // any fixed end of a pull
		r := &j.Runs[j.Pulls[k].Runs[0]]
		return min(r.From, r.To)
	}
	var meet []meeting
	for _, c := range w.cores {
		for i := 1; i < len(c.tubes); i++ {
			x, y := c.tubes[i-1], c.tubes[i]
			m := meeting{a: index[x.pull], b: index[y.pull]}
			if x.leave == first(m.a) {
				m.aLast = 1
			}
			if y.enter == first(m.b) {
				m.bFirst = 1
			}
			meet = append(meet, m)
		}
	}
	for mask := range 1 << len(j.Pulls) {
		ok := true
		after := make([][]int, len(j.Pulls))
		for _, m := range meet {
			fedA, fedB := mask>>m.a&1 == m.aLast, mask>>m.b&1 == m.bFirst
			switch {
			case !fedA && !fedB:
				ok = false
			case !fedA:
				after[m.b] = append(after[m.b], m.a)
			case !fedB:
				after[m.a] = append(after[m.a], m.b)
			}
		}
		if ok && !circular(after) {
			return true
		}
	}
	return false
}

// circular reports whether something waits for itself.
func circular(after [][]int) bool {
	done := make([]bool, len(after))
	for range after {
		for k, waits := range after {
			done[k] = done[k] || !slices.ContainsFunc(waits, func(i int) bool { return !done[i] })
		}
	}
	return slices.Contains(done, false)
}

// drawnIn draws a job at random: a tree of tubes with bends, some more that
// close circles, boxes that cores pass unbroken, and sockets.
func drawnIn(t *rapid.T, loops int, enc []string) *route.Job {
	n := rapid.IntRange(3, 11-loops).Draw(t, "places")
	var w strings.Builder
	fmt.Fprint(&w, "job: x\nplaces:\n  p0: {is: board}\n")
	var sockets []string
	for i := 1; i < n; i++ {
		kind := rapid.SampledFrom([]string{"box", "socket"}).Draw(t, "kind")
		if i == n-1 {
			kind = "socket"
		}
		if kind == "socket" {
			sockets = append(sockets, fmt.Sprint("p", i))
		}
		fmt.Fprintf(&w, "  p%d: {is: %s}\n", i, kind)
	}
	fmt.Fprint(&w, "runs:\n")
	at := make([]complex128, n) // mm, right and down
	for i := 1; i < n; i++ {
		right, down := rapid.IntRange(300, 5000).Draw(t, "right"), 0
		path := fmt.Sprintf("right %d mm", right)
		if rapid.Bool().Draw(t, "bend") {
			down = rapid.IntRange(300, 5000).Draw(t, "down")
			path += fmt.Sprintf(", down %d mm", down)
		}
		up := rapid.IntRange(0, i-1).Draw(t, "up")
		at[i] = at[up] + complex(float64(right), float64(down))
		fmt.Fprintf(&w, "  R%d: {from: p%d, to: p%d, in: %s, path: \"%s\"}\n", i, up, i, rapid.SampledFrom(enc).Draw(t, "enclosure"), path)
	}
	for i := range loops {
		a := rapid.IntRange(0, n-1).Draw(t, "loop from")
		b := (a + rapid.IntRange(1, n-1).Draw(t, "loop to")) % n
		fmt.Fprintf(&w, "  L%d: {from: p%d, to: p%d, in: %s, length: %d mm, bends: 0}\n", i, a, b, rapid.SampledFrom(enc).Draw(t, "enclosure"), int(cmplx.Abs(at[a]-at[b]))+rapid.IntRange(300, 9000).Draw(t, "loop"))
	}
	sockets = rapid.Permutation(sockets).Draw(t, "order")
	cut := rapid.IntRange(1, len(sockets)).Draw(t, "circuits cut")
	fmt.Fprint(&w, "circuits:\n")
	for i, points := range [][]string{sockets[:cut], sockets[cut:]} {
		if len(points) > 0 {
			fmt.Fprintf(&w, "  c%d: {device: B16, cable: 2.5, arrangement: %s, points: [%s]}\n", i, rapid.SampledFrom([]string{"radial", "ring"}).Draw(t, "arrangement"), strings.Join(points, ", "))
		}
	}
	j, err := route.Parse("x.yaml", []byte(w.String()))
	if err != nil {
		t.Fatalf("%v\n%s", err, w.String())
	}
	return j
}

// TestDrawInCanBeDone carries plans out, in trees and where tubes close
// circles; cores go over others only where no choice of feed ends, all tried,
// would spare it.
func TestDrawInCanBeDone(t *testing.T) {
	for loops := range 5 {
		t.Run(fmt.Sprint(loops, " circles"), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				j := drawnIn(t, loops, []string{"plastic conduit 20", "plastic conduit 20", "plastic trunking 50x50"})
				w, plan := newDrawing(j), j.DrawIn()
				w.carryOut(t, plan)
				over := slices.ContainsFunc(plan, func(d route.Draw) bool { return d.Over })
				if over && (loops == 0 || w.wholePlan()) {
					t.Fatal("over cores in place, though whole pulls would do")
				}
			})
		})
	}
}

// planText is a plan in short: A board>bx1 3, and whether it goes over cores.
func planText(j *route.Job) (out []string) {
	for _, d := range j.DrawIn() {
		line := fmt.Sprintf("%s %s>%s %d", j.Pulls[d.Pull].Name(j), j.Places[d.Feed].Name, j.Places[d.Out].Name, len(d.Singles))
		if d.Over {
			line += " over"
		}
		for k := range d.Coils {
			c := &d.Coils[k]
			line += fmt.Sprintf("; %d × %.3f at %s", len(c.Singles), c.Length(j, nil), j.Places[c.Place].Name)
		}
		out = append(out, line)
	}
	return out
}

// Counted by hand.
func TestDrawInByHand(t *testing.T) {
	const box = "job: x\nplaces:\n  board: {is: board, height: 1.5 m}\n  bx1: {is: box}\n"
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		// From the board: A 1 × e^(π/4) + 2 = 4.19, H 4 × e^(π/4) + 0.3 = 9.07;
		// from flex: H 0.3 × e^(π/4) + 4 = 4.66, A 2 × e^(π/4) + 1 = 5.39. In all
		// 10.05 is below 0.9 of 13.27. Over A: 3 m and the board's tail.
		{"towards the board", box + "  flex: {is: outlet}\nruns:\n  A: {from: board, to: bx1, in: steel conduit 20, path: \"up 1.0, right 2.0\"}\n  H: {from: bx1, to: flex, in: steel conduit 20, path: \"right 4.0, down 0.3\"}\ncircuits:\n  towel: {device: B6, cable: 1.5, arrangement: direct, points: [flex]}\n",
			[]string{"H flex>bx1 3; 3 × 3.600 at bx1", "A bx1>board 3"}},
		// The same with the bends at the board: each away from it.
		{"from the board", box + "  flex: {is: outlet}\nruns:\n  A: {from: board, to: bx1, in: steel conduit 20, path: \"up 1.0, right 2.0\"}\n  H: {from: bx1, to: flex, in: steel conduit 20, path: \"down 0.3, right 4.0\"}\ncircuits:\n  towel: {device: B6, cable: 1.5, arrangement: direct, points: [flex]}\n",
			[]string{"A board>bx1 3; 3 × 4.450 at bx1", "H bx1>flex 3"}},
		// From s1 to s2 the cores pass bx1: laid out there, 2.15 m, and fed both ways.
		{"from the middle", box + "  s1: {is: socket}\n  s2: {is: socket}\nruns:\n  A: {from: board, to: bx1, in: steel conduit 20, path: right 1}\n  B: {from: bx1, to: s1, in: steel conduit 20, path: down 2}\n  C: {from: bx1, to: s2, in: steel conduit 20, path: right 3}\ncircuits:\n  c: {device: B16, cable: 2.5, points: [s1, s2]}\n",
			[]string{"A board>bx1 3; 3 × 2.150 at bx1", "B bx1>s1 6; 3 × 3.150 at bx1", "C bx1>s2 3"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			j, err := route.Parse("x.yaml", []byte(c.text))
			if err != nil {
				t.Fatal(err)
			}
			if got := planText(j); !slices.Equal(got, c.want) {
				t.Errorf("got\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(c.want, "\n  "))
			}
		})
	}
}

// TestDrawInDemos: the demos close no circle that cores go round, so nothing
// goes over cores in place.
func TestDrawInDemos(t *testing.T) {
	for _, name := range []string{"boatstore", "workshop", "clubhouse", "classroom", "existing"} {
		text, err := os.ReadFile("../testdata/jobs/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		j, err := route.Parse(name, text)
		if err != nil {
			t.Fatal(err)
		}
		w := newDrawing(j)
		for k, d := range j.DrawIn() {
			if d.Over {
				t.Errorf("%s: pull %s goes over cores", name, j.Pulls[d.Pull].Name(j))
			}
			for _, i := range d.Singles {
				if d.Feed >= 0 {
					w.draw(t, k, &d, i)
				}
			}
		}
	}
}
