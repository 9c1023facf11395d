package render

import (
	"fmt"

	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

// BoardFront draws a board with its cover off: the devices on the rail in the
// order of ways, widths and device heights to scale; the line busbar under its
// cover; the bars with a terminal for each way; the schedule, the torques, the
// cautions and the title block beside it. Ways that the sheet has no room for
// are left out by count. r is the BoardReport of the board's job.
func BoardFront(b *fill.Board, r *fill.Report, paper Paper) (*Sheet, error) {
	if paper.WidthMM < A4.WidthMM || paper.HeightMM < A4.HeightMM {
		return nil, fmt.Errorf("a board needs a sheet of at least %g x %g mm (A4 on its long side), not %g x %g mm",
			A4.WidthMM, A4.HeightMM, paper.WidthMM, paper.HeightMM)
	}
	d := &diagram{Sheet: NewSheet(paper.WidthMM, paper.HeightMM), job: b.Job, report: r, paper: paper, small: paper.WidthMM < A3.WidthMM}
	frame := rect{SheetMargin, SheetMargin, d.Width - SheetMargin, d.Height - SheetMargin}
	wide := sideWide
	if d.small {
		wide = sideWideSmall
	}
	work := rect{frame.x0, frame.y0, frame.x1 - wide, frame.y1}
	d.drawFront(b, work)
	d.drawBoardSide(b, rect{work.x1, frame.y0, frame.x1, frame.y1})
	d.Group("frame", "frame of the sheet")
	d.Line(PenOutline, false, work.x1, frame.y0, work.x1, frame.y1)
	d.Line(PenFrame, true, frame.x0, frame.y0, frame.x1, frame.y0, frame.x1, frame.y1, frame.x0, frame.y1)
	d.End()
	return d.Sheet, d.Check()
}

// front is the front view in the making.
type front struct {
	*diagram
	board      *fill.Board
	mmAModule  float64 // on the sheet
	deviceHigh float64
	slots      []slot
	left       int  // ways without room
	box        rect // enclosure
	rail       rect // devices
}

// slot is a device or a blank on the rail.
type slot struct {
	x0, x1 float64
	part   int               // of Board.Parts, -1 for the board's main switch and spare rail
	main   *route.MainSwitch // of the board or of a section
	title  string            // of a main
	way    fill.Way          // Number 0 on spare rail
}

func (s *slot) centre() float64 { return (s.x0 + s.x1) / 2 }

// blank reports a way without a circuit, or spare rail.
func (s *slot) blank() bool { return s.main == nil && (s.way.Number == 0 || s.way.Circuit < 0) }

// frontScales are sheet millimetres to one of the board.
var frontScales = []struct {
	name  string
	ratio float64
}{{"1:1", 1}, {"1:2", 0.5}, {"1:5", 0.2}}

// Parts of the front view on the sheet, in millimetres. They do not grow with
// the scale: they hold text.
const (
	frontPad     = 4.0  // enclosure to what is in it
	barZone      = 13.0 // a row of bars
	busbarZone   = 11.0 // busbar, its cover and its name
	linkZone     = 6.0  // links to the sections
	busbarStep   = 2.2  // from one line of the busbar to the next
	railDimHigh  = 9.0  // dimension above the enclosure
	stripHigh    = 36.0 // circuit labels standing, at most
	stripLying   = 13.0 // circuit labels lying
	bracketHigh  = 9.0  // sections
	lyingModule  = 14.0 // width of a module from which labels lie
	frontSideGap = 9.0  // enclosure to the edge of the panel
)

func (d *diagram) drawFront(b *fill.Board, work rect) {
	f := &front{diagram: d, board: b}
	width, height := uk.Module()
	room := work.wide() - 2*(frontSideGap+frontPad)
	for _, s := range frontScales {
		f.mmAModule, f.deviceHigh, d.scale = width.Num*s.ratio, height.Num*s.ratio, s.name
		if float64(f.modules())*f.mmAModule <= room {
			break
		}
	}
	wide := f.place(work, room)
	note := "widths and devices to scale; isolate and prove dead before the cover comes off"
	if f.left > 0 {
		note = fmt.Sprintf("the last %d ways have no room here; isolate and prove dead before the cover comes off", f.left)
	}
	title := "Board"
	if b.Job.Board.Place >= 0 {
		title = oneLine(b.Name())
	}
	below := d.panelHead(work, title+": front, cover off  "+d.scale, note)
	f.measure(below, wide)
	d.Group("board", "board "+b.Name())
	defer d.End()
	f.enclosure()
	f.busbars()
	for i := range f.slots {
		f.device(&f.slots[i])
	}
	f.bars()
	f.strip()
	f.brackets()
}

// modules is the width of the rail: the job's, or what goes on it.
func (f *front) modules() int { return max(f.board.Modules(), f.board.Job.Board.Modules.V) }

// place puts main switch, sections, ways and spare rail in order from the left
// and returns their width.
func (f *front) place(work rect, room float64) float64 {
	x := 0.0
	add := func(modules int, s slot) bool {
		s.x0, s.x1 = x, x+float64(modules)*f.mmAModule
		if s.x1 > room+0.01 {
			return false
		}
		x = s.x1
		f.slots = append(f.slots, s)
		return true
	}
	b := f.board
	if b.Main.Said() {
		add(b.Main.V.Modules, slot{part: -1, main: &b.Main.V, title: "main"})
	}
	for i := range b.Parts {
		p := &b.Parts[i]
		if p.Main.Said() {
			add(p.Main.V.Modules, slot{part: i, main: &p.Main.V, title: p.Name()})
		}
		for _, w := range p.Ways {
			if f.left > 0 || !add(w.Modules, slot{part: i, way: w}) {
				f.left++
			}
		}
	}
	for n := b.Modules(); n < f.modules() && f.left == 0; n++ {
		if !add(1, slot{part: -1}) {
			break
		}
	}
	return x
}

// lying reports whether labels lie; they stand where modules are narrow.
func (f *front) lying() bool { return f.mmAModule >= lyingModule }

// stripHeight is what the labels need: the longest that stands.
func (f *front) stripHeight() float64 {
	if f.lying() {
		return stripLying
	}
	longest := 0.0
	for i := range f.slots {
		longest = max(longest, TextWidth(f.circuitName(&f.slots[i]), TextSmall, false))
	}
	return min(stripHigh, longest+12)
}

func (f *front) split() bool { return len(f.job.Board.Sections) > 0 }

// measure centres the view in the panel.
func (f *front) measure(area rect, wide float64) {
	phases := float64(max(1, f.board.Job.Supply.Phases.V))
	inside := 2*barZone + f.deviceHigh + busbarZone + (phases-1)*busbarStep
	below := f.stripHeight()
	if f.split() {
		inside += linkZone
		below += bracketHigh
	}
	high := railDimHigh + inside + 2*frontPad + below
	x := area.x0 + (area.wide()-wide)/2
	y := area.y0 + max(0, (area.high()-high)/2) + railDimHigh
	f.box = rect{x - frontPad, y, x + wide + frontPad, y + inside + 2*frontPad}
	f.rail = rect{x, y + frontPad + 2*barZone, x + wide, y + frontPad + 2*barZone + f.deviceHigh}
	for i := range f.slots {
		f.slots[i].x0 += x
		f.slots[i].x1 += x
	}
}

func (r rect) corners() []float64 { return []float64{r.x0, r.y0, r.x1, r.y0, r.x1, r.y1, r.x0, r.y1} }

// enclosure draws the outline, the rail and the rail's dimension.
func (f *front) enclosure() {
	f.Line(Pen{W70, Black, Solid}, true, f.box.corners()...)
	middle := (f.rail.y0 + f.rail.y1) / 2
	f.Line(PenCentre, false, f.box.x0+1, middle, f.box.x1-1, middle)
	n := 0
	for i := range f.slots {
		n += int((f.slots[i].x1-f.slots[i].x0)/f.mmAModule + 0.5)
	}
	width, _ := uk.Module()
	text := fmt.Sprintf("%d modules × %s mm = %s mm", n, units.Format(width.Num), units.Format(float64(n)*width.Num))
	f.railDimension(text)
}

// railDimension dimensions the devices' width above the enclosure.
func (f *front) railDimension(text string) {
	y := f.box.y0 - 4
	x0, x1 := f.rail.x0, f.rail.x1
	for _, x := range []float64{x0, x1} {
		f.Line(PenDimension, false, x, y-DimOver, x, f.box.y0-DimGap)
	}
	half := TextWidth(text, TextNormal, false)/2 + TextGap
	middle := (x0 + x1) / 2
	if 2*half+4*ArrowLength > x1-x0 { // no room between the arrows: over the line
		f.Line(PenDimension, false, x0, y, x1, y)
		f.Text(Text{S: text, X: middle, Y: y - TextGap, Height: TextSmall, AlignX: Centre})
	} else {
		f.Line(PenDimension, false, x0, y, middle-half, y)
		f.Line(PenDimension, false, middle+half, y, x1, y)
		f.Text(Text{S: text, X: middle, Y: y, Height: TextNormal, AlignX: Centre, AlignY: Middle})
	}
	f.Fill(Black, x0, y, x0+ArrowLength, y-ArrowWidth/2, x0+ArrowLength, y+ArrowWidth/2)
	f.Fill(Black, x1, y, x1-ArrowLength, y-ArrowWidth/2, x1-ArrowLength, y+ArrowWidth/2)
}
