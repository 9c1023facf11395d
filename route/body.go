package route

import (
	"slices"

	"tubewright/factors"
	"tubewright/factors/units"
)

// Trunking is one where an entry has no more than a hole in its side: runs of
// one make that meet at entries, two at each, are one body. It is set out, cut
// and counted as one run, under the run that it begins with.

// BodyRun is a run as a part of a body of trunking.
type BodyRun struct {
	Run      int
	Back     bool    // the body goes through it from its to place
	From, To float64 // mm along the body's trunking from its first end; both 0 where the body has no set-out, or has bends that are not drawn

	was, lid Point // the way that the body comes to it, and where its lid points there
}

// onward returns the trunking that goes on from a run at a place: the only
// other one at an entry, of the same make, drawn and existing if the run is, and
// turning a right angle at most, as a path does. It is -1 where the body ends.
func (j *Job) onward(run, place int) int {
	if place < 0 || j.Places[place].Kind != Entry {
		return -1
	}
	pl := &j.Places[place]
	other, n := -1, 0
	for _, r := range pl.Runs {
		if j.isConduit(r) {
			continue
		}
		if n++; r != run {
			other = r
		}
	}
	if n != 2 {
		return -1
	}
	a, b := &j.Runs[run], &j.Runs[other]
	if a.Enc != b.Enc || a.Drawn != b.Drawn || a.Existing != b.Existing {
		return -1
	}
	in, drawn := j.leaves(pl, run)
	if out, _ := j.leaves(pl, other); drawn && in.Dot(out) > 1e-9 {
		return -1
	}
	return other
}

// bodyPart is which body of trunking a run is of, and the how manieth in it;
// of a conduit none, -1.
type bodyPart struct{ body, at int }

// findBodies lists the bodies of trunking, and where along each its runs lie.
//
// Cost: linear in runs, and in the legs and entries of each body.
func (j *Job) findBodies() {
	j.inBody = make([]bodyPart, len(j.Runs))
	for i := range j.inBody {
		j.inBody[i] = bodyPart{-1, -1}
	}
	for i := range j.Runs {
		if j.isConduit(i) || j.inBody[i].body >= 0 {
			continue
		}
		body := j.walked(i)
		for at, b := range body {
			j.inBody[b.Run] = bodyPart{len(j.bodies), at}
		}
		j.lids(body)
		j.bodies = append(j.bodies, body)
	}
	for k, body := range j.bodies {
		if len(body) > 1 && !j.Runs[body[0].Run].Existing {
			j.bodies[k] = j.Shape(body[0].Run).Body
		}
	}
}

// body returns the runs of a trunking run's body in order; it is not to be
// changed.
func (j *Job) body(run int) []BodyRun { return j.bodies[j.inBody[run].body] }

// walked works a body out. The first of its runs in the file is walked as it is
// drawn; a body that closes on itself begins with it.
func (j *Job) walked(run int) []BodyRun {
	after, ring := j.walkBody(run, j.Runs[run].To)
	body := append([]BodyRun{{Run: run}}, after...)
	if !ring {
		before, _ := j.walkBody(run, j.Runs[run].From)
		turnBody(before)
		body = append(before, body...)
	}
	lead := 0
	for i := range body {
		if body[i].Run < body[lead].Run {
			lead = i
		}
	}
	if body[lead].Back {
		turnBody(body)
		lead = len(body) - 1 - lead
	}
	if ring {
		body = append(body[lead:len(body):len(body)], body[:lead]...)
	}
	return body
}

// walkBody lists the runs beyond a run's end, and reports whether they come
// round to it.
func (j *Job) walkBody(run, place int) (beyond []BodyRun, ring bool) {
	for at := run; ; {
		next := j.onward(at, place)
		if next < 0 || next == run {
			return beyond, next == run
		}
		beyond = append(beyond, BodyRun{Run: next, Back: j.Runs[next].To == place})
		at, place = next, j.Runs[next].other(place)
	}
}

// turnBody walks runs from the other end.
func turnBody(body []BodyRun) {
	slices.Reverse(body)
	for i := range body {
		body[i].Back = !body[i].Back
	}
}

// ends are the places of a run in the order in which the body goes through it.
func (b BodyRun) ends(j *Job) (from, to int) {
	r := &j.Runs[b.Run]
	if b.Back {
		return r.To, r.From
	}
	return r.From, r.To
}

// legs are a run's legs in the order in which the body goes through it.
func (b BodyRun) legs(j *Job) []Leg {
	legs := slices.Clone(j.Runs[b.Run].Legs)
	if !b.Back {
		return legs
	}
	slices.Reverse(legs)
	for i := range legs {
		if l := &legs[i]; !l.Double {
			l.Dir = l.Dir.scaled(-1)
		}
	}
	return legs
}

// whole is a body as one run, which has the name of the first.
func (j *Job) whole(body []BodyRun) *Run {
	first := &j.Runs[body[0].Run]
	if len(body) == 1 {
		return first
	}
	r := *first
	r.From, _ = body[0].ends(j)
	_, r.To = body[len(body)-1].ends(j)
	r.Legs, r.Corners, r.Length, r.Bends = nil, nil, 0, Bends{}
	for _, b := range body {
		m := &j.Runs[b.Run]
		legs := b.legs(j)
		if was, ok := lastStraight(r.Legs); ok && len(mergedLegs(legs)) > 0 {
			r.Bends.turn(was, mergedLegs(legs)[0].Dir)
		}
		r.Legs = append(r.Legs, legs...)
		r.Length += m.Length
		r.Bends.Degrees += m.Bends.Degrees
		r.Bends.Right += m.Bends.Right
		r.Bends.Other = append(r.Bends.Other, m.Bends.Other...)
		r.Bends.Sets += m.Bends.Sets
		r.Bends.Doubles += m.Bends.Doubles
		r.Bends.Bubbles += m.Bends.Bubbles
	}
	r.Bends.Count = r.Bends.BendCount()
	return &r
}

// SetOutUnder is the run under which a run is set out: its own, or the first of
// its body of trunking.
func (j *Job) SetOutUnder(run int) int {
	if j.Runs[run].Enc.Kind == factors.Conduit {
		return run
	}
	return j.body(run)[0].Run
}

// Hole is where a conduit goes into the side of a trunking.
type Hole struct {
	At    float64 // mm along the trunking from its first end
	Place int     // the entry
	Run   int     // the conduit
	Size  units.Millimetres
	Way   string  // how the conduit leaves: down; "" where it is not drawn
	OffMM float64 // its middle off the wall, where the trunking's back or side lies on it; 0 where the hole is not in a side that stands on the wall
	On    string  // the fitting or folded corner that it falls on; "" for a length
}
