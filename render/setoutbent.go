package render

import (
	"math"
	"slices"
)

// xy is a point of a bent tube in its plane, in mm: x along the tube where it
// starts, y the way that its first bend turns.
type xy struct{ x, y float64 }

func (p xy) step(dir, long float64) xy {
	sin, cos := math.Sincos(dir)
	return xy{p.x + cos*long, p.y + sin*long}
}

func reversed(list []xy) []xy {
	list = slices.Clone(list)
	slices.Reverse(list)
	return list
}

// bentArc is one bend: from a point in a direction, to the left where its angle
// is above nought.
type bentArc struct {
	from   xy
	dir    float64 // radians
	angle  float64 // radians
	radius float64
}

// at is a point of the bend, a share along it and so far off the centre line,
// towards the throat where above nought.
func (b bentArc) at(share, off float64) xy {
	side := math.Copysign(math.Pi/2, b.angle)
	centre := b.from.step(b.dir+side, b.radius)
	return centre.step(b.dir-side+share*b.angle, b.radius-off)
}

// along is points of a line beside the bend.
func (b bentArc) along(off float64) []xy {
	n := int(math.Ceil(math.Abs(b.angle)*180/math.Pi/5)) + 1
	out := make([]xy, n+1)
	for i := range out {
		out[i] = b.at(float64(i)/float64(n), off)
	}
	return out
}

// bentShape is a view's tube: straights, cut off where they are long, and bends.
type bentShape struct {
	bends []bentArc
	ends  [2]xy
	dirs  [2]float64
	cut   [2]bool
	box   rect // with the tube's width, y upwards
}

// leadMM is how much of a long straight a view shows: enough to read it as one.
func leadMM(v *bendView) float64 {
	if v.marks[0].Set >= 0 {
		return max(1.1*v.set.ODMM, 0.5*v.set.RadiusMM)
	}
	return max(1.1*v.set.ODMM, 0.7*v.set.RadiusMM)
}

// bend lays the bends of a view out in their plane.
func bend(v *bendView) bentShape {
	s := v.set
	p := &s.Pieces[v.piece]
	all := s.Marks(v.piece)
	before, after := 0.0, p.Long()
	for _, m := range all {
		if m.Number == v.marks[0].Number-1 {
			before = m.End
		}
		if m.Number == v.marks[len(v.marks)-1].Number+1 {
			after = m.Start
		}
	}
	var shape bentShape
	lead := min(leadMM(v), v.marks[0].Start-before)
	shape.cut[0] = lead < v.marks[0].Start-before || before > 0
	at, dir, side, pos := xy{-lead, 0}, 0.0, 1.0, v.marks[0].Start-lead
	shape.ends[0] = at
	for i, m := range v.marks {
		if i > 0 && m.Turn == 180 {
			side = -side
		}
		at = at.step(dir, m.Start-pos)
		b := bentArc{at, dir, side * float64(m.Angle) * math.Pi / 180, s.RadiusMM}
		shape.bends = append(shape.bends, b)
		at, dir, pos = b.at(1, 0), dir+b.angle, m.End
	}
	tail := min(leadMM(v), after-pos)
	shape.cut[1] = tail < after-pos || after < p.Long()
	shape.ends[1], shape.dirs[1] = at.step(dir, tail), dir
	shape.box = rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, off := range []float64{-s.ODMM / 2, s.ODMM / 2} {
		for _, q := range shape.along(off) {
			shape.box = rect{min(shape.box.x0, q.x), min(shape.box.y0, q.y), max(shape.box.x1, q.x), max(shape.box.y1, q.y)}
		}
	}
	return shape
}

func (b *bentShape) first() xy { return b.ends[0] }
func (b *bentShape) last() xy  { return b.ends[1] }

// along is the line beside the whole shape, off to the side that the tube's
// first direction has on its left.
func (b *bentShape) along(off float64) []xy {
	out := []xy{b.ends[0].step(b.dirs[0]+math.Pi/2, off)}
	for _, a := range b.bends {
		out = append(out, a.along(math.Copysign(1, a.angle)*off)...)
	}
	return append(out, b.ends[1].step(b.dirs[1]+math.Pi/2, off))
}
