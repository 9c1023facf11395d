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
	s.findCouplers()
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
		for _, at := range s.clearOfJoints(p, SaddlesOn(s.w, p.Long(), e, spacing.Term("p")), spacing.Num*1000) {
			s.Saddles = append(s.Saddles, SaddlePoint{p.From + at, i})
		}
	}
}

// clearOfJoints moves saddles off the couplers that they would stand on and
// spaces those after it anew; where a space would grow past the largest there is
// one space more. An expansion coupler must slide, a plain one is thicker than
// the tube.
func (s *setOut) clearOfJoints(p TubePart, at []float64, pitchMM float64) []float64 {
	if len(at) == 0 || !s.onCoupler(p, at) {
		return at
	}
	if len(at) == 1 {
		return []float64{s.offCouplers(p, at[0], false, false)}
	}
	for n := len(at) - 1; n < len(at)+8; n++ {
		if moved, ok := s.spaced(p, at[0], at[len(at)-1], n, pitchMM); ok {
			s.w.Note("saddles moved clear of couplers, on which they would stand")
			return moved
		}
	}
	return at
}

// spaced is so many spaces between two end saddles, no saddle on a coupler; the
// end ones give way towards the bend or box.
func (s *setOut) spaced(p TubePart, first, last float64, n int, pitchMM float64) (at []float64, ok bool) {
	first, last = s.offCouplers(p, first, true, false), s.offCouplers(p, last, false, true)
	at = []float64{first}
	for left := n; left > 0; left-- {
		before := at[len(at)-1]
		next := before + (last-before)/float64(left)
		if left > 1 {
			next = s.offCouplers(p, next, true, false)
			if forward := s.offCouplers(p, next, false, true); (last-next)/float64(left-1) > pitchMM && forward-before <= pitchMM {
				next = forward
			}
		}
		if next-before > pitchMM+1e-6 || next <= before {
			return nil, false
		}
		at = append(at, next)
	}
	return at, !s.onCoupler(p, at)
}

func (s *setOut) onCoupler(p TubePart, at []float64) bool {
	return slices.ContainsFunc(at, func(a float64) bool { return s.offCouplers(p, a, false, false) != a })
}

// offCouplers is the place nearest to one on a straight that is clear of its
// couplers; back and forward tie it to that side.
func (s *setOut) offCouplers(p TubePart, at float64, back, forward bool) float64 {
	for _, c := range s.couplers {
		low, high := c[0]-p.From, c[1]-p.From
		if at <= low || at >= high {
			continue
		}
		if !forward && (back || at-low <= high-at || high >= p.Long()) && low > 0 {
			return low
		}
		return min(high, p.Long())
	}
	return at
}

// findCouplers lists the stretches of tube that couplers take, with a tube's
// width beside each for the saddle itself (common practice, no source).
func (s *setOut) findCouplers() {
	if !s.conduit() {
		return
	}
	for _, j := range s.Joints {
		from, to := j.body()
		s.couplers = append(s.couplers, [2]float64{from - s.ODMM, to + s.ODMM})
	}
	for _, p := range s.Pieces {
		if p.Ends[1] == "coupler" {
			reach := s.ThreadMM + s.ODMM
			s.couplers = append(s.couplers, [2]float64{p.To - reach, p.To + reach})
		}
	}
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
