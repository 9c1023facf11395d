package render

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/fogleman/gg"
	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/dejavu/dejavusansbold"
)

// fullSheet is an A3 sheet as full as a job fills it: frame, a wall with its
// runs and boxes, dimensions, sections and a cutting list.
func fullSheet() *Sheet {
	s := NewSheet(420, 297)
	s.Line(PenFrame, true, 10, 10, 410, 10, 410, 287, 10, 287)
	s.Line(PenEdge, true, 20, 20, 280, 20, 280, 200, 20, 200)
	for i := range 140 {
		x := 20 + float64(i)*260/140
		s.Line(PenHatch, false, x, 200, x+4, 205)
	}
	for i := range 12 {
		loadRun(s, i, 32+float64(i)*13.5)
	}
	for i := range 8 {
		loadSection(s, 315+float64(i%2)*55, 40+float64(i/2)*42)
	}
	for row := range 13 {
		y := 215 + float64(row)*5
		s.Line(PenDimension, false, 20, y, 400, y)
		for col, text := range []string{"run A", "25 mm steel", "3.75 m", "cut 3 624 mm", "mark 412 mm, 1 206 mm", "stock 4, offcut 376 mm"} {
			s.Text(Text{S: text, X: 22 + float64(col)*62, Y: y - 1.2, Height: TextSmall, Bold: row == 0})
		}
	}
	s.Text(Text{S: "Rowing club boat store: first fix", X: 400, Y: 283, Height: TextTitle, AlignX: Right, Bold: true})
	return s
}

func loadRun(s *Sheet, i int, y float64) {
	end := 150 + float64(i)*8
	s.Group(fmt.Sprintf("run-%d", i+1), "")
	for _, d := range []float64{-1.2, 1.2} {
		s.Line(PenOutline, false, 30, y+d, end, y+d)
		s.Arc(PenOutline, end, y+6, 6-d, 270, 360)
	}
	s.Line(PenCentre, false, 28, y, end+8, y)
	for k := range 5 {
		x := 40 + float64(k)*24
		s.Arc(PenSymbol, x, y, 3, 0, 360)
		s.Text(Text{S: fmt.Sprintf("bx%d.%d", i+1, k+1), X: x, Y: y - 3.8, Height: TextSmall, AlignX: Centre})
		s.Line(PenDimension, false, x, y+5, x+24, y+5)
		s.Fill(Black, x, y+5, x+2.5, y+4.6, x+2.5, y+5.4)
		s.Fill(Black, x+24, y+5, x+21.5, y+4.6, x+21.5, y+5.4)
		s.Text(Text{S: fmt.Sprintf("%d mm", 400+37*k+i), X: x + 12, Y: y + 4.2, Height: TextSmall, AlignX: Centre})
	}
	s.Text(Text{S: "⌀20 2.4 m", X: 26, Y: y + 5, Height: TextSmall, Angle: -90})
	s.End()
}

func loadSection(s *Sheet, cx, cy float64) {
	s.Arc(PenOutline, cx, cy, 16, 0, 360)
	s.Arc(PenOutline, cx, cy, 14.5, 0, 360)
	for k := range 14 {
		sin, cos := math.Sincos(float64(k) * 0.45)
		x, y := cx+10*cos, cy+10*sin
		s.Disc([]Ink{CoreBrown, CoreBlue, CoreGreen}[k%3], x, y, 2)
		s.Arc(PenDimension, x, y, 2, 0, 360)
	}
	s.Text(Text{S: "6 × 2.5 mm², 4 × 1.5 mm²: 312 ≤ 330", X: cx, Y: cy + 19, Height: TextSmall, AlignX: Centre, AlignY: Top})
}

// The load of the benchmark is a drawing that could be issued.
func TestFullSheetIsClean(t *testing.T) {
	if c := fullSheet().Clashes(); c != nil {
		t.Error(c)
	}
	if err := fullSheet().Check(); err != nil {
		t.Error(err)
	}
}

// plainCanvas draws as gg's own examples do: one canvas, a face loaded for each
// text, arcs and scaling by the library, default compression.
type plainCanvas struct {
	ctx     *gg.Context
	pxPerMM float64
	fonts   [2]string
}

func newPlain(tb testing.TB, s *Sheet, dpi float64) *plainCanvas {
	p := &plainCanvas{pxPerMM: dpi / 25.4}
	for i, ttf := range [][]byte{dejavusans.TTF, dejavusansbold.TTF} {
		p.fonts[i] = filepath.Join(tb.TempDir(), "face.ttf")
		if err := os.WriteFile(p.fonts[i], ttf, 0o600); err != nil {
			tb.Fatal(err)
		}
	}
	return p
}

func (p *plainCanvas) encode(w io.Writer, s *Sheet) error {
	p.ctx = gg.NewContext(int(math.Round(s.Width*p.pxPerMM)), int(math.Round(s.Height*p.pxPerMM)))
	p.ctx.SetRGB(1, 1, 1)
	p.ctx.Clear()
	s.Draw(p)
	return p.ctx.EncodePNG(w)
}

func (p *plainCanvas) pen(pen Pen) {
	p.ctx.SetColor(pen.Ink.rgba())
	p.ctx.SetLineWidth(pen.WidthMM * p.pxPerMM)
	var dash []float64
	for _, d := range pen.Pattern() {
		dash = append(dash, d*p.pxPerMM)
	}
	p.ctx.SetDash(dash...)
}

func (p *plainCanvas) path(xy []float64) {
	for i := 0; i < len(xy); i += 2 {
		p.ctx.LineTo(xy[i]*p.pxPerMM, xy[i+1]*p.pxPerMM)
	}
}

func (p *plainCanvas) Line(pen Pen, closed bool, xy ...float64) {
	p.pen(pen)
	p.path(xy)
	if closed {
		p.ctx.ClosePath()
	}
	p.ctx.Stroke()
}

func (p *plainCanvas) Fill(c Ink, xy ...float64) {
	p.ctx.SetColor(c.rgba())
	p.path(xy)
	p.ctx.Fill()
}

func (p *plainCanvas) Arc(pen Pen, cx, cy, r, from, to float64) {
	p.pen(pen)
	p.ctx.DrawArc(cx*p.pxPerMM, cy*p.pxPerMM, r*p.pxPerMM, gg.Radians(from), gg.Radians(to))
	p.ctx.Stroke()
}

func (p *plainCanvas) Disc(c Ink, cx, cy, r float64) {
	p.ctx.SetColor(c.rgba())
	p.ctx.DrawCircle(cx*p.pxPerMM, cy*p.pxPerMM, r*p.pxPerMM)
	p.ctx.Fill()
}

func (p *plainCanvas) Text(t Text) {
	font := p.fonts[0]
	if t.Bold {
		font = p.fonts[1]
	}
	if err := p.ctx.LoadFontFace(font, EmMM(t.Height, t.Bold)*p.pxPerMM); err != nil {
		panic(err)
	}
	p.ctx.SetColor(t.Ink.rgba())
	x, y := t.X*p.pxPerMM, t.Y*p.pxPerMM
	p.ctx.Push()
	p.ctx.RotateAbout(gg.Radians(t.Angle), x, y)
	p.ctx.DrawStringAnchored(t.S, x, y, float64(t.AlignX)/2, float64(t.AlignY)/2)
	p.ctx.Pop()
}

func (p *plainCanvas) Group(string, string) {}
func (p *plainCanvas) End()                 {}

// BenchmarkPNG compares the writer with plain gg on the same marks. Read the
// ratio of the two times and of the two sizes, from one run.
func BenchmarkPNG(b *testing.B) {
	s := fullSheet()
	plain := newPlain(b, s, 300)
	for _, way := range []struct {
		name  string
		write func(io.Writer) error
	}{
		{"ours", func(w io.Writer) error { return WritePNG(w, s, 300) }},
		{"plain", func(w io.Writer) error { return plain.encode(w, s) }},
	} {
		b.Run(way.name, func(b *testing.B) {
			var buf bytes.Buffer
			b.ReportAllocs()
			for b.Loop() {
				buf.Reset()
				if err := way.write(&buf); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(buf.Len()), "bytes")
		})
	}
}

// BenchmarkRaster tells drawing from encoding.
func BenchmarkRaster(b *testing.B) {
	s := fullSheet()
	for b.Loop() {
		rasterise(s, 300/25.4)
	}
}
