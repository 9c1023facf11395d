package route

import (
	"math"
	"math/bits"
	"slices"
)

// solving finds the shortest tree by labels: one for each point and each set
// of terminals, holding the shortest tree that joins the point and the set. It
// settles labels in the order of what the whole tree must come to at least, as
// a shortest way is sought, and needs only those below the tree it has.
//
// Source: Dreyfus and Wagner, The Steiner problem in graphs (1971); Erickson,
// Monma and Veinott (1987); Hougardy, Silvanus and Vygen, Dijkstra meets
// Steiner (2017) for the order and the bound. From memory; the tests hold the
// lengths against published optima and against every choice of points.
type solving struct {
	*joining
	k    int       // terminals besides the root, which is the last
	far  [][]int64 // from each terminal to each point
	path [][]int64 // by set of all terminals: shortest path through it, by first and last
	at   [][]label // by point: labels by set, nil before there is one
	done [][]int32 // by point: sets that are settled
	q    queue     // of point << k | set, by twice the bound
}

type label struct {
	length int64
	how    int32 // the edge before + 1; or minus one of the two sets put together; 0 at a terminal
	done   bool
}

// solve proves the best tree shortest, or finds the shortest.
//
// Cost: 3ᵏ n for k terminals at worst; the bound cuts nearly all of it.
func (p *joining) solve() {
	s := &solving{joining: p, k: len(p.terminals) - 1,
		at: make([][]label, len(p.terminal)), done: make([][]int32, len(p.terminal))}
	s.measure()
	for i, t := range p.terminals[:s.k] {
		s.offer(t, 1<<i, 0, 0)
	}
	root, all := p.terminals[s.k], int32(1)<<s.k-1
	for len(s.q) > 0 {
		code := s.q.pop().at
		v, set := code>>s.k, code&all
		here := &s.at[v][set]
		if here.done {
			continue
		}
		here.done = true
		if v == root && set == all {
			p.keep(s.rebuild(root, all))
			break
		}
		length := here.length
		for _, a := range p.leaving(v) {
			s.offer(a.to, set, length+a.length, a.edge+1)
		}
		for _, other := range s.done[v] {
			if other&set == 0 {
				s.offer(v, set|other, length+s.at[v][other].length, -set)
			}
		}
		s.done[v] = append(s.done[v], set)
	}
	p.bound = p.shortest
}

// offer lowers a label, unless its tree must come to no less than the best.
func (s *solving) offer(v, set int32, length int64, how int32) {
	if s.at[v] == nil {
		s.at[v] = make([]label, 1<<s.k)
		for i := range s.at[v] {
			s.at[v][i].length = math.MaxInt64
		}
	}
	l := &s.at[v][set]
	if length >= l.length {
		return
	}
	bound := 2*length + s.rest(v, set)
	if bound >= 2*(s.shortest-s.fixedLength) {
		return
	}
	l.length, l.how = length, how
	s.q.push(queued{key: bound, at: v<<s.k | set})
}

// measure finds the distances from the terminals, and the shortest paths
// through each set of them.
func (s *solving) measure() {
	k := s.k + 1
	for _, t := range s.terminals {
		s.s.start(len(s.terminal), int(t))
		s.s.spread(&s.net, -1)
		far := make([]int64, len(s.terminal))
		for v := range far {
			if far[v] = s.shortest; s.s.reached(v) {
				far[v] = min(s.s.spots[v].dist, s.shortest)
			}
		}
		s.far = append(s.far, far)
	}
	s.path = make([][]int64, 1<<k)
	for set := 1; set < 1<<k; set++ {
		row := make([]int64, k*k)
		for i := range row {
			row[i] = math.MaxInt64
		}
		s.path[set] = row
		members(set, func(last int) {
			rest := set &^ (1 << last)
			if rest == 0 {
				row[last*k+last] = 0
			}
			members(rest, func(first int) {
				members(rest, func(before int) {
					if d := s.path[rest][first*k+before]; d < math.MaxInt64 {
						row[first*k+last] = min(row[first*k+last], d+s.far[before][s.terminals[last]])
					}
				})
			})
		})
	}
}

func members(set int, visit func(member int)) {
	for left := uint(set); left != 0; left &= left - 1 {
		visit(bits.TrailingZeros(left))
	}
}

// rest is twice a bound on what must be added to a tree at v to join the
// terminals outside its set: going round a tree is a tour of twice its length,
// so no shorter than the shortest tour from v through those terminals.
func (s *solving) rest(v, set int32) int64 {
	k := s.k + 1
	outside := (1<<k - 1) &^ int(set)
	row := s.path[outside]
	least := int64(math.MaxInt64)
	for i := uint(outside); i != 0; i &= i - 1 {
		first := bits.TrailingZeros(i)
		for j := i; j != 0; j &= j - 1 {
			last := bits.TrailingZeros(j)
			if through := row[first*k+last]; through < math.MaxInt64 {
				least = min(least, s.far[first][v]+through+s.far[last][v])
			}
		}
	}
	return least
}

// rebuild gathers the points of a label's tree and spans them.
func (s *solving) rebuild(v, set int32) []int32 {
	var points []int32
	stack := [][2]int32{{v, set}}
	for len(stack) > 0 {
		v, set := stack[len(stack)-1][0], stack[len(stack)-1][1]
		stack = stack[:len(stack)-1]
		points = append(points, v)
		switch how := s.at[v][set].how; {
		case how > 0:
			e := s.edges[how-1]
			stack = append(stack, [2]int32{int32(e.U+e.V) - v, set})
		case how < 0:
			stack = append(stack, [2]int32{v, -how}, [2]int32{v, set &^ -how})
		}
	}
	slices.Sort(points)
	points = slices.Compact(points)
	for _, v := range points {
		s.in[v] = true
	}
	return s.span(points)
}
