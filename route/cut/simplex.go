package cut

import "math"

// column is one variable of the programme: what one of it adds to each row.
type column struct {
	cost float64
	rows []int
	vals []float64
}

// simplex minimises cost·x with columns·x = rhs, x ≥ 0, by the revised method
// with an explicit inverse, from a first basis of one column a row that has
// its entry in that row alone.
//
// The inverse is held by columns and only its entries other than 0 are
// touched: a cutting pattern has a handful of entries, and so has most of the
// inverse. Columns may be added between solves. That is why this is plain Go:
// gonum's lp.Simplex takes a dense matrix of every column, gives no prices and
// starts afresh each time. One solve of the last programme by it takes about
// ten times as long as making all the columns here (BenchmarkRelaxation).
//
// The rows' right sides carry a small stagger, which breaks ties among pivots
// that would otherwise go round in circles. Nothing proved rests on x.
type simplex struct {
	effort *effort
	cost   []float64
	start  []int // of each column in rows and vals, which hold them end to end
	rows   []int32
	vals   []float64
	basis  []int // column of each row
	in     []bool
	inv    [][]float64 // inv[r][i]: row i, column r of the inverse
	rhs    []float64
	x      []float64 // of the basis
	y      []float64 // price of each row

	dir  []float64 // what one of the entering column does to x
	hits []int     // where it is not 0
	by   []float64 // its values there
}

const (
	roundoff = 1e-9
	stagger  = 1e-7
)

func newSimplex(e *effort, first []column, rhs []float64) *simplex {
	n := len(rhs)
	s := &simplex{effort: e, start: []int{0}, dir: make([]float64, n), x: make([]float64, n), y: make([]float64, n)}
	for i, v := range rhs {
		s.rhs = append(s.rhs, v+stagger*(1+math.Mod(float64(i)*0.6180339887498949, 1)))
	}
	flat := make([]float64, n*n)
	for i, c := range first {
		s.add(c)
		s.in[i] = true
		s.basis = append(s.basis, i)
		s.inv = append(s.inv, flat[i*n:(i+1)*n])
		s.inv[i][i] = 1 / c.vals[0]
		s.x[i] = s.rhs[i] / c.vals[0]
		s.y[i] = c.cost / c.vals[0]
	}
	return s
}

func (s *simplex) add(c column) {
	s.cost = append(s.cost, c.cost)
	for k, r := range c.rows {
		s.rows = append(s.rows, int32(r))
		s.vals = append(s.vals, c.vals[k])
	}
	s.start = append(s.start, len(s.rows))
	s.in = append(s.in, false)
}

// run pivots until no column would lower the cost, and reports whether it got
// there. x and y stand for the last basis in any case.
func (s *simplex) run() bool {
	for {
		j, gain := s.entering()
		if j < 0 {
			return true
		}
		s.direction(j)
		p := s.leaving()
		if p < 0 || !s.effort.spend(len(s.hits)*len(s.basis)/4+1) {
			return false
		}
		s.pivot(p, j, gain)
	}
}

// column is what one of variable j adds to each row.
func (s *simplex) column(j int) ([]int32, []float64) {
	from, to := s.start[j], s.start[j+1]
	return s.rows[from:to], s.vals[from:to]
}

// entering is the column that gains most for one of it.
func (s *simplex) entering() (int, float64) {
	best, gain := -1, -roundoff
	for j, g := range s.cost {
		if s.in[j] {
			continue
		}
		rows, vals := s.column(j)
		for k, r := range rows {
			g -= s.y[r] * vals[k]
		}
		if g < gain {
			best, gain = j, g
		}
	}
	s.effort.spend(len(s.rows))
	return best, gain
}

func (s *simplex) direction(j int) {
	clear(s.dir)
	rows, vals := s.column(j)
	for k, r := range rows {
		v := vals[k]
		for i, b := range s.inv[r] {
			s.dir[i] += v * b
		}
	}
	s.hits, s.by = s.hits[:0], s.by[:0]
	for i, d := range s.dir {
		if math.Abs(d) > 1e-12 {
			s.hits, s.by = append(s.hits, i), append(s.by, d)
		}
	}
}

// leaving is the row whose variable falls to 0 first; of equals, the one with
// the largest pivot.
func (s *simplex) leaving() int {
	best, ratio := -1, math.Inf(1)
	for _, i := range s.hits {
		if s.dir[i] <= roundoff {
			continue
		}
		r := max(0, s.x[i]) / s.dir[i]
		if r < ratio-1e-12 || r < ratio+1e-12 && s.dir[i] > s.dir[best] {
			best, ratio = i, r
		}
	}
	return best
}

func (s *simplex) pivot(p, j int, gain float64) {
	step := s.x[p] / s.dir[p]
	for _, i := range s.hits {
		s.x[i] -= step * s.dir[i]
	}
	s.x[p] = step
	for r, col := range s.inv {
		if col[p] == 0 {
			continue
		}
		f := col[p] / s.dir[p]
		for k, i := range s.hits {
			col[i] -= f * s.by[k]
		}
		col[p] = f
		s.y[r] += gain * f
	}
	s.in[s.basis[p]], s.in[j] = false, true
	s.basis[p] = j
}

// total is the cost of x.
func (s *simplex) total() float64 {
	z := 0.0
	for i, j := range s.basis {
		z += s.cost[j] * s.x[i]
	}
	return z
}
