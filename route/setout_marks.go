package route

import (
	"math"

	"tubewright/factors/units"
)

// TubeMark is one bend as it is marked on a straight piece of tube. Lengths are
// in mm from the piece's first end, Far ones from its other end.
type TubeMark struct {
	Number             int // of the bend along the run
	Set                int // index in SetOut.Sets, -1 for a bend of its own
	Angle              units.Degrees
	Start, Centre, End float64
	Far                float64       // end of the bend from the other end of the piece
	Apart              float64       // from the start of the bend before in the piece; NaN for the first
	Turn               units.Degrees // of the tube since the bend before, clockwise seen from the first end; 0 for the first of a piece
	SpringBack         units.Degrees // about how far steel opens again; 0 for plastic
	BackMM             float64       // first end to the back of a right angle, to check it by; NaN where another bend comes first
	LegsMM             [2]float64    // of a right angle: its back to the bend before or the first end, and to the bend after or the other end; NaN for others
}

// Marks are the bends of a piece.
func (s *SetOut) Marks(piece int) []TubeMark {
	p := s.Pieces[piece]
	out := make([]TubeMark, len(p.Bends))
	for i, k := range p.Bends {
		b := s.Bends[k]
		out[i] = TubeMark{Number: b.Number, Set: b.Set, Angle: b.Angle, Start: b.Start - p.From, Centre: b.Centre - p.From, End: b.End - p.From,
			Far: p.To - b.End, Apart: math.NaN(), BackMM: math.NaN(), LegsMM: s.legs(piece, i)}
		if s.WallMM > 0 {
			out[i].SpringBack = SpringBack(b.Angle, s.RadiusMM, (s.ODMM-s.WallMM)/2)
		}
		switch {
		case i > 0:
			out[i].Turn, out[i].Apart = b.Twist, out[i].Start-out[i-1].Start
		case b.Angle == 90:
			out[i].BackMM = out[i].Start + Deduct(s.ODMM, s.RadiusMM)
		}
	}
	return out
}

// legs are what of a piece lies either side of one of its right angles, to the
// bends beside it or the ends.
func (s *SetOut) legs(piece, i int) [2]float64 {
	p := s.Pieces[piece]
	b := s.Bends[p.Bends[i]]
	if b.Angle != 90 {
		return [2]float64{math.NaN(), math.NaN()}
	}
	before, after := p.From, p.To
	if i > 0 {
		before = s.Bends[p.Bends[i-1]].End
	}
	if i+1 < len(p.Bends) {
		after = s.Bends[p.Bends[i+1]].Start
	}
	d := Deduct(s.ODMM, s.RadiusMM)
	return [2]float64{b.Start - before + d, after - b.End + d}
}

// PiecesMM is the tube that the pieces add up to; the gaps in expansion couplers
// are none of it.
func (s *SetOut) PiecesMM() float64 {
	if len(s.Pieces) == 0 {
		return s.LengthMM
	}
	long := 0.0
	for _, p := range s.Pieces {
		long += p.Long()
	}
	return long
}

// SaddlesOn are the saddles that hold a piece, in mm from its first end.
func (s *SetOut) SaddlesOn(piece int) []float64 {
	p := s.Pieces[piece]
	var out []float64
	for _, d := range s.Saddles {
		if d.At >= p.From && d.At < p.To {
			out = append(out, d.At-p.From)
		}
	}
	return out
}

// EndName names an end of a piece: its place, or the piece that it meets.
func (s *SetOut) EndName(j *Job, piece, end int) string {
	other := piece + 2*end - 1
	switch {
	case other >= 0 && other < len(s.Pieces):
		return s.Pieces[other].Name
	case s.Ends[end].Place >= 0:
		return j.Places[s.Ends[end].Place].Name
	}
	return []string{"first", "far"}[end]
}

// FirstSaddle is the number along the run of the first saddle on a piece.
func (s *SetOut) FirstSaddle(piece int) int {
	n := 1
	for _, d := range s.Saddles {
		if d.At < s.Pieces[piece].From {
			n++
		}
	}
	return n
}

// Notch is one corner of trunking folded from the length: cut out each side of
// the corner's line, which lies on the outside face.
type Notch struct {
	At, EachSideMM float64 // mm from the piece's first end; along the inner edge
	Angle          units.Degrees
	Corner         string // flat bend
	Faces          string // which are cut open, and which folds
}

// Notches are the corners of a trunking run in a piece.
func (s *SetOut) Notches(piece int) []Notch {
	if s.RadiusMM > 0 {
		return nil // a conduit is bent
	}
	p := s.Pieces[piece]
	var out []Notch
	for _, t := range s.Parts {
		if at := (t.From + t.To) / 2; t.Kind == BendPart && at > p.From && at < p.To {
			out = append(out, Notch{at - p.From, NotchSide(t.AcrossMM, t.Angle), t.Angle, t.Fitting, foldFaces(t.Fitting)})
		}
	}
	return out
}

// NotchSide is the cut-out each side of the line of a corner, in mm: the side
// across, times tan(θ/2). The metal's thickness is not allowed for.
//
// Source: a college handout on trunking fabrication (read); geometry.
func NotchSide(acrossMM float64, a units.Degrees) float64 {
	return acrossMM * math.Tan(radians(a)/2)
}
