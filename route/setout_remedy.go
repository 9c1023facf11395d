package route

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

// mostRemedied bounds the search for remedies: each is tried by setting the run
// out once more.
const (
	mostRemedied     = 4
	mostRemediedLegs = 100
)

// remedies adds to each lack what else would do. Every one is tried on the whole
// run: it is offered where the lack goes and no other comes.
//
// Cost: some thirty set-outs a lack, of the first few lacks.
func (s *setOut) remedies() {
	if s.trial || !s.run.Drawn || len(s.run.Legs) > mostRemediedLegs {
		return
	}
	for i := range s.Lacks[:min(len(s.Lacks), mostRemedied)] {
		l := &s.Lacks[i]
		if l.about == "" {
			continue
		}
		var found []string
		if l.Instead != "" {
			found = append(found, l.Instead)
		}
		for _, try := range []func(*Lack) string{s.deeper, s.lessStraight, s.lessBetween, s.smallerRadius, s.madeBends, s.formedCorners, s.otherAngle, s.asSet, s.boxAt} {
			if text := try(l); text != "" {
				found = append(found, text)
			}
		}
		l.Instead = strings.Join(found, ", or ")
	}
}

// lifted reports whether a lack is gone from a trial of the run, and no other
// has come.
func (s *setOut) lifted(l *Lack, tried ...SetOut) bool {
	for _, t := range tried {
		for _, left := range t.Lacks {
			known := slices.ContainsFunc(s.Lacks, func(k Lack) bool { return k.about == left.about && k.about != "" || k.What == left.What })
			if !known || left.about == l.about {
				return false
			}
		}
	}
	return true
}

// otherwise is the job with a run and tools that may be changed, until it is
// asked for again: the runs are copied once for all trials.
func (s *setOut) otherwise() *Job {
	if s.spare == nil {
		s.spare = append(make([]Run, 0, len(s.job.Runs)+1), s.job.Runs...)
	}
	j := *s.job
	j.Runs = s.spare[:len(s.job.Runs)]
	j.Runs[s.Run] = s.job.Runs[s.Run]
	j.Runs[s.Run].Legs = slices.Clone(j.Runs[s.Run].Legs)
	for _, b := range s.Body {
		j.Runs[b.Run] = s.job.Runs[b.Run]
	}
	return &j
}

func given(v float64) Given[units.Millimetres] {
	g := Given[units.Millimetres]{V: units.Millimetres(v)}
	g.At.Line = 1
	return g
}

// most is the greatest whole figure from low up to high at which a trial works,
// where one does; what works at a figure works at a smaller one.
func most(low, high float64, works func(float64) bool) (float64, bool) {
	low, high = math.Ceil(low-1e-6), math.Ceil(high-1e-6)-1
	if low > high || !works(low) {
		return 0, false
	}
	for low < high {
		if middle := math.Ceil((low + high) / 2); works(middle) {
			low = middle
		} else {
			high = middle - 1
		}
	}
	return low, true
}

func (s *setOut) lessStraight(l *Lack) string {
	if !s.conduit() {
		return ""
	}
	v, ok := most(s.ThreadMM, s.straight.Value, func(mm float64) bool {
		j := s.otherwise()
		j.Tools.Straight = given(mm)
		return s.lifted(l, j.setOut(nil, s.Run, true))
	})
	if !ok {
		return ""
	}
	why := "the job's"
	if !s.job.Tools.Straight.Said() {
		why = "the default, common practice:"
	}
	return fmt.Sprintf("end straight: %s mm under tools, if the die and vice take it (%s %s mm; the thread itself %s mm)", units.Format(v), why, units.Format(s.straight.Value), units.Format(s.ThreadMM))
}

// lessBetween offers less straight between two bends than the job states.
func (s *setOut) lessBetween(l *Lack) string {
	v, ok := most(0, s.between.Value, func(mm float64) bool {
		j := s.otherwise()
		j.Tools.Between = given(mm)
		return s.lifted(l, j.setOut(nil, s.Run, true))
	})
	if !ok {
		return ""
	}
	return fmt.Sprintf("between bends: %s mm under tools, if the former takes it", units.Format(v))
}

// smallerRadius offers a former down to the least that the guide lets the tube
// be bent to. Sets that leave their angle open are settled anew.
func (s *setOut) smallerRadius(l *Lack) string {
	if !s.conduit() {
		return ""
	}
	v, ok := most(s.leastRadius().Eval(), s.R.Value, func(mm float64) bool {
		j := s.otherwise()
		j.Tools.Trials, j.Tools.Formers = nil, map[string]Given[units.Millimetres]{s.run.Enc.String(): given(mm)}
		t := &setOut{job: j, run: &j.Runs[s.Run], R: sum.Term{Value: mm}, between: s.between}
		for k := range t.run.Legs {
			if leg := &t.run.Legs[k]; leg.IsSet() && !leg.Stated {
				leg.Angle = t.settledAngle(*leg)
			}
		}
		return s.lifted(l, j.setOut(nil, s.Run, true))
	})
	if !ok {
		return ""
	}
	least := s.leastRadius().Eval()
	if v-least < 1 {
		return fmt.Sprintf("a former of %s mm radius, the least", sum.Figure(least))
	}
	return fmt.Sprintf("a former of %s mm radius or less, down to %s mm", units.Format(v), sum.Figure(least))
}

func (s *setOut) madeBends(l *Lack) string {
	if !s.conduit() || s.run.Made.V {
		return ""
	}
	j := s.otherwise()
	j.Runs[s.Run].Made = Given[bool]{V: true, At: given(0).At}
	if t := j.setOut(nil, s.Run, true); !s.lifted(l, t) || !slices.ContainsFunc(t.Parts, func(p TubePart) bool { return p.Kind == MadePart }) {
		return ""
	}
	return fmt.Sprintf("made bends at its right angles (bends: made; %s mm from corner to tube)", sum.Figure(s.reach().Value))
}

func (s *setOut) formedCorners(l *Lack) string {
	if s.conduit() || s.run.Made.Said() && !s.run.Made.V {
		return ""
	}
	j := s.otherwise()
	for _, b := range s.Body {
		j.Runs[b.Run].Made = Given[bool]{At: given(0).At}
	}
	if !s.lifted(l, j.setOut(nil, s.Run, true)) {
		return ""
	}
	return "corners folded from the length (bends: formed)"
}

// deeper tries a set at the least depth that its angle needs.
func (s *setOut) deeper(l *Lack) string {
	set := 0
	for k, leg := range s.run.Legs {
		if !leg.IsSet() {
			continue
		}
		if set++; l.about != aboutSet(set-1) {
			continue
		}
		j := s.otherwise()
		deep := math.Ceil(l.Limit - 1e-6)
		j.Runs[s.Run].Legs[k].Set = units.Millimetres(deep)
		if s.lifted(l, j.setOut(nil, s.Run, true)) {
			return fmt.Sprintf("the %s %s mm deep", leg.Word, units.Format(deep))
		}
	}
	return ""
}

// otherAngle tries every set at the other usual angles.
func (s *setOut) otherAngle(l *Lack) string {
	for k, leg := range s.run.Legs {
		if !leg.IsSet() || !s.conduit() {
			continue
		}
		for _, a := range usualAngles {
			if a == leg.Angle {
				continue
			}
			j := s.otherwise()
			j.Runs[s.Run].Legs[k].Angle, j.Runs[s.Run].Legs[k].Stated = a, true
			if s.lifted(l, j.setOut(nil, s.Run, true)) {
				return fmt.Sprintf("the %s of %s mm at %s°", leg.Word, units.Format(math.Round(float64(leg.Set)*10)/10), units.Format(float64(a)))
			}
		}
	}
	return ""
}

// mostShift is the deepest step to the side, in mm, that is offered as a set.
const mostShift = 300

// asSet tries a set in the place of a short step to the side between two legs
// that go the same way.
func (s *setOut) asSet(l *Lack) string {
	legs := s.run.Legs
	for k := 1; k+1 < len(legs) && s.conduit(); k++ {
		before, step, after := legs[k-1], legs[k], legs[k+1]
		if before.IsSet() || step.IsSet() || after.IsSet() || before.Dir != after.Dir || math.Abs(before.Dir.Dot(step.Dir)) > 1e-9 || step.Length.MM() > mostShift {
			continue
		}
		j := s.otherwise()
		set := Leg{Word: "set", Dir: step.Dir, Set: step.Length.MM()}
		set.Angle = s.settledAngle(set)
		j.Runs[s.Run].Legs[k] = set
		if s.lifted(l, j.setOut(nil, s.Run, true)) {
			return fmt.Sprintf("set %s mm %s in the path, in place of %s %s", units.Format(float64(set.Set)), step.Word, step.Word, units.Format(float64(step.Length)))
		}
	}
	return ""
}

// boxAt tries a box in the place of each corner of the path; an open end is laid
// as if a coupler were there, which takes none of the way.
func (s *setOut) boxAt(l *Lack) string {
	if !s.conduit() {
		return ""
	}
	legs := s.run.Legs
	corner := 0
	for k := 1; k < len(legs); k++ {
		if legs[k].IsSet() || legs[k-1].IsSet() || legs[k].Dir == legs[k-1].Dir {
			continue
		}
		corner++
		j := s.otherwise()
		j.Places = slices.Clone(j.Places)
		second := len(j.Runs)
		j.Runs = append(j.Runs, j.Runs[s.Run])
		a, b := &j.Runs[s.Run], &j.Runs[second]
		a.Legs, b.Legs = legs[:k:k], legs[k:]
		box := len(j.Places)
		j.Places = append(j.Places, Place{Name: "box", Kind: Box, Runs: []int{s.Run, second}})
		if a.From < 0 {
			j.Places = append(j.Places, Place{Name: "first", Kind: Coupler, Runs: []int{s.Run}}, Place{Name: "far", Kind: Coupler, Runs: []int{second}})
			a.From, b.To = box+1, box+2
		} else {
			far := &j.Places[b.To]
			far.Runs = slices.Clone(far.Runs)
			if i := slices.Index(far.Runs, s.Run); i >= 0 && a.From != b.To {
				far.Runs[i] = second
			}
		}
		a.To, b.From = box, box
		if s.lifted(l, j.setOut(nil, s.Run, true), j.setOut(nil, second, true)) {
			return fmt.Sprintf("a box at corner %d of the path (%s mm from its centre to the tube)", corner, sum.Figure(uk.PlaceFace("round box").Num))
		}
	}
	return ""
}
