package route

import (
	"fmt"
	"math"

	"tubewright/factors"
	"tubewright/factors/units"
)

// place counts the box or fitting at a place and what its conduits need to
// enter it.
func (t *takeoff) place(i int) {
	pl := &t.job.Places[i]
	var conduits, trunkings []int
	for _, r := range pl.Runs {
		if t.job.Runs[r].Enc.Kind == factors.Conduit {
			conduits = append(conduits, r)
		} else {
			trunkings = append(trunkings, r)
		}
	}
	if len(conduits) > 0 {
		t.conduitPlace(pl, conduits, len(trunkings) > 0)
	}
	if len(trunkings) > 0 {
		t.trunkingPlace(pl, trunkings)
	}
}

func (t *takeoff) conduitPlace(pl *Place, conduits []int, onTrunking bool) {
	big := t.largest(conduits)
	switch {
	case pl.Kind == Coupler:
		t.add(groupBoxes, "coupler, "+big.String()+" mm", "each", ruleCoupler, 1, conduits...)
	case pl.Kind == Elbow:
		t.add(groupBoxes, "solid elbow, "+big.String()+" mm", "each", ruleFitting, 1, conduits...)
	case pl.Kind == InspectionBend:
		t.add(groupBoxes, "inspection bend, "+big.String()+" mm", "each", ruleFitting, 1, conduits...)
	case (pl.Kind == Box || pl.Kind == Light || pl.Kind == EmergencyLight) && len(conduits) <= 4 && !onTrunking:
		t.add(groupBoxes, t.roundBox(pl, conduits)+", "+big.String()+" mm", "each", ruleBox, 1, conduits...)
		if pl.Kind == Box {
			t.add(groupBoxes, "lid and gasket for circular conduit box", "each", ruleBox, 1, conduits...)
		}
	default:
		t.accessory(pl, big, conduits, onTrunking)
		t.entries(conduits)
	}
}

// accessory counts the box of an accessory, or an adaptable box.
func (t *takeoff) accessory(pl *Place, big factors.Enclosure, conduits []int, onTrunking bool) {
	material := "steel"
	if big.Material == factors.Plastic {
		material = "plastic"
	}
	switch pl.Kind {
	case Socket, Switch, Isolator, CookerSwitch, Outlet:
		gangs := "one-gang"
		if pl.Kind == Socket && pl.Gangs > 1 || pl.Gangs > 3 {
			gangs = "two-gang"
		}
		t.add(groupBoxes, "surface accessory box, "+gangs+", "+material, "each", ruleAccessory, 1, conduits...)
	case Box, Light, EmergencyLight:
		if !onTrunking {
			t.add(groupBoxes, "adaptable box with lid, "+material, "each", ruleBox, 1, conduits...)
		}
	}
}

// entries counts what each conduit end needs where there is no spout.
func (t *takeoff) entries(conduits []int) {
	for _, r := range conduits {
		e := t.job.Runs[r].Enc
		size := units.Format(float64(e.Size)) + " mm"
		if e.Material == factors.Plastic {
			t.add(groupBoxes, "adaptor with lock-ring, plastic conduit "+size, "each", ruleEntry, 1, r)
			continue
		}
		t.add(groupBoxes, "coupler for entry, steel conduit "+size, "each", ruleEntry, 1, r)
		t.add(groupBoxes, "male brass bush "+size, "each", ruleEntry, 1, r)
	}
}

func (t *takeoff) largest(runs []int) factors.Enclosure {
	big := t.job.Runs[runs[0]].Enc
	for _, r := range runs[1:] {
		if e := t.job.Runs[r].Enc; e.Size > big.Size {
			big = e
		}
	}
	return big
}

// roundBox names a circular box by its entries; with two, by whether they face
// each other, where their directions are drawn.
func (t *takeoff) roundBox(pl *Place, conduits []int) string {
	switch len(conduits) {
	case 1:
		return "terminal box"
	case 3:
		return "tee box"
	case 4:
		return "four-way box"
	}
	a, okA := t.leaves(pl, conduits[0])
	b, okB := t.leaves(pl, conduits[1])
	if !okA || !okB {
		return "through or angle box"
	}
	if a.Dot(b) < -math.Sqrt2/2 {
		return "through box"
	}
	return "angle box"
}

// leaves is the direction in which a drawn run leaves a place.
func (t *takeoff) leaves(pl *Place, run int) (Point, bool) {
	r := &t.job.Runs[run]
	if !r.Drawn {
		return Point{}, false
	}
	straight := mergedLegs(r.Legs)
	if t.job.Places[r.From].Name == pl.Name {
		return straight[0].Dir, true
	}
	return Point{}.Sub(straight[len(straight)-1].Dir), true
}

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
		coupler := "coupler, " + name
		if t.job.Runs[trunkings[0]].Enc.Ferromagnetic() {
			coupler = "coupler with earth link, " + name
		}
		t.add(groupTrunking, coupler, "each", ruleTrunkJoin, 1, trunkings...)
	default:
		t.add(groupTrunking, fmt.Sprintf("%s, %s", branchName(len(trunkings)), name), "each", ruleTrunkBend, 1, trunkings...)
	}
}

func branchName(n int) string {
	if n == 3 {
		return "tee"
	}
	return "four-way"
}
