package route

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"tubewright/factors/sum"
	"tubewright/factors/units"
)

// unit is the direction of a way.
func (p Point) unit() Point { return Point{}.Add(p, 1/p.Len()) }

// turning is one corner as the tube takes it.
type turning struct {
	angle       units.Degrees
	tangent     float64 // mm that it takes of the straight on either side
	dir, toward Point
	made        bool
	set         int
	run         int     // whose path turns there
	fitting     string  // trunking: flat bend
	across      float64 // folded trunking: mm from the face it folds on to the one cut open
}

// bend turns corners into straights and bends.
func (s *setOut) bend(c []corner) {
	turns := s.turnings(c)
	at, way := 0.0, 0.0
	for k := range len(c) - 1 {
		gap := c[k+1].at.Sub(c[k].at)
		long := gap.Len()*1000 - turns[k].tangent - turns[k+1].tangent
		s.CornerMM += gap.Len() * 1000
		if long < -1e-6 {
			s.unmade(k, turns, gap.Len()*1000)
			return
		}
		s.Parts = append(s.Parts, TubePart{Kind: StraightPart, From: at, To: at + max(0, long), Dir: gap.unit()})
		s.starts = append(s.starts, way+turns[k].tangent)
		way += gap.Len() * 1000
		at += max(0, long)
		if k+1 == len(c)-1 {
			break
		}
		t := turns[k+1]
		if t.made {
			s.Parts = append(s.Parts, TubePart{Kind: MadePart, From: at, To: at, Dir: t.dir, Toward: t.toward, Angle: t.angle, ReachMM: t.tangent, Fitting: t.fitting})
			s.CornerMM -= 2 * t.tangent
			continue
		}
		arc := s.RadiusMM * radians(t.angle)
		if !s.conduit() {
			arc = 2 * NotchSide(t.across, t.angle)
			s.GainMM += 2*t.tangent - arc
		}
		s.Parts = append(s.Parts, TubePart{Kind: BendPart, From: at, To: at + arc, Dir: t.dir, Toward: t.toward, Angle: t.angle, Fitting: t.fitting, AcrossMM: t.across, set: t.set})
		s.number(t, at, arc)
		at += arc
	}
	s.CornerMM -= s.Ends[0].SetbackMM() + s.Ends[1].SetbackMM()
	s.LengthMM = at
	s.straightSteps(c, turns)
	s.total()
	s.gripAdvice()
}

// gripAdvice doubts a tube in which two bends that are not of one set leave no
// straight to grip between them, unless the job states what its former needs. As
// much as at an end is taken to do (common practice, no source).
func (s *setOut) gripAdvice() {
	if !s.conduit() || s.job.Tools.Between.Said() {
		return
	}
	bend := 0
	for k, p := range s.Parts {
		if p.Kind == BendPart {
			bend++
		}
		if k == 0 || k+1 == len(s.Parts) || p.Kind != StraightPart || p.Long() >= s.straight.Value-1e-6 {
			continue
		}
		before, after := s.Parts[k-1], s.Parts[k+1]
		if before.Kind == BendPart && after.Kind == BendPart && (before.set < 0 || before.set != after.set) {
			s.advise(fmt.Sprintf("bends %d and %d leave %s mm of straight between them to grip, less than %s mm (as at an end; common practice, no source): a longer leg there, or tools: between bends, once tried on the former",
				bend, bend+1, sum.Figure(p.Long()), units.Format(s.straight.Value)))
		}
	}
}

// unmade gives a tube up whose bends run into each other.
func (s *setOut) unmade(k int, turns []turning, longMM float64) {
	if len(s.Lacks) == 0 {
		var names []string
		for i, t := range turns[k : k+2] {
			switch {
			case k+i == 0:
				names = append(names, "end at "+s.endName(0))
			case k+i == len(turns)-1:
				names = append(names, "end at "+s.endName(1))
			case t.made:
				names = append(names, fmt.Sprintf("corner %d, %s", k+i, cmp.Or(t.fitting, NormalBend)))
			case t.fitting != "":
				names = append(names, fmt.Sprintf("corner %d, folded %s", k+i, t.fitting))
			default:
				names = append(names, fmt.Sprintf("corner %d", k+i))
			}
		}
		need := turns[k].tangent + turns[k+1].tangent
		s.lack(Lack{What: "way between " + strings.Join(names, " and "), Value: longMM, Limit: need, Instead: wayThere(need), about: fmt.Sprintf("corners %d and %d", k, k+1)})
	}
	s.Parts, s.Bends, s.CornerMM, s.GainMM = nil, nil, 0, 0
}

// turnings measures the corners; the first and last are the tube's ends, whose
// setback they hold.
func (s *setOut) turnings(c []corner) []turning {
	out := make([]turning, len(c))
	out[0].tangent, out[len(c)-1].tangent = s.Ends[0].SetbackMM(), s.Ends[1].SetbackMM()
	lid := lidSide(c[1].at.Sub(c[0].at).unit())
	for k := 1; k < len(c)-1; k++ {
		d, e := c[k].at.Sub(c[k-1].at).unit(), c[k+1].at.Sub(c[k].at).unit()
		t := turning{angle: units.Degrees(math.Atan2(d.Cross(e).Len(), d.Dot(e)) * 180 / math.Pi), dir: d, set: c[k].set, run: c[k].run}
		t.toward = e.Add(d, -d.Dot(e)).unit()
		t.tangent = s.tan(t.angle)
		if !s.conduit() {
			t.across = s.foldAcross(t.toward, lid)
			t.tangent = NotchSide(t.across, t.angle) / 2
			t.fitting, lid = trunkingBend(d, e, lid)
		}
		if s.made(t) {
			t.made, t.tangent = true, s.reach().Value
		}
		out[k] = t
	}
	return out
}

// made reports whether a corner is turned by a fitting: in conduit right
// angles, where the job says so.
func (s *setOut) made(t turning) bool {
	if !s.conduit() {
		return s.fittedCorner(t)
	}
	return s.run.Made.V && t.set < 0 && math.Abs(float64(t.angle)-90) < 1e-6
}

// endName names an end by its place.
func (s *setOut) endName(i int) string {
	if p := s.Ends[i].Place; p >= 0 {
		return s.job.Places[p].Name
	}
	return []string{"first", "far"}[i]
}

// number marks a bend out and measures its twist against the one before.
func (s *setOut) number(t turning, at, arc float64) {
	if !s.conduit() {
		return
	}
	b := FormedBend{Number: len(s.Bends) + 1, Set: t.set, Angle: units.Degrees(math.Round(float64(t.angle)*1e6) / 1e6), Start: at, Centre: at + arc/2, End: at + arc,
		GainMM: 2*t.tangent - arc}
	if before := s.bendBefore(); before != nil {
		a, c := before.Dir.Cross(before.Toward), t.dir.Cross(t.toward)
		twist := math.Atan2(a.Cross(c).Dot(t.dir), a.Dot(c)) * 180 / math.Pi
		b.Twist = units.Degrees(math.Round(twist*1e6) / 1e6)
		if b.Twist <= -180 {
			b.Twist = 180
		}
	}
	s.Bends = append(s.Bends, b)
	s.GainMM += b.GainMM
}

// bendBefore is the bend before the one just added, in the same tube.
func (s *setOut) bendBefore() *TubePart {
	for i := len(s.Parts) - 2; i >= 0 && s.Parts[i].Kind != MadePart; i-- {
		if s.Parts[i].Kind == BendPart {
			return &s.Parts[i]
		}
	}
	return nil
}

// total writes down how the length of tube comes about.
func (s *setOut) total() {
	if !s.w.Keeps() {
		return
	}
	if s.whole.Symbol == "" { // of trunking
		s.whole = s.w.Given("end to end, corner to corner", sum.Term{Symbol: "L", Value: s.CornerMM, Unit: "mm"})
	}
	L := s.whole
	if !s.conduit() {
		s.foldedTotal(L)
	}
	if len(s.Bends) == 0 {
		return
	}
	seen := map[units.Degrees]sum.Term{}
	var gains []sum.Expr
	for _, b := range s.Bends {
		g, ok := seen[b.Angle]
		if !ok {
			g = gain(s.w, s.R, b.Angle)
			seen[b.Angle] = g
		}
		gains = append(gains, sum.T(g))
	}
	G := s.w.Let("Σg", "gain of all bends", "mm", sum.Add(gains...))
	s.whole = s.w.Let("c", "tube that the run takes", "mm", sum.Sub(sum.T(L), sum.T(G)))
	if _, ok := seen[90]; ok {
		s.w.Notef("rule of thumb beside it: one and a half diameters a right angle, %s mm; the exact gain here is %s mm", sum.Figure(1.5*s.ODMM), sum.Figure(Gain(s.RadiusMM, 90)))
	}
}
