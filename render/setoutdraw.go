package render

import (
	"fmt"
	"math"

	"tubewright/factors"
	"tubewright/factors/uk"
	"tubewright/route"
)

// Parts of a strip on the sheet, in millimetres: the words over a piece, the
// marks of its bends, the tube, the saddles under it, its length.
const (
	stripHeadMM   = 7.0
	stripMarksMM  = 36.0
	stripPlainMM  = 3.0 // in place of the marks where nothing bends
	stripTubeMM   = 5.0
	stripUnderMM  = 21.0
	stripLengthMM = 9.0
	stripGapMM    = 5.0
	stripSideMM   = 26.0 // names at the ends of a tube
	markStepMM    = 3.2  // from one standing text to the next
	thinTubeMM    = 2.0  // narrower and a tube no longer reads as one
	thickTubeMM   = 7.0
	footHighMM    = 31.0
)

// stripScales are sheet millimetres to one of the tube.
var stripScales = []struct {
	name  string
	ratio float64
}{{"1:1", 1}, {"1:2", 0.5}, {"1:5", 0.2}, {"1:10", 0.1}, {"1:20", 0.05}, {"1:50", 0.02}}

// strip is one piece to draw.
type strip struct {
	set   *route.SetOut
	piece int
}

// marksHigh is the room over the tube.
func (s strip) marksHigh() float64 {
	if len(s.set.Pieces[s.piece].Bends) == 0 {
		return stripPlainMM
	}
	return stripMarksMM
}

func (s strip) high() float64 {
	return stripHeadMM + s.marksHigh() + stripTubeMM + stripUnderMM + stripLengthMM + stripGapMM
}

// paged shares strips out over sheets; there is one sheet at least.
func paged(strips []strip, room float64) [][]strip {
	pages := [][]strip{nil}
	left := room
	for _, s := range strips {
		if s.high() > left && left < room {
			pages, left = append(pages, nil), room
		}
		last := len(pages) - 1
		pages[last] = append(pages[last], s)
		left -= s.high()
	}
	return pages
}

// SetOutSheets draws each piece of the runs as a straight tube to scale: bends
// with their marks numbered and measured from the named end, threads, couplers
// and saddles. Pieces that one sheet has no room for go on to the next.
func SetOutSheets(j *route.Job, runs []int, paper Paper) ([]*Sheet, error) {
	if paper.WidthMM < A4.WidthMM || paper.HeightMM < A4.HeightMM {
		return nil, fmt.Errorf("a set-out needs a sheet of at least %g x %g mm (A4 on its long side), not %g x %g mm",
			A4.WidthMM, A4.HeightMM, paper.WidthMM, paper.HeightMM)
	}
	var strips []strip
	var lacks []string
	for _, r := range runs {
		s := j.SetOut(nil, r)
		for i := range s.Pieces {
			strips = append(strips, strip{&s, i})
		}
		for _, l := range s.Lacks {
			lacks = append(lacks, "run "+j.Runs[r].Name+" cannot be made: "+lackText(l))
		}
	}
	frame := rect{SheetMargin, SheetMargin, paper.WidthMM - SheetMargin, paper.HeightMM - SheetMargin}
	pages := paged(strips, frame.high()-footHighMM)
	var out []*Sheet
	for n, page := range pages {
		d := &setOutSheet{Sheet: NewSheet(paper.WidthMM, paper.HeightMM), job: j}
		y := frame.y0
		for _, s := range page {
			d.strip(s, rect{frame.x0, y, frame.x1, y + s.high()})
			y += s.high()
		}
		d.foot(frame, fmt.Sprintf("%d of %d, %s", n+1, len(pages), paper.Name), lacks)
		if err := d.Check(); err != nil {
			return nil, err
		}
		out = append(out, d.Sheet)
	}
	return out, nil
}

type setOutSheet struct {
	*Sheet
	job *route.Job
}

// tubeView is a piece as it lies on the sheet.
type tubeView struct {
	strip
	x0, x1, top, bottom float64
	ratio               float64
}

func (v *tubeView) x(mm float64) float64 { return v.x0 + mm*v.ratio }

// strip draws one piece.
func (d *setOutSheet) strip(s strip, r rect) {
	p := &s.set.Pieces[s.piece]
	run := &d.job.Runs[s.set.Run]
	d.Group("piece", "piece "+p.Name)
	defer d.End()
	scale := stripScales[len(stripScales)-1]
	for _, c := range stripScales {
		if p.Long()*c.ratio <= r.wide()-2*stripSideMM {
			scale = c
			break
		}
	}
	across := s.set.ODMM
	if run.Enc.Kind == factors.Trunking {
		across = float64(run.Enc.Width)
	}
	thick := min(thickTubeMM, max(thinTubeMM, across*scale.ratio))
	middle := r.y0 + stripHeadMM + s.marksHigh() + stripTubeMM/2
	v := &tubeView{s, r.x0 + stripSideMM, r.x0 + stripSideMM + p.Long()*scale.ratio, middle - thick/2, middle + thick/2, scale.ratio}
	head := fmt.Sprintf("%s   %s   cut to %s mm   lengths %s", oneLine(p.Name), run.Enc, whole(p.Long()), scale.name)
	if math.Abs(thick-across*scale.ratio) > 0.05 {
		head += ", width not to scale"
	}
	if len(p.Bends) > 0 {
		head += fmt.Sprintf("   bends to R %s mm", whole(s.set.RadiusMM))
	}
	high := shrinkToFit(head, r.wide()-2*panelPad, true, TextLarge, 3, TextNormal, TextSmall)
	d.Text(Text{S: cutToFit(head, r.wide()-2*panelPad, high, true), X: r.x0 + panelPad, Y: r.y0 + 2 + TextLarge, Height: high, Bold: true})
	d.bendMarks(v, r)
	d.tube(v)
	d.endNames(v, r)
	d.saddleMarks(v, r)
	d.lengthLine(v, r)
	d.Line(PenDimension, false, r.x0, r.y1, r.x1, r.y1)
}

// tube draws the outline, the bends in grey, threads and couplers.
func (d *setOutSheet) tube(v *tubeView) {
	for _, m := range v.set.Marks(v.piece) {
		a, b := v.x(m.Start), v.x(m.End)
		d.Fill(LightGrey, a, v.top, b, v.top, b, v.bottom, a, v.bottom)
		d.Line(PenEdge, false, a, v.top, a, v.bottom)
		d.Line(PenEdge, false, b, v.top, b, v.bottom)
	}
	d.Line(PenOutline, true, v.x0, v.top, v.x1, v.top, v.x1, v.bottom, v.x0, v.bottom)
	d.Line(PenCentre, false, v.x0-2, (v.top+v.bottom)/2, v.x1+2, (v.top+v.bottom)/2)
	steel := d.job.Runs[v.set.Run].Enc.Ferromagnetic() && v.set.ODMM > 0
	p := &v.set.Pieces[v.piece]
	for end, name := range p.Ends {
		x, in := v.x0, 1.0
		if end == 1 {
			x, in = v.x1, -1
		}
		thread := v.set.Ends[end].ThreadMM
		if name == "coupler" || name == "made bend" || name == "expansion coupler" {
			thread = max(v.set.Ends[0].ThreadMM, v.set.Ends[1].ThreadMM)
		}
		long := min(thread*v.ratio, (v.x1-v.x0)/3)
		if steel {
			for at := 0.5; at < long; at += 0.5 {
				d.Line(PenHatch, false, x+in*at, v.top, x+in*(at-0.4), v.bottom)
			}
		}
		if name == "coupler" || name == "expansion coupler" {
			reach := max(2, long)
			out := min(3, reach) // clear of the name
			d.Line(PenSymbol, true, x-in*out, v.top-0.9, x+in*reach, v.top-0.9, x+in*reach, v.bottom+0.9, x-in*out, v.bottom+0.9)
		}
	}
}

// endNames writes what is at each end of the piece.
func (d *setOutSheet) endNames(v *tubeView, r rect) {
	p := &v.set.Pieces[v.piece]
	for end := range p.Ends {
		t := Text{X: v.x0 - 4, AlignX: Right, Height: TextNormal, Bold: true}
		room := v.x0 - 4 - r.x0 - 1
		if end == 1 {
			t.X, t.AlignX = v.x1+4, Left
			room = min(2*stripSideMM, r.x1-v.x1-5)
		}
		t.S = cutToFit(oneLine(v.set.EndName(d.job, v.piece, end)), room, TextNormal, true)
		t.Y = (v.top+v.bottom)/2 - 0.6
		d.Text(t)
		entry := p.Ends[end]
		for i, l := range breakLines(entry, room, TextSmall, 3) {
			d.Text(Text{S: l, X: t.X, AlignX: t.AlignX, Y: t.Y + 1 + TextSmall + 0.4 + float64(i)*tableNoteMM, Height: TextSmall})
		}
	}
}

// standing is a text that stands over or under a point of the tube.
type standing struct {
	x    float64 // on the tube
	text string
	bold bool
}

// spread moves standing texts apart so that none lies on another, in order and
// no farther than it takes.
func spread(at []standing, low, high float64) []float64 {
	out := make([]float64, len(at))
	for i, s := range at {
		out[i] = s.x
	}
	// Twice from each end: what is pushed past one end comes back as a block.
	for i := 1; i < len(out); i++ {
		out[i] = max(out[i], out[i-1]+markStepMM)
	}
	for i := len(out) - 1; i >= 0; i-- {
		limit := high
		if i+1 < len(out) {
			limit = out[i+1] - markStepMM
		}
		out[i] = min(out[i], limit)
	}
	for i := range out {
		least := low
		if i > 0 {
			least = out[i-1] + markStepMM
		}
		out[i] = max(out[i], least)
	}
	return out
}

// bendMarks writes the running lengths of every bend over the tube.
func (d *setOutSheet) bendMarks(v *tubeView, r rect) {
	var at []standing
	for _, m := range v.set.Marks(v.piece) {
		what := fmt.Sprintf("%d", m.Number)
		turn := ""
		if t := turnText(m); t != "–" && t != "not" {
			turn = ", turn " + t
		}
		at = append(at,
			standing{v.x(m.Start), what + " start  " + whole(m.Start), true},
			standing{v.x(m.Centre), what + "  " + angleText(m.Angle) + turn, false},
			standing{v.x(m.End), what + " end  " + whole(m.End), false})
	}
	d.stand(at, v.top, r.y0+stripHeadMM+v.marksHigh()-4, -1, r)
}

// saddleMarks draws the saddles and their running lengths under the tube.
func (d *setOutSheet) saddleMarks(v *tubeView, r rect) {
	var at []standing
	for _, s := range v.set.SaddlesOn(v.piece) {
		x := v.x(s)
		d.Line(PenSymbol, false, x-1.2, v.bottom+0.5, x-1.2, v.top-0.5, x+1.2, v.top-0.5, x+1.2, v.bottom+0.5)
		d.Line(PenSymbol, false, x-2.4, v.bottom+0.5, x-1.2, v.bottom+0.5)
		d.Line(PenSymbol, false, x+1.2, v.bottom+0.5, x+2.4, v.bottom+0.5)
		at = append(at, standing{x, "saddle  " + whole(s), false})
	}
	if d.job.Runs[v.set.Run].Enc.Kind == factors.Trunking {
		for i := range at {
			at[i].text = "fixing" + at[i].text[len("saddle"):]
		}
	}
	d.stand(at, v.bottom+0.8, v.bottom+5, 1, r)
}

// stand writes standing texts with a leader each from the tube to the text.
func (d *setOutSheet) stand(at []standing, tube, foot, down float64, r rect) {
	most := int((r.wide() - 2) / markStepMM)
	if len(at) > most {
		at = at[:most]
	}
	for i, x := range spread(at, r.x0+2, r.x1-2) {
		s := at[i]
		d.Line(PenDimension, false, s.x, tube, s.x, tube+down*1.2, x, foot-down*1.2, x, foot)
		t := Text{S: s.text, X: x + TextSmall/2, Y: foot - 0.6, Height: TextSmall, Angle: -90, Bold: s.bold}
		if down > 0 {
			t.Y = foot + 0.6
			t.AlignX = Right
		}
		t.S = cutToFit(t.S, stripMarksMM-5, TextSmall, s.bold)
		d.Text(t)
	}
}

// lengthLine dimensions the whole piece.
func (d *setOutSheet) lengthLine(v *tubeView, r rect) {
	y := r.y1 - stripGapMM - 1
	for _, x := range []float64{v.x0, v.x1} {
		d.Line(PenDimension, false, x, v.bottom+DimGap, x, y+DimOver)
	}
	d.Line(PenDimension, false, v.x0, y, v.x1, y)
	arrow := min(ArrowLength, (v.x1-v.x0)/3)
	d.Fill(Black, v.x0, y, v.x0+arrow, y-ArrowWidth/2, v.x0+arrow, y+ArrowWidth/2)
	d.Fill(Black, v.x1, y, v.x1-arrow, y-ArrowWidth/2, v.x1-arrow, y+ArrowWidth/2)
	p := &v.set.Pieces[v.piece]
	d.Text(Text{S: whole(p.Long()), X: (v.x0 + v.x1) / 2, Y: y - TextGap, Height: TextNormal, AlignX: Centre})
}

// foot writes the job, what the sheet shows, what cannot be made, the cautions
// and the edition.
func (d *setOutSheet) foot(frame rect, sheet string, lacks []string) {
	d.Group("title", "title block")
	defer d.End()
	y := frame.y1 - footHighMM
	d.Line(PenOutline, false, frame.x0, y, frame.x1, y)
	left := rect{frame.x0 + panelPad, y, frame.x0 + 0.42*frame.wide(), frame.y1}
	name := oneLine(d.job.Name)
	high := shrinkToFit(name, left.wide()-panelPad, true, TextTitle, 4, TextLarge, TextNormal)
	d.Text(Text{S: cutToFit(name, left.wide()-panelPad, high, true), X: left.x0, Y: y + 7.5, Height: high, Bold: true})
	d.Text(Text{S: "Set-out of tube, before bending; lengths in mm from the left end", X: left.x0, Y: y + 12.5, Height: shrinkToFit("Set-out of tube, before bending; lengths in mm from the left end", left.wide()-panelPad, false, TextNormal, 2.2, TextSmall)})
	facts := "sheet " + sheet
	for _, f := range []string{d.job.Date, d.job.DrawnBy} {
		if f != "" {
			facts = oneLine(f) + "   " + facts
		}
	}
	d.Text(Text{S: cutToFit(facts+"   tubewright", left.wide()-panelPad, TextSmall, false), X: left.x0, Y: y + 17, Height: TextSmall})
	if len(lacks) > 0 {
		text := lacks[0]
		if n := len(lacks) - 1; n > 0 {
			text += fmt.Sprintf("; %d more in setout JOB", n)
		}
		for i, l := range breakLines(text, left.wide()-panelPad, TextSmall, 3) {
			d.Text(Text{S: l, X: left.x0, Y: y + 21.5 + float64(i)*tableNoteMM, Height: TextSmall, Bold: true, Ink: Red})
		}
	}
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
