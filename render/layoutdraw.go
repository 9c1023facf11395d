package render

import (
	"math"

	"tubewright/route"
)

// layoutDrawing draws a picture: lines, then symbols, then what is written.
type layoutDrawing struct {
	*Sheet
	job   *route.Job
	facts []runFacts
	p     *layoutPicture
	l     *labeller
	used  *legendUse

	symbolMM float64
	nameMM   float64 // height of names
	lineMM   float64
	seated   []seatedSymbol // of each place of the picture
	missing  missingLabels
}

// drawPicture draws the picture in its area and returns what found no room. It
// starts with what an earlier drawing learned of the labels' order, and adds.
func (d *diagram) drawPicture(p *layoutPicture, area rect, order *labelOrder) missingLabels {
	g := &layoutDrawing{Sheet: d.Sheet, job: d.job, facts: d.runs, p: p, l: newLabeller(area), used: &d.used}
	g.chooseSizes(d.small)
	d.Group("layout", "layout of the runs")
	g.drawAxes()
	g.drawTies()
	g.drawRuns()
	g.drawPlaces()
	g.drawSets()
	g.label(order)
	d.End()
	return g.missing
}

// chooseSizes draws smaller where there is much to draw.
func (g *layoutDrawing) chooseSizes(small bool) {
	g.symbolMM, g.nameMM, g.lineMM = 7.2, TextNormal, W70
	switch n := len(g.p.runs); {
	case n > 80:
		g.symbolMM, g.nameMM, g.lineMM = 4, TextSmall, W50
	case n > 30 || small:
		g.symbolMM, g.nameMM = 5.2, TextSmall
	}
}

func (g *layoutDrawing) drawTies() {
	for _, t := range g.p.ties {
		g.used.tie = true
		g.Line(PenHidden, false, t...)
		g.l.lines.takeLine(t, 0.6, 0)
	}
}

// drawRuns draws conduit, then trunking over it, so that a conduit comes out
// of the trunking's side, then whatever leaves the wall and passes in front.
func (g *layoutDrawing) drawRuns() {
	layer := func(r *pictureRun) int {
		switch {
		case r.leaves:
			return 2
		case r.halfMM > 0:
			return 1
		}
		return 0
	}
	for k := range 3 {
		for i := range g.p.runs {
			if r := &g.p.runs[i]; layer(r) == k {
				g.Group("run", oneLine("run "+g.job.Runs[r.run].Name))
				g.drawRun(r)
				g.End()
				g.l.lines.takeLine(g.centreLine(r), 2*g.halfWide(r)+0.6, i+1)
				if r.halfMM > 0 { // the sides reach past the middle line at sharp corners
					g.l.lines.takeLine(beside(r.xy, r.halfMM), W70, i+1)
					g.l.lines.takeLine(beside(r.xy, -r.halfMM), W70, i+1)
				}
			}
		}
	}
}

// halfWide is half of what a run's ink covers across its line.
func (g *layoutDrawing) halfWide(r *pictureRun) float64 {
	switch fails := g.facts[r.run].grave(); {
	case r.halfMM > 0 && fails:
		return r.halfMM + penFailTrunking.WidthMM/2
	case r.halfMM > 0:
		return r.halfMM + W35/2
	case fails:
		return (g.lineMM + failWider) / 2
	}
	return g.lineMM / 2
}

func (g *layoutDrawing) drawRun(r *pictureRun) {
	fails := g.facts[r.run].grave()
	xy := g.centreLine(r)
	if r.leaves {
		if between := inner(xy, 2.5); between != nil {
			g.Line(Pen{2*r.halfMM + g.lineMM + 2, White, Solid}, false, between...)
		}
	}
	if r.halfMM > 0 {
		g.used.trunking = true
		g.used.failTrunking = g.used.failTrunking || fails
		drawTrunking(g, xy, r.halfMM, fails)
		return
	}
	g.used.conduit = true
	g.used.failConduit = g.used.failConduit || fails
	drawConduit(g, xy, g.lineMM, fails)
	if g.job.Runs[r.run].From < 0 {
		n := len(xy)
		g.endTick(xy[0], xy[1])
		g.endTick(xy[n-2], xy[n-1])
	}
}

// endTick ends a run that stands alone.
func (g *layoutDrawing) endTick(x, y float64) {
	const half = 1.6
	g.Line(PenSymbol, false, x, y-half, x, y+half)
	g.l.lines.take(centred(x, y, 0.8, 2*half+0.4))
}

// inner is a polyline without the given length at either end, nil when nothing
// is left of it.
func inner(xy []float64, cutMM float64) []float64 {
	trim := func(xy []float64) []float64 {
		left := cutMM
		for len(xy) >= 4 {
			d := math.Hypot(xy[2]-xy[0], xy[3]-xy[1])
			if d > left {
				t := left / d
				return append([]float64{xy[0] + t*(xy[2]-xy[0]), xy[1] + t*(xy[3]-xy[1])}, xy[2:]...)
			}
			left -= d
			xy = xy[2:]
		}
		return nil
	}
	xy = turnedRound(trim(turnedRound(trim(xy))))
	if len(xy) < 4 {
		return nil
	}
	return xy
}

func turnedRound(xy []float64) []float64 {
	out := make([]float64, 0, len(xy))
	for i := len(xy) - 2; i >= 0; i -= 2 {
		out = append(out, xy[i], xy[i+1])
	}
	return out
}

// A failing conduit is that much wider; a failing trunking has heavy sides.
const failWider = 1.0

var penFailTrunking = Pen{W70 + W25, Red, Solid}

// drawConduit is one thick line; where a check fails, a heavy double one.
func drawConduit(c Canvas, xy []float64, lineMM float64, fails bool) {
	if !fails {
		c.Line(Pen{lineMM, Black, Solid}, false, xy...)
		return
	}
	c.Line(Pen{lineMM + failWider, Red, Solid}, false, xy...)
	c.Line(Pen{lineMM - 0.2, White, Solid}, false, xy...)
}

// drawTrunking is two parallel lines; where a check fails, heavy ones.
func drawTrunking(c Canvas, xy []float64, half float64, fails bool) {
	pen := Pen{W35, Black, Solid}
	if fails {
		pen = penFailTrunking
	}
	a, b := beside(xy, half), beside(xy, -half)
	outline := append([]float64(nil), a...)
	for i := len(b) - 2; i >= 0; i -= 2 {
		outline = append(outline, b[i], b[i+1])
	}
	c.Fill(White, outline...)
	c.Line(pen, false, a...)
	c.Line(pen, false, b...)
	n := len(a)
	c.Line(Pen{W18, pen.Ink, Solid}, false, a[0], a[1], b[0], b[1])
	c.Line(Pen{W18, pen.Ink, Solid}, false, a[n-2], a[n-1], b[n-2], b[n-1])
}

// beside is the polyline at a distance, mitred at its corners.
func beside(xy []float64, d float64) []float64 {
	n := len(xy)/2 - 1
	normal := func(i int) (x, y float64) {
		dx, dy := xy[2*i+2]-xy[2*i], xy[2*i+3]-xy[2*i+1]
		h := math.Hypot(dx, dy)
		if h == 0 {
			return 0, 0
		}
		return -dy / h, dx / h
	}
	out := make([]float64, 0, len(xy))
	for i := 0; i <= n; i++ {
		ax, ay := normal(max(0, i-1))
		bx, by := normal(min(n-1, i))
		sx, sy := ax+bx, ay+by
		k := 2 / max(0.5, sx*sx+sy*sy)
		out = append(out, xy[2*i]+d*k*sx, xy[2*i+1]+d*k*sy)
	}
	return out
}

// centreLine is a run as it is drawn: the corners of a conduit are rounded,
// for they are bends.
func (g *layoutDrawing) centreLine(r *pictureRun) []float64 {
	if !g.p.breaks || r.halfMM > 0 {
		return r.xy
	}
	return rounded(r.xy)
}

func rounded(xy []float64) []float64 {
	const radius, steps = 2.2, 5
	out := []float64{xy[0], xy[1]}
	for i := 2; i+3 < len(xy); i += 2 {
		ax, ay, x, y, bx, by := xy[i-2], xy[i-1], xy[i], xy[i+1], xy[i+2], xy[i+3]
		da, db := math.Hypot(ax-x, ay-y), math.Hypot(bx-x, by-y)
		if da == 0 || db == 0 {
			continue
		}
		r := min(radius, 0.5*da, 0.5*db)
		px, py := x+(ax-x)/da*r, y+(ay-y)/da*r
		qx, qy := x+(bx-x)/db*r, y+(by-y)/db*r
		for k := range steps + 1 {
			t := float64(k) / steps
			u := 1 - t
			out = append(out, u*u*px+2*u*t*x+t*t*qx, u*u*py+2*u*t*y+t*t*qy)
		}
	}
	return append(out, xy[len(xy)-2], xy[len(xy)-1])
}
