package render

import "math"

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

func (l *labeller) clone() *labeller {
	return &labeller{l.area, l.solid.clone(), l.words.clone(), l.lines.clone()}
}

// From a run's ink to its tag, and to any other run at least, in millimetres.
const (
	tagGap    = 1.2
	tagOthers = 1.8
	tagRoomy  = 3.5 // that far from others, nobody doubts whose tag it is
)

// ownFirst keeps of the boxes beside a run's line those that are nearer to it
// than to any other run, those first that are well clear of others.
func (l *labeller) ownFirst(near []rect, xy []float64, owner int) []rect {
	var clear, close []rect
	for _, r := range near {
		own := r.distance(xy) + 0.2
		switch {
		case !l.lines.foreign(r.grown(max(tagRoomy, own)), owner):
			clear = append(clear, r)
		case !l.lines.foreign(r.grown(max(tagOthers, own)), owner):
			close = append(close, r)
		}
	}
	return append(clear, close...)
}

// distance is from a box to a polyline, 0 where it passes through.
func (r rect) distance(xy []float64) float64 {
	least := math.Inf(1)
	for i := 0; i+3 < len(xy); i += 2 {
		ax, ay, bx, by := xy[i], xy[i+1], xy[i+2], xy[i+3]
		if _, _, hit := r.cutSegment(ax, ay, bx, by); hit {
			return 0
		}
		for _, p := range [2][2]float64{{ax, ay}, {bx, by}} {
			least = min(least, math.Hypot(p[0]-min(r.x1, max(r.x0, p[0])), p[1]-min(r.y1, max(r.y0, p[1]))))
		}
		dx, dy := bx-ax, by-ay
		for _, c := range [4][2]float64{{r.x0, r.y0}, {r.x1, r.y0}, {r.x0, r.y1}, {r.x1, r.y1}} {
			t := 0.0
			if d := dx*dx + dy*dy; d > 0 {
				t = min(1, max(0, ((c[0]-ax)*dx+(c[1]-ay)*dy)/d))
			}
			least = min(least, math.Hypot(c[0]-ax-t*dx, c[1]-ay-t*dy))
		}
	}
	return least
}

// apartFirst puts those of the boxes beside a symbol first that are clear of
// everything but the symbol.
func (l *labeller) apartFirst(near []rect, owner int) []rect {
	var clear, close []rect
	for _, r := range near {
		if g := r.grown(1.2); l.solid.freeBut(g, owner) {
			clear = append(clear, r)
		} else {
			close = append(close, r)
		}
	}
	return append(clear, close...)
}

// labelled is a label to be placed: boxes near what it names, of one size; the
// point that a leader starts from; the run it names, 0 for none. A grave
// label's leader may cross symbols at the last.
type labelled struct {
	near       []rect
	wide, high float64
	x, y       float64
	owner      int
	grave      bool
}

// put takes the first box that is free. Failing that it looks in widening
// rings round the anchor for one that a leader reaches without crossing a
// label or a symbol, and other runs only where there is no way round them. The
// leader is returned, nil where the label lies beside its anchor.
func (l *labeller) put(t labelled) (box rect, leader []float64, ok bool) {
	for _, r := range t.near {
		if l.fits(r) {
			l.takeWords(r)
			return r, nil, true
		}
	}
	box, leader, ok = l.reach(&t, func(b rect) bool { return l.solid.free(b) && !l.lines.foreign(b, t.owner) })
	if !ok {
		box, leader, ok = l.reach(&t, l.solid.free)
	}
	if !ok && t.grave {
		box, leader, ok = l.reach(&t, l.words.free)
	}
	if ok {
		l.takeWords(box)
		l.solid.takeLine(leader, 0.4, 0)
		l.words.takeLine(leader, 0.4, 0)
	}
	return box, leader, ok
}

// reach finds the nearest box that a leader gets to through what is free.
func (l *labeller) reach(t *labelled, free func(rect) bool) (box rect, leader []float64, ok bool) {
	const rings, spokes, first, apart = 14, 24, 7.0, 4.0
	for ring := range rings {
		d := first + apart*float64(ring)
		for s := range spokes {
			sin, cos := math.Sincos(2*math.Pi*float64(s)/spokes - math.Pi/4)
			r := centred(t.x+cos*(d+t.wide/2), t.y+sin*(d+t.high/2), t.wide, t.high)
			if !l.fits(r) {
				continue
			}
			line := []float64{t.x, t.y, min(r.x1, max(r.x0, t.x)), min(r.y1, max(r.y0, t.y))}
			if everyBox(shortened(line, 4, 0.3), free) {
				return r, line, true
			}
		}
	}
	return rect{}, nil, false
}

// everyBox asks along a line of two points, in boxes as boxesAlong has them.
func everyBox(line []float64, free func(rect) bool) bool {
	if line == nil {
		return true
	}
	dx, dy := line[2]-line[0], line[3]-line[1]
	n := max(1, math.Ceil(min(math.Abs(dx), math.Abs(dy))/boxStep))
	for k := range int(n) {
		t0, t1 := float64(k)/n, float64(k+1)/n
		if !free(around(line[0]+dx*t0, line[1]+dy*t0, line[0]+dx*t1, line[1]+dy*t1).grown(0.2)) {
			return false
		}
	}
	return true
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
