package route

import (
	"tubewright/factors"
	"tubewright/factors/units"
)

// Pin is a terminal of a board way, an accessory or a lamp.
type Pin uint8

// The terminals that cores end on. A joint in a box bears the pin of what is
// joined there.
const (
	NoPin    Pin = iota // the end of a run: a core of a circuit that only names its runs
	PinL                // line, permanent
	PinL2               // second and third line of a three-phase load
	PinL3               //
	PinN                // neutral
	PinE                // earth
	PinSL               // switched line, at a lamp
	PinC                // common of a switch gang
	PinOne              // first way of a switch gang
	PinTwo              // second way
	PinOneIn            // an intermediate's pair towards the first switch
	PinTwoIn            //
	PinLOut             // the load side of an isolator; its other pins are the supply side
	PinL2Out            //
	PinL3Out            //
	PinNOut             //
	PinSLOut            //
)

var pinWords = [...]string{"", "L", "L2", "L3", "N", "E", "SL", "COM", "L1", "L2", "in L1", "in L2", "L out", "L2 out", "L3 out", "N out", "SL out"}

var loadSide = map[Pin]Pin{PinL: PinLOut, PinL2: PinL2Out, PinL3: PinL3Out, PinN: PinNOut, PinSL: PinSLOut}

func (p Pin) String() string { return pinWords[p] }

// Terminal is where a core ends: a pin at a place, of one gang of a switch.
type Terminal struct {
	Place int
	Gang  int // of a switch, from 1; at a joint the lighting group it belongs to; else 0
	Pin   Pin
}

// Single is one core from terminal to terminal, unbroken between them.
type Single struct {
	Circuit  int
	Function Function
	Group    int // lighting group from 1, 0 for none
	Leg      int // strappers: between which switches of the group, from 1; a ring's ends at the board: 1 and 2; else 0
	Phase    int // of a three-phase circuit's line, from 1; else 0
	Number   int // along the circuit, of cores that would be labelled alike in one run; else 0
	Colour   Colour
	Cable    factors.Cable
	From, To Terminal
	Way      []Pass       // the runs in walking order
	Length   units.Metres // drawn in, with both tails
}

// Live reports whether the core carries load current.
func (s *Single) Live() bool { return s.Function != CPC && s.Function != Unnamed }

// Serves lists the circuits that cores of a function serve, which are one
// circuit's: that circuit, or all that share its protective conductor.
func (j *Job) Serves(circuit int, f Function) []int {
	if f == CPC && len(j.sharers) > 0 && j.sharers[0] == circuit {
		return j.sharers
	}
	return []int{circuit}
}

// SharedCPC is the circuits that share one protective conductor, in order, nil
// where none do.
func (j *Job) SharedCPC() []int { return j.sharers }

// PinsAt lists the live terminals that cores of a circuit come to at a place:
// the lines, the switched line, the neutral. A sheathed cable has none.
func (j *Job) PinsAt(circuit, place int) (out []Pin) {
	c := &j.Circuits[circuit]
	has := map[Pin]bool{}
	for i := c.Singles[0]; i < c.Singles[1]; i++ {
		for _, t := range []Terminal{j.Singles[i].From, j.Singles[i].To} {
			has[t.Pin] = has[t.Pin] || t.Place == place
		}
	}
	for _, p := range []Pin{PinL, PinL2, PinL3, PinSL, PinN} {
		if has[p] {
			out = append(out, p)
		}
	}
	return out
}

// Lands is where a core ends, at its From or its far end. The line to a switch
// ends on the common of every gang that it feeds, linked from one to the next,
// or by the conversion method on L1 of the first switch, and of a second one; a core on from an
// isolator to the load behind it on the isolator's load side; any other core on
// its terminal.
func (j *Job) Lands(s *Single, far bool) []Terminal {
	t, other := s.From, s.To
	if far {
		t, other = other, t
	}
	if t.Place < 0 {
		return []Terminal{t}
	}
	switch k := j.Places[t.Place].Kind; {
	case k.Isolates() && t.Pin != PinE && j.Circuits[s.Circuit].behind(j)[other.Place] == t.Place+1:
		t.Pin = loadSide[t.Pin]
	case k == Switch && t.Pin == PinL && t.Gang == 0:
		if gangs := j.fedGangs(s.Circuit, t.Place); gangs != nil {
			return gangs
		}
	}
	return []Terminal{t}
}

// fedGangs lists the terminals that the line to a switch comes to.
func (j *Job) fedGangs(circuit, place int) (out []Terminal) {
	for _, g := range j.Circuits[circuit].Groups {
		for k, s := range g.Switches {
			if pin := g.feed(k); pin != NoPin && s.V == place {
				out = append(out, Terminal{Place: place, Gang: g.Gangs[k], Pin: pin})
			}
		}
	}
	return out
}

// feed is where the line comes to the k-th switch of a group: the common of the
// first, or by the conversion method L1, of two switches of both; else NoPin.
func (g *Group) feed(k int) Pin {
	switch {
	case g.Conversion && (k == 0 || len(g.Switches) == 2):
		return PinOne
	case k == 0:
		return PinC
	}
	return NoPin
}

// behind maps each load that is fed through an isolator to that isolator's
// place plus one: it stands right behind it in one of the circuit's lists, and
// is fed in no other way; nil where there is none. A ring goes through what stands on it.
func (c *Circuit) behind(j *Job) map[int]int {
	var out map[int]int
	list := func(places []Given[int]) {
		for i := 1; i < len(places); i++ {
			k, before := j.Places[places[i].V].Kind, j.Places[places[i-1].V].Kind
			if before.Isolates() && !k.Isolates() {
				if out == nil {
					out = map[int]int{}
				}
				out[places[i].V] = places[i-1].V + 1
			}
		}
	}
	if c.Arrangement.V != Ring {
		list(c.Points)
	}
	for _, s := range c.Spurs {
		list(s.Points)
	}
	for _, g := range c.Groups {
		list(g.Lights)
	}
	return out
}

// Isolates reports whether a place switches off what stands behind it.
func (k PlaceKind) Isolates() bool { return k == Isolator || k == CookerSwitch }
