package render

import (
	"fmt"
	"strings"

	"tubewright/fill"
	"tubewright/route"
)

// Paper is a sheet lying on its long side.
type Paper struct {
	Name              string
	WidthMM, HeightMM float64
}

// The papers that a diagram is made for.
var (
	A3 = Paper{"A3", 420, 297}
	A4 = Paper{"A4", 297, 210}
)

// PaperNamed returns the paper of a name, A3 or A4, in capitals or not.
func PaperNamed(name string) (Paper, bool) {
	for _, p := range []Paper{A3, A4} {
		if strings.EqualFold(name, p.Name) {
			return p, true
		}
	}
	return Paper{}, false
}

// DrawingOptions are what a diagram shows besides the job itself.
type DrawingOptions struct {
	Paper Paper // the zero Paper is A3
	Bill  []BillRow
}

// BillRow is one line of the bill as it stands on the diagram.
type BillRow struct{ Item, Quantity string }

// Diagram draws a job on one sheet: its layout, each run with its
// cross-section and verdict, circuits, bill, legend, cautions and title block.
// Drawn runs are to scale; runs without a path are a layout that is not.
// What the sheet has no room for is left out by count, and it says so;
// failures are shown before the rest. The error is a paper too small to hold
// any of it.
//
// Cost: near linear in runs, circuits and findings.
func Diagram(r *fill.Report, o DrawingOptions) (*Sheet, error) {
	paper := o.Paper
	if paper == (Paper{}) {
		paper = A3
	}
	if paper.WidthMM < A4.WidthMM || paper.HeightMM < A4.HeightMM {
		return nil, fmt.Errorf("a diagram needs a sheet of at least %g x %g mm (A4 on its long side), not %g x %g mm",
			A4.WidthMM, A4.HeightMM, paper.WidthMM, paper.HeightMM)
	}
	d := &diagram{Sheet: NewSheet(paper.WidthMM, paper.HeightMM), job: r.Job, report: r, paper: paper, bill: o.Bill}
	d.small = paper.WidthMM < A3.WidthMM
	d.runs, d.circuits, d.others = gather(r)
	d.order = gravestFirst(len(d.runs), func(i int) bool { return d.runs[i].grave() })
	d.draw()
	return d.Sheet, d.Check()
}

// diagram is a diagram in the making.
type diagram struct {
	*Sheet
	job      *route.Job
	report   *fill.Report
	paper    Paper
	bill     []BillRow
	small    bool // an A4 sheet
	runs     []runFacts
	circuits []circuitFacts
	others   []*fill.Finding // of neither run nor circuit, not passed
	order    []int           // runs, failures first
	used     legendUse
	scale    string
}

// Parts of the sheet, in millimetres.
const (
	sideWide      = 106.0 // the column of tables and title block
	sideWideSmall = 82.0
	headHigh      = 6.5 // heading of a panel
	panelPad      = 2.5
	roomyStrips   = 1.5 // times the least height of a layout of strips
)

func (d *diagram) draw() {
	m := SheetMargin
	frame := rect{m, m, d.Width - m, d.Height - m}
	wide := sideWide
	if d.small {
		wide = sideWideSmall
	}
	work := rect{frame.x0, frame.y0, frame.x1 - wide, frame.y1}
	d.drawWork(work)
	d.drawSide(rect{work.x1, frame.y0, frame.x1, frame.y1})
	d.Group("frame", "frame of the sheet")
	d.Line(PenOutline, false, work.x1, frame.y0, work.x1, frame.y1)
	d.Line(PenFrame, true, frame.x0, frame.y0, frame.x1, frame.y0, frame.x1, frame.y1, frame.x0, frame.y1)
	d.End()
}

// heading writes the head of a panel: what it is in bold, what is to be known
// of it in small. It returns the panel below.
func (d *diagram) panelHead(r rect, title, note string) rect {
	x, y := r.x0+panelPad, r.y0+headHigh-1.8
	d.Text(Text{S: title, X: x, Y: y, Height: TextNormal, Bold: true})
	x += TextWidth(title, TextNormal, true) + 3
	d.Text(Text{S: cutToFit(note, r.x1-panelPad-x, TextSmall, false), X: x, Y: y, Height: TextSmall, Ink: DarkGrey})
	return rect{r.x0, r.y0 + headHigh, r.x1, r.y1}
}

// drawWork draws the layout above the panel of runs. A layout that is as wide
// as the sheet leaves room above and below it: the panel takes that for
// cross-sections.
func (d *diagram) drawWork(work rect) {
	drawn, rest := drawnRuns(d.job, d.order)
	low := work.high()*0.42 + headHigh
	if len(drawn) == 0 {
		low = min(low, stripHeight(d.job, rest, work.wide())+headHigh)
	}
	panel := d.planRuns(work.wide(), work.high()-low, len(drawn) == 0)
	switch {
	case len(drawn) > 0:
		area := rect{work.x0, work.y0, work.x1, work.y1 - panel.high}
		if most := work.high() - d.layoutsHigh(area, drawn, rest); most > panel.high {
			panel = d.planRuns(work.wide(), most, true)
		}
	case panel.cards != nil:
		panel.high = max(panel.high, work.high()-low*roomyStrips)
	}
	split := work.y1 - panel.high
	d.drawLayouts(rect{work.x0, work.y0, work.x1, split}, drawn, rest)
	d.Line(PenOutline, false, work.x0, split, work.x1, split)
	panel.draw(rect{work.x0, split, work.x1, work.y1})
}

// shareLayouts shares an area between what has a path and the rest.
func (d *diagram) shareLayouts(area rect, drawn, rest []int) (wall, strips rect) {
	wall, strips = area, area
	if len(drawn) > 0 && len(rest) > 0 {
		high := min(area.high()*0.4, stripHeight(d.job, rest, area.wide())+headHigh)
		wall.y1, strips.y0 = area.y1-high, area.y1-high
	}
	return wall, strips
}

// layoutsHigh is the height at which the layouts of an area lose nothing.
func (d *diagram) layoutsHigh(area rect, drawn, rest []int) float64 {
	wall, strips := d.shareLayouts(area, drawn, rest)
	below := rect{wall.x0, wall.y0 + headHigh, wall.x1, wall.y1}
	high := wallHigh(d.job, drawn, below) + headHigh
	if len(rest) == 0 {
		return high
	}
	return max(high+strips.high(), strips.high()/0.4)
}

// drawLayouts draws what has a path to scale, and the rest not to scale.
func (d *diagram) drawLayouts(area rect, drawn, rest []int) {
	wall, strips := d.shareLayouts(area, drawn, rest)
	if wall.y1 < area.y1 {
		d.Line(PenDimension, false, area.x0, wall.y1, area.x1, wall.y1)
	}
	d.scale = "NTS"
	if len(drawn) > 0 {
		d.drawLayout(wall, "Layout", len(drawn), func(r rect) *layoutPicture { return wallPicture(d.job, drawn, r) })
	}
	if len(rest) > 0 {
		title := "Layout"
		if len(drawn) > 0 {
			title = "Runs without a path"
		}
		d.drawLayout(strips, title, len(rest), func(r rect) *layoutPicture { return stripPicture(d.job, rest, r) })
	}
}

// drawLayout draws a layout under its heading.
func (d *diagram) drawLayout(area rect, title string, runs int, make func(rect) *layoutPicture) {
	below := rect{area.x0, area.y0 + headHigh, area.x1, area.y1}
	p := d.fitLayout(below, make)
	note := p.note
	if p.breaks {
		d.scale = p.scale
	}
	note = joinNotes(note, axesNote(p.axes))
	if p.left > 0 {
		note = joinNotes(note, fmt.Sprintf("first %d of %d runs; the rest in check JOB", runs-p.left, runs))
	}
	d.panelHead(area, title+"  "+p.scale, note)
}

// fitLayout draws a layout and names below it what found no room; for that it
// is drawn again, less high.
func (d *diagram) fitLayout(area rect, make func(rect) *layoutPicture) *layoutPicture {
	const most = 2 // lines for each kind of label
	marks, reserved, order := len(d.List), 0, newLabelOrder()
	for {
		inside := area
		if reserved > 0 {
			inside.y1 -= float64(reserved)*lineHigh + 1
		}
		p := make(inside)
		missing := d.drawPicture(p, inside.grown(-1), order)
		lines := missing.lines(area.wide()-2*panelPad, most)
		if len(lines) > reserved {
			d.List, reserved = d.List[:marks], len(lines)
			continue
		}
		d.Group("missing", "labels without room")
		for i, l := range lines {
			d.Text(Text{S: l, X: area.x0 + panelPad, Y: inside.y1 + float64(i+1)*lineHigh, Height: TextSmall})
		}
		d.End()
		return p
	}
}

// lineHigh is from one line of small text to the next.
const lineHigh = TextSmall * LineStep
