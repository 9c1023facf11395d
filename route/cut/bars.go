package cut

import (
	"cmp"
	"slices"
)

// plan writes the layouts out bar by bar and shares the pieces of one length
// among those that want them, in the order given.
func (m *model) plan(ls []layout, bound int) Plan {
	p := Plan{New: freshBars(ls), Bound: bound}
	p.Proved = p.New == p.Bound
	next := make([]int, len(m.sizes))
	given := make([]int, len(m.sizes))
	used := make([]int, len(m.kinds))
	for _, l := range m.inOrder(ls) {
		for range l.times {
			b := Bar{Length: m.stock.Length, Offcut: -1}
			if l.kind != fresh {
				b.Offcut = m.kinds[l.kind].offcuts[used[l.kind]]
				b.Length = m.stock.Offcuts[b.Offcut]
				used[l.kind]++
			}
			at := 0
			for _, t := range l.takes {
				for range t.n {
					piece := m.sizes[t.size].pieces[next[t.size]]
					b.Cuts = append(b.Cuts, Cut{piece, at})
					at += m.sizes[t.size].w
					p.Pieces += m.pieces[piece].Length
					if given[t.size]++; given[t.size] == m.pieces[piece].Count {
						next[t.size]++
						given[t.size] = 0
					}
				}
			}
			b.Left = max(0, b.Length-at)
			b.Keep = m.keeps(b.Left)
			p.add(b)
		}
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

// keeps reports whether a leftover is worth keeping.
func (m *model) keeps(left int) bool { return left > 0 && left >= m.stock.Useful }

// inOrder sorts the layouts: offcuts before new lengths, longest first, then
// the longest pieces first.
func (m *model) inOrder(ls []layout) []layout {
	ls = slices.DeleteFunc(slices.Clone(ls), func(l layout) bool { return len(l.takes) == 0 })
	for i := range ls {
		ls[i].takes = slices.SortedFunc(slices.Values(ls[i].takes), func(a, b take) int { return cmp.Compare(a.size, b.size) })
	}
	last := func(l layout) int {
		if l.kind == fresh {
			return len(m.kinds)
		}
		return l.kind
	}
	slices.SortFunc(ls, func(a, b layout) int {
		return cmp.Or(cmp.Compare(last(a), last(b)), slices.CompareFunc(a.takes, b.takes, func(a, b take) int {
			return cmp.Or(cmp.Compare(a.size, b.size), cmp.Compare(b.n, a.n))
		}))
	})
	return ls
}
