package route

import (
	"slices"

	"tubewright/factors/sum"
	"tubewright/factors/units"
)

// Coil is the part of some cores that lies at an end of a draw, for the tubes
// beyond.
type Coil struct {
	Place   int
	First   bool // laid out before the draw, for the other way; else drawn out at its end
	Singles []int
	Way     []Pass // still to go, from the place on
	End     int    // the place where it ends
	Tail    units.Metres
}

// Length is what has to lie there of each core: the runs still to go and the
// tail.
func (c *Coil) Length(j *Job, w *sum.Work) units.Metres {
	parts := make([]sum.Expr, 0, len(c.Way)+1)
	for _, p := range c.Way {
		r := &j.Runs[p.Run]
		parts = append(parts, sum.T(sum.Term{Symbol: r.Name, Value: round6(float64(r.Length)), Unit: "m"}))
	}
	if c.Tail > 0 {
		parts = append(parts, sum.T(sum.Term{Symbol: "tail", Value: float64(c.Tail), Unit: "m"}))
	}
	return units.Metres(w.Let("coil", "core for the tubes beyond", "m", sum.Add(parts...)).Value)
}

// coiler notes what lies at the ends of the draws of a round.
type coiler struct {
	*drawRound
	draws []Draw
	when  []int // by pull, its draw
	lying map[coilKey]int
}

// coilKey tells coils apart, nearly: two ways that begin and end alike may yet
// differ.
type coilKey struct{ draw, place, run, end, passes int }

// coils tells what lies at the ends of the draws of a round.
//
// Cost: linear in the pulls that the cores pass.
func (r *drawRound) coils(draws []Draw) {
	c := &coiler{drawRound: r, draws: draws, when: make([]int, len(r.ends)), lying: map[coilKey]int{}}
	for k := range draws {
		c.when[draws[k].Pull] = k
	}
	for _, i := range r.parties {
		if !r.apart[i] && r.fansOut(&r.all[i]) {
			c.party(&r.all[i])
		}
	}
}

// fansOut reports whether every pull leads away from one place.
func (r *drawRound) fansOut(p *party) bool {
	onward := false
	for _, s := range p.steps {
		if onward && !r.fedAt(s.enter) {
			return false
		}
		onward = onward || r.fedAt(s.enter)
	}
	return true
}

// party tells what lies at the ends of its draws.
func (c *coiler) party(p *party) {
	core := &c.job.Singles[p.first]
	way, from, to := core.Way, core.From.Place, core.To.Place
	home := reversed(way)
	first := slices.MinFunc(p.steps, func(a, b tubeStep) int { return c.when[a.pull] - c.when[b.pull] })
	for _, s := range p.steps {
		d := c.when[s.pull]
		fed := c.fedAt(s.enter)
		on := func(first bool) { c.lie(p, d, first, way[s.end:], to) }
		back := func(first bool) { c.lie(p, d, first, home[len(way)-int(s.first):], from) }
		if !fed {
			on, back = back, on
		}
		on(false)
		if s == first {
			back(true)
		}
	}
}

// lie adds a party's cores to those that lie at an end of a draw with the same
// way to go.
func (c *coiler) lie(p *party, draw int, first bool, way []Pass, end int) {
	if len(way) == 0 {
		return
	}
	d := &c.draws[draw]
	place := d.Out
	if first {
		place = d.Feed
	}
	key := coilKey{draw, place, way[0].Run, end, len(way)}
	k, ok := c.lying[key]
	if !ok || d.Coils[k].First != first || !slices.Equal(d.Coils[k].Way, way) {
		k = len(d.Coils)
		c.lying[key] = k
		tail := units.Metres(0)
		if end >= 0 {
			tail = c.job.tail(end)
		}
		d.Coils = append(d.Coils, Coil{Place: place, First: first, Way: way, End: end, Tail: tail})
	}
	d.Coils[k].Singles = append(d.Coils[k].Singles, p.singles()...)
}
