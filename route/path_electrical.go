package route

import (
	"slices"

	"tubewright/factors"
)

// PointPath is how the conductors of a circuit reach one of its points: metres
// of core from the board, tails included. On a ring there are two ways round,
// and a spur adds the same length to both.
type PointPath struct {
	Place                   int     // -1 where a circuit names its runs and they end at no place, or in a ring
	Line, Neutral, CPC      float64 // m; 0 where no such core leads there
	LineBack, NeutralBack   float64 // m, ring: the other way round; 0 elsewhere
	CPCBack                 float64
	LineSpur, NeutralSpur   float64 // m of the above beyond the ring
	CPCSpur                 float64
	LineCores, NeutralCores []int   // Job.Singles passed from the board, by the first way
	CPCCores                []int   //
	Steel                   []Pass  // runs of steel that serve as the cpc
	Looped                  float64 // m of line core to the line looped through a switched light, where that is the longer way; else 0
	LoopedCores             []int   //
	LineHalf                bool    // a named ring: no point is known, the middle is taken
}

// PointPaths lists the paths to every point, light and switch of a circuit in
// the order in which the live cores reach them. A circuit that only names its
// runs has one, to their end; on a ring to its middle. A switch has no neutral.
//
// Cost: one search of the circuit's cores for each conductor.
func (j *Job) PointPaths(circuit int) []PointPath {
	c := &j.Circuits[circuit]
	if c.Named {
		return []PointPath{j.namedPath(circuit)}
	}
	line, neutral, cpc := j.lineWays(circuit), j.neutralWays(circuit), j.cpcWays(circuit)
	var out []PointPath
	for _, place := range j.reachedPlaces(circuit) {
		p := PointPath{Place: place}
		l, ok := line[place]
		if !ok {
			continue
		}
		n, e := neutral[place], cpc[place]
		p.Line, p.LineBack, p.LineSpur, p.LineCores = l.one, l.back, l.spur, l.cores
		p.Looped, p.LoopedCores = l.looped, l.loopedCores
		p.Neutral, p.NeutralBack, p.NeutralSpur, p.NeutralCores = n.one, n.back, n.spur, n.cores
		p.CPC, p.CPCBack, p.CPCSpur, p.CPCCores, p.Steel = e.one, e.back, e.spur, e.cores, e.steel
		out = append(out, p)
	}
	return out
}

// NamedLength is the length of one line core through the runs that a circuit
// names, each as often as it stands there, tails included.
func (j *Job) NamedLength(circuit int) float64 {
	c := &j.Circuits[circuit]
	length := 0.0
	for i := c.Singles[0]; i < c.Singles[1]; i++ {
		if s := &j.Singles[i]; s.Function == Unnamed || s.Function == Line && s.From.Pin <= PinL {
			length += float64(s.Length)
		}
	}
	return length
}

func (j *Job) namedPath(circuit int) PointPath {
	c := &j.Circuits[circuit]
	p := PointPath{Place: j.namedEnd(c)}
	for i := c.Singles[0]; i < c.Singles[1]; i++ {
		s := &j.Singles[i]
		switch {
		case s.Function == Unnamed:
			p.Line, p.Neutral, p.CPC = p.Line+float64(s.Length), p.Neutral+float64(s.Length), p.CPC+float64(s.Length)
			p.LineCores, p.NeutralCores, p.CPCCores = append(p.LineCores, i), append(p.NeutralCores, i), append(p.CPCCores, i)
		case s.Function == Line && s.From.Pin <= PinL:
			p.Line, p.LineCores = p.Line+float64(s.Length), append(p.LineCores, i)
		case s.Function == Neutral:
			p.Neutral, p.NeutralCores = p.Neutral+float64(s.Length), append(p.NeutralCores, i)
		case s.Function == CPC:
			p.CPC, p.CPCCores = p.CPC+float64(s.Length), append(p.CPCCores, i)
		}
	}
	if c.CPCRule == ConduitCPC {
		for _, g := range c.Runs {
			if j.Runs[g.V].Enc.Ferromagnetic() {
				p.Steel = append(p.Steel, Pass{Run: g.V, Forward: true})
			}
		}
	}
	if c.Arrangement.V == Ring {
		p.Line, p.Neutral, p.CPC = p.Line/2, p.Neutral/2, p.CPC/2
		p.LineBack, p.NeutralBack, p.CPCBack = p.Line, p.Neutral, p.CPC
		p.Place, p.LineHalf = -1, true
	}
	return p
}

// namedEnd is the far end of the last run that a circuit names.
func (j *Job) namedEnd(c *Circuit) int {
	if len(c.Runs) == 0 {
		return -1
	}
	last := &j.Runs[c.Runs[len(c.Runs)-1].V]
	if last.To == j.Board.Place || len(c.Runs) > 1 && last.From != j.Board.Place && touches(&j.Runs[c.Runs[len(c.Runs)-2].V], last.To) {
		return last.From
	}
	return last.To
}

func touches(r *Run, place int) bool { return place >= 0 && (r.From == place || r.To == place) }

// reachedPlaces lists the points and switches where a circuit's live cores
// end, in the order in which they are laid.
func (j *Job) reachedPlaces(circuit int) []int {
	c := &j.Circuits[circuit]
	var out []int
	for _, s := range j.Singles[c.Singles[0]:c.Singles[1]] {
		at := s.To.Place
		if s.Function != CPC && at != j.Board.Place && j.Places[at].Kind.Terminal() && !slices.Contains(out, at) {
			out = append(out, at)
		}
	}
	return out
}

// conductor is how one conductor gets to a place.
type conductor struct {
	one, back, spur float64
	cores           []int
	steel           []Pass
	looped          float64
	loopedCores     []int
}

func (j *Job) lineWays(circuit int) map[int]conductor {
	c := &j.Circuits[circuit]
	if ring := j.ringWays(circuit, Line); ring != nil {
		return ring
	}
	l := newLeads(j)
	l.cores(c, func(s *Single) bool { return s.Live() && s.Function != Neutral || s.Function == Unnamed })
	for i := range c.Groups {
		l.contacts(&c.Groups[i])
	}
	return l.spread(PinL)
}

func (j *Job) neutralWays(circuit int) map[int]conductor {
	c := &j.Circuits[circuit]
	if ring := j.ringWays(circuit, Neutral); ring != nil {
		return ring
	}
	l := newLeads(j)
	neutral := func(s *Single) bool { return s.Function == Neutral || s.Function == Unnamed }
	l.cores(c, neutral)
	for i := range c.Groups {
		if g := &c.Groups[i]; g.Neutral.Said() {
			if lender := j.circuitIndex(g.Neutral.V); lender >= 0 && lender != circuit {
				l.cores(&j.Circuits[lender], neutral)
			}
		}
	}
	return l.spread(PinN)
}

func (j *Job) cpcWays(circuit int) map[int]conductor {
	c := &j.Circuits[circuit]
	if c.CPCRule == OwnCPC {
		if ring := j.ringWays(circuit, CPC); ring != nil {
			return ring
		}
	}
	l := newLeads(j)
	earth := func(s *Single) bool { return s.Function == CPC || s.Function == Unnamed }
	l.cores(c, earth)
	switch c.CPCRule {
	case SharedCPC:
		for i := range j.Circuits {
			if other := &j.Circuits[i]; i != circuit && other.CPCRule == SharedCPC && !other.Named {
				l.cores(other, earth)
			}
		}
	case ConduitCPC:
		l.steel(c)
	}
	return l.spread(PinE)
}

// ringWays measures a ring: its hops stand first among the cores of a
// function, in order, then its spurs. It returns nil for other circuits.
func (j *Job) ringWays(circuit int, f Function) map[int]conductor {
	c := &j.Circuits[circuit]
	hops := len(c.Points) + 1
	if c.Arrangement.V != Ring || hops < 2 {
		return nil
	}
	var cores []int
	for i := c.Singles[0]; i < c.Singles[1]; i++ {
		s := &j.Singles[i]
		if s.Function == Unnamed || s.Function == f && s.From.Pin != PinL2 && s.From.Pin != PinL3 {
			cores = append(cores, i)
		}
	}
	if len(cores) < hops {
		return nil
	}
	round := 0.0
	for _, i := range cores[:hops] {
		round += float64(j.Singles[i].Length)
	}
	out := map[int]conductor{}
	one := 0.0
	for k, i := range cores {
		s := &j.Singles[i]
		if k < hops {
			one += float64(s.Length)
			out[s.To.Place] = conductor{one: one, back: round - one, cores: cores[: k+1 : k+1]}
			continue
		}
		from := out[s.From.Place]
		length := float64(s.Length)
		out[s.To.Place] = conductor{one: from.one + length, back: from.back + length, spur: from.spur + length, cores: append(slices.Clone(from.cores), i)}
	}
	return out
}

// RingCores lists the cores once round a ring, for one function; nil for other
// circuits and where the ring is not closed by such cores.
func (j *Job) RingCores(circuit int, f Function) []int {
	c := &j.Circuits[circuit]
	if c.Named {
		p := j.namedPath(circuit)
		switch {
		case !p.LineHalf:
			return nil
		case f == Line:
			return p.LineCores
		case f == Neutral:
			return p.NeutralCores
		}
		return p.CPCCores
	}
	ring := j.ringWays(circuit, f)
	if ring == nil || f == CPC && c.CPCRule != OwnCPC {
		return nil
	}
	return ring[j.Board.Place].cores
}

// Sheathed reports whether the circuit's cores lie in one sheathed cable.
func (c *Circuit) Sheathed() bool { return c.Cable.V.Form == factors.TwinEarth }
