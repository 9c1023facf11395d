package render

import (
	"fmt"

	"tubewright/factors/uk"
	"tubewright/route"
)

const footHighMM = 31.0

// block is what a set-out page is made of, from top to bottom.
type block interface {
	high() float64
	draw(d *setOutSheet, r rect)
}

// paged shares blocks out over sheets; there is one sheet at least. The views
// of a piece start on the sheet of its strip.
func paged(blocks []block, room float64) [][]block {
	pages := [][]block{nil}
	left := room
	for i, b := range blocks {
		need := b.high()
		if _, ok := b.(strip); ok && i+1 < len(blocks) {
			if row, ok := blocks[i+1].(viewRow); ok && need+row.high() <= room {
				need += row.high()
			}
		}
		if need > left && left < room {
			pages, left = append(pages, nil), room
		}
		last := len(pages) - 1
		pages[last] = append(pages[last], b)
		left -= b.high()
	}
	return pages
}

// SetOutSheets draws each piece of the runs as a straight tube to scale: bends
// with their marks numbered and measured from the named end, threads, couplers
// and saddles; under it its bends as they lie when made. What one sheet has no
// room for goes on to the next.
func SetOutSheets(j *route.Job, runs []int, paper Paper) ([]*Sheet, error) {
	if paper.WidthMM < A4.WidthMM || paper.HeightMM < A4.HeightMM {
		return nil, fmt.Errorf("a set-out needs a sheet of at least %g x %g mm (A4 on its long side), not %g x %g mm",
			A4.WidthMM, A4.HeightMM, paper.WidthMM, paper.HeightMM)
	}
	frame := rect{SheetMargin, SheetMargin, paper.WidthMM - SheetMargin, paper.HeightMM - SheetMargin}
	var blocks []block
	for _, r := range runs {
		s := j.SetOut(nil, r)
		if j.Runs[r].Existing {
			blocks = append(blocks, runNote{lines: []string{"Run " + oneLine(j.Runs[r].Name) + ", " + existingText}})
		}
		for _, l := range s.Lacks {
			blocks = append(blocks, runNote{breakLines("Run "+j.Runs[r].Name+" cannot be made: "+lackText(l), frame.wide()-2*panelPad, TextNormal, 4), Red})
		}
		for i := range s.Pieces {
			blocks = append(blocks, strip{&s, i})
			if len(s.Lacks) > 0 {
				continue // nobody is to bend it
			}
			blocks = append(blocks, rowsOf(oneLine(s.Pieces[i].Name), viewsOf(j, &s, i), frame.wide())...)
		}
	}
	pages := paged(blocks, frame.high()-footHighMM)
	var out []*Sheet
	for n, page := range pages {
		d := &setOutSheet{Sheet: NewSheet(paper.WidthMM, paper.HeightMM), job: j}
		y := frame.y0
		for _, b := range page {
			b.draw(d, rect{frame.x0, y, frame.x1, y + b.high()})
			y += b.high()
		}
		d.foot(frame, fmt.Sprintf("%d of %d, %s", n+1, len(pages), paper.Name))
		if err := d.Check(); err != nil {
			return nil, err
		}
		out = append(out, d.Sheet)
	}
	return out, nil
}

// runNote says why a run cannot be made, or is not to be, in the place of what is
// missing.
type runNote struct {
	lines []string
	ink   Ink
}

const lackLineMM = LineStep * TextNormal

func (n runNote) high() float64 { return float64(len(n.lines))*lackLineMM + 3 }

func (n runNote) draw(d *setOutSheet, r rect) {
	for i, l := range n.lines {
		d.Text(Text{S: l, X: r.x0 + panelPad, Y: r.y0 + 1.5 + TextNormal + float64(i)*lackLineMM, Height: TextNormal, Ink: n.ink})
	}
	d.Line(PenDimension, false, r.x0, r.y1, r.x1, r.y1)
}

type setOutSheet struct {
	*Sheet
	job *route.Job
}

// foot writes the job, what the sheet shows, the cautions and the edition.
func (d *setOutSheet) foot(frame rect, sheet string) {
	d.Group("title", "title block")
	defer d.End()
	y := frame.y1 - footHighMM
	d.Line(PenOutline, false, frame.x0, y, frame.x1, y)
	left := rect{frame.x0 + panelPad, y, frame.x0 + 0.42*frame.wide(), frame.y1}
	name := oneLine(d.job.Name)
	high := shrinkToFit(name, left.wide()-panelPad, true, TextTitle, 4, TextLarge, TextNormal)
	d.Text(Text{S: cutToFit(name, left.wide()-panelPad, high, true), X: left.x0, Y: y + 7.5, Height: high, Bold: true})
	const what = "Set-out of tube, before bending; lengths in mm from the left end; under it as bent"
	d.Text(Text{S: what, X: left.x0, Y: y + 12, Height: shrinkToFit(what, left.wide()-panelPad, false, TextNormal, 2.2, 2, TextSmall)})
	for i, l := range breakLines(turnHand, left.wide()-panelPad, TextSmall, 3) {
		d.Text(Text{S: l, X: left.x0, Y: y + 19.5 + float64(i)*tableNoteMM, Height: TextSmall})
	}
	facts := "sheet " + sheet
	for _, f := range []string{d.job.Date, d.job.DrawnBy} {
		if f != "" {
			facts = oneLine(f) + "   " + facts
		}
	}
	d.Text(Text{S: cutToFit(facts+"   tubewright", left.wide()-panelPad, TextSmall, false), X: left.x0, Y: y + 16, Height: TextSmall})
	d.Line(PenDimension, false, left.x1, y, left.x1, frame.y1)
	var lines []string
	wide := frame.x1 - left.x1 - 2*panelPad
	for _, c := range append(append([]string{}, Cautions...), uk.Edition) {
		lines = append(lines, breakLines(c, wide, TextSmall, 4)...)
	}
	for i, l := range lines {
		d.Text(Text{S: l, X: left.x1 + panelPad, Y: y + 1.5 + TextSmall + float64(i)*tableNoteMM, Height: TextSmall})
	}
	d.Line(PenFrame, true, frame.x0, frame.y0, frame.x1, frame.y0, frame.x1, frame.y1, frame.x0, frame.y1)
}
