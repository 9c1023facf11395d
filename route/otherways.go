package route

import "slices"

// InTree lists the ways that a circuit would have to name for all its live cores
// to lie in a tree of runs: the shortest ways from the board in the runs that
// the circuit has now, but for one of them, -1 to leave none out. In a tree
// whatever goes out comes home by the same runs. It reports false where the
// board does not reach every place so.
//
// Cost: linear in the job's runs.
func (j *Job) InTree(circuit, without int) ([]Via, bool) {
	c := &j.Circuits[circuit]
	cores := j.Singles[c.Singles[0]:c.Singles[1]]
	w := newWays(j)
	runs := w.mark(nil, cores)
	w.kept = w.marked
	var ends []int
	for _, r := range runs {
		w.kept[r] = r != without
		ends = append(ends, j.Runs[r].From, j.Runs[r].To)
	}
	tree := w.fromUntil(j.Board.Place, ends)
	w.kept = make([]bool, len(j.Runs))
	for _, at := range ends {
		if !tree.s.reached(at) {
			return nil, false
		}
		if by := tree.s.spots[at].by; by >= 0 {
			w.kept[by] = true
		}
	}
	vias := slices.Clone(c.Via)
	for i := range cores {
		if s := &cores[i]; s.Live() && s.From.Place != s.To.Place {
			way, _, _ := w.fromUntil(s.From.Place, []int{s.To.Place}).to(s.To.Place)
			vias = withVia(vias, s, way, c)
		}
	}
	return vias, true
}

// withVia names the way of a core, unless it goes that way now. A way that is
// named already between the two places, either way round, gives way to it.
func withVia(vias []Via, s *Single, way []Pass, c *Circuit) []Via {
	if slices.EqualFunc(way, s.Way, func(a, b Pass) bool { return a.Run == b.Run }) {
		return vias
	}
	v := Via{From: s.From.Place, To: s.To.Place}
	for _, p := range way {
		v.Runs = append(v.Runs, Given[int]{V: p.Run, At: c.At})
	}
	between := func(o Via) bool { return o.From == v.From && o.To == v.To || o.From == v.To && o.To == v.From }
	if i := slices.IndexFunc(vias, between); i >= 0 {
		vias[i] = v
		return vias
	}
	return append(vias, v)
}
