package render

import (
	"fmt"
	"math"

	"tubewright/factors/units"
	"tubewright/route"
)

// Room kept round the runs for names, heights and distances, in millimetres.
const (
	wallMargin  = 9.0
	axesMargin  = 11.0
	wallSlack   = 8.0 // above and below it, for labels at the ends of leaders
	partsApartM = 0.6 // between parts of a job that do not hang together
	nearDatumM  = 0.5 // how far beside the runs the datum is drawn at least
)

// wallPicture lays the drawn runs out to scale in the area: in elevation, or
// in cabinet axonometry where a run leaves the wall.
func wallPicture(j *route.Job, runs []int, area rect) *layoutPicture {
	p := &layoutPicture{breaks: true, left: max(0, len(runs)-mostDrawn)}
	runs = runs[:min(len(runs), mostDrawn)]
	project, most := projectionOf(j, runs)
	if most == 1 {
		p.note = "cabinet axonometry: out of the wall at 45°, half scale"
	}
	w := newWall(j, runs, project)
	if w.parts > 1 {
		p.note = joinNotes(p.note, "parts that are not joined are set apart")
	}
	inside := w.inside(area)
	f := w.fold(runs, project, inside, most)
	p.note, p.scale = joinNotes(p.note, f.note()), scaleName(f.scale)
	at := w.placer(f, inside, project)
	for _, i := range runs {
		d := drawnRun(j, i, f.per/1000, func(q route.Point) (x, y float64) { return at(f.of[i], w.moved(i, q)) })
		d.fold = f.of[i]
		p.runs = append(p.runs, d)
	}
	spreadLanes(p.runs)
	p.places = placesOf(j, p.runs)
	if w.heightsKnown {
		p.axes = w.axes(p, f, area, at)
	}
	return p
}

// projectionOf is how the runs are seen, and in how many lengths at most: what
// leaves the wall cannot be cut.
func projectionOf(j *route.Job, runs []int) (projection, int) {
	if leavesTheWall(j, runs) {
		return cabinet, 1
	}
	return elevation, mostFolds
}

// inside is the area without the room for names, heights and distances.
func (w *wall) inside(area rect) rect {
	in := area.grown(-wallMargin)
	if w.heightsKnown {
		in.x0 += axesMargin
		in.y1 -= axesMargin
	}
	return in
}

// wallHigh is how high an area must be for the layout that it has in this one:
// what is left can be had for other things at no loss of scale.
func wallHigh(j *route.Job, runs []int, area rect) float64 {
	runs = runs[:min(len(runs), mostDrawn)]
	project, most := projectionOf(j, runs)
	w := newWall(j, runs, project)
	inside := w.inside(area)
	f := w.fold(runs, project, inside, most)
	lengths := float64(len(f.x0))
	high := w.box.high()*f.per*lengths + f.gapMM*(lengths-1)
	return min(area.high(), high+area.high()-inside.high()+wallSlack)
}

func scaleName(scale int) string {
	if scale == 0 {
		return "NTS"
	}
	return fmt.Sprintf("1:%d", scale)
}

func joinNotes(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "; " + b
}

// wall is the drawn part of a job in metres on the drawing.
type wall struct {
	job          *route.Job
	part         map[int]int // of each place that is drawn
	shiftX       []float64   // of each part, in metres
	parts        int
	heightsKnown bool
	box          rect    // metres on the drawing
	lowest       float64 // of all corners, metres above the floor where heights are known
}

// newWall finds the parts that hang together. A part whose position along the
// wall nobody gave is set to the right of those before it.
func newWall(j *route.Job, runs []int, project projection) *wall {
	w := &wall{job: j, part: map[int]int{}, lowest: math.Inf(1)}
	w.joinParts(runs)
	boxes := make([]rect, w.parts)
	across, height := make([]bool, w.parts), make([]bool, w.parts)
	for k := range boxes {
		boxes[k] = rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	}
	for _, i := range runs {
		r := &j.Runs[i]
		k := w.part[r.From]
		for _, c := range r.Corners {
			q := j.Places[r.From].Point.Add(c, 1)
			w.lowest = min(w.lowest, q.Z)
			x, y := project(q)
			b := &boxes[k]
			*b = rect{min(b.x0, x), min(b.y0, y), max(b.x1, x), max(b.y1, y)}
		}
		for _, end := range []int{r.From, r.To} {
			across[k] = across[k] || j.Places[end].Across.Said()
			height[k] = height[k] || j.Places[end].Height.Said()
		}
	}
	w.setOut(boxes, across, height)
	return w
}

// joinParts numbers the parts in the order in which the runs name them.
func (w *wall) joinParts(runs []int) {
	next := map[int][]int{}
	for _, i := range runs {
		r := &w.job.Runs[i]
		next[r.From] = append(next[r.From], r.To)
		next[r.To] = append(next[r.To], r.From)
	}
	for _, i := range runs {
		from := w.job.Runs[i].From
		if _, seen := w.part[from]; seen {
			continue
		}
		queue := []int{from}
		w.part[from] = w.parts
		for len(queue) > 0 {
			at := queue[0]
			queue = queue[1:]
			for _, n := range next[at] {
				if _, seen := w.part[n]; !seen {
					w.part[n] = w.parts
					queue = append(queue, n)
				}
			}
		}
		w.parts++
	}
}

func (w *wall) setOut(boxes []rect, across, height []bool) {
	w.shiftX = make([]float64, w.parts)
	w.heightsKnown = true
	w.box = boxes[0]
	for k, b := range boxes {
		w.heightsKnown = w.heightsKnown && height[k]
		if k > 0 && !across[k] {
			w.shiftX[k] = w.box.x1 + partsApartM - b.x0
		}
		w.box = rect{min(w.box.x0, b.x0+w.shiftX[k]), min(w.box.y0, b.y0), max(w.box.x1, b.x1+w.shiftX[k]), max(w.box.y1, b.y1)}
	}
	// The floor is on the drawing where it is not far below the lowest run.
	const farBelow = 3.0
	if w.lowest < 0 || w.lowest > farBelow {
		w.heightsKnown = false
	}
	if w.heightsKnown {
		w.box.y1 = max(0, w.box.y1)
		w.holdDatum()
	}
}

// holdDatum widens the drawing to the datum that its distances are measured
// from, where that is not far beside it.
func (w *wall) holdDatum() {
	near := max(nearDatumM, w.box.wide()/2)
	if w.parts == 1 && w.box.x0 <= near && w.box.x1 >= -near {
		w.box.x0, w.box.x1 = min(w.box.x0, 0), max(w.box.x1, 0)
	}
}

func (w *wall) moved(run int, q route.Point) route.Point {
	q.X += w.shiftX[w.part[w.job.Runs[run].From]]
	return q
}

// drawnRun is the centre line of a run on the sheet, with its sets.
func drawnRun(j *route.Job, i int, perMM float64, at projection) pictureRun {
	r := &j.Runs[i]
	from := j.Places[r.From].Point
	d := pictureRun{run: i, halfMM: trunkingHalf(r.Enc, perMM), leaves: leavesTheWall(j, []int{i})}
	for _, c := range r.Corners {
		x, y := at(from.Add(c, 1))
		if n := len(d.xy); n == 0 || math.Hypot(x-d.xy[n-2], y-d.xy[n-1]) > 0.05 {
			d.xy = append(d.xy, x, y)
		}
	}
	if len(d.xy) == 2 {
		x, y := at(from.Add(r.Corners[len(r.Corners)-1], 1))
		d.xy = append(d.xy, x, y)
	}
	walked := route.Point{}
	var dir route.Point
	for k, l := range r.Legs {
		if !l.IsSet() {
			walked, dir = walked.Add(l.Dir, float64(l.Length)), l.Dir
			continue
		}
		if dir == (route.Point{}) {
			dir = firstStraight(r.Legs[k:])
		}
		x, y := at(from.Add(walked, 1))
		x2, y2 := at(from.Add(walked, 1).Add(dir, 1))
		d.sets = append(d.sets, setMark{x, y, math.Atan2(y2-y, x2-x) * 180 / math.Pi, setText(l), kindOfSet(l)})
		if !l.Double {
			walked = walked.Add(l.Dir, float64(l.Set.Metres()))
		}
	}
	return d
}

func firstStraight(legs []route.Leg) route.Point {
	for _, l := range legs {
		if !l.IsSet() {
			return l.Dir
		}
	}
	return route.Point{X: 1}
}

func setText(l route.Leg) string { return l.Word + " " + units.Format(float64(l.Set)) }

// placesOf are the ends of the runs, each once in each length of the wall, in
// the order of the runs.
func placesOf(j *route.Job, runs []pictureRun) []picturePlace {
	index := map[[2]int]int{}
	var out []picturePlace
	var towards [][2]float64 // sum of the directions in which runs arrive
	arrive := func(fold, place int, x, y, fromX, fromY float64) {
		key := [2]int{fold, place}
		k, seen := index[key]
		if !seen {
			k = len(out)
			index[key] = k
			out = append(out, picturePlace{place: place, x: x, y: y, fold: fold})
			towards = append(towards, [2]float64{})
		}
		if d := math.Hypot(x-fromX, y-fromY); d > 0 {
			towards[k][0] += (x - fromX) / d
			towards[k][1] += (y - fromY) / d
		}
		out[k].runs++
	}
	for _, r := range runs {
		for _, end := range []struct {
			place int
			xy    []float64
		}{{j.Runs[r.run].From, r.xy}, {j.Runs[r.run].To, turnedRound(r.xy)}} {
			fromX, fromY := fartherOn(end.xy)
			arrive(r.fold, end.place, end.xy[0], end.xy[1], fromX, fromY)
		}
	}
	for k := range out {
		out[k].freeDeg = quarter(towards[k][0], towards[k][1])
	}
	return out
}

// fartherOn is the first corner that is not close to the start of a line: a set
// there does not turn the symbol.
func fartherOn(xy []float64) (x, y float64) {
	const closeMM = 2.0
	for i := 2; i+3 < len(xy); i += 2 {
		if math.Hypot(xy[i]-xy[0], xy[i+1]-xy[1]) > closeMM {
			return xy[i], xy[i+1]
		}
	}
	return xy[len(xy)-2], xy[len(xy)-1]
}

// quarter is the direction to the nearest right angle, down where there is none.
func quarter(x, y float64) float64 {
	if math.Hypot(x, y) < 0.1 {
		return 90
	}
	return math.Mod(math.Round(math.Atan2(y, x)/(math.Pi/2))*90+360, 360)
}
