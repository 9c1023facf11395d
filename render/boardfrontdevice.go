package render

import (
	"tubewright/factors/units"
)

// device draws what stands in a slot: a main switch, a circuit's device or a
// blank.
func (f *front) device(s *slot) {
	body := rect{s.x0, f.rail.y0, s.x1, f.rail.y1}
	switch {
	case s.blank():
		f.Group("blank", "blank")
		f.blankPlate(s, body)
	case s.main != nil:
		f.Group("main", oneLine(s.title+" "+s.main.String()))
		f.body(body, Pen{W70, Black, Solid})
		f.faceText(body, mainLines(s), s.main.Residual > 0)
	default:
		c := &f.job.Circuits[s.way.Circuit]
		f.Group("way", oneLine("way "+wayNumber(s.way)+" "+c.Name))
		f.body(body, PenOutline)
		lines := []string{deviceOf(c)}
		if g := c.Electrical.RCBO; g.Said() {
			lines = append(lines, milliamps(float64(g.V.Current)), "type "+g.V.Type.String())
		}
		f.faceText(body, lines, c.Electrical.RCBO.Said())
	}
	f.End()
}

func milliamps(amps float64) string { return units.Format(amps*1000) + " mA" }

// mainLines are the words on a main switch.
func mainLines(s *slot) []string {
	m := s.main
	lines := []string{m.Device, units.Format(float64(m.Rating)) + " A"}
	if m.Residual > 0 {
		lines = append(lines, milliamps(float64(m.Residual)), "type "+m.Type.String())
	}
	if m.Delayed {
		lines = append(lines, "delayed")
	}
	return lines
}

// Shares of a device's height: the face that stands proud, between the two
// rows of clamps.
const (
	faceTop, faceFoot = 0.16, 0.84
	leverMiddle       = 0.78
	leverHigh         = 0.08
	textFoot          = 0.72 // of the words, or of the test button below them
)

// body draws a device's outline, its proud face, a clamp for each module at
// both ends, and its lever down: off.
func (f *front) body(r rect, pen Pen) {
	f.Fill(White, r.corners()...)
	f.Line(pen, true, r.corners()...)
	high := r.high()
	for _, share := range []float64{faceTop, faceFoot} {
		f.Line(PenEdge, false, r.x0, r.y0+share*high, r.x1, r.y0+share*high)
	}
	radius := min(2.2, 0.3*f.mmAModule, 0.055*high)
	for x := r.x0 + f.mmAModule/2; x < r.x1; x += f.mmAModule {
		for _, y := range []float64{r.y0 + faceTop/2*high, r.y1 - (1-faceFoot)/2*high} {
			f.Arc(PenEdge, x, y, radius, 0, 360)
			f.Line(PenEdge, false, x-0.7*radius, y, x+0.7*radius, y)
		}
	}
	x, y := (r.x0+r.x1)/2, r.y0+leverMiddle*high
	half := min(4, 0.28*f.mmAModule)
	lever := rect{x - half, y - leverHigh*high/2, x + half, y + leverHigh*high/2}
	f.Line(PenEdge, true, lever.corners()...)
	f.Fill(DarkGrey, lever.x0, (lever.y0+lever.y1)/2, lever.x1, (lever.y0+lever.y1)/2, lever.x1, lever.y1, lever.x0, lever.y1)
}

// faceText writes what is on a device's face, lying where it goes in and
// standing where it does not, and a test button T for a residual device.
func (f *front) faceText(r rect, lines []string, test bool) {
	top, foot := r.y0+(faceTop+0.02)*r.high(), r.y0+textFoot*r.high()
	wide, middle := r.wide()-1.2, (r.x0+r.x1)/2
	if test && f.mmAModule >= 8 {
		side := min(4.2, 0.4*f.mmAModule)
		button := rect{middle - side/2, foot - side, middle + side/2, foot}
		f.Line(PenEdge, true, button.corners()...)
		f.Text(Text{S: "T", X: middle, Y: (button.y0 + button.y1) / 2, Height: TextSmall, AlignX: Centre, AlignY: Middle})
		foot = button.y0 - 1
	}
	for _, high := range f.faceHeights() {
		fits := float64(len(lines))*high*LineStep <= foot-top
		for i, l := range lines {
			fits = fits && TextWidth(l, high, i == 0) <= wide
		}
		if !fits {
			continue
		}
		for i, l := range lines {
			f.Text(Text{S: l, X: middle, Y: top + float64(i)*high*LineStep + high + 0.4, Height: high, AlignX: Centre, Bold: i == 0})
		}
		return
	}
	f.standing(rect{r.x0 + 0.5, top, r.x1 - 0.5, foot}, lines)
}

// faceHeights are the heights of text on a device, the largest first: one
// larger only where modules are wide, so that equal devices look equal.
func (f *front) faceHeights() []float64 {
	if f.lying() {
		return []float64{TextLarge, TextNormal, TextSmall}
	}
	return []float64{TextNormal, TextSmall}
}

// standing writes lines that read upwards, side by side; what has no room is
// left to the schedule.
func (f *front) standing(r rect, lines []string) {
	most := max(1, int(r.wide()/(TextSmall*1.6)))
	var cols []string
	for _, l := range lines {
		n := len(cols)
		switch {
		case n > 0 && TextWidth(cols[n-1]+" "+l, TextSmall, n == 1) <= r.high():
			cols[n-1] += " " + l
		case n < most:
			cols = append(cols, l)
		}
	}
	step := r.wide() / float64(len(cols))
	for i, l := range cols {
		f.Text(Text{S: cutToFit(l, r.high(), TextSmall, i == 0), X: r.x0 + (float64(i)+0.5)*step, Y: r.y1, Height: TextSmall,
			Angle: -90, AlignY: Middle, Bold: i == 0})
	}
}

// blankPlate hatches a blank.
func (f *front) blankPlate(s *slot, r rect) {
	high := r.high()
	plate := rect{r.x0 + 0.3, r.y0 + faceTop*high, r.x1 - 0.3, r.y0 + faceFoot*high}
	f.Fill(White, plate.corners()...)
	f.Line(PenEdge, true, plate.corners()...)
	const step = 3.0
	wide := plate.wide()
	for y := plate.y0 + step; y < plate.y1+wide; y += step {
		x0, y0, x1, y1 := plate.x0, y, plate.x1, y-wide
		if y0 > plate.y1 {
			x0, y0 = x0+y0-plate.y1, plate.y1
		}
		if y1 < plate.y0 {
			x1, y1 = x1-(plate.y0-y1), plate.y0
		}
		f.Line(Pen{W13, Grey, Solid}, false, x0, y0, x1, y1)
	}
	word := "blank"
	if s.way.Number == 0 {
		word = "spare"
	}
	half := TextWidth(word, TextSmall, false)/2 + 0.6
	x, y := s.centre(), (plate.y0+plate.y1)/2
	if 2*half <= wide {
		f.Fill(White, x-half, y-1.6, x+half, y-1.6, x+half, y+1.6, x-half, y+1.6)
		f.Text(Text{S: word, X: x, Y: y, Height: TextSmall, AlignX: Centre, AlignY: Middle})
		return
	}
	f.Fill(White, x-1.5, y-half, x+1.5, y-half, x+1.5, y+half, x-1.5, y+half)
	f.Text(Text{S: word, X: x, Y: y, Height: TextSmall, Angle: -90, AlignX: Centre, AlignY: Middle})
}

// strip writes the number and circuit of each way under the enclosure.
func (f *front) strip() {
	f.Group("labels", "circuits by way")
	defer f.End()
	top := f.box.y1 + 1.5
	foot := top + f.stripHeight() - 3
	for i := range f.slots {
		s := &f.slots[i]
		if s.main != nil || s.way.Number == 0 {
			continue
		}
		f.label(s, rect{s.x0, top, s.x1, foot})
	}
}

// label writes a way's number over its circuit: lying where the words go in,
// standing under the number where they do not.
func (f *front) label(s *slot, cell rect) {
	f.Line(PenDimension, true, cell.corners()...)
	number, high := wayNumber(s.way), TextSmall
	if f.mmAModule > 2*TextNormal {
		high = TextNormal
	}
	f.Text(Text{S: cutToFit(number, cell.wide(), high, true), X: s.centre(), Y: cell.y0 + 1 + high, Height: high, AlignX: Centre, Bold: true})
	top, name := cell.y0+2.4+high, f.circuitName(s)
	if f.lying() || TextWidth(name, TextSmall, false) <= cell.wide()-1.2 {
		for k, l := range breakLines(name, cell.wide()-1.2, TextSmall, 2) {
			f.Text(Text{S: l, X: s.centre(), Y: top + float64(k)*tableNoteMM + TextSmall, Height: TextSmall, AlignX: Centre})
		}
		return
	}
	lines := breakLines(name, cell.y1-0.8-top, TextSmall, max(1, int(cell.wide()/tableNoteMM)))
	step := cell.wide() / float64(len(lines))
	for k, l := range lines {
		f.Text(Text{S: l, X: cell.x0 + (float64(k)+0.5)*step, Y: top, Height: TextSmall, Angle: -90, AlignX: Right, AlignY: Middle})
	}
}

func (f *front) circuitName(s *slot) string {
	if s.main != nil || s.blank() {
		return ""
	}
	return oneLine(f.job.Circuits[s.way.Circuit].Name)
}
