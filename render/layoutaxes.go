package render

import (
	"math"
	"slices"
	"strconv"

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

// onTheWall is how far out a place may be and still be measured along the wall.
const onTheWall = 0.25 // m

// axes measures every place on the wall from the floor and from the datum, the
// wall's zero. Where there are more figures than room, none are shown: a list that
// leaves some out would mislead.
func (w *wall) axes(p *layoutPicture, j *route.Job, area rect, at func(int, route.Point) (x, y float64)) *pictureAxes {
	x0, floor := at(p.runs[0].run, route.Point{})
	a := &pictureAxes{floorY: floor, figuresY: floor, x0: math.Inf(1), x1: math.Inf(-1), datumX: x0, topY: math.Inf(1)}
	up, along := map[int]float64{}, map[int]float64{}
	for _, r := range p.runs {
		for i := 0; i < len(r.xy); i += 2 {
			a.x0, a.x1 = min(a.x0, r.xy[i]), max(a.x1, r.xy[i])
			a.topY, a.figuresY = min(a.topY, r.xy[i+1]), max(a.figuresY, r.xy[i+1])
		}
	}
	for _, pl := range p.places {
		q := j.Places[pl.place].Point
		if math.Abs(q.Y) > onTheWall {
			continue
		}
		up[int(math.Round(q.Z*1000))] = pl.y
		along[int(math.Round(q.X*1000))] = pl.x
	}
	a.x0, a.x1 = a.x0-8, a.x1+8
	a.ladderX = a.x0 - 2
	delete(up, 0) // the floor itself
	a.heights = ticks(up, area.y0+3, floor-3)
	if w.parts == 1 && x0 >= a.x0 && x0 <= a.x1 {
		along[0] = x0
		a.distance = ticks(along, area.x0+3, area.x1-3)
	} else {
		a.datumX = math.NaN()
	}
	return a
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
		return len(a.text) - len(b.text)
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
