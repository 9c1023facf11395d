package render

import (
	"fmt"
	"math"
)

// CableKind says how a cable looks in a cross-section.
type CableKind uint8

// Single cores by the colours of IEC 60445, and sheathed cables.
const (
	CoreOther CableKind = iota // a core of no stated colour
	CoreL1                     // brown
	CoreL2                     // black
	CoreL3                     // grey
	CoreN                      // blue
	CoreCPC                    // green and yellow
	RoundSheathed
	FlatTwin // flat twin with protective conductor
	cableKinds
)

// cableLooks gives each kind its colour, the letter that tells it in a black
// and white print, and the ink of the letter.
var cableLooks = [cableKinds]struct {
	ink       Ink
	letter    string
	letterInk Ink
}{
	CoreOther:     {White, "", Black},
	CoreL1:        {CoreBrown, "L", White},
	CoreL2:        {CoreBlack, "L2", White},
	CoreL3:        {CoreGrey, "L3", Black},
	CoreN:         {CoreBlue, "N", Black},
	CoreCPC:       {CoreGreen, "", White},
	RoundSheathed: {LightGrey, "", Black},
	FlatTwin:      {LightGrey, "", Black},
}

// SectionCable is a cable in a cross-section. HeightMM counts for FlatTwin
// only. Letter replaces the kind's own letter.
type SectionCable struct {
	Kind       CableKind
	DiameterMM float64 // over all; the wide way of a flat cable
	HeightMM   float64
	Letter     string
}

// SectionSpec is an enclosure cut across, with the cables in it. With a height
// it is trunking with its lid at the top, without one a tube.
type SectionSpec struct {
	WidthMM  float64 // outside
	HeightMM float64 // outside; 0 for a tube
	WallMM   float64
	Cables   []SectionCable
}

// bore returns the inside of the enclosure.
func (e SectionSpec) bore() bore {
	if e.HeightMM > 0 {
		return boxBore{e.WidthMM/2 - e.WallMM, e.HeightMM/2 - e.WallMM}
	}
	return roundBore(e.WidthMM/2 - e.WallMM)
}

// radii returns the circle that each cable is packed as.
func (e SectionSpec) radii() []float64 {
	r := make([]float64, len(e.Cables))
	for i, c := range e.Cables {
		r[i] = c.DiameterMM / 2
	}
	return r
}

// Section draws the enclosure to scale about x, y, its larger side sizeMM on
// the sheet, with the cables as they might lie. It shows; it does not judge.
// Cables for which no place was found, last ones first, are drawn ringed to
// the right; their number is returned.
func Section(c Canvas, x, y, sizeMM float64, e SectionSpec) (outside int) {
	scale := sizeMM / max(e.WidthMM, e.HeightMM)
	if !(scale > 0) || math.IsInf(scale, 0) {
		return len(e.Cables)
	}
	d := sectionDrawing{c, x, y, scale}
	d.enclosure(e)
	inside, discs := settleMost(e.radii(), e.bore())
	for i, at := range discs {
		d.cable(e.Cables[i], at)
	}
	if rest := e.Cables[inside:]; len(rest) > 0 {
		d.excess(e, rest)
	}
	return len(e.Cables) - inside
}

// settleMost packs as many cables as find a place, counted from the first.
func settleMost(radii []float64, b bore) (int, []disc) {
	if d, ok := pack(radii, b); ok {
		return len(radii), d
	}
	lo, hi := 0, len(radii)
	var best []disc
	for hi-lo > 1 {
		mid := (lo + hi) / 2
		if d, ok := pack(radii[:mid], b); ok {
			lo, best = mid, d
		} else {
			hi = mid
		}
	}
	return lo, best
}

// sectionDrawing holds where a cross-section is drawn.
type sectionDrawing struct {
	c     Canvas
	x, y  float64
	scale float64
}

func (d sectionDrawing) enclosure(e SectionSpec) {
	w := e.WidthMM / 2 * d.scale
	if e.HeightMM == 0 {
		d.c.Disc(LightGrey, d.x, d.y, w)
		d.c.Disc(White, d.x, d.y, w-e.WallMM*d.scale)
		d.c.Arc(PenOutline, d.x, d.y, w, 0, 360)
		d.c.Arc(PenEdge, d.x, d.y, w-e.WallMM*d.scale, 0, 360)
		return
	}
	h, t := e.HeightMM/2*d.scale, e.WallMM*d.scale
	box := func(w, h float64) []float64 {
		return []float64{d.x - w, d.y - h, d.x + w, d.y - h, d.x + w, d.y + h, d.x - w, d.y + h}
	}
	d.c.Fill(LightGrey, box(w, h)...)
	d.c.Fill(White, box(w-t, h-t)...)
	d.c.Line(PenOutline, true, box(w, h)...)
	d.c.Line(PenEdge, true, box(w-t, h-t)...)
	d.lid(w, h, t)
}

// lid draws the seam between lid and body, the lid's edges lapping the sides.
func (d sectionDrawing) lid(w, h, t float64) {
	lap := min(2.5*d.scale, h/2)
	for _, side := range []float64{-1, 1} {
		d.c.Line(PenEdge, false, d.x+side*w, d.y-h+t+lap, d.x+side*(w-t), d.y-h+t+lap)
	}
	d.c.Line(PenEdge, false, d.x-w, d.y-h+t, d.x+w, d.y-h+t)
}

func (d sectionDrawing) cable(k SectionCable, at disc) {
	x, y := d.x+at.x*d.scale, d.y+at.y*d.scale
	if k.Kind == FlatTwin && k.HeightMM > 0 && k.HeightMM < k.DiameterMM {
		d.flat(k, x, y)
		return
	}
	d.round(k, x, y, at.r*d.scale)
}

func (d sectionDrawing) round(k SectionCable, x, y, r float64) {
	look := cableLooks[min(k.Kind, cableKinds-1)]
	d.c.Disc(look.ink, x, y, r)
	if k.Kind == CoreCPC {
		d.stripe(x, y, r)
	}
	if k.Kind == RoundSheathed {
		d.c.Arc(PenHatch, x, y, r*0.75, 0, 360)
	}
	d.c.Arc(PenDimension, x, y, r, 0, 360)
	letter := look.letter
	if k.Letter != "" {
		letter = k.Letter
	}
	d.letter(letter, x, y, r, k.Kind, look.letterInk)
}

// stripe paints the yellow band of a protective conductor, which tells it
// from every other core without colour.
func (d sectionDrawing) stripe(x, y, r float64) {
	const half, tilt, steps = 24, 45, 6
	var xy []float64
	for _, end := range []float64{tilt, tilt + 180} {
		for i := range steps + 1 {
			a := (end - half + 2*half*float64(i)/steps) * math.Pi / 180
			xy = append(xy, x+r*math.Cos(a), y+r*math.Sin(a))
		}
	}
	d.c.Fill(CoreYellow, xy...)
}

// leastLetter is the lowest letter, in millimetres, worth printing in a cable.
const leastLetter = 0.9

// letter writes as large as the circle takes, one letter always as large as
// another, and not at all below legibility.
func (d sectionDrawing) letter(s string, x, y, r float64, kind CableKind, ink Ink) {
	if s == "" {
		return
	}
	diagonal := math.Hypot(max(TextWidth(s, 1, true), TextWidth("N", 1, true)), 1)
	high := min(TextNormal, 1.6*r/diagonal)
	if high < leastLetter {
		return
	}
	if kind == CoreCPC {
		w := TextWidth(s, high, true)/2 + 0.2
		d.c.Fill(CoreGreen, x-w, y-high*0.65, x+w, y-high*0.65, x+w, y+high*0.65, x-w, y+high*0.65)
	}
	d.c.Text(Text{S: s, X: x, Y: y, Height: high, AlignX: Centre, AlignY: Middle, Bold: true, Ink: ink})
}

// flat draws a flat twin cable: the sheath as two half circles joined, line
// and neutral with the bare protective conductor between them.
func (d sectionDrawing) flat(k SectionCable, x, y float64) {
	r := k.HeightMM / 2 * d.scale
	a := k.DiameterMM/2*d.scale - r
	d.c.Disc(LightGrey, x-a, y, r)
	d.c.Disc(LightGrey, x+a, y, r)
	d.c.Fill(LightGrey, x-a, y-r, x+a, y-r, x+a, y+r, x-a, y+r)
	d.c.Arc(PenDimension, x-a, y, r, 90, 270)
	d.c.Arc(PenDimension, x+a, y, r, 270, 450)
	d.c.Line(PenDimension, false, x-a, y-r, x+a, y-r)
	d.c.Line(PenDimension, false, x-a, y+r, x+a, y+r)
	core := r * 0.72
	d.round(SectionCable{Kind: CoreL1}, x-a, y, core)
	d.round(SectionCable{Kind: CoreN}, x+a, y, core)
	if bare := min(r*0.35, a-core); bare > 0 {
		d.c.Disc(White, x, y, bare)
		d.c.Arc(PenHatch, x, y, bare, 0, 360)
	}
}

// excess stacks the cables left over beside the enclosure, each ringed.
func (d sectionDrawing) excess(e SectionSpec, rest []SectionCable) {
	const apart = 0.8
	top := d.y - max(e.HeightMM, widthIfRound(e))/2*d.scale
	left := d.x + e.WidthMM/2*d.scale + 3
	x, y, wide := left, top, 0.0
	bottom := 2*d.y - top - TextSmall*LineStep - apart
	for _, k := range rest {
		r := k.DiameterMM / 2 * d.scale
		if y > top && y+2*r > bottom {
			x, y, wide = x+wide+apart, top, 0
		}
		d.cable(k, disc{(x + r - d.x) / d.scale, (y + r - d.y) / d.scale, r / d.scale})
		d.c.Arc(PenFail, x+r, y+r, r, 0, 360)
		wide = max(wide, 2*r)
		y += 2*r + apart
	}
	d.c.Text(Text{S: fmt.Sprintf("no place found for %d", len(rest)), X: left, Y: 2*d.y - top,
		Height: TextSmall, Ink: Red})
}

func widthIfRound(e SectionSpec) float64 {
	if e.HeightMM == 0 {
		return e.WidthMM
	}
	return 0
}
