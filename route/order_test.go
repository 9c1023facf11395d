package route

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/stat/combin"
	"pgregory.net/rapid"
)

// orderFault says what keeps a result from being an order of n points over the
// length it claims.
func orderFault(dist [][]float64, closed bool, r orderResult) string {
	sorted := slices.Clone(r.Order)
	slices.Sort(sorted)
	for i, p := range sorted {
		if i != p {
			return fmt.Sprintf("no order: %v", r.Order)
		}
	}
	if len(sorted) != len(dist) || r.Order[0] != 0 {
		return fmt.Sprintf("%v does not start at the board, or leaves a point out", r.Order)
	}
	if length := orderLength(dist, r.Order, closed); math.Abs(length-r.Length) > 1e-6 {
		return fmt.Sprintf("the order comes to %v m, not %v m", length, r.Length)
	}
	if r.Bound > r.Length || r.Exact && r.Bound != r.Length {
		return fmt.Sprintf("bound %v m, length %v m, exact %v", r.Bound, r.Length, r.Exact)
	}
	return ""
}

// everyPermutation weighs every order; gonum lists them.
func everyPermutation(dist [][]float64, closed bool) float64 {
	best := math.Inf(1)
	n := len(dist) - 1
	for _, perm := range combin.Permutations(n, n) {
		order := make([]int, 1, n+1)
		for _, p := range perm {
			order = append(order, p+1)
		}
		best = min(best, orderLength(dist, order, closed))
	}
	return best
}

// drawNet draws a net that joins all its places: a tree or a grid.
func drawNet(t *rapid.T) (n int, edges []edge) {
	if rapid.Bool().Draw(t, "grid") {
		across, down := rapid.IntRange(1, 5).Draw(t, "across"), rapid.IntRange(1, 5).Draw(t, "down")
		return across * down, gridEdges(across, down)
	}
	n = rapid.IntRange(1, 20).Draw(t, "places")
	for v := 1; v < n; v++ {
		edges = append(edges, edge{rapid.IntRange(0, v-1).Draw(t, "above"), v,
			float64(rapid.IntRange(0, 90).Draw(t, "decimetres")) / 10})
	}
	return n, edges
}

// Outside check: every order, one by one, in lists from gonum stat/combin.
func TestOrderEveryPermutation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := drawNet(t)
		points := rapid.SliceOfN(rapid.IntRange(0, n-1), 1, 7).Draw(t, "points")
		closed := rapid.Bool().Draw(t, "closed")
		w := newWays(netJob(n, edges))
		dist := w.table(points)
		want := everyPermutation(dist, closed)
		r, ok := w.order(points, closed)
		for _, r := range []orderResult{r, shortestOrder(dist, closed)} {
			if msg := orderFault(dist, closed, r); msg != "" || !ok {
				t.Fatal(ok, msg)
			}
			if !r.Exact || math.Abs(r.Length-want) > 1e-9 {
				t.Fatalf("%+v, want %v m", r, want)
			}
		}
	})
}

// The parts that serve larger orders, held against the exact one at sizes
// where both can be had: bound ≤ exact ≤ search.
func TestOrderSearchAndBound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		random := rand.New(rand.NewPCG(seed, 1))
		closed := rapid.Bool().Draw(t, "closed")
		size := rapid.IntRange(5, 10).Draw(t, "points")
		n := rapid.IntRange(size, 30).Draw(t, "places")
		points := random.Perm(n)[:size]
		w := newWays(netJob(n, randomNet(n, n+n/2, random)))
		dist := w.table(points)
		exact := everyOrder(dist, closed)
		m := newMatrix(dist, closed)
		tour, length := m.search()
		if length-m.shift < exact.Length-1e-6 || math.Abs(m.length(tour)-length) > 1e-6 {
			t.Fatalf("search %v m, exact %v m", length-m.shift, exact.Length)
		}
		bound := newOneTree(m).climb(rootSteps, math.Inf(1), length/float64(4*m.n))
		if bound-m.shift > exact.Length+1e-6 {
			t.Fatalf("bound %v m, exact %v m", bound-m.shift, exact.Length)
		}
		slack := m.reversed(tour)
		b := m.branch(slack, m.length(slack))
		if found := m.length(b.tour) - m.shift; !b.exact || math.Abs(found-exact.Length) > 1e-6 {
			t.Fatalf("branching proved %v m, exact %v m", found, exact.Length)
		}
	})
}

// reversed spoils a tour, without breaking the tie of a free end.
func (m *matrix) reversed(tour []int) []int {
	order := m.fromBoard(tour)
	slices.Sort(order[1:])
	if m.shift != 0 {
		order = append(order, m.n-1)
	}
	return order
}

func TestOrderStep(t *testing.T) {
	for _, c := range []struct{ a, b, want float64 }{
		{3, 6, 3}, {0.6, 0.9, 0.3}, {0, 1.25, 1.25}, {0.001, 40, 0.001}, {math.Pi, 1, 0}, {0, 0, 0},
	} {
		if got := step([][]float64{{0, c.a}, {c.b, 0}}); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v and %v m: %v, want %v", c.a, c.b, got, c.want)
		}
	}
}

// On a tree of runs the shortest ring is twice the tree that spans the points,
// the shortest chain that less the way to the farthest. The tree is gonum's:
// Kruskal's on the runs, with ends that are no points taken off.
func TestOrderTree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		random := rand.New(rand.NewPCG(seed, 1))
		n := rapid.IntRange(1, 200).Draw(t, "places")
		edges := randomNet(n, n-1, random)
		points := random.Perm(n)[:rapid.IntRange(1, n).Draw(t, "points")]
		w := newWays(netJob(n, edges))
		spanned := simple.NewWeightedUndirectedGraph(0, math.Inf(1))
		length := path.Kruskal(spanned, outside(n, edges)) - deadEnds(spanned, points)
		far := 0.0
		all := path.DijkstraFrom(simple.Node(points[0]), spanned)
		for _, p := range points {
			far = max(far, all.WeightTo(int64(p)))
		}
		dist := w.table(points)
		for closed, want := range map[bool]float64{true: 2 * length, false: 2*length - far} {
			r, ok := w.order(points, closed)
			if msg := orderFault(dist, closed, r); msg != "" || !ok || !r.Exact || math.Abs(r.Length-want) > 1e-6 {
				t.Fatalf("closed %v: %v %s: %+v, want %v m", closed, ok, msg, r, want)
			}
		}
	})
}

// deadEnds takes ends that are no points off a tree and returns their length.
func deadEnds(tree *simple.WeightedUndirectedGraph, points []int) (lengthM float64) {
	for again := true; again; {
		again = false
		nodes := tree.Nodes()
		for nodes.Next() {
			id := nodes.Node().ID()
			beside := tree.From(id)
			if beside.Len() != 1 || slices.Contains(points, int(id)) {
				continue
			}
			beside.Next()
			far := beside.Node().ID()
			lengthM += tree.WeightedEdge(id, far).Weight()
			tree.RemoveEdge(id, far)
			again = true
		}
	}
	return lengthM
}

// A loop elsewhere does not spoil the tree formula; a loop between does, and
// the order is then sought among the distances.
func TestOrderLoops(t *testing.T) {
	edges := []edge{{0, 1, 5}, {1, 2, 1}, {1, 3, 2}, {0, 4, 1}, {4, 5, 1}, {5, 0, 1}}
	w := newWays(netJob(6, edges))
	if r, ok := treeOrder(w.from(0), []int{0, 3, 2}, true); !ok || r.Length != 16 {
		t.Errorf("beside a loop: %v %+v, want 16 m", ok, r)
	}
	if r, ok := treeOrder(w.from(0), []int{0, 4, 5}, true); ok {
		t.Errorf("round a loop: %+v", r)
	}
	if r, ok := w.order([]int{0, 4, 5}, true); !ok || r.Length != 3 {
		t.Errorf("round a loop: %v %+v, want 3 m", ok, r)
	}
	if r, ok := newWays(netJob(7, edges)).order([]int{0, 6}, true); ok {
		t.Errorf("no way: %+v", r)
	}
}

// Names given to points change the length of no exact order.
func TestOrderRelabelled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		random := rand.New(rand.NewPCG(seed, 1))
		closed := rapid.Bool().Draw(t, "closed")
		size := rapid.IntRange(2, 20).Draw(t, "points")
		points := random.Perm(49)[:size]
		w := newWays(netJob(49, gridEdges(7, 7)))
		r := shortestOrder(w.table(points), closed)
		again := append([]int{points[0]}, points[1:]...)
		random.Shuffle(size-1, func(i, k int) { again[i+1], again[k+1] = again[k+1], again[i+1] })
		s := shortestOrder(w.table(again), closed)
		if r.Bound > s.Length+1e-6 || s.Bound > r.Length+1e-6 {
			t.Fatalf("bound above an order: %+v, %+v", r, s)
		}
		if r.Exact && s.Exact && math.Abs(r.Length-s.Length) > 1e-6 {
			t.Fatalf("both exact: %v m and %v m", r.Length, s.Length)
		}
	})
}

// orderNets are nets of containment to order points on.
func orderNets(random *rand.Rand) []benchNet {
	return []benchNet{
		{"grid", 20, 20, gridEdges(20, 20)},
		{"net", 20, 20, randomNet(400, 560, random)},
		{"floor", 20, 20, floorEdges(20, 20, random)},
	}
}

// floorEdges is a grid of unequal bays with some runs left out.
func floorEdges(across, down int, random *rand.Rand) []edge {
	width := make([]float64, across+down)
	for i := range width {
		width[i] = float64(1000+random.IntN(6000)) / 1000
	}
	var edges []edge
	for _, e := range gridEdges(across, down) {
		e.Length = width[e.U%across]
		if e.V == e.U+across {
			e.Length = width[across+e.U/across]
		}
		if e.V != e.U+across || e.U%across == 0 || random.IntN(3) > 0 {
			edges = append(edges, e)
		}
	}
	return edges
}

// Orders too large to weigh all: within 1 % of the bound, twice the same.
func TestOrderGap(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 11))
	for _, c := range orderNets(random) {
		w := newWays(netJob(400, c.edges))
		for _, size := range []int{15, 20, 25, 30, 40, 50, 60} {
			dist := w.table(random.Perm(400)[:size])
			for _, closed := range []bool{true, false} {
				t.Run(fmt.Sprintf("%s/points=%d/closed=%v", c.name, size, closed), func(t *testing.T) {
					r := shortestOrder(dist, closed)
					if msg := orderFault(dist, closed, r); msg != "" {
						t.Fatal(msg)
					}
					if gap := r.Length/r.Bound - 1; gap > 0.01 {
						t.Errorf("%.2f %% above the bound", 100*gap)
					}
					if again := shortestOrder(dist, closed); !reflect.DeepEqual(again, r) {
						t.Errorf("%+v, then %+v", r, again)
					}
					t.Logf("%.3f m, bound %.3f m, exact %v", r.Length, r.Bound, r.Exact)
				})
			}
		}
	}
}

func BenchmarkOrder(b *testing.B) {
	random := rand.New(rand.NewPCG(11, 11))
	for _, c := range orderNets(random) {
		w := newWays(netJob(400, c.edges))
		for _, size := range []int{10, mostExact, mostExact + 1, 25, 40, 60} {
			dist := w.table(random.Perm(400)[:size])
			b.Run(fmt.Sprintf("%s/points=%d", c.name, size), func(b *testing.B) {
				var r orderResult
				for b.Loop() {
					r = shortestOrder(dist, true)
				}
				b.ReportMetric(100*(r.Length/r.Bound-1), "%gap")
			})
		}
	}
}
