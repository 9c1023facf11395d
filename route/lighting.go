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
	if len(d.joints) > 0 {
		d.lineTree(feed, feeds, nil, slices.Concat(feeds, on))
		return
	}
	d.net(Line, feed, feeds, PinL)
	if len(on) > 0 && len(feeds) > 0 {
		feed = Terminal{Place: d.nearest(on[0].V, feeds), Pin: PinL}
	}
	d.net(Line, feed, on, PinL)
}

// lineTree lays all of the line as one tree, which may branch wherever it is
// looped through unjoined: to what takes it, to the lights with a permanent line
// and to the second switches of the conversion method.
func (d *deriver) lineTree(feed Terminal, first []Given[int], drops []drop, takes []Given[int]) {
	takes = slices.Concat(takes, d.permanents())
	for _, g := range d.c.Groups {
		if g.commonOnly() {
			takes = append(takes, g.Switches[1])
			drops = append(drops, drop{from: g.Switches[0].V, to: g.Switches[1]})
		}
	}
	ends, behind := d.heads(takes)
	if len(ends) == 0 {
		return
	}
	loop, _ := d.heads(first)
	stops, hops := chained(feed.Place, d.sorted(feed.Place, loop))
	for _, o := range drops {
		if !slices.Contains(stops, o.to.V) {
			stops, hops = append(stops, o.to.V), append(hops, leap{o.from, o.to.V})
		}
	}
	for _, g := range ends {
		if !slices.Contains(stops, g.V) {
			hops = append(hops, leap{d.nearestStop(g.V, stops), g.V})
			stops = append(stops, g.V)
		}
	}
	d.joinNet(joinNet{f: Line, from: feed, pin: PinL, ends: ends, behind: behind, looped: hops})
}

// lineAtLights loops the line from the first light of one group to that of the
// next, and from there down to the group's first switch. A light none of whose
// switches is fed from it is passed by: another light feeds the plate already.
// Where cores may be joined all of it is one tree, which may branch at those
// lights.
func (d *deriver) lineAtLights(feed Terminal) {
	var first, on, switches []Given[int]
	var drops []drop
	for k, g := range d.c.Groups {
		switch {
		case len(g.Lights) == 0:
		case len(g.Switches) == 0:
			first, on = append(first, g.Lights...), append(on, g.Lights...)
		case !placed(switches, g.Switches[0].V):
			first, switches = append(first, g.Lights[0]), append(switches, g.Switches[0])
			drops = append(drops, drop{g.Lights[0].V, g.Switches[0], k + 1})
		}
	}
	if len(d.joints) > 0 {
		d.lineTree(feed, first, drops, slices.Concat(on, switches))
		return
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
	stops := make([]int, len(among))
	for i, g := range among {
		stops[i] = g.V
	}
	return d.nearestStop(to, stops)
}

func (d *deriver) nearestStop(to int, among []int) int {
	best, least := among[0], -1.0
	for _, from := range among {
		if length, ok := d.length(from, to); ok && (least < 0 || length < least) {
			best, least = from, length
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
	end := Terminal{Place: g.Switches[last].V, Gang: g.Gangs[last], Pin: PinC}
	switch {
	case g.Conversion:
		out.Pin = PinTwo
		if d.conversion(g, out, end) {
			return
		}
	case last > 0:
		d.strappers(g)
		out = end
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

// conversion joins the last switch to the first by three cores. Of two switches
// these are the line, the switched line and the commons; with intermediates
// between them two strappers go through each, and the commons straight past.
// Where cores may be joined, the switched line to the second switch is one net
// with that to the lights: then it lays both, and says so.
func (d *deriver) conversion(g *Group, out, end Terminal) (lit bool) {
	last := len(g.Switches) - 1
	from, to := g.Switches[0], g.Switches[last]
	if !g.commonOnly() {
		d.strappers(g)
	} else {
		if !d.lineAt(to.V) {
			d.hop(Line, Terminal{Place: from.V, Pin: PinL}, Terminal{Place: to.V, Pin: PinL}, to.At)
		}
		second := Terminal{Place: to.V, Gang: g.Gangs[last], Pin: PinTwo}
		if lit = len(d.joints) > 0; lit {
			d.joinSwitched(g, out, second)
		} else {
			d.hop(SwitchedLine, out, second, to.At)
		}
	}
	d.hop(Common, Terminal{Place: from.V, Gang: g.Gangs[0], Pin: PinC}, end, to.At)
	return lit
}

// joinSwitched lays the switched line of two switches of the conversion method.
func (d *deriver) joinSwitched(g *Group, out, second Terminal) {
	lights, behind := d.heads(g.Lights)
	lights = d.sorted(out.Place, lights)
	_, hops := chained(out.Place, lights)
	hops = append([]leap{{out.Place, second.Place}}, hops...)
	d.joinNet(joinNet{f: SwitchedLine, from: out, pin: PinSL, ends: lights, behind: behind, far: []Terminal{second}, looped: hops})
}

// commonOnly reports whether the switches are two of the conversion method, of
// which both take the line.
func (g *Group) commonOnly() bool { return g.Conversion && len(g.Switches) == 2 }

// lineAt reports whether the circuit's line comes to a place.
func (d *deriver) lineAt(place int) bool {
	return slices.ContainsFunc(d.job.Singles[d.c.Singles[0]:], func(s Single) bool {
		return s.Function == Line && (s.From == Terminal{Place: place, Pin: PinL} || s.To == Terminal{Place: place, Pin: PinL})
	})
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
