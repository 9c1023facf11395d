package render

import (
	"fmt"
	"math"
)

// symbol is strokes in a grid from -1 to 1 both ways, y down; a wide one goes
// from -wide to wide across. At angle 0 a socket-outlet, a cable outlet and an
// equipment point hang from a run coming down from above.
type symbol struct {
	name, title string
	strokes     []stroke
	wide        float64 // 0 is 1
}

// halfWide is half of the symbol's width in halves of its size.
func (s *symbol) halfWide() float64 { return max(1, s.wide) }

// draw draws the symbol about x, y, within a square of sizeMM, turned clockwise
// by angle degrees; letters stay upright. Boxes and rings are white inside, so
// that a run drawn first ends at them.
func (s *symbol) draw(c Canvas, x, y, sizeMM, angle float64) {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	g := grid{c, x, y, sizeMM / 2, sin, cos, angle}
	c.Group("symbol", s.title)
	for _, stroke := range s.strokes {
		stroke(g)
	}
	c.End()
}

// symbolNamed finds a symbol of the table; a name that is not in it is our
// mistake.
func symbolNamed(name string) *symbol {
	for i := range symbols {
		if symbols[i].name == name {
			return &symbols[i]
		}
	}
	panic("no symbol " + name)
}

type stroke func(g grid)

// grid places a symbol's strokes on the sheet.
type grid struct {
	c        Canvas
	x, y     float64
	unitMM   float64
	sin, cos float64
	angleDeg float64
}

func (g grid) at(u, v float64) (x, y float64) {
	u, v = u*g.unitMM, v*g.unitMM
	return g.x + g.cos*u - g.sin*v, g.y + g.sin*u + g.cos*v
}

func (g grid) all(uv []float64) []float64 {
	xy := make([]float64, 0, len(uv))
	for i := 0; i < len(uv); i += 2 {
		x, y := g.at(uv[i], uv[i+1])
		xy = append(xy, x, y)
	}
	return xy
}

func line(uv ...float64) stroke {
	return func(g grid) { g.c.Line(PenSymbol, false, g.all(uv)...) }
}

// solid is a polygon filled with black.
func solid(uv ...float64) stroke {
	return func(g grid) { g.c.Fill(Black, g.all(uv)...) }
}

// box is a rectangle about the middle, white inside.
func box(halfWide, halfHigh float64) stroke {
	uv := []float64{-halfWide, -halfHigh, halfWide, -halfHigh, halfWide, halfHigh, -halfWide, halfHigh}
	return func(g grid) {
		g.c.Fill(White, g.all(uv)...)
		g.c.Line(PenSymbol, true, g.all(uv)...)
	}
}

// ring is a circle, white inside.
func ring(u, v, r float64) stroke {
	return func(g grid) {
		x, y := g.at(u, v)
		g.c.Disc(White, x, y, r*g.unitMM)
		g.c.Arc(PenSymbol, x, y, r*g.unitMM, 0, 360)
	}
}

func arc(u, v, r, from, to float64) stroke {
	return func(g grid) {
		x, y := g.at(u, v)
		g.c.Arc(PenSymbol, x, y, r*g.unitMM, from+g.angleDeg, to+g.angleDeg)
	}
}

func dot(u, v, r float64) stroke {
	return func(g grid) {
		x, y := g.at(u, v)
		g.c.Disc(Black, x, y, r*g.unitMM)
	}
}

func letter(s string, u, v, high float64) stroke {
	return func(g grid) {
		x, y := g.at(u, v)
		g.c.Text(Text{S: s, X: x, Y: y, Height: high * g.unitMM, AlignX: Centre, AlignY: Middle})
	}
}

// arm is the arm of a switch from a ring of radius r about u, v: a line at an
// angle in degrees with a tick at its end for each pole, on its clockwise side
// or, for a negative count, on the other.
func arm(u, v, r, reach, angleDeg float64, poles int) stroke {
	const tick, between = 0.32, 0.26
	return func(g grid) {
		sin, cos := math.Sincos(angleDeg * math.Pi / 180)
		line(u+r*cos, v+r*sin, u+reach*cos, v+reach*sin)(g)
		side := math.Copysign(tick, float64(poles))
		for i := range max(poles, -poles) {
			d := reach - between*float64(i)
			a, b := u+d*cos, v+d*sin
			line(a, b, a-side*sin, b+side*cos)(g)
		}
	}
}

// arrow is a line ending in a filled head.
func arrow(u0, v0, u1, v1 float64) stroke {
	const long, half = 0.42, 0.16
	d := math.Hypot(u1-u0, v1-v0)
	du, dv := (u1-u0)/d, (v1-v0)/d
	bu, bv := u1-long*du, v1-long*dv
	return func(g grid) {
		line(u0, v0, bu, bv)(g)
		solid(u1, v1, bu-half*dv, bv+half*du, bu+half*dv, bv-half*du)(g)
	}
}

// Conductors marks how many conductors a line at the given angle carries, as
// slanting strokes across it: one for each up to four, else one with the
// number beside it. Nothing is drawn for n < 1.
func Conductors(c Canvas, x, y, sizeMM, angle float64, n int) {
	if n < 1 {
		return
	}
	sin, cos := math.Sincos(angle * math.Pi / 180)
	g := grid{c, x, y, sizeMM / 2, sin, cos, angle}
	const apart, lean, half = 0.5, 0.25, 0.55
	count := n
	if n > 4 {
		count = 1
	}
	c.Group("conductors", fmt.Sprintf("%d conductors", n))
	for i := range count {
		u := apart * (float64(i) - float64(count-1)/2)
		g.c.Line(PenEdge, false, g.all([]float64{u - lean, half, u + lean, -half})...)
	}
	if n > 4 {
		tx, ty := g.at(lean+0.2, -half)
		c.Text(Text{S: fmt.Sprint(n), X: tx, Y: ty, Height: 0.7 * g.unitMM, AlignY: Middle})
	}
	c.End()
}
