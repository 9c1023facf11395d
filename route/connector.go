package route

import (
	"slices"

	"tubewright/factors"
)

// Meeting is where cores end together: in a terminal, or in a connector.
type Meeting struct {
	Terminal Terminal
	Circuit  int // of its first core
	Cores    []int
	Tail     bool // an earth tail from the box ends there too
}

// Cables lists the cables that meet, core by core.
func (m *Meeting) Cables(j *Job) []factors.Cable {
	out := make([]factors.Cable, len(m.Cores))
	for i, k := range m.Cores {
		out[i] = j.Singles[k].Cable
	}
	return out
}

// Crowded lists the terminals of accessories and lamps that take more than two
// cores, the tail from a box whose steel is the cpc among them, in the order in
// which the cores are laid. The board's bars and connectors are made for many.
func (j *Job) Crowded() []Meeting {
	tails := j.tailPlaces()
	all := j.meetings(false)
	for i := range all {
		m := &all[i]
		m.Tail = m.Terminal.Pin == PinE && tails[m.Terminal.Place]
	}
	return slices.DeleteFunc(all, func(m Meeting) bool { return m.Ends() < 3 })
}

// Ends is how many conductors end there.
func (m *Meeting) Ends() int {
	if m.Tail {
		return len(m.Cores) + 1
	}
	return len(m.Cores)
}

// Connectors lists where the cores of a circuit end and no accessory has a
// terminal for them: joints in boxes, a neutral joined behind a switch, the line
// that loops on at a switched light. They are in the order in which the cores are laid.
func (j *Job) Connectors() []Meeting { return j.meetings(true) }

// meetings gathers the cores that end in connectors, or those that end in
// terminals of accessories and lamps.
func (j *Job) meetings(connectors bool) (all []Meeting) {
	type key struct {
		circuit int // -1 in a terminal, which may be several circuits'
		at      Terminal
	}
	found := map[key]int{}
	var of ends
	for i := range j.Singles {
		s := &j.Singles[i]
		if i == 0 || s.Circuit != of.circuit {
			of = j.endsOf(s.Circuit)
		}
		for _, far := range []bool{false, true} {
			t, in := of.in(j, s, far)
			if in == nowhere || (in == inConnector) != connectors {
				continue
			}
			k := key{-1, t}
			if connectors {
				k.circuit = s.Circuit
			}
			n, ok := found[k]
			if !ok {
				n = len(all)
				found[k] = n
				all = append(all, Meeting{Terminal: t, Circuit: s.Circuit})
			}
			all[n].Cores = append(all[n].Cores, i)
		}
	}
	return all
}

// ends is where a circuit's cores may end.
type ends struct {
	circuit  int
	at       map[int]bool // what it feeds, and its switches
	line     map[int]bool // switches that its line comes to
	switched map[int]bool // loads that take a switched line
	lent     map[int]bool // where another circuit ends whose neutral it borrows
}

func (j *Job) endsOf(circuit int) ends {
	c := &j.Circuits[circuit]
	e := ends{circuit, map[int]bool{}, map[int]bool{}, map[int]bool{}, map[int]bool{}}
	for _, g := range c.Fed() {
		e.at[g.V] = true
	}
	for _, g := range c.Groups {
		for k, s := range g.Switches {
			e.at[s.V] = true
			e.line[s.V] = e.line[s.V] || g.feed(k) != NoPin
		}
		for _, l := range g.Lights {
			e.switched[l.V] = e.switched[l.V] || len(g.Switches) > 0
		}
		if g.Neutral.Said() {
			for _, l := range j.pointsOf(g.Neutral.V) {
				e.lent[l.V] = true
			}
		}
	}
	return e
}

// earthedBox reports whether steel that serves as the circuit's cpc meets a box,
// whose earth terminal then takes the cpcs that go on from it.
func (j *Job) earthedBox(circuit, place int) bool {
	return j.Circuits[circuit].CPCRule == ConduitCPC && slices.ContainsFunc(j.Places[place].Runs, func(r int) bool { return j.Runs[r].Enc.Ferromagnetic() })
}

// pointsOf lists the places where the circuit of that name has a neutral.
func (j *Job) pointsOf(name string) []Given[int] {
	for i := range j.Circuits {
		if c := &j.Circuits[i]; c.Name == name {
			return c.allPoints()
		}
	}
	return nil
}

// ending is what a core ends in.
type ending uint8

const (
	nowhere ending = iota // on the board's bars, or it is said only which runs it passes
	inTerminal
	inConnector
)

// in is where a core of the circuit ends, at its From or its far end, and what in.
func (e *ends) in(j *Job, s *Single, far bool) (Terminal, ending) {
	t := s.From
	if far {
		t = s.To
	}
	if t.Place < 0 || j.Places[t.Place].Kind == BoardPlace {
		return t, nowhere
	}
	if lands := j.Lands(s, far); len(lands) == 1 {
		t = lands[0]
	}
	kind, named := j.Places[t.Place].Kind, j.Circuits[e.circuit].Named
	switch {
	case named && (!kind.Terminal() || s.Function == Unnamed):
		return t, nowhere
	case !kind.Terminal() && t.Pin == PinE && j.earthedBox(s.Circuit, t.Place): // the box's earth terminal
		return t, inTerminal
	case !kind.Terminal():
		return t, inConnector
	case s.Function == Unnamed:
		return t, nowhere
	case t.Pin == PinN && e.lent[t.Place]: // a borrowed neutral, with the lender's
		return t, inTerminal
	case t.Pin == PinE || named: // every accessory, or its box, has an earth terminal
		return t, inTerminal
	case !e.at[t.Place] || e.lacks(kind, t):
		return t, inConnector
	}
	return t, inTerminal
}

// lacks reports whether what stands at a place of the circuit has no terminal
// for what comes there.
func (e *ends) lacks(kind PlaceKind, t Terminal) bool {
	switch {
	case kind == Switch:
		return t.Pin < PinC && !(t.Pin == PinL && e.line[t.Place])
	case t.Gang > 0: // another group's switched line
		return true
	}
	return t.Pin == PinL && e.switched[t.Place] && !needsPermanent(kind) && !kind.Isolates()
}
