package render

import (
	"tubewright/factors/uk"
	"tubewright/fill"
)

// Rows of the title block, in millimetres.
const (
	titleHigh   = 12.0
	fieldHigh   = 8.0
	verdictHigh = 9.0
)

// titleBlock draws the block at the foot of the column, in the order in which
// a reader asks: what job, whose, when, at what scale, how it stands, by which
// rules. The fields are those of ISO 7200 that the job file can fill (from
// memory). It returns its top.
func (d *diagram) titleBlock(side rect) float64 {
	j := d.job
	pad := panelPad
	wide := side.wide() - 2*pad
	edition := breakLines(uk.Edition, wide, TextSmall, 6)
	editionHigh := float64(len(edition))*tableNoteMM + 2.5
	y := side.y1 - titleHigh - 2*fieldHigh - verdictHigh - editionHigh
	d.Group("title", "title block")
	defer d.End()
	top := y
	d.Line(PenOutline, false, side.x0, y, side.x1, y)
	name := oneLine(j.Name)
	high := shrinkToFit(name, wide, true, TextTitle, 4, TextLarge, 3, TextNormal)
	d.Text(Text{S: cutToFit(name, wide, high, true), X: side.x0 + pad, Y: y + titleHigh/2, Height: high, AlignY: Middle, Bold: true})
	y += titleHigh
	d.fields(side, y, []field{{"client", j.Client, 0.5}, {"drawn by", j.DrawnBy, 0.5}})
	y += fieldHigh
	d.fields(side, y, []field{{"date", j.Date, 0.5}, {"scale", d.scale, 0.25}, {"sheet", "1 of 1, " + d.paper.Name, 0.25}})
	y += fieldHigh
	d.tally(rect{side.x0, y, side.x1, y + verdictHigh})
	y += verdictHigh
	d.Line(PenDimension, false, side.x0, y, side.x1, y)
	for i, l := range edition {
		d.Text(Text{S: l, X: side.x0 + pad, Y: y + 1 + float64(i)*tableNoteMM + TextSmall, Height: TextSmall})
	}
	return top
}

// field is a caption over what the job file says, and its share of the width.
type field struct {
	caption, text string
	share         float64
}

func (d *diagram) fields(side rect, y float64, fields []field) {
	d.Line(PenDimension, false, side.x0, y, side.x1, y)
	x := side.x0
	for i, f := range fields {
		if i > 0 {
			d.Line(PenDimension, false, x, y, x, y+fieldHigh)
		}
		wide := f.share * side.wide()
		text := oneLine(f.text)
		if text == "" {
			text = "–"
		}
		high := shrinkToFit(text, wide-2*panelPad, false, TextNormal, 2.2, TextSmall)
		d.Text(Text{S: f.caption, X: x + panelPad, Y: y + 0.8 + TextSmall, Height: TextSmall, Ink: DarkGrey})
		d.Text(Text{S: cutToFit(text, wide-2*panelPad, high, false), X: x + panelPad, Y: y + fieldHigh - 1.2, Height: high})
		x += wide
	}
}

// tally writes how many checks have each verdict, and the tool's name.
func (d *diagram) tally(r rect) {
	d.Line(PenDimension, false, r.x0, r.y0, r.x1, r.y0)
	const tool = "tubewright"
	mark := TextWidth(tool, TextNormal, true)
	middle := (r.y0 + r.y1) / 2
	d.Text(Text{S: tool, X: r.x1 - panelPad, Y: middle, Height: TextNormal, AlignX: Right, AlignY: Middle, Bold: true, Ink: DarkGrey})
	text := "checks: " + Tally(d.report)
	room := r.wide() - 3*panelPad - mark
	high := shrinkToFit(text, room-2, true, TextLarge, 3, TextNormal, 2.2, TextSmall)
	text = cutToFit(text, room-2, high, true)
	if d.report.Count()[fill.Fail] > 0 {
		w := TextWidth(text, high, true) + 2
		d.Line(PenFail, true, r.x0+panelPad-1, r.y0+1.4, r.x0+panelPad-1+w, r.y0+1.4, r.x0+panelPad-1+w, r.y1-1.4, r.x0+panelPad-1, r.y1-1.4)
	}
	d.Text(Text{S: text, X: r.x0 + panelPad, Y: middle, Height: high, AlignY: Middle, Bold: true})
}

// cautions writes the usual cautions above the title block and returns their top.
func (d *diagram) cautions(side rect) float64 {
	wide := side.wide() - 2*panelPad
	var lines []string
	for _, c := range Cautions {
		lines = append(lines, breakLines(c, wide, TextSmall, 6)...)
	}
	y := side.y1 - float64(len(lines))*tableNoteMM - 2.5
	d.Line(PenOutline, false, side.x0, y, side.x1, y)
	for i, l := range lines {
		d.Text(Text{S: l, X: side.x0 + panelPad, Y: y + 1 + float64(i)*tableNoteMM + TextSmall, Height: TextSmall})
	}
	return y
}
