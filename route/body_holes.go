package route

import (
	"fmt"
	"math"
	"slices"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
)

// bodyCorners lays the centre line of a body: that of every run as the run is
// drawn, each from where the one before ends. It returns how far along it each
// run ends, in mm corner to corner.
func (s *setOut) bodyCorners() (out []corner, ways []float64) {
	last, way := len(s.Body)-1, 0.0
	for k, b := range s.Body {
		p := &setOut{SetOut: SetOut{Run: b.Run}, job: s.job, run: &s.job.Runs[b.Run], straight: s.straight, between: s.between, trial: true}
		from, to := b.ends(s.job)
		ends := [2]TubeEnd{{Place: from}, {Place: to}}
		if k == 0 {
			ends[0] = s.Ends[0]
		}
		if k == last {
			ends[1] = s.Ends[1]
		}
		if b.Back {
			ends[0], ends[1] = ends[1], ends[0]
		}
		p.Ends = ends
		laid := p.corners()
		if b.Back {
			slices.Reverse(laid)
		}
		shift := Point{}.Sub(laid[0].at)
		if k > 0 {
			shift = out[len(out)-1].at.Sub(laid[0].at)
		}
		for i := range laid {
			laid[i].at = laid[i].at.Add(shift, 1)
			if laid[i].set >= 0 {
				laid[i].set += len(s.Sets)
			}
			if i > 0 {
				way += laid[i].at.Sub(laid[i-1].at).Len() * 1000
			}
		}
		s.Sets = append(s.Sets, p.Sets...)
		out, ways = append(out, laid[min(k, 1):]...), append(ways, way)
	}
	return straighten(out), ways
}

// inBody says where along its trunking a body's runs lie, and which holes its
// conduits need. ways are how far along the centre line each run ends.
func (s *setOut) inBody(ways []float64) {
	if !s.run.Drawn && s.run.Bends.Count > 0 || !s.Made() {
		return
	}
	last := len(s.Body) - 1
	for k := range s.Body {
		b := &s.Body[k]
		if k > 0 {
			b.From = s.Body[k-1].To
		} else {
			s.holesAt(0, s.Ends[0].Place)
		}
		if k == last {
			b.To = s.LengthMM
			s.holesAt(s.LengthMM, s.Ends[1].Place)
			break
		}
		on := ""
		b.To, on = s.along(ways[k])
		_, place := b.ends(s.job)
		s.holes(b.To, place, on)
	}
}

// along is how far along the trunking a point of the centre line lies, and the
// corner that it lies on.
func (s *setOut) along(way float64) (at float64, on string) {
	var turned *TubePart
	straights := 0
	for i := range s.Parts {
		p := &s.Parts[i]
		if p.Kind != StraightPart {
			turned = p
			continue
		}
		from := s.starts[straights]
		straights++
		switch {
		case way < from-1e-6 && turned == nil:
			return 0, s.Ends[0].Entry
		case way < from-1e-6 && turned.Kind == BendPart:
			return (turned.From + turned.To) / 2, "folded corner"
		case way < from-1e-6:
			return turned.From, turned.Fitting
		case way <= from+p.Long()+1e-6:
			return p.From + min(p.Long(), max(0, way-from)), ""
		}
	}
	return s.LengthMM, s.Ends[1].Entry
}

// holesAt lists the holes at an end of the trunking. Where more trunkings meet
// there, they are those of the first in the file.
func (s *setOut) holesAt(at float64, place int) {
	if place < 0 || s.job.Places[place].Kind != Entry || slices.ContainsFunc(s.Holes, func(h Hole) bool { return h.Place == place }) {
		return
	}
	pl := &s.job.Places[place]
	for _, r := range pl.Runs {
		if !s.job.isConduit(r) {
			if !slices.ContainsFunc(s.Body, func(b BodyRun) bool { return b.Run == r }) {
				return
			}
			break
		}
	}
	on := ""
	if name, reaches := s.job.trunkingJoin(pl); reaches {
		on = name
	}
	s.holes(at, place, on)
}

// holes lists those of an entry's conduits.
func (s *setOut) holes(at float64, place int, on string) {
	pl := &s.job.Places[place]
	for _, r := range pl.Runs {
		if !s.job.isConduit(r) {
			continue
		}
		h := Hole{At: at, Place: place, Run: r, Size: s.job.Runs[r].Enc.Size, On: on}
		if d, ok := s.job.leaves(pl, r); ok {
			h.Way = wordOf(d)
			h.OffMM = s.job.offWall(pl, d)
			if h.On == "" && s.job.endOn(pl, d) {
				h.On, _ = s.job.trunkingJoin(pl)
			}
		}
		s.Holes = append(s.Holes, h)
	}
}

// offWall is how far off the wall the middle of a side lies that a conduit
// leaves an entry by: half of what its trunking stands out, which is its depth
// where the lid faces off the wall. That a hole is in the middle of the side is
// common practice, no source.
func (j *Job) offWall(pl *Place, out Point) float64 {
	for _, r := range pl.Runs {
		along, drawn := j.leaves(pl, r)
		if j.isConduit(r) || !drawn || math.Abs(along.Y) > nearly || math.Abs(out.Y) > nearly {
			continue
		}
		if math.Abs(j.lidAt(pl, r).Y) > nearly {
			return float64(j.Runs[r].Enc.Depth) / 2
		}
		return float64(j.Runs[r].Enc.Width) / 2
	}
	return 0
}

// wordOf is the word of the direction nearest to one.
func wordOf(d Point) (word string) {
	best := -2.0
	for _, w := range directionWords {
		if cos := directions[w].Dot(d); cos > best {
			word, best = w, cos
		}
	}
	return word
}

// endOn reports whether a conduit leaves a trunking out of its end.
func (j *Job) endOn(pl *Place, out Point) bool {
	return slices.ContainsFunc(pl.Runs, func(r int) bool {
		along, drawn := j.leaves(pl, r)
		return !j.isConduit(r) && drawn && along.Dot(out) < -nearly
	})
}

// HolesIn are the holes of a piece of trunking, in mm from the piece's first
// end. One on a joint belongs to the piece before it.
func (s *SetOut) HolesIn(piece int) []Hole {
	p := s.Pieces[piece]
	var out []Hole
	for _, h := range s.Holes {
		if h.At <= p.To+1e-6 && (h.At > p.From+1e-6 || piece == 0) {
			h.At -= p.From
			out = append(out, h)
		}
	}
	return out
}

// RunsIn are the runs that a piece lies in, in its direction.
func (s *SetOut) RunsIn(piece int) []int {
	p := s.Pieces[piece]
	var out []int
	for _, b := range s.Body {
		if b.To > p.From+1e-6 && b.From < p.To-1e-6 || len(s.Body) == 1 {
			out = append(out, b.Run)
		}
	}
	return out
}

// clearOfHoles moves a joint of trunking back to where it is clear of the holes
// of entries, no farther than to low and only where it costs no further length;
// else it stays, and that is said.
func (s *setOut) clearOfHoles(at, low, to, stock float64) float64 {
	if len(s.Holes) == 0 {
		return at
	}
	gap := uk.SetOutPractice("hole from joint").Num
	moved := at
	for i := len(s.Holes) - 1; i >= 0; i-- {
		h := &s.Holes[i]
		if clear := float64(h.Size)/2 + gap; h.On == "" && math.Abs(h.At-moved) < clear-1e-6 {
			moved = h.At - clear
		}
	}
	pieces := func(from float64) float64 { return math.Ceil((to-from)/stock - 1e-9) }
	if moved == at || moved >= low-1e-6 && pieces(moved) == pieces(at) {
		return moved
	}
	for _, h := range s.Holes {
		if off := math.Abs(h.At - at); h.On == "" && off < float64(h.Size)/2+gap-1e-6 {
			s.advise(fmt.Sprintf("the joint of two lengths %s mm from the first end is %s mm from the middle of the hole for run %s at entry %s; keep the edge of a hole %s mm from a joint (common practice, no source): move the entry, or cut an end off the first length",
				sum.Figure(at), sum.Figure(off), s.job.Runs[h.Run].Name, s.job.Places[h.Place].Name, sum.Figure(gap)))
		}
	}
	return at
}

// alongTrunking says where a conduit leaves an entry along a trunking that lies
// there, and would run inside it. Out of the end of a trunking it may leave.
func (s *setOut) alongTrunking(place int) {
	pl := &s.job.Places[place]
	out, _ := s.job.leaves(pl, s.Run)
	for _, r := range pl.Runs {
		along, drawn := s.job.leaves(pl, r)
		if s.job.isConduit(r) || !drawn || along.Dot(out) < nearly {
			continue
		}
		s.lack(Lack{What: fmt.Sprintf("run %s leaves entry %s along trunking %s, inside it: way square to the trunking to its side", s.run.Name, pl.Name, s.job.Runs[r].Name),
			Limit: float64(min(s.job.Runs[r].Enc.Width, s.job.Runs[r].Enc.Depth)) / 2, Instead: "let it leave square to the trunking, at an entry of its own where others leave that way"})
		return
	}
}
