package route

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"tubewright/factors/sum"
)

// Trunking turns a right angle or half of one by a fitting between two
// lengths, unless the job has its corners formed; any other corner, and those
// of a set, are cut out and folded from the length (common practice, no
// source).

// fittedCorner reports whether a corner of trunking is turned by a fitting.
func (s *setOut) fittedCorner(t turning) bool {
	if made := s.job.Runs[t.run].Made; t.set >= 0 || made.Said() && !made.V {
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

// foldAcross is how far apart the faces of a trunking are that a folded corner
// folds on and is cut open at: its depth where it turns towards the lid or from
// it, its width where it turns in the plane of the lid.
func (s *setOut) foldAcross(toward, lid Point) float64 {
	if math.Abs(toward.Dot(lid)) > nearly {
		return float64(s.run.Enc.Depth)
	}
	return float64(s.run.Enc.Width)
}

// foldedTotal writes down the length of folded trunking. The line of a corner
// lies on the face that folds, the outside one: half of the side across, times
// tan(θ/2), beyond the corner of the centre lines, in either leg.
//
// Source: geometry.
func (s *setOut) foldedTotal(L sum.Term) {
	terms := []sum.Expr{sum.T(L)}
	var at linear
	straights, folds := 0, 0
	for k, p := range s.Parts {
		switch p.Kind {
		case StraightPart:
			straights++
			S := s.w.Given(fmt.Sprintf("straight %d of the run, between ends, cut-outs and fittings", straights), s.straightTerm(k))
			at = at.plus(1, S)
			s.straights = append(s.straights, S)
		case BendPart:
			folds++
			n := strconv.Itoa(folds)
			a := s.w.Given(fmt.Sprintf("folded corner %d, %s: %s", folds, p.Fitting, foldFaces(p.Fitting)), sum.Term{Symbol: "side " + n, Value: p.AcrossMM, Unit: "mm"})
			cut := s.w.Let("cut-out "+n, "cut out each side of the corner's line; the line lies half of it beyond the corner of the centre lines", "mm", sum.Times(sum.T(a), sum.T(tangent(s.w, rounded(p.Angle)/2))))
			at.plus(1, cut).let(s.w, "line "+n, fmt.Sprintf("line of corner %d, along the outside face from the trunking's first end", folds))
			at = at.plus(2, cut)
			s.folds, terms = append(s.folds, cut), append(terms, sum.T(cut))
		}
	}
	if folds > 0 {
		s.whole = s.w.Let("c", fmt.Sprintf("trunking that the run takes, its first end %s mm from where the path starts", sum.Figure(s.Ends[0].SetbackMM())), "mm", sum.Add(terms...))
	}
}

// foldFaces says where a folded corner is cut and where it folds (geometry; the
// cutting is common practice, no source).
func foldFaces(fitting string) string {
	switch {
	case strings.HasPrefix(fitting, "internal"):
		return "both sides cut open from the lid, folded on the back"
	case strings.HasPrefix(fitting, "external"):
		return "back and both sides cut open, folded on the edges at the lid"
	}
	return "back and inner side cut open, folded on the outer side"
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
