package render

import (
	"sync"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/dejavu/dejavusansbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// face is a typeface measured once at its own units, where nothing is rounded
// to pixels. It is safe for concurrent use.
type face struct {
	font  *sfnt.Font
	units float64 // to the em
	cap   float64 // height of H in units

	mu     sync.Mutex
	buf    sfnt.Buffer
	glyphs map[rune]*glyph
}

// glyph is an outline in the face's units, y down, its origin on the base line.
type glyph struct {
	advance  float64
	segments sfnt.Segments
}

var faces = [2]func() *face{
	sync.OnceValue(func() *face { return parseFace(dejavusans.TTF) }),
	sync.OnceValue(func() *face { return parseFace(dejavusansbold.TTF) }),
}

func faceOf(bold bool) *face {
	if bold {
		return faces[1]()
	}
	return faces[0]()
}

// parseFace panics on a font that cannot be read: it is compiled in.
func parseFace(ttf []byte) *face {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic("render: compiled-in font: " + err.Error())
	}
	fc := &face{font: f, units: float64(f.UnitsPerEm()), glyphs: map[rune]*glyph{}}
	bounds := fc.glyph('H').segments.Bounds()
	fc.cap = float64(-bounds.Min.Y) / 64
	return fc
}

// glyph returns the outline of r, or the face's empty box when it has none.
func (f *face) glyph(r rune) *glyph {
	f.mu.Lock()
	defer f.mu.Unlock()
	if g, ok := f.glyphs[r]; ok {
		return g
	}
	i, err := f.font.GlyphIndex(&f.buf, r)
	if err != nil {
		i = 0
	}
	ppem := fixed.I(int(f.font.UnitsPerEm()))
	g := &glyph{}
	if s, err := f.font.LoadGlyph(&f.buf, i, ppem, nil); err == nil {
		g.segments = append(sfnt.Segments(nil), s...)
	}
	if a, err := f.font.GlyphAdvance(&f.buf, i, ppem, font.HintingNone); err == nil {
		g.advance = float64(a) / 64
	}
	f.glyphs[r] = g
	return g
}

func (f *face) has(r rune) bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	i, err := f.font.GlyphIndex(&f.buf, r)
	return err == nil && i != 0
}

// TextWidth returns the length of s in millimetres when its capitals are
// heightMM high. It asks the font alone, so every writer agrees with it.
func TextWidth(s string, heightMM float64, bold bool) float64 {
	f := faceOf(bold)
	units := 0.0
	for _, r := range s {
		units += f.glyph(r).advance
	}
	return units * heightMM / f.cap
}

// EmMM returns the font size (em) in millimetres of text whose capitals are
// heightMM high, for writers that set type by the em.
func EmMM(heightMM float64, bold bool) float64 {
	f := faceOf(bold)
	return heightMM * f.units / f.cap
}

// Printable says whether both weights of the typeface hold r.
func Printable(r rune) bool {
	return r >= ' ' && faceOf(false).has(r) && faceOf(true).has(r)
}

// MissingRunes returns the runes of s that the typeface lacks, each once, in
// order. A writer shows an empty box for each, so the caller should say so.
func MissingRunes(s string) []rune {
	var missing []rune
	seen := map[rune]bool{}
	for _, r := range s {
		if !seen[r] && !Printable(r) {
			missing = append(missing, r)
		}
		seen[r] = true
	}
	return missing
}
