package render

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tubewright/fill"
)

// label writes on the layout: what fails first, so that it finds room first.
func (g *layoutDrawing) label() {
	for i := range g.p.runs {
		if g.facts[g.p.runs[i].run].grave() {
			g.tag(i)
		}
	}
	for i := range g.p.places {
		g.nameOf(&g.p.places[i])
	}
	for i := range g.p.runs {
		if !g.facts[g.p.runs[i].run].grave() {
			g.tag(i)
		}
	}
	for i := range g.p.runs {
		g.strokes(i)
	}
	for i := range g.p.runs {
		for _, s := range g.p.runs[i].sets {
			g.setLabel(s)
		}
	}
}

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

// tag is the run's name in a frame, with its verdict where it does not pass.
func (g *layoutDrawing) tag(i int) {
	r := &g.p.runs[i]
	run := &g.job.Runs[r.run]
	text := cutToFit(oneLine(run.Name), mostNameMM, g.nameMM, true)
	if !g.p.breaks && r.xy[2]-r.xy[0] > stripRoomy {
		text += "  " + cutToFit(wayText(run), mostNameMM, g.nameMM, true)
	}
	word := g.facts[r.run].word()
	const pad = 0.9
	textWide, h := TextWidth(text, g.nameMM, true)+2*pad, g.nameMM+2*pad
	w := textWide
	if word != "" {
		w += TextWidth(word, g.nameMM, true) + 2*pad
	}
	stretch := stretches(r.xy)
	if len(stretch) == 0 {
		g.unnamed++
		return
	}
	x, y := stretch[0].at(0.5)
	box, leader, ok := g.l.put(besideRun(r, w, h, g.lineMM/2+1.2), x, y, g.facts[r.run].grave())
	if !ok {
		g.unnamed++
		return
	}
	if leader != nil {
		g.Line(PenDimension, false, leader...)
		g.Disc(Black, x, y, 0.45)
	}
	drawTag(g, box, textWide, text, word, g.nameMM)
}

func drawTag(c Canvas, box rect, textWide float64, text, word string, high float64) {
	frame := []float64{box.x0, box.y0, box.x1, box.y0, box.x1, box.y1, box.x0, box.y1}
	c.Fill(White, frame...)
	middle := (box.y0 + box.y1) / 2
	c.Text(Text{S: text, X: box.x0 + textWide/2, Y: middle, Height: high, AlignX: Centre, AlignY: Middle, Bold: true})
	pen := PenDimension
	if word != "" {
		ink := Black
		split := box.x0 + textWide
		if strings.HasSuffix(word, VerdictWord(fill.Fail)) {
			c.Fill(Red, split, box.y0, box.x1, box.y0, box.x1, box.y1, split, box.y1)
			ink, pen = White, PenFail
		} else {
			c.Line(PenDimension, false, split, box.y0, split, box.y1)
		}
		c.Text(Text{S: word, X: (split + box.x1) / 2, Y: middle, Height: high, AlignX: Centre, AlignY: Middle, Bold: true, Ink: ink})
	}
	c.Line(pen, true, frame...)
}

// nameOf writes a place's name beside its symbol.
func (g *layoutDrawing) nameOf(p *picturePlace) {
	pl := &g.job.Places[p.place]
	high := g.nameMM
	x, y, half := p.x, p.y, g.symbolMM/2
	if name := placeSymbol(pl); name == "" {
		half, high = 1.1, TextSmall
	} else {
		_, x, y, _ = g.seated(name, p)
	}
	text := cutToFit(oneLine(pl.Name), mostNameMM, high, false)
	w, h := TextWidth(text, high, false)+0.6, high+0.6
	across, down := half+w/2+0.4, half+h/2+0.3
	var near []rect
	for _, o := range [][2]float64{{across, 0}, {-across, 0}, {0, down}, {0, -down}, {across, -down}, {-across, -down}, {across, down}, {-across, down},
		{across, -half}, {across, half}, {-across, -half}, {-across, half}} {
		near = append(near, centred(x+o[0], y+o[1], w, h))
	}
	box, leader, ok := g.l.put(near, p.x, p.y, false)
	if !ok {
		g.unnamed++
		return
	}
	if leader != nil {
		if cut := shortened(leader, half, 0); cut != nil {
			g.Line(PenDimension, false, cut...)
		}
	}
	g.Text(Text{S: text, X: (box.x0 + box.x1) / 2, Y: (box.y0 + box.y1) / 2, Height: high, AlignX: Centre, AlignY: Middle})
}

// strokes marks how many cables a run holds, where there is room on it.
func (g *layoutDrawing) strokes(i int) {
	const size = 6.0 // numerals of 2.1 mm
	r := &g.p.runs[i]
	n := coreCount(g.job.Cores(r.run))
	if n == 0 {
		return
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
			x, y := s.at(t)
			if min(t, 1-t)*s.long < 2.6 {
				continue
			}
			if n > 4 { // the numeral stands clear of the run's own line
				sin, cos := math.Sincos(angle * math.Pi / 180)
				aside := g.halfWide(r) - W35
				x, y = x+sin*aside, y-cos*aside
			}
			box, numeral := strokeBoxes(x, y, size, angle, n)
			if !g.strokesFit(box, i+1) || n > 4 && !g.l.fits(numeral.grown(-0.1)) {
				continue
			}
			g.used.strokes = true
			Conductors(g, x, y, size, angle, n)
			g.l.solid.take(box)
			if n > 4 {
				g.l.takeWords(numeral)
			}
			return
		}
	}
}

// strokesFit is fits but for the run's own line.
func (g *layoutDrawing) strokesFit(r rect, owner int) bool {
	return r.within(g.l.area) && g.l.solid.free(r) && g.l.lines.freeBut(r, owner)
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

// setLabel says how deep a set is, where there is room beside it.
func (g *layoutDrawing) setLabel(s setMark) {
	w, h := TextWidth(s.text, TextSmall, false)+0.6, TextSmall+0.6
	for _, o := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		box := centred(s.x+o[0]*(w/2+2.4), s.y+o[1]*(h/2+2.4), w, h)
		if g.l.fits(box) {
			g.l.takeWords(box)
			g.Text(Text{S: s.text, X: (box.x0 + box.x1) / 2, Y: (box.y0 + box.y1) / 2, Height: TextSmall, AlignX: Centre, AlignY: Middle})
			return
		}
	}
}
