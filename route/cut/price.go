package cut

import (
	"cmp"
	"math/bits"
	"slices"
)

// priced is a size with what one piece of it is worth.
type priced struct {
	size, w, most int
	worth         int64
	rate          float64 // worth for each mm
}

// pricer finds the bar worth most: a knapsack of whole pieces, no more of a
// size than are needed.
//
// Worths are whole numbers, so that the answer is exact and the bound built on
// it is proved. The search is depth first in the order of worth for each mm
// and cuts off where the rest of the bar filled at the next rate cannot win
// (Gilmore and Gomory 1963, from memory). It may take long when many small
// pieces have nearly one rate; after so many steps a table over every room
// takes its place.
type pricer struct {
	effort *effort
	items  []priced
	n      []int // of each item, in the bar in hand
	best   int64
	bestN  []int
	steps  int
	most   int
	tables int // filled
}

// tableCells is the largest table, parts by room.
const tableCells = 1 << 24

// rate is worth for each mm, rounded up by more than floating point loses.
func rate(worth int64, w int) float64 {
	return float64(worth) / float64(w) * (1 + 1e-14)
}

func newPricer(e *effort, items []priced) *pricer {
	p := &pricer{effort: e}
	for _, it := range items {
		if it.worth > 0 && it.most > 0 {
			it.rate = rate(it.worth, it.w)
			p.items = append(p.items, it)
		}
	}
	slices.SortFunc(p.items, func(a, b priced) int {
		return cmp.Or(cmp.Compare(b.rate, a.rate), cmp.Compare(a.size, b.size))
	})
	p.n = make([]int, len(p.items))
	p.bestN = make([]int, len(p.items))
	return p
}

// fill finds the pieces worth most in that room, if worth more than floor.
//
// The worth returned is never less than that of any bar: floor when nothing
// beats it, and a bound when the search had to stop.
func (p *pricer) fill(room int, floor int64) ([]take, int64) {
	if len(p.items) == 0 {
		return nil, max(floor, 0)
	}
	cells := room * p.parts(room)
	p.best, p.steps, p.most = floor, 0, min(max(10_000, cells/4), tableCells/8)
	clear(p.n)
	clear(p.bestN)
	done := p.deepen(0, room, 0)
	ceiling := p.best
	switch {
	case done:
	case cells <= tableCells && p.effort.spend(cells):
		p.table(room, floor)
		p.tables++
		ceiling = p.best
	default:
		ceiling = max(p.best, p.atRate(room))
	}
	p.effort.spend(p.steps)
	if p.best == floor {
		return nil, ceiling
	}
	return p.takes(), ceiling
}

// atRate is what no bar of that room can be worth more than: all of it at the
// best rate, or every piece there is.
func (p *pricer) atRate(room int) int64 {
	all := int64(0)
	for _, it := range p.items {
		all += int64(it.most) * it.worth
	}
	if full := float64(room) * p.items[0].rate; full < float64(all) {
		return int64(full) + 1
	}
	return all
}

// deepen adds items from i on; it reports whether it came to an end.
func (p *pricer) deepen(i, room int, worth int64) bool {
	if p.steps++; p.steps > p.most {
		return false
	}
	if worth > p.best {
		p.best = worth
		copy(p.bestN, p.n)
	}
	for ; i < len(p.items) && p.mayBeat(i, room, worth); i++ {
		it := &p.items[i]
		p.steps++
		for n := min(room/it.w, it.most); n > 0; n-- {
			room, worth := room-n*it.w, worth+int64(n)*it.worth
			if worth <= p.best && !p.mayBeat(i+1, room, worth) {
				break // fewer of it, filled up at a lower rate, are worth less still
			}
			p.n[i] = n
			if !p.deepen(i+1, room, worth) {
				return false
			}
		}
		p.n[i] = 0
	}
	return true
}

// mayBeat reports whether a bar worth that much could be worth more than the
// best, were its room filled at the rate of item i.
func (p *pricer) mayBeat(i, room int, worth int64) bool {
	return i < len(p.items) && float64(room)*p.items[i].rate >= float64(p.best-worth+1)
}

// parts is how many yes-or-no items stand for all counts (1, 2, 4, … and a rest).
func (p *pricer) parts(room int) int {
	n := 0
	for _, it := range p.items {
		n += bits.Len(uint(min(it.most, room/it.w)))
	}
	return n
}

// table fills the same bar by dynamic programming over the room used.
// O(parts × room) time and bits.
func (p *pricer) table(room int, floor int64) {
	worth := make([]int64, room+1)
	type part struct {
		item, n int
		taken   []uint64
	}
	var parts []part
	for i, it := range p.items {
		left := min(it.most, room/it.w)
		for n := 1; left > 0; n *= 2 {
			n = min(n, left)
			left -= n
			taken := make([]uint64, room/64+1)
			w, u := n*it.w, int64(n)*it.worth
			for r := room; r >= w; r-- {
				if v := worth[r-w] + u; v > worth[r] {
					worth[r] = v
					taken[r/64] |= 1 << (r % 64)
				}
			}
			parts = append(parts, part{i, n, taken})
		}
	}
	if worth[room] <= floor {
		p.best = floor
		return
	}
	p.best = worth[room]
	clear(p.bestN)
	for k := len(parts) - 1; k >= 0; k-- {
		if t := parts[k]; t.taken[room/64]>>(room%64)&1 == 1 {
			p.bestN[t.item] += t.n
			room -= t.n * p.items[t.item].w
		}
	}
}

// takes is the best bar, the longest piece first.
func (p *pricer) takes() []take {
	var ts []take
	for i, n := range p.bestN {
		if n > 0 {
			ts = append(ts, take{p.items[i].size, n})
		}
	}
	slices.SortFunc(ts, func(a, b take) int { return cmp.Compare(a.size, b.size) })
	return ts
}

// without lowers what is still wanted by those pieces.
func (p *pricer) without(ts []take) {
	for _, t := range ts {
		i := slices.IndexFunc(p.items, func(it priced) bool { return it.size == t.size })
		if p.items[i].most -= t.n; p.items[i].most == 0 {
			p.items = slices.Delete(p.items, i, i+1)
		}
	}
	p.n, p.bestN = p.n[:len(p.items)], p.bestN[:len(p.items)]
}
