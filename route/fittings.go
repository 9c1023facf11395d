package route

import (
	"math"
	"slices"

	"tubewright/factors"
	"tubewright/factors/units"
)

// place counts the box or fitting at a place, what its conduits need to enter
// it, and the accessory on it. Where an existing run ends, so is what stands
// there, but for an accessory that the job's circuits feed.
func (t *takeoff) place(i int, earthTail, fed bool) {
	pl := &t.job.Places[i]
	news := t.job.news(pl.Runs)
	if len(pl.Runs) > 0 && (fed || len(news) == len(pl.Runs)) {
		t.accessory(pl, i)
	}
	if len(news) == 0 {
		return
	}
	var conduits, trunkings []int
	for _, r := range pl.Runs {
		if t.job.Runs[r].Enc.Kind == factors.Conduit {
			conduits = append(conduits, r)
		} else {
			trunkings = append(trunkings, r)
		}
	}
	if len(t.job.news(conduits)) > 0 {
		t.conduitPlace(i, conduits, len(trunkings) > 0)
	}
	if len(t.job.news(trunkings)) > 0 && !t.within[i] {
		t.trunkingPlace(pl, trunkings)
		if alone := len(conduits) == 0 && len(news) == len(pl.Runs); alone && t.enclosed[i] {
			t.add(groupFixings, screwAndPlug, "each", ruleScrew, 2, trunkings...)
		} else if alone && pl.Kind.surface() {
			t.add(groupBoxes, "accessory box for trunking, "+boxGangs(pl)+", "+t.job.Runs[trunkings[0]].Enc.String(), "each", ruleTrunkBox, 1, trunkings...)
		}
	}
	if earthTail {
		t.add(groupBoxes, "earth tail, box to accessory", "each", ruleTail, 1, pl.Runs...)
	}
}

// news are those of some runs that are not existing.
func (j *Job) news(runs []int) []int {
	for i, r := range runs {
		if j.Runs[r].Existing {
			out := append([]int(nil), runs[:i]...)
			return append(out, j.news(runs[i+1:])...)
		}
	}
	return runs
}

// fed marks the places at which cores of the job's circuits end.
func (j *Job) fed() []bool {
	fed := make([]bool, len(j.Places))
	for i := range j.Singles {
		for _, end := range []Terminal{j.Singles[i].From, j.Singles[i].To} {
			if end.Place >= 0 {
				fed[end.Place] = true
			}
		}
	}
	return fed
}

// tailPlaces marks the accessories where steel that serves as a cpc ends or
// begins: their earth terminal is tied to the box.
func (j *Job) tailPlaces() []bool {
	tail := make([]bool, len(j.Places))
	for i := range j.Singles {
		s := &j.Singles[i]
		if j.Circuits[s.Circuit].CPCRule != ConduitCPC {
			continue
		}
		for k, end := range []Terminal{s.From, s.To} {
			if end.Place < 0 || len(s.Way) == 0 || !j.Places[end.Place].Kind.surface() {
				continue
			}
			if beside := s.Way[k*(len(s.Way)-1)]; j.Runs[beside.Run].Enc.Ferromagnetic() {
				tail[end.Place] = true
			}
		}
	}
	return tail
}

// surface reports whether an accessory stands on a surface box of its own.
func (k PlaceKind) surface() bool {
	switch k {
	case Socket, Switch, Isolator, CookerSwitch, Outlet:
		return true
	}
	return false
}

// round reports whether a circular box may stand at such a place.
func (k PlaceKind) round() bool { return k == Box || k == Light || k == EmergencyLight }

func (t *takeoff) conduitPlace(place int, conduits []int, onTrunking bool) {
	pl := &t.job.Places[place]
	big, news := t.largest(conduits), t.job.news(conduits)
	name := big.String() + " mm"
	switch {
	case pl.Kind == Coupler:
		t.add(groupBoxes, "coupler, "+name, "each", ruleCoupler, 1, news...)
		return
	case pl.Kind == Elbow:
		t.add(groupBoxes, "solid elbow, "+name, "each", ruleFitting, 1, news...)
		return
	case pl.Kind == InspectionBend:
		t.add(groupBoxes, "inspection bend, "+name, "each", ruleFitting, 1, news...)
		return
	case pl.Kind == InspectionTee:
		t.add(groupBoxes, "inspection tee, "+name, "each", ruleFitting, 1, news...)
		return
	case t.job.spouted(pl):
		t.circular(pl, conduits, big)
		return
	}
	if len(t.job.news(pl.Runs)) == len(pl.Runs) {
		t.box(place, conduits, onTrunking)
	}
	t.entries(news)
}

// spouted reports whether the conduits at a place screw into a circular box.
func (j *Job) spouted(pl *Place) bool {
	if !pl.Kind.round() {
		return false
	}
	for _, r := range pl.Runs {
		if !j.isConduit(r) {
			return false
		}
	}
	return j.roundBox(pl) != ""
}

func (t *takeoff) circular(pl *Place, conduits []int, big factors.Enclosure) {
	news := t.job.news(conduits)
	for _, r := range conduits { // a metal tube among them makes it a metal box
		if m := t.job.Runs[r].Enc.Material; m != factors.Plastic {
			big.Material = m
		}
	}
	t.add(groupBoxes, t.job.roundBox(pl)+", "+big.String()+" mm", "each", ruleBox, 1, news...)
	t.add(groupFixings, screwAndPlug, "each", ruleScrew, 2, news...)
	if pl.Kind == Box {
		t.add(groupBoxes, "lid and gasket for circular conduit box", "each", ruleBox, 1, news...)
	}
	for _, r := range conduits {
		if e := t.job.Runs[r].Enc; e.Size < big.Size {
			t.add(groupBoxes, "reducer, "+big.String()+" to "+e.SizeName()+" mm", "each", ruleReducer, 1, r)
		}
	}
	for _, r := range news {
		if t.job.Runs[r].Enc.Material == factors.Plastic && t.job.metalBox(pl) {
			t.adaptor(r)
		}
	}
}

// metalBox reports whether a box that conduits enter is of metal: where one of
// them is.
func (j *Job) metalBox(pl *Place) bool {
	return slices.ContainsFunc(pl.Runs, func(r int) bool { return j.isConduit(r) && j.Runs[r].Enc.Material != factors.Plastic })
}

// adaptor counts what joins a plastic tube to a hole or to a metal thread.
func (t *takeoff) adaptor(run int) {
	size := units.Format(float64(t.job.Runs[run].Enc.Size)) + " mm"
	t.add(groupBoxes, "adaptor with lock-ring, plastic conduit "+size, "each", ruleEntry, 1, run)
}

// box counts the box of an accessory, or an adaptable box; of metal where a
// metal tube enters.
func (t *takeoff) box(place int, conduits []int, onTrunking bool) {
	pl, material := &t.job.Places[place], "plastic"
	for _, r := range conduits {
		if t.job.Runs[r].Enc.Material != factors.Plastic {
			material = "steel"
		}
	}
	switch {
	case t.enclosed[place]:
		t.add(groupFixings, screwAndPlug, "each", ruleScrew, 2, conduits...)
	case pl.Kind.surface():
		t.add(groupBoxes, "surface accessory box with knock-outs, "+boxGangs(pl)+", "+material, "each", ruleSurface, 1, conduits...)
		t.add(groupFixings, screwAndPlug, "each", ruleScrew, 2, conduits...)
	case pl.Kind.round() && !onTrunking:
		t.add(groupBoxes, "adaptable box with lid, "+material, "each", ruleBox, 1, conduits...)
		t.add(groupFixings, screwAndPlug, "each", ruleScrew, 4, conduits...)
	}
}

// boxGangs is the size of an accessory's box.
func boxGangs(pl *Place) string {
	if pl.Kind == Socket && pl.Gangs > 1 || pl.Gangs > 3 {
		return "two-gang"
	}
	return "one-gang"
}

// entries counts what each conduit end needs where there is no spout.
func (t *takeoff) entries(conduits []int) {
	for _, r := range conduits {
		e := t.job.Runs[r].Enc
		size := units.Format(float64(e.Size)) + " mm"
		switch {
		case e.Material == factors.Plastic:
			t.adaptor(r)
		case t.job.Choices.Bushes.V == FemaleBush:
			t.add(groupBoxes, "lock-ring "+size, "each", ruleEntry, 2, r)
			t.add(groupBoxes, "female brass bush "+size, "each", ruleEntry, 1, r)
		default:
			t.add(groupBoxes, "coupler, steel conduit "+size, "each", ruleCoupler, 1, r)
			t.add(groupBoxes, "male brass bush "+size, "each", ruleEntry, 1, r)
		}
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

// captive is 1 for a steel run between the spouts of two circular boxes that
// each hold another run, else 0: a box alone on its run can be turned on.
func (t *takeoff) captive(r *Run) float64 {
	if r.Enc.Material != factors.Steel || r.From < 0 || r.To < 0 {
		return 0
	}
	for _, end := range []int{r.From, r.To} {
		if pl := &t.job.Places[end]; len(pl.Runs) < 2 || !t.job.spouted(pl) {
			return 0
		}
	}
	return 1
}

// expansions is how many expansion couplers a run of plastic conduit needs:
// those of its set-out where it is drawn.
func (t *takeoff) expansions(r *Run, so *SetOut) (n float64) {
	if r.Drawn && so.Made() {
		return float64(len(so.Joints))
	}
	if r.Enc.Material != factors.Plastic || r.Fixed.V != OnSurface {
		return 0
	}
	span, _ := ExpansionSpan(nil, t.job.SwingOf(r))
	for _, l := range straights(r) {
		n += max(0, math.Ceil(float64(l.Length)/span.Value-1e-9)-1)
	}
	return n
}

var gangWords = [...]string{"", "one", "two", "three", "four", "five", "six"}

// accessory counts what is fixed on a place's box. Loads are not
// counted: their kind is not in the job.
func (t *takeoff) accessory(pl *Place, place int) {
	name := ""
	switch pl.Kind {
	case Socket:
		name = "socket-outlet"
	case Switch:
		name = "plate switch"
	case Isolator:
		name = pl.Kind.String() + t.job.poleText(place)
		if t.enclosed[place] {
			name += ", with enclosure"
		}
		t.add(groupAccessory, name, "each", rulePoles, 1, pl.Runs...)
		return
	case CookerSwitch, Outlet:
		t.add(groupAccessory, pl.Kind.String(), "each", ruleAccessory, 1, pl.Runs...)
		return
	case Light, EmergencyLight:
		t.add(groupAccessory, map[PlaceKind]string{Light: "luminaire", EmergencyLight: "emergency luminaire"}[pl.Kind], "each", ruleAccessory, 1, pl.Runs...)
		return
	default:
		return
	}
	gangs := units.Format(float64(pl.Gangs))
	if pl.Gangs < len(gangWords) {
		gangs = gangWords[pl.Gangs]
	}
	t.add(groupAccessory, name+", "+gangs+"-gang"+t.job.roleText(place), "each", ruleAccessory, 1, pl.Runs...)
}
