package route

// grow joins stops into a tree: from the first, each time the stop nearest to
// any reached so far, looped from that one. That is the shortest tree that
// branches only at stops. Of stops equally near the one reached last is looped
// from, so that few cores end at one: deep tells how late a place's source was
// reached. What no way reaches is left out.
//
// Cost: one search of the neighbourhood, which each stop in turn spreads
// afresh where it is nearer than those before.
//
// Source: Prim, Shortest connection networks and some generalizations (1957),
// from memory; the tests hold its length against gonum's path.Prim.
func (w *ways) grow(stops []int) []leap {
	s := &w.local
	s.start(len(w.first)-1, stops[0])
	left := s.want(stops[1:])
	if s.spots[stops[0]].wanted {
		s.spots[stops[0]].wanted = false
		left--
	}
	var hops []leap
	for len(s.queue) > 0 && left > 0 {
		next := s.queue.pop()
		here := &s.spots[next.at]
		if next.dist > here.dist {
			continue
		}
		if here.wanted {
			here.wanted = false
			left--
			hops = append(hops, leap{s.source(int(next.at)), int(next.at)})
			here.dist, here.from, here.by, here.deep = 0, -1, -1, int32(len(hops))
			next.dist = 0
		}
		for _, a := range w.leaving(next.at) {
			if w.kept != nil && !w.kept[a.edge] {
				continue
			}
			there := &s.spots[a.to]
			if there.mark != s.mark {
				*there = newSpot(s.mark)
			}
			dist := next.dist + a.length
			if dist < there.dist || dist == there.dist && there.from >= 0 && here.deep > there.deep {
				there.dist, there.from, there.by, there.deep = dist, next.at, a.edge, here.deep
				s.queue.push(queued{dist, dist, a.to})
			}
		}
	}
	return hops
}

// source is the stop that a place was reached from.
func (s *search) source(place int) int {
	for s.spots[place].from >= 0 {
		place = int(s.spots[place].from)
	}
	return place
}
