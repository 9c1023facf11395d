package route

import "slices"

// CurrentLoop is one way that the current of a load can take: out from the
// board along line conductors and closed switches, and home along the neutral,
// or along the next line of a three-phase load without one.
type CurrentLoop struct {
	Load     int    // place
	Switched bool   // through the load's switched line
	Out      []Pass // the runs passed on the way out, in order
	Back     []Pass // and on the way home
	Lender   int    // circuit whose neutral it comes home by, -1 for its own
	Lent     int    // how many passes at the end of Back lie in the lender's cores
}

// Loops lists the ways that the current of every load of a circuit can take,
// over all states of its switches. A circuit that only names its runs has
// none.
//
// Cost: for each load one walk of the circuit's wiring.
func (j *Job) Loops(circuit int) []CurrentLoop {
	c := &j.Circuits[circuit]
	if c.Named {
		return nil
	}
	w := newWiring(j, circuit)
	var out []CurrentLoop
	for _, load := range c.feeds() {
		for k := range c.Lines() {
			line, home := PinL+Pin(k), PinN
			if !c.Neutral {
				home = PinL + Pin((k+1)%c.Lines())
			}
			out = append(out, w.loops(load.V, line, line, home)...)
		}
	}
	for _, g := range c.Groups {
		lender := -1
		if g.Neutral.Said() {
			lender = j.circuitIndex(g.Neutral.V)
		}
		before := len(out)
		for _, l := range g.Lights {
			if len(g.Switches) > 0 {
				out = append(out, w.loops(l.V, PinL, PinSL, PinN)...)
			}
			if len(g.Switches) == 0 || needsPermanent(j.Places[l.V].Kind) {
				out = append(out, w.loops(l.V, PinL, PinL, PinN)...)
			}
		}
		for i := before; i < len(out); i++ {
			out[i].Lender = lender
		}
	}
	return out
}

// feeds lists the points and spurs of a circuit.
func (c *Circuit) feeds() []Given[int] {
	out := slices.Clone(c.Points)
	for _, s := range c.Spurs {
		out = append(out, s.Points...)
	}
	return out
}

// loops pairs every way out from the board to a load with every way home. A
// load on a ring has two of each, laid side by side, and its current divides
// between them by their lengths: the line's and the neutral's alike, so each
// way out pairs with the way home that lies beside it.
func (w *wiring) loops(load int, board, pin, home Pin) []CurrentLoop {
	outs := w.trails(Terminal{Place: w.board, Pin: board}, Terminal{Place: load, Pin: pin})
	homes := w.trails(Terminal{Place: w.board, Pin: home}, Terminal{Place: load, Pin: home})
	if len(homes) == 0 {
		homes = []trail{{}}
	}
	var all []CurrentLoop
	for i, out := range outs {
		for k, back := range homes {
			if w.ring && k != i && len(homes) == len(outs) {
				continue
			}
			all = append(all, CurrentLoop{Load: load, Switched: pin == PinSL, Out: out.runs, Back: reversed(back.runs), Lender: -1, Lent: back.lent})
		}
	}
	return all
}

func (j *Job) circuitIndex(name string) int {
	for i := range j.Circuits {
		if j.Circuits[i].Name == name {
			return i
		}
	}
	return -1
}

// wire joins two terminals: a core along its runs, or a contact of a switch.
type wire struct {
	to      Terminal
	way     []Pass
	back    bool // walked from its far end
	contact bool
	lent    bool // a core of another circuit
}

// wiring is the live wiring of a circuit as a graph of terminals.
type wiring struct {
	job   *Job
	board int
	ring  bool
	wires map[Terminal][]wire
}

func newWiring(j *Job, circuit int) *wiring {
	c := &j.Circuits[circuit]
	w := &wiring{job: j, board: j.Board.Place, ring: c.Arrangement.V == Ring, wires: map[Terminal][]wire{}}
	w.cores(c, -1)
	var lenders []int
	for i := range c.Groups {
		g := &c.Groups[i]
		for k, s := range g.Switches {
			w.contacts(g, k, s.V, g.Gangs[k])
		}
		if !g.Neutral.Said() {
			continue
		}
		if k := j.circuitIndex(g.Neutral.V); k >= 0 && k != circuit && !slices.Contains(lenders, k) {
			lenders = append(lenders, k)
			w.cores(&j.Circuits[k], k)
		}
	}
	return w
}

// cores adds the live cores of the circuit itself, or the neutrals of a lender.
func (w *wiring) cores(c *Circuit, lender int) {
	end := func(t Terminal) Terminal {
		if lender >= 0 && !w.job.Places[t.Place].Kind.Terminal() {
			t.Gang = -1 - lender // a joint of its own, though in the same box
		}
		return t
	}
	for _, s := range w.job.Singles[c.Singles[0]:c.Singles[1]] {
		if s.Live() && (lender < 0 || s.Function == Neutral) {
			w.join(end(s.From), end(s.To), wire{way: s.Way, lent: lender >= 0})
		}
	}
}

// contacts adds what a switch gang can close, and the link that feeds it. An
// intermediate is left uncrossed: crossed, the current changes over to the
// other strapper, which lies in the same runs.
func (w *wiring) contacts(g *Group, k, place, gang int) {
	pin := func(p Pin) Terminal { return Terminal{Place: place, Gang: gang, Pin: p} }
	feed := Terminal{Place: place, Pin: PinL}
	last := len(g.Switches) - 1
	contact := wire{contact: true}
	if k > 0 && k < last {
		w.join(pin(PinOneIn), pin(PinOne), contact)
		w.join(pin(PinTwoIn), pin(PinTwo), contact)
		return
	}
	if p := g.feed(k); p != NoPin {
		w.join(feed, pin(p), wire{})
	}
	w.join(pin(PinC), pin(PinOne), contact)
	if last > 0 {
		w.join(pin(PinC), pin(PinTwo), contact)
	}
}

func (w *wiring) join(a, b Terminal, x wire) {
	x.to = b
	w.wires[a] = append(w.wires[a], x)
	x.to, x.back = a, true
	w.wires[b] = append(w.wires[b], x)
}

// trail is the runs of a path through the wiring, and how many of them, at its
// start, are passed in the lender's cores.
type trail struct {
	runs []Pass
	lent int
}

// trails lists every path from one terminal to another that passes each
// terminal, and a contact of each gang, once at most.
func (w *wiring) trails(from, to Terminal) []trail {
	s := trace{wiring: w, to: to, seen: map[Terminal]bool{from: true}, gangs: map[Terminal]bool{}}
	s.from(from)
	return s.found
}

type trace struct {
	*wiring
	to    Terminal
	seen  map[Terminal]bool
	gangs map[Terminal]bool
	trail
	found []trail
}

func (s *trace) from(at Terminal) {
	if at == s.to {
		s.found = append(s.found, trail{slices.Clone(s.runs), s.lent})
		return
	}
	for _, x := range s.wires[at] {
		gang := Terminal{Place: x.to.Place, Gang: x.to.Gang}
		if s.seen[x.to] || x.contact && s.gangs[gang] {
			continue
		}
		before := s.trail
		if x.back {
			s.runs = append(s.runs, reversed(x.way)...)
		} else {
			s.runs = append(s.runs, x.way...)
		}
		if x.lent {
			s.lent = len(s.runs)
		}
		s.seen[x.to] = true
		if x.contact {
			s.gangs[gang] = true
		}
		s.from(x.to)
		if x.contact {
			s.gangs[gang] = false
		}
		s.seen[x.to] = false
		s.trail = before
	}
}
