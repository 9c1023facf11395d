package cut

import (
	"cmp"
	"math"
	"slices"
)

// search tries every plan that could still be better, and reports whether it
// tried them all: then the best plan has the fewest new lengths there can be.
//
// The longest piece left lies in some bar, and that bar might as well be full:
// each full bar with that piece is tried in turn, the likeliest first. What
// the programme's prices show to be hopeless is left out.
func (s *solver) search(p part) bool {
	s.finish(p)
	if s.done() {
		return !s.effort.stopped
	}
	r := s.relax(p.need, p.count, s.fresh-p.fresh)
	if p.fresh+r.bound >= s.fresh {
		return true
	}
	b := brancher{relaxation: r, enough: s.fresh - p.fresh}
	all := b.branches()
	for _, l := range b.found {
		if s.done() {
			return !s.effort.stopped
		}
		if b.hopeless(l, s.fresh-p.fresh) {
			continue
		}
		all = s.search(p.plus(l.layout, 1)) && all
	}
	return all && !s.effort.stopped
}

// mostBranches is how many bars are tried for one piece.
const mostBranches = 20_000

// brancher lists the full bars that hold the longest piece left.
type brancher struct {
	*relaxation
	enough int // new lengths at which the part is no better than the best plan
	total  int64
	sizes  []int     // still needed
	rate   []float64 // of sizes: most worth for each mm, from there on
	kind   int
	least  int64 // worth that the bar must have
	takes  []take
	found  []branch
}

// branch is a bar and what it falls short of the most a bar can be worth.
type branch struct {
	layout
	worth, short int64
}

// branches reports whether all were found.
func (b *brancher) branches() bool {
	b.prepare()
	all := true
	for k, n := range b.count {
		first := b.sizes[0]
		w := b.model.sizes[first].w
		room := b.kinds[k].room
		if n == 0 || room < w {
			continue
		}
		b.kind = k
		b.least = b.threshold(k, b.enough)
		for n := min(b.need[first], room/w); n > 0; n-- {
			b.takes = append(b.takes[:0], take{first, n})
			all = b.extend(1, room-n*w, int64(n)*b.worth[first]) && all
		}
	}
	slices.SortStableFunc(b.found, func(x, y branch) int {
		return cmp.Or(cmp.Compare(x.short, y.short), cmp.Compare(x.room, y.room))
	})
	return all
}

func (b *brancher) prepare() {
	for i, n := range b.need {
		if n > 0 {
			b.sizes = append(b.sizes, i)
			b.total += int64(n) * b.worth[i]
		}
	}
	for k, n := range b.count {
		if k != fresh {
			b.total = lessBars(b.total, b.ceiling[k], n)
		}
	}
	b.rate = make([]float64, len(b.sizes)+1)
	for i := len(b.sizes) - 1; i >= 0; i-- {
		size := b.sizes[i]
		b.rate[i] = max(b.rate[i+1], rate(b.worth[size], b.model.sizes[size].w))
	}
}

// threshold is the worth a bar of kind k must have for the rest to need fewer
// than enough new lengths, itself counted.
func (b *brancher) threshold(k, enough int) int64 {
	if k == fresh {
		if enough < 2 {
			return math.MaxInt64
		}
		return b.total - int64(enough-2)*b.ceiling[fresh]
	}
	return b.total + b.ceiling[k] - int64(enough-1)*b.ceiling[fresh]
}

func (b *brancher) hopeless(l branch, enough int) bool {
	return l.worth < b.threshold(l.kind, enough)
}

// extend adds to the bar the sizes from i on.
func (b *brancher) extend(i, room int, worth int64) bool {
	if !b.effort.spend(1) || len(b.found) >= mostBranches {
		return false
	}
	if float64(room)*b.rate[i] < float64(b.least-worth) {
		return true
	}
	for i < len(b.sizes) && b.model.sizes[b.sizes[i]].w > room {
		i++
	}
	if i == len(b.sizes) {
		if b.full(room) {
			b.found = append(b.found, branch{b.layoutOf(b.kind, slices.Clone(b.takes)), worth, b.ceiling[b.kind] - worth})
		}
		return true
	}
	size := b.sizes[i]
	w := b.model.sizes[size].w
	all := true
	for n := min(b.need[size], room/w); n >= 0; n-- {
		if n > 0 {
			b.takes = append(b.takes, take{size, n})
		}
		all = b.extend(i+1, room-n*w, worth+int64(n)*b.worth[size]) && all
		if n > 0 {
			b.takes = b.takes[:len(b.takes)-1]
		}
	}
	return all
}

// full reports whether no piece still needed fits beside those in the bar.
func (b *brancher) full(room int) bool {
	for _, size := range slices.Backward(b.sizes) {
		w := b.model.sizes[size].w
		if w > room {
			return true
		}
		at := slices.IndexFunc(b.takes, func(t take) bool { return t.size == size })
		if at < 0 || b.takes[at].n < b.need[size] {
			return false
		}
	}
	return true
}
