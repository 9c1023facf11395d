package route

import (
	"slices"
	"strconv"

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
)

var pinWords = [...]string{"", "L", "L2", "L3", "N", "E", "SL", "COM", "L1", "L2", "in L1", "in L2"}

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
	Colour   Colour
	Cable    factors.Cable
	From, To Terminal
	Way      []Pass       // the runs in walking order
	Length   units.Metres // drawn in, with both tails
}

// Live reports whether the core carries load current.
func (s *Single) Live() bool { return s.Function != CPC && s.Function != Unnamed }

// Mark is what the core's ends are labelled with, so that no two that could be
// mixed up at a place read alike: L, N, SL2; L-1 and L-2 are the two ends of a
// ring at the board, S1 and S2 the strappers from the first switch of a group,
// S3 and S4 those on from an intermediate, /2 their lighting group.
func (s *Single) Mark() string {
	m := functionMarks[s.Function]
	switch {
	case s.Function == StrapperOne || s.Function == StrapperTwo:
		m = "S" + strconv.Itoa(2*max(1, s.Leg)-1+int(s.Function-StrapperOne))
	case s.Phase > 0:
		m += strconv.Itoa(s.Phase)
	case s.Function == SwitchedLine:
		return m + strconv.Itoa(s.Group)
	}
	if s.Leg > 0 && s.Function <= CPC {
		return m + "-" + strconv.Itoa(s.Leg)
	}
	if s.Group > 0 && (s.Function > CPC || s.Function == Line) {
		return m + "/" + strconv.Itoa(s.Group)
	}
	return m
}

var functionMarks = [...]string{"", "L", "N", "E", "SL", "", "", "L", "C"}

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

// Crowded is a terminal with more than two cores in it.
type Crowded struct {
	Terminal Terminal
	Cables   []factors.Cable
}

// Crowded lists the terminals of accessories and lamps that take more than two
// cores, in the order in which the cores are laid. The board's bars and joints
// in boxes are made for many.
func (j *Job) Crowded() []Crowded {
	at := map[Terminal]int{}
	var all []Crowded
	for i := range j.Singles {
		s := &j.Singles[i]
		for _, t := range []Terminal{s.From, s.To} {
			if t.Place < 0 || !j.Places[t.Place].Kind.Terminal() || j.Places[t.Place].Kind == BoardPlace || s.Function == Unnamed {
				continue
			}
			if lands := j.Lands(s.Circuit, t); len(lands) == 1 {
				t = lands[0]
			}
			k, ok := at[t]
			if !ok {
				k = len(all)
				at[t] = k
				all = append(all, Crowded{Terminal: t})
			}
			all[k].Cables = append(all[k].Cables, s.Cable)
		}
	}
	return slices.DeleteFunc(all, func(c Crowded) bool { return len(c.Cables) < 3 })
}

// Lands is where a circuit's core ends. The line to a switch ends on the common
// of every gang that it feeds, linked from one to the next, or by the
// conversion method on L1 of the first switch; any other core on its terminal.
func (j *Job) Lands(circuit int, t Terminal) []Terminal {
	if t.Place < 0 || t.Pin != PinL || t.Gang != 0 || j.Places[t.Place].Kind != Switch {
		return []Terminal{t}
	}
	var out []Terminal
	for _, g := range j.Circuits[circuit].Groups {
		if len(g.Switches) == 0 || g.Switches[0].V != t.Place {
			continue
		}
		to := Terminal{Place: t.Place, Gang: g.Gangs[0], Pin: PinC}
		if g.Conversion {
			to.Pin = PinOne
		}
		out = append(out, to)
	}
	if out == nil {
		return []Terminal{t}
	}
	return out
}
