package render

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tubewright/factors"
	"tubewright/factors/units"
	"tubewright/route"
)

// bendingSteps say how a piece is made, in the order of work. Common practice,
// no source, but for the figures.
func bendingSteps(j *route.Job, s *route.SetOut, piece int) []string {
	p := &s.Pieces[piece]
	e := j.Runs[s.Run].Enc
	marks := s.Marks(piece)
	var out []string
	if e.Kind == factors.Trunking {
		out = append(out, fmt.Sprintf("cut %s mm square and deburr; the lid the same", whole(p.Long())))
		for _, n := range s.Notches(piece) {
			out = append(out, fmt.Sprintf("corner of %s, %s, line at %s mm along its outside face: %s; cut out %s mm each side of the line at the inside, to a point on the line at the outside (metal thickness not allowed for), fold, and rivet a plate over the joint", angleText(n.Angle), n.Corner, whole(n.At), n.Faces, whole(n.EachSideMM)))
		}
		out = append(out, holeSteps(j, s, piece)...)
		return append(out, fixingStep(s, piece, "fixings")...)
	}
	steel := e.Material == factors.Steel
	if len(marks) > 0 {
		out = append(out, fmt.Sprintf("mark the tube from the %s end: %s", s.EndName(j, piece, 0), markWords(marks)))
	}
	for i, m := range marks {
		out = append(out, bendStep(m, i, steel))
	}
	if len(marks) > 0 {
		out = append(out, "check that all bends lie true: sight along the tube, or lay it on the line marked on the wall")
	}
	out = append(out, cutStep(s, piece, steel))
	if p.RunningMM > 0 {
		out = append(out, fmt.Sprintf("the tube is held at both ends: run locknut and coupler right back on the long thread, butt %s against it, run the coupler on to half, tighten the locknut against it", s.EndName(j, piece, 1)))
	}
	return append(out, fixingStep(s, piece, "saddles")...)
}

func markWords(marks []route.TubeMark) string {
	parts := make([]string, len(marks))
	for i, m := range marks {
		parts[i] = fmt.Sprintf("bend %d at %s", m.Number, whole(m.Start))
	}
	return strings.Join(parts, ", ") + " mm"
}

// bendStep is the bending of one bend.
func bendStep(m route.TubeMark, i int, steel bool) string {
	text := ""
	switch {
	case i > 0 && m.Turn == 180:
		text = "turn the tube over; "
	case i > 0 && m.Turn != 0:
		side := "right"
		if m.Turn < 0 {
			side = "left"
		}
		text = fmt.Sprintf("turn the tube %s to the %s, seen from the end marked from; ", angleText(units.Degrees(math.Abs(float64(m.Turn)))), side)
	}
	if steel {
		text += fmt.Sprintf("bend %d: the mark where the former's curve starts, bend to %s%s", m.Number, angleText(m.Angle), springText(m))
	} else {
		text += fmt.Sprintf("bend %d: spring inside, the mark where the curve starts, bend well past %s and let it return; fix it at once", m.Number, angleText(m.Angle))
	}
	if !math.IsNaN(m.BackMM) {
		text += fmt.Sprintf("; end to back of bend %s mm", whole(m.BackMM))
	}
	return text
}

// springText is the overbend; less than half a degree is not seen on a former.
func springText(m route.TubeMark) string {
	if m.SpringBack < 0.5 {
		return " and a touch more for spring-back"
	}
	return " and about " + angleText(m.SpringBack) + " more for spring-back"
}

// cutStep is cutting and threading, after bending.
func cutStep(s *route.SetOut, piece int, steel bool) string {
	p := &s.Pieces[piece]
	text := fmt.Sprintf("cut to %s mm square, then deburr inside and out", whole(p.Long()))
	if !steel {
		return text + socketText(s, piece)
	}
	var threads []string
	for end, name := range p.Ends {
		switch {
		case name == "running coupler" && end == 1:
			threads = append(threads, fmt.Sprintf("%s mm long for the running coupler and its locknut", units.Format(p.RunningMM)))
		case name == "open end":
		case piece+2*end-1 >= 0 && piece+2*end-1 < len(s.Pieces):
			if name == route.NormalBend {
				name = "coupler on the " + name
			}
			threads = append(threads, fmt.Sprintf("%s mm, to half of the %s", units.Format(s.ThreadMM), name))
		default:
			threads = append(threads, fmt.Sprintf("%s mm into the %s", units.Format(s.Ends[end].ThreadMM), name))
		}
	}
	switch {
	case len(threads) == 0:
		return text
	case len(threads) == 2 && threads[0] == threads[1]:
		threads = []string{"both ends, " + threads[0]}
	}
	return text + "; thread " + strings.Join(threads, " and ") + "; paint what stays exposed"
}

// socketText says how far plastic goes into what joins it, each to a mark on the
// tube; an expansion coupler is set by the day.
func socketText(s *route.SetOut, piece int) string {
	text := socketsText(s, piece)
	for end, name := range s.Pieces[piece].Ends {
		switch {
		case name != "expansion coupler":
		case end == 1:
			text += fmt.Sprintf("; it goes %s mm, home, into the fixed end of the expansion coupler", whole(s.Joints[0].FixedMM))
		default:
			text += fmt.Sprintf("; mark it %s mm from its end at the expansion coupler: so far it goes into the sliding socket on the day, no farther", whole(s.Joints[0].MarkMM))
		}
	}
	return text
}

func socketsText(s *route.SetOut, piece int) string {
	var in []string
	for _, name := range s.Pieces[piece].Ends {
		if name != "open end" && name != "expansion coupler" && !slices.Contains(in, name) {
			in = append(in, name)
		}
	}
	if len(in) == 0 {
		return ""
	}
	return fmt.Sprintf("; it goes %s mm into the %s: mark that on the tube", units.Format(s.ThreadMM), strings.Join(in, " and the "))
}

// fixingStep lists where a piece is held.
func fixingStep(s *route.SetOut, piece int, what string) []string {
	at := s.SaddlesOn(piece)
	if len(at) == 0 {
		return nil
	}
	parts := make([]string, len(at))
	for i, v := range at {
		parts[i] = whole(v)
	}
	one := what
	if len(at) == 1 {
		one = strings.TrimSuffix(what, "s")
	}
	n := s.FirstSaddle(piece)
	number := fmt.Sprint(n)
	if len(at) > 1 {
		number = fmt.Sprintf("%d to %d", n, n+len(at)-1)
	}
	return []string{fmt.Sprintf("%s %s at %s mm", one, number, strings.Join(parts, ", "))}
}
