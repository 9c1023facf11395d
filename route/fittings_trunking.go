package route

import (
	"math"

	"tubewright/factors"
	"tubewright/factors/units"
)

// trunking counts the material of a body of trunking. One that is not drawn has
// its joints by the stock length and its right angles turned by fittings.
func (t *takeoff) trunking(body []BodyRun) {
	r := t.job.whole(body)
	so := t.job.Shape(body[0].Run)
	name := r.Enc.String()
	t.addAlong(groupTrunking, name+" with lid", "m", t.lengthRule(r.Enc), float64(r.Length), body)
	joints := t.couplers(r, &so)
	lengths := joints + 1
	bends := r.Bends.Right + len(r.Bends.Other)
	if r.Drawn && so.Made() {
		lengths = float64(len(so.Pieces))
		bends = t.corners(body, &so)
	} else {
		t.addAlong(groupTrunking, anyBend+", "+name, "each", ruleTrunkBend, float64(bends), body)
	}
	t.addAlong(groupTrunking, t.coupler(body[0].Run), "each", ruleTrunkJoin, joints+2*float64(bends), body)
	t.addAlong(groupTrunking, "lid fixing, "+name, "each", ruleLid, 2*lengths, body)
	n := t.supports(r, &so)
	t.addAlong(groupFixings, "trunking fixing point, "+name, "each", t.saddleRule(), n, body)
	t.addAlong(groupFixings, screwAndPlug, "each", ruleScrew, 2*n, body)
}

// addAlong counts a quantity that the runs of a body take by their length.
func (t *takeoff) addAlong(group, name, unit, rule string, n float64, body []BodyRun) {
	all := 0.0
	for _, b := range body {
		all += float64(t.job.Runs[b.Run].Length)
	}
	parts := make([]part, len(body))
	for i, b := range body {
		parts[i] = part{b.Run, n * float64(t.job.Runs[b.Run].Length) / all}
	}
	t.addParts(group, name, unit, rule, n, parts)
}

// corners counts the bends of a drawn body and returns how many are fittings;
// the others are cut and folded.
func (t *takeoff) corners(body []BodyRun, so *SetOut) (fittings int) {
	name := t.job.Runs[so.Run].Enc.String()
	var names []string
	count, folded := map[string]float64{}, 0
	for _, p := range so.Parts {
		switch p.Kind {
		case MadePart:
			if count[p.Fitting]++; count[p.Fitting] == 1 {
				names = append(names, p.Fitting)
			}
			fittings++
		case BendPart:
			folded++
		}
	}
	for _, n := range names {
		t.addAlong(groupTrunking, n+", "+name, "each", ruleTrunkBend, count[n], body)
	}
	t.addAlong(groupTrunking, "corner cut out and folded, "+name, "each", ruleFold, float64(folded), body)
	return fittings
}

// coupler names what joins a trunking run.
func (t *takeoff) coupler(run int) string {
	e := t.job.Runs[run].Enc
	if e.Ferromagnetic() {
		return "coupler with earth link, " + e.String()
	}
	return "coupler, " + e.String()
}

const anyBend = "bend (flat, internal or external)"

// lidSide is where the lid of a trunking on the wall points: out, and down
// where the trunking itself leaves the wall.
func lidSide(d Point) Point {
	if math.Abs(d.Y) > nearly {
		return Point{Z: -1}
	}
	return Point{Y: 1}
}

// trunkingBend names the bend between two directions and returns where the
// lid points after it: towards the lid the bend is internal and the lid turns
// to face back; away from it external, and the lid faces on.
func trunkingBend(from, to, lid Point) (string, Point) {
	angle := ""
	if deg := math.Acos(max(-1, min(1, from.Dot(to)))) * 180 / math.Pi; math.Abs(deg-90) > 0.01 {
		angle = " " + units.Format(math.Round(deg*100)/100) + "°"
	}
	turn := to.Sub(from.scaled(from.Dot(to)))
	if turn.Len() < 1e-9 {
		return anyBend, lid
	}
	turn = turn.scaled(1 / turn.Len())
	switch cos := turn.Dot(lid); {
	case cos > nearly:
		return "internal bend" + angle, turnedBack(from, to)
	case cos < -nearly:
		return "external bend" + angle, turnedBack(from, to).scaled(-1)
	}
	return "flat bend" + angle, lid
}

// turnedBack is square to the new direction and faces the way it came.
func turnedBack(from, to Point) Point {
	back := to.scaled(from.Dot(to)).Sub(from)
	return back.scaled(1 / back.Len())
}

func (p Point) scaled(s float64) Point { return Point{p.X * s, p.Y * s, p.Z * s} }

// trunkingPlace counts what joins the trunkings at a place.
func (t *takeoff) trunkingPlace(pl *Place, trunkings []int) {
	first := t.job.Runs[trunkings[0]].Enc
	join, reaches := t.job.trunkingJoin(pl)
	switch {
	case pl.Kind == BoardPlace || pl.Kind == Equipment:
		for _, r := range t.job.news(trunkings) {
			t.add(groupTrunking, join+", "+t.job.Runs[r].Enc.String(), "each", ruleTrunkEnd, 1, r)
		}
		return
	case join == "stop end":
		t.add(groupTrunking, join+", "+first.String(), "each", ruleTrunkEnd, 1, trunkings...)
		return
	case join == "coupler":
		t.add(groupTrunking, t.coupler(trunkings[0]), "each", ruleTrunkJoin, 1, trunkings...)
		return
	case join == "reducer":
		big, small := first, t.job.Runs[trunkings[1]].Enc
		if small.Width*small.Depth > big.Width*big.Depth {
			big, small = small, big
		}
		t.add(groupTrunking, "reducer, "+big.String()+" to "+small.SizeName(), "each", ruleTrunkJoin, 1, trunkings...)
	case reaches:
		t.add(groupTrunking, join+", "+first.String(), "each", ruleTrunkBend, 1, trunkings...)
	}
	for _, r := range trunkings {
		t.add(groupTrunking, t.coupler(r), "each", ruleTrunkJoin, 1, r)
	}
}

// branch names what joins three trunkings or more.
func (j *Job) branch(pl *Place, trunkings []int) string {
	if len(trunkings) > 3 {
		return "four-way"
	}
	for _, r := range trunkings {
		if d, ok := j.leaves(pl, r); !ok || math.Abs(d.Y) > nearly {
			return "tee"
		}
	}
	return "flat tee"
}

func (j *Job) isConduit(run int) bool { return j.Runs[run].Enc.Kind == factors.Conduit }
