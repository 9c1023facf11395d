package route

import "slices"

// net joins a terminal with a pin at each of the places: in a chain, looped
// from terminal to terminal, or as the shortest tree where cores may be joined
// in boxes.
func (d *deriver) net(f Function, from Terminal, places []Given[int], pin Pin) {
	if (d.c.Order == AsListed || d.listed) && len(d.joints) == 0 {
		d.chain(f, from, places, pin)
		return
	}
	heads, behind := d.heads(places)
	heads = d.sorted(from.Place, heads)
	if len(d.joints) == 0 || len(heads) < 2 {
		d.chain(f, from, heads, pin)
		d.behindNet(f, behind, pin)
		return
	}
	_, hops := chained(from.Place, heads)
	d.joinNet(joinNet{f: f, from: from, pin: pin, ends: heads, behind: behind, looped: hops})
}

// sorted puts places in the order that needs the shortest chain, where the
// circuit asks for it.
func (d *deriver) sorted(from int, places []Given[int]) []Given[int] {
	if d.c.Order == Shortest && !d.listed && len(places) > 1 {
		return d.nearestOrder(from, places)
	}
	return places
}

// behindNet takes a net on through isolators.
func (d *deriver) behindNet(f Function, behind []Given[int], pin Pin) {
	does := d.does(f)
	for _, g := range behind {
		d.hop(does(g.V), Terminal{Place: d.behind[g.V], Pin: pin}, Terminal{Place: g.V, Pin: pin}, g.At)
	}
}

// joinNet is a net of one conductor that may be joined in boxes.
type joinNet struct {
	f            Function
	from         Terminal
	pin          Pin          // where it ends, and what a joint bears
	ends, behind []Given[int] // places that take it, and those behind isolators
	far          []Terminal   // ends with other pins
	looped       []leap       // how it goes unjoined; it may branch at any place on it
}

// joinNet lays a net as the shortest tree.
func (d *deriver) joinNet(n joinNet) {
	stops := []int{n.from.Place}
	for _, g := range n.ends {
		stops = append(stops, g.V)
	}
	at := map[int]Terminal{n.from.Place: n.from}
	for _, t := range n.far {
		at[t.Place] = t
		stops = append(stops, t.Place)
	}
	end := func(place int) Terminal {
		if t, ok := at[place]; ok {
			return t
		}
		t := Terminal{Place: place, Pin: n.pin}
		if !d.job.Places[place].Kind.Terminal() || !slices.Contains(stops, place) {
			t.Gang = d.group
		}
		return t
	}
	does := d.does(n.f)
	for _, h := range d.joinedTree(n.f, stops, n.looped, n.behind) {
		if !d.hop(does(h.to), end(h.from), end(h.to), n.ends[0].At) {
			return
		}
	}
	d.behindNet(n.f, n.behind, n.pin)
}

// does tells what a core of a net does by where it leads: the line's tree takes
// in the permanent line.
func (d *deriver) does(f Function) func(to int) Function {
	var permanents []Given[int]
	if f == Line && len(d.joints) > 0 {
		permanents = d.permanents()
	}
	return func(to int) Function {
		if placed(permanents, to) {
			return PermanentLine
		}
		return f
	}
}

// isolated finds the loads of the circuit that are fed through an isolator.
func (d *deriver) isolated() {
	clear(d.behind)
	for load, isolator := range d.c.behind(d.job) {
		d.behind[load] = isolator - 1
	}
}

// heads parts places into those that may be reached in any way and those that
// are reached through another of them, each place once.
func (d *deriver) heads(places []Given[int]) (heads, behind []Given[int]) {
	for _, g := range places {
		switch from, ok := d.behind[g.V]; {
		case placed(heads, g.V) || placed(behind, g.V):
		case ok && placed(places, from):
			behind = append(behind, g)
		default:
			heads = append(heads, g)
		}
	}
	return heads, behind
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
	listed := 0.0
	for i := 1; i < len(stops); i++ {
		listed += dist[i-1][i]
	}
	d.loose += max(0, min(listed, best.Length)-best.Bound)
	if best.Length >= listed-1e-9 {
		return places
	}
	out := make([]Given[int], 0, len(places))
	for _, i := range best.Order {
		if i > 0 {
			out = append(out, places[i-1])
		}
	}
	return out
}

// distances is the matrix of how far places are from one another, each way that
// the circuit names taken as named.
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
			if v := d.via(from, stops[k]); v != nil {
				length = d.viaLength(v)
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
	return d.fromBoard()
}

// fromBoard is the shortest ways from the board, searched once in all runs, and
// once in those that are kept to.
func (d *deriver) fromBoard() *wayTree {
	if d.ways.kept != nil {
		return d.ways.inside(d.job.Board.Place)
	}
	return d.home()
}

// home is the shortest ways from the board in all runs.
func (d *deriver) home() *wayTree {
	if d.board == nil {
		d.board = d.ways.from(d.job.Board.Place)
	}
	return d.board
}

// leap is one hop between two places.
type leap struct{ from, to int }

// chained lists the source and the places, each once, and the hops that loop
// from one to the next.
func chained(source int, places []Given[int]) (stops []int, hops []leap) {
	stops = []int{source}
	for _, g := range places {
		if !slices.Contains(stops, g.V) {
			hops = append(hops, leap{stops[len(stops)-1], g.V})
			stops = append(stops, g.V)
		}
	}
	return stops, hops
}

// tree joins stops to the first of them, its hops from there outwards, by the
// shortest tree that branches at the stops themselves, at other places that it
// is looped through, and where cores may be
// joined; of those it looks at the ones on the shortest ways between the
// stops, which in a tree of runs are all that can help. Each end of a core
// counts with its tail, so that nothing is joined where looping through, as
// given, takes less cable.
func (d *deriver) tree(f Function, stops []int, looped []leap) []leap {
	ends := make([]int, len(stops))
	for i := range ends {
		ends[i] = i
	}
	for _, h := range looped {
		if !slices.Contains(stops, h.to) {
			stops = append(slices.Clip(stops), h.to)
		}
	}
	stops = slices.Concat(stops, d.jointsBetween(stops))
	dist, ok := d.distances(stops)
	if !ok {
		return looped // the hops report what cannot be reached
	}
	var edges []edge
	for i := range stops {
		for k := i + 1; k < len(stops); k++ {
			edges = append(edges, edge{U: i, V: k, Length: dist[i][k] + d.tail(stops[i]) + d.tail(stops[k])})
		}
	}
	length := 0.0
	for _, h := range looped {
		i, k := slices.Index(stops, h.from), slices.Index(stops, h.to)
		length += dist[i][k] + d.tail(h.from) + d.tail(h.to)
	}
	best := steinerTree(len(stops), edges, ends)
	if length <= best.Length+1e-9 {
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
	heads, behind := d.heads(d.c.Points)
	stops, hops := chained(d.job.Board.Place, heads)
	for _, h := range d.joinedTree(Unnamed, stops, hops, behind) {
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
	d.through(behind)
}

// joinedTree is tree; what it saves is reported with the cores on to the loads
// behind isolators, which are laid either way.
func (d *deriver) joinedTree(f Function, stops []int, looped []leap, behind []Given[int]) []leap {
	before := len(d.c.Joined)
	hops := d.tree(f, stops, looped)
	for i := before; i < len(d.c.Joined); i++ {
		for _, g := range behind {
			length, _ := d.length(d.behind[g.V], g.V)
			length += d.tail(d.behind[g.V]) + d.tail(g.V)
			n := &d.c.Joined[i]
			n.Looped, n.Least, n.Bound = n.Looped+length, n.Least+length, n.Bound+length
		}
	}
	return hops
}

// through lays all conductors on from isolators to the loads behind them.
func (d *deriver) through(behind []Given[int]) {
	for _, g := range behind {
		if !d.hopAll(d.behind[g.V], g) {
			return
		}
	}
}
