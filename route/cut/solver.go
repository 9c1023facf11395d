package cut

import "slices"

// solver narrows the gap between the best plan found and the bound proved.
type solver struct {
	*model
	effort *effort
	best   []layout
	fresh  int // new lengths in best
	bound  int // no plan has fewer
	pool   []layout
}

// mostRows is the largest programme: its inverse takes the square of it.
const mostRows = 1500

func newSolver(m *model, e *effort) *solver {
	s := &solver{model: m, effort: e, fresh: noEnd}
	for _, ls := range m.starts() {
		s.offer(ls)
	}
	s.bound = m.simpleBound()
	return s
}

// offer keeps the plan if it takes fewer new lengths.
func (s *solver) offer(ls []layout) {
	if n := freshBars(ls); n < s.fresh {
		s.best, s.fresh = slices.Clone(ls), n
	}
}

func (s *solver) done() bool { return s.bound >= s.fresh || s.effort.stopped }

func (s *solver) run() {
	if !s.done() && len(s.sizes)+len(s.kinds) <= mostRows {
		root := s.root()
		s.dive(root)
		if !s.done() {
			s.search(root)
		}
	}
	s.tidy()
}

// part is a plan half made: what is still needed and at hand.
type part struct {
	need, count []int
	made        []layout
	fresh       int
}

func (s *solver) root() part { return part{need: s.needs(), count: s.counts()} }

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

// finish completes the part by best fit, in the bars made and at hand.
func (s *solver) finish(p part) {
	s.offer(s.fit(p.need, append(slices.Clip(p.made), s.open(p.count)...), true))
}
