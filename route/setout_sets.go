package route

import (
	"fmt"
	"math"

	"tubewright/factors/sum"
	"tubewright/factors/units"
)

// FormedSet is a set, double set or bubble set as it is bent.
type FormedSet struct {
	Word           string // "set", "double set", "bubble set"
	DepthMM        float64
	OverMM         float64       // straight between away and back
	Angle          units.Degrees // of its outer bends
	Open           bool          // the path does not state the angle
	Flatter        bool          // than usual, because the former does not make the depth at the usual angle
	RiseMM, RollMM float64       // of a rolled set, its two shifts; 0 for others
	RiseWord       string        // which way each shift goes: up, out
	RollWord       string
	Rolled         units.Degrees // how far its plane leans from the rise; 0 for others
	Bends          int
	First          int // number of its first bend along the run
	Marks          SetMarks
}

// usualAngles are those that a set is bent to where the path does not say, the
// steepest first. Common practice, no source.
var usualAngles = []units.Degrees{45, 30, 22.5, 15, 10, 5}

// walkRuns settles the angles that the paths leave open and walks every drawn
// run. One place decides, so that walk and set-out bend the same set.
func (p *parser) walkRuns() {
	for i := range p.job.Runs {
		r := &p.job.Runs[i]
		if !r.Drawn {
			continue
		}
		s := &setOut{SetOut: SetOut{Run: i}, job: p.job, run: r}
		s.R, s.between = s.former(), sum.Term{Value: float64(p.job.Tools.Between.V)}
		for k := range r.Legs {
			if l := &r.Legs[k]; l.IsSet() && !l.Stated && s.conduit() {
				l.Angle = s.settledAngle(*l)
			}
		}
		r.Corners, r.Length, r.Bends = walk(r.Legs)
	}
}

// settledAngle is the steepest usual angle, not steeper than the kind of set
// is bent to, at which the former makes the depth; the usual one where none
// does.
func (s *setOut) settledAngle(l Leg) units.Degrees {
	for _, a := range usualAngles {
		if a <= l.usual() && s.least(bendsOf(l), a) <= float64(l.Set)+1e-9 {
			return a
		}
	}
	return l.usual()
}

// bendsOf is how many bends a set has.
func bendsOf(l Leg) int {
	switch {
	case l.Bubble && l.Over == 0:
		return 3
	case l.Double:
		return 4
	}
	return 2
}

// formed describes a set and works out its marks.
func (s *setOut) formed(l Leg) FormedSet {
	f := FormedSet{Word: l.Word, DepthMM: float64(l.Set), OverMM: float64(l.Over), Angle: l.Angle, Open: !l.Stated, Flatter: !l.Stated && l.Angle < l.usual(), Bends: bendsOf(l)}
	if x, y, z := math.Abs(l.Dir.X), math.Abs(l.Dir.Y), math.Abs(l.Dir.Z); max(x, y, z) < 1-1e-9 {
		f.RiseMM, f.RollMM = round6(z*f.DepthMM), round6((x+y)*f.DepthMM) // one of the three is nought
		f.RiseWord, f.RollWord = upright.word(l.Dir.Z), across.word(l.Dir.X)
		if x == 0 {
			f.RollWord = offWall.word(l.Dir.Y)
		}
		if z == 0 {
			f.RiseWord, f.RollWord = across.word(l.Dir.X), offWall.word(l.Dir.Y)
			f.RiseMM, f.RollMM = round6(x*f.DepthMM), round6(y*f.DepthMM)
		}
		f.Rolled = units.Degrees(math.Atan2(f.RollMM, f.RiseMM) * 180 / math.Pi)
	}
	if !s.conduit() {
		return f
	}
	f.First = s.bendsSoFar + 1
	s.bendsSoFar += f.Bends
	s.setSteps(&f, float64(l.Over))
	s.flat(l, &f)
	return f
}

// names lists a set's bends: bends 1 to 3.
func (f *FormedSet) names() string {
	if f.Bends == 2 {
		return fmt.Sprintf("bends %d and %d", f.First, f.First+1)
	}
	return fmt.Sprintf("bends %d to %d", f.First, f.First+f.Bends-1)
}

// least is the least depth of so many bends at an angle without steps.
func (s *setOut) least(bends int, a units.Degrees) float64 {
	least := LeastSet
	if bends == 3 {
		least = LeastBubble
	}
	return s.apart(nil, least(nil, s.R, a), a, "").Value
}

// apart is the least depth of a set whose bends stand as far apart as the job
// states: each millimetre of straight on the slope raises it by its sine.
//
// Source: geometry.
func (s *setOut) apart(w *sum.Work, least sum.Term, a units.Degrees, tag string) sum.Term {
	if s.between.Value == 0 {
		return least
	}
	return w.Let("Hb"+tag, "least depth of set with that straight between its bends", "mm", sum.Add(sum.T(least), sum.Times(sum.T(s.between), sum.T(sine(w, a)))))
}

// flat says where a double set's straight between away and back is less than
// the job states between two bends.
func (s *setOut) flat(l Leg, f *FormedSet) {
	if over := float64(l.Over); f.Bends == 4 && over < s.between.Value-1e-6 {
		s.lack(Lack{What: fmt.Sprintf("%s of %s mm: straight between bends %d and %d", f.Word, units.Format(f.DepthMM), f.First+1, f.First+2),
			Value: over, Limit: s.between.Value, Instead: "over " + units.Format(math.Ceil(s.between.Value)) + " mm in the path", about: "flat of " + aboutSet(len(s.Sets))})
	}
}

// setSteps writes a set's working down and says whether the former makes it.
func (s *setOut) setSteps(f *FormedSet, overMM float64) {
	w := s.w
	tag := s.setTag()
	H := s.depth(f, tag)
	w.Given("angle of its outer bends", degrees("θ"+tag, f.Angle))
	var least sum.Term
	if f.Bends == 3 {
		least = LeastBubble(w, s.R, f.Angle)
		f.Marks = bubbleMarks(w, s.R, H, f.Angle, tag)
	} else {
		least = LeastSet(w, s.R, f.Angle)
		f.Marks = setMarks(w, s.R, H, f.Angle, tag)
	}
	least = s.apart(w, least, f.Angle, tag)
	if f.Bends == 4 {
		w.Let("2k"+tag, "shortening of both halves", "mm", sum.Times(sum.N(2), sum.T(sum.Term{Symbol: "k" + tag, Value: f.Marks.Shrink, Unit: "mm"})))
		f.Marks.Shrink *= 2
	}
	s.setReach(f, H, overMM, tag)
	if w.AtMost("depth of the "+f.Word, least, H) {
		return
	}
	wrong := "run into each other"
	if f.Marks.Straight >= 0 {
		wrong = fmt.Sprintf("leave %s mm of straight between two, less than between bends: %s mm", sum.Figure(f.Marks.Straight), units.Format(s.between.Value))
	}
	s.lack(Lack{What: fmt.Sprintf("%s of %s mm at %s°: %s %s", f.Word, units.Format(f.DepthMM), units.Format(float64(f.Angle)), f.names(), wrong),
		Value: f.DepthMM, Limit: least.Value, about: aboutSet(len(s.Sets))})
}

// aboutSet names the set of that index for a lack.
func aboutSet(i int) string { return fmt.Sprintf("set %d", i) }

// depth is a set's depth; of a rolled set it follows from its two shifts.
func (s *setOut) depth(f *FormedSet, tag string) sum.Term {
	if f.Rolled == 0 {
		return s.w.Given(f.Word+": depth", sum.Term{Symbol: "H" + tag, Value: f.DepthMM, Unit: "mm"})
	}
	u := s.w.Given(f.Word+" of two directions: rise", sum.Term{Symbol: "rise" + tag, Value: f.RiseMM, Unit: "mm"})
	v := s.w.Given("roll, square to it", sum.Term{Symbol: "roll" + tag, Value: f.RollMM, Unit: "mm"})
	H := s.w.Let("H"+tag, "true depth, in the plane that it leans to", "mm", sum.Root(sum.Add(sum.Square(sum.T(u)), sum.Square(sum.T(v)))))
	s.w.Let("tan ρ"+tag, "lean of that plane", "", sum.Over(sum.T(v), sum.T(u)))
	s.w.Given("lean of that plane from the rise, the angle of that tangent", degrees("ρ"+tag, f.Rolled))
	return H
}

// sense is the two words of a direction, the one above nought first.
type sense [2]string

var upright, across, offWall = sense{"up", "down"}, sense{"right", "left"}, sense{"out", "in"}

func (s sense) word(v float64) string {
	if v < 0 {
		return s[1]
	}
	return s[0]
}
