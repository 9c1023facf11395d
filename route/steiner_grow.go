package route

import (
	"math"
	"slices"
)

// sets joins numbers into sets (union by path halving).
type sets []int32

func (s sets) apart(members []int32) {
	for _, m := range members {
		s[m] = m
	}
}

func (s sets) find(m int32) int32 {
	for s[m] != m {
		s[m] = s[s[m]]
		m = s[m]
	}
	return m
}

// join reports whether the two were in different sets.
func (s sets) join(a, b int32) bool {
	a, b = s.find(a), s.find(b)
	s[a] = b
	return a != b
}

// grow starts from a terminal and joins the nearest terminal again and again,
// by the given lengths; then it shortens the tree on the points it has.
//
// Source: Takahashi, Matsuyama, An approximate solution for the Steiner
// problem in graphs (1980), from memory.
func (p *joining) grow(root int32, lengths []int64) []int32 {
	dist := make([]int64, len(p.terminal))
	for v := range dist {
		dist[v] = math.MaxInt64
	}
	from := make([]int32, len(dist))
	points := []int32{root}
	p.in[root], dist[root] = true, 0
	left := len(p.terminals) - 1
	q := queue{{at: root}}
	for len(q) > 0 && left > 0 {
		next := q.pop()
		v := next.at
		if next.key > dist[v] {
			continue
		}
		if p.terminal[v] && !p.in[v] {
			left--
			for u := v; !p.in[u]; u = from[u] {
				p.in[u], dist[u] = true, 0
				points = append(points, u)
				q.push(queued{at: u})
			}
			continue
		}
		for _, a := range p.leaving(v) {
			if d := dist[v] + lengths[a.edge]; d < dist[a.to] {
				dist[a.to], from[a.to] = d, v
				q.push(queued{key: d, at: a.to})
			}
		}
	}
	return p.span(points)
}

// span returns the shortest tree on the points, without ends that are no
// terminals, and clears p.in, which marks the points.
//
// Cost: edges. (Kruskal on a list sorted once; gonum's sorts at every call.)
func (p *joining) span(points []int32) []int32 {
	p.set.apart(points)
	tree := make([]int32, 0, len(points))
	for _, e := range p.byLength {
		p.work++
		u, v := p.edges[e].U, p.edges[e].V
		if p.in[u] && p.in[v] && p.set.join(int32(u), int32(v)) {
			tree = append(tree, e)
			if len(tree) == len(points)-1 {
				break
			}
		}
	}
	for _, v := range points {
		p.in[v] = false
	}
	return p.prune(tree)
}

// prune takes off ends that are no terminals.
func (p *joining) prune(tree []int32) []int32 {
	degree, sum := p.arms, p.sum // sum of the edges at a point: at an end, the edge
	for _, e := range tree {
		for _, v := range [2]int{p.edges[e].U, p.edges[e].V} {
			degree[v], sum[v] = 0, 0
		}
	}
	for _, e := range tree {
		for _, v := range [2]int{p.edges[e].U, p.edges[e].V} {
			degree[v]++
			sum[v] += e
		}
	}
	var off []int32
	for _, e := range tree {
		for _, v := range [2]int{p.edges[e].U, p.edges[e].V} {
			for degree[v] == 1 && !p.terminal[v] {
				last := sum[v]
				off = append(off, last)
				u := p.edges[last].U + p.edges[last].V - v
				degree[v], degree[u] = 0, degree[u]-1
				sum[u] -= last
				v = u
			}
		}
	}
	if len(off) == 0 {
		return tree
	}
	slices.Sort(off)
	return slices.DeleteFunc(tree, func(e int32) bool {
		_, found := slices.BinarySearch(off, e)
		return found
	})
}
