package cut

import "math"

// dive makes a plan from the programme: it settles the whole parts of the
// patterns' numbers, or the pattern nearest to being used, and solves for the
// rest again, until nothing is left or no better plan can come of it.
//
// Source: the residual problem and its rounding are in Wäscher and Gau (1996),
// from memory.
func (s *solver) dive(p part) {
	for first := true; ; first = false {
		s.finish(p)
		r := s.relax(p.need, p.count, s.fresh-p.fresh)
		if first {
			s.bound = max(s.bound, p.fresh+r.bound)
		}
		if s.done() || p.fresh+r.bound >= s.fresh {
			return
		}
		q, any := r.settle(p)
		if !any {
			return
		}
		p = q
	}
}

// settle adds to the part the patterns used at least once, as often as they
// are, or else the one used most.
func (r *relaxation) settle(p part) (part, bool) {
	any := false
	most, mostX := -1, 0.0
	for i, j := range r.lp.basis {
		l, x := r.layouts[j], r.lp.x[i]
		if len(l.takes) == 0 {
			continue
		}
		if n := r.times(p, l, int(math.Floor(x+1e-4))); n > 0 {
			p = p.plus(l, n)
			any = true
		}
		if x > mostX {
			most, mostX = j, x
		}
	}
	if any || most < 0 {
		return p, any
	}
	return p.plus(r.layouts[most], 1), true
}

// times is how often the part still has room for the layout, up to n.
func (r *relaxation) times(p part, l layout, n int) int {
	n = min(n, p.count[l.kind])
	for _, t := range l.takes {
		n = min(n, p.need[t.size]/t.n)
	}
	return n
}
