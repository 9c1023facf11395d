package render

// legendUse remembers what a layout shows, for the legend.
type legendUse struct {
	symbols                              map[string]bool
	conduit, trunking, set, strokes, tie bool
	failConduit, failTrunking            bool
	entry, coupler, inspection, crowded  bool
	floor, datum                         bool
}

func (u *legendUse) symbol(name string) {
	if u.symbols == nil {
		u.symbols = map[string]bool{}
	}
	u.symbols[name] = true
}

// legendEntry is one line of the legend: a sample in a box 8 mm by 5 mm about
// a point, and what it means.
type legendEntry struct {
	title string
	draw  func(c Canvas, x, y float64)
}

// entries lists what the layout uses, in a fixed order.
func (u *legendUse) entries() []legendEntry {
	var out []legendEntry
	add := func(used bool, title string, draw func(c Canvas, x, y float64)) {
		if used {
			out = append(out, legendEntry{title, draw})
		}
	}
	level := func(x, y float64) []float64 { return []float64{x - 4, y, x + 4, y} }
	add(u.conduit, "conduit", func(c Canvas, x, y float64) { drawConduit(c, level(x, y), W70, false) })
	add(u.trunking, "trunking", func(c Canvas, x, y float64) { drawTrunking(c, level(x, y), 1, false) })
	add(u.failConduit, "conduit that fails", func(c Canvas, x, y float64) { drawConduit(c, level(x, y), W70, true) })
	add(u.failTrunking, "trunking that fails", func(c Canvas, x, y float64) { drawTrunking(c, level(x, y), 1, true) })
	add(u.strokes, "number of cables", func(c Canvas, x, y float64) {
		c.Line(Pen{W70, Black, Solid}, false, x-4, y+0.6, x+4, y+0.6)
		Conductors(c, x-0.5, y+0.6, 5.2, 0, 3)
	})
	add(u.set, "set in the tube", func(c Canvas, x, y float64) {
		c.Line(Pen{W70, Black, Solid}, false, x-4, y-0.9, x-0.5, y-0.9, x+0.5, y+0.9, x+4, y+0.9)
	})
	add(u.tie, "the same place", func(c Canvas, x, y float64) { c.Line(PenHidden, false, x, y-2.3, x, y+2.3) })
	for _, name := range Symbols() {
		add(u.symbols[name], SymbolTitle(name), func(c Canvas, x, y float64) { Symbol(c, name, x, y, 4.8, 0) })
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
		c.Line(PenOutline, false, level(x, y-0.8)...)
		for i := range 4 {
			c.Line(PenHatch, false, x-3+2.2*float64(i), y-0.8, x-4.6+2.2*float64(i), y+0.8)
		}
	})
	add(u.datum, "datum", func(c Canvas, x, y float64) { c.Line(PenCentre, false, level(x, y)...) })
	return out
}

// Sizes of the legend, in millimetres.
const (
	legendRowMM  = 5.0
	legendSample = 10.0 // the sample and the gap after it
)

// legendWidths are the widths of two columns, filled from the top, or of one
// where two do not go in.
func legendWidths(entries []legendEntry, widthMM float64) []float64 {
	half := (len(entries) + 1) / 2
	wide := []float64{0, 0}
	for i, e := range entries {
		w := legendSample + TextWidth(e.title, TextSmall, false)
		wide[i/half] = max(wide[i/half], w)
	}
	spare := widthMM - 2*panelPad - wide[0] - wide[1]
	if spare < 1 {
		return []float64{widthMM}
	}
	return []float64{wide[0] + min(spare, 12), wide[1]}
}

func legendHigh(entries []legendEntry, widthMM float64) float64 {
	if len(entries) == 0 {
		return 0
	}
	n := len(legendWidths(entries, widthMM))
	return headHigh + float64((len(entries)+n-1)/n)*legendRowMM + 1
}

func (d *diagram) legend(area rect, entries []legendEntry) {
	if len(entries) == 0 {
		return
	}
	d.Group("legend", "what the layout's marks mean")
	defer d.End()
	below := d.panelHead(area, "Legend", "")
	widths := legendWidths(entries, area.wide())
	rows := (len(entries) + len(widths) - 1) / len(widths)
	for i, e := range entries {
		x := below.x0 + panelPad
		if i >= rows {
			x += widths[0]
		}
		y := below.y0 + (float64(i%rows)+0.5)*legendRowMM
		e.draw(d, x+4, y)
		d.Text(Text{S: e.title, X: x + legendSample, Y: y, Height: TextSmall, AlignY: Middle})
	}
}
