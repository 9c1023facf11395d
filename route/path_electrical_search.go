package route

import "slices"

// leads are the conductors of one kind as a graph of terminals: cores, closed
// contacts, and steel where it serves as the cpc.
type leads struct {
	job  *Job
	from map[Terminal][]lead
}

type lead struct {
	to      Terminal
	length  float64
	core    int // -1 for a contact or a run of steel
	contact bool
	steel   []Pass
}

func newLeads(j *Job) *leads { return &leads{job: j, from: map[Terminal][]lead{}} }

func (l *leads) join(a, b Terminal, x lead) {
	x.to = b
	l.from[a] = append(l.from[a], x)
	x.to = a
	x.steel = reversed(x.steel)
	l.from[b] = append(l.from[b], x)
}

// cores adds those cores of a circuit that are wanted.
func (l *leads) cores(c *Circuit, want func(*Single) bool) {
	for i := c.Singles[0]; i < c.Singles[1]; i++ {
		s := &l.job.Singles[i]
		if want(s) {
			l.join(s.From, s.To, lead{length: float64(s.Length), core: i})
		}
	}
}

// contacts adds what the switches of a group can close, and the link that
// feeds the first of them.
func (l *leads) contacts(g *Group) {
	last := len(g.Switches) - 1
	for k, s := range g.Switches {
		pin := func(p Pin) Terminal { return Terminal{Place: s.V, Gang: g.Gangs[k], Pin: p} }
		contact := lead{core: -1, contact: true}
		if k > 0 && k < last {
			l.join(pin(PinOneIn), pin(PinOne), contact)
			l.join(pin(PinTwoIn), pin(PinTwo), contact)
			continue
		}
		if p := g.feed(k); p != NoPin {
			l.join(Terminal{Place: s.V, Pin: PinL}, pin(p), lead{core: -1})
		}
		l.join(pin(PinC), pin(PinOne), contact)
		if last > 0 {
			l.join(pin(PinC), pin(PinTwo), contact)
		}
	}
}

// steel adds the runs of steel that a circuit passes, end to end.
func (l *leads) steel(c *Circuit) {
	for _, g := range c.Runs {
		r := &l.job.Runs[g.V]
		if r.Enc.Ferromagnetic() && r.From >= 0 && r.To >= 0 {
			l.join(Terminal{Place: r.From, Pin: PinE}, Terminal{Place: r.To, Pin: PinE},
				lead{length: float64(r.Length), core: -1, steel: []Pass{{Run: g.V, Forward: true}}})
		}
	}
}

// stand is a terminal, and whether it was reached through a contact: then the
// same gang's other contact is open.
type stand struct {
	Terminal
	contact bool
}

type arrival struct {
	length float64
	from   stand
	by     *lead // nil at the source
}

// spread returns the shortest way of the kind's conductors from the board to
// every place, by the pin that a load there takes: of a light that takes a
// switched and a permanent line, the longer. The states of a group's switches
// differ in nothing that has a length.
//
// Cost: near linear in cores, for the graph is nearly a tree.
func (l *leads) spread(pin Pin) map[int]conductor {
	found := map[stand]arrival{}
	var queue, order []stand
	for _, p := range []Pin{pin, NoPin} { // NoPin: sheathed cable
		s := stand{Terminal: Terminal{Place: l.job.Board.Place, Pin: p}}
		found[s] = arrival{}
		queue = append(queue, s)
	}
	for n := 0; n < len(queue); n++ {
		at := queue[n]
		leads := l.from[at.Terminal]
		for i := range leads {
			x := &leads[i]
			if x.contact && at.contact {
				continue
			}
			to := stand{x.to, x.contact}
			length := found[at].length + x.length
			old, seen := found[to]
			if seen && old.length <= length {
				continue
			}
			if !seen {
				order = append(order, to)
			}
			found[to] = arrival{length, at, x}
			queue = append(queue, to)
		}
	}
	return l.byPlace(pin, found, order)
}

// byPlace picks the terminal of each place that counts: that of the load, which
// at a switched light is the switched line; at a switch the nearest.
func (l *leads) byPlace(pin Pin, found map[stand]arrival, order []stand) map[int]conductor {
	switched, fed, other := map[int]stand{}, map[int]stand{}, map[int]stand{}
	nearer := func(at map[int]stand, s stand) {
		if old, seen := at[s.Place]; !seen || found[s].length < found[old].length {
			at[s.Place] = s
		}
	}
	for _, s := range order {
		switch {
		case s.Pin == PinSL && pin == PinL:
			nearer(switched, s)
		case s.Pin == pin || s.Pin == NoPin:
			nearer(fed, s)
		default:
			nearer(other, s)
		}
	}
	out := map[int]conductor{}
	for place, s := range other {
		out[place] = follow(found, s)
	}
	for place, s := range fed {
		out[place] = follow(found, s)
	}
	for place, s := range switched {
		light, looped := follow(found, s), out[place]
		if needsPermanent(l.job.Places[place].Kind) && looped.one > light.one {
			continue
		}
		if looped.one > light.one {
			light.looped, light.loopedCores = looped.one, looped.cores
		}
		out[place] = light
	}
	return out
}

func follow(found map[stand]arrival, at stand) conductor {
	var r conductor
	for x := found[at]; x.by != nil; x = found[x.from] {
		if x.by.core >= 0 {
			r.cores = append(r.cores, x.by.core)
			r.one += x.by.length
		}
		r.steel = append(r.steel, reversed(x.by.steel)...)
	}
	slices.Reverse(r.cores)
	r.steel = reversed(r.steel)
	return r
}
