package route

import (
	"slices"

	"tubewright/factors"
	"tubewright/factors/units"
)

// net joins a terminal with a pin at each of the places: in a chain, looped
// from terminal to terminal, or as the shortest tree where cores may be joined
// in boxes.
func (d *deriver) net(f Function, from Terminal, places []Given[int], pin Pin) {
	if d.c.Order == Shortest && len(places) > 1 {
		places = d.nearestOrder(from.Place, places)
	}
	if len(d.joints) == 0 || len(places) < 2 {
		d.chain(f, from, places, pin)
		return
	}
	end := func(place int) Terminal {
		switch {
		case place == from.Place:
			return from
		case placed(places, place):
			return Terminal{Place: place, Pin: pin}
		}
		return Terminal{Place: place, Gang: d.group, Pin: pin}
	}
	for _, h := range d.tree(f, from.Place, places) {
		a, b := end(h.from), end(h.to)
		if !d.hop(f, a, b, places[0].At) {
			return
		}
	}
}

// nearestOrder is the order of places that needs the shortest chain.
func (d *deriver) nearestOrder(from int, places []Given[int]) []Given[int] {
	stops := []int{from}
	for _, g := range places {
		stops = append(stops, g.V)
	}
	dist, ok := d.distances(stops)
	if !ok {
		return places // the chain reports what cannot be reached
	}
	best := shortestOrder(dist, false)
	out := make([]Given[int], 0, len(places))
	for _, i := range best.Order {
		if i > 0 {
			out = append(out, places[i-1])
		}
	}
	return out
}

// distances is the matrix of shortest ways between places.
func (d *deriver) distances(stops []int) ([][]float64, bool) {
	dist := make([][]float64, len(stops))
	for i := range stops {
		dist[i] = make([]float64, len(stops))
	}
	for i, from := range stops {
		tree := d.search(from, stops[i+1:])
		for k := i + 1; k < len(stops); k++ {
			length, ok := tree.length(stops[k])
			if !ok {
				return nil, false
			}
			dist[i][k], dist[k][i] = length, length
		}
	}
	return dist, true
}

// search is the shortest ways from a place to others. Those from the board are
// kept, so in a list of places it should come first: the rest of a circuit is
// near, the board may be far.
func (d *deriver) search(from int, to []int) *wayTree {
	if from != d.job.Board.Place {
		return d.ways.fromUntil(from, to)
	}
	if d.board == nil {
		d.board = d.ways.from(from)
	}
	return d.board
}

// leap is one hop between two places.
type leap struct{ from, to int }

// tree joins places to a source, its hops from the source outwards, by the
// shortest tree that branches at the places themselves and where cores may be
// joined; of those it looks at the ones on the shortest ways between the
// places, which in a tree of runs are all that can help. Each end of a core
// counts with its tail, so that nothing is joined where looping through takes
// less cable.
func (d *deriver) tree(f Function, source int, places []Given[int]) []leap {
	stops := []int{source}
	for _, g := range places {
		if !slices.Contains(stops, g.V) {
			stops = append(stops, g.V)
		}
	}
	looped := make([]leap, 0, len(places))
	ends := []int{0}
	for i := 1; i < len(stops); i++ {
		looped = append(looped, leap{stops[i-1], stops[i]})
		ends = append(ends, i)
	}
	stops = append(stops, d.jointsBetween(stops)...)
	dist, ok := d.distances(stops)
	if !ok {
		return looped // the hops report what cannot be reached
	}
	var edges []edge
	length := 0.0
	for i := range stops {
		for k := i + 1; k < len(stops); k++ {
			edges = append(edges, edge{U: i, V: k, Length: dist[i][k] + d.tail(stops[i]) + d.tail(stops[k])})
			if k == i+1 && k <= len(looped) {
				length += edges[len(edges)-1].Length
			}
		}
	}
	best := steinerTree(len(stops), edges, ends)
	if length <= best.Length {
		return looped
	}
	d.c.Joined = append(d.c.Joined, Joined{Function: f, Group: d.group, Looped: length, Least: best.Length, Bound: best.Bound, Exact: best.Exact})
	return outward(stops, edges, best.Edges)
}

// jointsBetween lists the places for joints on the shortest ways between stops.
func (d *deriver) jointsBetween(stops []int) []int {
	on := map[int]bool{}
	for i, from := range stops {
		tree := d.search(from, stops[i+1:])
		for _, to := range stops[i+1:] {
			way, _, _ := tree.to(to)
			at := from
			for _, p := range way {
				at = d.job.Runs[p.Run].other(at)
				on[at] = true
			}
		}
	}
	var out []int
	for _, p := range d.joints {
		if on[p] && !slices.Contains(stops, p) {
			out = append(out, p)
		}
	}
	return out
}

// outward lists the chosen edges as hops from the first stop outwards.
func outward(stops []int, edges []edge, chosen []int) []leap {
	var out []leap
	reached := make([]bool, len(stops))
	reached[0] = true
	for grown := true; grown; {
		grown = false
		for _, e := range chosen {
			u, v := edges[e].U, edges[e].V
			if reached[u] == reached[v] {
				continue
			}
			if reached[v] {
				u, v = v, u
			}
			reached[v], grown = true, true
			out = append(out, leap{stops[u], stops[v]})
		}
	}
	return out
}

// jointed wires points as a tree, all conductors side by side.
func (d *deriver) jointed() {
	for _, h := range d.tree(Unnamed, d.job.Board.Place, d.c.Points) {
		at := d.c.Points[0].At
		for _, g := range d.c.Points {
			if g.V == h.to {
				at = g.At
			}
		}
		if !d.hopAll(h.from, Given[int]{h.to, at}) {
			return
		}
	}
}

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
	d.index, d.c, d.group = first, &d.job.Circuits[first], 0
	own, laid := d.c.CPC, len(d.job.Singles)
	d.c.CPC.V = size
	d.spanning(stops)
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
		for _, t := range []Terminal{s.From, s.To} {
			if d.job.Places[t.Place].Kind.Terminal() && !slices.Contains(so, t.Place) {
				so = append(so, t.Place)
			}
		}
	}
	return so
}

// spanning lays the cpc from the first stop, the board, to all others: as the
// shortest tree where cores may be joined, else by one core from the board to
// the nearest stop, and looped from terminal to terminal from there.
func (d *deriver) spanning(stops []int) {
	if len(stops) < 2 {
		return
	}
	if len(d.joints) > 0 {
		places := make([]Given[int], 0, len(stops))
		for _, s := range stops[1:] {
			places = append(places, Given[int]{V: s})
		}
		for _, h := range d.tree(CPC, stops[0], places) {
			d.earth(h.from, h.to)
		}
		return
	}
	first, ok := d.search(stops[0], stops[1:]).nearest(stops[1:])
	if !ok {
		return // the live cores have reported it
	}
	d.earth(stops[0], stops[1+first])
	stops = slices.Clone(stops[1:])
	stops[0], stops[first] = stops[first], stops[0]
	for _, h := range d.ways.grow(stops) {
		d.earth(h.from, h.to)
	}
}

// earth lays the cpc of one hop.
func (d *deriver) earth(from, to int) {
	way, length, ok := d.way(from, to)
	if ok && !(d.c.CPCRule == ConduitCPC && d.allSteel(way)) {
		d.lay(CPC, Terminal{Place: from, Pin: PinE}, Terminal{Place: to, Pin: PinE}, way, length)
	}
}
