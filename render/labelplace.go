package render

import "math"

// occupied remembers which parts of a drawing are taken, in a grid of cells so
// that asking costs the same however full the drawing is.
type occupied struct {
	cells map[[2]int][]takenBox
}

// takenBox is a part that is taken, and by which run: nobody where it is 0.
type takenBox struct {
	rect
	owner int
}

const occupiedCellMM = 8.0

func newOccupied() *occupied { return &occupied{cells: map[[2]int][]takenBox{}} }

func (o *occupied) eachCell(r rect, visit func(key [2]int) bool) {
	low := func(v float64) int { return int(math.Floor(v / occupiedCellMM)) }
	for x := low(r.x0); x <= low(r.x1); x++ {
		for y := low(r.y0); y <= low(r.y1); y++ {
			if !visit([2]int{x, y}) {
				return
			}
		}
	}
}

func (o *occupied) take(r rect) { o.takeFor(r, 0) }

func (o *occupied) takeFor(r rect, owner int) {
	o.eachCell(r, func(k [2]int) bool {
		o.cells[k] = append(o.cells[k], takenBox{r, owner})
		return true
	})
}

func (o *occupied) free(r rect) bool { return o.freeBut(r, -1) }

// freeBut is free where what one owner took does not count.
func (o *occupied) freeBut(r rect, owner int) bool {
	free := true
	o.eachCell(r, func(k [2]int) bool {
		for _, t := range o.cells[k] {
			if t.owner != owner && r.overlaps(t.rect) {
				free = false
				return false
			}
		}
		return true
	})
	return free
}

// takeLine takes a line of the given width, in boxes short enough to hug it.
func (o *occupied) takeLine(xy []float64, widthMM float64, owner int) {
	for _, b := range boxesAlong(xy, widthMM/2) {
		o.takeFor(b, owner)
	}
}

func (o *occupied) freeLine(xy []float64) bool {
	for _, b := range boxesAlong(xy, 0.2) {
		if !o.free(b) {
			return false
		}
	}
	return true
}

// boxesAlong covers a polyline with upright boxes: one for an upright or level
// piece, a chain of small ones for a slanting piece.
func boxesAlong(xy []float64, half float64) []rect {
	const step = 2.0
	var out []rect
	for i := 0; i+3 < len(xy); i += 2 {
		ax, ay, bx, by := xy[i], xy[i+1], xy[i+2], xy[i+3]
		n := int(math.Ceil(min(math.Abs(bx-ax), math.Abs(by-ay)) / step))
		for k := range max(1, n) {
			t0, t1 := float64(k)/float64(max(1, n)), float64(k+1)/float64(max(1, n))
			out = append(out, around(ax+(bx-ax)*t0, ay+(by-ay)*t0, ax+(bx-ax)*t1, ay+(by-ay)*t1).grown(half))
		}
	}
	return out
}

func around(x0, y0, x1, y1 float64) rect {
	return rect{min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)}
}

func centred(x, y, w, h float64) rect { return rect{x - w/2, y - h/2, x + w/2, y + h/2} }

func (r rect) overlaps(q rect) bool {
	return r.x0 < q.x1 && q.x0 < r.x1 && r.y0 < q.y1 && q.y0 < r.y1
}

func (r rect) grown(d float64) rect { return rect{r.x0 - d, r.y0 - d, r.x1 + d, r.y1 + d} }
func (r rect) wide() float64        { return r.x1 - r.x0 }
func (r rect) high() float64        { return r.y1 - r.y0 }
func (r rect) within(q rect) bool {
	return r.x0 >= q.x0 && r.y0 >= q.y0 && r.x1 <= q.x1 && r.y1 <= q.y1
}

// labeller finds places for labels: clear of each other, of symbols and of
// lines, and inside the area.
type labeller struct {
	area  rect
	solid *occupied // text, symbols, strokes, leaders: nothing may lie on them
	words *occupied // of these, text and leaders
	lines *occupied // runs: leaders may cross them, text may not
}

func newLabeller(area rect) *labeller {
	return &labeller{area, newOccupied(), newOccupied(), newOccupied()}
}

func (l *labeller) fits(r rect) bool {
	return r.within(l.area) && l.solid.free(r) && l.lines.free(r)
}

// takeWords takes the room of a text.
func (l *labeller) takeWords(r rect) {
	l.solid.take(r)
	l.words.take(r)
}

// put takes the first box that is free. Failing that it looks in widening
// rings round the anchor for one that a leader reaches without crossing a
// label or a symbol; a grave label's leader may cross symbols at the last. The
// leader is returned, nil where the label lies beside its anchor.
func (l *labeller) put(near []rect, anchorX, anchorY float64, grave bool) (box rect, leader []float64, ok bool) {
	for _, r := range near {
		if l.fits(r) {
			l.takeWords(r)
			return r, nil, true
		}
	}
	if len(near) == 0 {
		return rect{}, nil, false
	}
	box, leader, ok = l.reach(near[0].wide(), near[0].high(), anchorX, anchorY, l.solid)
	if !ok && grave {
		box, leader, ok = l.reach(near[0].wide(), near[0].high(), anchorX, anchorY, l.words)
	}
	if ok {
		l.takeWords(box)
		l.solid.takeLine(leader, 0.4, 0)
		l.words.takeLine(leader, 0.4, 0)
	}
	return box, leader, ok
}

// reach finds the nearest box that a leader gets to through what is not taken.
func (l *labeller) reach(w, h, anchorX, anchorY float64, through *occupied) (box rect, leader []float64, ok bool) {
	const rings, spokes, first, apart = 14, 24, 7.0, 4.0
	for ring := range rings {
		d := first + apart*float64(ring)
		for s := range spokes {
			sin, cos := math.Sincos(2*math.Pi*float64(s)/spokes - math.Pi/4)
			r := centred(anchorX+cos*(d+w/2), anchorY+sin*(d+h/2), w, h)
			if !l.fits(r) {
				continue
			}
			line := []float64{anchorX, anchorY, min(r.x1, max(r.x0, anchorX)), min(r.y1, max(r.y0, anchorY))}
			if through.freeLine(shortened(line, 4, 0.3)) {
				return r, line, true
			}
		}
	}
	return rect{}, nil, false
}

// shortened takes a piece off each end of a line of two points.
func shortened(xy []float64, start, end float64) []float64 {
	d := math.Hypot(xy[2]-xy[0], xy[3]-xy[1])
	if d <= start+end {
		return nil
	}
	ux, uy := (xy[2]-xy[0])/d, (xy[3]-xy[1])/d
	return []float64{xy[0] + ux*start, xy[1] + uy*start, xy[2] - ux*end, xy[3] - uy*end}
}
