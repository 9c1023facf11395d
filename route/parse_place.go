package route

import (
	"strings"

	"tubewright/factors/source"
	"tubewright/factors/units"
)

var placeKeys = []string{"is", "height", "across", "out", "gangs", "draw-in", "joints"}

func (p *parser) readPlaces(n *source.Node) {
	p.places = make(map[string]int, len(n.Content)/2)
	p.job.Places = make([]Place, 0, len(n.Content)/2)
	p.names(n, "places", p.place)
}

func (p *parser) place(name, n *source.Node) {
	pl := Place{Name: name.Value, At: source.At(name), Gangs: 1}
	var drawIn *source.Node
	said := false
	for key, v := range p.keys(n, name.Value, placeKeys) {
		switch key {
		case "is":
			pl.Kind, said = PlaceKind(word(p, v, placeWords)), true
		case "height":
			pl.Height = quantity(p, v, units.ParseMetres)
		case "across":
			pl.Across = quantity(p, v, units.ParseMetres)
		case "out":
			pl.Out = quantity(p, v, units.ParseMetres)
		case "gangs":
			pl.Gangs = p.count(v, 1, 12).V
		case "draw-in":
			drawIn = v
		case "joints":
			pl.Joints = p.yes(v)
		}
	}
	if !said {
		p.AddNode(ErrMissing, name, name.Value+" does not say what it is", "is: "+strings.Join(placeWords[1:], ", "))
	}
	pl.DrawIn = pl.Kind.DrawIn()
	if drawIn != nil {
		pl.DrawIn = p.yes(drawIn)
	}
	p.places[name.Value] = len(p.job.Places)
	p.job.Places = append(p.job.Places, pl)
}

func hasKey(n *source.Node, key string) bool {
	for i := 0; i < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return true
		}
	}
	return false
}

// placeNamed returns the index of the place a scalar names, -1 if there is none.
func (p *parser) placeNamed(n *source.Node) int {
	return p.placeOf(n, func(PlaceKind) bool { return true })
}

// fed reports whether hints name such a place where a circuit's points are
// expected.
func (k PlaceKind) fed() bool { return k.Terminal() && k != BoardPlace }

// placeOf is placeNamed where places of some kinds alone are expected: hints
// name those, or all where the job has none.
func (p *parser) placeOf(n *source.Node, fits func(PlaceKind) bool) int {
	if n.Kind == source.Scalar {
		if i, ok := p.places[n.Value]; ok {
			return i
		}
	}
	if p.places == nil && !p.broken["places"] {
		p.AddNode(ErrMissing, n, "the job has no places", "places: {"+n.Value+": {is: box}}, or leave out from and to")
		p.broken["places"] = true
	}
	p.noSuch(n, "places", "place", func() []string {
		var fit, all []string
		for _, pl := range p.job.Places {
			if all = append(all, pl.Name); fits(pl.Kind) {
				fit = append(fit, pl.Name)
			}
		}
		if len(fit) == 0 {
			return all
		}
		return fit
	})
	return -1
}
