package route

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
	"pgregory.net/rapid"
)

// netJob is a job with nothing in it but places and runs.
func netJob(n int, edges []edge) *Job {
	j := &Job{Places: make([]Place, n), Runs: make([]Run, len(edges))}
	for i, e := range edges {
		j.Runs[i].From, j.Runs[i].To = e.U, e.V
		setLength(&j.Runs[i], e.Length)
	}
	return j
}

func setLength(r *Run, m float64) { reflect.ValueOf(&r.Length).Elem().SetFloat(m) }

// drawEdges draws a multigraph: parallel runs, loops of one run, runs that
// stand alone, parts that nothing joins.
func drawEdges(t *rapid.T, n, most int) []edge {
	edges := make([]edge, rapid.IntRange(0, most).Draw(t, "runs"))
	for i := range edges {
		edges[i] = edge{
			rapid.IntRange(-1, n-1).Draw(t, "from"), rapid.IntRange(0, n-1).Draw(t, "to"),
			float64(rapid.IntRange(0, 40).Draw(t, "decimetres")) / 10,
		}
		if edges[i].U < 0 {
			edges[i].V = -1
		}
	}
	return edges
}

// outside is the same graph in gonum. Its simple graph holds one run between
// two places, so the shortest is given to it.
func outside(n int, edges []edge) *simple.WeightedUndirectedGraph {
	g := simple.NewWeightedUndirectedGraph(0, math.Inf(1))
	for i := range n {
		g.AddNode(simple.Node(i))
	}
	for _, e := range edges {
		if e.U < 0 || e.U == e.V {
			continue
		}
		u, v := simple.Node(e.U), simple.Node(e.V)
		if old := g.WeightedEdge(int64(e.U), int64(e.V)); old == nil || old.Weight() > e.Length {
			g.SetWeightedEdge(g.NewWeightedEdge(u, v, e.Length))
		}
	}
	return g
}

// Outside check: gonum graph/path, Dijkstra's algorithm.
func TestWaysEqualGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "places")
		edges := drawEdges(t, n, 30)
		from := rapid.IntRange(0, n-1).Draw(t, "source")
		targets := rapid.SliceOfN(rapid.IntRange(0, n-1), 0, 4).Draw(t, "targets")
		w := newWays(netJob(n, edges))
		want := path.DijkstraFrom(simple.Node(from), outside(n, edges))
		tree, near := w.from(from), w.fromUntil(from, targets)
		for to := range n {
			passes, length, ok := tree.to(to)
			weight := want.WeightTo(int64(to))
			if ok == math.IsInf(weight, 1) || ok && math.Abs(length-weight) > 1e-9 {
				t.Fatalf("to %d: %v m (%v), gonum says %v", to, length, ok, weight)
			}
			checkWalk(t, edges, from, to, passes, length, ok)
		}
		for _, to := range targets {
			passes, length, ok := tree.to(to)
			nearPasses, nearLength, nearOK := near.to(to)
			if ok != nearOK || length != nearLength || !reflect.DeepEqual(passes, nearPasses) {
				t.Fatalf("to %d, stopped early: %v, not %v", to, nearPasses, passes)
			}
		}
		checkWay(t, w, edges, from, n)
	})
}

// checkWay checks that way and table do not depend on what was asked before.
func checkWay(t *rapid.T, w *ways, edges []edge, from, n int) {
	all := make([]int, n)
	for to := range n {
		all[to] = to
		passes, length, ok := w.way(from, to)
		checkWalk(t, edges, from, to, passes, length, ok)
	}
	other := rapid.IntRange(0, n-1).Draw(t, "other source")
	table := w.table(all)
	w.from(other)
	fresh := newWays(&Job{Places: make([]Place, n), Runs: w.runs})
	for to := range n {
		passes, length, ok := w.way(from, to)
		again, _, _ := fresh.way(from, to)
		want, reached := fresh.from(from).length(to)
		if ok != reached || length != want || !reflect.DeepEqual(passes, again) {
			t.Fatalf("way to %d: %v m, %v; afresh %v m, %v", to, length, passes, want, again)
		}
		if !reached {
			want = math.Inf(1)
		}
		if table[from][to] != want || table[to][from] != want {
			t.Fatalf("table to %d: %v m, want %v", to, table[from][to], want)
		}
	}
}

// checkWalk checks that passes lead from place to place over the length.
func checkWalk(t *rapid.T, edges []edge, from, to int, passes []Pass, length float64, ok bool) {
	if !ok {
		return
	}
	at, sum := from, 0.0
	for _, p := range passes {
		e := edges[p.Run]
		start, end := e.U, e.V
		if !p.Forward {
			start, end = end, start
		}
		if start != at {
			t.Fatalf("to %d: pass %v starts at %d, not at %d", to, p, start, at)
		}
		at, sum = end, sum+e.Length
	}
	if at != to || math.Abs(sum-length) > 1e-9 {
		t.Fatalf("to %d: the passes end at %d after %v m, not %v m", to, at, sum, length)
	}
}

func TestWaysTies(t *testing.T) {
	for _, c := range []struct {
		name  string
		edges []edge
		want  []Pass
	}{
		{"parallel, equal", []edge{{0, 1, 2}, {1, 0, 2}, {1, 2, 1}}, []Pass{{0, true}, {2, true}}},
		{"parallel, second shorter", []edge{{0, 1, 2}, {1, 0, 1.9}, {1, 2, 1}}, []Pass{{1, false}, {2, true}}},
		{"round either side", []edge{{3, 2, 1}, {1, 2, 1}, {0, 1, 1}, {0, 3, 1}}, []Pass{{3, true}, {0, true}}},
		// 0.1 + 0.2 is not 0.3 in floating point, but is in nanometres.
		{"equal but for rounding", []edge{{0, 2, 0.3}, {0, 1, 0.1}, {1, 2, 0.2}}, []Pass{{0, true}}},
		{"two legs, earlier in the file", []edge{{0, 1, 0.1}, {1, 2, 0.2}, {0, 2, 0.3}}, []Pass{{0, true}, {1, true}}},
		{"no length", []edge{{0, 1, 0}, {1, 2, 0}, {0, 2, 0}}, []Pass{{0, true}, {1, true}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWays(netJob(4, c.edges))
			got, _, _ := w.from(0).to(2)
			if !reflect.DeepEqual(got, c.want) {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}

// A tree that a later search has overwritten must not answer.
func TestWaysStale(t *testing.T) {
	w := newWays(netJob(3, []edge{{0, 1, 1}, {1, 2, 1}}))
	old := w.fromUntil(0, []int{2})
	w.fromUntil(1, []int{2})
	defer func() {
		if recover() == nil {
			t.Error("a stale tree answered")
		}
	}()
	old.to(2)
}

// Taking a bridge out parts its ends; gonum says whether they are parted.
func TestOnlyWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "places")
		edges := drawEdges(t, n, 14)
		only := newWays(netJob(n, edges)).onlyWays()
		for i, e := range edges {
			if e.U < 0 || e.U == e.V {
				continue
			}
			rest := append(append([]edge{}, edges[:i]...), edges[i+1:]...)
			weight := path.DijkstraFrom(simple.Node(e.U), outside(n, rest)).WeightTo(int64(e.V))
			if only[i] != math.IsInf(weight, 1) {
				t.Fatalf("run %d: the only way %v, but without it %v m", i, only[i], weight)
			}
		}
	})
}

// gridEdges is a net of containment over a floor, all runs 3 m.
func gridEdges(across, down int) []edge {
	var edges []edge
	for y := range down {
		for x := range across {
			if p := y*across + x; x+1 < across {
				edges = append(edges, edge{p, p + 1, 3})
			}
			if p := y*across + x; y+1 < down {
				edges = append(edges, edge{p, p + across, 3})
			}
		}
	}
	return edges
}

// combEdges is a main with branches along it, of as many places each.
func combEdges(across, down int, random *rand.Rand) []edge {
	var edges []edge
	for p := 1; p < across*down; p++ {
		before := p - 1
		if p%across == 0 {
			before = p - across
		}
		edges = append(edges, edge{before, p, float64(500+random.IntN(9500)) / 1000})
	}
	return edges
}

// nets are large jobs and the same at a tenth of the size.
func nets() []benchNet {
	random := rand.New(rand.NewPCG(7, 7))
	return []benchNet{
		{"grid/runs=19800", 100, 100, gridEdges(100, 100)},
		{"grid/runs=1984", 32, 32, gridEdges(32, 32)},
		{"tree/runs=19880", 141, 141, combEdges(141, 141, random)},
		{"tree/runs=2024", 45, 45, combEdges(45, 45, random)},
	}
}

type benchNet struct {
	name         string
	across, down int
	edges        []edge
}

func BenchmarkWaysFrom(b *testing.B) {
	for _, c := range nets() {
		b.Run(c.name, func(b *testing.B) {
			w := newWays(netJob(c.across*c.down, c.edges))
			for i := 0; b.Loop(); i++ {
				w.from(i % (c.across * c.down))
			}
		})
	}
}

// BenchmarkGonumFrom is what the same search costs there.
func BenchmarkGonumFrom(b *testing.B) {
	g := outside(10000, gridEdges(100, 100))
	for b.Loop() {
		path.DijkstraFrom(simple.Node(0), g)
	}
}

// BenchmarkLocalCircuits orders rings of six points each, near one another,
// and walks every hop: a circuit to every four runs, all from one board.
func BenchmarkLocalCircuits(b *testing.B) {
	random := rand.New(rand.NewPCG(7, 7))
	for _, c := range nets() {
		j := netJob(c.across*c.down, c.edges)
		var circuits [][]int
		for range len(c.edges) / 4 {
			points := []int{0}
			x, y := random.IntN(c.across-5), random.IntN(c.down-5)
			for range 6 {
				points = append(points, (y+random.IntN(5))*c.across+x+random.IntN(5))
			}
			circuits = append(circuits, points)
		}
		b.Run(fmt.Sprintf("%s/circuits=%d", c.name, len(circuits)), func(b *testing.B) {
			for b.Loop() {
				w := newWays(j)
				for _, points := range circuits {
					w.walkRing(points)
				}
			}
		})
	}
}

func (w *ways) walkRing(points []int) {
	r, _ := w.order(points, true)
	home := w.from(points[0])
	home.to(points[r.Order[1]])
	home.to(points[r.Order[len(points)-1]])
	for i := 2; i < len(points); i++ {
		w.way(points[r.Order[i-1]], points[r.Order[i]])
	}
}
