package route

// CurrentLoop is one way that the current of a load can take: out from the
// board along line conductors and closed switches, back along the neutral.
type CurrentLoop struct {
	Load     int    // place
	Switched bool   // through the load's switched line
	Out      []Pass // the runs passed on the way out, in order
	Back     []Pass // and on the way home
	Lender   int    // circuit whose neutral it comes home by, -1 for its own
}

// Loops lists every way that the current of every load of a circuit can take,
// over all states of its switches. A circuit that only names its runs has
// none.
//
// Cost: for each load one walk of its group's wiring; two ways for each pair
// of two-way switches, twice as many for each intermediate.
func (j *Job) Loops(circuit int) []CurrentLoop {
	c := &j.Circuits[circuit]
	if c.Named {
		return nil
	}
	w := newWiring(j, circuit)
	var out []CurrentLoop
	add := func(load int, pin Pin, lender int) {
		back := w.firstWay(Terminal{Place: load, Pin: PinN}, w.home())
		for _, way := range w.ways(w.source, Terminal{Place: load, Pin: pin}) {
			out = append(out, CurrentLoop{Load: load, Switched: pin == PinSL, Out: way, Back: back, Lender: lender})
		}
	}
	for _, g := range c.Points {
		add(g.V, PinL, -1)
	}
	for _, s := range c.Spurs {
		for _, g := range s.Points {
			add(g.V, PinL, -1)
		}
	}
	for _, g := range c.Groups {
		lender := -1
		if g.Neutral.Said() {
			lender = j.circuitIndex(g.Neutral.V)
		}
		for _, l := range g.Lights {
			if len(g.Switches) > 0 {
				add(l.V, PinSL, lender)
			}
			if len(g.Switches) == 0 || needsPermanent(j.Places[l.V].Kind) {
				add(l.V, PinL, lender)
			}
		}
	}
	return out
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
}

// wiring is the live wiring of a circuit as a graph of terminals.
type wiring struct {
	job    *Job
	source Terminal
	wires  map[Terminal][]wire
}

func newWiring(j *Job, circuit int) *wiring {
	w := &wiring{job: j, source: Terminal{Place: j.Board.Place, Pin: PinL}, wires: map[Terminal][]wire{}}
	c := &j.Circuits[circuit]
	w.cores(j.Singles[c.Singles[0]:c.Singles[1]])
	for i := range c.Groups {
		g := &c.Groups[i]
		for k, s := range g.Switches {
			w.contacts(g, k, s.V, g.Gangs[k])
		}
		if g.Neutral.Said() {
			if lender := j.circuitIndex(g.Neutral.V); lender >= 0 && lender != circuit {
				l := &j.Circuits[lender]
				w.cores(j.Singles[l.Singles[0]:l.Singles[1]])
			}
		}
	}
	return w
}

func (w *wiring) cores(singles []Single) {
	for i := range singles {
		if s := &singles[i]; s.Live() {
			w.join(s.From, s.To, s.Way, false)
		}
	}
}

// contacts adds what a switch gang can close, and the link that feeds it.
func (w *wiring) contacts(g *Group, k, place, gang int) {
	pin := func(p Pin) Terminal { return Terminal{Place: place, Gang: gang, Pin: p} }
	feed := Terminal{Place: place, Pin: PinL}
	last := len(g.Switches) - 1
	if k > 0 && k < last && !g.Conversion {
		for _, pair := range [][2]Pin{{PinOneIn, PinOne}, {PinOneIn, PinTwo}, {PinTwoIn, PinOne}, {PinTwoIn, PinTwo}} {
			w.join(pin(pair[0]), pin(pair[1]), nil, true)
		}
		return
	}
	switch {
	case k == 0 && g.Conversion:
		w.join(feed, pin(PinOne), nil, false)
	case k == 0:
		w.join(feed, pin(PinC), nil, false)
	}
	w.join(pin(PinC), pin(PinOne), nil, true)
	if last > 0 {
		w.join(pin(PinC), pin(PinTwo), nil, true)
	}
}

func (w *wiring) join(a, b Terminal, way []Pass, contact bool) {
	w.wires[a] = append(w.wires[a], wire{b, way, false, contact})
	w.wires[b] = append(w.wires[b], wire{a, way, true, contact})
}

// home is the board's neutral bar, the lender's too.
func (w *wiring) home() Terminal { return Terminal{Place: w.job.Board.Place, Pin: PinN} }

// ways lists the runs of every path from one terminal to another that passes
// each terminal, and a contact of each gang, once at most.
func (w *wiring) ways(from, to Terminal) [][]Pass {
	s := trace{wiring: w, to: to, seen: map[Terminal]bool{from: true}, gangs: map[Terminal]bool{}}
	s.from(from)
	return s.found
}

// firstWay is the runs of one path.
func (w *wiring) firstWay(from, to Terminal) []Pass {
	s := trace{wiring: w, to: to, seen: map[Terminal]bool{from: true}, gangs: map[Terminal]bool{}, first: true}
	s.from(from)
	if len(s.found) == 0 {
		return nil
	}
	return s.found[0]
}

type trace struct {
	*wiring
	to    Terminal
	seen  map[Terminal]bool
	gangs map[Terminal]bool
	first bool // stop at the first path
	runs  []Pass
	found [][]Pass
}

func (s *trace) from(at Terminal) {
	if at == s.to {
		s.found = append(s.found, append([]Pass(nil), s.runs...))
		return
	}
	for _, x := range s.wires[at] {
		gang := Terminal{Place: x.to.Place, Gang: x.to.Gang}
		if s.seen[x.to] || x.contact && s.gangs[gang] || s.first && len(s.found) > 0 {
			continue
		}
		before := len(s.runs)
		if x.back {
			s.runs = append(s.runs, reversed(x.way)...)
		} else {
			s.runs = append(s.runs, x.way...)
		}
		s.seen[x.to] = true
		s.gangs[gang] = s.gangs[gang] || x.contact
		s.from(x.to)
		if x.contact {
			s.gangs[gang] = false
		}
		s.seen[x.to] = false
		s.runs = s.runs[:before]
	}
}
