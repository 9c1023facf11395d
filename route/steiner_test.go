package route

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
	"pgregory.net/rapid"
)

// steinerProblem is one problem of testdata/steiner; NOTICE.md there says
// whose, and where the optimum comes from.
type steinerProblem struct {
	name      string
	n         int
	edges     []edge
	terminals []int
	optimum   float64
}

func steinerProblems(tb testing.TB) []steinerProblem {
	f, err := os.Open(filepath.Join("testdata", "steiner", "optima.csv"))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		tb.Fatal(err)
	}
	var out []steinerProblem
	for _, row := range rows[1:] {
		out = append(out, readSteiner(tb, row))
	}
	return out
}

func readSteiner(tb testing.TB, row []string) steinerProblem {
	p := steinerProblem{name: row[0]}
	var err error
	if p.optimum, err = strconv.ParseFloat(row[4], 64); err != nil {
		tb.Fatal(err)
	}
	f, err := os.Open(filepath.Join("testdata", "steiner", p.name+".txt"))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	scan := func(to ...any) {
		if _, err := fmt.Fscan(f, to...); err != nil {
			tb.Fatal(p.name, err)
		}
	}
	var edges, terminals int
	scan(&p.n, &edges)
	p.edges = make([]edge, edges)
	for i := range p.edges {
		e := &p.edges[i]
		scan(&e.U, &e.V, &e.Length)
		e.U, e.V = e.U-1, e.V-1
	}
	scan(&terminals)
	p.terminals = make([]int, terminals)
	for i := range p.terminals {
		scan(&p.terminals[i])
		p.terminals[i]--
	}
	if got := fmt.Sprint(p.n, edges, terminals); got != row[1]+" "+row[2]+" "+row[3] {
		tb.Fatalf("%s: %s points, edges, terminals; optima.csv differs", p.name, got)
	}
	return p
}

// Outside check: J. E. Beasley's OR-Library problems against the published
// optima (testdata/steiner/NOTICE.md).
func TestSteinerPublished(t *testing.T) {
	for _, p := range steinerProblems(t) {
		t.Run(p.name, func(t *testing.T) {
			t.Parallel()
			r := steinerTree(p.n, p.edges, p.terminals)
			if msg := treeFault(p, r); msg != "" {
				t.Fatal(msg)
			}
			t.Logf("length %v, bound %v, optimum %v, exact %v", r.Length, r.Bound, p.optimum, r.Exact)
			if r.Length < p.optimum || r.Length > p.optimum*1.0035 {
				t.Errorf("length %v, published optimum %v", r.Length, p.optimum)
			}
			if r.Bound > p.optimum {
				t.Errorf("bound %v, published optimum %v", r.Bound, p.optimum)
			}
			if r.Exact && r.Length != p.optimum || len(p.terminals) <= mostJoined && !r.Exact {
				t.Errorf("exact %v at %v, published optimum %v", r.Exact, r.Length, p.optimum)
			}
		})
	}
}

// treeFault says what keeps a result from being a tree that joins the
// terminals over the length it claims.
func treeFault(p steinerProblem, r steinerResult) string {
	set := make(sets, p.n)
	for v := range set {
		set[v] = int32(v)
	}
	sum := 0.0
	for _, i := range r.Edges {
		e := p.edges[i]
		if !set.join(int32(e.U), int32(e.V)) {
			return fmt.Sprintf("edge %d closes a loop", i)
		}
		sum += e.Length
	}
	for _, v := range p.terminals {
		if set.find(int32(v)) != set.find(int32(p.terminals[0])) {
			return fmt.Sprintf("terminal %d is not joined", v)
		}
	}
	if math.Abs(sum-r.Length) > 1e-6 {
		return fmt.Sprintf("the edges come to %v, not %v", sum, r.Length)
	}
	return ""
}

func drawSteiner(t *rapid.T, most int) steinerProblem {
	p := steinerProblem{n: rapid.IntRange(2, most).Draw(t, "points")}
	p.edges = drawEdges(t, p.n, 3*most)
	p.terminals = rapid.SliceOfN(rapid.IntRange(0, p.n-1), 0, most).Draw(t, "terminals")
	return p
}

// Outside check: the shortest tree by trying every set of points to branch at,
// each spanned by gonum's Kruskal.
func TestSteinerEveryChoice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawSteiner(t, 8)
		want := everyTree(p)
		r := steinerTree(p.n, p.edges, p.terminals)
		if math.IsInf(want, 1) {
			if !math.IsInf(r.Length, 1) || r.Edges != nil {
				t.Fatalf("joined the apart: %+v", r)
			}
			return
		}
		if msg := treeFault(p, r); msg != "" {
			t.Fatal(msg)
		}
		if !r.Exact || math.Abs(r.Length-want) > 1e-9 || math.Abs(r.Bound-want) > 1e-9 {
			t.Fatalf("%+v, want %v", r, want)
		}
	})
}

func everyTree(p steinerProblem) float64 {
	need := 0
	for _, v := range p.terminals {
		need |= 1 << v
	}
	best := math.Inf(1)
	for set := range 1 << p.n {
		if set&need != need || set == 0 && need != 0 {
			continue
		}
		var inside []edge
		for _, e := range p.edges {
			if e.U >= 0 && set>>e.U&1 == 1 && set>>e.V&1 == 1 {
				inside = append(inside, e)
			}
		}
		tree := simple.NewWeightedUndirectedGraph(0, math.Inf(1))
		length := path.Kruskal(tree, outside(p.n, inside))
		if tree.Edges().Len() == max(0, bits.OnesCount(uint(set))-1) {
			best = min(best, length)
		}
	}
	return best
}

// The exact method alone, without bounds to spare it the work.
func TestSteinerSolve(t *testing.T) {
	for _, p := range steinerProblems(t) {
		if len(p.terminals) <= mostJoined {
			if got := solved(p); got != p.optimum {
				t.Errorf("%s: %v, published optimum %v", p.name, got, p.optimum)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		random := rand.New(rand.NewPCG(seed, 1))
		n := rapid.IntRange(2, 9).Draw(t, "points")
		p := steinerProblem{n: n, edges: randomNet(n, 2*n, random)}
		p.terminals = random.Perm(n)[:rapid.IntRange(2, n).Draw(t, "terminals")]
		if got, want := solved(p), everyTree(p); math.Abs(got-want) > 1e-9 {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}

func solved(p steinerProblem) float64 {
	return newJoining(p.n, p.edges, p.terminals).solved()
}

func (j *joining) solved() float64 {
	j.best, j.shortest = nil, math.MaxInt64/4 // whatever it finds is its own
	j.solve()
	return metres(j.shortest)
}

// What a bound drops, and what the reductions drop and join, must leave a
// shortest tree: here told of none, and of a length just above the shortest.
func TestSteinerDropsNoShortest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		random := rand.New(rand.NewPCG(seed, 1))
		n := rapid.IntRange(3, 10).Draw(t, "points")
		p := steinerProblem{n: n, edges: randomNet(n, 2*n, random)}
		p.terminals = random.Perm(n)[:rapid.IntRange(3, n).Draw(t, "terminals")]
		want := everyTree(p)
		j := newJoining(p.n, p.edges, p.terminals)
		for _, root := range j.terminals {
			j.best, j.shortest = nil, whole(want, n)+1
			a := j.ascend(root)
			if metres(a.bound) > want+1e-9 {
				t.Fatalf("bound %v, shortest %v", metres(a.bound), want)
			}
			j.drop(a)
			j.layOut()
			if got := j.solved(); math.Abs(got-want) > 1e-9 {
				t.Fatalf("dropped from %d: %v, want %v", root, got, want)
			}
		}
		j = newJoining(p.n, p.edges, p.terminals)
		j.keep(j.grow(j.terminals[0], j.lengths))
		j.reduce()
		got := metres(j.shortest)
		if len(j.terminals) > 1 {
			got = j.solved()
		}
		if math.Abs(got-want) > 1e-9 {
			t.Fatalf("reduced: %v, want %v", got, want)
		}
	})
}

// A local search must not pass off its tree for exact, nor its bound for more
// than it is: on nets with more terminals than are solved outright, the bound
// is at most the shortest tree found by any means, and names given to points
// change neither when the tree is exact.
func TestSteinerRelabelled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		random := rand.New(rand.NewPCG(seed, 1))
		n := rapid.IntRange(12, 40).Draw(t, "points")
		p := steinerProblem{n: n, edges: randomNet(n, n+n/2, random), terminals: random.Perm(n)[:n/2]}
		r := steinerTree(p.n, p.edges, p.terminals)
		if msg := treeFault(p, r); msg != "" {
			t.Fatal(msg)
		}
		names := random.Perm(n)
		other := steinerProblem{n: n}
		for _, i := range random.Perm(len(p.edges)) {
			e := p.edges[i]
			other.edges = append(other.edges, edge{names[e.V], names[e.U], e.Length})
		}
		for _, v := range p.terminals {
			other.terminals = append(other.terminals, names[v])
		}
		s := steinerTree(other.n, other.edges, other.terminals)
		if r.Bound > s.Length || s.Bound > r.Length {
			t.Fatalf("bound above a tree: %+v, %+v", r, s)
		}
		if r.Exact && s.Exact && r.Length != s.Length {
			t.Fatalf("both exact, but %v and %v", r.Length, s.Length)
		}
	})
}

// randomNet is a tree with edges added, lengths in decimetres.
func randomNet(n, m int, random *rand.Rand) []edge {
	var edges []edge
	length := func() float64 { return float64(5+random.IntN(95)) / 10 }
	for v := 1; v < n; v++ {
		edges = append(edges, edge{random.IntN(v), v, length()})
	}
	for len(edges) < m {
		if u, v := random.IntN(n), random.IntN(n); u != v {
			edges = append(edges, edge{u, v, length()})
		}
	}
	return edges
}

func TestSteinerRepeats(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	edges := gridEdges(12, 12)
	terminals := random.Perm(144)[:20]
	first := steinerTree(144, edges, terminals)
	for range 3 {
		if again := steinerTree(144, edges, terminals); !reflect.DeepEqual(again, first) {
			t.Fatalf("%+v, then %+v", first, again)
		}
	}
}

func BenchmarkSteiner(b *testing.B) {
	for _, p := range steinerProblems(b) {
		b.Run(p.name, func(b *testing.B) {
			var r steinerResult
			for b.Loop() {
				r = steinerTree(p.n, p.edges, p.terminals)
			}
			b.ReportMetric(100*(r.Length/p.optimum-1), "%over")
			b.ReportMetric(100*(1-r.Bound/p.optimum), "%under")
		})
	}
}
