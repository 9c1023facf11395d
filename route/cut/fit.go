package cut

import "slices"

// starts are the greedy plans: pieces longest first, each into the first bar
// that takes it, offcuts before new lengths, in three orders of the offcuts;
// and each into the bar it fills best.
//
// Source: Johnson, Demers, Ullman, Garey and Graham (1974), from memory: no
// more than 11/9 of the fewest lengths, and a little.
func (m *model) starts() [][]layout {
	long := m.open(m.counts())
	short := slices.Clone(long)
	slices.Reverse(short)
	asGiven := make([]layout, len(m.stock.Offcuts))
	for k, v := range m.kinds {
		for _, o := range v.offcuts {
			asGiven[o] = layout{kind: k, room: v.room, times: 1}
		}
	}
	return [][]layout{
		m.fit(m.needs(), asGiven, false),
		m.fit(m.needs(), long, false),
		m.fit(m.needs(), short, false),
		m.fit(m.needs(), long, true),
	}
}

// open is the offcuts as bars with nothing cut yet, longest first.
func (m *model) open(count []int) []layout {
	var ls []layout
	for k, n := range count {
		if k != fresh && n > 0 {
			ls = append(ls, layout{kind: k, room: m.kinds[k].room, times: n})
		}
	}
	return ls
}

// fit adds the pieces needed to the bars, longest first, and opens new lengths
// for the rest. Bars alike are filled together, so that the cost hangs on the
// sizes and not on the pieces: O(sizes × layouts).
func (m *model) fit(need []int, bars []layout, tightest bool) []layout {
	bars = slices.Clone(bars)
	for i, n := range need {
		w := m.sizes[i].w
		for n > 0 {
			b := firstBar(bars, w)
			if tightest {
				b = tightestBar(bars, w)
			}
			if b < 0 {
				each := m.kinds[fresh].room / w
				bars = append(bars, layout{kind: fresh, room: m.kinds[fresh].room, times: (n + each - 1) / each})
				b = len(bars) - 1
			}
			bars, n = fill(bars, b, i, w, n)
		}
	}
	return slices.DeleteFunc(bars, func(l layout) bool { return len(l.takes) == 0 })
}

func firstBar(bars []layout, w int) int {
	return slices.IndexFunc(bars, func(l layout) bool { return l.room >= w })
}

func tightestBar(bars []layout, w int) int {
	best := -1
	for b, l := range bars {
		if l.room >= w && (best < 0 || l.room < bars[best].room) {
			best = b
		}
	}
	return best
}

// fill puts up to n pieces of size i into the bars of layout b, one bar after
// the other, and returns how many remain. The layout splits where its bars no
// longer are alike.
func fill(bars []layout, b, i, w, n int) ([]layout, int) {
	l := bars[b]
	each := l.room / w
	full := min(l.times, n/each)
	n -= full * each
	parts := make([]layout, 0, 3)
	if full > 0 {
		parts = append(parts, l.with(i, each, w, full))
	}
	if l.times > full && n > 0 {
		parts = append(parts, l.with(i, n, w, 1))
		n, full = 0, full+1
	}
	if l.times > full {
		l.times -= full
		parts = append(parts, l)
	}
	return slices.Replace(bars, b, b+1, parts...), n
}

// with is the layout with n more pieces of size i, so many times.
func (l layout) with(i, n, w, times int) layout {
	takes := make([]take, 0, len(l.takes)+1)
	takes = append(takes, l.takes...)
	if at := slices.IndexFunc(takes, func(t take) bool { return t.size == i }); at >= 0 {
		takes[at].n += n
	} else {
		takes = append(takes, take{i, n})
	}
	return layout{kind: l.kind, room: l.room - n*w, takes: takes, times: times}
}
