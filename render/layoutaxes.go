package render

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"tubewright/route"
)

// pictureAxes are the finished floor level and the datum with what is measured
// from them.
type pictureAxes struct {
	floorY   float64 // on the sheet
	figuresY float64 // where the distances stand
	x0, x1   float64 // of the floor line
	ladderX  float64 // where the heights stand
	datumX   float64 // NaN where it is off the sheet
	topY     float64
	heights  []tick
	distance []tick
}

// tick is a measure: where it is on the sheet and what it reads in millimetres.
type tick struct {
	at, shown float64 // the place itself, and its figure moved clear of others
	text      string
}

// ladderMM is the room that the heights take.
const ladderMM = 15.0

// onTheWall is how far out a place may be and still be measured along the wall.
const onTheWall = 0.25 // m

// axes measures every place on the wall from the floor and from the datum, the
// wall's zero, in each length of the wall. Where there are more figures than
// room, none are shown: a list that leaves some out would mislead.
func (w *wall) axes(p *layoutPicture, f *folds, area rect, at func(int, route.Point) (x, y float64)) []pictureAxes {
	out := make([]pictureAxes, len(f.x0))
	up, along := make([]map[int]float64, len(out)), make([]map[int]float64, len(out))
	for k := range out {
		x, floor := at(k, route.Point{})
		out[k] = pictureAxes{floorY: floor, figuresY: floor, x0: math.Inf(1), x1: math.Inf(-1), datumX: x, topY: floor}
		up[k], along[k] = map[int]float64{}, map[int]float64{}
	}
	for _, r := range p.runs {
		out[r.fold].include(r.xy)
		if r.halfMM > 0 { // its sides reach farther, at a sharp corner much farther
			out[r.fold].include(beside(r.xy, r.halfMM))
			out[r.fold].include(beside(r.xy, -r.halfMM))
		}
	}
	for _, pl := range p.places {
		if q := w.job.Places[pl.place].Point; math.Abs(q.Y) <= onTheWall {
			up[pl.fold][int(math.Round(q.Z*1000))] = pl.y
			along[pl.fold][int(math.Round(q.X*1000))] = pl.x
		}
	}
	for k := range out {
		a := &out[k]
		if f.x0[k] <= 0 && f.x1[k] >= 0 {
			a.x0, a.x1 = min(a.x0, a.datumX), max(a.x1, a.datumX)
		}
		left := a.x0
		a.x0, a.x1 = max(left-8, area.x0+ladderMM), min(a.x1+8, area.x1-8)
		ladder := a.x0 <= left // else the heights would lie on the runs
		if !ladder {
			a.x0 = max(left-8, area.x0+2)
		}
		a.ladderX = a.x0 - 2
		delete(up[k], 0) // the floor itself
		if ladder {
			a.heights = ticks(up[k], max(area.y0+3, a.topY-f.gapMM/2), a.floorY-3)
		}
		onSheet := a.datumX >= a.x0 && a.datumX <= a.x1
		if w.parts == 1 && onSheet {
			along[k][0] = a.datumX
		}
		if !onSheet {
			a.datumX = math.NaN()
		}
		if w.parts == 1 {
			a.distance = ticks(along[k], area.x0+3, area.x1-3)
		}
	}
	return out
}

// axesNote says what of the axes is drawn.
func axesNote(axes []pictureAxes) string {
	var heights, distances, datum bool
	for i := range axes {
		a := &axes[i]
		heights, distances = heights || len(a.heights) > 0, distances || len(a.distance) > 0
		datum = datum || len(a.distance) > 0 && !math.IsNaN(a.datumX)
	}
	var parts []string
	if heights {
		parts = append(parts, "heights above the finished floor")
	}
	switch {
	case datum:
		parts = append(parts, "distances from the datum")
	case distances:
		parts = append(parts, "distances from the datum, which is off the sheet,")
	}
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, " and ") + " in mm"
}

// include widens the axes to a line.
func (a *pictureAxes) include(xy []float64) {
	for i := 0; i < len(xy); i += 2 {
		a.x0, a.x1 = min(a.x0, xy[i]), max(a.x1, xy[i])
		a.topY, a.figuresY = min(a.topY, xy[i+1]), max(a.figuresY, xy[i+1])
	}
}

// ticks sets the figures apart, nil when they do not go in between the bounds.
func ticks(byMM map[int]float64, low, high float64) []tick {
	const apart = 2.6
	var out []tick
	for mm, at := range byMM {
		out = append(out, tick{at, at, strconv.Itoa(mm)})
	}
	slices.SortFunc(out, func(a, b tick) int {
		switch {
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		}
		return strings.Compare(a.text, b.text)
	})
	if float64(len(out))*apart > high-low {
		return nil
	}
	next := low
	for i := range out {
		out[i].shown = max(out[i].at, next)
		next = out[i].shown + apart
	}
	next = high
	for i := len(out) - 1; i >= 0; i-- {
		out[i].shown = min(out[i].shown, next)
		next = out[i].shown - apart
	}
	return out
}
