package route

import (
	"fmt"
	"math"
	"strings"

	"tubewright/factors/sum"
	"tubewright/factors/units"
)

// room is one straight way between two fixed points, and what takes of it: the
// tube's ends, bends, and the sets in it.
type room struct {
	what   string
	longMM float64
	takes  []take
}

// take is something that needs its length of a straight way.
type take struct {
	what   string
	mm     float64
	place  bool // an end at a place
	formed bool // a bend of its own
}

// angleBetween is how far a way turns.
func angleBetween(from, to Point) units.Degrees {
	return units.Degrees(math.Atan2(from.Cross(to).Len(), from.Dot(to)) * 180 / math.Pi)
}

// turnTake is what a turn takes of the way on either side of it.
func (s *setOut) turnTake(from, to Point) take {
	a := angleBetween(from, to)
	if s.made(turning{angle: a, set: -1, run: s.Run}) {
		return take{what: NormalBend, mm: s.reach().Value}
	}
	return take{what: "bend of " + units.Format(math.Round(float64(a)*100)/100) + "°", mm: s.tan(a), formed: s.conduit()}
}

// numbered gives a formed bend its number along the run.
func (s *setOut) numbered(t take) take {
	if t.formed {
		s.bendsSoFar++
		t.what = fmt.Sprintf("bend %d (%s)", s.bendsSoFar, strings.TrimPrefix(t.what, "bend of "))
	}
	return t
}

func (s *setOut) endTake(i int) take {
	return take{what: "end at " + s.endName(i), mm: s.Ends[i].SetbackMM(), place: true}
}

// close complains about a way that is too short for what takes of it. What
// stands in which order does not matter: the complaint is the same from
// whichever end a run is walked.
func (s *setOut) close(r room) {
	if !s.conduit() {
		return
	}
	need := 0.0
	terms := make([]sum.Expr, 0, 2*len(r.takes))
	add := func(what string, mm float64) {
		need += mm
		terms = append(terms, sum.T(sum.Term{Symbol: what, Value: mm, Unit: "mm"}))
	}
	names := make([]string, len(r.takes))
	for i, t := range r.takes {
		names[i] = t.what
		add(t.what, t.mm)
		switch {
		case i == 0:
		case !t.place && !r.takes[i-1].place:
			if s.between.Value > 0 {
				add("between", s.between.Value)
			}
		case len(r.takes) > 2 || !t.place || !r.takes[i-1].place:
			add("straight", s.straight.Value)
		}
	}
	if r.longMM >= need-1e-6 {
		return
	}
	least := s.w.Let("least", r.what+": what it takes", "mm", sum.Add(terms...))
	s.lack(Lack{What: fmt.Sprintf("%s has no room for what is in it (%s)", r.what, strings.Join(names, ", ")),
		Value: r.longMM, Limit: least.Value, Instead: wayThere(least.Value), about: r.what})
}

// wayThere is a remedy: so much of way.
func wayThere(mm float64) string {
	return units.Format(math.Ceil(mm-1e-6)) + " mm of way there"
}
