package cut

import (
	"cmp"
	"math"
	"slices"
)

// dive makes a plan from the programme: it settles part of the patterns in
// use and solves for the rest again, until nothing is left or no better plan
// can come of it. Every part is finished by best fit on the way.
//
// Source: Wäscher and Gau (1996), residual problems, from memory.
func (s *solver) dive(p part, r *relaxation, bold float64) {
	for {
		q, any := r.settle(p, bold)
		if !any {
			return
		}
		p = q
		s.finish(p)
		if s.done() {
			return
		}
		r = s.relax(p.need, p.count, s.fresh-p.fresh)
		if p.fresh+r.bound >= s.fresh {
			return
		}
	}
}

// settle adds to the part the patterns used at least once, as often as whole
// numbers go; failing any, the one used most, and the others down to a use of
// bold while the needs allow.
func (r *relaxation) settle(p part, bold float64) (part, bool) {
	used := r.inUse()
	any := false
	for _, u := range used {
		if n := p.room(u.layout, int(math.Floor(u.x+1e-4))); n > 0 {
			p, any = p.plus(u.layout, n), true
		}
	}
	if any {
		return p, true
	}
	for _, u := range used {
		if (!any || u.x >= bold) && p.room(u.layout, 1) > 0 {
			p, any = p.plus(u.layout, 1), true
		}
	}
	return p, any
}

// use is a pattern and the number the programme has of it.
type use struct {
	layout
	x float64
}

// inUse lists the programme's patterns, the most used first.
func (r *relaxation) inUse() []use {
	var us []use
	for row, col := range r.lp.basis {
		if l := r.layouts[col]; len(l.takes) > 0 {
			us = append(us, use{l, r.lp.x[row]})
		}
	}
	slices.SortStableFunc(us, func(a, b use) int { return cmp.Compare(b.x, a.x) })
	return us
}
