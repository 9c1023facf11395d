package render

import "math"

// depth dimensions a set: centre line to centre line, a bubble or double set to
// its crown.
func (v *viewDrawing) depth() {
	f := &v.set.Sets[v.marks[0].Set]
	n := len(v.shape.bends)
	foot, crown := v.shape.first(), v.shape.last()
	x := v.on(crown).x + 5
	switch {
	case n == 3:
		crown = v.shape.bends[1].at(0.5, 0)
		x = v.on(crown).x
	case n == 4:
		a, b := v.shape.bends[1].at(1, 0), v.shape.bends[2].at(0, 0)
		crown = xy{(a.x + b.x) / 2, a.y}
		x = v.on(crown).x
	case n != 2:
		return // a coupler between its bends: the other piece has the rest
	}
	y0, y1 := v.on(foot).y, v.on(crown).y
	if n == 2 {
		v.extension(v.on(crown).x+DimGap, y1, x+DimOver, y1)
		v.extension(v.on(v.shape.bends[0].at(0, 0)).x, y0, x+DimOver, y0)
	} else {
		v.extension(v.on(v.shape.bends[0].at(0, 0)).x, y0, v.on(v.shape.bends[n-1].at(1, 0)).x, y0)
	}
	v.upright(x, y0, y1, "H "+whole(f.DepthMM))
}

// legs dimensions a right angle to its back, and the radius of any bend.
func (v *viewDrawing) legs() {
	if len(v.marks) != 1 {
		return
	}
	m, b := v.marks[0], v.shape.bends[0]
	defer v.radius(b)
	if math.IsNaN(m.LegsMM[0]) {
		return
	}
	half := v.set.ODMM / 2
	back := v.on(b.at(0.5, 0))
	foot := v.on(xy{v.shape.first().x, -half})
	right := v.on(xy{b.from.x + b.radius + half, 0})
	top := v.on(v.shape.last())
	back.x, back.y = right.x, foot.y
	// The leg along: from the end, which lies beyond the break, to the back.
	y := foot.y + DimFirst - 2
	v.extension(back.x, top.y, back.x, y+DimOver)
	v.extension(foot.x, foot.y+DimGap, foot.x, y+DimOver)
	v.across(foot.x, back.x, y, whole(m.LegsMM[0]))
	// The leg up: from the back of the bend to what lies over it.
	x := back.x + DimFirst - 2
	v.extension(foot.x, back.y, x+DimOver, back.y)
	v.extension(top.x+half*v.ratio+DimGap, top.y, x+DimOver, top.y)
	v.upright(x, back.y, top.y, whole(m.LegsMM[1]))
}

// extension is a line that a dimension stands on; no text lies on it.
func (v *viewDrawing) extension(x0, y0, x1, y1 float64) {
	v.Line(PenDimension, false, x0, y0, x1, y1)
	v.labels.lines.takeLine([]float64{x0, y0, x1, y1}, 0.6, 0)
}

// radius writes the radius of the centre line at an arrow to it.
func (v *viewDrawing) radius(b bentArc) {
	c, p := v.on(b.at(0.5, b.radius)), v.on(b.at(0.5, 0))
	text := "R " + whole(b.radius)
	w, h := TextWidth(text, TextSmall, false), TextSmall
	box := centred(c.x-w/2, c.y-h/2-0.6, w+0.8, h+0.8)
	if !v.labels.fits(box) {
		return
	}
	v.labels.takeWords(box)
	v.Line(PenDimension, false, c.x, c.y, p.x, p.y)
	v.arrow(p.x, p.y, p.x-c.x, p.y-c.y)
	v.labels.solid.takeLine([]float64{c.x, c.y, p.x, p.y}, 0.6, 0)
	v.Text(Text{S: text, X: (box.x0 + box.x1) / 2, Y: box.y1 - 0.4, Height: TextSmall, AlignX: Centre})
}

// arrow paints an arrowhead at a point that it comes to in a direction.
func (v *viewDrawing) arrow(x, y, dx, dy float64) {
	long := math.Hypot(dx, dy)
	dx, dy = dx/long*ArrowLength*0.7, dy/long*ArrowLength*0.7
	nx, ny := -dy*ArrowWidth/ArrowLength/2, dx*ArrowWidth/ArrowLength/2
	v.Fill(Black, x, y, x-dx+nx, y-dy+ny, x-dx-nx, y-dy-ny)
}

// across is a level dimension.
func (v *viewDrawing) across(x0, x1, y float64, text string) {
	v.Line(PenDimension, false, x0, y, x1, y)
	v.arrow(x0, y, -1, 0)
	v.arrow(x1, y, 1, 0)
	w := TextWidth(text, TextNormal, false)
	box := centred((x0+x1)/2, y-TextGap-TextNormal/2, w+0.6, TextNormal+0.6)
	v.labels.takeWords(box)
	v.labels.solid.takeLine([]float64{x0, y, x1, y}, 0.6, 0)
	v.Text(Text{S: text, X: (x0 + x1) / 2, Y: y - TextGap, Height: TextNormal, AlignX: Centre})
}

// upright is a dimension that stands; one too short for its arrows has them
// outside.
func (v *viewDrawing) upright(x, y0, y1 float64, text string) {
	low, high := max(y0, y1), min(y0, y1)
	if low-high >= 2.2*ArrowLength {
		v.Line(PenDimension, false, x, low, x, high)
		v.arrow(x, low, 0, 1)
		v.arrow(x, high, 0, -1)
	} else {
		v.Line(PenDimension, false, x, low+ArrowLength, x, high-ArrowLength)
		v.arrow(x, low, 0, -1)
		v.arrow(x, high, 0, 1)
	}
	v.labels.solid.takeLine([]float64{x, low + ArrowLength, x, high - ArrowLength}, 0.6, 0)
	w := TextWidth(text, TextNormal, false) + 0.6
	const h = TextNormal + 0.6
	middle := (low + high) / 2
	places := []rect{centred(x+TextGap+w/2, middle, w, h), centred(x-TextGap-w/2, middle, w, h), centred(x, low+TextGap+h/2, w, h), centred(x, low+ArrowLength+h/2+0.4, w, h), centred(x, high-ArrowLength-h/2-0.4, w, h)}
	box := places[0]
	for _, p := range places {
		if v.labels.fits(p) {
			box = p
			break
		}
	}
	v.labels.takeWords(box)
	v.Text(Text{S: text, X: (box.x0 + box.x1) / 2, Y: box.y1 - 0.3, Height: TextNormal, AlignX: Centre})
}
