package route

import (
	"strings"

	"tubewright/factors"
	"tubewright/factors/units"
)

// Pull is a stretch of conduit that cables are drawn through in one go: from
// draw-in point to draw-in point, over one run or over several that are joined
// by fittings which are no draw-in points. Lengths and bends add up over it.
type Pull struct {
	Runs    []int // in order from one end
	Length  units.Metres
	Degrees float64
	Bends   int
	Parts   []Bends // of each run
	Joints  Bends   // turned in the fittings between the runs
}

// Name lists the runs of the pull: A + B.
func (p *Pull) Name(j *Job) string {
	names := make([]string, len(p.Runs))
	for i, r := range p.Runs {
		names[i] = j.Runs[r].Name
	}
	return strings.Join(names, " + ")
}

// PullOf returns the pull that a conduit run lies in, nil for trunking.
func (j *Job) PullOf(run int) *Pull {
	if k := j.pullIndex[run]; k >= 0 {
		return &j.Pulls[k]
	}
	return nil
}

// pulls joins the job's conduits into pulls. Each conduit lies in exactly one.
//
// Cost: linear in runs.
func pulls(j *Job) []Pull {
	out := make([]Pull, 0, len(j.Runs))
	done := make([]bool, len(j.Runs))
	for i := range j.Runs {
		if done[i] || j.Runs[i].Enc.Kind != factors.Conduit {
			continue
		}
		out = append(out, j.pullOf(i, done))
	}
	return out
}

// pullOf gathers the pull that run i lies in.
func (j *Job) pullOf(i int, done []bool) Pull {
	chain := []int{i}
	done[i] = true
	for at, run := j.Runs[i].To, i; ; {
		next := j.through(at, run)
		if next < 0 || done[next] {
			break
		}
		done[next] = true
		chain = append(chain, next)
		at, run = j.Runs[next].other(at), next
	}
	var front []int
	for at, run := j.Runs[i].From, i; ; {
		next := j.through(at, run)
		if next < 0 || done[next] {
			break
		}
		done[next] = true
		front = append(front, next)
		at, run = j.Runs[next].other(at), next
	}
	p := Pull{}
	for k := len(front) - 1; k >= 0; k-- {
		p.Runs = append(p.Runs, front[k])
	}
	p.Runs = append(p.Runs, chain...)
	sum := Bends{}
	for _, r := range p.Runs {
		run := &j.Runs[r]
		p.Length += run.Length
		p.Degrees += run.Bends.Degrees
		sum.Right += run.Bends.Right
		sum.Sets += run.Bends.Sets
		sum.Other = append(sum.Other, run.Bends.Other...)
		p.Parts = append(p.Parts, run.Bends)
	}
	for k := 1; k < len(p.Runs); k++ {
		j.joint(&p.Joints, p.Runs[k-1], p.Runs[k])
	}
	p.Degrees += p.Joints.Degrees
	sum.Right += p.Joints.Right
	sum.Other = append(sum.Other, p.Joints.Other...)
	p.Bends = sum.BendCount()
	return p
}

// joint adds what a pull turns between two of its runs: a right angle in an
// elbow or an inspection bend, in any other fitting the angle between drawn
// runs.
func (j *Job) joint(b *Bends, a, c int) {
	at := j.Runs[a].From
	if at != j.Runs[c].From && at != j.Runs[c].To {
		at = j.Runs[a].To
	}
	switch j.Places[at].Kind {
	case Elbow, InspectionBend:
		b.Right++
		b.Degrees += 90
		return
	}
	in, drawn := j.away(a, at)
	out, also := j.away(c, at)
	if drawn && also {
		b.turn(Point{}.Sub(in), out)
	}
}

// away is the direction in which a drawn run leaves one of its ends.
func (j *Job) away(run, place int) (Point, bool) {
	r := &j.Runs[run]
	if !r.Drawn {
		return Point{}, false
	}
	straight := mergedLegs(r.Legs)
	if r.From == place {
		return straight[0].Dir, true
	}
	return Point{}.Sub(straight[len(straight)-1].Dir), true
}

// through returns the conduit that a pull goes on into at a place that is no
// draw-in point, -1 at the pull's end.
func (j *Job) through(place, run int) int {
	if place < 0 || j.Places[place].DrawIn || len(j.Places[place].Runs) != 2 {
		return -1
	}
	for _, r := range j.Places[place].Runs {
		if r != run && j.Runs[r].Enc.Kind == factors.Conduit {
			return r
		}
	}
	return -1
}

// other returns the far end of a run.
func (r *Run) other(place int) int {
	if r.From == place {
		return r.To
	}
	return r.From
}
