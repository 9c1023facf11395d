package fill

import (
	"fmt"

	"tubewright/route"
)

// Way is one way of a board: the width of one module on the busbar.
type Way struct {
	Number  int
	Circuit int // index of its circuit, -1 for a blank
	Modules int // of its device: more than one where it covers the next ways too
}

// Part is the ways behind one device: the main switch, or the residual device
// of a section.
type Part struct {
	Section int                           // from 1; 0 straight behind the main switch
	Main    route.Given[route.MainSwitch] // of the section; not said for section 0
	Ways    []Way                         // from the device outward
}

// Name is how a sheet names the part.
func (p *Part) Name() string {
	if p.Section == 0 {
		return "main"
	}
	return fmt.Sprintf("section %d", p.Section)
}

// Circuits is how many circuits the part has.
func (p *Part) Circuits() int {
	n := 0
	for _, w := range p.Ways {
		if w.Circuit >= 0 {
			n++
		}
	}
	return n
}

// Board is a job's board as it is built up: the main switch, then its parts in
// the order of their first ways. Way 1 is taken to stand next to the main
// switch (common practice, no source).
type Board struct {
	Job   *route.Job
	Main  route.Given[route.MainSwitch]
	Parts []Part
	Ways  int   // stated, or up to the last one taken where the job says none
	Used  int   // ways that devices cover
	NoWay []int // circuits that the job gives no way
}

// BoardOf builds up the board, nil when the job does not describe it: no main
// switch, no sections, no number of ways.
//
// Cost: linear in ways and circuits.
func BoardOf(j *route.Job) *Board {
	if boards(j) == 0 {
		return nil
	}
	b := &Board{Job: j, Main: j.Board.Main, Ways: j.Board.Ways.V}
	holds := map[int]int{}    // way to circuit
	covered := map[int]bool{} // by a device of an earlier way
	for i := range j.Circuits {
		c := &j.Circuits[i]
		if !c.Way.Said() {
			b.NoWay = append(b.NoWay, i)
			continue
		}
		holds[c.Way.V] = i
		for k := range c.Lines() {
			covered[c.Way.V+k] = k > 0
		}
		b.Used += c.Lines()
		if !j.Board.Ways.Said() {
			b.Ways = max(b.Ways, c.Way.V+c.Lines()-1)
		}
	}
	b.divide(holds, covered)
	return b
}

// divide sorts the ways into parts.
func (b *Board) divide(holds map[int]int, covered map[int]bool) {
	section := map[int]int{}
	for s := range b.Job.Board.Sections {
		for _, w := range b.Job.Board.Sections[s].Ways {
			section[w.V] = s + 1
			if !b.Job.Board.Ways.Said() {
				b.Ways = max(b.Ways, w.V)
			}
		}
	}
	at := map[int]int{} // section to part
	for n := 1; n <= b.Ways; n++ {
		if covered[n] {
			continue
		}
		s := section[n]
		k, ok := at[s]
		if !ok {
			k = len(b.Parts)
			at[s] = k
			p := Part{Section: s}
			if s > 0 {
				p.Main = b.Job.Board.Sections[s-1].Main
			}
			b.Parts = append(b.Parts, p)
		}
		w := Way{Number: n, Circuit: -1, Modules: 1}
		if c, ok := holds[n]; ok {
			w.Circuit, w.Modules = c, b.Job.Circuits[c].Lines()
		}
		b.Parts[k].Ways = append(b.Parts[k].Ways, w)
	}
}

// Left is how many ways are free.
func (b *Board) Left() int { return b.Ways - b.Used }

// Modules is the width of rail that main switch, section devices and ways
// need, in modules.
func (b *Board) Modules() int {
	n := b.Ways
	if b.Main.Said() {
		n += b.Main.V.Modules
	}
	for i := range b.Parts {
		if b.Parts[i].Main.Said() {
			n += b.Parts[i].Main.V.Modules
		}
	}
	return n
}

// Name is the board's name in the job, "the board" where it has none.
func (b *Board) Name() string {
	if i := b.Job.Board.Place; i >= 0 {
		return b.Job.Places[i].Name
	}
	return "the board"
}

// Lines are the lines that a way's device switches, from 1. A single-phase
// circuit of a three-phase board is on the line that the job names, else on
// that of its way in turn (common practice, no source).
func (b *Board) Lines(w Way) []int {
	phases := max(1, b.Job.Supply.Phases.V)
	if w.Modules == 1 && w.Circuit >= 0 && phases > 1 {
		return []int{lineOf(b.Job, w.Circuit) + 1}
	}
	lines := make([]int, w.Modules)
	for k := range lines {
		lines[k] = (max(1, w.Number)-1+k)%phases + 1
	}
	return lines
}

// leakage reports whether a main switch answers to leakage.
func leakage(m route.Given[route.MainSwitch]) bool { return m.Said() && m.V.Residual > 0 }
