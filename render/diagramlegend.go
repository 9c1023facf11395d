package render

import (
	"maps"
	"slices"
)

// legendUse remembers what a layout shows, for the legend.
type legendUse struct {
	symbols                             map[string]*symbol
	conduit, trunking, strokes, tie     bool
	sets                                [setKinds]bool
	tagged                              bool // a run's count stands in its tag
	failConduit, failTrunking           bool
	entry, coupler, inspection, crowded bool
	floor, datum                        bool
}

func (u *legendUse) symbol(s *symbol) {
	if u.symbols == nil {
		u.symbols = map[string]*symbol{}
	}
	u.symbols[s.name] = s
}

// symbolsInOrder are the symbols of the table in its order, then switches.
func (u *legendUse) symbolsInOrder() []*symbol {
	var out []*symbol
	seen := map[string]bool{}
	for i := range symbols {
		if s := u.symbols[symbols[i].name]; s != nil {
			out = append(out, s)
			seen[s.name] = true
		}
	}
	for _, name := range slices.Sorted(maps.Keys(u.symbols)) {
		if !seen[name] {
			out = append(out, u.symbols[name])
		}
	}
	return out
}

// legendEntry is one line of the legend: a sample in a box 8 mm by 5 mm about
// a point, and what it means.
type legendEntry struct {
	title string
	draw  func(c Canvas, x, y float64)
}

// levelSample is a level line about a point.
func levelSample(x, y float64) []float64 { return []float64{x - 4, y, x + 4, y} }

// entries lists what the layout uses, in a fixed order.
func (u *legendUse) entries() []legendEntry {
	var out []legendEntry
	add := func(used bool, title string, draw func(c Canvas, x, y float64)) {
		if used {
			out = append(out, legendEntry{title, draw})
		}
	}
	add(u.conduit, "conduit", func(c Canvas, x, y float64) { drawConduit(c, levelSample(x, y), W70, false) })
	add(u.trunking, "trunking", func(c Canvas, x, y float64) { drawTrunking(c, levelSample(x, y), 1, false) })
	add(u.failConduit, "conduit where a check fails", func(c Canvas, x, y float64) { drawConduit(c, levelSample(x, y), W70, true) })
	add(u.failTrunking, "trunking where a check fails", func(c Canvas, x, y float64) { drawTrunking(c, levelSample(x, y), 1, true) })
	add(u.strokes, "number of cables", func(c Canvas, x, y float64) {
		c.Line(Pen{W70, Black, Solid}, false, x-4, y+0.6, x+4, y+0.6)
		Conductors(c, x-0.5, y+0.6, 5.2, 0, 3)
	})
	add(u.tagged, "run, number of cables", func(c Canvas, x, y float64) {
		t := runTag{name: "A", count: 9, high: TextSmall}
		t.draw(c, centred(x, y, t.wide(), t.tall()))
	})
	for k, name := range setNames {
		add(u.sets[k], name, func(c Canvas, x, y float64) { setSample(c, setShapes[k], x, y) })
	}
	add(u.tie, "the same place", func(c Canvas, x, y float64) { c.Line(PenHidden, false, x, y-2.3, x, y+2.3) })
	for _, s := range u.symbolsInOrder() {
		size := min(4.8, 8/s.halfWide())
		add(true, s.title, func(c Canvas, x, y float64) { s.draw(c, x, y, size, 0) })
	}
	return append(out, u.fittings()...)
}

// setSample is a set's mark with the tube either side of it, in the middle of
// its height.
func setSample(c Canvas, shape []float64, x, y float64) {
	top, bottom := 0.0, 0.0
	for i := 1; i < len(shape); i += 2 {
		top, bottom = min(top, shape[i]), max(bottom, shape[i])
	}
	xy := laid(shape, x, y-(top+bottom)/2, 0, 1)
	n := len(xy)
	c.Line(Pen{W70, Black, Solid}, false, append(append([]float64{x - 4, xy[1]}, xy...), x+4, xy[n-1])...)
}

// fittings are what joins runs, and the lines that measures start from.
func (u *legendUse) fittings() []legendEntry {
	var out []legendEntry
	add := func(used bool, title string, draw func(c Canvas, x, y float64)) {
		if used {
			out = append(out, legendEntry{title, draw})
		}
	}
	ring := func(c Canvas, x, y float64) {
		c.Disc(White, x, y, 0.9)
		c.Arc(PenSymbol, x, y, 0.9, 0, 360)
	}
	add(u.entry, "conduit from trunking", func(c Canvas, x, y float64) { c.Disc(Black, x, y, 0.8) })
	add(u.coupler, "coupler or elbow", ring)
	add(u.inspection, "inspection bend or tee", func(c Canvas, x, y float64) {
		ring(c, x, y)
		c.Disc(Black, x, y, 0.35)
	})
	add(u.crowded && !u.coupler, "place, drawn small", ring)
	add(u.floor, "finished floor level", func(c Canvas, x, y float64) {
		c.Line(PenOutline, false, levelSample(x, y-0.8)...)
		for i := range 4 {
			c.Line(PenHatch, false, x-3+2.2*float64(i), y-0.8, x-4.6+2.2*float64(i), y+0.8)
		}
	})
	add(u.datum, "datum", func(c Canvas, x, y float64) { c.Line(PenCentre, false, levelSample(x, y)...) })
	return out
}

// Sizes of the legend, in millimetres.
const (
	legendRowMM  = 5.0
	legendSample = 10.0 // the sample and the gap after it
)

// legendColumns is how a legend is set.
type legendColumns struct {
	n      int
	second float64 // where the second column starts
	textMM float64 // width of a title
}

// columnsFor sets a legend in two columns, filled from the top, where every
// title goes into two lines at most, else in one.
func columnsFor(entries []legendEntry, widthMM float64) legendColumns {
	half := (len(entries) + 1) / 2
	wide := []float64{0, 0}
	for i, e := range entries {
		w := legendSample + TextWidth(e.title, TextSmall, false)
		wide[i/half] = max(wide[i/half], w)
	}
	room := widthMM - 2*panelPad
	if spare := room - wide[0] - wide[1]; spare >= 1 {
		return legendColumns{2, wide[0] + min(spare, 12), room}
	}
	c := legendColumns{2, room/2 + 1, room/2 - 1 - legendSample}
	for _, e := range entries {
		if len(breakLines(e.title, c.textMM, TextSmall, 3)) > 2 {
			return legendColumns{1, 0, room - legendSample}
		}
	}
	return c
}

func legendHigh(entries []legendEntry, widthMM float64) float64 {
	if len(entries) == 0 {
		return 0
	}
	n := columnsFor(entries, widthMM).n
	return headHigh + float64((len(entries)+n-1)/n)*legendRowMM + 1
}

func (d *diagram) legend(area rect, entries []legendEntry) {
	if len(entries) == 0 {
		return
	}
	d.Group("legend", "what the layout's marks mean")
	defer d.End()
	below := d.panelHead(area, "Legend", "")
	c := columnsFor(entries, area.wide())
	rows := (len(entries) + c.n - 1) / c.n
	for i, e := range entries {
		x := below.x0 + panelPad + float64(i/rows)*c.second
		y := below.y0 + (float64(i%rows)+0.5)*legendRowMM
		e.draw(d, x+4, y)
		lines := breakLines(e.title, c.textMM, TextSmall, 2)
		for k, l := range lines {
			d.Text(Text{S: l, X: x + legendSample, Y: y + (float64(k)-float64(len(lines)-1)/2)*2.4, Height: TextSmall, AlignY: Middle})
		}
	}
}
