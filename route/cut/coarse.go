package cut

import (
	"math"
	"slices"
)

// A list of many lengths is planned by groups of neighbouring lengths, whose
// programme is small whatever the list. With each group as long as its
// shortest piece the programme proves a bound for the pieces themselves. With
// each as long as its pieces are in the mean, the patterns are cut from real
// pieces, a long one beside a short one; what is left over is grouped again
// until it is short enough for the programme of its own lengths.

const (
	mostSizes   = 320 // lengths that the programme takes one by one
	groupsBound = 150 // to prove a bound with
	groupsCut   = 100 // to cut by
	mostRounds  = 12
	startStep   = 20
	effortShare = 4 // of what is left of the effort, to one programme over groups

	closeEnough = 0.3 // new lengths: the programme over means is no closer to the pieces
)

// group is a number of neighbouring sizes.
type group struct {
	sizes []int // longest first
	w     int   // as long as they are taken to be
	need  int
}

// groups parts the sizes still needed into so many groups of about as many
// pieces, each as long as its mean rounded up, or as its shortest.
func (m *model) groups(need []int, most int, shortest bool) []group {
	total := 0
	for _, n := range need {
		total += n
	}
	var out []group
	sum, done := 0, 0
	var g group
	for i, n := range need {
		if n == 0 {
			continue
		}
		g.sizes = append(g.sizes, i)
		g.need += n
		sum += n * m.sizes[i].w
		done += n
		if done*most >= total*(len(out)+1) {
			g.w = ceilDiv(sum, g.need)
			if shortest {
				g.w = m.sizes[i].w
			}
			out = append(out, g)
			g, sum = group{}, 0
		}
	}
	return out
}

// byGroups is the programme over groups, in a solver of its own.
func (s *solver) byGroups(gs []group, count []int, enough int, near float64) *relaxation {
	m := &model{stock: s.stock, kinds: s.kinds}
	need := make([]int, len(gs))
	for i, g := range gs {
		m.sizes = append(m.sizes, size{w: g.w, need: g.need})
		need[i] = g.need
	}
	share := s.effort.left / effortShare
	sub := &solver{model: m, effort: &effort{ctx: s.effort.ctx, left: share}, fresh: noEnd, near: near}
	defer func() { s.effort.spend(share - sub.effort.left) }()
	for _, tightest := range []bool{false, true} {
		sub.pool = append(sub.pool, m.fit(need, m.open(count), tightest)...)
	}
	for k, n := range count {
		if n > 0 {
			sub.pool = append(sub.pool, m.filled(k, need)...)
		}
	}
	return sub.relax(need, count, enough)
}

// filled are bars of a kind to start the programme with: so many of one size,
// then the longest that still goes in of each later size and after it. At
// first all prices are alike, and bars worth most are slow to tell apart.
func (m *model) filled(k int, need []int) (out []layout) {
	for i := range m.sizes {
		for n := 1; n <= min(need[i], m.kinds[k].room/m.sizes[i].w); n++ {
			for from := i + 1; from <= len(m.sizes); from += max(1, len(m.sizes)/startStep) {
				out = append(out, m.filledFrom(k, i, n, from, need))
			}
		}
	}
	return out
}

func (m *model) filledFrom(k, i, n, from int, need []int) layout {
	takes := []take{{i, n}}
	room := m.kinds[k].room - n*m.sizes[i].w
	for j := from; j < len(m.sizes); j++ {
		if n := min(need[j], room/m.sizes[j].w); n > 0 {
			takes = append(takes, take{j, n})
			room -= n * m.sizes[j].w
		}
	}
	return m.layoutOf(k, takes)
}

// coarse plans a list of many lengths and raises its bound.
func (s *solver) coarse() {
	p := part{need: s.needs(), count: s.counts()}
	short := s.byGroups(s.groups(p.need, groupsBound, true), p.count, s.fresh, float64(s.bound)+closeEnough)
	s.bound = max(s.bound, short.bound)
	for round := 0; round < mostRounds && !s.done() && left(p.need) > mostSizes; round++ {
		gs := s.groups(p.need, groupsCut, false)
		r := s.byGroups(gs, p.count, noEnd, float64(s.bound-p.fresh)+closeEnough)
		q, any := s.cutGroups(p, gs, r)
		if !any {
			return
		}
		p = q
		s.finish(p)
	}
	for _, bold := range boldness {
		if s.done() || left(p.need) > mostSizes {
			return
		}
		s.dive(p, s.relax(p.need, p.count, s.fresh-p.fresh), bold)
	}
}

// left is how many lengths are still needed.
func left(need []int) int {
	n := 0
	for _, v := range need {
		if v > 0 {
			n++
		}
	}
	return n
}

// cutGroups cuts the patterns that the programme uses whole times from real
// pieces, as far as those fit.
func (s *solver) cutGroups(p part, gs []group, r *relaxation) (part, bool) {
	any := false
	need := slices.Clone(p.need)
	for _, u := range r.inUse() {
		times := int(math.Floor(u.x + 1e-4))
		for range times {
			if p.count[u.kind] == 0 {
				break
			}
			l, ok := s.pick(u.layout, gs, need)
			if !ok {
				break
			}
			p, any = p.plus(l, 1), true
		}
	}
	return p, any
}

// pick takes real pieces for a pattern of groups: of each group the longest
// that leaves room for the shortest of the groups to come.
func (s *solver) pick(pattern layout, gs []group, need []int) (layout, bool) {
	var slots []int
	for _, t := range pattern.takes {
		for range t.n {
			slots = append(slots, t.size)
		}
	}
	room := s.kinds[pattern.kind].room
	var took []take
	give := func() {
		for _, t := range took {
			need[t.size] += t.n
		}
	}
	for k, g := range slots {
		rest := 0
		for _, later := range slots[k+1:] {
			rest += s.shortest(gs[later], need)
		}
		at := slices.IndexFunc(gs[g].sizes, func(i int) bool { return need[i] > 0 && s.sizes[i].w <= room-rest })
		if at < 0 {
			give()
			return layout{}, false
		}
		i := gs[g].sizes[at]
		need[i]--
		room -= s.sizes[i].w
		if last := len(took) - 1; last >= 0 && took[last].size == i {
			took[last].n++
		} else {
			took = append(took, take{i, 1})
		}
	}
	return s.layoutOf(pattern.kind, took), true
}

// shortest is the width of the shortest piece of a group still needed; where
// none is, more than any room.
func (s *solver) shortest(g group, need []int) int {
	for _, i := range slices.Backward(g.sizes) {
		if need[i] > 0 {
			return s.sizes[i].w
		}
	}
	return mostMM * 2
}
