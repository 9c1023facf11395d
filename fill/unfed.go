package fill

import (
	"fmt"
	"math"

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
	f := Finding{Check: "fed", Subject: "place " + p.Name, At: p.At, Verdict: Advise, Value: math.NaN(), Limit: math.NaN()}
	switch n := used[index]; {
	case n == 0 && len(p.Runs) == 0:
		f.Reason = "no run reaches it and no circuit feeds it: add both, or leave it out"
	case n == 0:
		f.Reason = "no circuit feeds it: add it to one, or leave it out"
	case p.Kind == route.Switch && n < p.Gangs:
		f.Reason = fmt.Sprintf("%d of its %d gangs %s used: fewer gangs, or a blank", n, p.Gangs, map[bool]string{true: "is", false: "are"}[n == 1])
	default:
		return Finding{}
	}
	w.Note(f.Reason, practiceRule)
	return f
}

// gangsUsed counts, by place, the gangs of switches that work something, and 1
// for any other place that a circuit comes to.
func gangsUsed(j *route.Job) map[int]int {
	used := map[int]int{}
	for i := range j.Circuits {
		c := &j.Circuits[i]
		for _, g := range c.Fed() {
			used[g.V] = 1
		}
		for _, g := range c.Groups {
			for _, s := range g.Switches {
				used[s.V]++
			}
		}
	}
	return used
}
