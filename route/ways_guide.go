package route

// guideCount is how many guides a net has: on grids of 20 000 runs more save
// fewer steps than they cost to look up.
const guideCount = 3

// guides are places far apart whose distances to all others are known. No way
// between two places is shorter than the difference of their distances to a
// guide; a search that knows it goes towards its target instead of all round.
//
// Source: Goldberg, Harrelson, Computing the shortest path: A* search meets
// graph theory (2005), from memory; the tests hold the ways against searches
// without guides and the lengths against gonum's.
type guides struct {
	nm    [][guideCount]int64 // by place; 0 where a guide is not reached
	spent int                 // places settled by local searches before there were guides
}

// guided reports whether there are guides. They are laid out once local
// searches have settled as many places as there are, so that a small job never
// pays for them.
func (w *ways) guided() bool {
	n := len(w.first) - 1
	if w.guides.nm == nil && w.guides.spent > n {
		w.layGuides(n)
	}
	return w.guides.nm != nil
}

// layGuides takes as guides the place farthest from the root of the last
// complete search, then each time the one farthest from those it has.
func (w *ways) layGuides(n int) {
	w.guides.nm = make([][guideCount]int64, n)
	if w.home.root < 0 {
		return
	}
	nearest := make([]int64, n) // to any guide so far; to the root before the first
	for p := range nearest {
		if w.home.reached(p) {
			nearest[p] = w.home.spots[p].dist
		}
	}
	var s search
	for k := range guideCount {
		far := w.home.root
		for p, d := range nearest {
			if d > nearest[far] {
				far = p
			}
		}
		s.start(n, far)
		s.spread(&w.net, -1)
		for p := range nearest {
			if s.reached(p) {
				w.guides.nm[p][k] = s.spots[p].dist
				if k == 0 {
					nearest[p] = s.spots[p].dist
				}
				nearest[p] = min(nearest[p], s.spots[p].dist)
			}
		}
	}
}

// ahead is what the guides know of the way between two places: no way is
// shorter.
func (g *guides) ahead(at, target *[guideCount]int64) (least int64) {
	for k := range guideCount {
		least = max(least, at[k]-target[k], target[k]-at[k])
	}
	return least
}

// toward searches for one target, the places that may lie on the way there
// first. Of places that promise equally short ways it settles the nearer one
// first, so that ties fall as in spread.
func (s *search) toward(n *net, g *guides, target int) {
	goal := &g.nm[target]
	for len(s.queue) > 0 {
		next := s.queue.pop()
		here := &s.spots[next.at]
		if here.done {
			continue
		}
		here.done = true
		if int(next.at) == target {
			return
		}
		for _, a := range n.leaving(next.at) {
			there := &s.spots[a.to]
			if there.mark != s.mark {
				*there = newSpot(s.mark)
			}
			dist := here.dist + a.length
			switch {
			case there.done || dist > there.dist:
			case dist < there.dist:
				there.dist, there.from, there.by, there.deep = dist, next.at, a.edge, here.deep+1
				s.queue.push(queued{dist + g.ahead(&g.nm[a.to], goal), dist, a.to})
			case a.edge < there.by:
				there.from, there.by, there.deep = next.at, a.edge, here.deep+1
			}
		}
	}
}
