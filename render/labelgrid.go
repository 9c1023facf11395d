package render

import (
	"math"
	"slices"
)

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

// foreign reports whether a run other than the owner took part of it.
func (o *occupied) foreign(r rect, owner int) bool {
	found := false
	o.eachCell(r, func(k [2]int) bool {
		for _, t := range o.cells[k] {
			if t.owner > 0 && t.owner != owner && r.overlaps(t.rect) {
				found = true
				return false
			}
		}
		return true
	})
	return found
}

func (o *occupied) clone() *occupied {
	c := newOccupied()
	for k, boxes := range o.cells {
		c.cells[k] = slices.Clip(boxes)
	}
	return c
}

// takeLine takes a line of the given width, in boxes short enough to hug it.
func (o *occupied) takeLine(xy []float64, widthMM float64, owner int) {
	for _, b := range boxesAlong(xy, widthMM/2) {
		o.takeFor(b, owner)
	}
}

// boxStep is how far the boxes of a slanting piece reach, in millimetres.
const boxStep = 2.0

// boxesAlong covers a polyline with upright boxes: one for an upright or level
// piece, a chain of small ones for a slanting piece.
func boxesAlong(xy []float64, half float64) []rect {
	var out []rect
	for i := 0; i+3 < len(xy); i += 2 {
		ax, ay, bx, by := xy[i], xy[i+1], xy[i+2], xy[i+3]
		n := int(math.Ceil(min(math.Abs(bx-ax), math.Abs(by-ay)) / boxStep))
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
