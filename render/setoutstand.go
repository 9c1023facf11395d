package render

// standing is a text that stands over or under a point of the tube.
type standing struct {
	x    float64 // on the tube
	text string
	bold bool
}

// spread moves standing texts apart so that none lies on another, in order and
// no farther than it takes.
func spread(at []standing, low, high float64) []float64 {
	out := make([]float64, len(at))
	for i, s := range at {
		out[i] = s.x
	}
	// Twice from each end: what is pushed past one end comes back as a block.
	for i := 1; i < len(out); i++ {
		out[i] = max(out[i], out[i-1]+markStepMM)
	}
	for i := len(out) - 1; i >= 0; i-- {
		limit := high
		if i+1 < len(out) {
			limit = out[i+1] - markStepMM
		}
		out[i] = min(out[i], limit)
	}
	for i := range out {
		least := low
		if i > 0 {
			least = out[i-1] + markStepMM
		}
		out[i] = max(out[i], least)
	}
	return out
}

// stand writes standing texts with a leader each from the tube to the text.
func (d *setOutSheet) stand(at []standing, tube, foot, down float64, r rect) {
	most := int((r.wide() - 2) / markStepMM)
	if len(at) > most {
		at = at[:most]
	}
	for i, x := range spread(at, r.x0+2, r.x1-2) {
		s := at[i]
		d.Line(PenDimension, false, s.x, tube, s.x, tube+down*1.2, x, foot-down*1.2, x, foot)
		t := Text{S: s.text, X: x + TextSmall/2, Y: foot - 0.6, Height: TextSmall, Angle: -90, Bold: s.bold}
		if down > 0 {
			t.Y = foot + 0.6
			t.AlignX = Right
		}
		t.S = cutToFit(t.S, stripMarksMM-5, TextSmall, s.bold)
		d.Text(t)
	}
}
