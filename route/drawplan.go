package route

import (
	"fmt"
	"math"
	"slices"
)

// Draw is one pull of the draw-in plan: the cores that go in together.
type Draw struct {
	Pull    int   // index of Job.Pulls
	Feed    int   // place where the cores go in, -1 for a run that stands alone
	Out     int   // place where the draw wire comes out
	Singles []int // indices of Job.Singles, in the order of the circuits
	Listed  []Listed
	Over    bool   // over cores that an earlier draw of the plan has put in the same tube
	Why     string // why it is fed from that end
	Plain   bool   // it is fed from the board's side, which is the easier
	Bends   bool   // Why compares the two ends
	Coils   []Coil
}

// worthTurning is the part of the pull from the board's side that the pull from
// the other end must come below before the reels are carried there (common
// practice, no source).
const worthTurning = 0.9

// DrawIn is the order in which the conduits are drawn, conduit complete: all
// cores of a pull together, since over cores in place the trade does not draw.
//
// A core that goes on unbroken from tube to tube has one place that it is fed
// from, an end or a draw-in point on its way, and every pull leads away from
// that place: two pulls that both ended at a draw-in point would need a joint
// there. A pull comes after those that bring its cores to its feed end. Within
// this, each is fed from the board's side unless the other end makes a clearly
// lighter pull, and those nearer the board come first.
//
// In a tree of tubes a plan of whole pulls always exists: feed each from the
// board's side, and the draw-in point of a core's way that is nearest the board
// is what every pull leads away from. Where tubes close a circle there may be
// none. Then as few cores as it takes, found one tube after another, are left
// for a second round, and go over what lies in place.
//
// Cost: n log n in bundles of cores and the pulls they pass for each round, and
// one search from the board.
func (j *Job) DrawIn() []Draw {
	o := j.newDrawOrder()
	var out []Draw
	for left := indicesOf(len(o.all)); ; {
		r := o.round(left, out == nil)
		start := len(out)
		for _, pull := range r.sequence() {
			out = append(out, r.draw(pull, start == 0))
		}
		r.coils(out[start:])
		if left = r.left(); len(left) == 0 {
			return fewerDraws(out, len(j.Pulls))
		}
	}
}

// fewerDraws lets the draws of one tube that only bring cores to their end wait
// for the last of them, and marks those that go over cores in place.
func fewerDraws(draws []Draw, pulls int) []Draw {
	last := make([]int, pulls) // the draw of a pull, from 1
	for k := len(draws) - 1; k >= 0; k-- {
		d := &draws[k]
		if l := last[d.Pull]; l > 0 && d.Coils == nil && draws[l-1].Feed == d.Feed {
			draws[l-1].join(d)
			d.Pull = -1
			continue
		}
		last[d.Pull] = k + 1
	}
	draws = slices.DeleteFunc(draws, func(d Draw) bool { return d.Pull < 0 })
	filled := make([]bool, pulls)
	for k := range draws {
		draws[k].Over = filled[draws[k].Pull]
		filled[draws[k].Pull] = true
	}
	return draws
}

// join takes in what another draw of the tube would bring to its end.
func (d *Draw) join(other *Draw) {
	d.Singles = slices.Concat(d.Singles, other.Singles)
	slices.Sort(d.Singles)
	d.Listed = append(other.Listed, d.Listed...)
}

func indicesOf(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// drawOrder is what the rounds of a plan share.
type drawOrder struct {
	job    *Job
	all    []party
	ends   []pullEnds
	listed [][]Listed // by pull
}

// pullEnds are the two ends of a pull as the plan sees them.
type pullEnds struct {
	place [2]int     // -1 where the run stands alone
	near  int        // which lies nearer the board
	rank  float64    // its distance from the board
	pull  [2]float64 // at the far end when fed at this one
}

// lighter is the end from which the pull is to be preferred.
func (e *pullEnds) lighter() int {
	if e.pull[1-e.near] < e.pull[e.near]*worthTurning {
		return 1 - e.near
	}
	return e.near
}

// loss is how much harder the pull is when fed from an end than from the better.
func (e *pullEnds) loss(feed int) float64 {
	weigh := func(end int) float64 {
		if end == e.near {
			return e.pull[end]
		}
		return e.pull[end] / worthTurning
	}
	return weigh(feed) - weigh(e.lighter())
}

func (j *Job) newDrawOrder() *drawOrder {
	o := &drawOrder{job: j, all: j.parties(), ends: make([]pullEnds, len(j.Pulls)), listed: make([][]Listed, len(j.Pulls))}
	far := j.fromBoard()
	for k := range j.Pulls {
		p := &j.Pulls[k]
		for _, r := range p.Runs {
			if !j.Runs[r].Existing { // what is listed there is drawn in
				o.listed[k] = append(o.listed[k], j.Runs[r].Listed...)
			}
		}
		e := &o.ends[k]
		e.place[0], e.place[1] = j.ends(p)
		if e.place[0] < 0 {
			continue
		}
		e.pull = [2]float64{j.strain(p, false), j.strain(p, true)}
		if far != nil {
			if far[e.place[1]] < far[e.place[0]] {
				e.near = 1
			}
			e.rank = far[e.place[e.near]]
		}
	}
	return o
}

// fromBoard is the distance of every place from the board, nil without one.
func (j *Job) fromBoard() []float64 {
	if j.Board.Place < 0 {
		return nil
	}
	tree := newWays(j).from(j.Board.Place)
	out := make([]float64, len(j.Places))
	for i := range out {
		var ok bool
		if out[i], ok = tree.length(i); !ok {
			out[i] = math.Inf(1)
		}
	}
	return out
}

// draw tells one pull of a round.
func (r *drawRound) draw(pull int, listed bool) Draw {
	e := &r.ends[pull]
	d := Draw{Pull: pull, Feed: -1, Out: -1, Why: "either end: the run stands alone", Plain: true}
	if listed {
		d.Listed = r.listed[pull]
	}
	for _, in := range r.in[pull] {
		if !r.apart[in] {
			d.Singles = append(d.Singles, r.all[in].singles()...)
		}
	}
	if e.place[0] < 0 {
		return d
	}
	feed := int(r.feed[pull])
	d.Feed, d.Out = e.place[feed], e.place[1-feed]
	r.why(&d, feed)
	return d
}

// why says why a pull is fed from an end.
func (r *drawRound) why(d *Draw, feed int) {
	e := &r.ends[d.Pull]
	ratio := e.pull[1-feed] / e.pull[feed]
	d.Plain = feed == e.near && e.lighter() == feed
	switch {
	case d.Plain:
		d.Why = "nearer the board"
		return
	case feed == e.lighter():
		d.Why, d.Bends = fmt.Sprintf("bends nearer: %.2f of the pull the other way", 1/ratio), true
		return
	}
	node := int32(2*d.Pull + feed)
	if from := r.comesFrom(node); from >= 0 {
		d.Why = "cores come on from " + r.job.Pulls[from].Name(r.job)
	} else {
		d.Why = "cores go both ways from " + r.job.Places[d.Feed].Name
	}
	if d.Bends = ratio < 1; d.Bends {
		d.Why += fmt.Sprintf("; the other way %.2f of the pull", ratio)
	}
}
