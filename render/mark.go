package render

import (
	"fmt"
	"strconv"
	"strings"
)

type lineMark struct {
	pen    Pen
	closed bool
	xy     []float64
}

type fillMark struct {
	ink Ink
	xy  []float64
}

type arcMark struct {
	pen            Pen
	cx, cy, r      float64
	fromDeg, toDeg float64
}

type discMark struct {
	ink       Ink
	cx, cy, r float64
}

type textMark struct{ Text }

type groupMark struct{ name, title string }

type endMark struct{}

func (m lineMark) Draw(c Canvas)  { c.Line(m.pen, m.closed, m.xy...) }
func (m fillMark) Draw(c Canvas)  { c.Fill(m.ink, m.xy...) }
func (m arcMark) Draw(c Canvas)   { c.Arc(m.pen, m.cx, m.cy, m.r, m.fromDeg, m.toDeg) }
func (m discMark) Draw(c Canvas)  { c.Disc(m.ink, m.cx, m.cy, m.r) }
func (m textMark) Draw(c Canvas)  { c.Text(m.Text) }
func (m groupMark) Draw(c Canvas) { c.Group(m.name, m.title) }
func (m endMark) Draw(c Canvas)   { c.End() }

func (m lineMark) numbers() []float64 { return append([]float64{m.pen.WidthMM}, m.xy...) }
func (m fillMark) numbers() []float64 { return m.xy }
func (m arcMark) numbers() []float64 {
	return []float64{m.pen.WidthMM, m.cx, m.cy, m.r, m.fromDeg, m.toDeg}
}
func (m discMark) numbers() []float64  { return []float64{m.cx, m.cy, m.r} }
func (m textMark) numbers() []float64  { return []float64{m.X, m.Y, m.Height, m.Angle} }
func (m groupMark) numbers() []float64 { return nil }
func (m endMark) numbers() []float64   { return nil }

func (m lineMark) String() string {
	shape := "line"
	if m.closed {
		shape = "loop"
	}
	return fmt.Sprintf("%s %v %s", shape, m.pen, points(m.xy))
}

func (m fillMark) String() string { return fmt.Sprintf("fill %v %s", m.ink, points(m.xy)) }

func (m arcMark) String() string {
	return fmt.Sprintf("arc %v %s,%s r %s from %s to %s", m.pen,
		mm(m.cx), mm(m.cy), mm(m.r), mm(m.fromDeg), mm(m.toDeg))
}

func (m discMark) String() string {
	return fmt.Sprintf("disc %v %s,%s r %s", m.ink, mm(m.cx), mm(m.cy), mm(m.r))
}

func (m textMark) String() string {
	weight := ""
	if m.Bold {
		weight = " bold"
	}
	return fmt.Sprintf("text %q %s,%s high %s turned %s %v %v%s %v", m.S,
		mm(m.X), mm(m.Y), mm(m.Height), mm(m.Angle), m.AlignX, m.AlignY, weight, m.Ink)
}

func (m groupMark) String() string { return fmt.Sprintf("group %s %q", m.name, m.title) }
func (m endMark) String() string   { return "end" }

// String prints the pen as its width, ink and dash.
func (p Pen) String() string { return fmt.Sprintf("%s %v %v", mm(p.WidthMM), p.Ink, p.Dash) }

func points(xy []float64) string {
	var b strings.Builder
	for i, v := range xy {
		switch {
		case i == 0:
		case i%2 == 0:
			b.WriteByte(' ')
		default:
			b.WriteByte(',')
		}
		b.WriteString(mm(v))
	}
	return b.String()
}

// mm prints a figure with two decimals and never as minus nothing.
func mm(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	if s == "-0.00" {
		return "0.00"
	}
	return s
}
