package render

import (
	"fmt"
	"math"
	"strings"

	"tubewright/route"
)

// switchSymbol is the symbol of a switch whose gangs do what roles say: a lever
// for each one-way gang, levers to both sides for a two-way, crossed levers for
// an intermediate; where they differ, or where several are not one-way, each
// gang has a ring of its own and a line joins them. A gang that no group uses
// has a lever without a tick.
//
// Source: IEC 60617, architectural and topographical symbols (from memory); the
// line that joins the rings is ours.
func switchSymbol(roles []route.SwitchRole) *symbol {
	s := &symbol{name: "switch", title: switchTitle(roles)}
	for _, r := range roles {
		s.name += " " + r.String()
	}
	switch first := roles[0]; {
	case !alike(roles) || len(roles) > 1 && first >= route.TwoWay:
		s.strokes, s.wide = joinedGangs(roles)
	case len(roles) > 1:
		s.strokes, s.wide = fan(len(roles), pole(first)), fanWide(len(roles))
	case first >= route.TwoWay:
		s.strokes = gang(0, first)
	default:
		s.strokes = []stroke{arm(-0.3, 0.5, 0.22, 1.5, -60, pole(first)), ring(-0.3, 0.5, 0.22)}
	}
	return s
}

// switchSeat is how such a symbol sits on the end of its run: its ring, or the
// line that joins its rings, is on it.
func switchSeat(roles []route.SwitchRole) seat {
	switch first := roles[0]; {
	case !alike(roles) || first >= route.TwoWay:
		return seat{0, 0, 90}
	case len(roles) > 1:
		return seat{0.5, 0, 90}
	}
	return seat{0.5, 0.3, 90}
}

func alike(roles []route.SwitchRole) bool {
	for _, r := range roles {
		if r != roles[0] {
			return false
		}
	}
	return true
}

var gangNames = [...]string{"", "", "two-gang", "three-gang", "four-gang", "five-gang", "six-gang"}

// switchTitle is what a legend says: switch, two-gang: two-way, one-way.
func switchTitle(roles []route.SwitchRole) string {
	title := "switch"
	switch n := len(roles); {
	case n >= len(gangNames):
		title += fmt.Sprintf(", %d-gang", n)
	case n > 1:
		title += ", " + gangNames[n]
	}
	if alike(roles) {
		if roles[0] == 0 {
			return title
		}
		return title + ", " + roles[0].String()
	}
	words := make([]string, len(roles))
	for i, r := range roles {
		words[i] = r.String()
	}
	return title + ": " + strings.Join(words, ", ")
}

// pole is the tick of a pole, none on the lever of a spare gang.
func pole(r route.SwitchRole) int {
	if r == 0 {
		return 0
	}
	return 1
}

// fan is n levers on one ring.
func fan(n, ticks int) []stroke {
	const reach, ringRadius = 1.45, 0.22
	spread := map[int]float64{2: 60, 3: 100}[n]
	if n > 3 {
		spread = 120
	}
	var out []stroke
	for i := range n {
		angle := -90 + spread*(float64(i)/float64(n-1)-0.5)
		side := ticks
		if angle < -90 {
			side = -ticks
		}
		cos := math.Abs(math.Cos(angle * math.Pi / 180))
		out = append(out, arm(0, 0.5, ringRadius, min(reach, 1/max(cos, 0.1)), angle, side))
	}
	return append(out, ring(0, 0.5, ringRadius))
}

// fanWide leaves room for the ticks of a wide fan.
func fanWide(n int) float64 {
	if n > 2 {
		return 1.3
	}
	return 1
}

// gang is one gang about its ring, at a distance to the right.
func gang(u float64, r route.SwitchRole) []stroke {
	const reach, ringRadius = 1, 0.22
	lever := func(angle float64, ticks int) stroke { return arm(u, 0, ringRadius, reach, angle, ticks) }
	var out []stroke
	switch r {
	case route.TwoWay:
		out = []stroke{lever(-50, 1), lever(130, 1)}
	case route.Intermediate:
		out = []stroke{lever(-50, 1), lever(130, 1), lever(-130, -1), lever(50, -1)}
	default:
		out = []stroke{lever(-50, pole(r))}
	}
	return append(out, ring(u, 0, ringRadius))
}

// joinedGangs sets gangs side by side on a line.
func joinedGangs(roles []route.SwitchRole) (strokes []stroke, halfWide float64) {
	const apart = 2.0
	half := apart * float64(len(roles)-1) / 2
	strokes = []stroke{line(-half, 0, half, 0)}
	for i, r := range roles {
		strokes = append(strokes, gang(apart*float64(i)-half, r)...)
	}
	return strokes, half + 1
}
