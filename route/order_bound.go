package route

import (
	"container/heap"
	"math"
	"slices"
)

// Work of the bound: climbing steps at the start and at each branch, and how
// many points all trees together may span.
const (
	rootSteps   = 300
	branchSteps = 25
	boundWork   = 12_000_000
)

// oneTree is the shortest tree that spans all points but one, with the two
// shortest connections of that one. A tour is such a tree with two connections
// at every point, so none is shorter. A weight on each point, added to every
// connection there and taken off twice, changes no comparison of tours, and
// can lift the tree until it is nearly a tour.
//
// Source: Held, Karp, The traveling-salesman problem and minimum spanning
// trees (1970, 1971), from memory.
type oneTree struct {
	n      int
	cost   []float64 // n × n: forced connections below, barred ones above all others
	forced float64   // what the forced connections take off every tour
	weight []float64
	ends   [][2]int // the connections, n of them
	degree []int
	former []int     // degree one step before
	gap    []float64 // Prim's distance to the tree
	via    []int
	work   int
}

func newOneTree(m *matrix) *oneTree {
	n := m.n
	return &oneTree{n: n, cost: slices.Clone(m.d), weight: make([]float64, n), degree: make([]int, n),
		former: make([]int, n), gap: make([]float64, n), via: make([]int, n)}
}

// span finds the tree for the present weights and returns its length, a bound
// on every tour that keeps to the forced and barred connections.
//
// Cost: n². (gonum's Prim and Kruskal work on graphs of nodes in maps; on 60
// points this is over a hundred times faster.)
func (t *oneTree) span() float64 {
	last := t.n - 1 // the point outside the tree; a chain's free end
	t.ends = t.ends[:0]
	for i := range t.degree {
		t.degree[i] = 0
		t.gap[i] = math.Inf(1)
	}
	t.work += t.n * t.n
	total := 0.0
	for at, left := 0, last-1; left > 0; left-- {
		t.gap[at] = -math.MaxFloat64 // in the tree
		row, w, next := t.cost[at*t.n:], t.weight[at], -1
		for k := 1; k < last; k++ {
			if t.gap[k] == -math.MaxFloat64 {
				continue
			}
			if d := row[k] + w + t.weight[k]; d < t.gap[k] {
				t.gap[k], t.via[k] = d, at
			}
			if next < 0 || t.gap[k] < t.gap[next] {
				next = k
			}
		}
		total += t.gap[next]
		t.connect(next, t.via[next])
		at = next
	}
	first, second := -1, -1
	gap := func(k int) float64 {
		if k < 0 {
			return math.Inf(1)
		}
		return t.cost[last*t.n+k] + t.weight[last] + t.weight[k]
	}
	for k := range last {
		switch d := gap(k); {
		case d < gap(first):
			first, second = k, first
		case d < gap(second):
			second = k
		}
	}
	if second < 0 {
		return math.Inf(1)
	}
	t.connect(last, first)
	t.connect(last, second)
	total += gap(first) + gap(second)
	for _, w := range t.weight {
		total -= 2 * w
	}
	return total + t.forced
}

func (t *oneTree) connect(a, b int) {
	t.ends = append(t.ends, [2]int{a, b})
	t.degree[a]++
	t.degree[b]++
}

// isTour reports whether the tree is a tour.
func (t *oneTree) isTour() bool {
	for _, d := range t.degree {
		if d != 2 {
			return false
		}
	}
	return true
}

// climb moves the weights so as to lengthen the tree: up where too many
// connections meet, down at ends. It leaves the best weights, with their tree,
// in place, and stops once the bound reaches enough.
//
// Source: the step rule of Volgenant and Jonker (1982), from memory. Any
// weights give a valid bound, so a rule ill remembered costs time only.
func (t *oneTree) climb(steps int, enough, step float64) float64 {
	best := t.span()
	weight := slices.Clone(t.weight)
	copy(t.former, t.degree)
	fade := math.Pow(0.01, 1/float64(steps))
	for range steps {
		if best >= enough || t.isTour() {
			break
		}
		for i, d := range t.degree {
			t.weight[i] += step * (0.7*float64(d-2) + 0.3*float64(t.former[i]-2))
		}
		copy(t.former, t.degree)
		if bound := t.span(); bound > best {
			best = bound
			copy(weight, t.weight)
		}
		step *= fade
	}
	copy(t.weight, weight)
	return max(best, t.span())
}

// branching is what the bound proves of a tour.
type branching struct {
	tour  []int
	bound float64
	exact bool
}

// choice is one branch: it adds one decision to those of the choice above.
type choice struct {
	above  *choice
	a, b   int
	use    bool // the connection must be used, else it must not
	bound  float64
	weight []float64
	age    int
}

// branch proves the tour shortest, or finds a shorter one, by deciding
// connection after connection and always following the branch with the lowest
// bound. When the work runs out, that bound is what has been proved.
func (m *matrix) branch(tour []int, length float64) branching {
	t := newOneTree(m)
	best := branching{tour: tour, bound: length, exact: true}
	slack := worthwhile * (1 + length - m.shift)
	proved := func(bound float64) bool { return bound > length-max(slack, m.step-slack) }
	mean := (length - m.shift) / float64(m.n)
	open := &choices{{bound: t.climb(rootSteps, length, mean/4), weight: slices.Clone(t.weight)}}
	for age := 1; open.Len() > 0; {
		c := heap.Pop(open).(*choice)
		if proved(c.bound) {
			break // and so are all others: none has a lower bound
		}
		if t.work > boundWork {
			best.bound, best.exact = c.bound, false
			break
		}
		t.obey(m, c)
		if math.IsInf(t.span(), 1) {
			continue
		}
		if t.isTour() {
			// its bound is its length, by which it was the lowest
			if found := t.tour(); m.length(found) < length {
				length = m.length(found)
				best.tour, best.bound = found, length
			}
			continue
		}
		for _, next := range t.decide(c, m) {
			t.obey(m, next)
			next.bound = max(c.bound, t.climb(branchSteps, length, mean/20))
			next.weight = slices.Clone(t.weight)
			if !proved(next.bound) {
				next.age = age
				age++
				heap.Push(open, next)
			}
		}
	}
	return best
}

// obey lays a choice's decisions over the distances, and what follows from
// them: two used connections at a point bar all others there.
func (t *oneTree) obey(m *matrix, c *choice) {
	copy(t.cost, m.d)
	copy(t.weight, c.weight)
	t.forced = 0
	used := make([]int, t.n)
	if m.shift != 0 {
		used[0], used[t.n-1] = 1, 1
	}
	for ; c.above != nil; c = c.above {
		i, k := c.a*t.n+c.b, c.b*t.n+c.a
		if !c.use {
			t.cost[i], t.cost[k] = math.Inf(1), math.Inf(1)
			continue
		}
		t.cost[i] += m.tie
		t.cost[k] = t.cost[i]
		t.forced -= m.tie
		used[c.a]++
		used[c.b]++
	}
	for p, u := range used {
		if u < 2 {
			continue
		}
		for k := range t.n {
			if !t.isUsed(m, p, k) {
				t.cost[p*t.n+k], t.cost[k*t.n+p] = math.Inf(1), math.Inf(1)
			}
		}
	}
}

// isUsed reports whether a connection is forced; the tie of a free end is.
func (t *oneTree) isUsed(m *matrix, a, b int) bool { return t.cost[a*t.n+b] < 0 }

// tour walks the tree, once it is a tour.
func (t *oneTree) tour() []int {
	beside := make([][]int, t.n)
	for _, e := range t.ends {
		beside[e[0]] = append(beside[e[0]], e[1])
		beside[e[1]] = append(beside[e[1]], e[0])
	}
	tour := []int{0}
	for last, at := -1, 0; ; {
		next := beside[at][0]
		if next == last {
			next = beside[at][1]
		}
		if next == 0 {
			return tour
		}
		tour = append(tour, next)
		last, at = at, next
	}
}

// decide splits a choice at the point where most connections of the tree meet.
// A tour uses two of them at most: so it goes without the first; or uses it
// and goes without the second; or uses both, and no other there.
func (t *oneTree) decide(c *choice, m *matrix) []*choice {
	p := 0
	for i, d := range t.degree {
		if d > t.degree[p] {
			p = i
		}
	}
	used := 0
	var free []int
	for _, e := range t.ends {
		if e[0] != p && e[1] != p {
			continue
		}
		k := e[0] + e[1] - p
		if t.isUsed(m, p, k) {
			used++
		} else {
			free = append(free, k)
		}
	}
	var out []*choice
	with := c
	for _, k := range free[:min(len(free), 2-min(used, 2))] {
		out = append(out, &choice{above: with, a: p, b: k, weight: c.weight})
		with = &choice{above: with, a: p, b: k, use: true, weight: c.weight}
		used++
		if used == 2 {
			out = append(out, with)
		}
	}
	return out
}

// choices is a heap for container/heap: lowest bound first, of equals the
// eldest.
type choices []*choice

func (c choices) Len() int      { return len(c) }
func (c choices) Swap(i, k int) { c[i], c[k] = c[k], c[i] }
func (c choices) Less(i, k int) bool {
	return c[i].bound < c[k].bound || c[i].bound == c[k].bound && c[i].age < c[k].age
}

func (c *choices) Push(x any) { *c = append(*c, x.(*choice)) }
func (c *choices) Pop() any {
	last := (*c)[len(*c)-1]
	*c = (*c)[:len(*c)-1]
	return last
}
