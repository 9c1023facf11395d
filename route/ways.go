package route

import "math"

// Pass is one passage through a run on the way from place to place.
type Pass struct {
	Run     int  // index in Job.Runs
	Forward bool // from the run's From to its To
}

// ways answers which way is shortest through the runs of a job. It keeps its
// buffers from search to search and is not for concurrent use.
type ways struct {
	net
	runs   []Run
	ends   []int32 // of each run, its To: close together, for climbing
	marked []bool  // runs, see mark

	home    search // the last complete search, kept for the next circuit from there
	local   search
	inner   search // from the board in the marked runs
	bridges bridges
	guides  guides
}

// newWays lays out the runs that join two places. A run that stands alone, or
// that ends where it starts, is on no way.
//
// Cost: linear in places and runs.
func newWays(j *Job) *ways {
	edges, ends := make([]edge, len(j.Runs)), make([]int32, len(j.Runs))
	for i := range j.Runs {
		ends[i] = int32(j.Runs[i].To)
		edges[i] = edge{j.Runs[i].From, j.Runs[i].To, float64(j.Runs[i].Length)}
	}
	w := &ways{net: newNet(len(j.Places), edges), runs: j.Runs, ends: ends}
	w.home.root, w.local.root, w.inner.root = -1, -1, -1
	return w
}

// wayTree holds the shortest ways from one place. The one that from returns
// holds until from is asked about another place, the one that fromUntil
// returns until fromUntil is asked again.
type wayTree struct {
	w    *ways
	s    *search
	mark uint32
}

// from finds the shortest ways from a place to all others. Where two ways into
// a place are equally long, the one whose last run stands earlier in the file
// wins. Asked again about the same place, it answers from the search it has,
// so circuits should come grouped by the place they start from.
//
// Cost: n log n in places and runs; about 1 ms for 20 000 runs. (The gonum
// path.DijkstraFrom takes some ten times as long, breaks ties at random, and
// its simple graph keeps one of two parallel runs; the tests hold the lengths
// against it.)
func (w *ways) from(place int) *wayTree {
	if w.home.root != place {
		w.home.start(len(w.first)-1, place)
		w.home.spread(&w.net, -1)
	}
	return &wayTree{w, &w.home, w.home.mark}
}

// fromUntil is from, stopped once all targets are reached. The tree answers
// for the targets; most circuits are local, so most of a large job is never
// looked at. A target that no way reaches costs a
// search of everything that can be reached.
func (w *ways) fromUntil(place int, targets []int) *wayTree {
	w.local.start(len(w.first)-1, place)
	if len(targets) == 1 && w.kept == nil && w.guided() {
		w.local.toward(&w.net, &w.guides, targets[0])
	} else {
		w.guides.spent += w.local.spread(&w.net, w.local.want(targets))
	}
	return &wayTree{w, &w.local, w.local.mark}
}

// to returns the passes from the tree's place to another, in walking order,
// and their length in metres. It reports false when no way was found.
func (t *wayTree) to(place int) ([]Pass, float64, bool) {
	length, ok := t.length(place)
	if !ok {
		return nil, 0, false
	}
	passes := make([]Pass, t.s.spots[place].deep)
	t.climb(place, t.s.root, func(k int, run int32, below int) {
		passes[len(passes)-1-k] = Pass{int(run), int(t.w.ends[run]) == below}
	})
	return passes, length, true
}

// back is to, walked the other way: from the place to the tree's root.
func (t *wayTree) back(place int) ([]Pass, float64, bool) {
	length, ok := t.length(place)
	if !ok {
		return nil, 0, false
	}
	passes := make([]Pass, t.s.spots[place].deep)
	t.climb(place, t.s.root, func(k int, run int32, below int) {
		passes[k] = Pass{int(run), int(t.w.ends[run]) != below}
	})
	return passes, length, true
}

// climb visits the runs from a place up to one above it.
func (t *wayTree) climb(place, top int, visit func(k int, run int32, below int)) {
	for k := 0; place != top; k++ {
		spot := &t.s.spots[place]
		visit(k, spot.by, place)
		place = int(spot.from)
	}
}

// length is the length of the way to a place in metres.
func (t *wayTree) length(place int) (float64, bool) {
	if t.mark != t.s.mark {
		panic("route: a way tree was used after the search that replaced it")
	}
	if !t.s.reached(place) {
		return 0, false
	}
	return metres(t.s.spots[place].dist), true
}

// nearest is the index of the place with the shortest way, of equal ones the
// first. It reports false when one has no way.
func (t *wayTree) nearest(places []int) (best int, ok bool) {
	for i, p := range places {
		if _, ok := t.length(p); !ok {
			return 0, false
		}
		if t.s.spots[p].dist < t.s.spots[places[best]].dist {
			best = i
		}
	}
	return best, true
}

// way returns the passes from one place to another and their length in metres.
// Where every run between them is the only way across it reads them off the
// last tree; otherwise it searches until it arrives.
func (w *ways) way(from, to int) ([]Pass, float64, bool) {
	top, ok := w.meet(from, to)
	if !ok {
		return w.fromUntil(from, []int{to}).to(to)
	}
	t := w.from(w.home.root)
	up, down := &w.home.spots[from], &w.home.spots[to]
	all := int(up.deep + down.deep - 2*w.home.spots[top].deep)
	passes := make([]Pass, all)
	t.climb(from, top, func(k int, run int32, below int) {
		passes[k] = Pass{int(run), int(w.ends[run]) != below}
	})
	t.climb(to, top, func(k int, run int32, below int) {
		passes[all-1-k] = Pass{int(run), int(w.ends[run]) == below}
	})
	return passes, w.across(from, to, top), true
}

// across is the length in metres of the way between two places that goes up to
// top and down again in the last tree.
func (w *ways) across(a, b, top int) float64 {
	return metres(w.home.spots[a].dist + w.home.spots[b].dist - 2*w.home.spots[top].dist)
}

// meet returns the place where the ways from two places to the root of the
// last tree come together. It reports false when that tree does not reach
// both, or when a run between them is not the only way across, so that there
// may be a shorter one.
func (w *ways) meet(a, b int) (top int, ok bool) {
	if w.home.root < 0 {
		w.from(a)
	}
	if !w.home.reached(a) || !w.home.reached(b) {
		return 0, false
	}
	only := w.onlyWays()
	for a != b {
		x, y := &w.home.spots[a], &w.home.spots[b]
		low := x
		if y.deep > x.deep {
			low = y
		}
		if !only[low.by] {
			return 0, false
		}
		if low == x {
			a = int(x.from)
		} else {
			b = int(y.from)
		}
	}
	return a, true
}

// table returns the length of the way between any two of the points, in
// metres, +Inf where there is none. The first point's ways are kept (see
// from); those between the others are sought no farther than needed.
func (w *ways) table(points []int) [][]float64 {
	n := len(points)
	table := make([][]float64, n)
	for i := range points {
		table[i] = make([]float64, n)
	}
	tree := w.from(points[0])
	for i := 0; i+1 < n; i++ {
		for k := i + 1; k < n; k++ {
			d, ok := 0.0, false
			if top, alone := w.meet(points[i], points[k]); alone {
				d, ok = w.across(points[i], points[k], top), true
			} else {
				if tree == nil {
					tree = w.fromUntil(points[i], points[k:])
				}
				d, ok = tree.length(points[k])
			}
			if !ok {
				d = math.Inf(1)
			}
			table[i][k], table[k][i] = d, d
		}
		tree = nil
	}
	return table
}
