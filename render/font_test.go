package render

import (
	"math"
	"testing"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/golang/freetype/truetype"
	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"
)

// printed holds every rune outside Latin letters that our drawings, tables and
// messages use.
const printed = "Ω√²³×≤≥≠∠Δπθφ°µ±Ø⌀½→≈✓✗☐□▲─⁻∑Σ·–—“”‘’£€₂₁₀η∞ρλ¼¾÷−…§"

func TestPrintable(t *testing.T) {
	if missing := MissingRunes(printed); missing != nil {
		t.Errorf("the typeface lacks %q", missing)
	}
	for r := rune(0x20); r <= 0x17F; r++ { // Latin-1 and the letters of Latin-2
		if r >= 0x7F && r < 0xA0 {
			continue
		}
		if !Printable(r) {
			t.Errorf("the typeface lacks %q", r)
		}
	}
}

func TestMissingRunes(t *testing.T) {
	got := string(MissingRunes("a⏚b日⏚\n日"))
	if got != "⏚日\n" {
		t.Errorf("got %q", got)
	}
	if MissingRunes("25 mm² → 4 Ω") != nil {
		t.Error("missed what is there")
	}
}

// Widths against another reader of the same font file, golang/freetype.
func TestTextWidthAgainstFreetype(t *testing.T) {
	f, err := truetype.Parse(dejavusans.TTF)
	if err != nil {
		t.Fatal(err)
	}
	const ppem = 2048
	for _, s := range []string{"H", "25 mm steel conduit", "R1+R2 = 0.42 Ω", "Ŵálęsa ⌀20 ≤ ½"} {
		units := fixed.Int26_6(0)
		for _, r := range s {
			units += f.HMetric(ppem, f.Index(r)).AdvanceWidth
		}
		var h truetype.GlyphBuf
		if err := h.Load(f, ppem, f.Index('H'), font.HintingNone); err != nil {
			t.Fatal(err)
		}
		want := float64(units) / float64(h.Bounds.Max.Y) * 2.5
		if got := TextWidth(s, 2.5, false); math.Abs(got-want) > 1e-9 {
			t.Errorf("%q: %.6f mm, freetype says %.6f", s, got, want)
		}
	}
}

// The em of DejaVu Sans is 2048 units and its capitals 1493 high.
func TestEm(t *testing.T) {
	if got := EmMM(1493, false); math.Abs(got-2048) > 1e-9 {
		t.Errorf("got %g", got)
	}
}

func TestTextWidthAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.String().Draw(t, "first part")
		b := rapid.String().Draw(t, "second part")
		high := rapid.Float64Range(0.5, 50).Draw(t, "height")
		bold := rapid.Bool().Draw(t, "bold")
		whole, parts := TextWidth(a+b, high, bold), TextWidth(a, high, bold)+TextWidth(b, high, bold)
		if math.Abs(whole-parts) > 1e-9*(1+whole) {
			t.Fatalf("%g and %g", whole, parts)
		}
	})
}

func BenchmarkTextWidth(b *testing.B) {
	for b.Loop() {
		TextWidth("mark 412 mm, 1 206 mm", TextSmall, false)
	}
}
