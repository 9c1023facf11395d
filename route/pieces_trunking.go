package route

import (
	"math"

	"tubewright/factors/sum"
)

// Trunking turns a right angle or half of one by a fitting between two
// lengths, unless the job has its corners formed; any other corner, and those
// of a set, are cut out and folded from the length (common practice, no
// source).

// fittedCorner reports whether a corner of trunking is turned by a fitting.
func (s *setOut) fittedCorner(t turning) bool {
	if t.set >= 0 || s.run.Made.Said() && !s.run.Made.V {
		return false
	}
	return math.Abs(float64(t.angle)-90) < 1e-6 || math.Abs(float64(t.angle)-45) < 1e-6
}

// fittingReach is the corner of the centre lines to the end of a trunking
// fitting: as the job states, or the wider side (common practice, no source:
// measure the fitting).
func (s *setOut) fittingReach() sum.Term {
	if g, ok := bySize(s.job.Tools.Made, s.run.Enc); ok {
		return s.w.Given("trunking fitting: corner of the centre lines to its end, as the job states", sum.Term{Symbol: "m", Value: float64(g.V), Unit: "mm"})
	}
	wide := max(float64(s.run.Enc.Width), float64(s.run.Enc.Depth))
	return s.w.Given("trunking fitting: corner of the centre lines to its end, taken as the wider side; measure the fitting", sum.Term{Symbol: "m", Value: wide, Unit: "mm"})
}

// trunkingEnd is what a trunking meets at a place: a bend, a tee or a four-way
// takes its reach of the way.
func (s *setOut) trunkingEnd(e *TubeEnd, pl *Place) {
	var reaches bool
	if e.Entry, reaches = s.job.trunkingJoin(pl); reaches {
		e.FaceMM = s.fittingReach().Value
	}
}

// nameFittings says what turns each corner of a trunking: its lid is followed
// from corner to corner.
func (s *setOut) nameFittings() {
	if s.conduit() || len(s.Parts) == 0 {
		return
	}
	lid := lidSide(s.Parts[0].Dir)
	for i := range s.Parts {
		p := &s.Parts[i]
		if p.Kind == StraightPart {
			continue
		}
		a := radians(p.Angle)
		to := Point{}.Add(p.Dir, math.Cos(a)).Add(p.Toward, math.Sin(a))
		p.Fitting, lid = trunkingBend(p.Dir, to, lid)
	}
}

// trunkingJoin names what joins the trunkings at a place, and whether it is a
// fitting that reaches into the way of each.
func (j *Job) trunkingJoin(pl *Place) (name string, reaches bool) {
	var at []int
	for _, r := range pl.Runs {
		if !j.isConduit(r) {
			at = append(at, r)
		}
	}
	switch {
	case pl.Kind == BoardPlace || pl.Kind == Equipment:
		return "flanged connector", false
	case len(at) == 1:
		return "stop end", false
	case len(at) > 2:
		return j.branch(pl, at), true
	case j.Runs[at[0]].Enc != j.Runs[at[1]].Enc:
		return "reducer", false
	}
	a, okA := j.leaves(pl, at[0])
	b, okB := j.leaves(pl, at[1])
	if !okA || !okB || a.Dot(b) < -0.999 {
		return "coupler", false
	}
	bend, _ := trunkingBend(a.scaled(-1), b, lidSide(a))
	return bend, true
}
