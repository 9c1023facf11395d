package render

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tubewright/factors"
	"tubewright/factors/units"
	"tubewright/route"
)

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
	scale := s.scale(r.wide())
	across := s.set.ODMM
	if run.Enc.Kind == factors.Trunking {
		across = float64(run.Enc.Width)
	}
	thick := min(thickTubeMM, max(thinTubeMM, across*scale.ratio))
	middle := r.y0 + stripHeadMM + s.marksHigh() + stripTubeMM/2
	v := &tubeView{s, r.x0 + stripSideMM, r.x0 + stripSideMM + p.Long()*scale.ratio, middle - thick/2, middle + thick/2, scale.ratio}
	head := s.head(run, scale.name, math.Abs(thick-across*scale.ratio) <= 0.05)
	high := shrinkToFit(head, r.wide()-2*panelPad, true, TextLarge, 3, TextNormal, TextSmall)
	d.Text(Text{S: cutToFit(head, r.wide()-2*panelPad, high, true), X: r.x0 + panelPad, Y: r.y0 + 2 + TextLarge, Height: high, Bold: true})
	if s.void() {
		d.voidTube(v)
		d.endNames(v, r)
	} else {
		d.bendMarks(v, r)
		d.tube(v)
		d.endNames(v, r)
		d.saddleMarks(v, r)
		d.lengthLine(v, r)
	}
	d.Line(PenDimension, false, r.x0, r.y1, r.x1, r.y1)
}

// head is what stands over a strip.
func (s strip) head(run *route.Run, scale string, widthToo bool) string {
	p := &s.set.Pieces[s.piece]
	head := fmt.Sprintf("%s   %s   cut to %s mm   lengths %s", oneLine(p.Name), run.Enc, whole(p.Long()), scale)
	if s.void() {
		head = fmt.Sprintf("%s   %s   not to be made: see above", oneLine(p.Name), run.Enc)
	}
	if !s.void() && !widthToo {
		head += ", width not to scale"
	}
	if n := run.Bends.Count; n > 0 && !run.Drawn {
		head += "   the way is not drawn: bends, " + fmt.Sprint(n)
	}
	head += strings.Replace(pieceRuns(s.job, s.set, s.piece), "; ", "   ", 1)
	if len(p.Bends) > 0 && !s.void() {
		head += fmt.Sprintf("   bends to R %s mm", whole(s.set.RadiusMM))
	}
	return head
}

// voidTube draws a tube that is not to be made: its outline, struck through.
func (d *setOutSheet) voidTube(v *tubeView) {
	d.Line(PenHidden, true, v.x0, v.top, v.x1, v.top, v.x1, v.bottom, v.x0, v.bottom)
	d.Line(PenFail, false, v.x0, v.bottom+1.5, v.x1, v.top-1.5)
	d.Line(PenFail, false, v.x0, v.top-1.5, v.x1, v.bottom+1.5)
	const text = "NOT TO BE MADE"
	d.Text(Text{S: text, X: (v.x0 + v.x1) / 2, Y: v.bottom + 3 + TextLarge, Height: TextLarge, AlignX: Centre, Bold: true, Ink: Red})
}

// tube draws the outline, the bends in grey, threads and couplers.
func (d *setOutSheet) tube(v *tubeView) {
	for _, m := range v.set.Marks(v.piece) {
		a, b := v.x(m.Start), v.x(m.End)
		d.Fill(LightGrey, a, v.top, b, v.top, b, v.bottom, a, v.bottom)
		d.Line(PenEdge, false, a, v.top, a, v.bottom)
		d.Line(PenEdge, false, b, v.top, b, v.bottom)
	}
	for _, n := range v.set.Notches(v.piece) {
		a, x, b := v.x(n.At-n.EachSideMM), v.x(n.At), v.x(n.At+n.EachSideMM)
		d.Fill(LightGrey, a, v.bottom, b, v.bottom, x, v.top)
		d.Line(PenEdge, false, a, v.bottom, x, v.top, b, v.bottom)
	}
	d.Line(PenOutline, true, v.x0, v.top, v.x1, v.top, v.x1, v.bottom, v.x0, v.bottom)
	d.Line(PenCentre, false, v.x0-2, (v.top+v.bottom)/2, v.x1+2, (v.top+v.bottom)/2)
	d.holes(v)
	for end := range v.set.Pieces[v.piece].Ends {
		d.tubeEnd(v, end)
	}
}

// tubeEnd draws an end's thread, and the coupler that joins it to another
// piece: a running coupler with its locknut at the foot of the long thread.
func (d *setOutSheet) tubeEnd(v *tubeView, end int) {
	p := &v.set.Pieces[v.piece]
	name := p.Ends[end]
	x, in := v.x0, 1.0
	if end == 1 {
		x, in = v.x1, -1
	}
	thread := v.set.ThreadMM
	joined := name == "coupler" || name == "expansion coupler" || name == "running coupler"
	if name == "open end" {
		thread = 0
	}
	long, half := min(thread*v.ratio, (v.x1-v.x0)/3), 0.0
	half = long
	if end == 1 && p.RunningMM > 0 {
		long = min(max(4, p.RunningMM*v.ratio), (v.x1-v.x0)/3)
	}
	if d.job.Runs[v.set.Run].Enc.Ferromagnetic() && v.set.ODMM > 0 {
		for at := 0.5; at < long; at += 0.5 {
			d.Line(PenHatch, false, x+in*at, v.top, x+in*(at-0.4), v.bottom)
		}
	}
	if !joined {
		return
	}
	reach := max(2, half)
	out := min(3, reach) // clear of the name
	if name == "expansion coupler" {
		out = v.gap() + 2
		d.expansionGap(v, x, in)
	}
	d.Line(PenSymbol, true, x-in*out, v.top-0.9, x+in*reach, v.top-0.9, x+in*reach, v.bottom+0.9, x-in*out, v.bottom+0.9)
	if name == "running coupler" && end == 1 {
		a, b := x+in*(reach+0.2), x+in*(reach+1.2)
		d.Fill(Grey, a, v.top-1.3, b, v.top-1.3, b, v.bottom+1.3, a, v.bottom+1.3)
		d.Line(PenEdge, true, a, v.top-1.3, b, v.top-1.3, b, v.bottom+1.3, a, v.bottom+1.3)
	}
}

// gap is the gap in an expansion coupler on the sheet, to scale as far as there
// is room before the name.
func (v *tubeView) gap() float64 { return min(8, v.set.Joints[0].OpeningMM*v.ratio) }

// expansionGap draws the end of the other tube within an expansion coupler, the
// gap on the day away.
func (d *setOutSheet) expansionGap(v *tubeView, x, in float64) {
	gap := v.gap()
	d.Line(PenOutline, false, x-in*(gap+2), v.top, x-in*gap, v.top, x-in*gap, v.bottom, x-in*(gap+2), v.bottom)
}

// endNames writes what is at each end of the piece.
func (d *setOutSheet) endNames(v *tubeView, r rect) {
	p := &v.set.Pieces[v.piece]
	for end := range p.Ends {
		off := 4.0
		if p.Ends[end] == "expansion coupler" {
			off = v.gap() + 3
		}
		t := Text{X: v.x0 - off, AlignX: Right, Height: TextNormal, Bold: true}
		room := v.x0 - off - r.x0 - 1
		if end == 1 {
			t.X, t.AlignX = v.x1+off, Left
			room = min(2*stripSideMM, r.x1-v.x1-off-1)
		}
		t.S = cutToFit(oneLine(v.set.EndName(d.job, v.piece, end)), room, TextNormal, true)
		t.Y = (v.top+v.bottom)/2 - 0.6
		d.Text(t)
		entry := p.Ends[end]
		if end == 1 && p.RunningMM > 0 {
			entry += ", thread " + units.Format(p.RunningMM) + " mm long"
		}
		if entry == "expansion coupler" {
			entry += ", " + gapText(v.set, end)
		}
		if e := v.set.Ends[end]; d.job.Runs[v.set.Run].Enc.Kind == factors.Trunking && (end == 0 && v.piece == 0 || end == 1 && v.piece == len(v.set.Pieces)-1) {
			if e.SetbackMM() > 0 {
				entry += ", " + whole(e.SetbackMM()) + " off the centre"
			}
		} else if reach := madeReach(v.set, p, end); reach > 0 {
			entry += ", " + whole(reach) + " to the corner"
		}
		for i, l := range breakLines(entry, room, TextSmall, 5) {
			d.Text(Text{S: l, X: t.X, AlignX: t.AlignX, Y: t.Y + 1 + TextSmall + 0.4 + float64(i)*tableNoteMM, Height: TextSmall})
		}
	}
}

// madeReach is how far the corner of a made bend lies beyond an end of a piece;
// 0 where it ends otherwise.
func madeReach(s *route.SetOut, p *route.TubePiece, end int) float64 {
	at := [2]float64{p.From, p.To}[end]
	for _, q := range s.Parts {
		if q.Kind == route.MadePart && math.Abs(q.From-at) < 1e-6 {
			return q.ReachMM
		}
	}
	return 0
}

// bendMarks writes the running lengths of every bend over the tube.
func (d *setOutSheet) bendMarks(v *tubeView, r rect) {
	var at []standing
	for _, m := range v.set.Marks(v.piece) {
		texts := markTexts(m)
		at = append(at, standing{v.x(m.Start), texts[0], true}, standing{v.x(m.Centre), texts[1], false}, standing{v.x(m.End), texts[2], false})
	}
	for _, n := range v.set.Notches(v.piece) {
		at = append(at, standing{v.x(n.At), notchText(n), true})
	}
	if mark := v.slideMark(); mark > 0 {
		d.Line(PenEdge, false, v.x(mark), v.top, v.x(mark), v.bottom)
		at = append([]standing{{v.x(mark), slideText(mark), true}}, at...)
	}
	for _, h := range v.cutHoles() {
		at = append(at, standing{v.x(h.At), v.holeText(h), true})
	}
	slices.SortStableFunc(at, func(a, b standing) int { return cmp.Compare(a.x, b.x) })
	d.stand(at, v.top, r.y0+stripHeadMM+v.marksHigh()-stripLeaderMM, -1, r)
}

func notchText(n route.Notch) string {
	which, _, _ := strings.Cut(n.Corner, " ")
	return angleText(n.Angle) + " " + which + " corner  " + whole(n.At) + " ± " + whole(n.EachSideMM)
}

// markTexts are what stands at the start, centre and end of a bend.
func markTexts(m route.TubeMark) [3]string {
	turn := ""
	if t := turnText(m); t != "–" && t != "not" {
		turn = ", turn " + t
	}
	n := fmt.Sprint(m.Number)
	return [3]string{n + " start  " + whole(m.Start), n + "  " + angleText(m.Angle) + turn, n + " end  " + whole(m.End)}
}

// saddleMarks draws the saddles and their running lengths under the tube.
func (d *setOutSheet) saddleMarks(v *tubeView, r rect) {
	var at []standing
	before := slices.IndexFunc(v.set.Saddles, func(p route.SaddlePoint) bool { return p.At >= v.set.Pieces[v.piece].From })
	for k, s := range v.set.SaddlesOn(v.piece) {
		x := v.x(s)
		d.Line(PenSymbol, false, x-1.2, v.bottom+0.5, x-1.2, v.top-0.5, x+1.2, v.top-0.5, x+1.2, v.bottom+0.5)
		d.Line(PenSymbol, false, x-2.4, v.bottom+0.5, x-1.2, v.bottom+0.5)
		d.Line(PenSymbol, false, x+1.2, v.bottom+0.5, x+2.4, v.bottom+0.5)
		at = append(at, standing{x, fmt.Sprintf("saddle %d  %s", before+k+1, whole(s)), false})
	}
	if d.job.Runs[v.set.Run].Enc.Kind == factors.Trunking {
		for i := range at {
			at[i].text = "fixing" + at[i].text[len("saddle"):]
		}
	}
	d.stand(at, v.bottom+0.8, v.bottom+stripFootMM, 1, r)
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
