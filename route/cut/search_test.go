package cut

import (
	"testing"

	"pgregory.net/rapid"
)

// rest is the cut list a part leaves.
func (m *model) rest(p part) ([]Piece, Stock) {
	var pieces []Piece
	for i, n := range p.need {
		pieces = append(pieces, Piece{Length: m.sizes[i].w - m.stock.Kerf, Count: n})
	}
	s := m.stock
	s.Offcuts = nil
	for k, n := range p.count {
		for range n * min(k, 1) {
			s.Offcuts = append(s.Offcuts, m.kinds[k].room-s.Kerf)
		}
	}
	return pieces, s
}

// Of the bars tried for the longest piece, one leads to the fewest lengths.
func TestBranchesHoldAFewest(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pieces, stock := cutList(rt, 7)
		if len(pieces) == 0 {
			rt.Skip("nothing to cut")
		}
		s := newSolver(newModel(pieces, stock), newEffort(t.Context(), 0))
		p := part{need: s.needs(), count: s.counts()}
		want := fewest(pieces, stock)
		b := brancher{relaxation: s.relax(p.need, p.count, want+1), enough: want + 1}
		if b.bound > want {
			rt.Fatalf("bound %d, trying all finds %d", b.bound, want)
		}
		if !b.branches() {
			rt.Fatal("not all branches were listed")
		}
		for _, l := range b.found {
			q := p.plus(l.layout, 1)
			if q.fresh+fewest(s.rest(q)) == want {
				return
			}
		}
		rt.Fatalf("none of %d branches leads to %d new lengths", len(b.found), want)
	})
}
