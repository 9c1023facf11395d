package route

import (
	"math/rand/v2"
	"slices"
)

// Work of the local search: fresh starts from each kick of the best tour.
const (
	kicksPerPoint = 40
	neighbours    = 10
)

// worthwhile is the least gain, in metres, that counts as one: below it lies
// rounding, which could send the search round in circles.
const worthwhile = 1e-9

// tourSearch improves a tour by small moves until none helps, then kicks it
// and tries again, keeping the best.
//
// Moves: turning a stretch round (2-opt) and moving up to three points
// elsewhere, either way round (Or-opt). A kick swaps two neighbouring
// stretches, which neither move undoes in one step (double bridge).
//
// Source: Croes (1958), Or (1976), Martin, Otto and Felten (1991), from memory.
type tourSearch struct {
	*matrix
	tour  []int
	place []int // where each point stands in tour
	near  [][]int
	quiet []bool // no move from this point helped since its neighbours last moved
	todo  []int
}

// search returns the best tour that the local search finds, and its length.
func (m *matrix) search() ([]int, float64) {
	s := &tourSearch{matrix: m, tour: m.nearestFirst(), place: make([]int, m.n), quiet: make([]bool, m.n)}
	s.near = m.nearest()
	s.number()
	s.settle(s.tour)
	best, shortest := slices.Clone(s.tour), m.length(s.tour)
	random := rand.New(rand.NewPCG(1, 2)) // fixed: the same problem, the same answer
	for range kicksPerPoint * m.n {
		touched := s.kick(random)
		s.settle(touched)
		if length := m.length(s.tour); length < shortest-worthwhile {
			shortest = length
			copy(best, s.tour)
			continue
		} else if length > shortest+worthwhile {
			copy(s.tour, best)
			s.number()
		}
	}
	return best, shortest
}

// nearestFirst goes from the board to the nearest point not yet visited.
func (m *matrix) nearestFirst() []int {
	tour := make([]int, 1, m.n)
	used := make([]bool, m.n)
	used[0] = true
	for len(tour) < m.n {
		row, next := m.row(tour[len(tour)-1]), -1
		for k, d := range row {
			if !used[k] && (next < 0 || d < row[next]) {
				next = k
			}
		}
		used[next] = true
		tour = append(tour, next)
	}
	return tour
}

// nearest lists each point's nearest others.
func (m *matrix) nearest() [][]int {
	near := make([][]int, m.n)
	for i := range near {
		row := m.row(i)
		for k := range m.n {
			if k != i {
				near[i] = append(near[i], k)
			}
		}
		slices.SortStableFunc(near[i], func(a, b int) int {
			if row[a] < row[b] {
				return -1
			} else if row[a] > row[b] {
				return 1
			}
			return 0
		})
		near[i] = near[i][:min(neighbours, len(near[i]))]
	}
	return near
}

func (s *tourSearch) number() {
	for i, p := range s.tour {
		s.place[p] = i
	}
}

func (s *tourSearch) next(p int) int {
	if i := s.place[p] + 1; i < s.n {
		return s.tour[i]
	}
	return s.tour[0]
}

func (s *tourSearch) previous(p int) int {
	if i := s.place[p]; i > 0 {
		return s.tour[i-1]
	}
	return s.tour[s.n-1]
}

// settle improves the tour around the given points until no move helps.
func (s *tourSearch) settle(points []int) {
	for i := range s.quiet {
		s.quiet[i] = true
	}
	s.todo = s.todo[:0]
	s.wake(points...)
	for len(s.todo) > 0 {
		p := s.todo[0]
		s.todo = s.todo[1:]
		s.quiet[p] = true
		for s.turn(p) || s.move(p) {
		}
	}
}

func (s *tourSearch) wake(points ...int) {
	for _, p := range points {
		if s.quiet[p] {
			s.quiet[p] = false
			s.todo = append(s.todo, p)
		}
	}
}

// turn tries to connect p to a near point by turning the stretch between.
func (s *tourSearch) turn(p int) bool {
	for _, step := range []func(int) int{s.next, s.previous} {
		q := step(p)
		for _, c := range s.near[p] {
			gain := s.at(p, q) - s.at(p, c)
			if gain <= worthwhile {
				break
			}
			d := step(c)
			if gain+s.at(c, d)-s.at(q, d) <= worthwhile {
				continue
			}
			if q == s.next(p) {
				s.reverse(q, c)
			} else {
				s.reverse(p, d)
			}
			s.wake(p, q, c, d)
			return true
		}
	}
	return false
}

// move tries to put the stretch of up to three points that starts at p between
// two points elsewhere, p next to a near point.
func (s *tourSearch) move(p int) bool {
	for _, back := range []bool{false, true} {
		ahead, behind := s.next, s.previous
		if back {
			ahead, behind = behind, ahead
		}
		end := p
		for size := 1; size <= 3 && size+2 < s.n; size++ {
			if size > 1 {
				end = ahead(end)
			}
			if s.insert(p, end, size, ahead, behind) {
				return true
			}
		}
	}
	return false
}

// insert tries to take out the stretch from p ahead to end and to put it
// beside a point near p.
func (s *tourSearch) insert(p, end, size int, ahead, behind func(int) int) bool {
	before, after := behind(p), ahead(end)
	freed := s.at(before, p) + s.at(end, after) - s.at(before, after)
	if freed <= worthwhile {
		return false
	}
	for _, c := range s.near[p] {
		if s.at(p, c) >= freed {
			break
		}
		if s.within(c, p, end, size, ahead) {
			continue
		}
		for _, d := range []int{ahead(c), behind(c)} {
			if s.within(d, p, end, size, ahead) || freed-s.at(p, c)-s.at(end, d)+s.at(c, d) <= worthwhile {
				continue
			}
			s.carry(p, end, c, d, size, ahead)
			s.wake(before, after, p, end, c, d)
			return true
		}
	}
	return false
}

func (s *tourSearch) within(c, p, end, size int, ahead func(int) int) bool {
	for ; size > 0; size-- {
		if c == p {
			return true
		}
		p = ahead(p)
	}
	return false
}

// carry takes the stretch from p ahead to end and lays it between c and d, p
// beside c.
func (s *tourSearch) carry(p, end, c, d, size int, ahead func(int) int) {
	stretch := make([]int, 0, 3)
	for q := p; len(stretch) < size; q = ahead(q) {
		stretch = append(stretch, q)
	}
	rest := make([]int, 0, s.n)
	for _, q := range s.tour {
		if !slices.Contains(stretch, q) {
			rest = append(rest, q)
		}
	}
	at := slices.Index(rest, c)
	if rest[(at+1)%len(rest)] == d {
		at++
	} else {
		slices.Reverse(stretch)
	}
	copy(s.tour, rest[:at])
	copy(s.tour[at:], stretch)
	copy(s.tour[at+size:], rest[at:])
	s.number()
}

// reverse turns round the stretch of the tour from a on to b, or the rest of
// it, whichever is shorter.
func (s *tourSearch) reverse(a, b int) {
	i, k := s.place[a], s.place[b]
	size := (k - i + s.n) % s.n
	if 2*(size+1) > s.n {
		i, k = (k+1)%s.n, (i-1+s.n)%s.n
		size = s.n - 2 - size
	}
	for ; size > 0; size -= 2 {
		p, q := s.tour[i], s.tour[k]
		s.tour[i], s.tour[k] = q, p
		s.place[q], s.place[p] = i, k
		i, k = (i+1)%s.n, (k-1+s.n)%s.n
	}
}

// kick swaps two neighbouring stretches and returns the points at the cuts.
func (s *tourSearch) kick(random *rand.Rand) []int {
	most := min(s.n/3, 30)
	first, second := 1+random.IntN(most), 1+random.IntN(most)
	i := random.IntN(s.n)
	turned := append(slices.Clone(s.tour[i:]), s.tour[:i]...)
	copy(s.tour, turned[:1])
	copy(s.tour[1:], turned[1+first:1+first+second])
	copy(s.tour[1+second:], turned[1:1+first])
	copy(s.tour[1+first+second:], turned[1+first+second:])
	s.number()
	k := first + second
	return []int{turned[0], turned[1], turned[first], turned[first+1], turned[k], turned[(k+1)%s.n]}
}
