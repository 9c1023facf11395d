package route

import (
	"math"
	"strings"

	"tubewright/factors/units"
)

// corner is where the centre line turns.
type corner struct {
	at  Point  // metres from the from place
	set int    // index in Sets, -1 for a corner of the path
	run int    // whose path turns there
	gap linear // from the corner before; only where steps are kept
}

// laying is a centre line in the making: the corners so far, where it has come
// to, and what the way since the last fixed point has to hold.
type laying struct {
	*setOut
	at  Point
	out []corner
	way room
	gap linear // from the last corner; only where steps are kept
}

// corners lays the tube's centre line: the corners of the path, and those of
// its sets. A set stands in the middle where the path goes on; before a turn
// or an end it stands as near to it as the straights allow.
func (s *setOut) corners() []corner {
	legs := s.run.Legs
	l := laying{setOut: s, out: []corner{{set: -1, run: s.Run}}, way: room{takes: []take{s.endTake(0)}}}
	for i := 0; i < len(legs); {
		n := i
		for n < len(legs) && legs[n].IsSet() {
			n++
		}
		var before, after *Leg
		if i > 0 {
			before = &legs[i-1]
		}
		if n < len(legs) {
			after = &legs[n]
		}
		if n > i {
			l.sets(legs[i:n], before, after)
		}
		if after == nil {
			break
		}
		if before != nil && before.Dir != after.Dir {
			l.turn(before, after)
		}
		l.at = l.at.Add(after.Dir, float64(after.Length))
		l.gap = s.legStep(l.gap, after)
		l.way.longMM += float64(after.Length.MM())
		l.way.what = "leg " + after.Word + " " + units.Format(float64(after.Length)) + " m"
		i = n + 1
	}
	l.way.takes = append(l.way.takes, s.endTake(1))
	s.close(l.way)
	return straighten(append(l.out, corner{at: l.at, set: -1, run: s.Run, gap: l.gap}))
}

// sets lays sets that follow each other. Those in a way that goes on divide it
// in two, each with half of what they take.
func (l *laying) sets(legs []Leg, before, after *Leg) {
	placed, in := l.placeSets(l.at, legs, before, after, l.left(), !l.way.takes[len(l.way.takes)-1].place)
	if len(placed.corners) > 0 {
		placed.corners[0].gap = placed.corners[0].gap.add(1, l.gap)
	}
	l.out, l.at, l.gap = append(l.out, placed.corners...), placed.end, placed.rest
	if !in {
		l.way.takes = append(l.way.takes, take{what: placed.what, mm: placed.longMM})
		return
	}
	half := take{what: placed.what, mm: placed.longMM / 2}
	l.way.takes = append(l.way.takes, half)
	l.close(l.way)
	l.way = room{what: l.way.what, takes: []take{half}}
}

// left is what the way so far has for a set and what follows it.
func (l *laying) left() float64 {
	left := l.way.longMM
	for _, t := range l.way.takes {
		left -= t.mm
		if t.place {
			left -= l.straight.Value
		}
	}
	return left
}

// gripMM is the straight kept between a set and the turn after it: as the job
// states, else what an end needs, where the way has so much to spare; two bends
// want it equally. Common practice, no source.
func (s *setOut) gripMM(spareMM float64, afterBend bool) float64 {
	if s.job.Tools.Between.Said() || !s.conduit() {
		return s.between.Value
	}
	if afterBend {
		spareMM /= 2
	}
	return max(0, min(s.straight.Value, spareMM))
}

// turn lays a corner of the path.
func (l *laying) turn(before, after *Leg) {
	l.out = append(l.out, corner{at: l.at, set: -1, run: l.Run, gap: l.gap})
	l.gap = nil
	turn := l.numbered(l.turnTake(before.Dir, after.Dir))
	l.way.takes = append(l.way.takes, turn)
	l.close(l.way)
	l.way = room{takes: []take{turn}}
}

// laidSets is sets that follow each other, as they are laid.
type laidSets struct {
	what    string
	corners []corner
	end     Point   // where the path goes on
	longMM  float64 // of the way, with the tangents of its outer bends
	rest    linear  // from the last corner to where the path goes on; only where steps are kept
}

// placeSets lays sets that follow each other, and says whether they stand in a
// way that goes on. leftMM is what the way before has for them.
func (s *setOut) placeSets(at Point, legs []Leg, before, after *Leg, leftMM float64, afterBend bool) (out laidSets, in bool) {
	first := len(s.Sets)
	long := 0.0
	for _, l := range legs {
		if len(s.Sets) > first {
			long += s.outer(len(s.Sets)-1) + s.between.Value
		}
		s.Sets = append(s.Sets, s.formed(l))
		if last := len(s.Sets) - 1; last > first {
			long += s.outer(last)
		}
		long += s.runLength(l, len(s.Sets)-1)
	}
	firstT, lastT := s.outer(first), s.outer(len(s.Sets)-1)
	dir, lead, grip := after, 0.0, 0.0
	switch {
	case before == nil:
		lead = s.Ends[0].SetbackMM() + s.straight.Value + firstT
	case after == nil:
		dir, lead = before, -long-lastT-s.straight.Value-s.Ends[1].SetbackMM()
	case before.Dir != after.Dir:
		turn := s.turnTake(before.Dir, after.Dir).mm
		grip = s.gripMM(leftMM-firstT-long-lastT-turn, afterBend)
		dir, lead = before, -long-lastT-grip-turn
	default:
		lead, in = -long/2, true
	}
	out = laidSets{what: s.setNames(first), end: at, longMM: firstT + long + lastT}
	p := at.Add(dir.Dir, lead/1000)
	for k, l := range legs {
		if k > 0 {
			p = p.Add(dir.Dir, (s.outer(first+k-1)+s.outer(first+k)+s.between.Value)/1000)
		}
		for _, q := range s.shape(l, first+k) {
			p = p.Add(dir.Dir, q.X/1000).Add(l.Dir, q.Z/1000)
			out.corners = append(out.corners, corner{at: p, set: first + k, run: s.Run})
		}
		if !l.Double {
			out.end = out.end.Add(l.Dir, float64(l.Set.Metres()))
		}
	}
	s.setGaps(&out, first, before, after, grip)
	return out, in
}

// setNames names the sets laid last with their bends.
func (s *setOut) setNames(first int) string {
	var names []string
	for i := first; i < len(s.Sets); i++ {
		f := &s.Sets[i]
		name := f.Word
		if s.conduit() {
			name += " (" + f.names() + ")"
		}
		names = append(names, name)
	}
	return strings.Join(names, " and ")
}

// outer is the tangent of a set's outer bends.
func (s *setOut) outer(set int) float64 { return s.tan(s.Sets[set].Angle) }

// tan is R tan(θ/2) without steps; of folded trunking what the cut-out takes of
// the centre line, on its wider side.
func (s *setOut) tan(a units.Degrees) float64 {
	if !s.conduit() {
		return NotchSide(float64(s.run.Enc.Width), a) / 2
	}
	return s.R.Value * math.Tan(radians(a)/2)
}

// shape is the steps from corner to corner of a set, X along the run and Z the
// way it shifts, in mm; the first is nought.
func (s *setOut) shape(l Leg, set int) []Point {
	f := &s.Sets[set]
	H, a := f.DepthMM, radians(f.Angle)
	up := Point{X: H / math.Tan(a), Z: H}
	switch {
	case !l.Double:
		return []Point{{}, up}
	case f.Bends == 3:
		// The middle bend rounds its corner off: it is laid higher, so that
		// the tube itself passes at the full depth.
		H += s.R.Value * (1/math.Cos(a) - 1)
		up = Point{X: H / math.Tan(a), Z: H}
		return []Point{{}, up, {X: up.X, Z: -up.Z}}
	}
	return []Point{{}, up, {X: 2*s.tan(f.Angle) + float64(l.Over)}, {X: up.X, Z: -up.Z}}
}

// runLength is how far a set reaches along the run, in mm.
func (s *setOut) runLength(l Leg, set int) (long float64) {
	for _, q := range s.shape(l, set) {
		long += q.X
	}
	return long
}

// straighten leaves out corners where nothing turns.
func straighten(c []corner) []corner {
	last := len(c) - 1
	kept := c[:1]
	for i := 1; i < last; i++ {
		d, e := c[i].at.Sub(kept[len(kept)-1].at), c[i+1].at.Sub(c[i].at)
		if d.Len() < 1e-9 || e.Len() < 1e-9 || d.Dot(e) > d.Len()*e.Len()*(1-1e-14) {
			c[i+1].gap = c[i+1].gap.add(1, c[i].gap)
			continue
		}
		kept = append(kept, c[i])
	}
	return append(kept, c[last])
}
