package route

import (
	"fmt"
	"slices"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
)

// TubePiece is one length of tube, cut and bent.
type TubePiece struct {
	Name      string  // "A/1"
	From, To  float64 // mm along the run's tube
	Ends      [2]string
	Bends     []int   // indices in SetOut.Bends
	RunningMM float64 // long thread at the far end, for a running coupler; 0 for none
}

// Long is what the piece is cut to before bending, in mm.
func (p TubePiece) Long() float64 { return p.To - p.From }

// NormalBend is a bought bend between two tubes, by the name that the bill has.
const NormalBend = "normal bend"

// split divides the tube at fittings, expansion couplers and, where it is
// longer than the stock, at couplers clear of every bend: whole stock lengths
// first, which keep the threads that they come with.
func (s *setOut) split() {
	joints := s.Joints
	start, from := 0.0, s.Ends[0].Entry
	stretch := func(to float64, end string) { s.stretch(start, to, from, end) }
	for _, p := range s.Parts {
		for len(joints) > 0 && joints[0].At <= p.To {
			half := joints[0].OpeningMM / 2
			stretch(joints[0].At-half, "expansion coupler")
			start, from = joints[0].At+half, "expansion coupler"
			joints = joints[1:]
		}
		if p.Kind == MadePart {
			name := NormalBend
			if p.Fitting != "" {
				name = p.Fitting
			}
			stretch(p.From, name)
			start, from = p.To, name
		}
	}
	stretch(s.LengthMM, s.Ends[1].Entry)
	s.namePieces()
}

// namePieces numbers the pieces and finds the bends in each.
func (s *setOut) namePieces() {
	for i := range s.Pieces {
		p := &s.Pieces[i]
		p.Name, p.Bends = fmt.Sprintf("%s/%d", s.run.Name, i+1), nil
		for k, b := range s.Bends {
			if b.Centre > p.From && b.Centre < p.To {
				p.Bends = append(p.Bends, k)
			}
		}
	}
}

// stretch divides one tube by the stock length.
func (s *setOut) stretch(from, to float64, first, last string) {
	if to-from <= 0 {
		return // a lack says so already
	}
	stock := float64(s.job.StockLength(s.run.Enc).MM())
	L := sum.Term{Symbol: "length", Value: to - from, Unit: "mm"}
	for !s.w.AtMost("length of tube", L, sum.Term{Symbol: "stock length", Value: stock, Unit: "mm"}) {
		low, at, ok := s.couplerAt(from, to, stock)
		if !ok {
			s.lack(s.noCoupler(from, stock))
			break
		}
		at = s.clearOfHoles(at, low, to, stock)
		s.w.Notef("coupler %s mm from the first end, clear of bends", sum.Figure(at))
		s.Pieces = append(s.Pieces, TubePiece{From: from, To: at, Ends: [2]string{first, "coupler"}})
		from, first = at, "coupler"
		L.Value = to - from
	}
	s.Pieces = append(s.Pieces, TubePiece{From: from, To: to, Ends: [2]string{first, last}})
}

// couplerAt is the farthest place for a coupler within one stock length, and the
// nearest on the same straight.
func (s *setOut) couplerAt(from, to, stock float64) (nearest, at float64, ok bool) {
	least := uk.SetOutPractice("least piece").Num
	low, high := from+least, min(from+stock, to-least)
	for _, p := range s.Parts {
		if a, b := s.roomFor(p); p.Kind == StraightPart && a <= b && a <= high && b >= low {
			nearest, at, ok = max(a, low), min(b, high), true
			if at < nearest {
				ok = false
			}
		}
	}
	return nearest, at, ok
}

// roomFor is where a coupler may stand on a straight: clear of bends, and of the
// cut-outs of folded trunking.
func (s *setOut) roomFor(p TubePart) (from, to float64) {
	if !s.conduit() && !slices.ContainsFunc(s.Parts, func(q TubePart) bool { return q.Kind == BendPart }) {
		return p.From, p.To
	}
	return p.From + s.straight.Value, p.To - s.straight.Value
}

// noCoupler says that within a stock length nothing but bends lies where a
// coupler could go, and which.
func (s *setOut) noCoupler(from, stock float64) Lack {
	next := s.nextRoom(from + stock)
	what := "tube without room for a coupler"
	var among []int
	for _, b := range s.Bends {
		if b.End > from && b.Start < next {
			among = append(among, b.Number)
		}
	}
	switch n := len(among); {
	case n == 1:
		what += fmt.Sprintf(": it would stand on bend %d", among[0])
	case n > 1:
		what += fmt.Sprintf(": it would stand on a bend, so closely do bends %d to %d follow", among[0], among[n-1])
	}
	what += "; stock length against the next straight that could have one"
	return Lack{What: what, Value: stock, Limit: next, Instead: "a box among the bends, or a longer straight there"}
}

// nextRoom is the first place for a coupler after a point.
func (s *setOut) nextRoom(after float64) float64 {
	for _, p := range s.Parts {
		if a, b := s.roomFor(p); p.Kind == StraightPart && a <= b && a >= after {
			return a
		}
	}
	return s.LengthMM
}
