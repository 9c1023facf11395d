package route

import (
	"fmt"
	"math"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

// former returns the radius of a bend's centre line: from a trial bend, as the
// job states it, or the least that the guide lets a conduit be bent to.
// Trunking turns at a corner.
//
// Source: geometry; IET On-Site Guide for the least inside radius (memory). No
// published table of formers was found: they differ by maker.
func (s *setOut) former() sum.Term {
	e := s.run.Enc
	if e.Kind == factors.Trunking {
		return sum.Term{Symbol: "R", Unit: "mm"}
	}
	OD := sum.Term{Symbol: "OD", Value: float64(e.Size), Unit: "mm"}
	if v, err := uk.OutsideDiameter(e); err == nil {
		OD = v.Term("OD")
	}
	s.w.Given("outside diameter", OD)
	s.ODMM = OD.Value
	if v, err := uk.Wall(e); err == nil {
		s.WallMM = v.Num
	}
	g, stated := bySize(s.job.Tools.Formers, e)
	if t, ok := bySize(s.job.Tools.Trials, e); ok {
		R := s.trialRadius(t, OD)
		if stated {
			s.advise(fmt.Sprintf("trial bend and former are both given for %s: the trial bend's radius of %s mm is used, not the former's %s mm", e, sum.Figure(R.Value), units.Format(float64(g.V))))
		}
		return s.reasonable(R, "by the trial bend", "measure it again, end of the tube to the back of the bend")
	}
	if stated {
		return s.reasonable(s.w.Given("centre-line radius of the former, as the job states", sum.Term{Symbol: "R", Value: float64(g.V), Unit: "mm"}), "of the former", "give the radius of the bend's centre line")
	}
	return s.w.Let("R", "centre-line radius, the least that the guide lets the tube be bent to; state the former's own", "mm", s.leastRadius())
}

// wideBend is a radius, in outside diameters, past which a figure is doubted: no
// former of the trade bends so wide (common practice, no source).
const wideBend = 12

// reasonable advises on a radius that a tube is hardly bent to: sharper than
// the guide allows, or far wider than a former.
func (s *setOut) reasonable(R sum.Term, whose, instead string) sum.Term {
	switch least := s.leastRadius().Eval(); {
	case R.Value < least-1e-6:
		s.advise(fmt.Sprintf("radius %s: %s mm to the centre line is sharper than the guide lets the tube be bent (inside radius of %s × outside diameter, so %s mm at least): %s",
			whose, sum.Figure(R.Value), units.Format(uk.LeastBendRadius().Num), sum.Figure(least), instead))
	case R.Value > wideBend*s.ODMM:
		s.advise(fmt.Sprintf("radius %s: %s mm to the centre line is more than %d outside diameters (%s mm; common practice, no source): %s",
			whose, sum.Figure(R.Value), wideBend, units.Format(wideBend*s.ODMM), instead))
	}
	return R
}

// advise keeps an advice and writes it down.
func (s *setOut) advise(text string) {
	s.Advice = append(s.Advice, text)
	s.w.Note(text)
}

// leastRadius is the centre line of the smallest inside radius.
func (s *setOut) leastRadius() sum.Expr {
	return sum.Times(sum.Add(sum.T(uk.LeastBendRadius().Term("k")), sum.N(0.5)), sum.T(sum.Term{Symbol: "OD", Value: s.ODMM, Unit: "mm"}))
}

// trialRadius works out a former's radius from one right angle: a former's
// deduct is not its centre-line radius, so it is measured.
func (s *setOut) trialRadius(t Trial, OD sum.Term) sum.Term {
	R := TrialRadius(s.w, float64(t.Legs[0]), float64(t.Legs[1]), OD, float64(t.Cut))
	least := 0.5 * OD.Value
	if R.Value < least {
		s.lack(Lack{What: "radius by the trial bend", Value: R.Value, Limit: least, Instead: "measure the trial bend again: end of the tube to the back of the bend, both legs"})
		R.Value = least
	}
	return R
}

// TrialRadius is the centre-line radius of a former by a trial right angle.
//
//	B1, B2  mm  end of the tube to the back of the bend, both legs
//	OD      mm  outside diameter
//	c       mm  what the tube was cut to
//
// Source: geometry; 2 − π/2 = 0.4292.
func TrialRadius(w *sum.Work, legA, legB float64, OD sum.Term, cut float64) sum.Term {
	B1 := w.Given("first leg of the trial bend, to the back of bend", sum.Term{Symbol: "B1", Value: legA, Unit: "mm"})
	B2 := w.Given("second leg, to the back of bend", sum.Term{Symbol: "B2", Value: legB, Unit: "mm"})
	c := w.Given("tube cut to, before bending", sum.Term{Symbol: "c", Value: cut, Unit: "mm"})
	save := sum.Sub(sum.N(2), sum.Over(sum.T(pi), sum.N(2)))
	return w.Let("R", "centre-line radius of the former, by the trial bend", "mm",
		sum.Over(sum.Sub(sum.Add(sum.T(B1), sum.T(B2)), sum.Add(sum.T(OD), sum.T(c))), save))
}

var pi = sum.Term{Symbol: "π", Value: math.Pi}

// degrees is an angle for a sum.
func degrees(symbol string, a units.Degrees) sum.Term {
	return sum.Term{Symbol: symbol, Value: float64(a), Unit: "°"}
}

func radians(a units.Degrees) float64 { return float64(a) * math.Pi / 180 }

// named is a symbol for one angle, g(90°); where no steps are kept the text is
// saved.
func named(w *sum.Work, symbol string, a units.Degrees) string {
	if !w.Keeps() {
		return symbol
	}
	return symbol + "(" + units.Format(math.Round(float64(a)*100)/100) + "°)"
}

func angleSymbol(w *sum.Work, a units.Degrees) string {
	if !w.Keeps() {
		return ""
	}
	return units.Format(float64(a)) + "°"
}

// ratio writes down a function of an angle as it stands in a book of tables.
func ratio(w *sum.Work, name string, a units.Degrees, v float64) sum.Term {
	if !w.Keeps() {
		return sum.Term{Value: v}
	}
	return w.Given(name+" of "+units.Format(float64(a))+"°", sum.Term{Symbol: name + " " + units.Format(float64(a)) + "°", Value: v})
}

func tangent(w *sum.Work, a units.Degrees) sum.Term {
	return ratio(w, "tan", a, math.Tan(radians(a)))
}
func sine(w *sum.Work, a units.Degrees) sum.Term   { return ratio(w, "sin", a, math.Sin(radians(a))) }
func cosine(w *sum.Work, a units.Degrees) sum.Term { return ratio(w, "cos", a, math.Cos(radians(a))) }

// developed is the tube in a bend: Rθ.
func developed(w *sum.Work, R sum.Term, a units.Degrees) sum.Term {
	return w.Let(named(w, "A", a), "tube in the bend", "mm", sum.Over(sum.Times(sum.T(R), sum.T(degrees(angleSymbol(w, a), a)), sum.T(pi)), sum.N(180)))
}

// corner is the start of a bend to the corner of its centre lines: R tan(θ/2).
func cornerLength(w *sum.Work, R sum.Term, a units.Degrees) sum.Term {
	return w.Let(named(w, "T", a), "start of the bend to its corner", "mm", sum.Times(sum.T(R), sum.T(tangent(w, a/2))))
}

// gain is what a bend saves against walking round its corner: 2R tan(θ/2) − Rθ.
// The rule of thumb, one and a half diameters for a right angle, falls short
// at a radius of four diameters (1.72) and is printed beside it.
//
// Source: geometry; 0.4292 R at 90°.
func gain(w *sum.Work, R sum.Term, a units.Degrees) sum.Term {
	T, A := cornerLength(w, R, a), developed(w, R, a)
	return w.Let(named(w, "g", a), "gain of the bend", "mm", sum.Sub(sum.Times(sum.N(2), sum.T(T)), sum.T(A)))
}

// Gain is what a bend of a centre-line radius saves, in mm.
func Gain(radiusMM float64, a units.Degrees) float64 {
	return gain(nil, sum.Term{Value: radiusMM}, a).Value
}

// SetMarks is what the two bends of a set need.
//
//	H  mm  depth
//	θ  °   angle of each bend
//	R  mm  radius of the centre line
//
// Between is from start of bend to start of bend along the tube before it is
// bent, H/sin θ − 2R tan(θ/2) + Rθ; Corners is from corner to corner of the
// centre lines; Multiplier is the handbook's plain rule, H/sin θ of the depth
// itself, which is the same but for three bends; Shrink is what the set takes
// from the length, H tan(θ/2) less both gains.
type SetMarks struct{ Between, Corners, Multiplier, Shrink, Straight float64 }

// setMarks works them out.
//
// The tag tells the symbols of one set from those of another in the same run.
//
// Source: geometry.
func setMarks(w *sum.Work, R, H sum.Term, a units.Degrees, tag string) SetMarks {
	T, A := cornerLength(w, R, a), developed(w, R, a)
	D := w.Let("D"+tag, "corner to corner, the plain multiplier 1/sin θ", "mm", sum.Over(sum.T(H), sum.T(sine(w, a))))
	between := w.Let("M"+tag, "start of bend to start of bend along the tube", "mm", sum.Add(sum.Sub(sum.T(D), sum.Times(sum.N(2), sum.T(T))), sum.T(A)))
	straight := w.Let("S"+tag, "straight between the two bends", "mm", sum.Sub(sum.T(D), sum.Times(sum.N(2), sum.T(T))))
	g := sum.Sub(sum.Times(sum.N(2), sum.T(T)), sum.T(A))
	shrink := w.Let("k"+tag, "shortening: tube beyond the straight way, less both gains", "mm", sum.Sub(sum.Times(sum.T(H), sum.T(tangent(w, a/2))), sum.Times(sum.N(2), g)))
	return SetMarks{between.Value, D.Value, D.Value, shrink.Value, straight.Value}
}

// bubbleMarks works out three bends: the middle one turns twice as far as each
// outer one, and rounds its corner off, so that it is laid higher for the tube
// itself to pass at the full depth. Between is from the start of an outer bend
// to the start of the middle one, Straight the straight between them; Shrink is
// what the whole set takes.
//
// Source: geometry.
func bubbleMarks(w *sum.Work, R, H sum.Term, a units.Degrees, tag string) SetMarks {
	c := w.Let("Hc"+tag, "depth at the corner of the middle bend, which rounds it off", "mm",
		sum.Add(sum.T(H), sum.Times(sum.T(R), sum.Sub(sum.Over(sum.N(1), sum.T(cosine(w, a))), sum.N(1)))))
	T, A := cornerLength(w, R, a), developed(w, R, a)
	T2, A2 := cornerLength(w, R, 2*a), developed(w, R, 2*a)
	D := w.Let("D"+tag, "corner to corner of the centre lines", "mm", sum.Over(sum.T(c), sum.T(sine(w, a))))
	plain := w.Let("Dh"+tag, "the handbook's plain multiplier 1/sin θ, of the height of the obstacle", "mm", sum.Over(sum.T(H), sum.T(sine(w, a))))
	S := w.Let("S"+tag, "straight between an outer and the middle bend", "mm", sum.Sub(sum.Sub(sum.T(D), sum.T(T)), sum.T(T2)))
	between := w.Let("M"+tag, "start of the outer bend to start of the middle bend along the tube", "mm", sum.Add(sum.T(S), sum.T(A)))
	w.Let("M2"+tag, "start of the middle bend to start of the last bend", "mm", sum.Add(sum.T(S), sum.T(A2)))
	g := w.Let("gb"+tag, "gain of the three bends", "mm", sum.Sub(sum.Add(sum.Times(sum.N(4), sum.T(T)), sum.Times(sum.N(2), sum.T(T2))), sum.Add(sum.Times(sum.N(2), sum.T(A)), sum.T(A2))))
	shrink := w.Let("k"+tag, "shortening: tube beyond the straight way, less the gains", "mm",
		sum.Sub(sum.Times(sum.N(2), sum.T(c), sum.T(tangent(w, a/2))), sum.T(g)))
	return SetMarks{between.Value, D.Value, plain.Value, shrink.Value, S.Value}
}

// LeastSet is the least depth, in mm, that a former makes at an angle: less
// and its two bends run into each other. 2R(1 − cos θ).
//
// Source: geometry.
func LeastSet(w *sum.Work, R sum.Term, a units.Degrees) sum.Term {
	return w.Let(named(w, "Hmin", a), "least depth of set at that angle", "mm", sum.Times(sum.N(2), sum.T(R), sum.Sub(sum.N(1), sum.T(cosine(w, a)))))
}

// LeastBubble is the least depth, in mm, of a bubble set of three bends with
// outer bends of an angle: the tangents of an outer and of the middle bend must
// fit on the slope between them.
//
// Source: geometry.
func LeastBubble(w *sum.Work, R sum.Term, a units.Degrees) sum.Term {
	fits := sum.Times(sum.Add(sum.T(tangent(w, a/2)), sum.T(tangent(w, a))), sum.T(sine(w, a)))
	return w.Let(named(w, "Hmin3", a), "least depth of three bends at that angle: both tangents on the slope", "mm",
		sum.Times(sum.T(R), sum.Sub(fits, sum.Sub(sum.Over(sum.N(1), sum.T(cosine(w, a))), sum.N(1)))))
}

// Deduct is the start of a right angle's arc to the back of its bend, in mm:
// a back-of-bend dimension less this is where the tube is marked from its end.
// A former whose mark is not the start of its arc has another.
//
// Source: geometry.
func Deduct(odMM, radiusMM float64) float64 { return odMM/2 + radiusMM }

// ParallelShift is how far the marks of a set beside another one move for
// equal gaps, in mm.
//
//	centres  mm  tube to tube
//
// Source: geometry.
func ParallelShift(centresMM float64, a units.Degrees) float64 {
	return centresMM * math.Tan(radians(a)/2)
}

// SpringBack is by how much a steel tube opens again after bending, in
// degrees: about 4σR/(πEr) of the angle. It is a guide to the overbend; check
// with a square.
//
//	radiusMM  centre line;  meanMM  mean radius of the tube
//
// Source: derived for a thin tube bent plastically; yield σ and modulus E of
// mild steel from memory (table steel-spring-back).
func SpringBack(a units.Degrees, radiusMM, meanMM float64) units.Degrees {
	yield, modulus := uk.SteelInBending("yield").Num, uk.SteelInBending("modulus").Num
	return units.Degrees(float64(a) * 4 * yield * radiusMM / (math.Pi * modulus * meanMM))
}
