package render

import (
	"image"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"github.com/fogleman/gg"
)

// bandRows is how many rows of pixels are drawn at a time. A band stays in the
// processor's cache and several are drawn at once; a whole A3 sheet at 300 dpi
// would be 70 MB to clear, draw and read back.
const bandRows = 128

// spareRows are drawn above each band and thrown away: the rasteriser rounds
// towards nought, so that what lies just above its picture lands in its first
// row.
const spareRows = 2

// rasterise draws the sheet at pxPerMM pixels a millimetre, in bands.
func rasterise(s *Sheet, pxPerMM float64) *image.Paletted { return rasteriseRows(s, pxPerMM, bandRows) }

func rasteriseRows(s *Sheet, pxPerMM float64, rows int) *image.Paletted {
	w := max(1, int(math.Round(s.Width*pxPerMM)))
	h := max(1, int(math.Round(s.Height*pxPerMM)))
	p := &plotter{pxPerMM: pxPerMM}
	p.keep(float64(w), float64(h))
	s.Draw(p)
	out := image.NewPaletted(image.Rect(0, 0, w, h), sheetPalette)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), (h+rows-1)/rows) {
		wg.Go(func() {
			b := newBand(w, rows)
			for {
				top := int(next.Add(1)-1) * rows
				if top >= h {
					return
				}
				b.draw(p.shapes, top)
				quantise(out, b.im, spareRows, top)
			}
		})
	}
	wg.Wait()
	return out
}

// band is a strip of the picture across its whole width.
type band struct {
	im  *image.RGBA
	ctx *gg.Context
	top float64

	rows float64
}

func newBand(w, rows int) *band {
	im := image.NewRGBA(image.Rect(0, 0, w, spareRows+rows))
	return &band{im: im, ctx: gg.NewContextForRGBA(im), rows: float64(rows)}
}

// draw paints every shape that touches the band whose first row is top.
func (b *band) draw(shapes []shape, top int) {
	b.top = float64(top - spareRows)
	clear255(b.im.Pix)
	for i := range shapes {
		sh := &shapes[i]
		if sh.maxY < b.top || sh.minY > b.top+spareRows+b.rows {
			continue
		}
		b.ctx.SetColor(sh.ink.rgba())
		switch {
		case sh.glyphs != nil:
			b.text(sh)
		case sh.widthPX > 0:
			b.stroke(sh)
		default:
			b.path(sh.xy)
			b.ctx.Fill()
		}
	}
}

func (b *band) path(xy []float64) {
	b.ctx.MoveTo(on64ths(xy[0]), on64ths(xy[1])-b.top)
	for i := 2; i < len(xy); i += 2 {
		b.ctx.LineTo(on64ths(xy[i]), on64ths(xy[i+1])-b.top)
	}
}

// on64ths puts a coordinate on the rasteriser's grid of 64ths of a pixel, so that
// it is the same point whichever band it is drawn in.
func on64ths(px float64) float64 { return math.Round(px*64) / 64 }

func (b *band) stroke(sh *shape) {
	b.ctx.SetLineWidth(sh.widthPX)
	b.ctx.SetDash(sh.dashPX...)
	b.ctx.SetLineCapRound()
	if sh.butt {
		b.ctx.SetLineCapButt()
	}
	b.path(sh.xy)
	if sh.closed {
		b.ctx.ClosePath()
	}
	b.ctx.Stroke()
}

func (b *band) text(sh *shape) {
	for _, g := range sh.glyphs {
		at := func(i int, seg *[3]fixedPoint) (x, y float64) {
			u, v := float64(seg[i].X)/64, float64(seg[i].Y)/64
			return on64ths(g.x + sh.cos*u - sh.sin*v), on64ths(g.y+sh.sin*u+sh.cos*v) - b.top
		}
		for i := range g.segments {
			seg := &g.segments[i]
			x0, y0 := at(0, &seg.Args)
			switch seg.Op {
			case moveTo:
				b.ctx.MoveTo(x0, y0)
			case lineTo:
				b.ctx.LineTo(x0, y0)
			case quadTo:
				x1, y1 := at(1, &seg.Args)
				b.ctx.QuadraticTo(x0, y0, x1, y1)
			case cubeTo:
				x1, y1 := at(1, &seg.Args)
				x2, y2 := at(2, &seg.Args)
				b.ctx.CubicTo(x0, y0, x1, y1, x2, y2)
			}
		}
	}
	b.ctx.Fill()
}

func clear255(pix []uint8) {
	pix[0] = 0xFF
	for n := 1; n < len(pix); n *= 2 {
		copy(pix[n:], pix[:n])
	}
}
