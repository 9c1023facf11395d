package render

import (
	"fmt"

	"tubewright/fill"
)

// span is from the first slot of a part to its last; the board's main switch
// belongs to the ways straight behind it.
func (f *front) span(part int) (x0, x1 float64, ok bool) {
	for i := range f.slots {
		s := &f.slots[i]
		mine := s.part == part || part >= 0 && s.part < 0 && s.main != nil && f.board.Parts[part].Section == 0
		if !mine {
			continue
		}
		if !ok {
			x0 = s.x0
		}
		x1, ok = s.x1, true
	}
	return x0, x1, ok
}

// feed is the slot of the device that feeds a part, -1 for the board.
func (f *front) feed(part int) *slot {
	for i := range f.slots {
		s := &f.slots[i]
		if s.main != nil && (s.part == part || s.part < 0 && (part < 0 || f.board.Parts[part].Section == 0)) {
			return s
		}
	}
	return nil
}

// bars draws the earth bar across the enclosure and a neutral bar over each
// part, with a terminal over each way.
func (f *front) bars() {
	for _, bar := range f.board.Bars() {
		f.Group("bar", bar.Name)
		y := f.box.y0 + frontPad + barZone
		x0, x1, ok := f.span(bar.Part)
		if bar.Earth {
			y -= barZone
			x0, x1, ok = f.rail.x0, f.rail.x1, len(f.slots) > 0
		}
		if ok {
			f.bar(bar, x0+0.3, x1-0.3, y)
		}
		f.End()
	}
}

// Sizes of a bar on the sheet, in millimetres.
const (
	barTop   = 3.6 // below its name
	barHigh  = 5.0
	bandHigh = 0.9 // its colour
)

func (f *front) bar(bar fill.Bar, x0, x1, y float64) {
	top := y + barTop
	body := rect{x0, top, x1, top + barHigh}
	f.Fill(White, body.corners()...)
	f.band(bar.Earth, x0, x1, top+barHigh-bandHigh)
	f.Line(PenSymbol, true, body.corners()...)
	f.Text(Text{S: cutToFit(bar.Name, x1-x0, TextSmall, false), X: x0, Y: y + TextSmall + 0.6, Height: TextSmall})
	radius := min(1.5, 0.33*f.mmAModule)
	screw := func(x float64, used bool) {
		f.Arc(PenEdge, x, top+2, radius, 0, 360)
		if used {
			f.Disc(Black, x, top+2, 0.55*radius)
		}
	}
	if s := f.feed(bar.Part); s != nil {
		screw(s.centre(), true)
		word := "N"
		if bar.Earth {
			word = "E"
		}
		f.Text(Text{S: word, X: s.centre(), Y: top + barHigh + 0.9 + TextSmall, Height: TextSmall, AlignX: Centre, Bold: true})
	}
	for _, t := range bar.Terminals {
		if s := f.slotOf(t.Number); s != nil {
			x := s.x0 + f.mmAModule/2
			screw(x, t.Cores > 0)
			f.Text(Text{S: fmt.Sprint(t.Number), X: x, Y: top + barHigh + 0.9 + TextSmall, Height: TextSmall, AlignX: Centre})
		}
	}
}

// band colours a bar's foot: blue, or green and yellow by turns.
func (f *front) band(earth bool, x0, x1, y float64) {
	if !earth {
		f.Fill(CoreBlue, x0, y, x1, y, x1, y+bandHigh, x0, y+bandHigh)
		return
	}
	const step = 4.0
	for i := 0; x0+float64(i)*step < x1; i++ {
		a, b := x0+float64(i)*step, min(x1, x0+float64(i+1)*step)
		ink := CoreGreen
		if i%2 == 1 {
			ink = CoreYellow
		}
		f.Fill(ink, a, y, b, y, b, y+bandHigh, a, y+bandHigh)
	}
}

func (f *front) slotOf(way int) *slot {
	for i := range f.slots {
		if s := &f.slots[i]; s.main == nil && s.way.Number == way {
			return s
		}
	}
	return nil
}

// busbars draws the line busbar of each part: hidden under its cover, with a
// tooth up to every line clamp, and the links to the sections.
func (f *front) busbars() {
	f.Group("busbar", "line busbar under its cover")
	defer f.End()
	phases := max(1, f.job.Supply.Phases.V)
	top := f.rail.y1 + 2.5
	foot := top + 4 + float64(phases-1)*busbarStep
	for part := range f.board.Parts {
		x0, x1, ok := f.span(part)
		if !ok {
			continue
		}
		for k := range phases {
			y := top + 2 + float64(k)*busbarStep
			f.Line(Pen{W70, CoreBrown, Dashed}, false, x0+1, y, x1-1, y)
		}
		f.teeth(part, top, phases)
		f.Line(PenSymbol, true, x0+0.3, top, x1-0.3, top, x1-0.3, foot, x0+0.3, foot)
		f.Text(Text{S: f.busbarName(phases, x1-x0-1), X: x0 + 0.5, Y: foot + 0.9 + TextSmall, Height: TextSmall})
	}
	f.links(foot + 5)
}

// busbarName is the longest name that goes into the width.
func (f *front) busbarName(phases int, wide float64) string {
	names := []string{"line busbar, cover on", "line busbar", "busbar"}
	if phases > 1 {
		names = []string{"line busbar L1 L2 L3, cover on", "L1 L2 L3"}
	}
	for _, n := range names {
		if TextWidth(n, TextSmall, false) <= wide {
			return n
		}
	}
	return ""
}

// teeth draws a tooth from the busbar to each line clamp of a part.
func (f *front) teeth(part int, top float64, phases int) {
	tooth := func(x float64, line int) {
		f.Line(Pen{W50, CoreBrown, Solid}, false, x, f.rail.y1, x, top)
		f.Line(Pen{W50, CoreBrown, Dashed}, false, x, top, x, top+2+float64(line-1)*busbarStep)
	}
	for i := range f.slots {
		s := &f.slots[i]
		switch {
		case s.main != nil && s == f.feed(part):
			for k := range phases {
				tooth(s.x0+(float64(k)+0.5)*f.mmAModule, k+1)
			}
		case s.part == part && !s.blank():
			for k, line := range f.board.Lines(s.way) {
				tooth(s.x0+(float64(k)+0.5)*f.mmAModule, line)
			}
		}
	}
}

// links draws the link from the main switch to each section's device.
func (f *front) links(y float64) {
	main := f.feed(-1)
	if main == nil || main.part >= 0 {
		return
	}
	last := main.centre()
	for i := range f.slots {
		if s := &f.slots[i]; s.main != nil && s.part >= 0 {
			f.Disc(Black, s.centre(), y, 0.7)
			last = s.centre()
		}
	}
	if last > main.centre() {
		f.Disc(Black, main.centre(), y, 0.7)
		f.Line(PenOutline, false, main.centre(), y, last, y)
		f.Text(Text{S: "links from the main switch, line and neutral", X: main.centre() + 1, Y: y + 1.2 + TextSmall, Height: TextSmall})
	}
}

// brackets name the sections under the labels.
func (f *front) brackets() {
	y := f.box.y1 + f.stripHeight()
	for part := range f.board.Parts {
		p := &f.board.Parts[part]
		x0, x1, ok := f.span(part)
		if !ok || !f.split() {
			continue
		}
		f.Line(PenSymbol, false, x0+0.6, y, x0+0.6, y+1.5, x1-0.6, y+1.5, x1-0.6, y)
		text := "main"
		if p.Section > 0 {
			text = p.Name() + ": " + p.Main.V.String()
		}
		for k, l := range breakLines(text, x1-x0-1, TextSmall, 2) {
			f.Text(Text{S: l, X: (x0 + x1) / 2, Y: y + 2.4 + float64(k)*tableNoteMM + TextSmall, Height: TextSmall, AlignX: Centre})
		}
	}
}
