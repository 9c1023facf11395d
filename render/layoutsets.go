package render

import (
	"math"

	"tubewright/route"
)

// setKind is which mark a set has.
type setKind uint8

const (
	plainSet  setKind = iota // the line shifts to one side
	doubleSet                // away, along, and back
	bubbleSet                // over and back in a bump
	setKinds
)

func kindOfSet(l route.Leg) setKind {
	switch {
	case l.Bubble:
		return bubbleSet
	case l.Double:
		return doubleSet
	}
	return plainSet
}

// setNames are what the legend says of the marks.
var setNames = [setKinds]string{"set in the tube", "double set: away and back", "bubble set: over an obstacle"}

// setShapes are the marks in millimetres along the line and across it.
var setShapes = [setKinds][]float64{
	plainSet:  {-1.6, -0.9, -0.5, -0.9, 0.5, 0.9, 1.6, 0.9},
	doubleSet: {-2.6, 0, -1.9, 0, -1.1, -1.7, 1.1, -1.7, 1.9, 0, 2.6, 0},
	bubbleSet: {-2.6, 0, -1.6, 0, -1.3, -0.3, -0.5, -1.55, 0, -1.75, 0.5, -1.55, 1.3, -0.3, 1.6, 0, 2.6, 0},
}

// drawSets marks each set by its shape across the line.
func (g *layoutDrawing) drawSets() {
	for i := range g.p.runs {
		r := &g.p.runs[i]
		for k := range r.sets {
			s := &r.sets[k]
			g.used.sets[s.kind] = true
			g.pullInto(r, s)
			sin, cos := math.Sincos(s.angleDeg * math.Pi / 180)
			shape := setShapes[s.kind]
			long := -shape[0]
			g.Fill(White, boxAlong(s.x, s.y, sin, cos, long-0.5, r.halfMM+0.9)...)
			g.Line(Pen{g.lineMM, Black, Solid}, false, laid(shape, s.x, s.y, sin, cos)...)
			alongX, alongY := math.Abs(cos), math.Abs(sin)
			g.l.solid.take(centred(s.x, s.y, 4.4+(2*long-3.2)*alongX, 4.4+(2*long-3.2)*alongY))
		}
	}
}

// laid is a shape about a point, its own along lying that way.
func laid(shape []float64, x, y, sin, cos float64) []float64 {
	out := make([]float64, len(shape))
	for i := 0; i < len(shape); i += 2 {
		u, v := shape[i], shape[i+1]
		out[i], out[i+1] = x+cos*u-sin*v, y+sin*u+cos*v
	}
	return out
}

func boxAlong(x, y, sin, cos, long, high float64) []float64 {
	xy := make([]float64, 0, 8)
	for _, c := range [4][2]float64{{-long, -high}, {long, -high}, {long, high}, {-long, high}} {
		xy = append(xy, x+cos*c[0]-sin*c[1], y+sin*c[0]+cos*c[1])
	}
	return xy
}

// pullInto moves a set's mark onto its line, clear of the symbol at its end.
func (g *layoutDrawing) pullInto(r *pictureRun, s *setMark) {
	best := math.Inf(1)
	var x, y, angle float64
	for i := 0; i+3 < len(r.xy); i += 2 {
		ax, ay, bx, by := r.xy[i], r.xy[i+1], r.xy[i+2], r.xy[i+3]
		d := math.Hypot(bx-ax, by-ay)
		if d < 3 {
			continue
		}
		ux, uy := (bx-ax)/d, (by-ay)/d
		clear := min(g.symbolMM/2+3, d/2)
		t := max(clear, min(d-clear, (s.x-ax)*ux+(s.y-ay)*uy))
		if away := math.Hypot(ax+t*ux-s.x, ay+t*uy-s.y); away < best {
			best, x, y, angle = away, ax+t*ux, ay+t*uy, math.Atan2(uy, ux)*180/math.Pi
		}
	}
	if !math.IsInf(best, 1) {
		s.x, s.y, s.angleDeg = x, y, angle
	}
}
