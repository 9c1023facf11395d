package route

import (
	"fmt"

	"tubewright/factors"
	"tubewright/factors/units"
)

// derive works out every core of every circuit: from its points and groups by
// the shortest ways, or along the runs that it names.
//
// Cost: a search of the neighbourhood for each hop, one whole search for the
// board, and linear in the cores.
func (p *parser) derive() {
	if p.changed != nil {
		p.changed(p.job)
	}
	p.wire()
	p.job.gather()
}

// wire lays every core.
func (p *parser) wire() {
	p.gangs()
	d := &deriver{parser: p, job: p.job, ways: newWays(p.job), lost: map[int]bool{}, behind: map[int]int{}, tails: make([]float64, len(p.job.Places))}
	for i := range p.job.Places {
		d.tails[i] = float64(p.job.tail(i))
		if p.job.Places[i].Joints {
			d.joints = append(d.joints, i)
		}
	}
	p.job.Singles = make([]Single, 0, p.expected())
	for i := range p.job.Circuits {
		d.circuit(i)
	}
	d.shared()
}

// expected is about how many singles the job will have, to make room.
func (p *parser) expected() (n int) {
	for i := range p.job.Circuits {
		c := &p.job.Circuits[i]
		hops := len(c.Runs) + len(c.Points)
		if len(c.Points) > 0 && c.Arrangement.V == Ring {
			hops++
		}
		for _, s := range c.Spurs {
			hops += len(s.Points)
		}
		n += hops * (c.Lines() + 2)
		for _, g := range c.Groups {
			n += 1 + 3*len(g.Lights) + len(g.Switches) + 2*max(0, len(g.Switches)-1)
		}
	}
	return n
}

// deriver works out cores, circuit by circuit.
type deriver struct {
	*parser
	job    *Job
	ways   *ways
	board  *wayTree  // from the board, searched once
	tails  []float64 // by place, see Job.tail
	joints []int     // places where cores may be joined
	group  int       // the lighting group being wired, from 1
	leg    int       // see Single.Leg
	lost   map[int]bool
	met    []bool // places, see isTree

	behind map[int]int // of the circuit's loads, the isolator that each is fed through

	walked []walked // hops between two points of the circuit, to be shared
	listed bool     // the order of the file stands, though the circuit asks for the shortest
	loose  float64  // m by which orders of lights may be longer than the shortest
	index  int      // the circuit being wired
	c      *Circuit // that circuit
}

// walked is a hop whose way is known.
type walked struct {
	from, to int
	way      []Pass
	length   float64
}

func (d *deriver) circuit(i int) {
	d.walked = d.walked[:0]
	d.index, d.c, d.group, d.leg, d.listed = i, &d.job.Circuits[i], 0, 0, false
	d.c.Singles[0] = len(d.job.Singles)
	defer func() { d.c.Singles[1] = len(d.job.Singles) }()
	if d.c.CPCRule == ConduitCPC {
		defer d.steel()
	}
	if d.c.Named {
		d.named()
		return
	}
	if d.job.Board.Place < 0 {
		d.Add(ErrMissing, d.c.At, len([]rune(d.c.Name)), "circuit "+d.c.Name+" has no board to come from", "a place with is: board")
		return
	}
	d.isolated()
	if d.c.Arrangement.V == Lighting {
		d.lighting()
	} else {
		d.power()
	}
	d.unused()
}

// steel gives the circuit a cpc of its own where no tube that it passes can
// serve as one: the cores are those already laid.
func (d *deriver) steel() {
	for _, s := range d.job.Singles[d.c.Singles[0]:] {
		for _, p := range s.Way {
			if d.job.Runs[p.Run].Enc.Ferromagnetic() {
				return
			}
		}
	}
	d.c.CPCRule, d.c.NoSteel = OwnCPC, true
}

// unused reports a way that the job names and no core takes.
func (d *deriver) unused() {
	if len(d.Problems) > 0 {
		return // what went wrong before may be why
	}
	for _, v := range d.c.Via {
		if !v.used && len(v.Runs) > 0 {
			from, to := d.job.Places[v.From].Name, d.job.Places[v.To].Name
			d.Add(ErrConflict, v.Runs[0].At, len([]rune(d.job.Runs[v.Runs[0].V].Name)), fmt.Sprintf("no core of circuit %s goes from %s to %s", d.c.Name, from, to), "two places between which a core runs unbroken: see singles")
		}
	}
}

// named lays line, neutral and cpc along the runs that the circuit names.
func (d *deriver) named() {
	for _, g := range d.c.Runs {
		r := &d.job.Runs[g.V]
		way := []Pass{{Run: g.V, Forward: true}}
		d.trunk(Terminal{Place: r.From}, Terminal{Place: r.To}, way, float64(r.Length))
	}
}

// trunk lays all conductors of a hop side by side: the lines, the neutral and
// the cpc, or one sheathed cable.
func (d *deriver) trunk(from, to Terminal, way []Pass, length float64) {
	if d.c.Cable.V.Form != factors.Single {
		d.lay(Unnamed, from, to, way, length)
		return
	}
	for k := range d.c.Lines() {
		if !d.c.Named || k > 0 {
			from.Pin, to.Pin = PinL+Pin(k), PinL+Pin(k)
		}
		d.lay(Line, from, to, way, length)
	}
	if d.c.Neutral {
		from.Pin, to.Pin = PinN, PinN
		d.lay(Neutral, from, to, way, length)
	}
	d.cpc(from, to, way, length)
}

// lay adds one core.
func (d *deriver) lay(f Function, from, to Terminal, way []Pass, length float64) {
	s := Single{Circuit: d.index, Function: f, Group: d.group, Leg: d.leg, From: from, To: to, Way: way}
	s.Cable, s.Colour = d.c.Cable.V, NoColour
	switch f {
	case Unnamed:
	case CPC:
		s.Cable, s.Colour = cpcCable(d.c.Cable.V, d.c.CPC.V), GreenYellow
	case Neutral:
		s.Colour = Blue
	case Line:
		phase := 0
		if from.Pin >= PinL && from.Pin <= PinL3 {
			phase = int(from.Pin - PinL)
		}
		s.Colour = lineColours[phase]
		if d.c.Lines() == 3 {
			s.Phase = phase + 1
		}
	default:
		s.Colour = Brown
	}
	s.Length = units.Metres(round6(length + d.tail(from.Place) + d.tail(to.Place)))
	d.job.Singles = append(d.job.Singles, s)
}

// tail is what a core needs to reach a terminal at a place, in metres; none at
// the end of a run that stands alone.
func (d *deriver) tail(place int) float64 {
	if place < 0 {
		return 0
	}
	return d.tails[place]
}

func (j *Job) tail(place int) units.Metres {
	switch {
	case !j.Places[place].Kind.Terminal() && !j.Places[place].Joints:
		return 0
	case j.Places[place].Kind == BoardPlace:
		return j.Allow.BoardTail.V
	}
	return j.Allow.AccessoryTail.V
}

// power wires a radial, ring or direct circuit: the conductors hop from point
// to point side by side, back to the board for a ring, and out to the spurs.
func (d *deriver) power() {
	board := d.job.Board.Place
	ring := d.c.Arrangement.V == Ring
	if d.c.Order == Shortest {
		d.reorder(ring)
	}
	if len(d.joints) > 0 && !ring && d.c.Cable.V.Form == factors.Single {
		d.jointed()
	} else {
		at := board
		for _, g := range d.c.Points {
			if ring && at == board {
				d.leg = 1
			}
			if !d.hopAll(at, g) {
				return
			}
			d.leg = 0
			at = d.onward(at, g.V)
		}
		if ring && len(d.c.Points) > 0 {
			d.leg = 2
			d.hopAll(at, Given[int]{board, d.c.Points[len(d.c.Points)-1].At})
			d.leg = 0
		}
	}
	for _, s := range d.c.Spurs {
		at := s.From.V
		for _, g := range s.Points {
			if !d.hopAll(at, g) {
				return
			}
			at = d.onward(at, g.V)
		}
	}
}

// onward is where the conductors loop on from: not from a load behind an
// isolator, which would part what follows with it.
func (d *deriver) onward(at, to int) int {
	if from, ok := d.behind[to]; ok && from == at {
		return at
	}
	return to
}

// hopAll lays all conductors from one place to the next.
func (d *deriver) hopAll(from int, to Given[int]) bool {
	way, length, ok := d.way(from, to.V)
	if !ok {
		d.unreached(from, to)
		return false
	}
	d.trunk(Terminal{Place: from}, Terminal{Place: to.V}, way, length)
	return true
}

// unreached reports a place that no runs lead to, once however many cores go
// there.
func (d *deriver) unreached(from int, to Given[int]) {
	if d.lost[to.V] {
		return
	}
	d.lost[to.V] = true
	place := &d.job.Places[to.V]
	what, want := fmt.Sprintf("no runs lead from %s to %s", d.job.Places[from].Name, place.Name), "a run between them"
	if len(place.Runs) == 0 {
		what, want = "no run reaches "+place.Name, "a run from or to "+place.Name
	}
	d.Add(ErrReach, to.At, len([]rune(place.Name)), what, want)
}

// way is the runs of a hop: those that the circuit names, else the shortest.
func (d *deriver) way(from, to int) ([]Pass, float64, bool) {
	if v := d.via(from, to); v != nil {
		v.used = true
		return d.along(v.Runs, from, v.From != from)
	}
	return d.shortest(from, to)
}

// length is how far a hop would go, in metres.
func (d *deriver) length(from, to int) (length float64, ok bool) {
	if v := d.via(from, to); v != nil {
		return d.viaLength(v), true
	}
	_, length, ok = d.shortest(from, to)
	return length, ok
}

func (d *deriver) viaLength(v *Via) (length float64) {
	for _, r := range v.Runs {
		length += float64(d.job.Runs[r.V].Length)
	}
	return length
}

// shortest is the shortest way between two places, within the runs that are
// kept to. Of two equal ways it is the one taken before, so that the cores lie
// together.
func (d *deriver) shortest(from, to int) ([]Pass, float64, bool) {
	switch d.job.Board.Place {
	case from:
		if d.ways.kept != nil {
			if way, length, ok := d.keptFromBoard(to); ok {
				return way, length, true
			}
		}
		return d.fromBoard().to(to)
	case to:
		return d.fromBoard().back(from)
	}
	kept := d.ways.kept != nil
	for i := range d.walked {
		switch w := &d.walked[i]; {
		case kept && !d.ways.keeps(w.way):
		case w.from == from && w.to == to:
			return w.way, w.length, true
		case w.from == to && w.to == from:
			return reversed(w.way), w.length, true
		}
	}
	if kept {
		return d.ways.fromUntil(from, []int{to}).to(to)
	}
	way, length, ok := d.ways.way(from, to)
	if ok {
		d.walked = append(d.walked, walked{from, to, way, length})
	}
	return way, length, ok
}

// via is the way that the circuit names from one place to another. One that is
// named the other way round serves too, but not where the circuit goes both
// ways between the two: a ring of one point.
func (d *deriver) via(from, to int) *Via {
	for i := range d.c.Via {
		if v := &d.c.Via[i]; v.From == from && v.To == to {
			return v
		}
	}
	if d.c.Arrangement.V == Ring && len(d.c.Points) == 1 {
		return nil
	}
	for i := range d.c.Via {
		if v := &d.c.Via[i]; v.From == to && v.To == from {
			return v
		}
	}
	return nil
}

// along walks named runs.
func (d *deriver) along(runs []Given[int], from int, backwards bool) ([]Pass, float64, bool) {
	way := make([]Pass, 0, len(runs))
	length, at := 0.0, from
	for i := range runs {
		g := runs[i]
		if backwards {
			g = runs[len(runs)-1-i]
		}
		r := &d.job.Runs[g.V]
		way = append(way, Pass{Run: g.V, Forward: r.From == at})
		length += float64(r.Length)
		at = r.other(at)
	}
	return way, length, true
}

func reversed(way []Pass) []Pass {
	out := make([]Pass, len(way))
	for i, p := range way {
		out[len(way)-1-i] = Pass{Run: p.Run, Forward: !p.Forward}
	}
	return out
}
