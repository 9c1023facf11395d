package route

import (
	"math"

	"tubewright/factors/units"
)

// trunking counts a trunking run's own material.
func (t *takeoff) trunking(i int) {
	r := &t.job.Runs[i]
	joints := stockJoints(r.Length, t.job.StockLength(r.Enc))
	so := t.job.SetOut(nil, i)
	name := r.Enc.String()
	t.add(groupTrunking, name+" with lid", "m", ruleLength, float64(r.Length), i)
	bends := trunkingBends(r)
	for _, b := range bends {
		t.add(groupTrunking, b+", "+name, "each", ruleTrunkBend, 1, i)
	}
	t.add(groupTrunking, t.coupler(i), "each", ruleTrunkJoin, joints+2*float64(len(bends)), i)
	t.add(groupTrunking, "lid fixing, "+name, "each", ruleLid, 2*(joints+1), i)
	n := t.supports(r, &so)
	t.add(groupFixings, "trunking fixing point, "+name, "each", ruleSaddle, n, i)
	t.add(groupFixings, screwAndPlug, "each", ruleScrew, 2*n, i)
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

// trunkingBends names the bends of a run in order.
func trunkingBends(r *Run) []string {
	var out []string
	if !r.Drawn {
		for range r.Bends.Right + len(r.Bends.Other) {
			out = append(out, anyBend)
		}
		return out
	}
	legs := mergedLegs(r.Legs)
	lid := lidSide(legs[0].Dir)
	for k := 1; k < len(legs); k++ {
		var name string
		name, lid = trunkingBend(legs[k-1].Dir, legs[k].Dir, lid)
		out = append(out, name)
	}
	return out
}

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

func (t *takeoff) trunkingPlace(pl *Place, trunkings []int) {
	name := t.job.Runs[trunkings[0]].Enc.String()
	switch {
	case pl.Kind == BoardPlace || pl.Kind == Equipment:
		for _, r := range trunkings {
			t.add(groupTrunking, "flanged connector, "+t.job.Runs[r].Enc.String(), "each", ruleTrunkEnd, 1, r)
		}
	case len(trunkings) == 1:
		t.add(groupTrunking, "stop end, "+name, "each", ruleTrunkEnd, 1, trunkings...)
	case len(trunkings) == 2:
		t.trunkingPair(pl, trunkings)
	default:
		t.add(groupTrunking, t.branch(pl, trunkings)+", "+name, "each", ruleTrunkBend, 1, trunkings...)
		for _, r := range trunkings {
			t.add(groupTrunking, t.coupler(r), "each", ruleTrunkJoin, 1, r)
		}
	}
}

// trunkingPair counts what joins two trunkings: a coupler in line, a bend where
// they turn, a reducer between two sizes.
func (t *takeoff) trunkingPair(pl *Place, pair []int) {
	a, b := &t.job.Runs[pair[0]], &t.job.Runs[pair[1]]
	if a.Enc != b.Enc {
		big, small := a.Enc, b.Enc
		if small.Width*small.Depth > big.Width*big.Depth {
			big, small = small, big
		}
		t.add(groupTrunking, "reducer, "+big.String()+" to "+small.SizeName(), "each", ruleTrunkJoin, 1, pair...)
		t.add(groupTrunking, t.coupler(pair[0]), "each", ruleTrunkJoin, 1, pair[0])
		t.add(groupTrunking, t.coupler(pair[1]), "each", ruleTrunkJoin, 1, pair[1])
		return
	}
	da, okA := t.leaves(pl, pair[0])
	db, okB := t.leaves(pl, pair[1])
	if !okA || !okB || da.Dot(db) < -0.999 {
		t.add(groupTrunking, t.coupler(pair[0]), "each", ruleTrunkJoin, 1, pair...)
		return
	}
	bend, _ := trunkingBend(da.scaled(-1), db, lidSide(da))
	t.add(groupTrunking, bend+", "+a.Enc.String(), "each", ruleTrunkBend, 1, pair...)
	t.add(groupTrunking, t.coupler(pair[0]), "each", ruleTrunkJoin, 2, pair...)
}

// branch names what joins three trunkings or more.
func (t *takeoff) branch(pl *Place, trunkings []int) string {
	if len(trunkings) > 3 {
		return "four-way"
	}
	for _, r := range trunkings {
		if d, ok := t.leaves(pl, r); !ok || math.Abs(d.Y) > nearly {
			return "tee"
		}
	}
	return "flat tee"
}
