package route

import "slices"

// keep lays cores that belong with live ones, whose runs are marked. They take
// the shortest ways; where these part the circuit, the shortest within the
// marked runs, which hang together and reach every place that they serve. A way
// that the job names stands. Where runs form a tree nothing changes.
//
// Cost: linear in the circuit's cores; laid again, once more what they cost.
//
// Source: BS 7671, 521.5.1 (rule read, number from memory) for the live
// conductors; 543.6.1 (from memory) for the protective conductor.
func (d *deriver) keep(live []int, lay func(), parts func(live []int, laid []Single) bool) {
	k := d.drafted()
	lay()
	if len(d.Problems) == 0 && parts(live, d.job.Singles[k.singles:]) {
		d.restore(k)
		d.within(lay)
	}
}

// within lays cores in the marked runs only.
func (d *deriver) within(lay func()) {
	d.ways.kept = d.ways.marked
	lay()
	d.ways.kept = nil
}

// keepCPC is keep for protective conductors. Without a way that the job names
// they are sought in the marked runs at once: these are few, the job has many.
func (d *deriver) keepCPC(live []int, lay func()) {
	if len(d.c.Via) > 0 || len(d.Problems) > 0 {
		d.keep(live, lay, d.cpcParts)
		return
	}
	d.within(lay)
}

// draft is what laying cores changes of a circuit.
type draft struct {
	singles, joined int
	saving          Saving
	used            []bool
}

func (d *deriver) drafted() draft {
	k := draft{singles: len(d.job.Singles), joined: len(d.c.Joined), saving: d.c.Saving}
	for _, v := range d.c.Via {
		k.used = append(k.used, v.used)
	}
	return k
}

func (d *deriver) restore(k draft) {
	d.job.Singles, d.c.Joined, d.c.Saving = d.job.Singles[:k.singles], d.c.Joined[:k.joined], k.saving
	for i := range d.c.Via {
		d.c.Via[i].used = k.used[i]
	}
}

// strays reports whether a core leaves the marked runs, of its own accord.
func (d *deriver) strays(s *Single) bool {
	outside := func(p Pass) bool { return !d.ways.marked[p.Run] }
	return slices.ContainsFunc(s.Way, outside) && d.via(s.From.Place, s.To.Place) == nil
}

// cpcParts reports whether a protective conductor leaves the live ones.
func (d *deriver) cpcParts(_ []int, laid []Single) bool {
	for i := range laid {
		if d.strays(&laid[i]) {
			return true
		}
	}
	return false
}

// neutralParts reports whether a neutral leaves the line so that a ferromagnetic
// run holds the one without the other, and all would be well within the runs of
// the line: where these form no loop, whatever lies in them cancels.
func (d *deriver) neutralParts(live []int, laid []Single) bool {
	tree := false
	for i := range laid {
		s := &laid[i]
		if !d.strays(s) {
			continue
		}
		if tree = tree || d.isTree(live); !tree {
			return false
		}
		parted := false
		d.within(func() {
			way, _, ok := d.shortest(s.From.Place, s.To.Place)
			parted = ok && d.steelBetween(s.Way, way)
		})
		if parted {
			return true
		}
	}
	return false
}

// steelBetween reports whether a ferromagnetic run is on one of two ways only.
func (d *deriver) steelBetween(a, b []Pass) bool {
	alone := func(way, other []Pass) bool {
		return slices.ContainsFunc(way, func(p Pass) bool {
			return d.job.Runs[p.Run].Enc.Ferromagnetic() && !slices.ContainsFunc(other, func(o Pass) bool { return o.Run == p.Run })
		})
	}
	return alone(a, b) || alone(b, a)
}

// isTree reports whether runs that hang together form no loop.
func (d *deriver) isTree(runs []int) bool {
	if d.met == nil {
		d.met = make([]bool, len(d.job.Places))
	}
	places := 0
	for _, r := range runs {
		for _, at := range [2]int{d.job.Runs[r].From, d.job.Runs[r].To} {
			if !d.met[at] {
				d.met[at] = true
				places++
			}
		}
	}
	for _, r := range runs {
		d.met[d.job.Runs[r].From], d.met[d.job.Runs[r].To] = false, false
	}
	return places == len(runs)+1
}

// mark marks the runs in which live cores lie, and adds them to a list.
func (w *ways) mark(runs []int, cores []Single) []int {
	if w.marked == nil {
		w.marked = make([]bool, len(w.runs))
	}
	for i := range cores {
		if !cores[i].Live() {
			continue
		}
		for _, p := range cores[i].Way {
			if !w.marked[p.Run] {
				w.marked[p.Run], w.inner.root = true, -1
				runs = append(runs, p.Run)
			}
		}
	}
	return runs
}

func (w *ways) unmark(runs []int) {
	w.inner.root = -1
	for _, r := range runs {
		w.marked[r] = false
	}
}

// inside finds the shortest ways from a place in the marked runs, once for each
// marking.
func (w *ways) inside(place int) *wayTree {
	if w.inner.root != place {
		w.inner.start(len(w.first)-1, place)
		w.inner.spread(&w.net, -1)
	}
	return &wayTree{w, &w.inner, w.inner.mark}
}

// keptFromBoard is the shortest way from the board to a place, where it lies in
// the runs that are kept to: no other there is shorter, and none need be sought.
func (d *deriver) keptFromBoard(to int) ([]Pass, float64, bool) {
	way, length, ok := d.home().to(to)
	return way, length, ok && d.ways.keeps(way)
}

// nearestToBoard is which of several places is nearest to the board, within the
// runs that are kept to.
func (d *deriver) nearestToBoard(places []int) (int, bool) {
	i, ok := d.home().nearest(places)
	if ok && d.ways.kept != nil {
		if _, _, kept := d.keptFromBoard(places[i]); !kept {
			return d.fromBoard().nearest(places)
		}
	}
	return i, ok
}

// keeps reports whether a way lies in the runs that searches may take.
func (w *ways) keeps(way []Pass) bool {
	return !slices.ContainsFunc(way, func(p Pass) bool { return !w.kept[p.Run] })
}
