package render

import (
	"fmt"
	"math"
	"slices"

	"tubewright/fill"
)

// stretchOf is a straight piece of a run, the longest first.
type stretchOf struct{ ax, ay, bx, by, long float64 }

func stretches(xy []float64) []stretchOf {
	var out []stretchOf
	for i := 0; i+3 < len(xy); i += 2 {
		if d := math.Hypot(xy[i+2]-xy[i], xy[i+3]-xy[i+1]); d > 0 {
			out = append(out, stretchOf{xy[i], xy[i+1], xy[i+2], xy[i+3], d})
		}
	}
	slices.SortStableFunc(out, func(a, b stretchOf) int {
		switch {
		case a.long > b.long+1e-6:
			return -1
		case b.long > a.long+1e-6:
			return 1
		}
		return 0
	})
	return out[:min(3, len(out))]
}

func (s stretchOf) at(t float64) (x, y float64) { return s.ax + t*(s.bx-s.ax), s.ay + t*(s.by-s.ay) }

// alongStretch is where a label is tried, the middle first.
var alongStretch = []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9}

// besideRun lists boxes of a size close to a run, on either side.
func besideRun(r *pictureRun, w, h, gap float64) []rect {
	var out []rect
	for _, s := range stretches(r.xy) {
		nx, ny := (s.ay-s.by)/s.long, (s.bx-s.ax)/s.long
		if ny > 1e-9 || math.Abs(ny) <= 1e-9 && nx < 0 {
			nx, ny = -nx, -ny // above first, else to the right
		}
		away := math.Abs(nx)*w/2 + math.Abs(ny)*h/2 + gap + r.halfMM
		for _, t := range alongStretch {
			x, y := s.at(t)
			out = append(out, centred(x+nx*away, y+ny*away, w, h), centred(x-nx*away, y-ny*away, w, h))
		}
	}
	return out
}

const (
	mostNameMM = 30.0
	stripRoomy = 45.0 // a strip as long as that has room for its length and bends
)

// runTag is a run's name in a frame, with how many cables it holds where that
// finds no room on the run, and with its verdict where it does not pass.
type runTag struct {
	name  string
	count int // negative where it is not in the tag
	word  string
	fails bool
	high  float64
}

const tagPad = 0.9

func (t *runTag) tall() float64     { return t.high + 2*tagPad }
func (t *runTag) nameWide() float64 { return TextWidth(t.name, t.high, true) + 2*tagPad }
func (t *runTag) slash() float64    { return 0.5 * t.high }

func (t *runTag) countWide() float64 {
	if t.count < 0 {
		return 0
	}
	return t.slash() + TextWidth(fmt.Sprint(t.count), t.high, false) + 2*tagPad
}

func (t *runTag) wordWide() float64 {
	if t.word == "" {
		return 0
	}
	return TextWidth(t.word, t.high, true) + 2*tagPad
}

func (t *runTag) wide() float64 { return t.nameWide() + t.countWide() + t.wordWide() }

// draw draws the tag in its box: the figure stands behind a stroke, as it does
// on a run.
func (t *runTag) draw(c Canvas, box rect) {
	frame := []float64{box.x0, box.y0, box.x1, box.y0, box.x1, box.y1, box.x0, box.y1}
	c.Fill(White, frame...)
	middle := (box.y0 + box.y1) / 2
	x := box.x0 + t.nameWide()
	c.Text(Text{S: t.name, X: (box.x0 + x) / 2, Y: middle, Height: t.high, AlignX: Centre, AlignY: Middle, Bold: true})
	if w := t.countWide(); w > 0 {
		c.Line(PenDimension, false, x, box.y0, x, box.y1)
		t.drawCount(c, x, middle)
		x += w
	}
	pen := PenDimension
	if t.word != "" {
		ink := Black
		if t.fails {
			c.Fill(Red, x, box.y0, box.x1, box.y0, box.x1, box.y1, x, box.y1)
			ink, pen = White, PenFail
		} else {
			c.Line(PenDimension, false, x, box.y0, x, box.y1)
		}
		c.Text(Text{S: t.word, X: (x + box.x1) / 2, Y: middle, Height: t.high, AlignX: Centre, AlignY: Middle, Bold: true, Ink: ink})
	}
	c.Line(pen, true, frame...)
}

// drawCount draws a stroke and the number after it in a cell that starts at x.
func (t *runTag) drawCount(c Canvas, x, middle float64) {
	x += tagPad
	c.Line(PenEdge, false, x, middle+0.65*t.high, x+t.slash(), middle-0.65*t.high)
	c.Text(Text{S: fmt.Sprint(t.count), X: x + t.slash(), Y: middle, Height: t.high, AlignY: Middle})
}

// tagOf is what a run's tag says.
func (g *layoutDrawing) tagOf(r *pictureRun, counted bool) *runTag {
	run, f := &g.job.Runs[r.run], &g.facts[r.run]
	t := &runTag{name: cutToFit(oneLine(run.Name), mostNameMM, g.nameMM, true), count: -1, high: g.nameMM, fails: f.grave()}
	switch {
	case run.Existing:
		t.name += "  existing"
	case !g.p.breaks && r.xy[2]-r.xy[0] > stripRoomy:
		t.name += "  " + cutToFit(wayText(run), mostNameMM, g.nameMM, true)
	}
	if counted {
		t.count = coreCount(g.job.Cores(r.run))
	}
	switch {
	case f.grave():
		t.word = VerdictWord(fill.Fail)
	default:
		t.word = f.word()
	}
	return t
}

// tag draws a run's tag beside it, nearer to it than to any other run, or at
// the end of a leader.
func (g *layoutDrawing) tag(i int, counted bool) bool {
	r := &g.p.runs[i]
	t := g.tagOf(r, counted)
	stretch := stretches(r.xy)
	if len(stretch) == 0 {
		return false
	}
	x, y := stretch[0].at(0.5)
	near := g.l.ownFirst(besideRun(r, t.wide(), t.tall(), g.lineMM/2+tagGap), r.xy, i+1)
	box, leader, ok := g.l.put(labelled{near: near, wide: t.wide(), high: t.tall(), x: x, y: y, owner: i + 1, grave: t.fails})
	if !ok {
		return false
	}
	if leader != nil {
		g.Line(PenDimension, false, leader...)
		g.Disc(Black, x, y, 0.45)
	}
	if counted {
		g.used.tagged = true
		g.Group("count", g.countTitle(r.run, t.count))
		defer g.End()
	}
	t.draw(g, box)
	return true
}
