// Package render shows: it draws the job and writes it out, and works out no
// engineering number of its own.
//
// A drawing is marks in millimetres on a Canvas. Drawing code is written once
// against Canvas; a Sheet records the marks, prints them for a golden file and
// replays them onto whatever writes PNG, SVG or PDF.
package render

// Canvas takes marks in millimetres from the top left of the sheet, y down.
type Canvas interface {
	// Line draws a polyline through x, y pairs; closed joins the last to the first.
	Line(p Pen, closed bool, xy ...float64)
	// Fill paints the polygon through x, y pairs.
	Fill(c Ink, xy ...float64)
	// Arc draws from one angle to the other in degrees, clockwise on the
	// page, 0 pointing right; a full circle when to-from >= 360.
	Arc(p Pen, cx, cy, r, from, to float64)
	// Disc paints a circle.
	Disc(c Ink, cx, cy, r float64)
	// Text writes one line of text.
	Text(t Text)
	// Group opens a named group of marks, such as one run or one symbol.
	// The name is a short word for files; the title is for a reader.
	Group(name, title string)
	// End closes the group opened last.
	End()
}

// AlignX says which part of a text its X is.
type AlignX uint8

// The zero AlignX puts X at the left end.
const (
	Left AlignX = iota
	Centre
	Right
)

// AlignY says which part of a text its Y is.
type AlignY uint8

// The zero AlignY puts Y on the base line.
const (
	Base   AlignY = iota
	Middle        // half the cap height above the base line
	Top           // the cap height above the base line
)

// Text is one line of text. Height is the height of its capitals in
// millimetres, as lettering is measured in ISO 3098. Angle turns it clockwise
// about X, Y in degrees, so -90 reads upwards.
type Text struct {
	S      string
	X, Y   float64
	Height float64
	Angle  float64
	AlignX AlignX
	AlignY AlignY
	Bold   bool
	Ink    Ink
}

// Width returns the length of the text along its base line in millimetres.
func (t Text) Width() float64 { return TextWidth(t.S, t.Height, t.Bold) }

var (
	alignXNames = [...]string{"left", "centre", "right"}
	alignYNames = [...]string{"base", "middle", "top"}
)

// String returns left, centre or right.
func (a AlignX) String() string { return nameOf(alignXNames[:], int(a)) }

// String returns base, middle or top.
func (a AlignY) String() string { return nameOf(alignYNames[:], int(a)) }

func nameOf(names []string, i int) string {
	if i < 0 || i >= len(names) {
		return "unknown"
	}
	return names[i]
}
