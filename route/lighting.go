package route

import (
	"slices"

	"tubewright/factors/source"
)

// lighting wires a lighting circuit in singles: the line loops from switch to
// switch and the neutral from light to light, or the line from light to light
// where the job says so. The cpc goes to every place by the shortest tree.
//
// Source: the trade's wiring diagrams (common practice, no source).
func (d *deriver) lighting() {
	if d.c.Order == Shortest {
		d.leastOrder()
	}
	d.light()
}

// light lays the cores of a lighting circuit, its groups as they stand.
func (d *deriver) light() {
	board := d.job.Board.Place
	feed := Terminal{Place: board, Pin: PinL}
	if d.c.Loop == AtLights {
		d.lineAtLights(feed)
	} else {
		d.lineAtSwitches(feed)
	}
	for k := range d.c.Groups {
		d.group = k + 1
		d.switching(&d.c.Groups[k])
	}
	d.group = 0
	d.permanent()
	live, lines := d.ways.mark(nil, d.job.Singles[d.c.Singles[0]:]), len(d.job.Singles)
	d.neutrals(live)
	if d.c.CPCRule != SharedCPC {
		live = d.ways.mark(live, d.job.Singles[lines:])
		stops := d.stops([]int{board}, d.index)
		d.keepCPC(live, func() { d.spanning(stops, d.oneFromBoard) })
	}
	d.ways.unmark(live)
}

// hop lays one live core.
func (d *deriver) hop(f Function, from, to Terminal, at source.Pos) bool {
	way, length, ok := d.way(from.Place, to.Place)
	if !ok {
		d.unreached(from.Place, Given[int]{to.Place, at})
		return false
	}
	d.lay(f, from, to, way, length)
	return true
}

// chain lays a core through places in order, from pin to pin.
func (d *deriver) chain(f Function, from Terminal, places []Given[int], pin Pin) {
	for _, g := range places {
		to := Terminal{Place: g.V, Pin: pin}
		if to == from {
			continue
		}
		if !d.hop(f, from, to, g.At) {
			return
		}
		if d.onward(from.Place, g.V) == g.V {
			from = to
		}
	}
}

// lineAtSwitches loops the line from the first switch of one group to that of
// the next, then feeds lights that are permanently on.
func (d *deriver) lineAtSwitches(feed Terminal) {
	var feeds, on []Given[int]
	for _, g := range d.c.Groups {
		switch {
		case len(g.Switches) == 0:
			on = append(on, g.Lights...)
		case !placed(feeds, g.Switches[0].V):
			feeds = append(feeds, g.Switches[0])
		}
	}
	if len(d.joints) > 0 { // one tree, which may branch anywhere
		feeds, on = append(append(feeds, on...), d.permanents()...), nil
	}
	d.net(Line, feed, feeds, PinL)
	if len(on) > 0 && len(feeds) > 0 {
		feed = Terminal{Place: d.nearest(on[0].V, feeds), Pin: PinL}
	}
	d.net(Line, feed, on, PinL)
}

// lineAtLights loops the line from the first light of one group to that of the
// next, and from there down to the group's first switch. Where cores may be
// joined all of it is one tree.
func (d *deriver) lineAtLights(feed Terminal) {
	var first []Given[int]
	var drops []drop
	for k, g := range d.c.Groups {
		switch {
		case len(g.Lights) == 0:
			continue
		case len(g.Switches) == 0:
			first = append(first, g.Lights...)
			continue
		}
		first = append(first, g.Lights[0])
		if !slices.ContainsFunc(drops, func(o drop) bool { return o.to.V == g.Switches[0].V }) {
			drops = append(drops, drop{g.Lights[0].V, g.Switches[0], k + 1})
		}
	}
	if len(d.joints) > 0 {
		first = append(first, d.permanents()...)
		for _, o := range drops {
			first = append(first, o.to)
		}
		drops = nil
	}
	d.net(Line, feed, first, PinL)
	for _, o := range drops {
		d.group = o.group
		d.hop(Line, Terminal{Place: o.from, Pin: PinL}, Terminal{Place: o.to.V, Pin: PinL}, o.to.At)
	}
	d.group = 0
}

// drop is the line from a light down to a switch.
type drop struct {
	from  int
	to    Given[int]
	group int
}

// nearest is the place among several with the shortest way to a place.
func (d *deriver) nearest(to int, among []Given[int]) int {
	best, least := among[0].V, -1.0
	for _, g := range among {
		if length, ok := d.length(g.V, to); ok && (least < 0 || length < least) {
			best, least = g.V, length
		}
	}
	return best
}

// switching wires a group from its first switch to its lights: strappers
// between two-way switches and on through intermediates, or the three cores of
// the conversion method, and the switched line.
func (d *deriver) switching(g *Group) {
	last := len(g.Switches) - 1
	if last < 0 || len(g.Lights) == 0 {
		return
	}
	first := g.Switches[0]
	out := Terminal{Place: first.V, Gang: g.Gangs[0], Pin: PinOne}
	switch {
	case g.Conversion:
		d.conversion(g)
		out.Pin = PinTwo
	case last > 0:
		d.strappers(g)
		out = Terminal{Place: g.Switches[last].V, Gang: g.Gangs[last], Pin: PinC}
	}
	d.net(SwitchedLine, out, g.Lights, PinSL)
}

func (d *deriver) strappers(g *Group) {
	defer func() { d.leg = 0 }()
	for k := 1; k < len(g.Switches); k++ {
		d.leg = k
		from, to := g.Switches[k-1], g.Switches[k]
		inOne, inTwo := PinOneIn, PinTwoIn
		if k == len(g.Switches)-1 {
			inOne, inTwo = PinOne, PinTwo
		}
		a := Terminal{Place: from.V, Gang: g.Gangs[k-1]}
		b := Terminal{Place: to.V, Gang: g.Gangs[k]}
		a.Pin, b.Pin = PinOne, inOne
		if !d.hop(StrapperOne, a, b, to.At) {
			return
		}
		a.Pin, b.Pin = PinTwo, inTwo
		d.hop(StrapperTwo, a, b, to.At)
	}
}

// conversion joins a second switch to the first by three cores: the line, the
// switched line and the commons.
func (d *deriver) conversion(g *Group) {
	from, to := g.Switches[0], g.Switches[1]
	for _, core := range []struct {
		f   Function
		pin Pin
	}{{Line, PinOne}, {SwitchedLine, PinTwo}, {Common, PinC}} {
		a := Terminal{Place: from.V, Gang: g.Gangs[0], Pin: core.pin}
		b := Terminal{Place: to.V, Gang: g.Gangs[1], Pin: core.pin}
		if !d.hop(core.f, a, b, to.At) {
			return
		}
	}
}

// needsPermanent reports whether a load takes a permanent line beside the
// switched one.
func needsPermanent(k PlaceKind) bool { return k == EmergencyLight || k == TimedFan }

// permanents lists the emergency lights and timed fans of switched groups, each
// after the isolator that it is fed through.
func (d *deriver) permanents() (need []Given[int]) {
	for _, g := range d.c.Groups {
		for i, l := range g.Lights {
			if len(g.Switches) == 0 || !needsPermanent(d.job.Places[l.V].Kind) {
				continue
			}
			if _, ok := d.behind[l.V]; ok {
				need = append(need, g.Lights[i-1])
			}
			need = append(need, l)
		}
	}
	return need
}

// permanent takes the permanent line on to those that the line does not reach:
// each from the nearest place that has it, or through its isolator.
func (d *deriver) permanent() {
	if len(d.joints) > 0 {
		return // the line's tree has reached them
	}
	need := d.permanents()
	if len(need) == 0 {
		return
	}
	fed := d.fed()
	for _, to := range need {
		if len(fed) == 0 || placed(fed, to.V) {
			continue
		}
		from, ok := d.behind[to.V]
		if !ok {
			from = d.nearest(to.V, fed)
		}
		if !d.hop(PermanentLine, Terminal{Place: from, Pin: PinL}, Terminal{Place: to.V, Pin: PinL}, to.At) {
			return
		}
		if !ok {
			fed = append(fed, to)
		}
	}
}

func (d *deriver) isBehind(place int) bool {
	_, ok := d.behind[place]
	return ok
}

// fed lists the places that the circuit's line has been taken to and may be
// taken on from.
func (d *deriver) fed() (out []Given[int]) {
	for i := d.c.Singles[0]; i < len(d.job.Singles); i++ {
		if s := &d.job.Singles[i]; s.Function == Line && s.To.Pin == PinL && d.job.Places[s.To.Place].Kind.Terminal() && !d.isBehind(s.To.Place) {
			out = append(out, Given[int]{V: s.To.Place})
		}
	}
	return out
}

// neutrals loops the neutral from light to light, beside the line in the runs
// that it lies in; a group that borrows takes
// it from the other circuit's nearest light or point.
func (d *deriver) neutrals(lines []int) {
	var own []Given[int]
	for _, g := range d.c.Groups {
		if !g.Neutral.Said() {
			own = append(own, g.Lights...)
		}
	}
	d.keep(lines, func() { d.net(Neutral, Terminal{Place: d.job.Board.Place, Pin: PinN}, own, PinN) }, d.neutralParts)
	for k := range d.c.Groups {
		g := &d.c.Groups[k]
		if !g.Neutral.Said() || len(g.Lights) == 0 {
			continue
		}
		lender := d.circuitNamed(g.Neutral)
		if lender == nil {
			continue
		}
		points := lender.allPoints()
		if len(points) == 0 || !lender.Neutral {
			d.Add(ErrConflict, g.Neutral.At, len([]rune(g.Neutral.V)), "circuit "+lender.Name+" has no neutral to borrow", "a circuit with points or lights of its own, or leave it out")
			continue
		}
		d.group = k + 1
		d.net(Neutral, Terminal{Place: d.nearest(g.Lights[0].V, points), Pin: PinN}, g.Lights, PinN)
	}
	d.group = 0
}

// circuitNamed finds the circuit that a group borrows its neutral from.
func (d *deriver) circuitNamed(name Given[string]) *Circuit {
	known := make([]string, 0, len(d.job.Circuits))
	for i := range d.job.Circuits {
		c := &d.job.Circuits[i]
		if c.Name == name.V && i != d.index {
			return c
		}
		known = append(known, c.Name)
	}
	d.Add(ErrReference, name.At, len([]rune(name.V)), "no other circuit is called "+name.V, source.Suggest(name.V, known))
	return nil
}

// allPoints lists the places where a circuit has a neutral.
func (c *Circuit) allPoints() []Given[int] {
	out := append([]Given[int](nil), c.Points...)
	for _, s := range c.Spurs {
		out = append(out, s.Points...)
	}
	for _, g := range c.Groups {
		if !g.Neutral.Said() {
			out = append(out, g.Lights...)
		}
	}
	return out
}
