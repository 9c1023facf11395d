package render

import (
	"fmt"
	"math"
)

const strokeSizeMM = 6.0 // numerals of 2.1 mm

// strokes marks on a run how many cables it holds, where there is room on it.
func (g *layoutDrawing) strokes(i int) bool {
	r := &g.p.runs[i]
	n := coreCount(g.job.Cores(r.run))
	if n == 0 {
		return false
	}
	for _, s := range stretches(r.xy) {
		if s.long < 5 {
			continue
		}
		angle := math.Atan2(s.by-s.ay, s.bx-s.ax) * 180 / math.Pi
		if angle > 90.5 {
			angle -= 180
		} else if angle <= -89.5 {
			angle += 180
		}
		for _, t := range alongStretch {
			if x, y := s.at(t); min(t, 1-t)*s.long >= 2.6 && g.strokesAt(i, n, x, y, angle) {
				return true
			}
		}
	}
	return false
}

// strokesAt marks a run's number of cables at a point of it, if there is room.
func (g *layoutDrawing) strokesAt(i, n int, x, y, angle float64) bool {
	r := &g.p.runs[i]
	if n > 4 { // the numeral stands clear of the run's own line
		sin, cos := math.Sincos(angle * math.Pi / 180)
		aside := g.halfWide(r) - W35
		x, y = x+sin*aside, y-cos*aside
	}
	box, numeral := strokeBoxes(x, y, strokeSizeMM, angle, n)
	if !g.strokesFit(box, i+1) || n > 4 && !(g.l.fits(numeral.grown(-0.1)) && g.l.words.free(numeral.grown(0.5))) {
		return false
	}
	g.used.strokes = true
	g.Group("count", g.countTitle(r.run, n))
	Conductors(g, x, y, strokeSizeMM, angle, n)
	g.End()
	g.l.solid.take(box)
	if n > 4 {
		g.l.takeWords(numeral)
	}
	return true
}

// figure writes the number behind a stroke beside the run, where neither the
// run nor its tag has room.
func (g *layoutDrawing) figure(i int) bool {
	r := &g.p.runs[i]
	n := coreCount(g.job.Cores(r.run))
	t := runTag{count: n, high: TextSmall}
	for _, box := range g.l.ownFirst(besideRun(r, t.countWide()-tagPad, t.high+0.6, g.lineMM/2+0.8), r.xy, i+1) {
		if g.l.fits(box) {
			g.l.takeWords(box)
			g.used.tagged = true
			g.Group("count", g.countTitle(r.run, n))
			t.drawCount(g, box.x0-tagPad/2, (box.y0+box.y1)/2)
			g.End()
			return true
		}
	}
	return false
}

func (g *layoutDrawing) countTitle(run, n int) string {
	return fmt.Sprintf("%d in run %s", n, oneLine(g.job.Runs[run].Name))
}

// strokesFit is fits but for the run's own line.
func (g *layoutDrawing) strokesFit(r rect, owner int) bool {
	return r.within(g.l.area) && g.l.solid.free(r) && g.l.words.free(r.grown(0.4)) && g.l.lines.freeBut(r, owner)
}

// strokeBoxes are the room that Conductors takes: the strokes and the numeral.
func strokeBoxes(x, y, size, angleDeg float64, n int) (box, numeral rect) {
	unit := size / 2
	long := 0.9 * unit
	if n > 1 && n <= 4 {
		long += 0.5 * unit * float64(n-1) / 2
	}
	sin, cos := math.Sincos(angleDeg * math.Pi / 180)
	w, h := math.Abs(cos)*long+math.Abs(sin)*0.6*unit, math.Abs(sin)*long+math.Abs(cos)*0.6*unit
	box = centred(x, y, 2*w, 2*h)
	u, v := 0.45*unit, -0.55*unit
	tx, ty := x+cos*u-sin*v, y+sin*u+cos*v
	high := 0.7 * unit
	return box, rect{tx, ty - high/2, tx + TextWidth(fmt.Sprint(n), high, false), ty + high/2}
}
