package route

import (
	"math"
	"slices"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
)

// SaddlePoint is one saddle or fixing point.
type SaddlePoint struct {
	At   float64 // mm along the tube from its first end
	Part int     // index in SetOut.Parts
}

// saddles places them on each straight: near every box and bend, and in equal
// spaces between. A short straight has one in its middle, one shorter than the
// end distance none.
func (s *setOut) saddles() {
	rule := s.job.Choices.Support.V
	whose := [...]string{SupportGuide: "makers' figure", SupportMaker: "another maker's figure", SupportSpecification: "specifications' figure"}[rule]
	e := s.w.Given("farthest from a box or bend, "+whose, rule.fromBox().Term("e"))
	for i, p := range s.Parts {
		if p.Kind != StraightPart || p.Long() < e.Value {
			continue
		}
		spacing, err := rule.spacing(s.run.Enc, p.Lies())
		if err != nil {
			s.w.Note("no table has a spacing for supports of " + s.run.Enc.String())
			return
		}
		for _, at := range s.clearOfJoints(p, SaddlesOn(s.w, p.Long(), e, spacing.Term("p"))) {
			s.Saddles = append(s.Saddles, SaddlePoint{p.From + at, i})
		}
	}
}

// clearOfJoints puts in a space more where a saddle would stand on an
// expansion coupler: the tube must slide there.
func (s *setOut) clearOfJoints(p TubePart, at []float64) []float64 {
	on := func(a float64) bool {
		for _, j := range s.Joints {
			if math.Abs(p.From+a-j.At) < j.OpeningMM/2+s.ODMM {
				return true
			}
		}
		return false
	}
	for n := len(at); n > 1 && n < 200 && slices.ContainsFunc(at, on); n++ {
		first, last := at[0], at[len(at)-1]
		s.w.Note("one space more: a saddle would stand on an expansion coupler")
		at = make([]float64, n+1)
		for i := range at {
			at[i] = first + (last-first)*float64(i)/float64(n)
		}
	}
	return at
}

// fromBox is how far from a box or bend the first saddle may be.
func (r SupportRule) fromBox() factors.Value {
	return uk.SaddleFromBox([...]string{SupportGuide: "farthest", SupportMaker: "nearest", SupportSpecification: "specification"}[r])
}

// spacing is the largest distance between the supports of an enclosure.
func (r SupportRule) spacing(e factors.Enclosure, lies bool) (factors.Value, error) {
	if r == SupportSpecification && e.Kind == factors.Conduit {
		return uk.SpecificationSpacing(lies), nil
	}
	return uk.SupportSpacing(e, lies, r == SupportMaker)
}

// SaddlesOn returns where saddles stand on a straight, in mm from its start:
// the spaces between the end ones, plus one.
//
//	longMM   mm  length of the straight
//	end      mm  farthest of the first saddle from a box or bend
//	spacing  m   largest space
//
// Source: tables saddle-from-box and support-spacing; the count is arithmetic.
func SaddlesOn(w *sum.Work, longMM float64, end, spacing sum.Term) []float64 {
	L := sum.Term{Symbol: "L", Value: longMM, Unit: "mm"}
	if longMM <= 2*end.Value {
		w.Notef("straight of %s mm: one saddle in its middle", sum.Figure(longMM))
		return []float64{longMM / 2}
	}
	pitch := w.Let("p", "largest space between saddles", "mm", sum.Times(sum.N(1000), sum.T(spacing)))
	q := w.Let("q", "between the end saddles, in spaces", "", sum.Over(sum.Sub(sum.T(L), sum.Times(sum.N(2), sum.T(end))), sum.T(pitch)))
	n := w.Given("spaces, the next whole number", sum.Term{Symbol: "n", Value: math.Ceil(q.Value - 1e-9)})
	count := w.Let("N", "saddles, one more than spaces", "", sum.Add(sum.T(n), sum.N(1)))
	out := make([]float64, int(count.Value))
	first := min(end.Value, longMM/3) // two on a short straight stand at its thirds
	for i := range out {
		out[i] = first + (longMM-2*first)*float64(i)/n.Value
	}
	return out
}
