package route

import (
	"fmt"
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
// spaces between. A straight of less than two end distances has one in its
// middle; see held for those that have none.
func (s *setOut) saddles() {
	rule := s.job.Choices.Support.V
	whose := [...]string{SupportGuide: "makers' figure", SupportMaker: "another maker's figure", SupportSpecification: "specifications' figure"}[rule]
	s.findCouplers()
	e := s.w.Given("farthest from a box or bend, "+whose, rule.fromBox().Term("e"))
	widest := 0.0
	for i, p := range s.Parts {
		if p.Kind != StraightPart || !s.held(i, e.Value) {
			continue
		}
		spacing, err := rule.spacing(s.run.Enc, p.Lies())
		if err != nil {
			s.w.Note("no table has a spacing for supports of " + s.run.Enc.String())
			return
		}
		usual := SaddlesOn(s.w, s.straightTerm(i), e, spacing.Term("spacing"))
		first := len(s.Saddles)
		for _, at := range s.clearOfJoints(p, slices.Clone(usual), e.Value, spacing.Num*1000) {
			s.Saddles = append(s.Saddles, SaddlePoint{p.From + at, i})
		}
		s.saddleSteps(i, first, usual, e)
		widest = max(widest, spacing.Num*1000)
	}
	s.farApart(widest)
}

// saddled reports whether it is known where the straights lie.
func (s *setOut) saddled() bool { return s.Made() && (s.run.Drawn || s.run.Bends.Count == 0) }

// farApart advises where a set that holds no saddle parts two by more than the
// table lets them stand.
func (s *setOut) farApart(mostMM float64) {
	for i := 1; i < len(s.Saddles); i++ {
		if a, b := s.Saddles[i-1].At, s.Saddles[i].At; b-a > mostMM+1e-6 {
			s.advise(fmt.Sprintf("saddles %d and %d stand %s mm apart over a set that is off the wall, more than %s mm: hold the tube between them with a bracket", i, i+1, sum.Figure(b-a), sum.Figure(mostMM)))
		}
	}
}

// held reports whether a straight has saddles: it is long enough for one, and
// not within a set, where it slopes off the wall or is shorter than two end
// distances. A set counts as one bend, with a saddle either side of it.
//
// Common practice, no source.
func (s *setOut) held(part int, endMM float64) bool {
	p := s.Parts[part]
	if p.Long() < uk.SetOutPractice("saddle straight").Num {
		if p.Long() > 1e-6 {
			s.w.Notef("%s, straight of %s mm: too short for a saddle", s.straightTerm(part).Symbol, sum.Figure(p.Long()))
		}
		return false
	}
	if part == 0 || part+1 == len(s.Parts) {
		return true
	}
	before, after := s.Parts[part-1], s.Parts[part+1]
	if before.Kind != BendPart || after.Kind != BendPart || before.set < 0 || before.set != after.set {
		return true
	}
	if off := math.Abs(p.Dir.Y); p.Long() < 2*endMM || off > 1e-6 && off < 1-1e-6 {
		s.w.Notef("%s, straight of %s mm within the %s: no saddle", s.straightTerm(part).Symbol, sum.Figure(p.Long()), s.Sets[before.set].Word)
		return false
	}
	return true
}

// clearOfJoints moves saddles off the couplers that they would stand on. The
// spaces stay equal where the end saddles can stand nearer to their box or bend
// for it, or one space more clears them; else those after a coupler are spaced
// anew, and where a space would grow past the largest there is one more. An
// expansion coupler must slide, a plain one is thicker than the tube.
func (s *setOut) clearOfJoints(p TubePart, at []float64, endMM, pitchMM float64) []float64 {
	if len(at) == 0 || !s.onCoupler(p, at) {
		return at
	}
	if len(at) == 1 {
		at[0] = s.offCouplers(p, at[0], false, false)
		if at[0] <= endMM && p.Long()-at[0] <= endMM {
			return s.roomOnly(p, at)
		}
		if two, ok := s.even(p, 1, min(endMM, p.Long()/3), pitchMM); ok {
			return two // one either side of the coupler
		}
		return s.roomOnly(p, at)
	}
	for n := len(at) - 1; n <= len(at); n++ {
		if moved, ok := s.even(p, n, min(endMM, at[0]), pitchMM); ok {
			s.w.Notef("saddles clear of couplers, on which they would stand: equal spaces, the end ones %s and %s mm from box or bend", sum.Figure(moved[0]), sum.Figure(p.Long()-moved[n]))
			return moved
		}
	}
	for n := len(at) - 1; n < len(at)+8; n++ {
		if moved, ok := s.spaced(p, at[0], at[len(at)-1], n, pitchMM); ok {
			s.w.Note("saddles moved clear of couplers, on which they would stand")
			return moved
		}
	}
	for i, a := range at {
		at[i] = s.offCouplers(p, a, false, false)
	}
	return s.roomOnly(p, slices.Compact(at))
}

// roomOnly leaves out the saddles that have no room beside a coupler, and says
// so.
func (s *setOut) roomOnly(p TubePart, at []float64) []float64 {
	kept := at[:0]
	for _, a := range at {
		if low, high := s.saddleRoom(p); a >= low && a <= high && s.offCouplers(p, a, false, false) == a {
			kept = append(kept, a)
			continue
		}
		s.advise(fmt.Sprintf("straight of %s mm: no room for a saddle beside the coupler in it; hold the tube with one on the next straight, or make this one longer", sum.Figure(p.Long())))
	}
	return kept
}

// saddleRoom is where on a straight a saddle may stand at all: half of its own
// width, taken as the tube's (common practice, no source), from a bend, and from
// the thread in a box.
func (s *setOut) saddleRoom(p TubePart) (low, high float64) {
	low, high = s.ODMM/2, p.Long()-s.ODMM/2
	if p.From == 0 {
		low += s.Ends[0].ThreadMM
	}
	if p.To == s.LengthMM {
		high -= s.Ends[1].ThreadMM
	}
	return low, high
}

// saddleBeside reports whether a straight has room for a saddle before or after
// a stretch that is taken.
func (s *setOut) saddleBeside(p TubePart, takes [2]float64) bool {
	low, high := s.saddleRoom(p)
	return takes[0]-p.From >= low || takes[1]-p.From <= high
}

// evenStepMM is by how much an end saddle is moved to keep spaces equal, up to
// half of its distance.
const evenStepMM = 5

// even is so many equal spaces, the end saddles as near to their distance as no
// saddle stands on a coupler.
//
// Cost: some 500 trials of n saddles at most.
func (s *setOut) even(p TubePart, n int, endMM, pitchMM float64) ([]float64, bool) {
	steps := int(endMM / 2 / evenStepMM)
	at := make([]float64, n+1)
	for moved := range 2*steps + 1 {
		for near := max(0, moved-steps); near <= min(moved, steps); near++ {
			first, last := endMM-evenStepMM*float64(near), p.Long()-endMM+evenStepMM*float64(moved-near)
			if (last-first)/float64(n) > pitchMM+1e-6 {
				continue
			}
			clear := true
			for i := 0; i <= n && clear; i++ {
				at[i] = first + (last-first)*float64(i)/float64(n)
				clear = s.offCouplers(p, at[i], false, false) == at[i]
			}
			if clear {
				return at, true
			}
		}
	}
	return nil, false
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
		least, most := s.saddleRoom(p)
		if !forward && (back || at-low <= high-at || high > most) && low >= least {
			return low
		}
		return min(high, p.Long())
	}
	return at
}

// findCouplers lists the stretches of tube that couplers take, with a tube's
// width beside each for the saddle itself (common practice, no source).
func (s *setOut) findCouplers() {
	s.couplers = nil
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
		if p.RunningMM > 0 {
			s.couplers = append(s.couplers, s.runningTakes(p.To, p.RunningMM))
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
//	S        mm  length of the straight
//	end      mm  farthest of the first saddle from a box or bend
//	spacing  m   largest space
//
// Source: tables saddle-from-box and support-spacing; the count is arithmetic.
func SaddlesOn(w *sum.Work, S, end, spacing sum.Term) []float64 {
	longMM := S.Value
	if longMM <= 2*end.Value {
		w.Notef("%s, straight of %s mm: one saddle in its middle", S.Symbol, sum.Figure(longMM))
		return []float64{longMM / 2}
	}
	pitch := w.Let("p"+index(S), "largest space between saddles", "mm", sum.Times(sum.N(1000), sum.T(spacing)))
	q := w.Let("q"+index(S), "between the end saddles, in spaces", "", sum.Over(sum.Sub(sum.T(S), sum.Times(sum.N(2), sum.T(end))), sum.T(pitch)))
	n := w.Given("spaces, the next whole number", sum.Term{Symbol: "n" + index(S), Value: math.Ceil(q.Value - 1e-9)})
	count := w.Let("N"+index(S), "saddles, one more than spaces", "", sum.Add(sum.T(n), sum.N(1)))
	out := make([]float64, int(count.Value))
	first := min(end.Value, longMM/3) // two on a short straight stand at its thirds
	for i := range out {
		out[i] = first + (longMM-2*first)*float64(i)/n.Value
	}
	return out
}
