package cut

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// many is a list of pieces that nearly all differ, as long drops and legs of a
// large job do. Made here.
func many(from, to, n int) ([]Piece, Stock) {
	r := rand.New(rand.NewPCG(7, uint64(n)))
	var ps []Piece
	for range n {
		ps = append(ps, Piece{Name: "p", Length: from + r.IntN(to-from), Count: 1})
	}
	return ps, Stock{Length: 3750, Kerf: 2, Effort: 200_000_000}
}

var manySpans = [][2]int{{150, 3500}, {150, 1200}, {700, 1500}, {1000, 2700}}

// A list of thousands of pieces keeps within half a per cent of its bound, and
// of first fit decreasing never falls behind. Where each stands is in
// BenchmarkMany.
func TestManyLengths(t *testing.T) {
	for _, span := range manySpans {
		for _, n := range []int{1500, 2500, 5000} {
			t.Run(fmt.Sprintf("%d-%d, %d", span[0], span[1], n), func(t *testing.T) {
				t.Parallel()
				pieces, s := many(span[0], span[1], n)
				p := solve(t, pieces, s)
				if ffd := firstFitDecreasing(pieces, s); p.New > ffd {
					t.Errorf("%d new lengths, first fit decreasing takes %d", p.New, ffd)
				}
				if gap := p.New - p.Bound; 200*gap > p.New {
					t.Errorf("%d new lengths, bound %d", p.New, p.Bound)
				}
			})
		}
	}
}

// Groups as long as their shortest prove nothing that trying all refutes, and
// what is cut by groups is a plan.
func TestGroupsAgreeWithTryingAll(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pieces, stock := cutList(rt, 7)
		m := newModel(pieces, stock)
		s := newSolver(m, newEffort(t.Context(), 0))
		p := part{need: s.needs(), count: s.counts()}
		most := rapid.IntRange(1, 4).Draw(rt, "groups")
		bound := s.byGroups(s.groups(p.need, most, true), p.count, noEnd, 0).bound
		if want := fewest(pieces, stock); bound > want {
			rt.Fatalf("bound %d, trying all finds %d", bound, want)
		}
		gs := s.groups(p.need, most, false)
		s.best, s.fresh = nil, noEnd
		if q, any := s.cutGroups(p, gs, s.byGroups(gs, p.count, noEnd, 0)); any {
			s.finish(q)
			verify(rt, pieces, stock, m.plan(s.best, 0, false))
		}
	})
}

func BenchmarkMany(b *testing.B) {
	for _, span := range manySpans {
		for _, n := range []int{1500, 2500, 5000} {
			b.Run(fmt.Sprintf("%d-%d_%d", span[0], span[1], n), func(b *testing.B) {
				pieces, s := many(span[0], span[1], n)
				for b.Loop() {
					p, err := Solve(pieces, s)
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(float64(p.New), "lengths")
					b.ReportMetric(float64(p.New-p.Bound), "gap")
				}
			})
		}
	}
}
