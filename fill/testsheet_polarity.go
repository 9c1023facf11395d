package fill

import (
	"strings"

	"tubewright/factors/sum"
	"tubewright/route"
)

// polarity says what is proved at a point: that each conductor which the
// singles bring there is in its place.
//
// Source: BS 7671 643.6 (from memory).
func (s *sheet) polarity(w *sum.Work, e *Expected) string {
	p := &s.paths[e.Circuit][e.Point]
	text := "L, N, cpc each in place"
	if p.Place >= 0 {
		text = provedAt(s.m.PinsAt(e.Circuit, p.Place), s.m.Circuits[e.Circuit].Lines(), s.m.Places[p.Place].Kind)
	}
	w.Note(text, ruleText("BS 7671 643.6: from memory"))
	return text
}

func provedAt(pins []route.Pin, lines int, kind route.PlaceKind) string {
	var live []string
	switched, permanent := false, false
	for _, p := range pins {
		switched, permanent = switched || p == route.PinSL, permanent || p == route.PinL
		name := p.String()
		if lines == 3 && p == route.PinL {
			name = "L1"
		}
		live = append(live, name)
	}
	if len(live) == 0 {
		live = []string{"L", "N"}
	}
	names := strings.Join(live, ", ")
	switch {
	case kind == route.Switch:
		return "the line is switched"
	case kind == route.Isolator || kind == route.CookerSwitch:
		return names + " each in place, all of them switched"
	case kind == route.Light && switched && !permanent:
		return names + ", cpc each in place; screw holder: SL at the centre"
	case kind == route.Light:
		return names + ", cpc each in place; screw holder: L at the centre"
	case lines == 3:
		return names + " in order, cpc in place"
	}
	return names + ", cpc each in place"
}
