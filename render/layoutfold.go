package render

import (
	"fmt"
	"math"

	"tubewright/route"
)

// A long low wall would be drawn very small in one line. It is folded instead:
// cut into lengths that stand one under the other, each run whole in the
// length that it starts in, so that a place at the end of one length is shown
// again at the start of the next.

// mostFolds is how many lengths a wall is cut into at most.
const mostFolds = 8

// foldGapMM is kept between two lengths, besides what the axes need.
const foldGapMM = 16.0

// folds is the cutting: each run's length, and each length's extent in metres
// on the drawing.
type folds struct {
	of     map[int]int // of each run
	x0, x1 []float64
	per    float64 // millimetres on the sheet for each metre
	wide   float64 // of the widest, metres
	gapMM  float64
	scale  int
}

// fold cuts the wall so that the scale is the largest; of equal scales the
// fewest lengths win. With one length nothing is cut.
//
// Cost: linear in runs.
func (w *wall) fold(runs []int, project projection, inside rect, most int) *folds {
	var best *folds
	for n := 1; n <= most; n++ {
		f := w.cutInto(n, runs, project)
		f.gapMM = foldGapMM
		if w.heightsKnown {
			f.gapMM += axesMargin
		}
		room := (inside.high() - f.gapMM*float64(n-1)) / float64(n)
		if f.scale = scaleFor(f.wide, w.box.high(), inside.wide(), room); f.scale > 0 {
			f.per = 1000 / float64(f.scale)
		} else if n == 1 {
			f.per = min(inside.wide()/f.wide, inside.high()/w.box.high())
		}
		if best == nil || f.scale > 0 && (best.scale == 0 || f.scale < best.scale) {
			best = f
		}
	}
	return best
}

// cutInto shares the runs out over n lengths by where they start.
func (w *wall) cutInto(n int, runs []int, project projection) *folds {
	f := &folds{of: make(map[int]int, len(runs))}
	for range n {
		f.x0, f.x1 = append(f.x0, math.Inf(1)), append(f.x1, math.Inf(-1))
	}
	step := w.box.wide() / float64(n)
	for _, i := range runs {
		r := &w.job.Runs[i]
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, c := range r.Corners {
			x, _ := project(w.moved(i, w.job.Places[r.From].Point.Add(c, 1)))
			lo, hi = min(lo, x), max(hi, x)
		}
		k := 0
		if step > 0 {
			k = max(0, min(n-1, int((lo-w.box.x0)/step+1e-6)))
		}
		f.of[i] = k
		f.x0[k], f.x1[k] = min(f.x0[k], lo), max(f.x1[k], hi)
	}
	f.x0[0], f.x1[n-1] = min(f.x0[0], w.box.x0), max(f.x1[n-1], w.box.x1) // the datum too
	for k := range f.x0 {
		f.wide = max(f.wide, f.x1[k]-f.x0[k])
	}
	return f
}

func (f *folds) note() string {
	if len(f.x0) == 1 {
		return ""
	}
	return fmt.Sprintf("the wall in %d lengths, one under the other", len(f.x0))
}

// placer returns where a position of a run's length lies on the sheet.
func (w *wall) placer(f *folds, inside rect, project projection) func(fold int, q route.Point) (x, y float64) {
	high := w.box.high()*f.per*float64(len(f.x0)) + f.gapMM*float64(len(f.x0)-1)
	left, top := inside.x0+(inside.wide()-f.wide*f.per)/2, inside.y0+(inside.high()-high)/2
	return func(fold int, q route.Point) (x, y float64) {
		u, v := project(q)
		return left + (u-f.x0[fold])*f.per, top + float64(fold)*(w.box.high()*f.per+f.gapMM) + (v-w.box.y0)*f.per
	}
}
