package render

import "math"

// drawAxes draws the finished floor level, the datum and the figures measured
// from them.
func (g *layoutDrawing) drawAxes() {
	for i := range g.p.axes {
		if a := &g.p.axes[i]; a.x0 < a.x1 {
			g.Group("levels", "finished floor level and datum")
			g.drawHeights(a)
			g.drawDistances(a)
			g.End()
		}
	}
}

func (g *layoutDrawing) drawHeights(a *pictureAxes) {
	g.used.floor = true
	g.Line(PenOutline, false, a.x0, a.floorY, a.x1, a.floorY)
	for x := a.x0 + 2; x <= a.x1; x += 2.5 {
		g.Line(PenHatch, false, x, a.floorY, x-1.6, a.floorY+1.6)
	}
	g.nameFloor(a)
	g.l.takeWords(rect{a.x0, a.floorY - 0.4, a.x1, a.floorY + 1.8})
	if len(a.heights) > 0 {
		top := min(a.heights[0].at, a.heights[0].shown)
		g.Line(PenDimension, false, a.ladderX, a.floorY, a.ladderX, a.heights[0].at)
		g.l.takeWords(rect{a.ladderX - 13, top - 2, a.ladderX + 2, a.floorY})
	}
	for _, t := range a.heights {
		g.Line(PenDimension, false, a.ladderX-3, t.shown, a.ladderX, t.at, a.ladderX+1.5, t.at)
		g.Text(Text{S: t.text, X: a.ladderX - 3.4, Y: t.shown, Height: TextSmall, AlignX: Right, AlignY: Middle})
	}
}

// nameFloor names the floor's line at its right end, or at its left where a run
// passes there; where runs pass at both, the legend alone names it.
func (g *layoutDrawing) nameFloor(a *pictureAxes) {
	wide := TextWidth("FFL", TextSmall, true)
	for _, x := range []float64{a.x1 + 1, a.ladderX - 1 - wide} {
		box := rect{x - 1, a.floorY - 1.5, x + wide + 1, a.floorY + 1.5}
		if !g.runsPass(box) {
			g.Text(Text{S: "FFL", X: x, Y: a.floorY, Height: TextSmall, AlignY: Middle, Bold: true})
			g.l.takeWords(box)
			return
		}
	}
}

func (g *layoutDrawing) runsPass(box rect) bool {
	for i := range g.p.runs {
		r := &g.p.runs[i]
		if box.grown(g.halfWide(r)).distance(r.xy) == 0 {
			return true
		}
	}
	return false
}

func (g *layoutDrawing) drawDistances(a *pictureAxes) {
	if len(a.distance) == 0 {
		return
	}
	if !math.IsNaN(a.datumX) {
		g.used.datum = true
		datum := []float64{a.datumX, a.topY - 5, a.datumX, a.floorY + 3}
		g.Line(PenCentre, false, datum...)
		g.l.lines.takeLine(datum, 0.6, 0)
	}
	widest := 0.0
	for _, t := range a.distance {
		widest = max(widest, TextWidth(t.text, TextSmall, false))
		g.Line(PenDimension, false, t.at, a.floorY-1, t.at, a.figuresY+2, t.shown, a.figuresY+4.5)
		g.Text(Text{S: t.text, X: t.shown, Y: a.figuresY + 5, Height: TextSmall, Angle: -90, AlignX: Right, AlignY: Middle})
	}
	g.l.takeWords(rect{a.x0, a.figuresY + 1, a.x1 + 7, a.figuresY + 5.5 + widest})
}
