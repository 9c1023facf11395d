package render

import (
	"slices"

	"tubewright/route"
)

// Parts of a strip on the sheet, in millimetres: the words over a piece, the
// marks of its bends, the tube, the saddles under it, its length.
const (
	stripHeadMM   = 7.0
	stripMarksMM  = 52.0 // at most
	stripLeaderMM = 4.0  // of these, from the tube to the texts
	stripPlainMM  = 3.0  // in place of the marks where nothing bends
	stripTubeMM   = 5.0
	stripUnderMM  = 22.0 // at most, under it
	stripFootMM   = 4.0  // of these, from the tube to the texts
	stripLengthMM = 7.0
	stripGapMM    = 2.0
	stripSideMM   = 26.0 // names at the ends of a tube
	markStepMM    = 3.2  // from one standing text to the next
	thinTubeMM    = 2.0  // narrower and a tube no longer reads as one
	thickTubeMM   = 7.0
)

// stripScale is sheet millimetres to one of the tube.
type stripScale struct {
	name  string
	ratio float64
}

var stripScales = []stripScale{{"1:1", 1}, {"1:2", 0.5}, {"1:5", 0.2}, {"1:10", 0.1}, {"1:20", 0.05}, {"1:50", 0.02}}

// strip is one piece to draw.
type strip struct {
	job   *route.Job
	set   *route.SetOut
	piece int
}

// marksHigh is the room over the tube: for the longest text that stands there.
func (s strip) marksHigh() float64 {
	if s.void() {
		return stripPlainMM
	}
	longest := 0.0
	for _, m := range s.set.Marks(s.piece) {
		for _, t := range markTexts(m) {
			longest = max(longest, TextWidth(t, TextSmall, true))
		}
	}
	for _, n := range s.set.Notches(s.piece) {
		longest = max(longest, TextWidth(notchText(n), TextSmall, true))
	}
	if at := s.slideMark(); at > 0 {
		longest = max(longest, TextWidth(slideText(at), TextSmall, true))
	}
	for _, h := range s.cutHoles() {
		longest = max(longest, TextWidth(s.holeText(h), TextSmall, true))
	}
	if longest == 0 {
		return stripPlainMM
	}
	return min(stripMarksMM, longest+stripLeaderMM+3)
}

// slideMark is how far from its first end a piece is marked that slides in an
// expansion coupler; 0 for others.
func (s strip) slideMark() float64 {
	if s.set.Pieces[s.piece].Ends[0] != "expansion coupler" {
		return 0
	}
	return s.set.Joints[0].MarkMM
}

func slideText(at float64) string { return "in to here  " + whole(at) }

// void reports whether the run cannot be made: its strip bears no marks.
func (s strip) void() bool { return len(s.set.Lacks) > 0 }

// scale is the largest at which the tube goes between the names of its ends.
func (s strip) scale(wide float64) stripScale {
	long := s.set.Pieces[s.piece].Long()
	for _, c := range stripScales {
		if long*c.ratio <= wide-2*stripSideMM {
			return c
		}
	}
	return stripScales[len(stripScales)-1]
}

// taken is how much of a width the strip takes, with room for the names.
func (s strip) taken(wide float64) float64 {
	return 2.5*stripSideMM + s.set.Pieces[s.piece].Long()*s.scale(wide).ratio
}

// turns reports whether the tube is turned by a side between two bends; over is
// either way round.
func (s strip) turns() bool {
	return !s.void() && slices.ContainsFunc(s.set.Marks(s.piece), func(m route.TubeMark) bool { return m.Turn != 0 && m.Turn != 180 })
}

func (s strip) high() float64 {
	return stripHeadMM + s.marksHigh() + stripTubeMM + s.underHigh() + stripLengthMM + stripGapMM
}

// underHigh is the room under the tube.
func (s strip) underHigh() float64 {
	longest := 0.0
	for _, at := range s.set.SaddlesOn(s.piece) {
		if s.void() {
			break
		}
		longest = max(longest, TextWidth("saddle 00  "+whole(at), TextSmall, false))
	}
	return min(stripUnderMM, max(10, longest+stripFootMM+2)) // the names of the ends need the least
}

func (s strip) draw(d *setOutSheet, r rect) { d.strip(s, r) }
