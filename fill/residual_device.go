package fill

import (
	"slices"

	"tubewright/factors/sum"
	"tubewright/factors/units"
	"tubewright/route"
)

// servedBy is the residual device that serves a circuit.
type servedBy struct {
	route.Residual
	Where string // "RCBO of the circuit"
}

func (r servedBy) String() string {
	text := r.Where + ", " + sum.Figure(float64(r.Current)*1000) + " mA"
	if r.Type != 0 {
		text += " type " + r.Type.String()
	}
	if r.Delayed {
		text += ", time-delayed"
	}
	return text
}

// residualOf finds the residual device nearest to a circuit: its own RCBO, the
// RCCB of its section, or that of the board.
func residualOf(m *matter, circuit int) (servedBy, bool) {
	c := &m.Circuits[circuit]
	if c.Electrical.RCBO.Said() {
		return servedBy{c.Electrical.RCBO.V, "RCBO of the circuit"}, true
	}
	for _, s := range m.Board.Sections {
		if c.Way.Said() && slices.ContainsFunc(s.Ways, func(g route.Given[int]) bool { return g.V == c.Way.V }) && s.Main.V.Residual > 0 {
			return ofSwitch(s.Main.V, "RCCB of its section of the board"), true
		}
	}
	if m.Board.Main.Said() && m.Board.Main.V.Residual > 0 {
		return ofSwitch(m.Board.Main.V, "RCCB of the board"), true
	}
	return servedBy{}, false
}

func ofSwitch(s route.MainSwitch, where string) servedBy {
	return servedBy{route.Residual{Current: units.Amps(s.Residual), Type: s.Type, Delayed: s.Delayed}, where}
}
