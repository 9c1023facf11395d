package route

import (
	"fmt"
	"math"

	"tubewright/factors/units"
)

// fittingsTurn complains about a conduit that runs along inside a trunking, and a corner that runs make at a fitting which does
// not turn that way: a bend would have to stand on it. A coupler goes straight
// on, an elbow and an inspection bend turn a right angle, an inspection tee has
// two mouths in line and one square to them (trade names; common practice).
func (s *setOut) fittingsTurn() {
	if !s.conduit() {
		return
	}
	for _, place := range []int{s.run.From, s.run.To} {
		if place < 0 {
			continue
		}
		switch pl := &s.job.Places[place]; pl.Kind {
		case Coupler:
			s.meet(place, 0)
		case Elbow, InspectionBend:
			s.meet(place, 90)
		case InspectionTee:
			s.tee(place)
		case Entry:
			s.alongTrunking(place)
		}
	}
}

// meet compares the angle at which a run meets another with what the fitting
// between them turns.
func (s *setOut) meet(place int, turns float64) {
	for _, other := range s.job.Places[place].Runs {
		in, drawn := s.job.away(s.Run, place)
		out, also := s.job.away(other, place)
		if other == s.Run || !drawn || !also {
			continue
		}
		in = Point{}.Sub(in)
		angle := math.Atan2(in.Cross(out).Len(), in.Dot(out)) * 180 / math.Pi
		rest := units.Degrees(math.Abs(angle - turns))
		if rest < 0.5 {
			continue
		}
		pl := &s.job.Places[place]
		a, b := &s.job.Runs[min(s.Run, other)], &s.job.Runs[max(s.Run, other)]
		s.lack(Lack{What: fmt.Sprintf("runs %s and %s meet at %s° at the %s %s, which turns %s°: a bend of %s° would stand on it",
			a.Name, b.Name, inDegrees(angle), pl.Kind, pl.Name, inDegrees(turns), inDegrees(float64(rest))), Limit: s.tan(min(rest, 90)) + s.straight.Value,
			Instead: "another fitting (is: coupler, elbow, inspection bend, box), or the bend within one run, clear of the fitting"})
	}
}

func inDegrees(v float64) string { return units.Format(math.Round(v*100) / 100) }

// tee says where a tee does not fit its runs.
func (s *setOut) tee(place int) {
	pl := &s.job.Places[place]
	var dirs []Point
	for _, r := range pl.Runs {
		if d, ok := s.job.away(r, place); ok {
			dirs = append(dirs, d)
		}
	}
	opposite, same := pairs(dirs)
	if n := len(pl.Runs); n > 3 || same > 0 || n == 3 && len(dirs) == 3 && (opposite != 1 || !inOnePlane(dirs)) {
		s.lack(Lack{What: fmt.Sprintf("inspection tee %s does not fit its %d runs: it has two mouths in line and one square to them", pl.Name, n), Limit: s.straight.Value,
			Instead: "a box there"})
	}
}
