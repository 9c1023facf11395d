package cut

import (
	"cmp"
	"fmt"
	"slices"
)

const (
	offcutSteps   = 30_000_000 // spent on the use of offcuts: a second or so
	restSteps     = 2_000_000  // of these on whether one rest goes in the new lengths
	mostFillings  = 20_000     // ways to fill one offcut that are looked at
	stepsPerWay   = 8          // of a filling kept
	stepsPerStart = 10         // of a rest, for each pair of its sizes
	stepsPerRest  = 200        // of the same where it needs a programme
)

// mostOfOffcuts looks for a plan with as few new lengths that cuts more from the
// offcuts, and reports whether it has tried all that could.
//
// The offcuts are filled one after the other, each fullest first, and the rest
// must go in the new lengths of the best plan. A piece that is moved to an
// offcut before it takes nothing away, so only fillings that no other piece
// still fits beside are tried.
func (s *solver) mostOfOffcuts() bool {
	if s.effort.stopped {
		return false
	}
	f := &filler{solver: s, need: s.needs(), best: s.offcutsFilled(s.best), all: true, seen: map[string]bool{},
		work: newEffort(s.effort.ctx, min(offcutSteps, max(1, s.effort.left)))}
	for k, v := range s.kinds {
		for range v.count {
			if k == fresh {
				break
			}
			f.bars = append(f.bars, k)
		}
	}
	f.most = make([]int, len(f.bars)+1)
	items := make([]priced, len(s.sizes))
	for i, v := range s.sizes {
		items[i] = priced{size: i, w: v.w, most: v.need, worth: int64(v.w)}
	}
	for i, k := range slices.Backward(f.bars) {
		_, full := newPricer(f.work, items).fill(s.kinds[k].room, 0)
		f.most[i] = f.most[i+1] + min(int(full), s.kinds[k].room)
	}
	f.place(0, 0)
	return f.all && !f.work.stopped
}

// filler fills the offcuts.
type filler struct {
	*solver
	work *effort
	bars []int // kind of each offcut, the longest first
	most []int // that those from i on hold at best, saw cuts included
	need []int // not yet in an offcut
	made []layout
	best int  // cut from offcuts in the best plan
	all  bool // nothing that could be better was left out
	seen map[string]bool
}

// filling is one way to fill an offcut.
type filling struct {
	takes  []take
	filled int
}

func (f *filler) place(i, filled int) {
	if filled+f.most[i] <= f.best {
		return
	}
	if i == len(f.bars) {
		f.rest(filled)
		return
	}
	ways, all := f.fillings(f.bars[i])
	f.all = f.all && all
	for _, w := range ways {
		if f.work.stopped || filled+w.filled+f.most[i+1] <= f.best {
			return
		}
		for _, t := range w.takes {
			f.need[t.size] -= t.n
		}
		f.made = append(f.made, f.layoutOf(f.bars[i], w.takes))
		f.place(i+1, filled+w.filled)
		f.made = f.made[:len(f.made)-1]
		for _, t := range w.takes {
			f.need[t.size] += t.n
		}
	}
}

// fillings lists the ways to fill an offcut with what is needed, the fullest
// first, and says whether these are all.
func (f *filler) fillings(kind int) (ways []filling, all bool) {
	var takes []take
	all = true
	// beside is the least piece left out so far: it must not fit.
	var add func(i, room, beside int)
	add = func(i, room, beside int) {
		if !f.work.spend(1) || len(ways) >= mostFillings {
			all = false
			return
		}
		for i < len(f.need) && (f.need[i] == 0 || f.sizes[i].w > room) {
			if f.need[i] > 0 {
				beside = f.sizes[i].w
			}
			i++
		}
		if i == len(f.need) {
			if beside > room {
				ways = append(ways, filling{slices.Clone(takes), f.kinds[kind].room - room})
				f.work.spend(stepsPerWay)
			}
			return
		}
		w := f.sizes[i].w
		for n := min(f.need[i], room/w); n >= 0; n-- {
			left := beside
			if n < f.need[i] {
				left = w
			}
			if n > 0 {
				takes = append(takes, take{i, n})
			}
			add(i+1, room-n*w, left)
			if n > 0 {
				takes = takes[:len(takes)-1]
			}
		}
	}
	add(0, f.kinds[kind].room, noEnd)
	slices.SortStableFunc(ways, func(a, b filling) int { return cmp.Compare(b.filled, a.filled) })
	return ways, all
}

// rest tries to cut what is in no offcut from the new lengths.
func (f *filler) rest(filled int) {
	key := fmt.Sprint(f.need)
	if f.seen[key] {
		return
	}
	f.seen[key] = true
	m := &model{stock: f.stock, kinds: f.kinds[:1]}
	var of []int
	for i, n := range f.need {
		if n > 0 {
			m.sizes = append(m.sizes, size{w: f.sizes[i].w, need: n})
			of = append(of, i)
		}
	}
	f.work.spend(stepsPerStart * len(m.sizes) * len(m.sizes))
	if m.simpleBound() > f.fresh {
		return
	}
	work := newEffort(f.effort.ctx, min(restSteps, max(1, f.work.left)))
	given := work.left
	r := newSolver(m, work)
	r.bound = max(r.bound, f.fresh) // fewer are not looked for
	if !r.done() && len(m.sizes) <= mostRows {
		f.work.spend(stepsPerRest * len(m.sizes) * len(m.sizes))
		r.improve()
	}
	f.work.spend(given - work.left + len(f.need))
	switch {
	case r.fresh <= f.fresh:
		f.take(filled, r.best, of)
	case r.bound <= f.fresh:
		f.all = false
	}
}

// take keeps a plan that cuts more from the offcuts.
func (f *filler) take(filled int, rest []layout, of []int) {
	plan := slices.Clone(f.made)
	for _, l := range rest {
		l.takes = slices.Clone(l.takes)
		for k := range l.takes {
			l.takes[k].size = of[l.takes[k].size]
		}
		plan = append(plan, l)
	}
	f.best = filled
	f.offer(slices.DeleteFunc(plan, func(l layout) bool { return len(l.takes) == 0 }))
}
