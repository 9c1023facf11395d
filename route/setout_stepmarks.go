package route

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"tubewright/factors/sum"
)

// pieceSteps writes down where the pieces of a tube start and how long they are,
// and gathers where its parts lie along the run.
func (s *setOut) pieceSteps() {
	if !s.w.Keeps() || !s.Made() {
		return
	}
	var at linear
	folds := 0
	for k, p := range s.Parts {
		s.partAt = append(s.partAt, at)
		switch p.Kind {
		case StraightPart:
			at = at.plus(1, s.straightTerm(k))
		case BendPart:
			to := at
			if !s.conduit() {
				folds++
				to = at.plus(2, s.folds[folds-1])
			} else {
				to = at.plus(1, developed(s.w, s.R, rounded(p.Angle)))
				s.bendAt = append(s.bendAt, [2]linear{at, to})
			}
			at = to
		}
	}
	for i, p := range s.Pieces {
		n := strconv.Itoa(i + 1)
		from := s.runPoint("a"+n, "piece "+p.Name+" starts along the run, as said above", p.From)
		to := s.stockEnd("r"+n, p, from)
		if to == nil {
			to = s.runPoint("r"+n, "piece "+p.Name+" ends along the run, as said above", p.To)
		}
		if math.Abs(p.To-s.LengthMM) < 1e-6 {
			to = linear{}.plus(1, s.whole)
		}
		s.pieceFrom = append(s.pieceFrom, from)
		s.pieceLong = append(s.pieceLong, to.add(-1, from).let(s.w, "cut "+n, "piece "+p.Name+": cut to"))
	}
}

// stockEnd is where a piece ends that is one whole stock length.
func (s *setOut) stockEnd(symbol string, p TubePiece, from linear) linear {
	stock := sum.Term{Symbol: "stock length", Value: float64(s.job.StockLength(s.run.Enc).MM()), Unit: "mm"}
	if math.Abs(p.Long()-stock.Value) > 1e-6 {
		return nil
	}
	return linear{}.plus(1, from.plus(1, stock).let(s.w, symbol, "piece "+p.Name+", a whole stock length, ends along the run"))
}

// runPoint is a point along the run's tube: its start, a made bend, or a joint that
// was placed.
func (s *setOut) runPoint(symbol, meaning string, atMM float64) linear {
	if atMM == 0 {
		return nil
	}
	for k, p := range s.Parts {
		if p.Kind == MadePart && math.Abs(p.From-atMM) < 1e-6 {
			return s.partAt[k]
		}
	}
	for i, p := range s.Pieces[:len(s.pieceFrom)] {
		if p.To == atMM && symbol[0] == 'a' && i == len(s.pieceFrom)-1 {
			return linear{}.plus(1, sum.Term{Symbol: "r" + strconv.Itoa(i+1), Value: atMM, Unit: "mm"})
		}
	}
	if math.Abs(atMM-s.LengthMM) < 1e-6 {
		return nil
	}
	return linear{}.plus(1, s.w.Given(meaning, sum.Term{Symbol: symbol, Value: atMM, Unit: "mm"}))
}

// markSteps writes down every figure of the tables of marks.
func (s *setOut) markSteps() {
	if !s.w.Keeps() || len(s.Lacks) > 0 || len(s.Bends) == 0 {
		return
	}
	deduct := s.w.Let("deduct", "start of a right angle to its back", "mm", sum.Add(sum.T(s.R), sum.Over(sum.T(sum.Term{Symbol: "OD", Value: s.ODMM, Unit: "mm"}), sum.N(2))))
	mm := func(symbol string, v float64) sum.Term { return sum.Term{Symbol: symbol, Value: v, Unit: "mm"} }
	for i := range s.Pieces {
		last := sum.Term{}
		for _, k := range s.Pieces[i].Bends {
			b := &s.Bends[k]
			n := strconv.Itoa(b.Number)
			A := mm(named(s.w, "A", b.Angle), b.End-b.Start)
			at := s.bendAt[k][0].add(-1, s.pieceFrom[i])
			if last.Symbol != "" {
				before := s.Bends[k-1]
				at = linear{}.plus(1, mm("end "+strconv.Itoa(before.Number), before.End-s.Pieces[i].From)).add(1, s.bendAt[k][0].add(-1, s.bendAt[k-1][1]))
			}
			start := at.let(s.w, "start "+n, fmt.Sprintf("bend %d: start of its curve, from the first end of piece %s", b.Number, s.Pieces[i].Name))
			s.w.Let("centre "+n, "its centre", "mm", sum.Add(sum.T(start), sum.Over(sum.T(A), sum.N(2))))
			end := s.w.Let("end "+n, "end of its curve", "mm", sum.Add(sum.T(start), sum.T(A)))
			if last.Symbol != "" {
				s.w.Let("apart "+n, "from the start before to this one", "mm", sum.Sub(sum.T(start), sum.T(last)))
			} else if b.Angle == 90 {
				s.w.Let("back "+n, "end of the tube to the back of the bend", "mm", sum.Add(sum.T(start), sum.T(deduct)))
			}
			s.w.Let("far "+n, "end of its curve from the piece's other end", "mm", sum.Sub(sum.T(s.pieceLong[i]), sum.T(end)))
			last = start
		}
	}
}

// saddleSteps writes down where the saddles of one straight stand, from the first
// end of the piece that each holds.
func (s *setOut) saddleSteps(part, first int, usual []float64, e sum.Term) {
	if !s.w.Keeps() || first == len(s.Saddles) {
		return
	}
	e.Cite = nil // named where e is looked up
	on := s.Saddles[first:]
	at := s.saddleAlong(part, on, usual, e)
	for i, d := range on {
		piece := slices.IndexFunc(s.Pieces, func(p TubePiece) bool { return d.At >= p.From && d.At < p.To })
		if piece < 0 {
			continue
		}
		n := strconv.Itoa(first + i + 1)
		s.partAt[part].add(1, at[i]).add(-1, s.pieceFrom[piece]).let(s.w, "saddle "+n, "saddle "+n+", from the first end of piece "+s.Pieces[piece].Name)
	}
}

// saddleAlong is where saddles stand along their straight.
func (s *setOut) saddleAlong(part int, on []SaddlePoint, usual []float64, e sum.Term) []linear {
	from, S := s.Parts[part].From, s.straightTerm(part)
	mm := func(symbol string, v float64) sum.Term {
		return sum.Term{Symbol: symbol + index(S), Value: v, Unit: "mm"}
	}
	lead, last := linear{}.plus(1, e), linear{}.plus(1, e)
	switch {
	case !slices.EqualFunc(on, usual, func(d SaddlePoint, u float64) bool { return d.At == from+u }):
		lead = s.movedLead(part, on[0].At, S, e)
		if len(on) > 1 {
			last = linear{}.plus(1, s.w.Given("last saddle on "+S.Symbol+", to the end of the straight", mm("w", s.Parts[part].To-on[len(on)-1].At)))
		}
	case len(on) == 1:
		lead = linear{}.plus(0.5, S)
	case usual[0] != e.Value:
		lead = linear{}.plus(1.0/3, S)
		last = lead
	}
	out := []linear{lead}
	if len(on) == 1 {
		return out
	}
	between := linear{}.plus(1, S).add(-1, lead).add(-1, last).expr()
	if n := len(on) - 1; n > 1 {
		between = sum.Over(between, sum.N(float64(n)))
	}
	u := s.w.Let(mm("u", 0).Symbol, "from saddle to saddle on "+S.Symbol+", were all spaces equal", "mm", between)
	for i := 1; i < len(on); i++ {
		next := lead.plus(float64(i), u)
		if off := on[i].At - on[0].At - float64(i)*u.Value; math.Abs(off) > 1e-6 {
			next = next.plus(1, s.w.Given(fmt.Sprintf("moved by, clear of a coupler, saddle %d on %s", i+1, S.Symbol), mm("off "+strconv.Itoa(i+1)+" on S", off)))
		}
		out = append(out, next)
	}
	return out
}

// movedLead is where on its straight the first saddle stands that has moved off
// a coupler: right beside a running coupler and its thread, or where the spaces
// came out.
func (s *setOut) movedLead(part int, atMM float64, S, e sum.Term) linear {
	if math.Abs(atMM-s.Parts[part].From-e.Value) < 1e-6 {
		return linear{}.plus(1, e)
	}
	symbol, meaning := "v"+index(S), "first saddle on "+S.Symbol+", moved clear of a coupler: from the start of the straight"
	mm := func(symbol string, v float64) sum.Term { return sum.Term{Symbol: symbol, Value: v, Unit: "mm"} }
	for i, p := range s.Pieces {
		takes := s.runningTakes(p.To, p.RunningMM)
		joint := linear{}.plus(1, mm("r"+strconv.Itoa(i+1), p.To)).add(-1, s.partAt[part])
		switch {
		case p.RunningMM == 0:
		case math.Abs(atMM-takes[1]) < 1e-6:
			return linear{}.plus(1, joint.plus(1, mm("h", s.halfCouplerMM)).plus(1, mm("OD", s.ODMM)).let(s.w, symbol, meaning+", past half of it and a tube's width"))
		case math.Abs(atMM-takes[0]) < 1e-6:
			return linear{}.plus(1, joint.plus(-1, mm("Y", p.RunningMM)).plus(-1, mm("OD", s.ODMM)).let(s.w, symbol, meaning+", short of its long thread by a tube's width"))
		}
	}
	return linear{}.plus(1, s.w.Given(meaning, mm(symbol, atMM-s.Parts[part].From)))
}
