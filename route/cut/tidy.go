package cut

import (
	"context"
	"slices"
)

// tidySteps is the work of tidying, in pairs of pieces looked at.
const tidySteps = 4_000_000

// tidier moves pieces about a plan to cut more from the offcuts at hand, then
// to waste less, and then to leave long leftovers rather than many. It never
// opens a new length.
type tidier struct {
	*model
	bars  []layout // those not cut too: the offcuts still at hand
	steps int
}

// tidy improves the best plan.
func (s *solver) tidy() {
	t := &tidier{model: s.model, steps: tidySteps}
	t.bars = append(slices.Clone(s.best), s.open(s.spare(s.best))...)
	for t.pass(s.effort.ctx) {
	}
	s.best = slices.DeleteFunc(t.bars, func(l layout) bool { return len(l.takes) == 0 })
	s.fresh = freshBars(s.best)
}

// spare counts the bars of each kind that the plan leaves at hand.
func (m *model) spare(ls []layout) []int {
	count := m.counts()
	for _, l := range ls {
		if l.kind != fresh {
			count[l.kind] -= l.times
		}
	}
	return count
}

// offcutsFilled is what the plan cuts from offcuts, saw cuts included.
func (m *model) offcutsFilled(ls []layout) int {
	sum := 0
	for _, l := range ls {
		if l.kind != fresh {
			sum += (m.kinds[l.kind].room - l.room) * l.times
		}
	}
	return sum
}

// spent is the tube a plan uses up: its bars, less what is kept of them.
func (m *model) spent(ls []layout) int {
	sum := 0
	for _, l := range ls {
		mm, _ := m.value(l.kind, l.room)
		sum += mm * l.times
	}
	return sum
}

// value is what a bar with that room left uses up, and the square of what can
// be used again: the sum of squares favours one long leftover.
func (m *model) value(kind, room int) (spent, again int) {
	length := m.kinds[kind].room - m.stock.Kerf
	switch left := max(0, room-m.stock.Kerf); {
	case room == m.kinds[kind].room && kind == fresh:
		return 0, 0
	case room == m.kinds[kind].room:
		return 0, left * left
	case m.keeps(left):
		return length - left, left * left
	}
	return length, 0
}

// pass looks at each pair of bars once and reports whether anything changed.
func (t *tidier) pass(ctx context.Context) bool {
	changed := false
	for a := 0; a < len(t.bars); a++ {
		for b := 0; b < len(t.bars); b++ {
			if t.steps < 0 || ctx.Err() != nil {
				return false
			}
			if a == b && t.bars[a].times < 2 {
				continue
			}
			if x, ok := t.better(t.bars[a], t.bars[b]); ok {
				t.swap(a, b, x)
				changed = true
			}
		}
	}
	t.bars = merged(t.bars)
	return changed
}

// exchange is what one bar gives another and takes from it.
type exchange struct{ give, take []take }

// twoForOne finds two pieces of a new length, the nth size of a and a shorter,
// that fill an offcut better than one piece in it.
func (t *tidier) twoForOne(a, b layout, n int) (exchange, bool) {
	if a.kind != fresh || b.kind == fresh {
		return exchange{}, false
	}
	i := a.takes[n]
	for _, k := range a.takes[n:] {
		give := []take{{i.size, 1}, {k.size, 1}}
		if k.size == i.size {
			if i.n < 2 {
				continue
			}
			give = []take{{i.size, 2}}
		}
		for _, j := range b.takes {
			if t.gains(a, b, t.sizes[i.size].w+t.sizes[k.size].w-t.sizes[j.size].w) {
				return exchange{give, []take{{j.size, 1}}}, true
			}
		}
	}
	return exchange{}, false
}

// better finds an exchange that gains: one piece moved, two pieces swapped, two
// for one in an offcut, or all of one bar for all of the other.
func (t *tidier) better(a, b layout) (exchange, bool) {
	for n, i := range a.takes {
		give := []take{{i.size, 1}}
		if t.gains(a, b, t.sizes[i.size].w) {
			return exchange{give: give}, true
		}
		for _, j := range b.takes {
			if t.gains(a, b, t.sizes[i.size].w-t.sizes[j.size].w) {
				return exchange{give, []take{{j.size, 1}}}, true
			}
		}
		if x, ok := t.twoForOne(a, b, n); ok {
			return x, true
		}
	}
	if a.kind != b.kind && t.gains(a, b, t.filled(a)-t.filled(b)) {
		return exchange{a.takes, b.takes}, true
	}
	return exchange{}, false
}

func (t *tidier) filled(l layout) int { return t.kinds[l.kind].room - l.room }

// gains reports whether a giving b that much more than it takes is better.
func (t *tidier) gains(a, b layout, mm int) bool {
	t.steps--
	if mm == 0 && a.kind == b.kind || a.room+mm < 0 || b.room-mm < 0 {
		return false
	}
	if more := t.fromOffcuts(a, b, mm); more != 0 {
		return more > 0
	}
	spentA, againA := t.value(a.kind, a.room)
	spentB, againB := t.value(b.kind, b.room)
	spentA2, againA2 := t.value(a.kind, a.room+mm)
	spentB2, againB2 := t.value(b.kind, b.room-mm)
	was, is := spentA+spentB, spentA2+spentB2
	return is < was || is == was && againA2+againB2 > againA+againB
}

// fromOffcuts is how much more is cut from offcuts when a gives b that much
// more than it takes. A new length that is emptied is one the less, which
// comes first.
func (t *tidier) fromOffcuts(a, b layout, mm int) int {
	switch {
	case mm == 0 || (a.kind == fresh) == (b.kind == fresh):
		return 0
	case a.kind == fresh:
		return mm
	}
	return -mm
}

// swap makes the exchange in as many pairs of bars a and b as there are.
func (t *tidier) swap(a, b int, x exchange) {
	from, to := t.bars[a], t.bars[b]
	times := min(from.times, to.times)
	if a == b {
		times /= 2
	}
	t.bars[a].times -= times
	t.bars[b].times -= times
	t.put(a, t.less(from, x.give, x.take, times))
	t.put(b, t.less(to, x.take, x.give, times))
}

// put replaces a layout with no bars left, or adds to the list.
func (t *tidier) put(at int, l layout) {
	if t.bars[at].times == 0 {
		t.bars[at] = l
	} else {
		t.bars = append(t.bars, l)
	}
}

// less is the layout without what it gives and with what it takes.
func (t *tidier) less(l layout, give, in []take, times int) layout {
	for _, g := range give {
		l = l.with(g.size, -g.n, t.sizes[g.size].w, times)
	}
	for _, g := range in {
		l = l.with(g.size, g.n, t.sizes[g.size].w, times)
	}
	l.takes = slices.DeleteFunc(slices.Clone(l.takes), func(k take) bool { return k.n == 0 })
	l.times = times
	return l
}

// merged is the layouts without those of no bars, those alike made one.
func merged(ls []layout) []layout {
	sortLayouts(ls)
	var out []layout
	for _, l := range ls {
		if last := len(out) - 1; last >= 0 && alike(out[last], l) {
			out[last].times += l.times
		} else if l.times > 0 {
			out = append(out, l)
		}
	}
	return out
}
