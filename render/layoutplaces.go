package render

import (
	"math"

	"tubewright/route"
)

// placeSymbol is the symbol of a place, "" for a fitting in the run.
func placeSymbol(p *route.Place) string {
	switch p.Kind {
	case route.BoardPlace:
		return "board"
	case route.Box:
		return "box"
	case route.Socket:
		if p.Gangs > 1 {
			return "twin socket"
		}
		return "socket"
	case route.Light:
		return "luminaire"
	case route.EmergencyLight:
		return "emergency luminaire"
	case route.Switch:
		if p.Gangs > 1 {
			return "two-gang switch"
		}
		return "switch"
	case route.Isolator:
		return "isolator"
	case route.CookerSwitch:
		return "cooker control"
	case route.Heater:
		return "heater"
	case route.Motor:
		return "motor"
	case route.Fan, route.TimedFan:
		return "fan"
	case route.Outlet:
		return "outlet"
	case route.Entry, route.Coupler, route.Elbow, route.InspectionBend, route.InspectionTee:
		return ""
	}
	return "equipment"
}

// seat is how a symbol sits on the end of a run: where its own middle is, in
// halves of its size, when it points to the right, and how it is turned then.
type seat struct{ u, v, turnDeg float64 }

// seatOf moves symbols with a stem beyond the end of the run, and switches so
// that their ring is on it.
func seatOf(symbol string) seat {
	switch symbol {
	case "socket", "twin socket", "outlet", "equipment":
		return seat{1, 0, -90}
	case "switch", "isolator":
		return seat{0.5, 0.3, 90}
	case "two-gang switch":
		return seat{0.5, 0, 90}
	}
	return seat{}
}

// drawPlaces draws the symbols, each where its run ends. One that would lie on
// another is a small ring.
func (g *layoutDrawing) drawPlaces() {
	for i := range g.p.places {
		p := &g.p.places[i]
		pl := &g.job.Places[p.place]
		name := placeSymbol(pl)
		g.Group("place", oneLine(pl.Kind.String()+" "+pl.Name))
		if name == "" {
			g.fitting(pl.Kind, p)
		} else if box, x, y, turn := g.seated(name, p); g.l.solid.free(box) && box.within(g.l.area) {
			if s := seatOf(name); s.u != 0 && p.runs > 1 {
				g.Disc(White, p.x, p.y, 0.9)
				g.Arc(PenSymbol, p.x, p.y, 0.9, 0, 360)
			}
			Symbol(g, name, x, y, g.symbolMM, turn)
			g.used.symbol(name)
			g.l.solid.take(box)
		} else {
			g.used.crowded = true
			g.ring(p.x, p.y)
		}
		g.End()
	}
}

// seated returns the box of a place's symbol, its middle and its turn.
func (g *layoutDrawing) seated(name string, p *picturePlace) (box rect, x, y, turnDeg float64) {
	s, half := seatOf(name), g.symbolMM/2
	if s == (seat{}) {
		return centred(p.x, p.y, g.symbolMM, g.symbolMM).grown(-0.3), p.x, p.y, 0
	}
	sin, cos := math.Sincos(p.freeDeg * math.Pi / 180)
	x, y = p.x+half*(cos*s.u-sin*s.v), p.y+half*(sin*s.u+cos*s.v)
	return centred(x, y, g.symbolMM, g.symbolMM).grown(-0.3), x, y, math.Mod(p.freeDeg+s.turnDeg+360, 360)
}

func (g *layoutDrawing) ring(x, y float64) {
	g.Disc(White, x, y, 0.9)
	g.Arc(PenSymbol, x, y, 0.9, 0, 360)
	g.l.solid.take(centred(x, y, 2, 2))
}

// fitting draws what joins runs without being a box.
func (g *layoutDrawing) fitting(k route.PlaceKind, p *picturePlace) {
	if k == route.Entry {
		g.used.entry = true
		g.Disc(Black, p.x, p.y, 0.8)
		g.l.solid.take(centred(p.x, p.y, 1.8, 1.8))
		return
	}
	g.ring(p.x, p.y)
	if k == route.InspectionBend || k == route.InspectionTee {
		g.used.inspection = true
		g.Disc(Black, p.x, p.y, 0.35)
		return
	}
	g.used.coupler = true
}
