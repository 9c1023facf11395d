package route

import (
	"cmp"
	"math"
	"slices"
)

// reduce shrinks the problem: it drops edges that some shortest tree does
// without, joins terminals to points that some shortest tree joins them to,
// and puts two edges that meet at a plain point together, until nothing
// changes. The best tree shrinks with it.
//
// Source: Duin and Volgenant, Reduction tests for the Steiner problem in
// graphs (1989): their tests of degree, nearest point and bottleneck, from
// memory.
func (p *joining) reduce() {
	for changed := true; changed && !p.proved(); {
		p.layOut()
		p.follow()
		v := p.voronoi()
		p.bottlenecks(v)
		changed = p.contract(v)
	}
	p.layOut()
	p.follow()
}

// follow finds the best tree in what has become of its points.
func (p *joining) follow() {
	var points []int32
	add := func(v int) {
		if r := p.into.find(int32(v)); !p.in[r] {
			p.in[r] = true
			points = append(points, r)
		}
	}
	for _, v := range p.terminals {
		add(int(v))
	}
	for _, e := range p.best {
		add(p.ends[e].U)
		add(p.ends[e].V)
	}
	p.best = p.span(points)
	p.shortest = p.lengthOf(p.best)
	copy(p.ends, p.edges)
}

// regions says which terminal is nearest to each point, and how near.
type regions struct {
	base []int32 // -1 where none can be reached
	dist []int64
	tree [][]reach // by terminal: the shortest tree of the ways between terminals
}

type reach struct {
	to     int32
	length int64
}

// voronoi finds the regions, and the shortest tree of ways between terminals.
//
// Source: Mehlhorn, A faster approximation algorithm for the Steiner problem
// in graphs (1988), from memory.
func (p *joining) voronoi() *regions {
	n := len(p.terminal)
	r := &regions{base: make([]int32, n), dist: make([]int64, n), tree: make([][]reach, n)}
	var q queue
	for v := range n {
		r.base[v], r.dist[v] = -1, math.MaxInt64
	}
	for _, t := range p.terminals {
		r.base[t], r.dist[t] = t, 0
		q.push(queued{at: t})
	}
	for len(q) > 0 {
		next := q.pop()
		if next.key > r.dist[next.at] {
			continue
		}
		for _, a := range p.leaving(next.at) {
			if d := next.key + a.length; d < r.dist[a.to] {
				r.dist[a.to], r.base[a.to] = d, r.base[next.at]
				q.push(queued{key: d, at: a.to})
			}
		}
	}
	var links []link
	for _, e := range p.byLength {
		u, v := p.edges[e].U, p.edges[e].V
		if r.base[u] >= 0 && r.base[u] != r.base[v] {
			links = append(links, link{r.dist[u] + p.lengths[e] + r.dist[v], e})
		}
	}
	sortLinks(links)
	p.set.apart(p.terminals)
	for _, l := range links {
		a, b := r.base[p.edges[l.edge].U], r.base[p.edges[l.edge].V]
		if p.set.join(a, b) {
			r.tree[a] = append(r.tree[a], reach{b, l.length})
			r.tree[b] = append(r.tree[b], reach{a, l.length})
		}
	}
	return r
}

// bottlenecks drops each edge that is longer than every stage of some way
// round it, where stages end at terminals: a tree that used it could go without
// and use one stage instead. Edges of the best tree stay.
func (p *joining) bottlenecks(r *regions) {
	best := make([]bool, len(p.edges))
	for _, e := range p.best {
		best[e] = true
	}
	up, stage, deep := r.rooted(p.terminals)
	for _, e := range p.byLength {
		u, v := p.edges[e].U, p.edges[e].V
		longest := max(r.dist[u], r.dist[v])
		if best[e] || r.base[u] < 0 || longest >= p.lengths[e] {
			continue
		}
		a, b := r.base[u], r.base[v]
		for a != b && longest < p.lengths[e] {
			if deep[a] < deep[b] {
				a, b = b, a
			}
			longest = max(longest, stage[a])
			a = up[a]
		}
		if longest < p.lengths[e] {
			p.edges[e].U = -1
		}
	}
}

// rooted hangs the tree of terminals from the first.
func (r *regions) rooted(terminals []int32) (up []int32, stage []int64, deep []int32) {
	n := len(r.base)
	up, stage, deep = make([]int32, n), make([]int64, n), make([]int32, n)
	root := terminals[0]
	up[root] = -1
	for stack := []int32{root}; len(stack) > 0; {
		t := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, l := range r.tree[t] {
			if l.to != up[t] {
				up[l.to], stage[l.to], deep[l.to] = t, l.length, deep[t]+1
				stack = append(stack, l.to)
			}
		}
	}
	return up, stage, deep
}

// contract goes once over the points and reports whether it changed any. What
// it changes it leaves alone until the net is laid out anew.
func (p *joining) contract(r *regions) (changed bool) {
	touched := make([]bool, len(p.terminal))
	for v := range p.terminal {
		arcs := p.live(int32(v))
		switch {
		case touched[v] || len(arcs) == 0:
			continue
		case p.terminal[v]:
			if len(p.terminals) < 2 || !p.settled(int32(v), arcs, r, touched) {
				continue
			}
			for _, a := range p.leaving(int32(v)) {
				touched[a.to] = true
			}
			p.merge(int32(v), arcs[0])
		case len(arcs) == 2:
			if touched[arcs[0].to] || touched[arcs[1].to] {
				continue
			}
			touched[arcs[0].to], touched[arcs[1].to] = true, true
			p.splice(arcs[0], arcs[1])
		default:
			continue
		}
		touched[v], changed = true, true
	}
	return changed
}

// live returns the arcs at a point whose edges are not dropped, shortest first.
func (p *joining) live(v int32) []arc {
	var arcs []arc
	for _, a := range p.leaving(v) {
		if p.edges[a.edge].U >= 0 {
			arcs = append(arcs, a)
		}
	}
	slices.SortFunc(arcs, func(a, b arc) int {
		return cmp.Or(cmp.Compare(a.length, b.length), cmp.Compare(a.edge, b.edge))
	})
	return arcs
}

// settled reports whether some shortest tree joins terminal t over its shortest
// edge: when the next edge is no shorter than that one with the way on to
// another terminal.
func (p *joining) settled(t int32, arcs []arc, r *regions, touched []bool) bool {
	u := arcs[0].to
	if touched[u] {
		return false
	}
	if len(arcs) == 1 {
		return true
	}
	on := int64(math.MaxInt64 / 2)
	if r.base[u] != t {
		on = r.dist[u]
	} else {
		for _, a := range p.live(u) {
			if b := r.base[a.to]; b >= 0 && b != t {
				on = min(on, a.length+r.dist[a.to])
			}
		}
	}
	return arcs[1].length >= arcs[0].length+on
}

// merge takes terminal t into the point its edge leads to, which becomes one.
func (p *joining) merge(t int32, over arc) {
	u := over.to
	p.fixed = append(p.fixed, p.of[over.edge]...)
	p.fixedLength += p.lengths[over.edge]
	p.edges[over.edge].U = -1
	for _, a := range p.leaving(t) {
		switch e := &p.edges[a.edge]; int(t) {
		case e.U:
			e.U = int(u)
		case e.V:
			e.V = int(u)
		}
	}
	p.into[t] = u
	p.terminal[t] = false
	p.terminals = slices.DeleteFunc(p.terminals, func(v int32) bool { return v == t || v == u })
	p.terminal[u] = true
	p.terminals = append(p.terminals, u)
	slices.Sort(p.terminals)
}

// splice makes one edge of two that meet at a plain point.
func (p *joining) splice(a, b arc) {
	p.edges[b.edge].U = -1
	p.edges[a.edge].U, p.edges[a.edge].V = int(a.to), int(b.to)
	p.lengths[a.edge] += p.lengths[b.edge]
	p.of[a.edge] = append(slices.Clone(p.of[a.edge]), p.of[b.edge]...)
}
