package render

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tubewright/factors/units"
	"tubewright/route"
)

// A view shows bends as they lie when they are made: to scale, in their own
// plane, the first of them bent upwards.

// Parts of a view on the sheet, in millimetres.
const (
	viewHighMM  = 49.0
	viewLeastMM = 90.0 // width of a view
	viewHeadMM  = 9.0  // its title
	viewSideMM  = 15.0 // room for dimensions left and right
	viewUnderMM = 8.5  // and under it
)

// bendView is bends of one piece that lie in one plane and close together.
type bendView struct {
	set   *route.SetOut
	piece int
	marks []route.TubeMark
	first bool // the piece's first bend is in it
	from  string
	to    string
}

// viewsOf groups the bends of a piece: those of a set stay together, a corner
// has a view of its own.
func viewsOf(j *route.Job, s *route.SetOut, piece int) []bendView {
	var out []bendView
	marks := s.Marks(piece)
	near, far := s.EndName(j, piece, 0), s.EndName(j, piece, 1)
	for i, m := range marks {
		if i > 0 {
			before := marks[i-1]
			if m.Set >= 0 && m.Set == before.Set {
				v := &out[len(out)-1]
				v.marks = append(v.marks, m)
				continue
			}
			out[len(out)-1].to = fmt.Sprintf("bend %d", m.Number)
			out = append(out, bendView{s, piece, []route.TubeMark{m}, false, fmt.Sprintf("bend %d", before.Number), far})
			continue
		}
		out = append(out, bendView{s, piece, []route.TubeMark{m}, true, near, far})
	}
	return out
}

// title says what is in a view.
func (v *bendView) title() string {
	a, b := v.marks[0], v.marks[len(v.marks)-1]
	what := "bend " + fmt.Sprint(a.Number)
	if b.Number > a.Number {
		what = fmt.Sprintf("bends %d to %d", a.Number, b.Number)
	}
	if a.Set < 0 {
		return what
	}
	f := &v.set.Sets[a.Set]
	return fmt.Sprintf("%s: %s of %s mm", what, f.Word, units.Format(math.Round(f.DepthMM*10)/10))
}

// turned says how the tube is turned since the view before, and how a rolled
// set leans.
func (v *bendView) turned() string {
	var parts []string
	switch t := turnText(v.marks[0]); t {
	case "–":
	case "not":
		parts = append(parts, "tube not turned since "+v.from)
	default:
		parts = append(parts, "tube turned "+t+" since "+v.from)
	}
	if k := v.marks[0].Set; k >= 0 && v.set.Sets[k].Rolled > 0 {
		f := &v.set.Sets[k]
		parts = append(parts, "rolled: "+rolledText(f))
	}
	if len(parts) == 0 && v.first {
		parts = []string{"first bend upwards"}
	}
	return strings.Join(parts, "; ")
}

// viewRow is views that stand side by side.
type viewRow struct {
	name  string
	views []bendView
}

func (viewRow) high() float64 { return viewHighMM }

// rowsOf sets views in rows of a width.
func rowsOf(name string, views []bendView, wide float64) []block {
	var out []block
	for chunk := range slices.Chunk(views, max(1, int(wide/viewLeastMM))) {
		out = append(out, viewRow{name, chunk})
	}
	return out
}

func (row viewRow) draw(d *setOutSheet, r rect) {
	d.Group("views", "piece "+row.name+" as bent")
	defer d.End()
	most := max(1, int(r.wide()/viewLeastMM))
	wide := r.wide() / float64(most)
	for i := range row.views {
		cell := rect{r.x0 + float64(i)*wide, r.y0, r.x0 + float64(i+1)*wide, r.y1}
		newViewDrawing(d, &row.views[i], cell).draw(row.name)
		if i > 0 {
			d.Line(PenGrid, false, cell.x0, cell.y0+2, cell.x0, cell.y1-2)
		}
	}
	d.Line(PenDimension, false, r.x0, r.y1, r.x1, r.y1)
}

// viewDrawing is one view on its way to the sheet.
type viewDrawing struct {
	*setOutSheet
	*bendView
	cell   rect
	shape  bentShape
	ratio  float64
	scale  string
	x0, y0 float64 // of the shape's origin on the sheet
	labels *labeller
}

func newViewDrawing(d *setOutSheet, b *bendView, cell rect) *viewDrawing {
	v := &viewDrawing{setOutSheet: d, bendView: b, cell: cell, shape: bend(b)}
	box := v.shape.box
	room := rect{cell.x0 + viewSideMM, cell.y0 + viewHeadMM, cell.x1 - viewSideMM, cell.y1 - viewUnderMM}
	over := 0.0
	if b.marks[0].Set >= 0 || math.IsNaN(b.marks[0].LegsMM[0]) {
		over = 6 // labels stand over a set; in the throat of a right angle
	}
	for _, s := range stripScales {
		v.ratio, v.scale = s.ratio, s.name
		if box.wide()*s.ratio <= room.wide() && box.high()*s.ratio <= room.high()-over {
			break
		}
	}
	v.x0 = (room.x0+room.x1)/2 - (box.x0+box.x1)/2*v.ratio
	v.y0 = (room.y0+room.y1)/2 + over/3 + (box.y0+box.y1)/2*v.ratio
	v.labels = newLabeller(rect{cell.x0 + 1, cell.y0 + viewHeadMM - 1, cell.x1 - 1, cell.y1 - 1})
	return v
}

// on is a point of the shape on the sheet, whose y points down.
func (v *viewDrawing) on(p xy) xy { return xy{v.x0 + p.x*v.ratio, v.y0 - p.y*v.ratio} }

func (v *viewDrawing) points(list []xy) []float64 {
	out := make([]float64, 0, 2*len(list))
	for _, p := range list {
		q := v.on(p)
		out = append(out, q.x, q.y)
	}
	return out
}

func (v *viewDrawing) draw(piece string) {
	head := piece + "  " + v.title() + "  " + v.scale
	room := v.cell.wide() - 2*panelPad
	v.Text(Text{S: cutToFit(oneLine(head), room, TextNormal, true), X: v.cell.x0 + panelPad, Y: v.cell.y0 + 1.5 + TextNormal, Height: TextNormal, Bold: true})
	for i, l := range breakLines(v.turned(), room, TextSmall, 2) {
		v.Text(Text{S: l, X: v.cell.x0 + panelPad, Y: v.cell.y0 + 2.5 + TextNormal + TextSmall + 0.6 + float64(i)*tableNoteMM, Height: TextSmall})
		v.labels.takeWords(rect{v.cell.x0, v.cell.y0 + 2.5 + TextNormal + float64(i)*tableNoteMM, v.cell.x0 + panelPad + TextWidth(l, TextSmall, false), v.cell.y0 + 2.5 + TextNormal + TextSmall + 1.2 + float64(i)*tableNoteMM})
	}
	v.tube()
	if v.marks[0].Set >= 0 {
		v.depth()
	} else {
		v.legs()
	}
	for i := range v.marks {
		v.bendLabel(i)
	}
	v.endLabel(v.shape.first(), v.from, v.shape.cut[0])
	v.endLabel(v.shape.last(), v.to, v.shape.cut[1])
}

// tube draws the bent tube with the marks of each bend across it.
func (v *viewDrawing) tube() {
	half := v.set.ODMM / 2
	for _, b := range v.shape.bends {
		band := append(b.along(half), reversed(b.along(-half))...)
		v.Fill(LightGrey, v.points(band)...)
	}
	left, right := v.shape.along(half), v.shape.along(-half)
	v.Line(PenSymbol, false, v.points(left)...)
	v.Line(PenSymbol, false, v.points(right)...)
	v.Line(PenCentre, false, v.points(v.shape.along(0))...)
	v.closeEnd(left[0], right[0], v.shape.cut[0])
	v.closeEnd(left[len(left)-1], right[len(right)-1], v.shape.cut[1])
	for _, b := range v.shape.bends {
		for _, t := range []float64{0, 1} {
			over := half + 1.5/v.ratio
			v.Line(PenEdge, false, v.points([]xy{b.at(t, over), b.at(t, -over)})...)
		}
	}
	v.labels.lines.takeLine(v.points(v.shape.along(0)), v.set.ODMM*v.ratio+3.6, 0)
}

// closeEnd draws the end of the tube: square, or broken off.
func (v *viewDrawing) closeEnd(a, b xy, cut bool) {
	if !cut {
		v.Line(PenSymbol, false, v.points([]xy{a, b})...)
		return
	}
	p, q := v.on(a), v.on(b)
	across := xy{(q.x - p.x) / 3, (q.y - p.y) / 3}
	n := xy{across.y / 2, -across.x / 2}
	v.Line(PenDimension, false, p.x, p.y, p.x+across.x+n.x, p.y+across.y+n.y, q.x-across.x-n.x, q.y-across.y-n.y, q.x, q.y)
}

// bendLabel writes a bend's number, angle and marks at it.
func (v *viewDrawing) bendLabel(i int) {
	m, b := v.marks[i], v.shape.bends[i]
	first := fmt.Sprintf("%d  %s", m.Number, angleText(m.Angle))
	second := whole(m.Start) + " – " + whole(m.End)
	w := max(TextWidth(first, TextNormal, true), TextWidth(second, TextSmall, false)) + 2.4 // apart from the next
	const h = TextNormal + 1 + TextSmall + 0.6
	half := v.set.ODMM/2 + 1.5/v.ratio
	out, in := v.on(b.at(0.5, -half)), v.on(b.at(0.5, half)) // outside, throat
	ux, uy := out.x-in.x, out.y-in.y
	long := math.Hypot(ux, uy)
	ux, uy = ux/long, uy/long
	var near []rect
	for _, gap := range []float64{0.6, 1.6, 3} {
		reach := gap + math.Abs(ux)*w/2 + math.Abs(uy)*h/2
		near = append(near, centred(out.x+ux*reach, out.y+uy*reach, w, h), centred(in.x-ux*reach, in.y-uy*reach, w, h))
	}
	at := v.on(b.at(0.3, half)) // clear of the radius
	box, leader, ok := v.labels.put(labelled{near: near, wide: w, high: h, x: at.x, y: at.y, grave: true})
	if !ok {
		return // the strip over the view has the same figures
	}
	if leader != nil {
		v.Line(PenDimension, false, leader...)
	}
	v.Text(Text{S: first, X: (box.x0 + box.x1) / 2, Y: box.y0 + TextNormal + 0.2, Height: TextNormal, AlignX: Centre, Bold: true})
	v.Text(Text{S: second, X: (box.x0 + box.x1) / 2, Y: box.y1 - 0.3, Height: TextSmall, AlignX: Centre})
}

// endLabel names what lies beyond an end of the view.
func (v *viewDrawing) endLabel(at xy, name string, cut bool) {
	text := name
	if cut {
		text = "to " + name
	}
	text = cutToFit(oneLine(text), 24, TextSmall, false)
	p := v.on(at)
	w, h := TextWidth(text, TextSmall, false)+0.6, TextSmall+0.6
	off := v.set.ODMM/2*v.ratio + 3.4
	var near []rect
	for _, dx := range []float64{0, -w / 2, w / 2} {
		near = append(near, centred(p.x+dx, p.y-off, w, h), centred(p.x+dx, p.y+off, w, h))
	}
	near = append(near, centred(p.x-w/2-off, p.y, w, h), centred(p.x+w/2+off, p.y, w, h))
	for _, r := range near {
		if v.labels.fits(r) {
			v.labels.takeWords(r)
			v.Text(Text{S: text, X: (r.x0 + r.x1) / 2, Y: r.y1 - 0.3, Height: TextSmall, AlignX: Centre})
			return
		}
	}
}
