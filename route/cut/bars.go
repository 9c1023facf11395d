package cut

import (
	"cmp"
	"slices"
)

// plan writes the layouts out bar by bar.
func (m *model) plan(ls []layout, bound int, most bool) Plan {
	p := Plan{New: freshBars(ls), Bound: bound}
	p.Proved = p.New == p.Bound
	p.Most = p.Proved && most
	h := handout{model: m, next: make([]int, len(m.sizes)), given: make([]int, len(m.sizes)), used: make([]int, len(m.kinds))}
	ls = slices.Clone(ls)
	sortLayouts(ls)
	for _, l := range ls {
		for range l.times {
			p.add(h.bar(l))
		}
	}
	for _, piece := range m.pieces {
		p.Pieces += piece.Length * piece.Count
	}
	p.Waste = p.Drawn - p.Pieces - p.Kept
	return p
}

func (p *Plan) add(b Bar) {
	p.Bars = append(p.Bars, b)
	p.Drawn += b.Length
	if b.Keep {
		p.Kept += b.Left
	}
}

// handout shares the cuts of one length among the pieces that want it, and the
// offcuts of one length among the bars, each in the order given.
type handout struct {
	*model
	next, given []int // of each size: the piece being served, and how many it has
	used        []int // of each kind
}

func (h *handout) bar(l layout) Bar {
	b := Bar{Length: h.stock.Length, Offcut: -1}
	if l.kind != fresh {
		b.Offcut = h.kinds[l.kind].offcuts[h.used[l.kind]]
		b.Length = h.stock.Offcuts[b.Offcut]
		h.used[l.kind]++
	}
	at := 0
	for _, t := range l.takes {
		for range t.n {
			b.Cuts = append(b.Cuts, Cut{h.piece(t.size), at})
			at += h.sizes[t.size].w
		}
	}
	b.Left = max(0, b.Length-at)
	b.Keep = h.keeps(b.Left)
	return b
}

func (h *handout) piece(size int) int {
	piece := h.sizes[size].pieces[h.next[size]]
	if h.given[size]++; h.given[size] == h.pieces[piece].Count {
		h.next[size]++
		h.given[size] = 0
	}
	return piece
}

// keeps reports whether a leftover is worth keeping.
func (m *model) keeps(left int) bool { return left > 0 && left >= m.stock.Useful }

// sortLayouts puts offcuts before new lengths, the longest first, then the
// longest pieces first, in each layout too.
func sortLayouts(ls []layout) {
	for i := range ls {
		ls[i].takes = slices.SortedFunc(slices.Values(ls[i].takes), func(a, b take) int { return cmp.Compare(a.size, b.size) })
	}
	slices.SortFunc(ls, func(a, b layout) int {
		// kind − 1 without its sign puts kind 0, the new lengths, last.
		return cmp.Or(cmp.Compare(uint(a.kind-1), uint(b.kind-1)), slices.CompareFunc(a.takes, b.takes, func(a, b take) int {
			return cmp.Or(cmp.Compare(a.size, b.size), cmp.Compare(b.n, a.n))
		}))
	})
}

// alike reports whether two layouts in order are cut the same.
func alike(a, b layout) bool { return a.kind == b.kind && slices.Equal(a.takes, b.takes) }
