package route

import (
	"tubewright/factors/source"
	"tubewright/factors/units"
)

// electricalKeys are the circuit's keys that are read here.
var electricalKeys = []string{"loads", "use", "socket in control", "RCBO", "leakage", "location", "breaking", "let-through", "fixed equipment", "line"}

// lineWords are the lines of a three-phase board.
var lineWords = []string{"L1", "L2", "L3"}

// electrical reads one key of a circuit that concerns more than its cores.
func (p *parser) electrical(c *Circuit, key string, v *source.Node) {
	e := &c.Electrical
	switch key {
	case "use":
		e.Use = Given[Use]{Use(word(p, v, useWords)), source.At(v)}
	case "socket in control":
		e.SocketIn = p.yes(v)
	case "RCBO":
		e.RCBO = p.rcbo(v)
	case "leakage":
		e.Leakage = Given[Waveform]{Waveform(word(p, v, waveformWords)), source.At(v)}
	case "location":
		for _, l := range list(v) {
			e.Locations = append(e.Locations, Given[Location]{Location(word(p, l, locationWords)), source.At(l)})
		}
	case "breaking":
		e.Breaking = good(p, v, units.ParseAmps, above, "a breaking capacity is above 0", "such as 6 kA")
	case "let-through":
		e.LetThru = good(p, v, units.ParseAmpSquaredSeconds, above, "a device lets some energy through", "such as 30000 A²s, from its maker")
	case "line":
		e.Line = Given[int]{1 + word(p, v, lineWords), source.At(v)}
		if p.job.Supply.Phases.V != 3 {
			p.AddNode(ErrConflict, v, "the supply has one line", "supply: {phases: 3}, or leave line out")
		}
	case "fixed equipment":
		e.Fixed = Given[bool]{p.yes(v), source.At(v)}
	}
}

// rcbo reads {residual: 30 mA, type: A}.
func (p *parser) rcbo(n *source.Node) Given[Residual] {
	g := Given[Residual]{At: source.At(n)}
	before := len(p.Problems)
	for key, v := range p.keys(n, "an RCBO", []string{"residual", "type", "delayed"}) {
		switch key {
		case "residual":
			g.V.Current = p.residualCurrent(v)
		case "type":
			g.V.Type = ResidualType(word(p, v, residualWords))
		case "delayed":
			g.V.Delayed = p.yes(v)
		}
	}
	if len(p.Problems) == before && (g.V.Current == 0 || g.V.Type == 0) {
		p.AddNode(ErrMissing, n, "an RCBO needs its residual current and type", "RCBO: {residual: 30 mA, type: A}")
	}
	return g
}

// loads reads what the points take: {s1: 2 kW, l1: {power: 60 W, power factor: 0.9}}.
func (p *parser) loads(c *Circuit, n *source.Node) {
	if n.Kind != source.Mapping {
		p.AddNode(ErrValue, n, "loads are a list of points", "write {s1: 2 kW, s2: 450 W}")
		return
	}
	for i := 0; i < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		place := p.placeNamed(k)
		if place < 0 {
			continue
		}
		if !c.Named && !placed(c.allPoints(), place) && !c.lights(place) {
			p.AddNode(ErrConflict, k, "circuit "+c.Name+" does not feed "+k.Value, "one of its points or lights")
			continue
		}
		c.Electrical.Loads = append(c.Electrical.Loads, Load{Place: place, Demand: p.demand(v).V, At: source.At(k)})
	}
}

// lights reports whether a place is a light of the circuit.
func (c *Circuit) lights(place int) bool {
	for _, g := range c.Groups {
		if placed(g.Lights, place) {
			return true
		}
	}
	return false
}
