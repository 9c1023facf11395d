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
)

var functionWords = []string{"", "line", "neutral", "cpc"}

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

// Cores lists what lies in a run: the cables listed by hand, then those of the
// circuits that pass, line, neutral and cpc for each passage.
func (j *Job) Cores(run int) []Core {
	r := &j.Runs[run]
	out := make([]Core, 0, len(r.Listed)+3*len(r.Carries))
	for _, l := range r.Listed {
		out = append(out, Core{Circuit: -1, Cable: l.Cable, Count: l.Count, Name: l.Name})
	}
	for _, c := range r.Carries {
		out = j.circuitCores(out, c)
	}
	return out
}

func (j *Job) circuitCores(out []Core, carried Carried) []Core {
	c := &j.Circuits[carried.Circuit]
	core := Core{Circuit: carried.Circuit, Cable: c.Cable.V, Count: carried.Passes}
	if c.Cable.V.Form != factors.Single {
		// A sheathed cable brings its line, neutral and cpc in one.
		return append(out, core)
	}
	for i := range c.Lines() {
		core.Function, core.Colour = Line, lineColours[i]
		out = append(out, core)
	}
	if c.Neutral {
		core.Function, core.Colour = Neutral, Blue
		out = append(out, core)
	}
	core.Function, core.Colour = CPC, GreenYellow
	core.Cable = cpcCable(c.Cable.V, c.CPC.V)
	return append(out, core)
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
