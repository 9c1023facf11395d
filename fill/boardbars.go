package fill

import (
	"fmt"
	"slices"

	"tubewright/factors"
	"tubewright/route"
)

// Bar is a neutral or earth bar. Its terminals bear the numbers of the ways
// (common practice, no source), so that each circuit's line, neutral and cpc
// are found by one number.
type Bar struct {
	Name      string
	Earth     bool
	Part      int      // of Board.Parts, for a neutral bar
	Feeds     []string // what connects the bar
	Terminals []BarTerminal
}

// BarTerminal is one terminal of a bar.
type BarTerminal struct {
	Number    int // of the way
	Circuit   int // -1 for a way without one
	Cores     int
	Conductor string // what goes in; or why nothing does
}

// Bars lists a neutral bar for each part and the earth bar. Neutrals of a
// section stay on the section's own bar: on another they would trip its
// residual device.
func (b *Board) Bars() []Bar {
	var bars []Bar
	for i := range b.Parts {
		p := &b.Parts[i]
		bar := Bar{Name: "neutral bar", Part: i, Feeds: []string{"incoming neutral"}}
		if b.Main.Said() {
			bar.Feeds = []string{"main " + b.Main.V.Device + " N out"}
		}
		if p.Section > 0 {
			bar.Name += fmt.Sprintf(" %d", p.Section)
			bar.Feeds = []string{p.Name() + " N out"}
		}
		for _, w := range p.Ways {
			bar.Terminals = append(bar.Terminals, b.neutral(w))
		}
		bars = append(bars, bar)
	}
	earth := Bar{Name: "earth bar", Earth: true, Part: -1, Feeds: []string{"main earthing conductor", "main bonding conductors, where they end here"}}
	for i := range b.Parts {
		for _, w := range b.Parts[i].Ways {
			earth.Terminals = append(earth.Terminals, b.cpc(w))
		}
	}
	sortTerminals(earth.Terminals)
	return append(bars, earth)
}

func (b *Board) neutral(w Way) BarTerminal {
	t := BarTerminal{Number: w.Number, Circuit: w.Circuit, Conductor: "blank"}
	if w.Circuit < 0 {
		return t
	}
	c := &b.Job.Circuits[w.Circuit]
	switch {
	case !c.Neutral:
		t.Conductor = c.Name + ": load without neutral"
	case c.Borrows():
		t.Conductor = c.Name + ": no neutral of its own, another circuit's is used"
	case c.Electrical.RCBO.Said():
		t.Cores, t.Conductor = 1, "RCBO lead of "+c.Name
	default:
		t.Cores = b.ends(w.Circuit, route.Neutral)
		t.Conductor = cores(c.Name, t.Cores)
	}
	return t
}

func (b *Board) cpc(w Way) BarTerminal {
	t := BarTerminal{Number: w.Number, Circuit: w.Circuit, Conductor: "blank"}
	if w.Circuit < 0 {
		return t
	}
	c := &b.Job.Circuits[w.Circuit]
	switch c.CPCRule {
	case route.ConduitCPC:
		t.Conductor = c.Name + ": the steel conduit or trunking, at its bush and locknut"
		if n := b.ends(w.Circuit, route.CPC); n > 0 && !c.Named { // it leaves the board in plastic
			t.Cores, t.Conductor = n, cores(c.Name, n)
		}
	case route.SharedCPC:
		t.Cores = b.ends(w.Circuit, route.CPC)
		t.Conductor = c.Name + ": shared cpc"
	default:
		t.Cores = b.ends(w.Circuit, route.CPC)
		t.Conductor = cores(c.Name, t.Cores)
	}
	return t
}

func cores(name string, n int) string {
	if n == 1 {
		return name
	}
	return fmt.Sprintf("%s, %d cores", name, n)
}

// ends counts the cores of a circuit that end at the board by their function;
// a sheathed cable has one of each. A circuit whose runs are not joined to the
// board is taken to bring one, a ring two.
func (b *Board) ends(circuit int, f route.Function) int {
	c := &b.Job.Circuits[circuit]
	place, n, touches := b.Job.Board.Place, 0, false
	for i := c.Singles[0]; i < c.Singles[1]; i++ {
		s := &b.Job.Singles[i]
		if place < 0 || s.From.Place != place && s.To.Place != place {
			continue
		}
		touches = true
		if s.Function == f || s.Function == route.Unnamed && s.Cable.Form == factors.TwinEarth {
			n++
		}
	}
	switch {
	case touches || f == route.CPC && c.CPCRule == route.SharedCPC:
	case c.Arrangement.V == route.Ring:
		return 2
	default:
		return 1
	}
	return n
}

func sortTerminals(ts []BarTerminal) {
	slices.SortFunc(ts, func(a, b BarTerminal) int { return a.Number - b.Number })
}
