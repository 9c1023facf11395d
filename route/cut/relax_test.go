package cut

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

func rootOf(p problem) *relaxation {
	m := newModel(p.pieces, p.stock)
	s := newSolver(m, newEffort(context.Background(), 0))
	return s.relax(m.needs(), m.counts(), noEnd)
}

// dense is the programme of the columns made so far in gonum's standard form.
func dense(r *relaxation) ([]float64, *mat.Dense, []float64) {
	A := mat.NewDense(len(r.lp.rhs), len(r.lp.cost), nil)
	for j := range r.lp.cost {
		rows, vals := r.lp.column(j)
		for k, row := range rows {
			A.Set(int(row), j, vals[k])
		}
	}
	return r.lp.cost, A, r.lp.rhs
}

// The cost is the one that gonum.org/v1/gonum/optimize/convex/lp finds for the
// same columns.
func TestSimplexAgreesWithGonum(t *testing.T) {
	for _, p := range problems(t, "kerf")[:9] {
		p.stock.Offcuts = []int{1200, 900, 1200, 2000}
		r := rootOf(p)
		c, A, b := dense(r)
		want, _, err := lp.Simplex(c, A, b, 1e-10, nil)
		if err != nil {
			t.Fatalf("%s: %v", p.name, err)
		}
		if got := r.lp.total(); math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: %.9f, gonum finds %.9f", p.name, got, want)
		}
	}
}

// The table over every room finds the same worth as the search.
func TestTableAgreesWithSearch(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 300 {
		var items []priced
		for i := range 1 + r.IntN(8) {
			items = append(items, priced{size: i, w: 1 + r.IntN(40), most: 1 + r.IntN(5), worth: r.Int64N(1000)})
		}
		room := 1 + r.IntN(120)
		p := newPricer(newEffort(t.Context(), 0), items)
		takes, worth := p.fill(room, 0)
		if len(takes) == 0 {
			continue
		}
		p.table(room, 0)
		if p.best != worth {
			t.Fatalf("list %d: the table finds %d, the search %d", n, p.best, worth)
		}
		used, sum := 0, int64(0)
		for _, k := range p.takes() {
			used += k.n * items[k.size].w
			sum += int64(k.n) * items[k.size].worth
		}
		if used > room || sum != worth {
			t.Fatalf("list %d: %d in a room of %d, worth %d not %d", n, used, room, sum, worth)
		}
	}
}

// The bound stays below the optimum where the worth of all the offcuts is more
// than 64 bits hold.
func TestBoundOfHugeOffcuts(t *testing.T) {
	pieces := []Piece{{"a", 7, 500_000}, {"b", 4, 499_999}}
	s := Stock{Length: 10, Offcuts: []int{10}}
	for range mostSorts - 1 {
		s.Offcuts = append(s.Offcuts, mostMM)
	}
	m := newModel(pieces, s)
	r := newSolver(m, newEffort(t.Context(), 0)).relax(m.needs(), m.counts(), noEnd)
	if r.bound != 0 {
		t.Errorf("bound %d, the offcuts hold everything", r.bound)
	}
}

// BenchmarkRelaxation sets the whole column generation beside one solve of its
// last programme by gonum's dense simplex.
func BenchmarkRelaxation(b *testing.B) {
	p := problems(b, "kerf")[9]
	b.Run("columns", func(b *testing.B) {
		for b.Loop() {
			rootOf(p)
		}
	})
	c, A, rhs := dense(rootOf(p))
	b.Run("gonum", func(b *testing.B) {
		for b.Loop() {
			if _, _, err := lp.Simplex(c, A, rhs, 1e-10, nil); err != nil {
				b.Fatal(err)
			}
		}
	})
}
