package route

import "container/heap"

// turn takes another plan's way of feeding the pulls that unbroken cores tie
// together, where that leaves fewer cores for the next round, or as many and
// makes clearly lighter pulls, added up cable by cable.
func (r *drawRound) turn(other *drawRound) {
	group := r.tied()
	type tally struct{ apart, pull float64 }
	add := func(of *drawRound) []tally {
		sums := make([]tally, len(r.ends))
		for _, pull := range of.order {
			sums[group[pull]].pull += r.ends[pull].pull[of.feed[pull]] * float64(of.cables[pull])
		}
		for _, i := range r.parties {
			if of.apart[i] {
				sums[group[r.all[i].steps[0].pull]].apart += float64(r.all[i].cores())
			}
		}
		return sums
	}
	mine, theirs := add(r), add(other)
	better := func(pull int) bool {
		a, b := mine[group[pull]], theirs[group[pull]]
		return b.apart < a.apart || b.apart == a.apart && b.pull < a.pull*worthTurning
	}
	for _, pull := range r.order {
		if better(pull) {
			r.feed[pull], r.cables[pull] = other.feed[pull], other.cables[pull]
		}
	}
	for _, i := range r.parties {
		if better(int(r.all[i].steps[0].pull)) {
			r.apart[i] = other.apart[i]
		}
	}
}

// tied names for each pull one of those that unbroken cores tie it to.
func (r *drawRound) tied() []int32 {
	group := make([]int32, len(r.ends))
	for pull := range group {
		group[pull] = int32(pull)
	}
	head := func(pull int32) int32 {
		for group[pull] != pull {
			group[pull] = group[group[pull]]
			pull = group[pull]
		}
		return pull
	}
	for k := range r.passages {
		a, b := head(r.passages[k].ends[0]/2), head(r.passages[k].ends[1]/2)
		group[max(a, b)] = min(a, b)
	}
	for pull := range group {
		group[pull] = head(int32(pull))
	}
	return group
}

// sequence lists the pulls in an order that brings the cores to each feed end
// before its draw; those nearer the board first.
func (r *drawRound) sequence() (out []int) {
	before, then := make([]int32, len(r.ends)), make([][]int32, len(r.ends))
	for k := range r.passages {
		p := &r.passages[k]
		if r.apart[p.party] {
			continue
		}
		a, b := p.ends[0], p.ends[1]
		if r.fedAt(a) {
			a, b = b, a
		}
		if !r.fedAt(a) {
			then[a/2] = append(then[a/2], b/2)
			before[b/2]++
		}
	}
	var ready endHeap
	add := func(pull int32) { heap.Push(&ready, rankedEnd{by: [2]float64{r.ends[pull].rank}, end: pull}) }
	for _, pull := range r.order {
		if before[pull] == 0 {
			add(int32(pull))
		}
	}
	for len(ready) > 0 {
		pull := heap.Pop(&ready).(rankedEnd).end
		if r.cables[pull] > 0 {
			out = append(out, int(pull))
		}
		for _, next := range then[pull] {
			if before[next]--; before[next] == 0 {
				add(next)
			}
		}
	}
	return out
}

// fedAt reports whether a pull is fed at an end of it.
func (r *drawRound) fedAt(end int32) bool { return int32(r.feed[end/2]) == end%2 }
