package route

import (
	"fmt"
	"math"
	"slices"
)

// Draw is one pull of the draw-in plan: the cores that go in together.
type Draw struct {
	Pull    int   // index of Job.Pulls
	Feed    int   // place where the reels stand, -1 for a run that stands alone
	Out     int   // place where the draw wire comes out
	Singles []int // indices of Job.Singles, in the order of the circuits
	Listed  []Listed
	Why     string // why it is fed from that end
	Bends   bool   // because of the bends
}

// PlanFriction is the coefficient of friction that the choice of the feed end assumes. Only
// the comparison of the two ends rests on it.
const PlanFriction = 0.5

// worthTurning is the part of the pull from the board's side that the pull from
// the other end must come below before the reels are carried there (common
// practice, no source).
const worthTurning = 0.9

// DrawIn is the order in which the conduits are drawn: from the board
// outwards, all cores of a pull together, each pull fed from the board's side
// unless the other end makes a clearly lighter pull.
//
// Cost: linear in cores and the pulls they pass, and one search from the board.
func (j *Job) DrawIn() []Draw {
	draws := make([]Draw, len(j.Pulls))
	for k := range j.Pulls {
		draws[k] = Draw{Pull: k, Feed: -1, Out: -1}
		for _, r := range j.Pulls[k].Runs {
			if !j.Runs[r].Existing { // what is listed there is drawn in
				draws[k].Listed = append(draws[k].Listed, j.Runs[r].Listed...)
			}
		}
	}
	for i := range j.Singles {
		for _, p := range j.Singles[i].Way {
			k := j.pullIndex[p.Run]
			if k < 0 {
				continue
			}
			if d := &draws[k]; len(d.Singles) == 0 || d.Singles[len(d.Singles)-1] != i {
				d.Singles = append(d.Singles, i)
			}
		}
	}
	far := j.fromBoard()
	for k := range draws {
		j.feedEnd(&draws[k], far)
	}
	draws = slices.DeleteFunc(draws, func(d Draw) bool { return len(d.Singles) == 0 && len(d.Listed) == 0 })
	near := func(d Draw) float64 {
		if d.Feed < 0 || far == nil {
			return 0
		}
		return min(far[d.Feed], far[d.Out])
	}
	slices.SortStableFunc(draws, func(a, b Draw) int {
		switch x, y := near(a), near(b); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return draws
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

// feedEnd chooses the end of a pull at which the cores go in: the board's side,
// or the other where that makes a clearly lighter pull.
func (j *Job) feedEnd(d *Draw, far []float64) {
	p := &j.Pulls[d.Pull]
	first, last := j.ends(p)
	if first < 0 {
		d.Why = "either end: the run stands alone"
		return
	}
	there, back := j.strain(p, false), j.strain(p, true)
	d.Feed, d.Out, d.Why = first, last, "nearer the board"
	if far != nil && far[last] < far[first] {
		d.Feed, d.Out = last, first
		there, back = back, there
	}
	if back < there*worthTurning {
		d.Feed, d.Out = d.Out, d.Feed
		d.Bends = true
		d.Why = fmt.Sprintf("bends nearer: %.2f of the pull the other way", back/there)
	}
}

// ends are the places at the two ends of a pull.
func (j *Job) ends(p *Pull) (first, last int) {
	a := &j.Runs[p.Runs[0]]
	if len(p.Runs) == 1 {
		return a.From, a.To
	}
	shared := a.To
	if b := &j.Runs[p.Runs[1]]; b.From == a.From || b.To == a.From {
		shared = a.From
	}
	first, at := a.other(shared), shared
	for _, r := range p.Runs[1:] {
		at = j.Runs[r].other(at)
	}
	return first, at
}

// stretch is a straight piece of a pull, or an angle it turns by.
type stretch struct{ lengthM, degrees float64 }

// strain is the pull at the far end, in arbitrary units: each straight adds its
// length, each bend multiplies what is there by e to the friction times its
// angle.
//
// Source: the capstan equation.
func (j *Job) strain(p *Pull, backwards bool) float64 {
	var all []stretch
	at, _ := j.ends(p)
	for k, i := range p.Runs {
		r := &j.Runs[i]
		if k > 0 && j.Places[at].Kind == Elbow {
			all = append(all, stretch{degrees: 90})
		}
		own := r.stretches()
		if at == r.To && r.From != r.To {
			slices.Reverse(own)
		}
		at = r.other(at)
		all = append(all, own...)
	}
	if backwards {
		slices.Reverse(all)
	}
	pull := 0.0
	for _, x := range all {
		pull += x.lengthM
		pull *= math.Exp(PlanFriction * x.degrees * math.Pi / 180)
	}
	return pull
}

// stretches takes a run apart, from its From to its To. The bends of one that
// is not drawn are taken in its middle.
func (r *Run) stretches() []stretch {
	if !r.Drawn {
		half := stretch{lengthM: float64(r.Length) / 2}
		return []stretch{half, {degrees: r.Bends.Degrees}, half}
	}
	var out []stretch
	var was Point
	for _, l := range r.Legs {
		switch {
		case l.IsSet() && l.Double:
			out = append(out, stretch{degrees: 4 * float64(l.counted())})
		case l.IsSet():
			out = append(out, stretch{degrees: 2 * float64(l.counted())})
		default:
			if was != (Point{}) {
				out = append(out, stretch{degrees: math.Acos(max(-1, min(1, was.Dot(l.Dir)))) * 180 / math.Pi})
			}
			out = append(out, stretch{lengthM: float64(l.Length)})
			was = l.Dir
		}
	}
	return out
}
