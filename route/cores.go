package route

import (
	"tubewright/factors"
	"tubewright/factors/units"
)

// Colour is the colour of a core, by BS EN 60445.
type Colour uint8

// The colours of cores.
const (
	NoColour Colour = iota // a cable listed by hand
	Brown
	Black
	Grey
	Blue
	GreenYellow
)

var colourWords = []string{"", "brown", "black", "grey", "blue", "green-and-yellow"}

func (c Colour) String() string { return colourWords[c] }

// Function is what a core does in its circuit.
type Function uint8

// The functions of cores.
const (
	Unnamed Function = iota // a cable listed by hand
	Line
	Neutral
	CPC
	SwitchedLine
	StrapperOne
	StrapperTwo
	PermanentLine
	Common // of the conversion method
)

var functionWords = []string{"", "line", "neutral", "cpc", "switched line", "strapper 1", "strapper 2", "permanent line", "common"}

func (f Function) String() string { return functionWords[f] }

// Core is a number of equal cables in a run: of one circuit, function and
// colour, or listed by hand.
type Core struct {
	Circuit  int // -1 where listed by hand
	Function Function
	Colour   Colour
	Cable    factors.Cable
	Count    int
	Name     string // as listed by hand
}

var lineColours = [...]Colour{Brown, Black, Grey}

// Cores lists what lies in a run: the cables listed by hand, then the cores of
// the circuits that pass, those of one circuit, function and colour together.
func (j *Job) Cores(run int) []Core { return j.contents[run] }

// gather works out the contents of every run, which circuits pass it, and
// which runs each circuit passes.
//
// Cost: linear in cores and the runs they pass.
func (j *Job) gather() {
	j.contents = j.emptyContents()
	for i := range j.Runs {
		for _, l := range j.Runs[i].Listed {
			j.contents[i] = append(j.contents[i], Core{Circuit: -1, Cable: l.Cable, Count: l.Count, Name: l.Name})
		}
	}
	for i := range j.Singles {
		s := &j.Singles[i]
		for _, p := range s.Way {
			j.putCore(p.Run, s)
		}
	}
	for i := range j.Runs {
		j.Runs[i].Carries = carried(j.contents[i])
	}
}

// emptyContents makes room for the cores of each run, all in one piece, and
// lists the runs that each circuit's live cores pass, in that order.
func (j *Job) emptyContents() [][]Core {
	room, total := make([]int, len(j.Runs)), 0
	last := make([]int, len(j.Runs)) // the circuit that passed last, from 1
	for i := range j.Runs {
		room[i] = len(j.Runs[i].Listed)
		total += room[i]
	}
	for i := range j.Singles {
		s := &j.Singles[i]
		c := &j.Circuits[s.Circuit]
		total += len(s.Way)
		for _, p := range s.Way {
			room[p.Run]++
			if last[p.Run] != s.Circuit+1 && s.Function != CPC && !c.Named {
				last[p.Run] = s.Circuit + 1
				c.Runs = append(c.Runs, Given[int]{V: p.Run})
			}
		}
	}
	all := make([]Core, total)
	contents := make([][]Core, len(room))
	for i, n := range room {
		contents[i], all = all[:0:n], all[n:]
	}
	return contents
}

func (j *Job) putCore(run int, s *Single) {
	in := j.contents[run]
	for k := len(in) - 1; k >= 0 && in[k].Circuit == s.Circuit; k-- {
		if in[k].Function == s.Function && in[k].Colour == s.Colour && in[k].Cable == s.Cable {
			in[k].Count++
			return
		}
	}
	j.contents[run] = append(in, Core{Circuit: s.Circuit, Function: s.Function, Colour: s.Colour, Cable: s.Cable, Count: 1})
}

// carried lists the circuits with live cores among those of a run, and whether
// the first line, or the sheathed cable, lies there more than once.
func carried(in []Core) []Carried {
	n, last := 0, -1
	for i := range in {
		if c := &in[i]; c.Circuit >= 0 && c.Circuit != last && c.Function != CPC {
			n, last = n+1, c.Circuit
		}
	}
	if n == 0 {
		return nil
	}
	out := make([]Carried, 0, n)
	for i := range in {
		c := &in[i]
		if c.Circuit < 0 || c.Function == CPC {
			continue
		}
		if k := len(out); k == 0 || out[k-1].Circuit != c.Circuit {
			out = append(out, Carried{Circuit: c.Circuit})
		}
		if c.Function == Unnamed || c.Function == Line && c.Colour == lineColours[0] {
			of := &out[len(out)-1]
			of.Passes = min(2, of.Passes+c.Count)
		}
	}
	return out
}

// cpcCable is the single of the cpc: of the line's make, in its own size.
func cpcCable(line factors.Cable, csa units.SquareMM) factors.Cable {
	line.CSA = csa
	switch {
	case csa <= 1:
		line.Strands = factors.Solid
	case csa >= 4 && line.Strands == factors.Solid:
		line.Strands = factors.Stranded
	}
	return line
}

// AmbientOf is the ambient temperature of a run: its own, or the job's.
func (j *Job) AmbientOf(run int) units.Celsius {
	if a := j.Runs[run].Ambient; a.Said() {
		return a.V
	}
	return j.Ambient.V
}
