package route

import (
	"math"
	"math/bits"
	"slices"
)

// orderResult is an order in which to visit points, and how good it is.
type orderResult struct {
	Order  []int   // numbers of points; the board, 0, is first
	Length float64 // m; a ring includes the way back to the board
	Bound  float64 // m; no order is shorter than this
	Exact  bool    // no order is shorter than Length
}

// mostExact is the number of points, the board among them, up to which every
// order is weighed: 14 take 3 ms, and each more doubles the time.
const mostExact = 14

// order finds the shortest order of the points of a circuit, points[0] its
// board, over the shortest ways between them. It reports false when a point
// cannot be reached.
func (w *ways) order(points []int, closed bool) (orderResult, bool) {
	if r, ok := treeOrder(w.from(points[0]), points, closed); ok {
		return r, true
	}
	dist := w.table(points)
	for _, d := range dist[0] {
		if math.IsInf(d, 1) {
			return orderResult{}, false
		}
	}
	return shortestOrder(dist, closed), true
}

// shortestOrder finds a short order of points from the distances between them,
// which are symmetric, finite, and obey the triangle inequality. A closed
// order returns to point 0; an open one ends anywhere.
//
// Up to 14 points the order is exact. Above that it is the best that a local
// search finds, held against the bound of Held and Karp; branching on that
// bound closes the gap on most problems of up to 60 points, and Exact says so.
// The work is bounded by counts, never by the clock: the same distances give
// the same order everywhere.
func shortestOrder(dist [][]float64, closed bool) orderResult {
	switch n := len(dist); {
	case n <= 1:
		return orderResult{Order: make([]int, n), Exact: true}
	case n <= mostExact:
		return everyOrder(dist, closed)
	}
	m := newMatrix(dist, closed)
	tour, length := m.search()
	b := m.branch(tour, length)
	r := orderResult{Order: m.fromBoard(b.tour)}
	r.Length = orderLength(dist, r.Order, closed)
	r.Bound = min(r.Length, b.bound-m.shift)
	if m.step > 0 {
		r.Bound = min(r.Length, m.step*math.Ceil(r.Bound/m.step-worthwhile))
	}
	if r.Exact = b.exact || r.Bound == r.Length; r.Exact {
		r.Bound = r.Length
	}
	return r
}

// orderLength adds up an order.
func orderLength(dist [][]float64, order []int, closed bool) (lengthM float64) {
	for i := 1; i < len(order); i++ {
		lengthM += dist[order[i-1]][order[i]]
	}
	if closed && len(order) > 0 {
		lengthM += dist[order[len(order)-1]][order[0]]
	}
	return lengthM
}

// everyOrder weighs all orders, set by set: best[S][k] is the shortest way
// from the board through the points of S that ends at k.
//
// Cost: 2ⁿ n².
//
// Source: Held, Karp, A dynamic programming approach to sequencing problems
// (1962), from memory; the tests weigh every order one by one.
func everyOrder(dist [][]float64, closed bool) orderResult {
	n := len(dist) - 1 // the board is no member of the sets: bit k is point k+1
	best := make([]float64, n<<n)
	before := make([]int8, n<<n)
	for set := 1; set < 1<<n; set++ {
		for left := uint(set); left != 0; left &= left - 1 {
			k := bits.TrailingZeros(left)
			rest := set &^ (1 << k)
			if rest == 0 {
				best[set*n+k], before[set*n+k] = dist[0][k+1], -1
				continue
			}
			shortest, from := math.Inf(1), int8(-1)
			row := dist[k+1]
			for r := uint(rest); r != 0; r &= r - 1 {
				p := bits.TrailingZeros(r)
				if d := best[rest*n+p] + row[p+1]; d < shortest {
					shortest, from = d, int8(p)
				}
			}
			best[set*n+k], before[set*n+k] = shortest, from
		}
	}
	all := 1<<n - 1
	end, shortest := 0, math.Inf(1)
	for k := range n {
		d := best[all*n+k]
		if closed {
			d += dist[k+1][0]
		}
		if d < shortest {
			end, shortest = k, d
		}
	}
	order := make([]int, n+1)
	for set, k := all, end; set != 0; {
		order[bits.OnesCount(uint(set))] = k + 1
		set, k = set&^(1<<k), int(before[set*n+k])
	}
	length := orderLength(dist, order, closed)
	return orderResult{Order: order, Length: length, Bound: length, Exact: true}
}

// matrix is a square of distances for tours that always return. An open order
// becomes a tour through one point more: at no distance from any, so that it
// is a free end, and tied to the board by a length so far below zero that the
// best tour uses it.
type matrix struct {
	n     int
	d     []float64 // n × n
	tie   float64   // length of a connection that must be used
	shift float64   // what the tie adds to every tour that counts
	step  float64   // every distance is a multiple of it, so every tour is
}

func newMatrix(dist [][]float64, closed bool) *matrix {
	n := len(dist)
	total := 1.0
	for _, row := range dist {
		total += slices.Max(row)
	}
	m := &matrix{n: n, tie: -2 * total, step: step(dist)}
	if !closed {
		m.n++
		m.shift = m.tie
	}
	m.d = make([]float64, m.n*m.n)
	for i, row := range dist {
		copy(m.d[i*m.n:], row)
	}
	if !closed {
		m.d[n], m.d[n*m.n] = m.tie, m.tie
	}
	return m
}

// step is the largest length, in metres, of which every distance is a multiple:
// 3 m on a grid of 3 m bays. It is 0 where they are not whole nanometres.
func step(dist [][]float64) float64 {
	all := int64(0)
	for _, row := range dist {
		for _, d := range row {
			nm := math.Round(d * nanometres)
			if math.Abs(d*nanometres-nm) > 0.01 {
				return 0
			}
			for a := int64(nm); a != 0; {
				all, a = a, all%a
			}
		}
	}
	return metres(all)
}

// row returns the distances from a point.
func (m *matrix) row(i int) []float64 { return m.d[i*m.n : (i+1)*m.n] }

// at is the distance between two points.
func (m *matrix) at(i, k int) float64 { return m.d[i*m.n+k] }

// length adds up a tour.
func (m *matrix) length(tour []int) (lengthM float64) {
	last := tour[len(tour)-1]
	for _, p := range tour {
		lengthM += m.at(last, p)
		last = p
	}
	return lengthM
}

// fromBoard turns a tour into an order from the board, without the free end.
// A ring sets off towards its lower neighbour.
func (m *matrix) fromBoard(tour []int) []int {
	n := len(tour)
	start := 0
	for tour[start] != 0 {
		start++
	}
	next, last := tour[(start+1)%n], tour[(start+n-1)%n]
	step := 1
	open := m.shift != 0
	if open && next == n-1 || !open && last < next {
		step = n - 1
	}
	order := make([]int, 0, n)
	for i := range n {
		if p := tour[(start+i*step)%n]; !open || p < n-1 {
			order = append(order, p)
		}
	}
	return order
}
