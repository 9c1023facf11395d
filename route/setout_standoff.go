package route

import (
	"fmt"
	"math"
	"slices"

	"tubewright/factors/sum"
)

// OffWall is saddles in line that hold the tube off the wall.
type OffWall struct {
	First, Last int     // saddles by number, from 1
	MM          float64 // the centre line from where it lies on the wall
}

const (
	// saddleReach is what saddles and distance saddles themselves take up, in mm.
	// Common practice, no source.
	saddleReach = 10
	// otherWall is from where, in mm, a place is taken to be on another wall or a
	// ceiling and not to stand off this one.
	otherWall = 300
)

// standOff finds the saddles of straights that a set has taken off the wall, or
// that start at a place that stands off it. A run that itself goes out or in
// follows another wall, and nothing is said.
func (s *setOut) standOff() {
	if !s.conduit() || s.run.Fixed.V != OnSurface || slices.ContainsFunc(s.run.Legs, func(l Leg) bool { return !l.IsSet() && math.Abs(l.Dir.Y) > 1e-6 }) {
		return
	}
	from := 0.0
	if s.run.From >= 0 {
		from = s.job.Places[s.run.From].Point.Y * 1000
	}
	if math.Abs(from) > otherWall {
		return
	}
	off := s.off(from)
	for i, sd := range s.Saddles {
		mm := math.Round(off[sd.Part])
		if last := len(s.OffWall) - 1; last >= 0 && s.OffWall[last].Last == i && s.OffWall[last].MM == mm {
			s.OffWall[last].Last++
		} else if mm > saddleReach {
			s.OffWall = append(s.OffWall, OffWall{i + 1, i + 1, mm})
		}
	}
	for _, o := range s.OffWall {
		which, holds := fmt.Sprintf("saddles %d to %d", o.First, o.Last), "hold"
		if o.First == o.Last {
			which, holds = fmt.Sprintf("saddle %d", o.First), "holds"
		}
		s.advise(fmt.Sprintf("%s %s the tube %s mm off the wall: packing or brackets there, and behind a box there, which the bill does not count", which, holds, sum.Figure(o.MM)))
	}
}

// off is how far off the wall each part of the tube starts, in mm.
func (s *setOut) off(from float64) []float64 {
	off := make([]float64, len(s.Parts))
	for i, p := range s.Parts {
		off[i] = from
		switch p.Kind {
		case StraightPart:
			from += p.Long() * p.Dir.Y
		case BendPart:
			sin, cos := math.Sincos(radians(p.Angle))
			from += s.R.Value * (sin*p.Dir.Y + (1-cos)*p.Toward.Y)
		}
	}
	return off
}
