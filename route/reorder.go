package route

// reorder puts the points in the order that draws in the least cable; the
// order of the file stands where none takes less. A load behind an isolator
// follows it.
func (d *deriver) reorder(ring bool) {
	board := d.job.Board.Place
	heads, behind := d.heads(d.c.Points)
	stops := []int{board}
	for _, g := range heads {
		stops = append(stops, g.V)
	}
	best, ok := d.order(stops, ring)
	if !ok {
		return // the hops report what cannot be reached
	}
	beyond := 0.0
	for _, g := range behind {
		length, _ := d.length(d.behind[g.V], g.V)
		beyond += length
	}
	listed := d.looped(ring)
	d.c.Saving = Saving{Listed: listed, Shortest: best.Length + beyond, Bound: best.Bound + beyond, Exact: best.Exact}
	if sv := &d.c.Saving; sv.Shortest >= listed-1e-9 {
		sv.Exact = sv.Exact && sv.Shortest <= listed+1e-9
		sv.Shortest, sv.Bound = listed, min(sv.Bound, listed)
		return
	}
	points := make([]Given[int], 0, len(d.c.Points))
	for _, i := range best.Order {
		if i == 0 {
			continue
		}
		points = append(points, heads[i-1])
		for _, g := range behind {
			if d.behind[g.V] == heads[i-1].V {
				points = append(points, g)
			}
		}
	}
	d.c.Points = points
}

// order is the shortest order of stops, the board first. Where the circuit names
// a way, the distances are no longer those of the net of runs.
func (d *deriver) order(stops []int, ring bool) (orderResult, bool) {
	if len(d.c.Via) == 0 {
		return d.ways.order(stops, ring)
	}
	dist, ok := d.distances(stops)
	if !ok {
		return orderResult{}, false
	}
	return shortestOrder(dist, ring), true
}

// looped is the length of the points in the order of the file, in metres.
func (d *deriver) looped(ring bool) (length float64) {
	at := d.job.Board.Place
	for _, g := range d.c.Points {
		hop, _ := d.length(at, g.V)
		length += hop
		at = d.onward(at, g.V)
	}
	if ring {
		hop, _ := d.length(at, d.job.Board.Place)
		length += hop
	}
	return length
}
