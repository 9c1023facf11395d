package render

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Mark is one mark of a drawing, held as data.
type Mark interface {
	// Draw repeats the mark on another canvas.
	Draw(c Canvas)
	// String prints the mark on one line with fixed decimals.
	String() string
	// numbers lists every figure that must be finite.
	numbers() []float64
}

// Sheet is a drawing: its size in millimetres and its marks in order, the
// first lying undermost. It is a Canvas that records.
type Sheet struct {
	Width, Height float64
	List          []Mark
}

// NewSheet returns an empty sheet of the given size in millimetres.
func NewSheet(widthMM, heightMM float64) *Sheet {
	return &Sheet{Width: widthMM, Height: heightMM}
}

// Draw repeats every mark on another canvas.
func (s *Sheet) Draw(c Canvas) {
	for _, m := range s.List {
		m.Draw(c)
	}
}

// Marks prints the drawing as text, a mark a line, indented by group: the
// golden file of a drawing.
func (s *Sheet) Marks() string {
	var b strings.Builder
	fmt.Fprintf(&b, "sheet %s x %s\n", mm(s.Width), mm(s.Height))
	depth := 0
	for _, m := range s.List {
		if _, ok := m.(endMark); ok {
			depth = max(0, depth-1)
		}
		b.WriteString(strings.Repeat("  ", depth))
		b.WriteString(m.String())
		b.WriteByte('\n')
		if _, ok := m.(groupMark); ok {
			depth++
		}
	}
	return b.String()
}

// Check reports marks that nothing can draw: a figure that is not a number,
// half a coordinate, a radius or pen below zero, a group left open.
func (s *Sheet) Check() error {
	var errs []error
	depth := 0
	for i, m := range s.List {
		if err := checkMark(m); err != nil {
			errs = append(errs, fmt.Errorf("mark %d: %w: %v", i+1, err, m))
		}
		switch m.(type) {
		case groupMark:
			depth++
		case endMark:
			depth--
		}
		if depth < 0 {
			errs = append(errs, fmt.Errorf("mark %d closes a group that was never opened", i+1))
			depth = 0
		}
	}
	if depth > 0 {
		errs = append(errs, fmt.Errorf("%d group(s) left open", depth))
	}
	return errors.Join(errs...)
}

func checkMark(m Mark) error {
	for _, v := range m.numbers() {
		if !(math.Abs(v) <= farthest) {
			return fmt.Errorf("a figure must be a number between -%.0f and %.0f", farthest, farthest)
		}
	}
	switch m := m.(type) {
	case lineMark:
		return cmpFirst(checkPen(m.pen), checkPairs(m.xy, 2))
	case fillMark:
		return checkPairs(m.xy, 3)
	case arcMark:
		return cmpFirst(checkPen(m.pen), checkRadius(m.r))
	case discMark:
		return checkRadius(m.r)
	case textMark:
		if m.Height <= 0 || m.Height > highest {
			return fmt.Errorf("text must be above 0 and at most %.0f mm high", highest)
		}
	}
	return nil
}

func cmpFirst(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func checkPairs(xy []float64, least int) error {
	if len(xy)%2 != 0 {
		return errors.New("an x without its y")
	}
	if len(xy) < 2*least {
		return fmt.Errorf("needs at least %d points", least)
	}
	return nil
}

func checkRadius(r float64) error {
	if r <= 0 {
		return errors.New("radius must be above 0 mm")
	}
	return nil
}

// Bounds of what a rasteriser in 26.6 fixed point bears, far beyond any
// drawing. It never ends on a dash of no length.
const (
	farthest     = 1e6 // mm, or degrees
	highest      = 1000.0
	widest       = 100.0
	shortestDash = 0.1
)

func checkPen(p Pen) error {
	if p.WidthMM <= 0 || p.WidthMM > widest {
		return fmt.Errorf("a pen must be above 0 and at most %.0f mm wide", widest)
	}
	if p.Dash >= dashCount {
		return errors.New("unknown dash")
	}
	sum := 0.0
	for _, d := range p.Pattern() {
		sum += d
	}
	if p.Dash != Solid && sum < shortestDash {
		return fmt.Errorf("dashes repeat every %g mm; the least is %g mm", sum, shortestDash)
	}
	return nil
}

// Line records a polyline.
func (s *Sheet) Line(p Pen, closed bool, xy ...float64) {
	s.List = append(s.List, lineMark{p, closed, slices.Clone(xy)})
}

// Fill records a painted polygon.
func (s *Sheet) Fill(c Ink, xy ...float64) {
	s.List = append(s.List, fillMark{c, slices.Clone(xy)})
}

// Arc records an arc or circle.
func (s *Sheet) Arc(p Pen, cx, cy, r, from, to float64) {
	s.List = append(s.List, arcMark{p, cx, cy, r, from, to})
}

// Disc records a painted circle.
func (s *Sheet) Disc(c Ink, cx, cy, r float64) {
	s.List = append(s.List, discMark{c, cx, cy, r})
}

// Text records a line of text; empty text leaves no mark.
func (s *Sheet) Text(t Text) {
	if t.S != "" {
		s.List = append(s.List, textMark{t})
	}
}

// Group records the start of a group.
func (s *Sheet) Group(name, title string) { s.List = append(s.List, groupMark{name, title}) }

// End records the end of a group.
func (s *Sheet) End() { s.List = append(s.List, endMark{}) }
