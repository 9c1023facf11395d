package route

import (
	"math"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
	"pgregory.net/rapid"
)

// Guides change how far a search looks, never the way it finds. Runs of no
// length are lengthened: a tie over one falls by the order of the search.
func TestGuidedWaysAreTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 14).Draw(t, "places")
		edges := drawEdges(t, n, 34)
		for i := range edges {
			edges[i].Length++
		}
		plain, guided := newWays(netJob(n, edges)), newWays(netJob(n, edges))
		guided.from(rapid.IntRange(0, n-1).Draw(t, "home"))
		guided.guides.spent = guideCount*n + 1
		for from := range n {
			for to := range n {
				a, lengthA, okA := plain.fromUntil(from, []int{to}).to(to)
				b, lengthB, okB := guided.fromUntil(from, []int{to}).to(to)
				if okA != okB || lengthA != lengthB || !reflect.DeepEqual(a, b) {
					t.Fatalf("%d to %d: %v over %v m, guided %v over %v m", from, to, a, lengthA, b, lengthB)
				}
			}
		}
		if guided.guides.nm == nil {
			t.Fatal("no guides were laid out")
		}
	})
}

// A guided search on a grid settles far less than one that spreads all round.
func TestGuidedSearchLooksLess(t *testing.T) {
	w := newWays(netJob(10000, gridEdges(100, 100)))
	w.from(0)
	from, to := 50*100+50, 54*100+54
	settled := func() (n int) {
		w.fromUntil(from, []int{to})
		for p := range w.local.spots {
			if w.local.reached(p) {
				n++
			}
		}
		return n
	}
	round := settled()
	w.guides.spent = 10 * guideCount * 10000
	if ahead := settled(); ahead*3 > round {
		t.Errorf("guided search settled %d places, the other %d", ahead, round)
	}
}

// Outside check: gonum's path.Prim over the complete graph of gonum's
// distances between the stops.
func TestGrowEqualsPrim(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "places")
		edges := drawEdges(t, n, 30)
		stops := rapid.SliceOfNDistinct(rapid.IntRange(0, n-1), 1, min(n, 7), rapid.ID[int]).Draw(t, "stops")
		whole, all := outside(n, edges), simple.NewWeightedUndirectedGraph(0, math.Inf(1))
		reachable := 0
		for i, a := range stops {
			from := path.DijkstraFrom(simple.Node(a), whole)
			if i == 0 {
				for _, b := range stops[1:] {
					if !math.IsInf(from.WeightTo(int64(b)), 1) {
						reachable++
					}
				}
			}
			for _, b := range stops[i+1:] {
				if d := from.WeightTo(int64(b)); !math.IsInf(d, 1) {
					all.SetWeightedEdge(all.NewWeightedEdge(simple.Node(a), simple.Node(b), d))
				}
			}
		}
		if reachable < len(stops)-1 {
			if got := newWays(netJob(n, edges)).grow(stops); len(got) != reachable {
				t.Fatalf("%d hops, want %d", len(got), reachable)
			}
			return
		}
		want := path.Prim(simple.NewWeightedUndirectedGraph(0, math.Inf(1)), all)
		w := newWays(netJob(n, edges))
		got, reached := 0.0, map[int]bool{stops[0]: true}
		for _, h := range w.grow(stops) {
			if !reached[h.from] || reached[h.to] {
				t.Fatalf("hop %v does not go outwards", h)
			}
			reached[h.to] = true
			_, length, _ := newWays(netJob(n, edges)).way(h.from, h.to)
			got += length
		}
		if math.Abs(got-want) > 1e-6 {
			t.Fatalf("%v m, gonum's tree is %v m", got, want)
		}
	})
}

// Where drops off one box are equally long the stops are looped one after
// another, two cores at each, not all from the first.
func TestGrowLoopsOnTies(t *testing.T) {
	var edges []edge
	for leaf := 1; leaf <= 5; leaf++ {
		edges = append(edges, edge{0, leaf, 2})
	}
	ends := map[int]int{}
	for _, h := range newWays(netJob(6, edges)).grow([]int{1, 2, 3, 4, 5}) {
		ends[h.from]++
		ends[h.to]++
	}
	for leaf := 1; leaf <= 5; leaf++ {
		if ends[leaf] > 2 || ends[leaf] == 0 {
			t.Errorf("%d cores at stop %d", ends[leaf], leaf)
		}
	}
}
