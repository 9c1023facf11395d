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

// residualOf finds the residual device that a circuit is protected by: of its
// own RCBO, the RCCB of its section and that of the board, which all carry its
// current, the one without delay that answers to least; the nearest of equals.
func residualOf(m *matter, circuit int) (servedBy, bool) {
	c := &m.Circuits[circuit]
	var best servedBy
	try := func(r servedBy) {
		if r.Current == 0 {
			return
		}
		if best.Current == 0 || best.Delayed && !r.Delayed || best.Delayed == r.Delayed && r.Current < best.Current {
			best = r
		}
	}
	try(servedBy{c.Electrical.RCBO.V, "RCBO of the circuit"})
	for i := range m.Board.Sections {
		s := &m.Board.Sections[i]
		if c.Way.Said() && slices.ContainsFunc(s.Ways, func(g route.Given[int]) bool { return g.V == c.Way.V }) {
			try(ofSwitch(s.Main.V, "RCCB of its section of the board"))
		}
	}
	try(ofSwitch(m.Board.Main.V, "RCCB of the board"))
	return best, best.Current > 0
}

func ofSwitch(s route.MainSwitch, where string) servedBy {
	return servedBy{route.Residual{Current: units.Amps(s.Residual), Type: s.Type, Delayed: s.Delayed}, where}
}
