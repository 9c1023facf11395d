package render

import (
	"fmt"
	"math"
	"strings"
)

// Sizes of a card at scale 1, in millimetres.
const (
	cardLeast    = 57.0 // width
	cardSection  = 25.0 // side of the square that holds the cross-section
	cardPad      = 2.0
	cardNameHigh = 6.0
	cardReasons  = 4 // lines of reasons
	largestHead  = 2 // times the least
)

// card is what one run's card says.
type card struct {
	run     int
	section sectionView
	lines   []cardLine // beside the cross-section
	below   []cardLine
	high    float64
}

type cardLine struct {
	s    string
	bold bool
	ink  Ink
}

// cardSheet is the cards in rows of one height each.
type cardSheet struct {
	d       *diagram
	scale   float64
	columns int
	wide    float64
	textMM  float64
	cards   []card
	rows    []float64 // heights
	high    float64
}

// cardSheet measures every card at a scale.
func (d *diagram) cardSheet(widthMM, scale float64) *cardSheet {
	s := &cardSheet{d: d, scale: scale, textMM: max(TextSmall, min(4, TextSmall*scale))}
	s.columns = max(1, min(len(d.order), int(widthMM/(cardLeast*scale))))
	s.wide = widthMM / float64(s.columns)
	for k, i := range d.order {
		c := s.measure(i)
		s.cards = append(s.cards, c)
		if k%s.columns == 0 {
			s.rows = append(s.rows, 0)
		}
		s.rows[len(s.rows)-1] = max(s.rows[len(s.rows)-1], c.high)
	}
	for _, h := range s.rows {
		s.high += h
	}
	return s
}

func (s *cardSheet) lineStep() float64    { return s.textMM * 1.55 }
func (s *cardSheet) sectionBox() float64  { return cardSection * s.scale }
func (s *cardSheet) headerHigh() float64  { return cardNameHigh*min(largestHead, s.scale) + 0.5 }
func (s *cardSheet) captionHigh() float64 { return TextSmall + 1.4 }

func (s *cardSheet) measure(i int) card {
	r, f := &s.d.job.Runs[i], &s.d.runs[i]
	c := card{run: i, section: sectionOf(s.d.job, i, s.sectionBox())}
	beside := s.wide - s.sectionBox() - 2.4*cardPad
	add := func(to *[]cardLine, text string, width float64, most int, bold bool, ink Ink) {
		high := s.textMM
		if bold {
			width /= 1.12 // the bold face is wider
		}
		for _, l := range breakLines(text, width, high, most) {
			*to = append(*to, cardLine{l, bold, ink})
		}
	}
	add(&c.lines, r.Enc.String(), beside, 2, false, Black)
	add(&c.lines, wayText(r), beside, 3, false, Black)
	add(&c.lines, cableList(s.d.job.Cores(i)), beside, 3, false, Black)
	full := []string{f.full()}
	if TextWidth(full[0], s.textMM, false) > beside/1.12 { // the percentage stays whole
		full = strings.SplitAfter(full[0], ", ")
	}
	for _, part := range full {
		add(&c.lines, part, beside, 2, true, Black)
	}
	add(&c.lines, circuitNames(s.d.job, i), beside, 3, false, DarkGrey)
	whole := s.wide - 2*cardPad
	for _, reason := range f.reasons() {
		add(&c.below, reason, whole, cardReasons, false, Black)
	}
	add(&c.below, f.failingText(), whole, 2, true, Red)
	c.high = s.headerHigh() + max(s.sectionBox()+s.captionHigh(), float64(len(c.lines)+1)*s.lineStep()) +
		float64(len(c.below))*s.lineStep() + 1.5*cardPad
	return c
}

// cardSpread is how much higher than they need the cards get.
const cardSpread = 1.12

// draw spreads the rows over the area's height.
func (s *cardSheet) draw(area rect) {
	spread := 1.0
	if s.high > 0 {
		spread = area.high() / s.high
	}
	y := area.y0
	for row, h := range s.rows {
		h *= spread
		first := row * s.columns
		for k := first; k < min(first+s.columns, len(s.cards)); k++ {
			x := area.x0 + float64(k-first)*s.wide
			s.drawCard(&s.cards[k], rect{x, y, x + s.wide, y + h})
		}
		y += h
	}
}

func (s *cardSheet) drawCard(c *card, box rect) {
	d := s.d
	r, f := &d.job.Runs[c.run], &d.runs[c.run]
	d.Group("card", oneLine("run "+r.Name))
	defer d.End()
	in := box.grown(-0.9)
	pen := PenDimension
	if f.grave() {
		pen = Pen{W70, Red, Solid}
	}
	d.Line(pen, true, in.x0, in.y0, in.x1, in.y0, in.x1, in.y1, in.x0, in.y1)
	high := TextLarge * min(largestHead, s.scale)
	base := box.y0 + s.headerHigh() - 0.9
	verdictLeft := s.verdictBox(f, box.x1-cardPad-0.4, base, TextNormal*min(largestHead, s.scale))
	d.Text(Text{S: cutToFit(oneLine(r.Name), verdictLeft-box.x0-2*cardPad, high, true), X: box.x0 + cardPad + 0.4, Y: base, Height: high, Bold: true})
	top := box.y0 + s.headerHigh() + cardPad/2 + max(0, box.high()-c.high)/3
	c.section.draw(d, rect{box.x0 + cardPad, top, box.x0 + cardPad + s.sectionBox(), top + s.sectionBox()})
	s.write(c.lines, box.x0+s.sectionBox()+2*cardPad, top+0.6*s.textMM)
	s.write(c.below, box.x0+cardPad, top+max(s.sectionBox()+s.captionHigh(), float64(len(c.lines)+1)*s.lineStep()))
}

func (s *cardSheet) write(lines []cardLine, x, top float64) {
	for i, l := range lines {
		s.d.Text(Text{S: l.s, X: x, Y: top + float64(i)*s.lineStep() + s.textMM, Height: s.textMM, Bold: l.bold, Ink: l.ink})
	}
}

// verdictBox writes the verdict to the left of x; a failure is white on red in
// a frame, so that it stands out in black and white too. It returns its left edge.
func (s *cardSheet) verdictBox(f *runFacts, x, base, high float64) float64 {
	word := f.verdictText()
	w := TextWidth(word, high, true) + 2
	frame := rect{x - w, base - high - 0.9, x, base + 0.9}
	corners := []float64{frame.x0, frame.y0, frame.x1, frame.y0, frame.x1, frame.y1, frame.x0, frame.y1}
	ink := Black
	switch {
	case f.grave():
		s.d.Fill(Red, corners...)
		ink = White
	case f.word() != "":
		s.d.Line(PenEdge, true, corners...)
	}
	s.d.Text(Text{S: word, X: x - w/2, Y: base, Height: high, AlignX: Centre, Bold: true, Ink: ink})
	return frame.x0
}

// sectionView is a run cut across, ready to draw.
type sectionView struct {
	spec   SectionSpec
	scale  string
	sizeMM float64 // of its larger side on the sheet, 0 where it is not drawn
	note   string
}

// sectionScales are sheet millimetres to one of the enclosure.
var sectionScales = []struct {
	name  string
	ratio float64
}{{"5:1", 5}, {"2:1", 2}, {"1:1", 1}, {"1:2", 0.5}, {"1:2.5", 0.4}, {"1:5", 0.2}, {"1:10", 0.1}, {"1:20", 0.05}, {"1:50", 0.02}}

func (v *sectionView) fit(boxMM float64) {
	side := max(v.spec.WidthMM, v.spec.HeightMM)
	for _, s := range sectionScales {
		if side*s.ratio <= boxMM {
			v.scale, v.sizeMM = s.name, side*s.ratio
			return
		}
	}
}

// draw draws the cross-section in the middle of the box, its scale below it.
func (v *sectionView) draw(c Canvas, box rect) {
	x, y := (box.x0+box.x1)/2, (box.y0+box.y1)/2
	text, ink := v.scale, DarkGrey
	if v.sizeMM > 0 {
		inside, _ := settleMost(v.spec.radii(), v.spec.bore())
		e := v.spec
		e.Cables = e.Cables[:inside]
		c.Group("section", "the run cut across")
		Section(c, x, y, v.sizeMM, e)
		c.End()
		if more := len(v.spec.Cables) - inside; more > 0 {
			text, ink = fmt.Sprintf("%s, no place for %d", v.scale, more), Red
		}
	}
	if v.note != "" {
		text = v.note
	}
	bottom := box.y1
	if v.sizeMM > 0 {
		bottom = min(bottom, y+v.sizeMM*math.Max(1, v.spec.HeightMM/v.spec.WidthMM)/2)
	}
	c.Text(Text{S: cutToFit(text, box.wide(), TextSmall, false), X: x, Y: max(bottom, box.y1-1.5) + TextSmall + 0.6,
		Height: TextSmall, AlignX: Centre, Ink: ink})
}
