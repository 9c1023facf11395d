package render

import (
	"math"

	"tubewright/factors"
	"tubewright/route"
)

// layoutPicture is the layout of a job on the sheet: where its runs and places lie,
// in millimetres, before anything is drawn.
type layoutPicture struct {
	runs   []pictureRun
	places []picturePlace
	ties   [][]float64 // between two showings of one place
	breaks bool        // corners are bends in the tube
	scale  string      // "1:25", "NTS"
	note   string
	axes   []pictureAxes // heights and distances of each length of the wall, none where they are not known
	left   int           // runs that are not drawn
}

// pictureRun is a run's centre line.
type pictureRun struct {
	run    int
	xy     []float64
	halfMM float64 // of trunking: half the distance between its two lines
	sets   []setMark
	leaves bool // the wall
	fold   int  // the length of the wall that it is drawn in
}

// setMark is a set on the line, along the leg that it lies in.
type setMark struct {
	x, y, angleDeg float64
	text           string
	kind           setKind
}

// picturePlace is a place, its free side in degrees clockwise from the right:
// the way from the runs that end there.
type picturePlace struct {
	place   int
	x, y    float64
	freeDeg float64
	runs    int // that end at this showing of it
	fold    int
}

// mostDrawn is how many runs one sheet can show before none can be told apart.
const mostDrawn = 300

// drawnRuns are the runs whose way and place on the wall are known, failures
// first when there are more than a sheet shows; rest are the others.
func drawnRuns(j *route.Job, order []int) (drawn, rest []int) {
	for _, i := range order {
		r := &j.Runs[i]
		if r.Drawn && r.From >= 0 && r.To >= 0 && j.Places[r.From].Placed && j.Places[r.To].Placed {
			drawn = append(drawn, i)
		} else {
			rest = append(rest, i)
		}
	}
	return drawn, rest
}

// leavesTheWall reports whether a leg of a run goes out from the wall or in.
func leavesTheWall(j *route.Job, runs []int) bool {
	for _, i := range runs {
		for _, l := range j.Runs[i].Legs {
			if !l.IsSet() && math.Abs(l.Dir.Y) > 1e-9 {
				return true
			}
		}
	}
	return false
}

// projection turns a position in metres into metres on the drawing, y down.
type projection func(p route.Point) (x, y float64)

func elevation(p route.Point) (x, y float64) { return p.X, -p.Z }

// cabinet is cabinet axonometry of ISO 5456-3 (from memory): the wall true to
// scale, and what comes out of it at 45° and half scale, towards the viewer
// down and to the left.
func cabinet(p route.Point) (x, y float64) {
	half := 0.5 * math.Sqrt2 / 2 * p.Y
	return p.X - half, -p.Z + half
}

// drawingScales are those printed on metric scale rules (common practice, no
// source), with steps of ours between them so that a layout fills its sheet:
// every measure stands on it in figures. For the very large the steps go on.
var drawingScales = []int{5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000, 1250, 2500, 5000, 10000, 20000, 50000}

// scaleFor is the largest scale at which a size in metres goes into a size in
// millimetres, 0 where none does.
func scaleFor(wideM, highM, wideMM, highMM float64) int {
	for _, s := range drawingScales {
		if wideM*1000/float64(s) <= wideMM && highM*1000/float64(s) <= highMM {
			return s
		}
	}
	return 0
}

// trunkingHalf is half the distance between the two lines of trunking, to
// scale where that can be seen; 0 for conduit.
func trunkingHalf(e factors.Enclosure, perMM float64) float64 {
	const least, most = 1.0, 8.0
	if e.Kind != factors.Trunking {
		return 0
	}
	return min(most, max(least, float64(e.Width)*perMM/2))
}
