package route

import (
	"math"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
)

// runningCoupler is the end of two pieces that one coupler joins, run back on
// the long thread of the first of them.
const runningCoupler = "running coupler"

// captive reports whether neither end of a run can be turned, as the bill
// counts it: a steel tube between the spouts of two boxes that other runs hold
// as well.
func (j *Job) captive(r *Run) bool { return (&takeoff{job: j}).captive(r) > 0 }

// freeCaptive gives a captive tube a running coupler: the joint of two lengths
// that lies farthest along where there is one, else a cut of its own. Saddles
// are placed after it and keep clear of all that it takes.
func (s *setOut) freeCaptive() {
	if len(s.Pieces) == 0 || !s.job.captive(s.run) {
		return
	}
	s.w.Note("neither end of the tube can be turned: both screw into boxes that other runs hold, so one joint is a running coupler (common practice, no source)")
	Y := s.runningThread()
	clear := max(s.straight.Value, Y.Value)
	for i := len(s.Pieces) - 1; i > 0; i-- {
		p := &s.Pieces[i]
		if lo, hi := s.runningRoom(p.From, clear, 0); p.Ends[0] == "coupler" && lo <= p.From && p.From <= hi {
			s.Pieces[i-1].Ends[1], p.Ends[0] = runningCoupler, runningCoupler
			s.Pieces[i-1].RunningMM = Y.Value
			return
		}
	}
	s.cutCaptive(Y, clear)
}

// runningThread is how long the thread is that takes a coupler run right back,
// and its locknut. Half of the coupler takes the thread of the length that it
// is run on to, so it is no shorter than that thread, whether the job states it
// or the table does.
//
// Source: thread lengths of BS 4568 (read): a coupler is taken as two of the
// longest; the locknut is common practice, no source.
func (s *setOut) runningThread() sum.Term {
	longest := sum.Term{Symbol: "tmax", Value: s.ODMM, Unit: "mm"}
	if _, v, err := uk.Thread(s.run.Enc.Size); err == nil {
		longest = v.Term("tmax")
	}
	t := sum.Term{Symbol: "t", Value: s.ThreadMM, Unit: "mm"}
	h := s.w.Let("h", "half of the coupler, which takes one thread: not less than the longest of the table, nor than the thread cut here", "mm", sum.Max(sum.T(t), sum.T(longest)))
	s.halfCouplerMM = h.Value
	if g, ok := bySize(s.job.Tools.Running, s.run.Enc); ok {
		return s.w.Given("running thread, as the job states", sum.Term{Symbol: "Y", Value: float64(g.V), Unit: "mm"})
	}
	return s.w.Let("Y", "running thread: the whole coupler run back, and the locknut", "mm",
		sum.Add(sum.Times(sum.N(2), sum.T(h)), sum.T(uk.SetOutPractice("locknut").Term("n"))))
}

// runningRoom is where on the straight that holds a point a running coupler may
// stand, clear of bends and with so much left of the piece on either side; the
// first is beyond the last where there is no room.
func (s *setOut) runningRoom(at, clear, piece float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range s.Parts {
		if p.Kind == StraightPart && p.From <= at && at <= p.To {
			lo, hi = p.From+clear, p.To-clear
		}
	}
	for _, p := range s.Pieces {
		if piece > 0 && p.From <= at && at <= p.To {
			lo, hi = max(lo, p.From+piece), min(hi, p.To-piece)
		}
	}
	return lo, hi
}

// cutCaptive cuts a tube that has no joint to spare: in the middle of the
// widest gap between bends, ends and where its saddles would stand, on a straight
// that keeps room for a saddle beside it where one does.
func (s *setOut) cutCaptive(Y sum.Term, clear float64) {
	least := max(uk.SetOutPractice("least piece").Num, clear)
	best, widest, beside := math.NaN(), 0.0, false
	most := Lack{Value: 0, Limit: math.Inf(1)}
	usual := s.usualSaddles()
	for k, p := range s.Parts {
		if p.Kind != StraightPart {
			continue
		}
		points := []float64{p.From}
		for _, d := range usual {
			if d.Part == k {
				points = append(points, d.At)
			}
		}
		for i, to := range append(points[1:], p.To) {
			at := (points[i] + to) / 2
			lo, hi := s.runningRoom(at, clear, least)
			if lo > hi {
				if short := lo - hi; short < most.Limit-most.Value {
					most.Value, most.Limit = p.Long(), p.Long()+short
				}
				continue
			}
			at = min(hi, max(lo, at))
			room := len(points) == 1 || s.saddleBeside(p, s.runningTakes(at, Y.Value))
			if gap := to - points[i]; room && !beside || room == beside && gap > widest+1e-6 {
				best, widest, beside = at, gap, room
			}
		}
	}
	if math.IsNaN(best) {
		most.What = "no straight has room for the running coupler that a tube between two fixed boxes needs"
		most.Instead = "leave one box loose and screw it on, or a box without a spout at one end"
		s.lack(most)
		return
	}
	s.cutAt(best, Y.Value)
}

// usualSaddles are where saddles would stand without a running coupler.
func (s *setOut) usualSaddles() []SaddlePoint {
	if !s.saddled() {
		return nil
	}
	t := *s
	t.w, t.Saddles, t.Advice = nil, nil, nil
	t.saddles()
	return t.Saddles
}

// runningTakes is the stretch of tube that a running coupler takes, with a
// tube's width either side for a saddle: its long thread on the piece before
// it, on which it is run right back, and half of it on the next.
func (s *setOut) runningTakes(at, running float64) [2]float64 {
	return [2]float64{at - running - s.ODMM, at + s.halfCouplerMM + s.ODMM}
}

// cutAt makes two pieces of the one that holds a point.
func (s *setOut) cutAt(at, running float64) {
	for i, p := range s.Pieces {
		if at <= p.From || at >= p.To {
			continue
		}
		s.w.Notef("running coupler %s mm from the first end: as near the middle of the widest gap between bends and saddles as the least piece and the straight beside a bend let it; saddles keep clear of it and of its long thread", sum.Figure(at))
		first := TubePiece{From: p.From, To: at, Ends: [2]string{p.Ends[0], runningCoupler}, RunningMM: running}
		rest := TubePiece{From: at, To: p.To, Ends: [2]string{runningCoupler, p.Ends[1]}}
		s.Pieces = append(append(append([]TubePiece{}, s.Pieces[:i]...), first, rest), s.Pieces[i+1:]...)
		break
	}
	s.namePieces()
}
