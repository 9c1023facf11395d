package render

import (
	"math"

	"tubewright/route"
)

// kindSymbols are the symbols of places by their kind; fittings in the run have
// none.
var kindSymbols = map[route.PlaceKind]string{
	route.BoardPlace: "board", route.Box: "box", route.Socket: "socket", route.Light: "luminaire",
	route.EmergencyLight: "emergency luminaire", route.Isolator: "isolator", route.CookerSwitch: "cooker switch",
	route.Heater: "heater", route.Motor: "motor", route.Fan: "fan", route.TimedFan: "fan", route.Equipment: "equipment", route.Outlet: "outlet",
}

// seat is how a symbol sits on the end of a run: where its own middle is, in
// halves of its size, when it points to the right, and how it is turned then.
type seat struct{ u, v, turnDeg float64 }

// symbolOf is the symbol of a place and how it sits: symbols with a stem beyond
// the end of the run, switches so that their ring is on it. It is nil for a
// fitting in the run. Of joints it knows the places where cores end.
func symbolOf(j *route.Job, place int, joined map[int]bool) (*symbol, seat) {
	pl := &j.Places[place]
	if roles := j.SwitchRoles(place); roles != nil {
		return switchSymbol(roles), switchSeat(roles)
	}
	name, ok := kindSymbols[pl.Kind]
	switch {
	case !ok:
		return nil, seat{}
	case pl.Kind == route.Box && joined[place]:
		name = "joint box"
	case pl.Kind == route.Socket && pl.Gangs > 1:
		name = "twin socket"
	}
	switch pl.Kind {
	case route.Socket, route.Outlet, route.Equipment:
		return symbolNamed(name), seat{1, 0, -90}
	case route.Isolator:
		return symbolNamed(name), seat{0.5, 0.3, 90}
	}
	return symbolNamed(name), seat{}
}

// joinedAt are the places that allow joints and where a core ends.
func joinedAt(j *route.Job) map[int]bool {
	out := map[int]bool{}
	for i := range j.Singles {
		for _, t := range []route.Terminal{j.Singles[i].From, j.Singles[i].To} {
			if t.Place >= 0 && j.Places[t.Place].Joints {
				out[t.Place] = true
			}
		}
	}
	return out
}

// seatedSymbol is a place's symbol on the sheet.
type seatedSymbol struct {
	*symbol         // nil for a fitting in the run
	x, y, turnDeg   float64
	box             rect // that it covers
	beyond, crowded bool // it hangs by its stem beyond the end of the run; it has no room
}

// smallMark is the room of a fitting or of a place drawn small.
const smallMark = 2.6

// seatSymbols finds where each place's symbol goes, and which would lie on
// another or leave the area.
func (g *layoutDrawing) seatSymbols() {
	joined := joinedAt(g.job)
	g.seated = make([]seatedSymbol, len(g.p.places))
	for i := range g.p.places {
		p, s := &g.p.places[i], &g.seated[i]
		var at seat
		s.symbol, at = symbolOf(g.job, p.place, joined)
		if s.symbol == nil {
			s.box = centred(p.x, p.y, smallMark, smallMark)
			continue
		}
		half := g.symbolMM / 2
		s.x, s.y, s.box = p.x, p.y, centred(p.x, p.y, 2*half*s.halfWide(), 2*half)
		if at != (seat{}) {
			sin, cos := math.Sincos(p.freeDeg * math.Pi / 180)
			s.x, s.y = p.x+half*(cos*at.u-sin*at.v), p.y+half*(sin*at.u+cos*at.v)
			s.turnDeg = math.Mod(p.freeDeg+at.turnDeg+360, 360)
			w, h := half*s.halfWide(), half
			if math.Abs(cos) > 0.5 { // turned, its width stands upright
				w, h = h, w
			}
			s.box, s.beyond = centred(s.x, s.y, 2*w, 2*h), at.u == 1
		}
		if s.crowded = !g.l.solid.free(s.box.grown(-0.3)) || !s.box.grown(-0.3).within(g.l.area); s.crowded {
			s.box = centred(p.x, p.y, smallMark, smallMark)
		}
		g.l.solid.takeFor(s.box.grown(-0.3), i+1)
	}
}

// drawPlaces draws the symbols, each where its run ends. One that would lie on
// another is a small ring.
func (g *layoutDrawing) drawPlaces() {
	g.seatSymbols()
	for i := range g.p.places {
		p, s := &g.p.places[i], &g.seated[i]
		pl := &g.job.Places[p.place]
		g.Group("place", oneLine(pl.Kind.String()+" "+pl.Name))
		switch {
		case s.symbol == nil:
			g.fitting(pl.Kind, p)
		case s.crowded:
			g.used.crowded = true
			g.ring(p.x, p.y)
		default:
			if s.beyond && p.runs > 1 {
				g.ring(p.x, p.y)
			}
			s.draw(g, s.x, s.y, g.symbolMM, s.turnDeg)
			g.used.symbol(s.symbol)
		}
		g.End()
	}
}

func (g *layoutDrawing) ring(x, y float64) {
	g.Disc(White, x, y, 0.9)
	g.Arc(PenSymbol, x, y, 0.9, 0, 360)
}

// fitting draws what joins runs without being a box.
func (g *layoutDrawing) fitting(k route.PlaceKind, p *picturePlace) {
	if k == route.Entry {
		g.used.entry = true
		g.Disc(Black, p.x, p.y, 0.8)
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
