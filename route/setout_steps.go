package route

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"tubewright/factors/sum"
	"tubewright/factors/units"
)

// working is what the steps of a set-out are made of: every length that is
// printed stands as a formula of these. It is empty where no steps are kept.
type working struct {
	endNo     int         // of the end that is worked out
	setback   [2]sum.Term // of the tube's ends
	legCount  int         // so far
	reaches   []setReach  // of the sets
	straights []sum.Term  // in order
	whole     sum.Term    // the tube that the run takes
	folds     []sum.Term  // cut-outs of folded trunking, each side
	pieceFrom []linear    // where each piece starts along the run
	pieceLong []sum.Term
	bendAt    [][2]linear // start and end of each bend along the run
	partAt    []linear    // start of each part along the run
}

// setReach is how a set lies along the run: what it takes of it, and its
// lengths from corner to corner with the straights in them.
type setReach struct {
	along     sum.Term
	outer     sum.Term // tangent of its outer bends
	gaps      []linear
	tag       string
	straights []sum.Term // in its slopes; zero for the rest
}

// once leaves out steps that repeat the last one of the same symbol.
func once(steps []sum.Step) []sum.Step {
	last := map[string]string{}
	return slices.DeleteFunc(steps, func(s sum.Step) bool {
		if s.Symbol == "" {
			return false
		}
		text := s.Meaning + "\n" + s.Line()
		same := last[s.Symbol] == text
		last[s.Symbol] = text
		return same
	})
}

// legStep writes down a leg of the path and adds it to a way.
func (s *setOut) legStep(way linear, l *Leg) linear {
	if !s.w.Keeps() {
		return nil
	}
	s.legCount++
	return way.plus(1, s.w.Given(fmt.Sprintf("leg %d of the path, %s", s.legCount, l.Word), sum.Term{Symbol: "l" + strconv.Itoa(s.legCount), Value: float64(l.Length.MM()), Unit: "mm"}))
}

// setTag tells the symbols of one set from those of another in the same run.
func (s *setOut) setTag() string {
	if !s.w.Keeps() {
		return ""
	}
	sets := 0
	for i := range s.run.Legs {
		if s.run.Legs[i].IsSet() {
			sets++
		}
	}
	if sets < 2 {
		return ""
	}
	return fmt.Sprintf("(set %d)", len(s.Sets)+1)
}

// setReach writes down what a set takes along the run.
//
// Source: geometry.
func (s *setOut) setReach(f *FormedSet, H sum.Term, overMM float64, tag string) {
	w := s.w
	if !w.Keeps() {
		return
	}
	mm := func(symbol string, v float64) sum.Term { return sum.Term{Symbol: symbol + tag, Value: v, Unit: "mm"} }
	T, D, S := cornerLength(w, s.R, f.Angle), mm("D", f.Marks.Corners), mm("S", f.Marks.Straight)
	r := setReach{outer: T, tag: tag}
	slope := linear{}.plus(1, D)
	rise := H
	if f.Bends == 3 {
		rise = lastOf(w, "Hc"+tag)
	}
	one := sum.Over(sum.T(rise), sum.T(tangent(w, f.Angle)))
	switch f.Bends {
	case 2:
		r.gaps, r.straights = []linear{slope}, []sum.Term{S}
		r.along = w.Let("X"+tag, "what the set takes along the run, first corner to last", "mm", one)
	case 3:
		r.gaps, r.straights = []linear{slope, slope}, []sum.Term{S, S}
		r.along = w.Let("X"+tag, "what the set takes along the run, first corner to last", "mm", sum.Times(sum.N(2), one))
	default:
		top := linear{}.plus(2, T)
		if overMM > 0 {
			top = top.plus(1, w.Given("straight along its top", mm("top", overMM)))
		}
		r.gaps, r.straights = []linear{slope, top, slope}, []sum.Term{S, {}, S}
		r.along = w.Let("X"+tag, "what the set takes along the run, first corner to last", "mm", sum.Add(sum.Times(sum.N(2), one), top.expr()))
	}
	s.reaches = append(s.reaches, r)
}

// lastOf is the last step of a symbol as a term.
func lastOf(w *sum.Work, symbol string) sum.Term {
	for _, step := range slices.Backward(w.Steps) {
		if step.Symbol == symbol {
			return sum.Term{Symbol: symbol, Value: step.Value, Unit: step.Unit}
		}
	}
	return sum.Term{Symbol: symbol}
}

// setGaps says how far the corners of sets laid together lie apart, the first
// from where the way has come to. It follows placeSets.
func (s *setOut) setGaps(out *laidSets, first int, before, after *Leg, gripMM float64) {
	if !s.w.Keeps() || !s.conduit() {
		return
	}
	var gaps []linear
	var long linear
	for i := first; i < len(s.reaches); i++ {
		r := &s.reaches[i]
		if i > first {
			between := linear{}.plus(1, s.reaches[i-1].outer).plus(1, r.outer).plus(1, s.between)
			gaps, long = append(gaps, between), long.add(1, between)
		}
		gaps, long = append(gaps, r.gaps...), long.plus(1, r.along)
	}
	firstT, lastT := s.reaches[first].outer, s.reaches[len(s.reaches)-1].outer
	var lead linear
	switch {
	case before == nil:
		lead = lead.plus(1, s.setback[0]).plus(1, s.straight).plus(1, firstT)
	case after == nil:
		lead = lead.add(-1, long).plus(-1, lastT).plus(-1, s.straight).plus(-1, s.setback[1])
	case before.Dir != after.Dir:
		grip := s.between
		if gripMM != s.between.Value {
			grip = s.w.Given("straight kept between the set and the turn after it, of what the leg has to spare (common practice, no source)", sum.Term{Symbol: "grip" + s.reaches[first].tag, Value: gripMM, Unit: "mm"})
		}
		lead = lead.add(-1, long).plus(-1, lastT).plus(-1, grip).plus(-1, s.turnTerm(before.Dir, after.Dir))
	default:
		lead = lead.add(-0.5, long)
	}
	out.rest = linear{}.add(-1, lead).add(-1, long)
	for i, g := range append([]linear{lead}, gaps...) {
		out.corners[i].gap = g
	}
}

// turnTerm is what a turn takes of the way on either side of it.
func (s *setOut) turnTerm(from, to Point) sum.Term {
	a := angleBetween(from, to)
	if s.made(turning{angle: a, set: -1, run: s.Run}) {
		return s.reach()
	}
	return cornerLength(s.w, s.R, a)
}

// straightSteps writes down every straight of a conduit: what lies between two
// corners, less what end or bend takes at either.
func (s *setOut) straightSteps(c []corner, turns []turning) {
	if !s.w.Keeps() || !s.conduit() {
		return
	}
	took := make([]linear, len(turns))
	took[0], took[len(turns)-1] = linear{}.plus(1, s.setback[0]), linear{}.plus(1, s.setback[1])
	var all linear
	for k := 1; k < len(turns)-1; k++ {
		if turns[k].made {
			took[k] = linear{}.plus(1, s.reach())
			all = all.add(-2, took[k])
		} else {
			took[k] = linear{}.plus(1, cornerLength(s.w, s.R, rounded(turns[k].angle)))
		}
	}
	for k := range len(c) - 1 {
		symbol := "S" + strconv.Itoa(k+1)
		l := c[k+1].gap.add(-1, took[k]).add(-1, took[k+1])
		if S := s.slope(c, k); S.Value != 0 {
			l = linear{}.plus(1, S)
		}
		all = all.add(1, c[k+1].gap)
		if len(l) == 0 {
			s.straights = append(s.straights, sum.Term{Symbol: symbol, Unit: "mm"})
			continue
		}
		s.straights = append(s.straights, l.let(s.w, symbol, fmt.Sprintf("straight %d of the run: between what takes of the way before it and after it", k+1)))
	}
	s.endToEnd(all)
}

// slope is the straight that a set has between two corners, nought for others.
func (s *setOut) slope(c []corner, k int) sum.Term {
	if c[k].set < 0 || c[k].set != c[k+1].set {
		return sum.Term{}
	}
	n := 0
	for i := k; i >= 0 && c[i].set == c[k].set; i-- {
		n++
	}
	return s.reaches[c[k].set].straights[n-1]
}

// endToEnd writes down the length from end to end, corner to corner, of what the
// way adds up to.
func (s *setOut) endToEnd(way linear) {
	if s.w.Keeps() {
		s.whole = way.plus(-1, s.setback[0]).plus(-1, s.setback[1]).let(s.w, "L", "end to end of the tube, corner to corner")
	}
}

// straightTerm is the straight of a part.
func (s *setOut) straightTerm(part int) sum.Term {
	if !s.w.Keeps() {
		return sum.Term{Value: s.Parts[part].Long(), Unit: "mm"}
	}
	n := 0
	for _, p := range s.Parts[:part] {
		if p.Kind == StraightPart {
			n++
		}
	}
	if n < len(s.straights) {
		return s.straights[n]
	}
	return sum.Term{Symbol: "S" + strconv.Itoa(n+1), Value: s.Parts[part].Long(), Unit: "mm"}
}

// index is the number of a symbol: 3 of S3.
func index(t sum.Term) string { return strings.TrimLeft(t.Symbol, "S") }

// rounded is an angle without the dust of geometry.
func rounded(a units.Degrees) units.Degrees { return units.Degrees(round6(float64(a))) }
