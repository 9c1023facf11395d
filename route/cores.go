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
//
// Cost: linear in the cores, which are listed afresh for each caller.
func (j *Job) Cores(run int) []Core {
	in := make([]Core, 0, len(j.Runs[run].Listed)+3*len(j.bundles[run]))
	for _, l := range j.Runs[run].Listed {
		in = append(in, Core{Circuit: -1, Cable: l.Cable, Count: l.Count, Name: l.Name})
	}
	for _, b := range j.bundles[run] {
		for i := b.first; i < b.end; i++ {
			in = addCore(in, &j.Singles[i])
		}
	}
	return in
}

func addCore(in []Core, s *Single) []Core {
	for k := len(in) - 1; k >= 0 && in[k].Circuit == s.Circuit; k-- {
		if in[k].Function == s.Function && in[k].Colour == s.Colour && in[k].Cable == s.Cable {
			in[k].Count++
			return in
		}
	}
	return append(in, Core{Circuit: s.Circuit, Function: s.Function, Colour: s.Colour, Cable: s.Cable, Count: 1})
}

// bundle is singles of one circuit that lie side by side all their way: those
// of Job.Singles from first up to end.
type bundle struct {
	first, end int32
	circuit    int32
	live       bool  // holds more than protective conductors
	lines      uint8 // of the first phase, and sheathed cables; 2 for more
}

// bundleAt is the bundle that begins with a single.
func (j *Job) bundleAt(first int) bundle {
	way := j.Singles[first].Way
	b := bundle{first: int32(first), end: int32(first), circuit: int32(j.Singles[first].Circuit)}
	for ; int(b.end) < len(j.Singles); b.end++ {
		s := &j.Singles[b.end]
		if int(b.end) > first && (s.Circuit != int(b.circuit) || !sameWay(way, s.Way)) {
			break
		}
		b.live = b.live || s.Function != CPC
		if s.Function == Unnamed || s.Function == Line && s.Colour == lineColours[0] {
			b.lines = min(2, b.lines+1)
		}
	}
	return b
}

// sameWay reports whether two ways are one, kept once.
func sameWay(a, b []Pass) bool { return len(a) == len(b) && len(a) > 0 && &a[0] == &b[0] }

// gather works out what passes through each run, which runs the live cores of
// each circuit pass, and which cores are numbered.
//
// Cost: linear in the bundles of cores and the runs they pass.
func (j *Job) gather() {
	bundles := make([]bundle, 0, len(j.Singles))
	room, total := make([]int32, len(j.Runs)), 0
	for i := 0; i < len(j.Singles); i = int(bundles[len(bundles)-1].end) {
		bundles = append(bundles, j.bundleAt(i))
		way := j.Singles[i].Way
		total += len(way)
		for _, p := range way {
			room[p.Run]++
		}
	}
	all := make([]bundle, total)
	j.bundles = make([][]bundle, len(j.Runs))
	for run, n := range room {
		j.bundles[run], all = all[:0:n], all[n:]
	}
	for _, b := range bundles {
		for _, p := range j.Singles[b.first].Way {
			j.bundles[p.Run] = append(j.bundles[p.Run], b)
		}
	}
	j.number()
	j.passed(bundles, total)
	j.carried(total)
}

// passed lists the runs that each circuit's live cores pass, in that order.
func (j *Job) passed(bundles []bundle, most int) {
	last := make([]int32, len(j.Runs)) // the circuit that passed last, from 1
	all := make([]Given[int], 0, most)
	for i := 0; i < len(bundles); {
		circuit := bundles[i].circuit
		c, start := &j.Circuits[circuit], len(all)
		for ; i < len(bundles) && bundles[i].circuit == circuit; i++ {
			if c.Named || !bundles[i].live {
				continue
			}
			for _, p := range j.Singles[bundles[i].first].Way {
				if last[p.Run] != circuit+1 {
					last[p.Run] = circuit + 1
					all = append(all, Given[int]{V: p.Run})
				}
			}
		}
		if len(all) > start {
			c.Runs = all[start:len(all):len(all)]
		}
	}
}

// carried lists for each run the circuits with live cores there, and whether
// the first line, or the sheathed cable, lies there more than once.
func (j *Job) carried(most int) {
	all := make([]Carried, 0, most)
	for run := range j.Runs {
		start := len(all)
		for _, b := range j.bundles[run] {
			if !b.live {
				continue
			}
			if k := len(all); k == start || all[k-1].Circuit != int(b.circuit) {
				all = append(all, Carried{Circuit: int(b.circuit)})
			}
			of := &all[len(all)-1]
			of.Passes = min(2, of.Passes+int(b.lines))
		}
		j.Runs[run].Carries = nil
		if len(all) > start {
			j.Runs[run].Carries = all[start:len(all):len(all)]
		}
	}
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
