package route

import "math"

// edge joins two points, numbered from 0, over a length in metres.
type edge struct {
	U, V   int
	Length float64
}

// net is a graph in compressed rows: the arcs that leave point p are
// arcs[first[p]:first[p+1]], in the order of the edges. Lengths are whole
// nanometres, so that sums are exact in any order and a tie is a tie.
type net struct {
	first []int32
	arcs  []arc
	kept  []bool // by edge, those that a search may take; nil: all
}

type arc struct {
	to, edge int32
	length   int64
}

const nanometres = 1e9 // in a metre

func metres(nm int64) float64 { return float64(nm) / nanometres }

// whole rounds a length to nanometres. A length is capped so that no sum over
// n edges can overflow, nor twice one: at 115 km for 20 000 of them.
func whole(lengthM float64, n int) int64 {
	most := float64(math.MaxInt64 / (4 * int64(n+1)))
	return int64(min(math.Round(lengthM*nanometres), most))
}

// newNet lays out edges among n points. An edge with no point at one end, or
// with the same point at both, leads nowhere and is left out.
func newNet(n int, edges []edge) net {
	g := net{first: make([]int32, n+2)}
	leads := func(e edge) bool { return e.U >= 0 && e.V >= 0 && e.U != e.V }
	for _, e := range edges {
		if leads(e) {
			g.first[e.U+2]++
			g.first[e.V+2]++
		}
	}
	for p := 2; p < len(g.first); p++ {
		g.first[p] += g.first[p-1]
	}
	g.arcs = make([]arc, g.first[n+1])
	for i, e := range edges {
		if !leads(e) {
			continue
		}
		length := whole(e.Length, len(edges))
		g.arcs[g.first[e.U+1]] = arc{int32(e.V), int32(i), length}
		g.first[e.U+1]++
		g.arcs[g.first[e.V+1]] = arc{int32(e.U), int32(i), length}
		g.first[e.V+1]++
	}
	g.first = g.first[:n+1]
	return g
}

// leaving returns the arcs that leave a point.
func (g *net) leaving(p int32) []arc { return g.arcs[g.first[p]:g.first[p+1]] }

// search is Dijkstra's algorithm with buffers that outlive one run of it.
type search struct {
	root  int
	mark  uint32 // spots that carry it belong to the present search
	spots []spot
	queue queue
}

// spot is what a search knows of one point.
type spot struct {
	dist     int64
	from, by int32 // the point and the edge it is reached through, -1 at the root
	mark     uint32
	deep     int32 // runs from the root
	done     bool  // dist is final
	wanted   bool
}

// start readies the buffers for a search from root.
func (s *search) start(n, root int) {
	if len(s.spots) != n || s.mark == math.MaxUint32 {
		s.spots, s.mark = make([]spot, n), 0
	}
	s.root = root
	s.mark++
	s.queue = s.queue[:0]
	s.spots[root] = spot{from: -1, by: -1, mark: s.mark}
	s.queue.push(queued{at: int32(root)})
}

// reached reports whether the way to a point is final.
func (s *search) reached(point int) bool {
	return s.spots[point].mark == s.mark && s.spots[point].done
}

// want marks targets and returns how many there are, each counted once.
func (s *search) want(targets []int) (n int) {
	for _, t := range targets {
		spot := &s.spots[t]
		if spot.mark != s.mark {
			*spot = newSpot(s.mark)
		}
		if !spot.wanted {
			spot.wanted = true
			n++
		}
	}
	return n
}

func newSpot(mark uint32) spot { return spot{dist: math.MaxInt64, from: -1, by: -1, mark: mark} }

// spread settles points in order of distance until it has settled the wanted
// ones, or all that can be reached when wanted is negative. It returns how many
// it settled.
func (s *search) spread(g *net, wanted int) (settled int) {
	for len(s.queue) > 0 && wanted != 0 {
		next := s.queue.pop()
		here := &s.spots[next.at]
		if here.done {
			continue
		}
		here.done = true
		settled++
		if here.wanted {
			wanted--
		}
		for _, a := range g.leaving(next.at) {
			if g.kept != nil && !g.kept[a.edge] {
				continue
			}
			there := &s.spots[a.to]
			if there.mark != s.mark {
				*there = newSpot(s.mark)
			}
			dist := next.dist + a.length
			switch {
			case there.done || dist > there.dist:
			case dist < there.dist:
				there.dist, there.from, there.by, there.deep = dist, next.at, a.edge, here.deep+1
				s.queue.push(queued{dist, dist, a.to})
			case a.edge < there.by:
				there.from, there.by, there.deep = next.at, a.edge, here.deep+1
			}
		}
	}
	return settled
}

// queue is a heap of four branches a fork, smallest key first, of equal keys
// the nearest, of those the lowest number. It is written out because container/heap's calls through an
// interface doubled the time of a search.
type queue []queued

type queued struct {
	key, dist int64 // what the way may come to, and what it is up to here
	at        int32
}

func (a queued) before(b queued) bool {
	if a.key != b.key {
		return a.key < b.key
	}
	return a.dist < b.dist || a.dist == b.dist && a.at < b.at
}

func (q *queue) push(x queued) {
	h := append(*q, x)
	i := len(h) - 1
	for i > 0 {
		up := (i - 1) / 4
		if !x.before(h[up]) {
			break
		}
		h[i], i = h[up], up
	}
	h[i] = x
	*q = h
}

func (q *queue) pop() queued {
	h := *q
	top, x := h[0], h[len(h)-1]
	h = h[:len(h)-1]
	*q = h
	if len(h) == 0 {
		return top
	}
	i := 0
	for {
		low := 4*i + 1
		if low >= len(h) {
			break
		}
		for k := low + 1; k < min(4*i+5, len(h)); k++ {
			if h[k].before(h[low]) {
				low = k
			}
		}
		if !h[low].before(x) {
			break
		}
		h[i], i = h[low], low
	}
	h[i] = x
	return top
}
