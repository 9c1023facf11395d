package render

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// WriteSetOut prints how the tube of each run is marked, bent and fixed, step
// by step; with steps, how every length was worked out.
func WriteSetOut(to io.Writer, j *route.Job, runs []int, steps bool) error {
	w := bufio.NewWriter(to)
	heading(w, j.Name, j.Date)
	turn := false
	for _, r := range runs {
		work := &sum.Work{}
		s := j.SetOut(work, r)
		turn = turn || turns(&s)
		if err := writeRunSetOut(w, j, &s); err != nil {
			return err
		}
		if steps {
			fmt.Fprintln(w, "  working")
			for k, step := range work.Steps {
				writeStep(w, k+1, step)
			}
		}
		fmt.Fprintln(w)
	}
	for _, note := range notesOf(turn) {
		_ = writeWrapped(w, "", "  ", note) // the buffer keeps every error for Flush
	}
	footer(w)
	return w.Flush()
}

func writeRunSetOut(w io.Writer, j *route.Job, s *route.SetOut) error {
	r := &j.Runs[s.Run]
	fmt.Fprintf(w, "RUN %s, %s\n", r.Name, strings.Join(setOutFacts(j, s), ", "))
	if r.Existing {
		fmt.Fprintln(w, "  "+existingText)
		return nil
	}
	if len(s.Bends) > 0 && len(s.Lacks) == 0 {
		_ = writeWrapped(w, "  ", "    ", fmt.Sprintf("bends to a centre line of %s mm radius; start of a right angle to its back %s mm", sum.Figure(s.RadiusMM), sum.Figure(route.Deduct(s.ODMM, s.RadiusMM))))
	}
	for _, a := range s.Advice {
		_ = writeWrapped(w, "  advise: ", "    ", a)
	}
	if text := bodyText(j, s); text != "" {
		_ = writeWrapped(w, "  ", "    ", text)
	}
	endLines(w, j, s)
	for _, l := range s.Lacks {
		_ = writeWrapped(w, "  CANNOT BE MADE: ", "    ", lackText(l))
	}
	if len(s.Lacks) > 0 {
		return nil // marks of what is not to be made would be bent by someone
	}
	if !r.Drawn && r.Bends.Count > 0 {
		_ = writeWrapped(w, "  ", "    ", "the way is not drawn: nothing says where it bends; give path: for marks and saddles")
	}
	for i := range s.Pieces {
		p := &s.Pieces[i]
		_ = writeWrapped(w, "  ", "    ", fmt.Sprintf("piece %s: cut to %s mm, from %s (%s) to %s (%s)", p.Name, whole(p.Long()), s.EndName(j, i, 0), p.Ends[0], s.EndName(j, i, 1), p.Ends[1])+pieceRuns(j, s, i))
		for _, table := range []func(io.Writer, *route.Job, *route.SetOut, int) error{markTable, holeTable} {
			if err := table(w, j, s, i); err != nil {
				return err
			}
		}
		for n, line := range bendingSteps(j, s, i) {
			_ = writeWrapped(w, fmt.Sprintf("    %2d  ", n+1), "        ", line)
		}
	}
	setLines(w, s)
	if len(s.Saddles) > 0 && s.Spacing != "" {
		_ = writeWrapped(w, "  ", "    ", "supports spaced by "+s.Spacing)
	}
	if len(s.Joints) > 0 {
		_ = writeWrapped(w, "  ", "    ", jointText(s))
	}
	return nil
}

const existingText = "existing: the tube is up, nothing is marked out, cut or fixed"

// setOutFacts say what a run is bent from and to.
func setOutFacts(j *route.Job, s *route.SetOut) []string {
	r := &j.Runs[s.Run]
	facts := []string{r.Enc.String()}
	if from, to := s.Ends[0].Place, s.Ends[1].Place; from >= 0 {
		facts = append(facts, j.Places[from].Name+" to "+j.Places[to].Name)
	}
	if s.LengthMM > 0 && len(s.Lacks) == 0 {
		what := "tube"
		if r.Enc.Kind == factors.Trunking {
			what = "trunking"
		}
		facts = append(facts, fmt.Sprintf("%s mm of %s", whole(s.PiecesMM()), what))
	}
	return facts
}

// endLines say where the tube starts and stops, and how that is known.
func endLines(w io.Writer, j *route.Job, s *route.SetOut) {
	for _, e := range s.Ends {
		if e.Place < 0 || e.Basis == "" {
			continue
		}
		_ = writeWrapped(w, "  ", "    ", fmt.Sprintf("at %s, %s: %s, %s mm of it in the %s (%s)", j.Places[e.Place].Name, j.Places[e.Place].Kind, endText(e), units.Format(e.ThreadMM), e.Entry, strings.TrimPrefix(e.Sum+"; "+e.Basis, "; ")))
	}
}

// endText says where a tube ends.
func endText(e route.TubeEnd) string {
	switch {
	case e.FaceMM == 0 && e.ThreadMM > 0: // the path starts at the face itself
		return fmt.Sprintf("tube ends %s mm beyond the face, inside the box", sum.Figure(e.ThreadMM))
	case e.SetbackMM() < 0:
		return fmt.Sprintf("tube ends %s mm beyond the %s", sum.Figure(-e.SetbackMM()), e.From)
	}
	return fmt.Sprintf("tube ends %s mm from the %s", sum.Figure(e.SetbackMM()), e.From)
}

func lackText(l route.Lack) string {
	text := fmt.Sprintf("%s: %s mm, at least %s mm needed", l.What, sum.Figure(l.Value), sum.Figure(l.Limit))
	if l.Instead != "" {
		text += "; instead: " + l.Instead
	}
	return text
}

// whole prints a length to the millimetre that a rule can show.
func whole(mm float64) string { return units.Format(math.Round(mm)) }

// markTable lists the marks of a piece from both its ends.
func markTable(w io.Writer, j *route.Job, s *route.SetOut, piece int) error {
	marks := s.Marks(piece)
	if len(marks) == 0 {
		return nil
	}
	near, far := s.EndName(j, piece, 0), s.EndName(j, piece, 1)
	t := columns{head: []string{"bend", "angle", "start", "centre", "end", "apart", "turn tube", "end from " + far, "of"}, right: []bool{true, true, true, true, true, true, true, true}}
	fmt.Fprintf(w, "    marks in mm from the %s end, before bending\n", near)
	for _, m := range marks {
		t.add(fmt.Sprint(m.Number), angleText(m.Angle), whole(m.Start), whole(m.Centre), whole(m.End), blank(m.Apart), turnText(m), whole(m.Far), bendOf(s, m))
	}
	return t.write(w, "    ")
}

func angleText(a units.Degrees) string {
	return units.Format(math.Round(float64(a)*10)/10) + "°"
}

func blank(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return whole(v)
}

// turnText says how the tube is turned before a bend.
func turnText(m route.TubeMark) string {
	switch {
	case math.IsNaN(m.Apart):
		return "–"
	case m.Turn == 0:
		return "not"
	case m.Turn == 180:
		return "over"
	case m.Turn < 0:
		return angleText(-m.Turn) + " left"
	}
	return angleText(m.Turn) + " right"
}

// bendOf says what a bend belongs to.
func bendOf(s *route.SetOut, m route.TubeMark) string {
	if m.Set < 0 {
		return "corner"
	}
	return s.Sets[m.Set].Word
}

// setLines print the spacing of a set's marks beside the plain rule.
func setLines(w io.Writer, s *route.SetOut) {
	for _, f := range s.Sets {
		if f.Marks.Corners == 0 {
			continue
		}
		text := fmt.Sprintf("%s of %s mm at %s", f.Word, units.Format(math.Round(f.DepthMM*10)/10), angleText(f.Angle))
		if f.OverMM > 0 {
			text += " over " + units.Format(f.OverMM) + " mm"
		}
		switch {
		case f.Flatter:
			text += " (the path leaves the angle open; the former does not make this depth steeper)"
		case f.Open:
			text += " (the path leaves the angle open; usual, common practice)"
		}
		if f.Rolled > 0 {
			text += ", rolled: " + rolledText(&f)
		}
		text += fmt.Sprintf(": starts of bends %.1f mm apart along the tube (plain multiplier %.1f mm), the set takes %.1f mm; for a tube beside it the marks move %.3f of the centres",
			f.Marks.Between, f.Marks.Multiplier, f.Marks.Shrink, route.ParallelShift(1, f.Angle))
		_ = writeWrapped(w, "  ", "    ", text)
	}
}

// rolledText says how a set of two directions lies.
func rolledText(f *route.FormedSet) string {
	return fmt.Sprintf("%s mm %s and %s mm %s; its plane leans %s from %s towards %s", units.Format(f.RiseMM), f.RiseWord, units.Format(f.RollMM), f.RollWord, angleText(f.Rolled), f.RiseWord, f.RollWord)
}

// gapText says how an end of a piece is set in an expansion coupler on the day.
func gapText(s *route.SetOut, end int) string {
	e := s.Joints[0]
	if end == 1 {
		return fmt.Sprintf("gap %s mm, fixed end, %s mm home", whole(e.OpeningMM), whole(e.FixedMM))
	}
	return fmt.Sprintf("gap %s mm, slides, in to the mark at %s mm", whole(e.OpeningMM), whole(e.MarkMM))
}

func jointText(s *route.SetOut) string {
	var at []string
	for _, e := range s.Joints {
		at = append(at, whole(e.At))
	}
	e, couplers := s.Joints[0], "coupler"
	if len(at) > 1 {
		couplers = "couplers"
	}
	return fmt.Sprintf("expansion %s at %s mm, ends set %s mm apart on the day: the fixed end on the piece before it, %s mm, home to the shoulder; the piece after it slides, marked %s mm from its end and pushed in to the mark; saddles there hold without clamping (%s; %s)",
		couplers, strings.Join(at, ", "), sum.Figure(e.OpeningMM), sum.Figure(e.FixedMM), sum.Figure(e.MarkMM), s.Opening.Sum, s.Opening.Basis)
}

// turnHand says which way a turn goes.
const turnHand = "Turning the tube: right is clockwise, looking along the tube from the end marked from."

// turns reports whether the tube of a run is turned to a side between bends.
func turns(s *route.SetOut) bool {
	for i := range s.Pieces {
		if (strip{set: s, piece: i}).turns() {
			return true
		}
	}
	return false
}

// notesOf are the notes of a page; the first is of use only where a tube is
// turned.
func notesOf(turn bool) []string {
	saddles := fmt.Sprintf("Saddles stand in equal spaces between the end ones where couplers let them; a straight shorter than %s mm has none, nor one within a set that slopes off the wall or is shorter than two end distances: a set counts as one bend (common practice, no source).", units.Format(uk.SetOutPractice("saddle straight").Num))
	notes := append(slices.Clone(setOutNotes), saddles)
	if turn {
		notes = append([]string{turnHand}, notes...)
	}
	return notes
}

// setOutNotes hold for every run of the page.
var setOutNotes = []string{
	"Lengths run along the tube before it is bent, to the nearest millimetre. A radius is the former's own: bend one trial right angle and give its cut length and legs (tools: trial bend); a former's deduct is not its radius.",
	"Spring-back is a guide, derived for a thin tube of mild steel (yield and modulus from memory): check each bend with a square.",
	"Sizes of boxes and sockets are common practice or memory until the job states them (tools: faces, threads, made bends): measure before cutting.",
}
