package render

import (
	"fmt"
	"math"
)

// Clashes lists what a reader would stumble over: text that runs off the
// sheet, and pairs of texts that lie on each other, in the order drawn. Tests
// call it on every drawing.
func (s *Sheet) Clashes() []string {
	var found []string
	var texts []placedText
	sheet := rect{0, 0, s.Width, s.Height}
	for _, m := range s.List {
		t, ok := m.(textMark)
		if !ok {
			continue
		}
		p := place(t.Text)
		if !sheet.holdsAll(p.corners[:]) {
			found = append(found, fmt.Sprintf("%q runs off the sheet", t.S))
		}
		for _, q := range texts {
			if p.over(q) {
				found = append(found, fmt.Sprintf("%q lies on %q", t.S, q.s))
			}
		}
		texts = append(texts, p)
	}
	return found
}

// placedText is the rectangle from base line to cap height that a text covers.
type placedText struct {
	s       string
	corners [8]float64
	along   [2]float64 // unit vectors of its sides
	down    [2]float64
}

func place(t Text) placedText {
	sin, cos := math.Sincos(t.Angle * math.Pi / 180)
	p := placedText{s: t.S, along: [2]float64{cos, sin}, down: [2]float64{-sin, cos}}
	u0, v1 := t.start()
	u1, v0 := u0+t.Width(), v1-t.Height
	for i, c := range [4][2]float64{{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}} {
		p.corners[2*i] = t.X + cos*c[0] - sin*c[1]
		p.corners[2*i+1] = t.Y + sin*c[0] + cos*c[1]
	}
	return p
}

// over says whether two rectangles overlap: no side of either separates them.
func (p placedText) over(q placedText) bool {
	const touch = 0.01 // mm
	for _, axis := range [][2]float64{p.along, p.down, q.along, q.down} {
		a0, a1 := p.span(axis)
		b0, b1 := q.span(axis)
		if a1 < b0+touch || b1 < a0+touch {
			return false
		}
	}
	return true
}

func (p placedText) span(axis [2]float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := 0; i < 8; i += 2 {
		v := p.corners[i]*axis[0] + p.corners[i+1]*axis[1]
		lo, hi = min(lo, v), max(hi, v)
	}
	return lo, hi
}
