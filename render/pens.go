package render

// Ink is a named colour of the palette.
type Ink uint8

// The zero Ink is black.
const (
	Black Ink = iota
	DarkGrey
	Grey
	LightGrey
	White
	Red
	CoreBrown
	CoreBlue
	CoreGreen
	CoreYellow
	CoreBlack
	CoreGrey
)

// Pen is a line: its width in millimetres, ink and dash pattern.
type Pen struct {
	WidthMM float64
	Ink     Ink
	Dash    Dash
}

// Dash names a pattern of strokes and gaps.
type Dash uint8

// The zero Dash is a continuous line.
const (
	Solid Dash = iota
	Dashed
	Chain
	Dotted
)

// Line widths in millimetres, the series of ISO 128.
const (
	W13 = 0.13
	W18 = 0.18
	W25 = 0.25
	W35 = 0.35
	W50 = 0.5
	W70 = 0.7
)

// Lettering heights in millimetres: the capitals of ISO 3098.
const (
	TextSmall  = 1.8
	TextNormal = 2.5
	TextLarge  = 3.5
	TextTitle  = 5.0
)
