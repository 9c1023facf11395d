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
	Group(name, title string)
	// End closes the group opened last.
	End()
}

// AlignX says which part of a text its X is.
type AlignX uint8

// AlignY says which part of a text its Y is.
type AlignY uint8

// The zero values put X at the left end and Y on the base line.
const (
	Left AlignX = iota
	Centre
	Right
)
const (
	Base   AlignY = iota
	Middle        // half the cap height above the base line
	Top           // the cap height above the base line
)

// Text is one line of text. Height is the height of its capitals in
// millimetres, as lettering is measured in ISO 3098. Angle turns it clockwise
// about X, Y in degrees.
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
