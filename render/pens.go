package render

import "image/color"

// Line widths in millimetres: the series of ISO 128-2, each √2 the one before.
const (
	W13 = 0.13
	W18 = 0.18
	W25 = 0.25
	W35 = 0.35
	W50 = 0.5
	W70 = 0.7
)

// Lettering: heights of capitals in millimetres. The series of ISO 3098-1 is
// 1.8, 2.5, 3.5, 5; 1.8 is the least that reads at arm's length.
const (
	TextSmall  = 1.8
	TextNormal = 2.5
	TextLarge  = 3.5
	TextTitle  = 5.0
)

// Clearances in millimetres.
const (
	SheetMargin = 10.0 // edge of the paper to the frame
	TextGap     = 0.8  // text to the nearest line
	LineStep    = 1.6  // base line to base line, in cap heights
	DimFirst    = 8.0  // outline to the first dimension line
	DimStep     = 6.5  // dimension line to the next
	DimGap      = 1.0  // outline to the start of an extension line
	DimOver     = 1.5  // extension line past the dimension line
	ArrowLength = 2.5
	ArrowWidth  = 0.8
)

// Ink is a named colour of the palette.
type Ink uint8

// The zero Ink is black. Cores take the colours of IEC 60445; brown, blue,
// green and yellow differ in darkness too, so that a black and white print
// still tells them apart.
const (
	Black Ink = iota
	DarkGrey
	Grey
	LightGrey
	White
	Red // a check that fails
	CoreBrown
	CoreBlue
	CoreGreen
	CoreYellow
	CoreBlack
	CoreGrey
	inkCount
)

var inks = [inkCount]struct {
	name    string
	r, g, b uint8
}{
	Black:      {"black", 0, 0, 0},
	DarkGrey:   {"dark-grey", 0x50, 0x50, 0x50},
	Grey:       {"grey", 0x96, 0x96, 0x96},
	LightGrey:  {"light-grey", 0xDC, 0xDC, 0xDC},
	White:      {"white", 0xFF, 0xFF, 0xFF},
	Red:        {"red", 0xC4, 0x14, 0x14},
	CoreBrown:  {"core-brown", 0x7A, 0x45, 0x1E},
	CoreBlue:   {"core-blue", 0x5A, 0x96, 0xDC},
	CoreGreen:  {"core-green", 0x1E, 0x82, 0x32},
	CoreYellow: {"core-yellow", 0xF5, 0xDC, 0x32},
	CoreBlack:  {"core-black", 0, 0, 0},
	CoreGrey:   {"core-grey", 0x96, 0x96, 0x96},
}

// String returns the ink's name; SVG and PDF writers may use it for a class.
func (i Ink) String() string {
	if i >= inkCount {
		return "unknown"
	}
	return inks[i].name
}

// RGB returns the ink's colour; an ink outside the palette is black.
func (i Ink) RGB() (r, g, b uint8) {
	if i >= inkCount {
		return 0, 0, 0
	}
	return inks[i].r, inks[i].g, inks[i].b
}

func (i Ink) rgba() color.RGBA {
	r, g, b := i.RGB()
	return color.RGBA{r, g, b, 0xFF}
}

// Dash names a pattern of strokes and gaps.
type Dash uint8

// The zero Dash is a continuous line.
const (
	Solid  Dash = iota
	Dashed      // hidden edges
	Chain       // centre lines
	Dotted
	dashCount
)

// dashes are strokes and gaps in multiples of the line's width; proportions
// after ISO 128-2 (from memory), shortened so that short lines still show them.
var dashes = [dashCount]struct {
	name    string
	pattern []float64
}{
	Solid:  {"solid", nil},
	Dashed: {"dashed", []float64{10, 4}},
	Chain:  {"chain", []float64{24, 4, 2, 4}},
	Dotted: {"dotted", []float64{2, 3}},
}

// String returns solid, dashed, chain or dotted.
func (d Dash) String() string {
	if d >= dashCount {
		return "unknown"
	}
	return dashes[d].name
}

// Pen is a line: its width in millimetres, ink and dash pattern.
type Pen struct {
	WidthMM float64
	Ink     Ink
	Dash    Dash
}

// thinnestDash keeps the dashes of the finest pens long enough to see.
const thinnestDash = W18

// Pattern returns the strokes and gaps in millimetres, nil for a solid line.
func (p Pen) Pattern() []float64 {
	if p.Dash >= dashCount {
		return nil
	}
	var mm []float64
	for _, n := range dashes[p.Dash].pattern {
		mm = append(mm, n*max(p.WidthMM, thinnestDash))
	}
	return mm
}

// The pens of our drawings.
var (
	PenFrame     = Pen{W70, Black, Solid}
	PenOutline   = Pen{W50, Black, Solid}  // enclosures, symbols' bodies
	PenSymbol    = Pen{W35, Black, Solid}  // symbols
	PenEdge      = Pen{W25, Black, Solid}  // what stands behind
	PenDimension = Pen{W18, Black, Solid}  // dimensions, leaders, tables
	PenHatch     = Pen{W13, Black, Solid}  // hatching
	PenHidden    = Pen{W25, Black, Dashed} // hidden edges
	PenCentre    = Pen{W18, Black, Chain}  // centre lines
	PenGrid      = Pen{W13, Grey, Solid}   // squares to count by
	PenFail      = Pen{W50, Red, Solid}    // marks what fails
)
