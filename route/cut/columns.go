package cut

import "math"

// one is the worth of a whole new length. Prices are rounded down to whole
// parts of it before anything is proved with them.
const one = int64(1) << 40

// barsPerPrice is how many bars are made of each kind at one set of prices, no
// two with the same pieces. With 20 the programme is solved in a quarter of
// the pivots that one at a time take.
const barsPerPrice = 20

// tablesPerPrice is how many of them are looked for where each takes a table.
const tablesPerPrice = 4

// margin is what a bar must be worth beyond its cost to be a new column: more
// than the programme's own rounding.
const margin = one >> 28

// relaxation is the linear programme over cutting patterns: the fewest new
// lengths if a pattern could be used a fraction of a time.
//
//	least  Σ x over new lengths
//	with   Σ pieces × x ≥ need         each size
//	       Σ x ≤ count                 each kind of offcut
//
// Patterns are made as the prices ask for them (Gilmore and Gomory 1961, from
// memory). A pattern holds no more of a size than are needed.
type relaxation struct {
	*solver
	need, count []int
	sizeRow     []int // row of each size, −1 when none is needed
	kindRow     []int
	lp          *simplex
	layouts     []layout // of each column; no takes: a slack
	worth       []int64  // of one piece of each size, in parts of one
	ceiling     []int64  // no bar of the kind is worth more
	bound       int      // new lengths that these needs cannot do without
}

// relax solves the programme, or stops as soon as its bound reaches enough or
// can rise no further.
func (s *solver) relax(need, count []int, enough int) *relaxation {
	r := &relaxation{solver: s, need: need, count: count,
		worth: make([]int64, len(need)), ceiling: make([]int64, len(count))}
	r.first()
	s.effort.spend(len(s.pool))
	for _, l := range s.pool {
		if r.holds(l) {
			r.add(l)
		}
	}
	for r.lp.run() {
		made := r.price()
		if r.bound >= enough || r.bound >= int(math.Ceil(r.lp.total()-1e-5)) || r.lp.total() < s.near || len(made) == 0 {
			break
		}
		for _, l := range made {
			r.add(l)
			s.pool = append(s.pool, l)
		}
	}
	return r
}

// first sets up the rows, a pattern of one size for each, and the slacks.
func (r *relaxation) first() {
	r.sizeRow, r.kindRow = make([]int, len(r.need)), make([]int, len(r.count))
	var cols []column
	var rhs []float64
	room := r.kinds[fresh].room
	for i, n := range r.need {
		r.sizeRow[i] = -1
		if n > 0 {
			r.sizeRow[i] = len(rhs)
			l := layout{kind: fresh, room: room}.with(i, min(n, room/r.sizes[i].w), r.sizes[i].w, 1)
			r.layouts = append(r.layouts, l)
			cols = append(cols, column{1, []int{len(rhs)}, []float64{float64(l.takes[0].n)}})
			rhs = append(rhs, float64(n))
		}
	}
	bySize := len(rhs)
	for k, n := range r.count {
		r.kindRow[k] = -1
		if k != fresh && n > 0 {
			r.kindRow[k] = len(rhs)
			cols = append(cols, column{0, []int{len(rhs)}, []float64{1}})
			r.layouts = append(r.layouts, layout{kind: k})
			rhs = append(rhs, float64(n))
		}
	}
	r.lp = newSimplex(r.effort, cols, rhs)
	for row := range bySize {
		r.lp.add(column{0, []int{row}, []float64{-1}})
		r.layouts = append(r.layouts, layout{})
	}
}

// holds reports whether the needs and offcuts have one of that bar.
func (r *relaxation) holds(l layout) bool {
	if r.count[l.kind] == 0 {
		return false
	}
	for _, t := range l.takes {
		if r.need[t.size] < t.n {
			return false
		}
	}
	return true
}

func (r *relaxation) add(l layout) {
	var c column
	for _, t := range l.takes {
		c.rows = append(c.rows, r.sizeRow[t.size])
		c.vals = append(c.vals, float64(t.n))
	}
	if l.kind == fresh {
		c.cost = 1
	} else {
		c.rows = append(c.rows, r.kindRow[l.kind])
		c.vals = append(c.vals, 1)
	}
	r.lp.add(c)
	r.layouts = append(r.layouts, l)
}

// price makes the bars worth most of each kind at the programme's prices, and
// raises the bound.
//
// For any prices: the pieces' worth, less the most the offcuts can hold, over
// the most that a new length can hold. The sum is in whole numbers.
//
// Source: Farley (1990), from memory.
func (r *relaxation) price() []layout {
	var items []priced
	total := int64(0)
	for i, row := range r.sizeRow {
		if row >= 0 {
			r.worth[i] = int64(min(1, max(0, r.lp.y[row])) * float64(one))
			total += r.worth[i] * int64(r.need[i])
			items = append(items, priced{size: i, w: r.sizes[i].w, most: r.need[i], worth: r.worth[i]})
		}
	}
	var made []layout
	for k, n := range r.count {
		if n == 0 {
			continue
		}
		if r.effort.stopped {
			return nil
		}
		floor := one
		if k != fresh {
			floor = int64(max(0, -r.lp.y[r.kindRow[k]]) * float64(one))
		}
		p := newPricer(r.effort, items)
		takes, ceiling := p.fill(r.kinds[k].room, floor+margin)
		r.ceiling[k] = ceiling
		for n := 0; len(takes) > 0 && n < barsPerPrice && p.tables <= tablesPerPrice; n++ {
			made = append(made, r.layoutOf(k, takes))
			p.without(takes)
			takes, _ = p.fill(r.kinds[k].room, floor+margin)
		}
		if k != fresh {
			total = lessBars(total, ceiling, n)
		}
	}
	r.bound = max(r.bound, ceilDiv(int(total), int(r.ceiling[fresh])))
	return made
}

// lessBars takes off the total what n bars hold at most, down to a worth from
// which no sum here overflows.
func lessBars(total, each int64, n int) int64 {
	const depth = int64(1) << 61
	if n > 0 && each > depth/int64(n) {
		return -depth
	}
	return max(-depth, total-each*int64(n))
}

// layoutOf is one bar of that kind with those pieces.
func (m *model) layoutOf(k int, takes []take) layout {
	l := layout{kind: k, room: m.kinds[k].room, takes: takes, times: 1}
	for _, t := range takes {
		l.room -= t.n * m.sizes[t.size].w
	}
	return l
}
