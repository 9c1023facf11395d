package route

import (
	"fmt"
	"math"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
)

// ExpansionJoint is an expansion coupler in a straight of plastic.
type ExpansionJoint struct {
	At        float64 // mm, the middle of the opening
	OpeningMM float64 // between the tube ends on the day
	MarkMM    float64 // from the end of the tube after it: where the mouth of the sliding socket stands on the day
	FixedMM   float64 // of the tube before it in the coupler's fixed end, home to the shoulder
}

// body is the stretch of tube that the coupler takes. Its fixed end is on the
// tube before it.
func (e ExpansionJoint) body() (from, to float64) {
	shoulder := e.At - e.OpeningMM/2
	return shoulder - e.FixedMM, shoulder + e.OpeningMM + e.MarkMM
}

// joints places expansion couplers: none where bends or sets take the movement
// up, else so that no stretch of straight is longer than one coupler serves.
func (s *setOut) joints() {
	if s.run.Enc.Material != factors.Plastic || !s.conduit() || s.run.Fixed.V != OnSurface {
		return
	}
	longest := 0.0
	for _, p := range s.Parts {
		longest = max(longest, p.Long())
	}
	spacing, _ := uk.ExpansionCoupler()
	if longest/1000 <= spacing.Num && !s.job.Swing.Lowest.Said() {
		return
	}
	var span sum.Term
	one := ExpansionJoint{}
	opening := s.worked(func() { span = s.expansionCoupler(&one) })
	half, reach := one.OpeningMM/2, span.Value*1000+1e-6
	last := 0.0
	for _, p := range s.Parts {
		if p.Kind == MadePart {
			last = p.From
		}
		from := p.From
		for n := math.Ceil(p.Long()/1000/span.Value-1e-9) - 1; n > 0; n-- {
			at := s.wholeLengths(last, from+(p.To-from)/(n+1), half, p)
			if at-half-from > reach || (p.To-at-half)/n > reach {
				at = from + (p.To-from)/(n+1)
			}
			one.At, s.Opening = at, opening
			s.Joints = append(s.Joints, one)
			from, last = at+half, at+half
		}
	}
}

// expansionCoupler works out how a coupler is set on the day, and the straight
// that it serves.
//
// Source: sockets of a maker's coupler (read); geometry.
func (s *setOut) expansionCoupler(e *ExpansionJoint) (span sum.Term) {
	span, opening := ExpansionSpan(s.w, s.job.SwingOf(s.run))
	sliding, fixed := uk.ExpansionSocket()
	d := sum.Term{Symbol: "d", Unit: "mm"}
	if g, ok := bySize(s.job.Tools.Sliding, s.run.Enc); ok {
		d.Value = float64(g.V)
		s.w.Given("sliding socket, home to the shoulder, as the job states", d)
	} else {
		d = s.w.Let("d", "sliding socket, home to the shoulder", "mm", sum.Times(sum.N(1000), sum.T(sliding.Term("sliding socket"))))
	}
	i := s.w.Let("i", "mark on the tube that slides: its end to the mouth of the socket on the day", "mm", sum.Sub(sum.T(d), sum.T(opening)))
	e.OpeningMM, e.MarkMM, e.FixedMM = opening.Value, i.Value, fixed.Num*1000
	if _, movement := uk.ExpansionCoupler(); d.Value < 2000*movement.Num {
		s.advise(fmt.Sprintf("sliding socket of %s mm: the tube leaves it when it is coldest, as it moves %s mm in all", sum.Figure(d.Value), sum.Figure(2000*movement.Num)))
	}
	return span
}

// wholeLengths moves an expansion coupler to where a whole number of stock
// lengths from the joint before ends, if that lies on the straight: the tube
// has a joint there anyhow.
func (s *setOut) wholeLengths(last, ideal, half float64, p TubePart) float64 {
	stock := float64(s.job.StockLength(s.run.Enc).MM())
	at := last + math.Max(1, math.Round((ideal-last)/stock))*stock + half
	if at < p.From+s.straight.Value || at > p.To-s.straight.Value {
		return ideal
	}
	return at
}

// SwingOf is the range of temperature that a run meets: the job's, in the sun
// where the run says so.
func (j *Job) SwingOf(r *Run) Swing {
	s := j.Swing
	if r.Sun.Said() {
		s.Sun = r.Sun
	}
	return s
}

// ExpansionSpan returns how long a straight one expansion coupler serves, in
// metres, and how far its tube ends are set apart on the day, in mm: by the
// temperature where it is known, else in the middle.
//
// Source: ΔL = α L ΔT, geometry; makers' coefficients, spacing and movement
// (read).
func ExpansionSpan(w *sum.Work, t Swing) (span, opening sum.Term) {
	spacing, movement := uk.ExpansionCoupler()
	m := w.Given("farthest apart, by the makers", spacing.Term("J"))
	free := w.Let("v", "movement of a coupler each way", "mm", sum.Times(sum.N(1000), sum.T(movement.Term("free movement"))))
	travel := w.Let("V", "movement in all", "mm", sum.Times(sum.N(2), sum.T(free)))
	if !t.Lowest.Said() {
		return w.Let("Lmax", "straight that one coupler serves", "m", sum.T(m)),
			w.Let("o", "opening where no temperature is stated: the middle", "mm", sum.Over(sum.T(travel), sum.N(2)))
	}
	low := w.Given("lowest temperature", sum.Term{Symbol: "tmin", Value: float64(t.Lowest.V), Unit: "°C"})
	high := sum.Term{Symbol: "tmax", Value: float64(t.Highest.V), Unit: "°C"}
	if !t.Sun.V {
		w.Given("highest temperature", high)
	} else {
		high.Symbol = "tair"
		w.Given("highest temperature of the air", high)
		high = w.Let("tmax", "highest temperature in direct sun", "°C", sum.Add(sum.T(high), sum.T(uk.SunRise().Term("sun"))))
	}
	dT := w.Let("ΔT", "range of temperature", "K", sum.Sub(sum.T(high), sum.T(low)))
	figure := t.Figure.V
	if figure == "" {
		figure = "larger"
	}
	alpha := uk.PlasticExpansion(figure).Term("α")
	alpha.Unit = "mm/(m K)"
	w.Given("expansion of the plastic, the "+figure+" of three figures in print (0.07, 0.067, 0.0608)", alpha)
	span = w.Let("Lmax", "straight that one coupler serves", "m", sum.Min(sum.T(m), sum.Over(sum.T(free), sum.Times(sum.T(alpha), sum.T(dT)))))
	if !t.Fitted.Said() {
		return span, w.Let("o", "opening where the day's temperature is not stated: the middle", "mm", sum.Over(sum.T(travel), sum.N(2)))
	}
	now := w.Given("temperature on the day", sum.Term{Symbol: "tnow", Value: float64(t.Fitted.V), Unit: "°C"})
	return span, Opening(w, travel, high, now, low)
}

// Opening is how far apart the ends in an expansion coupler are set on the day.
//
// Source: geometry; a maker's worked example agrees.
func Opening(w *sum.Work, travel, high, now, low sum.Term) sum.Term {
	return w.Let("o", "opening of the coupler on the day", travel.Unit,
		sum.Over(sum.Times(sum.T(travel), sum.Sub(sum.T(high), sum.T(now))), sum.Sub(sum.T(high), sum.T(low))))
}

// Movement is how much a straight grows.
//
//	alpha  mm/(m K);  long  m;  swing  K
//
// Source: ΔL = α L ΔT.
func Movement(w *sum.Work, alpha, long, swing sum.Term) sum.Term {
	return w.Let("ΔL", "movement", "mm", sum.Times(sum.T(alpha), sum.T(long), sum.T(swing)))
}
