package fill

import (
	"fmt"
	"math"
	"slices"

	"tubewright/factors/sum"
	"tubewright/route"
)

// unfedPlaces is how many places there are to look at: none where a circuit
// names its runs, so that what it feeds is not known.
func unfedPlaces(j *route.Job) int {
	for i := range j.Circuits {
		if j.Circuits[i].Named {
			return 0
		}
	}
	if len(j.Circuits) == 0 {
		return 0
	}
	return len(j.Places)
}

// unfed points out a place for a load or a switch that no circuit comes to,
// and gangs of a switch that work nothing (common practice, no source).
func unfed(w *sum.Work, m *matter, index int) Finding {
	p := &m.Places[index]
	switch p.Kind {
	case route.Socket, route.Light, route.EmergencyLight, route.Switch, route.Isolator, route.CookerSwitch,
		route.Heater, route.Motor, route.Fan, route.TimedFan, route.Equipment, route.Outlet:
	default:
		return Finding{}
	}
	used := m.used
	if used == nil {
		used = gangsUsed(m.Job)
	}
	if used[index].gangs == 0 && slices.ContainsFunc(p.Runs, func(r int) bool { return m.Runs[r].Existing }) {
		return Finding{} // fed by what is there
	}
	f := Finding{Check: "fed", Subject: "place " + p.Name, At: p.At, Verdict: Advise, Value: math.NaN(), Limit: math.NaN()}
	switch n := used[index].gangs; {
	case n == 0 && len(p.Runs) == 0:
		f.Reason = "no run reaches it and no circuit feeds it: add both, or leave it out"
	case n == 0:
		f.Reason = "no circuit feeds it: add it to one, or leave it out"
	case p.Kind == route.Switch && n < p.Gangs:
		f.Reason = fmt.Sprintf("%d of its %d gangs %s used: fewer gangs, or a blank", n, p.Gangs, map[bool]string{true: "is", false: "are"}[n == 1])
	case p.Kind == route.Switch && len(linesOf(m, used[index].circuits)) > 1:
		f.Reason = fmt.Sprintf("circuits %s on different lines meet on its plate: line voltage between gangs, all of them to be isolated; a barrier and a warning notice, or separate plates", join(namesOf(m, used[index].circuits)))
	default:
		return Finding{}
	}
	w.Note(f.Reason, practiceRule)
	return f
}

// use is what circuits make of a place.
type use struct {
	gangs    int   // of a switch that work something; 1 for any other place
	circuits []int // that come to a switch
}

// gangsUsed is the use of every place that a circuit comes to.
func gangsUsed(j *route.Job) map[int]use {
	used := map[int]use{}
	for i := range j.Circuits {
		c := &j.Circuits[i]
		for _, g := range c.Fed() {
			used[g.V] = use{gangs: 1}
		}
		for _, g := range c.Groups {
			for _, s := range g.Switches {
				u := used[s.V]
				u.gangs++
				if len(u.circuits) == 0 || u.circuits[len(u.circuits)-1] != i {
					u.circuits = append(u.circuits, i)
				}
				used[s.V] = u
			}
		}
	}
	return used
}

// linesOf lists the different lines that circuits are on, where the job says.
func linesOf(m *matter, circuits []int) (lines []int) {
	for _, i := range circuits {
		if l := m.Circuits[i].Electrical.Line; l.Said() && !slices.Contains(lines, l.V) {
			lines = append(lines, l.V)
		}
	}
	return lines
}

func namesOf(m *matter, circuits []int) (names []string) {
	for _, i := range circuits {
		names = append(names, m.Circuits[i].Name)
	}
	return names
}
