package route

import (
	"fmt"
	"strings"

	"tubewright/factors"
	"tubewright/factors/source"
)

// pointNodes are the values of a circuit that say where its cores go.
type pointNodes struct{ points, spurs, groups, via *source.Node }

// points reads what a circuit feeds: points and spurs, or groups of switches
// and lights. A circuit that names its runs instead has neither.
func (p *parser) points(c *Circuit, name, runs *source.Node, at pointNodes) {
	lighting := c.Arrangement.V == Lighting
	switch {
	case runs != nil && (at.points != nil || at.spurs != nil || at.groups != nil || at.via != nil):
		p.AddNode(ErrConflict, runs, "circuit "+c.Name+" names runs and what it feeds", "leave out runs: they follow from the points")
		return
	case runs != nil:
		return
	case lighting && at.groups == nil:
		p.AddNode(ErrMissing, name, "circuit "+c.Name+" has no groups", "groups: [{switches: [sw1], lights: [l1]}], or runs: [A, B]")
	case lighting && at.points != nil:
		p.AddNode(ErrConflict, at.points, "a lighting circuit has groups, not points", "groups: [{switches: [sw1], lights: [l1]}]")
	case !lighting && at.groups != nil:
		p.AddNode(ErrConflict, at.groups, "groups belong to a lighting circuit", "arrangement: lighting")
	case !lighting && at.points == nil:
		p.AddNode(ErrMissing, name, "circuit "+c.Name+" feeds nothing", "points: [s1, s2], or runs: [A, B]")
	}
	if lighting && c.Lines() > 1 {
		p.Add(ErrConflict, c.Phases.At, 1, "a lighting circuit is single-phase", "one circuit a phase, each on a way of its own")
	}
	if lighting && c.Cable.V.Form == factors.TwinEarth {
		p.Add(ErrConflict, c.Cable.At, 1, "lighting in sheathed cable is not worked out core by core", "singles, or name its runs: runs: [A, B]")
	}
	if at.points != nil && !lighting {
		c.Points = p.pointList(c, at.points, "points: [s1, s2]", nil, PlaceKind.fed)
	}
	if at.spurs != nil {
		p.spurs(c, at.spurs)
	}
	if at.groups != nil && lighting {
		p.groups(c, at.groups)
	}
	if at.via != nil {
		p.via(c, at.via)
	}
}

// pointList reads places that a circuit feeds; no place twice. The shape is the
// key and what it may have; hints name places of the kinds that fit.
func (p *parser) pointList(c *Circuit, n *source.Node, shape string, seen []Given[int], fits func(PlaceKind) bool) []Given[int] {
	var out []Given[int]
	for _, v := range list(n) {
		i := p.placeOf(v, fits)
		if i < 0 {
			continue
		}
		kind := p.job.Places[i].Kind
		switch {
		case kind == BoardPlace || !kind.Terminal() && kind != 0 && !p.job.Places[i].Joints:
			want := "a socket, light, switch, heater or other point"
			if kind == Box {
				want += ", or joints: yes at the box"
			}
			p.AddNode(ErrConflict, v, fmt.Sprintf("%s is a %s: no circuit ends there", v.Value, kind), want)
			continue
		case placed(out, i) || placed(seen, i):
			p.AddNode(ErrConflict, v, v.Value+" is fed twice by circuit "+c.Name, "name each point once")
			continue
		}
		out = append(out, Given[int]{i, source.At(v)})
	}
	if len(list(n)) == 0 {
		key, _, _ := strings.Cut(shape, ":")
		p.AddNode(ErrMissing, n, "an empty list of "+key, shape)
	}
	return out
}

// placed reports whether a place, or a run, is in a list.
func placed(xs []Given[int], at int) bool {
	for _, x := range xs {
		if x.V == at {
			return true
		}
	}
	return false
}

// spurs reads the branches: [{from: s2, points: [s4]}].
func (p *parser) spurs(c *Circuit, n *source.Node) {
	fed := append([]Given[int](nil), c.Points...)
	for _, one := range list(n) {
		var s Spur
		before := len(p.Problems)
		var from, points *source.Node
		for key, v := range p.keys(one, "a spur", []string{"from", "points"}) {
			switch key {
			case "from":
				from = v
			case "points":
				points = v
			}
		}
		if from == nil || points == nil {
			if len(p.Problems) > before {
				continue
			}
			p.AddNode(ErrMissing, one, "a spur needs from and points", "{from: s2, points: [s4]}")
			continue
		}
		s.From = Given[int]{p.placeNamed(from), source.At(from)}
		if s.From.V >= 0 && !placed(fed, s.From.V) {
			p.AddNode(ErrConflict, from, "the spur leaves "+from.Value+", which circuit "+c.Name+" does not feed", "one of the circuit's points")
		}
		s.Points = p.pointList(c, points, "points: [s4]", fed, PlaceKind.fed)
		fed = append(fed, s.Points...)
		c.Spurs = append(c.Spurs, s)
	}
}

// groups reads the lighting groups.
func (p *parser) groups(c *Circuit, n *source.Node) {
	var lit []Given[int]
	for _, one := range list(n) {
		var g Group
		before := len(p.Problems)
		var switches, lights, method *source.Node
		for key, v := range p.keys(one, "a group", []string{"switches", "lights", "method", "neutral from"}) {
			switch key {
			case "switches":
				switches = v
			case "lights":
				lights = v
			case "method":
				method = v
				g.Conversion = word(p, v, methodWords) == 1
			case "neutral from":
				g.Neutral = Given[string]{p.text(v), source.At(v)}
			}
		}
		if lights == nil {
			if len(p.Problems) > before {
				continue
			}
			p.AddNode(ErrMissing, one, "a group without lights", "{switches: [sw1], lights: [l1]}")
			continue
		}
		if switches != nil {
			g.Switches = p.switchList(c, switches)
		}
		g.Lights = p.lightList(c, lights, lit)
		lit = append(lit, g.Lights...)
		if g.Conversion && len(g.Switches) < 2 {
			p.AddNode(ErrConflict, method, "the conversion method joins two switches or more", "two switches, or no method")
		}
		c.Groups = append(c.Groups, g)
	}
}

func (p *parser) switchList(c *Circuit, n *source.Node) []Given[int] {
	points := p.pointList(c, n, "switches: [sw1]", nil, func(k PlaceKind) bool { return k == Switch })
	for _, g := range points {
		if pl := &p.job.Places[g.V]; pl.Kind != Switch && pl.Kind != 0 {
			p.Add(ErrConflict, g.At, len([]rune(pl.Name)), pl.Name+" is a "+pl.Kind.String()+", not a switch", "a place with is: switch")
		}
	}
	return points
}

func (p *parser) lightList(c *Circuit, n *source.Node, lit []Given[int]) []Given[int] {
	points := p.pointList(c, n, "lights: [l1]", lit, func(k PlaceKind) bool { return k.fed() && k != Switch && k != Socket })
	for _, g := range points {
		switch pl := &p.job.Places[g.V]; pl.Kind {
		case Switch, Socket, Box, Entry:
			p.Add(ErrConflict, g.At, len([]rune(pl.Name)), pl.Name+" is a "+pl.Kind.String()+", not a light", "a light, emergency light, fan or other load")
		}
	}
	return points
}

// via reads the hops whose runs are named: [{from: s1, to: s2, runs: [B, D]}].
func (p *parser) via(c *Circuit, n *source.Node) {
	for _, one := range list(n) {
		var v Via
		before := len(p.Problems)
		var from, to, runs *source.Node
		for key, node := range p.keys(one, "a way", []string{"from", "to", "runs"}) {
			switch key {
			case "from":
				from = node
			case "to":
				to = node
			case "runs":
				runs = node
			}
		}
		if from == nil || to == nil || runs == nil {
			if len(p.Problems) > before {
				continue
			}
			p.AddNode(ErrMissing, one, "via needs from, to and runs", "{from: s1, to: s2, runs: [B, D]}")
			continue
		}
		v.From, v.To = p.placeNamed(from), p.placeNamed(to)
		if v.From < 0 || v.To < 0 {
			continue
		}
		if at := p.viaRuns(&v, runs); at >= 0 && at != v.To {
			p.AddNode(ErrReach, runs, "these runs lead to "+p.job.Places[at].Name+", not to "+to.Value, "the runs from "+from.Value+" to "+to.Value)
		}
		c.Via = append(c.Via, v)
	}
}

// viaRuns reads the runs of a way and returns where they lead, -1 where they
// do not hang together.
func (p *parser) viaRuns(v *Via, runs *source.Node) int {
	at := v.From
	for _, r := range list(runs) {
		i, ok := p.runs[r.Value]
		if !ok {
			p.noSuch(r, "runs", "run", p.runNames)
			return -1
		}
		run := &p.job.Runs[i]
		switch {
		case run.From < 0 || run.To < 0: // it stands alone, or its ends have their complaint
			p.alone(r, run)
			return -1
		case run.From != at && run.To != at:
			p.AddNode(ErrReach, r, "run "+r.Value+" does not start at "+p.job.Places[at].Name, "name the runs in the order in which they are passed")
			return -1
		case placed(v.Runs, i):
			p.AddNode(ErrConflict, r, "run "+r.Value+" is named twice on one way", "each run once: a core does not turn back between two terminals")
			return -1
		}
		at = run.other(at)
		v.Runs = append(v.Runs, Given[int]{i, source.At(r)})
	}
	return at
}

// alone reports a hop through a run that joins no places. A run whose ends
// could not be read has its complaint.
func (p *parser) alone(n *source.Node, r *Run) {
	if r.From < 0 && r.To < 0 && !r.FromAt.Known() {
		p.AddNode(ErrReach, n, "run "+r.Name+" stands alone: it leads from nowhere to nowhere", "give the run from and to")
	}
}

func gangText(n int) string {
	if n == 1 {
		return "1 gang"
	}
	return fmt.Sprint(n, " gangs")
}

// gangs gives every group its gang of each switch it uses, in the order of the
// file, and reports switches with too few.
func (p *parser) gangs() {
	used := map[int]int{}
	for i := range p.job.Circuits {
		c := &p.job.Circuits[i]
		for k := range c.Groups {
			g := &c.Groups[k]
			for _, s := range g.Switches {
				used[s.V]++
				g.Gangs = append(g.Gangs, used[s.V])
				if pl := &p.job.Places[s.V]; used[s.V] == pl.Gangs+1 {
					p.Add(ErrConflict, s.At, len([]rune(pl.Name)), fmt.Sprintf("switch %s has %s, and more groups use it", pl.Name, gangText(pl.Gangs)), "gangs: "+fmt.Sprint(pl.Gangs+1)+" at the place")
				}
			}
		}
	}
}
