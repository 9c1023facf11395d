package render

import (
	"math"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

type fixedPoint = fixed.Point26_6

const (
	moveTo = sfnt.SegmentOpMoveTo
	lineTo = sfnt.SegmentOpLineTo
	quadTo = sfnt.SegmentOpQuadTo
	cubeTo = sfnt.SegmentOpCubeTo
)

// shape is a mark ready to paint, in pixels. It is text when it has glyphs, a
// stroke when it has a width, else a painted polygon.
type shape struct {
	ink        Ink
	minY, maxY float64
	xy         []float64
	widthPX    float64
	dashPX     []float64
	closed     bool
	butt       bool // ends cut square: dashes, and circles, whose ends meet
	glyphs     []placedGlyph
	cos, sin   float64 // of the text's angle, times pixels a font unit
}

type placedGlyph struct {
	x, y     float64
	segments sfnt.Segments
}

// plotter is the Canvas that turns marks into shapes: everything snapped,
// flattened and cut to the sheet before the rasteriser, which cannot bear
// coordinates far outside, sees it.
type plotter struct {
	pxPerMM float64
	window  rect
	shapes  []shape
}

// overhangPX keeps the ends of lines cut at the edge out of the picture.
const overhangPX = 64

func (p *plotter) keep(w, h float64) {
	p.window = rect{-overhangPX, -overhangPX, w + overhangPX, h + overhangPX}
}

func (p *plotter) Group(string, string) {}
func (p *plotter) End()                 {}

func (p *plotter) Line(pen Pen, closed bool, xy ...float64) {
	px := p.scaled(xy)
	width := widthPX(pen, p.pxPerMM)
	snap(px, closed, width)
	p.stroke(pen, shape{widthPX: width, closed: closed, xy: px})
}

func (p *plotter) Arc(pen Pen, cx, cy, r, from, to float64) {
	full := math.Abs(to-from) >= 360
	if full {
		to = from + 360
	}
	xy := arcPoints(cx*p.pxPerMM, cy*p.pxPerMM, r*p.pxPerMM, from, to)
	if full {
		xy = xy[:len(xy)-2]
	}
	p.stroke(pen, shape{widthPX: widthPX(pen, p.pxPerMM), closed: full, butt: full, xy: xy})
}

func (p *plotter) Fill(c Ink, xy ...float64) { p.fill(c, p.scaled(xy)) }

func (p *plotter) Disc(c Ink, cx, cy, r float64) {
	p.fill(c, arcPoints(cx*p.pxPerMM, cy*p.pxPerMM, r*p.pxPerMM, 0, 360))
}

func (p *plotter) Text(t Text) {
	f := faceOf(t.Bold)
	unit := t.Height / f.cap * p.pxPerMM
	sin, cos := math.Sincos(t.Angle * math.Pi / 180)
	sh := shape{ink: t.Ink, cos: cos * unit, sin: sin * unit,
		minY: math.Inf(1), maxY: math.Inf(-1)}
	along, down := t.start()
	x := (t.X + cos*along - sin*down) * p.pxPerMM
	y := (t.Y + sin*along + cos*down) * p.pxPerMM
	em := f.units * unit
	for _, r := range t.S {
		g := f.glyph(r)
		if p.window.near(x, y, 2*em) && len(g.segments) > 0 {
			sh.glyphs = append(sh.glyphs, placedGlyph{x, y, g.segments})
			sh.minY, sh.maxY = min(sh.minY, y-2*em), max(sh.maxY, y+2*em)
		}
		x += sh.cos * g.advance
		y += sh.sin * g.advance
	}
	if sh.glyphs != nil {
		p.shapes = append(p.shapes, sh)
	}
}

// start returns where the base line begins, in millimetres along and below
// the text's own X, Y.
func (t Text) start() (along, down float64) {
	switch t.AlignX {
	case Centre:
		along = -t.Width() / 2
	case Right:
		along = -t.Width()
	}
	switch t.AlignY {
	case Middle:
		down = t.Height / 2
	case Top:
		down = t.Height
	}
	return along, down
}

func (p *plotter) scaled(mm []float64) []float64 {
	px := make([]float64, len(mm))
	for i, v := range mm {
		px[i] = v * p.pxPerMM
	}
	return px
}

// stroke keeps the parts of a line inside the window.
func (p *plotter) stroke(pen Pen, sh shape) {
	sh.ink = pen.Ink
	for _, d := range pen.Pattern() {
		sh.dashPX = append(sh.dashPX, d*p.pxPerMM)
	}
	sh.butt = sh.butt || sh.dashPX != nil
	whole := sh.xy
	for _, part := range p.window.cutLine(whole, sh.closed) {
		lo, hi := rangeY(part)
		sh.xy, sh.minY, sh.maxY = part, lo-sh.widthPX, hi+sh.widthPX
		sh.closed = sh.closed && len(part) == len(whole)
		p.shapes = append(p.shapes, sh)
	}
}

func (p *plotter) fill(c Ink, xy []float64) {
	if xy = p.window.cutPolygon(xy); len(xy) < 6 {
		return
	}
	lo, hi := rangeY(xy)
	p.shapes = append(p.shapes, shape{ink: c, xy: xy, minY: lo, maxY: hi})
}

// widthPX rounds to whole pixels, so that equal pens look equal everywhere,
// and to one at the least.
func widthPX(pen Pen, pxPerMM float64) float64 {
	return max(1, math.Round(pen.WidthMM*pxPerMM))
}

// snap moves upright and level segments so that their edges fall between
// pixels: sharp, and the same darkness wherever they lie.
func snap(xy []float64, closed bool, width float64) {
	const level = 1e-6
	offset := math.Mod(width, 2) / 2
	n := len(xy) / 2
	last := n - 1
	if closed {
		last = n
	}
	for i := range last {
		a, b := 2*i, 2*((i+1)%n)
		for axis := range 2 {
			if math.Abs(xy[a+axis]-xy[b+axis]) < level {
				v := math.Round(xy[a+axis]-offset) + offset
				xy[a+axis], xy[b+axis] = v, v
			}
		}
	}
}

// flatPX is how far a chord may lie inside its arc.
const flatPX = 0.05

// arcPoints returns the arc as chords, angles in degrees.
func arcPoints(cx, cy, r, from, to float64) []float64 {
	step := 2 * math.Acos(max(0, 1-flatPX/max(r, flatPX)))
	sweep := (to - from) * math.Pi / 180
	n := int(min(20000, math.Ceil(math.Abs(sweep)/step)))
	n = max(n, 8)
	xy := make([]float64, 0, 2*n+2)
	for i := range n + 1 {
		sin, cos := math.Sincos(from*math.Pi/180 + sweep*float64(i)/float64(n))
		xy = append(xy, cx+r*cos, cy+r*sin)
	}
	return xy
}

func rangeY(xy []float64) (lo, hi float64) {
	lo, hi = xy[1], xy[1]
	for i := 3; i < len(xy); i += 2 {
		lo, hi = min(lo, xy[i]), max(hi, xy[i])
	}
	return lo, hi
}
