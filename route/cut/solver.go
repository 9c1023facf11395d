package cut

import (
	"cmp"
	"slices"
)

// solver narrows the gap between the best plan found and the bound proved.
type solver struct {
	*model
	effort *effort
	best   []layout
	fresh  int  // new lengths in best
	bound  int  // no plan has fewer
	most   bool // no plan with as few cuts more from the offcuts
	pool   []layout
	near   float64 // a programme is solved well enough below it
}

// mostRows is the largest programme: its inverse takes the square of it.
const mostRows = 1500

// boldness of the dives, tried in turn: patterns used this much are rounded up
// along with the most used. Bold dives take a few programmes, careful ones
// many; each leaves patterns for the next. Seven close five of the six random
// triplets (120 and 249 pieces) that three leave open.
var boldness = []float64{0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1}

func newSolver(m *model, e *effort) *solver {
	s := &solver{model: m, effort: e, fresh: noEnd}
	for _, ls := range m.starts() {
		s.offer(ls)
	}
	s.bound = m.simpleBound()
	return s
}

// offer keeps the plan if it takes fewer new lengths, or as many and more of
// the offcuts, or as much of both and less tube.
func (s *solver) offer(ls []layout) {
	n := freshBars(ls)
	if n > s.fresh {
		return
	}
	if n < s.fresh || cmp.Or(cmp.Compare(s.offcutsFilled(s.best), s.offcutsFilled(ls)), cmp.Compare(s.spent(ls), s.spent(s.best))) < 0 {
		s.best, s.fresh = slices.Clone(ls), n
	}
}

// done reports that the best plan is proved or the effort at an end.
func (s *solver) done() bool { return s.bound >= s.fresh || s.effort.stopped }

func (s *solver) run() {
	if !s.done() && len(s.sizes)+len(s.kinds) > mostSizes {
		s.coarse()
	}
	if !s.done() && len(s.sizes)+len(s.kinds) <= mostRows {
		s.improve()
	}
	s.tidy()
	if s.most = len(s.kinds) == 1; !s.most {
		s.most = s.mostOfOffcuts()
		s.tidy()
	}
}

func (s *solver) improve() {
	s.pool = append(s.pool, s.best...)
	all := part{need: s.needs(), count: s.counts()}
	root := s.relax(all.need, all.count, s.fresh)
	s.bound = max(s.bound, root.bound)
	for _, bold := range boldness {
		if s.done() {
			return
		}
		s.dive(all, root, bold)
	}
	if !s.done() && s.search(all) {
		s.bound = s.fresh
	}
}

// part is a plan half made: what is still needed and at hand.
type part struct {
	need, count []int
	made        []layout
	fresh       int
}

// plus is the part with one layout more, so many times.
func (p part) plus(l layout, times int) part {
	q := part{need: slices.Clone(p.need), count: slices.Clone(p.count), fresh: p.fresh}
	l.times = times
	q.made = append(slices.Clip(p.made), l)
	for _, t := range l.takes {
		q.need[t.size] -= t.n * times
	}
	if l.kind == fresh {
		q.fresh += times
	} else {
		q.count[l.kind] -= times
	}
	return q
}

// room is how often the part can take the layout, up to n.
func (p part) room(l layout, n int) int {
	n = min(n, p.count[l.kind])
	for _, t := range l.takes {
		n = min(n, p.need[t.size]/t.n)
	}
	return n
}

// finish completes the part by best fit, in the bars made and at hand.
func (s *solver) finish(p part) {
	s.effort.spend(len(p.need) * (len(p.made) + len(p.count)))
	s.offer(s.fit(p.need, append(slices.Clip(p.made), s.open(p.count)...), true))
}
