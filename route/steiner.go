package route

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// steinerResult is a tree that joins terminals, and how good it is.
type steinerResult struct {
	Edges  []int   // numbers of the edges, in order; nil when none is needed
	Length float64 // m; +Inf when nothing joins the terminals
	Bound  float64 // m; no tree that joins them is shorter
	Exact  bool    // no tree is shorter than Length
}

// mostJoined is the number of terminals up to which the tree is always exact.
const mostJoined = 10

// Work of steinerTree: bounds taken, each from another terminal, and trees
// grown afresh, so many for a net of one edge and fewer as nets grow.
const (
	mostBounds  = 16
	freshGrowth = 100_000
	mostFresh   = 120
	mostInVain  = 40         // trees grown afresh since the last that helped
	mostWork    = 20_000_000 // edges looked at in improving trees
)

// steinerTree joins terminals by edges among n points, by as short a tree as
// it can find: it may branch at any point. Up to ten terminals the tree is the
// shortest there is. Above that it is the best of a local search, held against
// the bound of a dual ascent; where the two meet it is exact too. The work is
// bounded by counts, never by the clock.
//
// Each bound also says which points and edges no better tree can use. They are
// dropped, and what is left is searched again; most problems shrink to little.
func steinerTree(n int, edges []edge, terminals []int) steinerResult {
	p := newJoining(n, edges, terminals)
	if len(p.terminals) < 2 {
		return steinerResult{Exact: true}
	}
	if !p.joined() {
		return steinerResult{Length: math.Inf(1), Bound: math.Inf(1), Exact: true}
	}
	p.keep(p.grow(p.terminals[0], p.lengths))
	p.reduce()
	p.narrow()
	for left := max(1, min(mostFresh, freshGrowth/(len(p.byLength)+1))); left > 0 && !p.proved(); {
		if len(p.terminals) <= mostJoined {
			p.solve()
			break
		}
		before := p.shortest
		if left = p.wander(left); p.shortest < before {
			p.narrow() // a shorter tree lets more be dropped
		}
	}
	r := steinerResult{Length: metres(p.shortest), Bound: metres(p.bound), Exact: p.proved()}
	for _, e := range p.fixed {
		r.Edges = append(r.Edges, int(e))
	}
	for _, e := range p.best {
		for _, given := range p.of[e] {
			r.Edges = append(r.Edges, int(given))
		}
	}
	slices.Sort(r.Edges)
	return r
}

// joining is one problem, as far as it has been reduced, and the best that is
// known of it.
type joining struct {
	net
	edges     []edge    // their ends as they are now; an edge that was dropped has U -1
	lengths   []int64   // nm, by edge
	of        [][]int32 // by edge: the edges it was put together from
	byLength  []int32   // the edges that are left, shortest first
	points    []int32   // the points they join
	terminals []int32
	terminal  []bool // by point

	fixed       []int32 // edges of some shortest tree, as they were given
	fixedLength int64
	into        sets   // the point that each point has become
	ends        []edge // the ends of edges when best was last looked at

	best     []int32 // the edges of the shortest tree found, besides the fixed ones
	shortest int64   // nm, of best with the fixed edges
	bound    int64   // nm, with the fixed edges

	in        []bool  // points of the tree at hand
	arms, sum []int32 // by point, for prune
	set       sets
	s         search
	forks     *forks
	work      int // edges looked at in improving trees
}

func newJoining(n int, edges []edge, terminals []int) *joining {
	p := &joining{edges: slices.Clone(edges), ends: slices.Clone(edges), lengths: make([]int64, len(edges)),
		of: make([][]int32, len(edges)), terminal: make([]bool, n), in: make([]bool, n),
		arms: make([]int32, n), sum: make([]int32, n), set: make(sets, n), into: make(sets, n), shortest: math.MaxInt64}
	for _, t := range terminals {
		if !p.terminal[t] {
			p.terminal[t] = true
			p.terminals = append(p.terminals, int32(t))
		}
	}
	slices.Sort(p.terminals) // the order they are named in changes nothing
	for i, e := range edges {
		p.lengths[i] = whole(e.Length, len(edges))
		p.of[i] = []int32{int32(i)}
	}
	for v := range p.into {
		p.into[v] = int32(v)
	}
	p.layOut()
	return p
}

// layOut lays the net out anew from the edges that are left, without dead ends
// and with the shortest only of edges between the same points.
func (p *joining) layOut() {
	p.byLength = p.byLength[:0]
	for e := range p.edges {
		if p.edges[e].U >= 0 && p.edges[e].U != p.edges[e].V {
			p.byLength = append(p.byLength, int32(e))
		}
	}
	slices.SortStableFunc(p.byLength, func(a, b int32) int { return cmp.Compare(p.lengths[a], p.lengths[b]) })
	p.lay()
	if p.dropParallel() || p.dropEnds() {
		p.dropEnds()
		p.byLength = slices.DeleteFunc(p.byLength, func(e int32) bool { return p.edges[e].U < 0 })
		p.lay()
	}
}

func (p *joining) lay() {
	p.net = newNet(len(p.terminal), p.edges)
	for i := range p.arcs {
		p.arcs[i].length = p.lengths[p.arcs[i].edge]
	}
	p.points = p.points[:0]
	for v := range p.terminal {
		if p.first[v] < p.first[v+1] {
			p.points = append(p.points, int32(v))
		}
	}
}

func (p *joining) dropParallel() (dropped bool) {
	shortest := make([]int32, len(p.terminal)) // by far point: the edge + 1 from the point at hand
	for v := range p.terminal {
		for _, a := range p.leaving(int32(v)) {
			if e := shortest[a.to] - 1; e >= 0 && p.edges[e].U >= 0 && p.edges[a.edge].U >= 0 {
				longer := a.edge
				if a.length < p.lengths[e] {
					longer = e
				}
				p.edges[longer].U, dropped = -1, true
			}
			if p.edges[a.edge].U >= 0 {
				shortest[a.to] = a.edge + 1
			}
		}
		for _, a := range p.leaving(int32(v)) {
			shortest[a.to] = 0
		}
	}
	return dropped
}

// dropEnds drops the edges to ends that are no terminals.
func (p *joining) dropEnds() (dropped bool) {
	degree := make([]int, len(p.terminal))
	var ends []int32
	for v := range degree {
		for _, a := range p.leaving(int32(v)) {
			if p.edges[a.edge].U >= 0 {
				degree[v]++
			}
		}
		if degree[v] == 1 && !p.terminal[v] {
			ends = append(ends, int32(v))
		}
	}
	for len(ends) > 0 {
		v := ends[len(ends)-1]
		ends = ends[:len(ends)-1]
		for _, a := range p.leaving(v) {
			if p.edges[a.edge].U < 0 {
				continue
			}
			p.edges[a.edge].U, dropped = -1, true
			if degree[a.to]--; degree[a.to] == 1 && !p.terminal[a.to] {
				ends = append(ends, a.to)
			}
		}
	}
	return dropped
}

// joined reports whether the net joins the terminals at all.
func (p *joining) joined() bool {
	p.s.start(len(p.terminal), int(p.terminals[0]))
	p.s.spread(&p.net, -1)
	for _, t := range p.terminals {
		if !p.s.reached(int(t)) {
			return false
		}
	}
	return true
}

// keep takes a tree as the best, if it is shorter.
func (p *joining) keep(tree []int32) {
	if length := p.lengthOf(tree); length < p.shortest {
		p.best, p.shortest = slices.Clone(tree), length
	}
}

// lengthOf adds up a tree, the fixed edges included.
func (p *joining) lengthOf(tree []int32) int64 {
	nm := p.fixedLength
	for _, e := range tree {
		nm += p.lengths[e]
	}
	return nm
}

// proved reports whether the bound has reached the tree.
func (p *joining) proved() bool { return p.bound >= p.shortest }

// narrow takes bounds from terminals spread over the list, and after each
// grows a tree on the edges that the bound has used up (they lie where short
// trees lie), improves it, drops what no better tree can use, and reduces what
// is left.
func (p *joining) narrow() {
	for i := 0; i < mostBounds && !p.proved(); i++ {
		root := p.terminals[i*7919%len(p.terminals)]
		a := p.ascend(root)
		p.bound = max(p.bound, min(a.bound, p.shortest))
		p.keep(p.improve(p.grow(root, a.favoured())))
		if p.proved() {
			return
		}
		if !p.drop(a) && i >= 3 {
			return
		}
		p.reduce()
	}
}

// wander grows trees on lengths that chance has changed a little, improves
// them on the true ones, and keeps the best. It returns how many trees are left
// to grow: none once enough have been grown in vain.
func (p *joining) wander(left int) int {
	random := rand.New(rand.NewPCG(3, uint64(left))) // fixed: the same problem, the same answer
	lengths := make([]int64, len(p.lengths))
	before := p.shortest
	for range min(left, mostInVain) {
		for _, e := range p.byLength {
			lengths[e] = p.lengths[e] + int64(float64(p.lengths[e])*0.4*random.Float64())
		}
		root := p.terminals[random.IntN(len(p.terminals))]
		p.keep(p.improve(p.grow(root, lengths)))
		if left--; p.shortest < before {
			return left
		}
	}
	return 0
}
