package cut

import (
	"cmp"
	"math"
	"slices"
)

// model is the cut list as the search sees it: pieces of one length are one
// size, offcuts of one length one kind, and a kerf has been added to both.
type model struct {
	pieces []Piece
	stock  Stock
	sizes  []size // longest first
	kinds  []kind // kinds[fresh] first, then offcuts, longest first
}

type size struct {
	w      int // length + kerf
	need   int
	pieces []int
}

type kind struct {
	room    int // length + kerf
	count   int
	offcuts []int // indices in Stock.Offcuts
}

const fresh = 0

// noEnd is how many new lengths the merchant has.
const noEnd = math.MaxInt

// take is a number of pieces of one size.
type take struct{ size, n int }

// layout is a number of bars of one kind cut alike, the longest piece first.
type layout struct {
	kind  int
	room  int // what is left, plus a kerf
	takes []take
	times int
}

func newModel(pieces []Piece, s Stock) *model {
	m := &model{pieces: pieces, stock: s}
	at := map[int]int{}
	for i, p := range pieces {
		if p.Count == 0 {
			continue
		}
		k, ok := at[p.Length]
		if !ok {
			k = len(m.sizes)
			at[p.Length] = k
			m.sizes = append(m.sizes, size{w: p.Length + s.Kerf})
		}
		m.sizes[k].need += p.Count
		m.sizes[k].pieces = append(m.sizes[k].pieces, i)
	}
	slices.SortFunc(m.sizes, func(a, b size) int { return cmp.Compare(b.w, a.w) })
	m.kinds = []kind{{room: s.Length + s.Kerf, count: noEnd}}
	m.addOffcuts()
	return m
}

// addOffcuts leaves out those too short for any piece.
func (m *model) addOffcuts() {
	if len(m.sizes) == 0 {
		return
	}
	least := m.sizes[len(m.sizes)-1].w
	var order []int
	for i, o := range m.stock.Offcuts {
		if o+m.stock.Kerf >= least {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(m.stock.Offcuts[b], m.stock.Offcuts[a]) })
	for _, i := range order {
		room := m.stock.Offcuts[i] + m.stock.Kerf
		if last := len(m.kinds) - 1; last == fresh || m.kinds[last].room != room {
			m.kinds = append(m.kinds, kind{room: room})
		}
		k := &m.kinds[len(m.kinds)-1]
		k.count++
		k.offcuts = append(k.offcuts, i)
	}
}

// needs is how many of each size are wanted.
func (m *model) needs() []int {
	need := make([]int, len(m.sizes))
	for i, s := range m.sizes {
		need[i] = s.need
	}
	return need
}

// counts is how many of each kind are at hand.
func (m *model) counts() []int {
	count := make([]int, len(m.kinds))
	for k, v := range m.kinds {
		count[k] = v.count
	}
	return count
}

// freshBars is how many new lengths the layouts take.
func freshBars(ls []layout) int {
	n := 0
	for _, l := range ls {
		if l.kind == fresh && len(l.takes) > 0 {
			n += l.times
		}
	}
	return n
}
