package route

import "math"

// ascent is a bound on every tree that joins the terminals, found by paying
// for it bit by bit. A tree, walked from one terminal, the root, must enter
// every set of points that holds another terminal and not the root. Such a set
// may ask the edges into it for an equal share of their length, as long as no
// edge is asked, in either direction, for more than it has; then the tree is
// at least as long as all that has been asked.
//
// Source: Wong, A dual ascent approach for Steiner tree problems on a directed
// graph (1984); the order of the sets after Duin and after Polzin and
// Vahdati Daneshmand. From memory; the tests hold the bound against published
// optima.
type ascent struct {
	p     *joining
	root  int32
	bound int64
	left  []int64 // what arc i still has, walked from arcs[i].to to the point whose row it is in
	mark  []int32 // by point: the last set it was in
	sets  int32
}

// ascend raises the bound from a root until every terminal is reached from it
// over arcs that have nothing left.
//
// Cost: edges times terminals in the worst case; about 10 ms for 400 terminals
// among 2500 points.
func (p *joining) ascend(root int32) *ascent {
	a := &ascent{p: p, root: root, bound: p.fixedLength, left: make([]int64, len(p.arcs)), mark: make([]int32, len(p.terminal))}
	for i := range p.arcs {
		a.left[i] = p.arcs[i].length
	}
	active := make([]bool, len(p.terminal))
	active[root] = true
	var q queue
	for _, t := range p.terminals {
		if t != root {
			active[t] = true
			q.push(queued{key: int64(len(p.leaving(t))), at: t})
		}
	}
	var set, cut []int32
	for len(q) > 0 {
		t := q.pop().at
		var alone bool
		set, cut, alone = a.gather(t, active, set[:0], cut[:0])
		if !alone {
			active[t] = false
			continue
		}
		if len(q) > 0 && int64(len(cut)) > q[0].key {
			q.push(queued{key: int64(len(cut)), at: t}) // smaller sets first
			continue
		}
		least := int64(math.MaxInt64)
		for _, i := range cut {
			least = min(least, a.left[i])
		}
		for _, i := range cut {
			a.left[i] -= least
		}
		a.bound += least
		q.push(queued{key: int64(len(cut)), at: t})
	}
	return a
}

// gather returns the points that reach t over arcs with nothing left, and the
// arcs that enter them. It gives up, alone false, at another active terminal.
func (a *ascent) gather(t int32, active []bool, set, cut []int32) (_, _ []int32, alone bool) {
	a.sets++
	set = append(set, t)
	a.mark[t] = a.sets
	for k := 0; k < len(set); k++ {
		v := set[k]
		for i := a.p.first[v]; i < a.p.first[v+1]; i++ {
			u := a.p.arcs[i].to
			switch {
			case a.mark[u] == a.sets:
			case a.left[i] > 0:
				cut = append(cut, i)
			case active[u]:
				return set, cut, false
			default:
				a.mark[u] = a.sets
				set = append(set, u)
			}
		}
	}
	inside := cut[:0] // an arc may have been met before its far end came in
	for _, i := range cut {
		if a.mark[a.p.arcs[i].to] != a.sets {
			inside = append(inside, i)
		}
	}
	return set, inside, true
}

// favoured returns lengths for growing a tree: true ones where the bound has
// used an edge up in one direction, prohibitive ones elsewhere.
func (a *ascent) favoured() []int64 {
	far := int64(1)
	for _, e := range a.p.byLength {
		far = max(far, a.p.lengths[e])
	}
	lengths := make([]int64, len(a.p.lengths))
	for e, l := range a.p.lengths {
		lengths[e] = l + far
	}
	for i, left := range a.left {
		if e := a.p.arcs[i].edge; left == 0 {
			lengths[e] = a.p.lengths[e]
		}
	}
	return lengths
}

// drop takes out of the net every edge that only a tree no shorter than the
// best can use, but for the edges of the best itself. It reports whether there
// were any.
//
// A tree that uses an arc is at least as long as the bound, and what is left
// on its way from the root to the arc, on the arc, and from there on to the
// nearest terminal.
func (p *joining) drop(a *ascent) bool {
	keep := make([]bool, len(p.edges))
	for _, e := range p.best {
		keep[e] = true
	}
	down, up := a.fromRoot(), a.toTerminal()
	room := p.shortest - a.bound
	for v := range p.terminal {
		for i := p.first[v]; i < p.first[v+1]; i++ {
			u := p.arcs[i].to
			if down[u] < room && up[v] < room && down[u]+a.left[i]+up[v] < room {
				keep[p.arcs[i].edge] = true
			}
		}
	}
	dropped := false
	for _, e := range p.byLength {
		if !keep[e] {
			p.edges[e].U = -1
			dropped = true
		}
	}
	return dropped
}

// fromRoot is what is left on the way from the root to each point.
func (a *ascent) fromRoot() []int64 {
	back := a.twins()
	return a.spread([]int32{a.root}, func(i int32) int64 { return a.left[back[i]] })
}

// toTerminal is what is left on the way from each point to its nearest
// terminal other than the root.
func (a *ascent) toTerminal() []int64 {
	var ends []int32
	for _, t := range a.p.terminals {
		if t != a.root {
			ends = append(ends, t)
		}
	}
	return a.spread(ends, func(i int32) int64 { return a.left[i] })
}

// twins maps each arc to the one in the other point's row.
func (a *ascent) twins() []int32 {
	first := make([]int32, len(a.p.edges)) // arc + 1 of the edge's first row
	twin := make([]int32, len(a.p.arcs))
	for i, arc := range a.p.arcs {
		if k := first[arc.edge] - 1; k >= 0 {
			twin[i], twin[k] = k, int32(i)
		} else {
			first[arc.edge] = int32(i) + 1
		}
	}
	return twin
}

// spread is the least sum of arc costs from any of the starts to each point.
func (a *ascent) spread(starts []int32, cost func(arc int32) int64) []int64 {
	dist := make([]int64, len(a.p.terminal))
	for v := range dist {
		dist[v] = math.MaxInt64
	}
	var q queue
	for _, s := range starts {
		dist[s] = 0
		q.push(queued{at: s})
	}
	for len(q) > 0 {
		next := q.pop()
		if next.key > dist[next.at] {
			continue
		}
		for i := a.p.first[next.at]; i < a.p.first[next.at+1]; i++ {
			u := a.p.arcs[i].to
			if d := next.key + cost(i); d < dist[u] {
				dist[u] = d
				q.push(queued{key: d, at: u})
			}
		}
	}
	return dist
}
