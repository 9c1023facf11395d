package route

import (
	"slices"

	"tubewright/factors"
	"tubewright/factors/units"
)

// shared lays one protective conductor for the circuits that share it: the
// shortest tree over all their places, sized for the largest line conductor.
//
// Source: BS 7671, 543.1.2 (from memory).
func (d *deriver) shared() {
	var size units.SquareMM
	first := -1
	stops := []int{d.job.Board.Place}
	for i := range d.job.Circuits {
		c := &d.job.Circuits[i]
		if c.CPCRule != SharedCPC || c.Named || c.Cable.V.Form != factors.Single {
			continue
		}
		if first < 0 {
			first = i
		}
		d.job.sharers = append(d.job.sharers, i)
		size = max(size, c.Cable.V.CSA)
		stops = d.stops(stops, i)
	}
	if first < 0 || len(d.Problems) > 0 {
		return
	}
	var live []int
	for _, i := range d.job.sharers {
		live = d.ways.mark(live, d.job.Singles[d.job.Circuits[i].Singles[0]:d.job.Circuits[i].Singles[1]])
	}
	if len(d.job.sharers) == 1 {
		d.job.sharers = nil
	}
	d.index, d.c, d.group = first, &d.job.Circuits[first], 0
	own, laid := d.c.CPC, len(d.job.Singles)
	d.c.CPC.V = size
	d.keepCPC(live, func() { d.spanning(stops, d.manyFromBoard) })
	d.ways.unmark(live)
	d.c.CPC = own
	d.adopt(first, laid)
}

// adopt moves the cores laid last to the end of a circuit's own, so that the
// job's cores stand circuit by circuit.
func (d *deriver) adopt(circuit, laid int) {
	cores := slices.Clone(d.job.Singles[laid:])
	d.job.Singles = slices.Insert(d.job.Singles[:laid], d.job.Circuits[circuit].Singles[1], cores...)
	d.job.Circuits[circuit].Singles[1] += len(cores)
	for i := circuit + 1; i < len(d.job.Circuits); i++ {
		d.job.Circuits[i].Singles[0] += len(cores)
		d.job.Circuits[i].Singles[1] += len(cores)
	}
}

// stops adds the places with terminals where a circuit's cores end to those
// gathered so far.
func (d *deriver) stops(so []int, circuit int) []int {
	for _, s := range d.job.Singles[d.job.Circuits[circuit].Singles[0]:] {
		if s.Circuit != circuit {
			break
		}
		ends := []Terminal{s.From, s.To}
		if s.Function == Neutral && s.Group > 0 {
			ends = ends[1:] // borrowed from a place that has a cpc of its own
		}
		for _, t := range ends {
			if d.job.Places[t.Place].Kind.Terminal() && !slices.Contains(so, t.Place) {
				so = append(so, t.Place)
			}
		}
	}
	return so
}

// spanning lays the cpc from the first stop, the board, to all others: as the
// shortest tree where cores may be joined, else looped from terminal to
// terminal.
func (d *deriver) spanning(stops []int, loops func([]int) ([]leap, bool)) {
	if len(stops) < 2 {
		return
	}
	hops, ok := loops(stops)
	if !ok {
		return // the live cores have reported it
	}
	if joined := len(d.c.Joined); len(d.joints) > 0 {
		hops = d.tree(CPC, stops, hops)
		if d.c.CPCRule == ConduitCPC { // what it adds up is mostly steel, no core
			d.c.Joined = d.c.Joined[:joined]
		}
	}
	for _, h := range hops {
		d.earth(h.from, h.to)
	}
}

// No more than mostInTerminal cpcs of looped ones end on a terminal (common
// practice, no source: three of 2.5 mm² is what a socket's takes); of more stops
// than mostWeighed the tree is the shortest, whatever ends where.
const (
	mostInTerminal = 3
	mostWeighed    = 200
)

// oneFromBoard loops through the stops by the shortest tree to which one core
// leads from the first, the board, to the stop nearest to it.
func (d *deriver) oneFromBoard(stops []int) ([]leap, bool) {
	first, ok := d.nearestToBoard(stops[1:])
	if !ok {
		return nil, false
	}
	rest := slices.Clone(stops[1:])
	rest[0], rest[first] = rest[first], rest[0]
	hops := append([]leap{{stops[0], rest[0]}}, d.ways.grow(rest)...)
	if len(stops) > mostWeighed || !crowded(hops) {
		return hops, true
	}
	return d.looseTree(stops, 1)
}

// manyFromBoard loops through the stops by a short tree to which any number of
// cores lead from the first, the board.
func (d *deriver) manyFromBoard(stops []int) ([]leap, bool) {
	if len(stops) > mostWeighed {
		hops := d.ways.grow(stops)
		return hops, len(hops) == len(stops)-1
	}
	return d.looseTree(stops, len(stops))
}

// crowded reports whether too many cores of a tree, its hops outwards from the
// board, end on one terminal.
func crowded(hops []leap) bool {
	for i, h := range hops {
		cores := 1 // the one that reaches it
		for _, o := range hops[i:] {
			if o.from == h.to {
				cores++
			}
		}
		if cores > mostInTerminal {
			return true
		}
	}
	return false
}

// looseTree joins each stop in turn where it is nearest and there is room: at
// the first, the board, for so many cores.
func (d *deriver) looseTree(stops []int, atBoard int) ([]leap, bool) {
	dist, ok := d.distances(stops)
	if !ok {
		return nil, false
	}
	cores := make([]int, len(stops)) // at each, once reached
	full := func(i int) bool {
		if i == 0 {
			return cores[0] == atBoard
		}
		return cores[i] == 0 || cores[i] == mostInTerminal
	}
	var hops []leap
	for len(hops) < len(stops)-1 {
		from, to := -1, -1
		for i := range stops {
			if full(i) {
				continue
			}
			for k := 1; k < len(stops); k++ {
				if cores[k] == 0 && (to < 0 || dist[i][k] < dist[from][to]) {
					from, to = i, k
				}
			}
		}
		cores[from]++
		cores[to]++
		hops = append(hops, leap{stops[from], stops[to]})
	}
	return hops, true
}

// earth lays the cpc of one hop.
func (d *deriver) earth(from, to int) {
	way, length, ok := d.way(from, to)
	if ok && !(d.c.CPCRule == ConduitCPC && d.allSteel(way)) {
		d.lay(CPC, Terminal{Place: from, Pin: PinE}, Terminal{Place: to, Pin: PinE}, way, length)
	}
}

// cpc lays the protective conductor of a hop, as the circuit's rule has it.
func (d *deriver) cpc(from, to Terminal, way []Pass, length float64) {
	if d.c.CPCRule == SharedCPC && !d.c.Named || d.c.CPCRule == ConduitCPC && d.allSteel(way) {
		return
	}
	from.Pin, to.Pin = PinE, PinE
	d.lay(CPC, from, to, way, length)
}

func (d *deriver) allSteel(way []Pass) bool {
	for _, p := range way {
		if !d.job.Runs[p.Run].Enc.Ferromagnetic() {
			return false
		}
	}
	return true
}
