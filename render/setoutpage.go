package render

import (
	"fmt"
	"slices"

	"tubewright/factors/uk"
	"tubewright/route"
)

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
			blocks = append(blocks, pieceBlocks(strip{j, &s, i}, frame.wide())...)
		}
	}
	f := footOf(frame, turned(blocks))
	pages := paged(blocks, frame.high()-f.high)
	var out []*Sheet
	for n, page := range pages {
		d := &setOutSheet{Sheet: NewSheet(paper.WidthMM, paper.HeightMM), job: j}
		y := frame.y0
		for _, b := range page {
			b.draw(d, rect{frame.x0, y, frame.x1, y + b.high()})
			y += b.high()
		}
		d.foot(f, turned(page), frame, fmt.Sprintf("%d of %d, %s", n+1, len(pages), paper.Name))
		if err := d.Check(); err != nil {
			return nil, err
		}
		out = append(out, d.Sheet)
	}
	return out, nil
}

// pieceBlocks are a piece's strip and its views: beside it where they fit, else
// under it.
func pieceBlocks(s strip, wide float64) []block {
	if s.void() {
		return []block{s} // nobody is to bend it
	}
	name, views := oneLine(s.set.Pieces[s.piece].Name), viewsOf(s.job, s.set, s.piece)
	if at := s.taken(wide); len(views) > 0 && at+float64(len(views))*viewLeastMM <= wide {
		return []block{stripAndViews{s, viewRow{name, views}}}
	}
	return append([]block{s}, rowsOf(name, views, wide)...)
}

// stripAndViews is a strip with its views to the right of it.
type stripAndViews struct {
	strip
	views viewRow
}

func (b stripAndViews) high() float64 { return max(b.strip.high(), b.views.high()) }

func (b stripAndViews) draw(d *setOutSheet, r rect) {
	x := r.x0 + b.strip.taken(r.wide())
	b.strip.draw(d, rect{r.x0, r.y0, x, r.y1})
	b.views.draw(d, rect{x, r.y0, r.x1, r.y1})
	d.Line(PenGrid, false, x, r.y0+2, x, r.y1-2)
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

// foot is the strip along the foot of a sheet: the texts of its two columns.
type foot struct {
	left, right   rect // the columns, from the top of the foot
	turn, caution []string
	high          float64
}

// Rows of the left column, from the top of the foot.
const (
	footNameMM  = 7.5
	footWhatMM  = 12.0
	footFactsMM = 16.0
	footTurnMM  = 19.5
)

// turned reports whether a tube of the blocks is turned to a side.
func turned(blocks []block) bool {
	return slices.ContainsFunc(blocks, func(b block) bool { s, ok := b.(interface{ turns() bool }); return ok && s.turns() })
}

// footOf breaks the texts of the foot; which way a turn goes is said where a
// tube is turned.
func footOf(frame rect, turns bool) foot {
	x := frame.x0 + 0.42*frame.wide()
	f := foot{left: rect{frame.x0 + panelPad, 0, x, 0}, right: rect{x, 0, frame.x1, 0}}
	left := footFactsMM
	if turns {
		f.turn = breakLines(turnHand, f.left.wide()-panelPad, TextSmall, 3)
		left = footTurnMM + float64(len(f.turn)-1)*tableNoteMM
	}
	for _, c := range append(append([]string{}, Cautions...), uk.Edition) {
		f.caution = append(f.caution, breakLines(c, f.right.wide()-2*panelPad, TextSmall, 4)...)
	}
	f.high = panelPad + max(left, TextSmall+1.5+float64(len(f.caution)-1)*tableNoteMM)
	return f
}

// foot writes the job, what the sheet shows, the cautions and the edition.
func (d *setOutSheet) foot(f foot, turns bool, frame rect, sheet string) {
	d.Group("title", "title block")
	defer d.End()
	y := frame.y1 - f.high
	d.Line(PenOutline, false, frame.x0, y, frame.x1, y)
	wide := f.left.wide() - panelPad
	name := oneLine(d.job.Name)
	high := shrinkToFit(name, wide, true, TextTitle, 4, TextLarge, TextNormal)
	d.Text(Text{S: cutToFit(name, wide, high, true), X: f.left.x0, Y: y + footNameMM, Height: high, Bold: true})
	const what = "Set-out of tube, before bending; lengths in mm from the left end; beside or under it as bent"
	d.Text(Text{S: what, X: f.left.x0, Y: y + footWhatMM, Height: shrinkToFit(what, wide, false, TextNormal, 2.2, 2, TextSmall)})
	facts := "sheet " + sheet
	for _, f := range []string{d.job.Date, d.job.DrawnBy} {
		if f != "" {
			facts = oneLine(f) + "   " + facts
		}
	}
	d.Text(Text{S: cutToFit(facts+"   tubewright", wide, TextSmall, false), X: f.left.x0, Y: y + footFactsMM, Height: TextSmall})
	if turns {
		for i, l := range f.turn {
			d.Text(Text{S: l, X: f.left.x0, Y: y + footTurnMM + float64(i)*tableNoteMM, Height: TextSmall})
		}
	}
	d.Line(PenDimension, false, f.left.x1, y, f.left.x1, frame.y1)
	for i, l := range f.caution {
		d.Text(Text{S: l, X: f.right.x0 + panelPad, Y: y + 1.5 + TextSmall + float64(i)*tableNoteMM, Height: TextSmall})
	}
	d.Line(PenFrame, true, frame.x0, frame.y0, frame.x1, frame.y0, frame.x1, frame.y1, frame.x0, frame.y1)
}
