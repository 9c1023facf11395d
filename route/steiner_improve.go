package route

import (
	"cmp"
	"slices"
)

// improve shortens a tree until no move helps: taking out a limb (what lies
// between two forks or terminals) or a fork with all its limbs, and joining
// the parts again by the shortest ways there are; or putting in one point more.
//
// Source: the moves of Uchoa and Werneck, Fast local search for the Steiner
// problem in graphs (2012), from memory, without their data structures.
func (p *joining) improve(tree []int32) []int32 {
	if p.forks == nil {
		p.forks = newForks(p)
	}
	f := p.forks
	f.take(tree)
	for better := true; better; {
		better = false
		for _, move := range []func(int32) bool{f.without, f.with} {
			for _, v := range p.points {
				if p.work > mostWork {
					return f.tree
				}
				better = move(v) || better
			}
		}
	}
	return f.tree
}

// forks is a tree with its edges listed by point. Its buffers serve one tree
// after another.
type forks struct {
	*joining
	tree   []int32
	length int64
	first  []int32 // by point: 2·edge + side of the first edge there, -1 for none
	next   []int32 // the next such at the same point
	on     []int32 // points of the tree
	degree []int32 // edges of the tree by point

	gone   []bool  // edges taken out
	inside []bool  // points only on edges taken out
	part   []int32 // by point: the part of the tree nearest to it, -1 for none
	rest   int32   // the largest part, whose points have no entry in part
	dist   []int64
	via    []int32
	known  []int32 // points with a part
	links  []link  // those chosen
}

func newForks(p *joining) *forks {
	n, m := len(p.terminal), len(p.edges)
	f := &forks{joining: p, first: make([]int32, n), next: make([]int32, 2*m), degree: make([]int32, n),
		gone: make([]bool, m), inside: make([]bool, n), part: make([]int32, n), dist: make([]int64, n), via: make([]int32, n)}
	for v := range n {
		f.first[v], f.part[v] = -1, -1
	}
	return f
}

// take replaces the tree.
func (f *forks) take(tree []int32) {
	for _, v := range f.on {
		f.first[v], f.degree[v] = -1, 0
	}
	f.on = f.on[:0]
	f.tree, f.length = tree, f.lengthOf(tree)
	for _, e := range tree {
		for side, v := range []int{f.edges[e].U, f.edges[e].V} {
			if f.first[v] < 0 {
				f.on = append(f.on, int32(v))
			}
			f.next[2*int(e)+side] = f.first[v]
			f.first[v] = 2*e + int32(side)
			f.degree[v]++
		}
	}
}

// far is the other end of a listed edge.
func (f *forks) far(listed int32) int32 {
	e := f.edges[listed/2]
	if listed%2 == 0 {
		return int32(e.V)
	}
	return int32(e.U)
}

// limb appends the edges from a fork or terminal along a listed edge to the
// next one, and returns where that is.
func (f *forks) limb(listed int32, edges []int32) ([]int32, int32) {
	for {
		edges = append(edges, listed/2)
		v := f.far(listed)
		if f.terminal[v] || f.degree[v] != 2 {
			return edges, v
		}
		back := listed ^ 1
		listed = f.first[v]
		if listed == back {
			listed = f.next[listed]
		}
	}
}

// without tries to do without each limb at v, then without v.
func (f *forks) without(v int32) bool {
	if f.degree[v] == 0 || !f.terminal[v] && f.degree[v] < 3 {
		return false
	}
	var all, limb, ends []int32
	for listed := f.first[v]; listed >= 0; listed = f.next[listed] {
		var end int32
		limb, end = f.limb(listed, limb[:0])
		if v < end && f.rejoin(limb, []int32{v, end}) {
			return true
		}
		all, ends = append(all, limb...), append(ends, end)
	}
	return !f.terminal[v] && f.rejoin(all, ends)
}

// with tries to put v into the tree.
func (f *forks) with(v int32) bool {
	if f.degree[v] > 0 || f.terminal[v] {
		return false
	}
	beside := 0
	for _, a := range f.leaving(v) {
		if f.degree[a.to] > 0 {
			beside++
		}
	}
	if beside < 3 {
		return false
	}
	points := append(slices.Clone(f.on), v)
	for _, u := range points {
		f.in[u] = true
	}
	tree := f.span(points)
	if f.lengthOf(tree) >= f.length {
		return false
	}
	f.take(tree)
	return true
}

// link joins two parts over an edge: from the one to its end, along it, and on
// to the other.
type link struct {
	length int64
	edge   int32
}

// rejoin takes edges out of the tree, which falls into parts, one at each of
// the ends, and joins the parts again if there is a shorter way to.
func (f *forks) rejoin(out, ends []int32) bool {
	room := int64(0)
	for _, e := range out {
		f.gone[e] = true
		f.inside[f.edges[e].U], f.inside[f.edges[e].V] = true, true
		room += f.lengths[e]
	}
	for _, v := range ends {
		f.inside[v] = false
	}
	f.parts(ends)
	f.reach(room)
	f.work += 8 * len(f.known) // each costs as much as some edges in span
	better := f.choose(ends, f.between(room), room)
	var tree []int32
	if better {
		tree = f.relink()
	}
	for _, e := range out {
		f.gone[e] = false
		f.inside[f.edges[e].U], f.inside[f.edges[e].V] = false, false
	}
	for _, v := range f.known {
		f.part[v] = -1
	}
	if better {
		f.take(tree)
	}
	return better
}

// parts labels the points of each part by its end, but for the largest part,
// the rest. They are walked in step, so the largest costs no more than the
// next.
func (f *forks) parts(ends []int32) {
	walks, at := make([][]int32, len(ends)), make([]int, len(ends))
	for k, v := range ends {
		walks[k] = []int32{v}
		f.part[v] = v
	}
	for k, open := 0, len(ends); open > 1; k = (k + 1) % len(ends) {
		if at[k] == len(walks[k]) {
			continue
		}
		for l := f.first[walks[k][at[k]]]; l >= 0; l = f.next[l] {
			if v := f.far(l); !f.gone[l/2] && f.part[v] < 0 {
				f.part[v] = ends[k]
				walks[k] = append(walks[k], v)
			}
		}
		if at[k]++; at[k] == len(walks[k]) {
			open--
		}
	}
	f.known = f.known[:0]
	for k, walk := range walks {
		if at[k] == len(walk) {
			f.known = append(f.known, walk...)
			continue
		}
		f.rest = ends[k]
		for _, v := range walk {
			f.part[v] = -1
		}
	}
	for _, v := range f.known {
		f.dist[v], f.via[v] = 0, -1
	}
}

// isRest reports whether a point lies in the largest part.
func (f *forks) isRest(v int32) bool { return f.part[v] < 0 && f.degree[v] > 0 && !f.inside[v] }

// reach labels the points around the parts, each with the nearest part, as far
// as a link of less than room may need. It leaves the rest to be found.
func (f *forks) reach(room int64) {
	q := f.s.queue[:0]
	relax := func(v int32) {
		for _, a := range f.leaving(v) {
			d := f.dist[v] + a.length
			if d >= room || f.part[a.to] >= 0 && d >= f.dist[a.to] || f.isRest(a.to) {
				continue
			}
			if f.part[a.to] < 0 {
				f.known = append(f.known, a.to)
			}
			f.part[a.to], f.dist[a.to], f.via[a.to] = f.part[v], d, v
			q.push(queued{key: d, at: a.to})
		}
	}
	for _, v := range f.known[:len(f.known)] {
		relax(v)
	}
	for len(q) > 0 {
		if next := q.pop(); next.key == f.dist[next.at] {
			relax(next.at)
		}
	}
	f.s.queue = q
}

// between lists the links of less than room between different parts.
func (f *forks) between(room int64) []link {
	var links []link
	for _, v := range f.known {
		for _, a := range f.leaving(v) {
			d := f.dist[v] + a.length
			switch {
			case f.isRest(a.to):
			case v > a.to || f.part[a.to] < 0 || f.part[a.to] == f.part[v]:
				continue
			default:
				d += f.dist[a.to]
			}
			if d < room {
				links = append(links, link{d, a.edge})
			}
		}
	}
	sortLinks(links)
	return links
}

// choose picks the shortest links that join all parts, and reports whether
// they come to less than room.
func (f *forks) choose(ends []int32, links []link, room int64) bool {
	f.set.apart(ends)
	f.links = f.links[:0]
	for _, l := range links {
		e := f.edges[l.edge]
		if room > l.length && f.set.join(f.partOf(e.U), f.partOf(e.V)) {
			room -= l.length
			f.links = append(f.links, l)
		}
	}
	return len(f.links) == len(ends)-1
}

func (f *forks) partOf(v int) int32 {
	if f.part[v] < 0 {
		return f.rest
	}
	return f.part[v]
}

// relink is the shortest tree on the points of the parts and of the links.
func (f *forks) relink() []int32 {
	var points []int32
	add := func(v int32) {
		if !f.in[v] {
			f.in[v] = true
			points = append(points, v)
		}
	}
	for _, v := range f.on {
		if !f.inside[v] {
			add(v)
		}
	}
	for _, l := range f.links {
		for _, end := range []int{f.edges[l.edge].U, f.edges[l.edge].V} {
			for v := int32(end); v >= 0; v = f.via[v] {
				add(v)
				if f.part[v] < 0 {
					break // in the rest
				}
			}
		}
	}
	return f.span(points)
}

func sortLinks(links []link) {
	slices.SortFunc(links, func(a, b link) int {
		return cmp.Or(cmp.Compare(a.length, b.length), cmp.Compare(a.edge, b.edge))
	})
}
