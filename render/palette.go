package render

import (
	"encoding/binary"
	"image"
	"image/color"
	"math"
	"sync"
)

// sheetPalette holds every ink and the steps that smooth the edges between
// them. Sixteen colours, so that a PNG packs two pixels to the byte.
var sheetPalette = color.Palette{
	grey(0xFF), Black.rgba(), LightGrey.rgba(), grey(0xBC), Grey.rgba(), grey(0x73), DarkGrey.rgba(), grey(0x2C),
	Red.rgba(), tint(Red),
	CoreBrown.rgba(), tint(CoreBrown),
	CoreBlue.rgba(), tint(CoreBlue),
	CoreGreen.rgba(), CoreYellow.rgba(),
}

func grey(v uint8) color.RGBA { return color.RGBA{v, v, v, 0xFF} }

// tint is the ink half covering white paper.
func tint(c Ink) color.RGBA {
	r, g, b := c.RGB()
	half := func(v uint8) uint8 { return uint8((int(v) + 0xFF) / 2) }
	return color.RGBA{half(r), half(g), half(b), 0xFF}
}

// nearest maps five bits of red, green and blue to the palette.
var nearest = sync.OnceValue(func() *[1 << 15]uint8 {
	var t [1 << 15]uint8
	for i := range t {
		t[i] = closest(widen(i>>10), widen(i>>5&31), widen(i&31))
	}
	return &t
})

// widen spreads five bits over eight.
func widen(v int) float64 { return float64(v<<3 | v>>2) }

// closest weighs the channels as the eye does, by the "redmean" distance
// (common practice, no source): grey edges stay grey.
func closest(r, g, b float64) uint8 {
	best, least := 0, math.Inf(1)
	for i, c := range sheetPalette {
		p := c.(color.RGBA)
		dr, dg, db := r-float64(p.R), g-float64(p.G), b-float64(p.B)
		mean := (r + float64(p.R)) / 2
		d := (2+mean/256)*dr*dr + 4*dg*dg + (2+(255-mean)/256)*db*db
		if d < least {
			best, least = i, d
		}
	}
	return uint8(best)
}

// whitePixels is eight bytes of white: two pixels of paper, skipped at once
// since most of a drawing is paper and the palette's first colour is white.
const whitePixels = 0xFFFFFFFFFFFFFFFF

// quantise copies a band into the picture from row top on.
func quantise(out *image.Paletted, in *image.RGBA, skip, top int) {
	table := nearest()
	w := out.Rect.Dx()
	for y := 0; skip+y < in.Rect.Dy() && top+y < out.Rect.Dy(); y++ {
		src := in.Pix[(skip+y)*in.Stride : (skip+y)*in.Stride+4*w]
		dst := out.Pix[(top+y)*out.Stride:][:w]
		for x := 0; x < w; {
			if x+2 <= w && binary.LittleEndian.Uint64(src[4*x:]) == whitePixels {
				x += 2
				continue
			}
			p := src[4*x : 4*x+3]
			dst[x] = table[int(p[0]>>3)<<10|int(p[1]>>3)<<5|int(p[2]>>3)]
			x++
		}
	}
}
