package route

import (
	"cmp"
	"container/heap"
	"slices"
)

// drawRound is a plan of whole pulls for some of the parties.
type drawRound struct {
	*drawOrder
	parties  []int      // of the drawOrder
	in       [][]int32  // by pull, its parties
	order    []int      // the pulls that something goes into
	cables   []int32    // by pull
	feed     []int8     // by pull, its end; -1 while it is left
	passages []passage  // those of one party side by side
	of       [][2]int32 // by party, from and up to
	at       [][]int32  // by end, the passages there
	open     []int32    // by end, how many of those are left
	cores    []int32    // by end, the cores in them
	free     endHeap    // ends with none left, the least loss first
	stuck    endHeap    // ends with some, the fewest cores first
	outward  bool       // seek no easier pulls than those from the board's side
	apart    []bool     // by party: left for the next round
}

// A passage is the ends of two pulls that cores of a party go through unbroken.
type passage struct {
	ends  [2]int32
	party int32
	gone  bool
}

// round plans the pulls of some parties, in the first round with the cables
// that are listed by hand.
func (o *drawOrder) round(parties []int, first bool) *drawRound {
	r := o.peeled(parties, first, true)
	r.turn(o.peeled(parties, first, false))
	return r
}

// peeled finds a plan from its last pull to its first. A pull may be the last of
// those that are left if at one of its ends no core goes on into another of
// them: it is drawn out there, after all that bring its cores to the other end.
// To take such a pull away hinders no other, so the order in which they are
// taken settles how easy the pulls are, never whether there is a plan.
func (o *drawOrder) peeled(parties []int, first, outward bool) *drawRound {
	n, all := len(o.ends), len(o.all)
	r := &drawRound{drawOrder: o, parties: parties, outward: outward,
		in: make([][]int32, n), cables: make([]int32, n), feed: make([]int8, n),
		at: make([][]int32, 2*n), open: make([]int32, 2*n), cores: make([]int32, 2*n),
		of: make([][2]int32, all), apart: make([]bool, all)}
	for _, i := range parties {
		r.enter(i)
	}
	for pull := range r.in {
		r.feed[pull] = -1
		if first {
			for _, l := range o.listed[pull] {
				r.cables[pull] += int32(l.Count)
			}
		}
		if r.cables[pull] > 0 {
			r.order = append(r.order, pull)
		}
	}
	r.peel()
	return r
}

// enter notes the pulls of a party and where it goes on from one to the next.
func (r *drawRound) enter(i int) {
	p := &r.all[i]
	r.of[i] = [2]int32{int32(len(r.passages)), int32(len(r.passages))}
	for k, s := range p.steps {
		r.in[s.pull] = append(r.in[s.pull], int32(i))
		r.cables[s.pull] += p.cores()
		if k == 0 {
			continue
		}
		ends := [2]int32{p.steps[k-1].leave, s.enter}
		for _, e := range ends {
			r.at[e] = append(r.at[e], int32(len(r.passages)))
			r.open[e]++
			r.cores[e] += p.cores()
		}
		r.passages = append(r.passages, passage{ends: ends, party: int32(i)})
	}
	r.of[i][1] = int32(len(r.passages))
}

// peel takes the pulls away, from the last.
func (r *drawRound) peel() {
	for _, pull := range r.order {
		r.offer(int32(2 * pull))
		r.offer(int32(2*pull + 1))
	}
	for left := len(r.order); left > 0; {
		if len(r.free) == 0 {
			r.part(heap.Pop(&r.stuck).(rankedEnd))
			continue
		}
		out := heap.Pop(&r.free).(rankedEnd).end
		if r.feed[out/2] >= 0 {
			continue
		}
		r.feed[out/2] = int8(1 - out%2)
		left--
		for _, e := range []int32{out, out ^ 1} {
			for _, k := range r.at[e] {
				r.drop(k)
			}
		}
	}
}

// offer puts an end where it belongs now.
func (r *drawRound) offer(end int32) {
	e := &r.ends[end/2]
	if r.open[end] > 0 {
		heap.Push(&r.stuck, rankedEnd{by: [2]float64{float64(r.cores[end]), e.rank}, end: end})
		return
	}
	feed := int(1 - end%2)
	loss := e.loss(feed) * float64(r.cables[end/2])
	if r.outward {
		loss = float64(feed ^ e.near)
	}
	heap.Push(&r.free, rankedEnd{by: [2]float64{loss, -e.rank}, end: end})
}

// drop takes a passage away.
func (r *drawRound) drop(k int32) {
	p := &r.passages[k]
	if p.gone {
		return
	}
	p.gone = true
	for _, e := range p.ends {
		r.open[e]--
		r.cores[e] -= r.all[p.party].cores()
		if r.feed[e/2] < 0 {
			r.offer(e)
		}
	}
}

// part sets a party that goes on at an end apart, so that its pull may be taken.
// One alone is never in its own way: its last pull leads to its end.
func (r *drawRound) part(at rankedEnd) {
	if r.feed[at.end/2] >= 0 || r.open[at.end] == 0 || float64(r.cores[at.end]) != at.by[0] {
		return // it was offered again since
	}
	here := r.at[at.end]
	k := slices.IndexFunc(here, func(k int32) bool { return !r.passages[k].gone })
	i := r.passages[here[k]].party
	r.apart[i] = true
	for _, s := range r.all[i].steps {
		r.cables[s.pull] -= r.all[i].cores()
	}
	for k := r.of[i][0]; k < r.of[i][1]; k++ {
		r.drop(k)
	}
}

// left lists the parties set apart.
func (r *drawRound) left() (out []int) {
	for _, i := range r.parties {
		if r.apart[i] {
			out = append(out, i)
		}
	}
	return out
}

// comesFrom is a pull that brings cores to an end, -1 for none.
func (r *drawRound) comesFrom(end int32) int {
	for _, k := range r.at[end] {
		p := &r.passages[k]
		other := p.ends[0] ^ p.ends[1] ^ end
		if !r.apart[p.party] && !r.fedAt(other) {
			return int(other / 2)
		}
	}
	return -1
}

// rankedEnd is an end of a pull in a queue.
type rankedEnd struct {
	by  [2]float64
	end int32
}

// endHeap is a heap for container/heap: the lowest first, of equals the lowest
// number.
type endHeap []rankedEnd

func (h endHeap) Len() int      { return len(h) }
func (h endHeap) Swap(a, b int) { h[a], h[b] = h[b], h[a] }
func (h endHeap) Less(a, b int) bool {
	return cmp.Or(cmp.Compare(h[a].by[0], h[b].by[0]), cmp.Compare(h[a].by[1], h[b].by[1]), cmp.Compare(h[a].end, h[b].end)) < 0
}
func (h *endHeap) Push(x any) { *h = append(*h, x.(rankedEnd)) }
func (h *endHeap) Pop() any {
	old := *h
	x := old[len(old)-1]
	*h = old[:len(old)-1]
	return x
}
