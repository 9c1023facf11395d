package route

import "slices"

// bridges knows which runs are the only way across: taking one out parts the
// places on its two sides.
type bridges struct {
	only   []bool // by run; nil before it is asked for
	number []int  // by place: room for branch to number places from 1
}

// onlyWays finds the runs that lie on no loop, once for a job.
//
// Source: Tarjan, A note on finding the bridges of a graph (1974), from
// memory; the tests take each run out in turn.
func (w *ways) onlyWays() []bool {
	if w.bridges.only != nil {
		return w.bridges.only
	}
	n := len(w.first) - 1
	w.bridges = bridges{make([]bool, len(w.runs)), make([]int, n)}
	order, low := make([]int32, n), make([]int32, n) // order 0: not yet met
	next := make([]int32, n)
	copy(next, w.first)
	by := make([]int32, n)
	count := int32(0)
	var stack []int32
	meet := func(p, run int32) {
		count++
		order[p], low[p], by[p] = count, count, run
		stack = append(stack, p)
	}
	for root := range order {
		if order[root] > 0 {
			continue
		}
		meet(int32(root), -1)
		for len(stack) > 0 {
			p := stack[len(stack)-1]
			if next[p] < w.first[p+1] {
				a := w.arcs[next[p]]
				next[p]++
				switch {
				case a.edge == by[p]:
				case order[a.to] > 0:
					low[p] = min(low[p], order[a.to])
				default:
					meet(a.to, a.edge)
				}
				continue
			}
			stack = stack[:len(stack)-1]
			if len(stack) == 0 {
				break
			}
			up := stack[len(stack)-1]
			low[up] = min(low[up], low[p])
			w.bridges.only[by[p]] = low[p] > order[up]
		}
	}
	return w.bridges.only
}

// treeOrder returns the shortest order of points when the ways between them
// run over a tree: every run on them is the only way across. points[0] is the
// board, where t starts. It reports false where a loop lies between points, or
// a point cannot be reached.
//
// Each run of the tree is crossed at least once out and once back, which a
// depth-first order attains: the ring is twice the tree. A chain need not come
// back from its end, and saves most when that is the farthest point: so each
// fork takes its deepest branch last.
//
// Cost: linear in the runs of the tree, with n log n for the points.
func treeOrder(t *wayTree, points []int, closed bool) (orderResult, bool) {
	b, ok := branch(t, points)
	if !ok {
		return orderResult{}, false
	}
	length := 2 * b.length
	if !closed {
		length -= b.spots[0].deepest
	}
	r := orderResult{Order: b.walk(), Length: metres(length), Bound: metres(length), Exact: true}
	return r, true
}

// branches is the tree that spans points, its spots numbered from the root
// down, so that each comes after the one above it.
type branches struct {
	length int64
	spots  []branchSpot
}

type branchSpot struct {
	place   int
	above   int   // the spot, -1 at the root
	deepest int64 // distance from the root to the farthest point below
	points  []int // the points here, by their number in the order
}

// branch gathers the runs on the ways from the tree's root to the points.
func branch(t *wayTree, points []int) (*branches, bool) {
	only := t.w.onlyWays()
	number := t.w.bridges.number
	b := &branches{spots: []branchSpot{{place: t.s.root, above: -1}}}
	number[t.s.root] = 1
	defer func() {
		for _, s := range b.spots {
			number[s.place] = 0
		}
	}()
	for i, point := range points {
		if _, ok := t.length(point); !ok {
			return nil, false
		}
		first, p := len(b.spots), point
		for ; number[p] == 0; p = int(t.s.spots[p].from) {
			if !only[t.s.spots[p].by] {
				return nil, false
			}
			b.spots = append(b.spots, branchSpot{place: p, deepest: t.s.spots[p].dist})
		}
		b.length += t.s.spots[point].dist - t.s.spots[p].dist
		above := number[p] - 1
		slices.Reverse(b.spots[first:])
		for k := first; k < len(b.spots); k++ {
			b.spots[k].above = above
			number[b.spots[k].place] = k + 1
			above = k
		}
		b.spots[above].points = append(b.spots[above].points, i)
	}
	for k := len(b.spots) - 1; k > 0; k-- {
		up := &b.spots[b.spots[k].above]
		up.deepest = max(up.deepest, b.spots[k].deepest)
	}
	return b, true
}

// walk lists the points depth first, the deepest branch of each fork last.
func (b *branches) walk() []int {
	first, beside := make([]int, len(b.spots)), make([]int, len(b.spots)) // 0: none
	for k := len(b.spots) - 1; k > 0; k-- {
		up := b.spots[k].above
		first[up], beside[k] = k, first[up]
	}
	var order []int
	stack := []int{0}
	for len(stack) > 0 {
		k := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		order = append(order, b.spots[k].points...)
		last := first[k]
		for c := first[k]; c > 0; c = beside[c] {
			if b.spots[c].deepest > b.spots[last].deepest {
				last = c
			}
		}
		if last > 0 {
			stack = append(stack, last)
		}
		for c := first[k]; c > 0; c = beside[c] {
			if c != last {
				stack = append(stack, c)
			}
		}
	}
	return order
}
