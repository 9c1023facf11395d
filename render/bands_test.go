package render

import (
	"image"
	"testing"
)

// TestBandsLeaveNoSeam: a sheet drawn in bands is the sheet drawn as one. A
// glyph, a circle or a slanting line that crosses from band to band must not
// show where.
func TestBandsLeaveNoSeam(t *testing.T) {
	s := NewSheet(120, 80)
	for i := range 40 {
		y := 2 + 1.9*float64(i)
		s.Text(Text{S: "Inspect gy ⌀25 √ § held", X: 3, Y: y, Height: 1.8})
		s.Text(Text{S: "2.5 mm²", X: 70, Y: y, Height: 1.8, Angle: -90, Bold: true})
		s.Line(PenSymbol, false, 85, y, 115, y+1.3)
		s.Arc(PenOutline, 60, y, 1.1, 0, 360)
		s.Disc(CoreBlue, 80, y, 0.8)
	}
	for _, pxPerMM := range []float64{3.1, 80 / mmPerInch, 110 / mmPerInch, 200 / mmPerInch} {
		bands, whole := rasterise(s, pxPerMM), rasteriseRows(s, pxPerMM, 4000)
		if n, at := differ(bands, whole); n > 0 {
			t.Errorf("%g px/mm: %d pixels differ, the first at %v", pxPerMM, n, at)
		}
	}
}

func differ(a, b *image.Paletted) (n int, first image.Point) {
	for i := range a.Pix {
		if a.Pix[i] != b.Pix[i] {
			if n == 0 {
				first = image.Pt(i%a.Stride, i/a.Stride)
			}
			n++
		}
	}
	return n, first
}
