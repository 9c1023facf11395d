package route

import (
	"strconv"

	"tubewright/factors/source"
	"tubewright/factors/units"
)

// Tools are what the tube is bent and cut with.
type Tools struct {
	Formers  map[string]Given[units.Millimetres] // centre-line radius by size or by enclosure: "20", "plastic conduit 20"
	Trials   map[string]Trial                    // trial bends, by the same keys
	Made     map[string]Given[units.Millimetres] // made bends: corner to the end of the tube in them
	Threads  map[string]Given[units.Millimetres] // tube that a spout, coupler or plastic socket takes
	Sliding  map[string]Given[units.Millimetres] // sliding sockets of expansion couplers, home to the shoulder
	Running  map[string]Given[units.Millimetres] // long threads for running couplers
	Faces    map[string]Given[units.Millimetres] // centre of a kind of place to its face; what stands on it is added
	Kerf     Given[units.Millimetres]
	Keep     Given[units.Millimetres] // least offcut worth keeping
	Straight Given[units.Millimetres] // least straight at an end or coupler
	Between  Given[units.Millimetres] // least straight between two bends
}

// Trial is one right angle bent to find a former's radius.
type Trial struct {
	At   source.Pos
	Cut  units.Millimetres    // before bending
	Legs [2]units.Millimetres // after it: end to back of bend
}

// Swing is the range of temperature that plastic must take up.
type Swing struct {
	At                      source.Pos
	Lowest, Highest, Fitted Given[units.Celsius]
	Sun                     Given[bool]
	Figure                  Given[string] // which coefficient in print: larger, smaller, third
}

var (
	toolKeys  = []string{"formers", "trial bend", "made bends", "threads", "running threads", "sliding sockets", "faces", "kerf", "least offcut", "end straight", "between bends"}
	faceKinds = placeWords[1:]
)

// mostTool is more than any former, face or saw cut measures, in mm.
const mostTool = 2000

func (p *parser) tools(n *source.Node) {
	t := &p.job.Tools
	for key, v := range p.keys(n, "tools", toolKeys) {
		switch key {
		case "formers":
			t.Formers = p.lengthsBySize(v, "formers", "20: 80 mm")
		case "made bends":
			t.Made = p.lengthsBySize(v, "made bends", "20: 60 mm")
		case "threads":
			t.Threads = p.lengthsBySize(v, "threads", "20: 14 mm")
		case "running threads":
			t.Running = p.lengthsBySize(v, "running threads", "20: 40 mm")
		case "sliding sockets":
			t.Sliding = p.lengthsBySize(v, "sliding sockets", "20: 75 mm")
		case "trial bend":
			t.Trials = p.trials(v)
		case "faces":
			t.Faces = map[string]Given[units.Millimetres]{}
			for kind, f := range p.keys(v, "faces", faceKinds) {
				t.Faces[kind] = p.toolLength(f, 0)
			}
		case "kerf":
			t.Kerf = p.toolLength(v, 0)
		case "least offcut":
			t.Keep = p.toolLength(v, 0)
		case "end straight":
			t.Straight = p.toolLength(v, 0)
		case "between bends":
			t.Between = p.toolLength(v, 0)
		}
	}
}

// toolLength reads a length of at least so many mm.
func (p *parser) toolLength(v *source.Node, least units.Millimetres) Given[units.Millimetres] {
	return good(p, v, units.ParseMillimetres, func(l units.Millimetres) bool { return l >= least && l <= mostTool },
		"a tool does not measure "+v.Value, "from "+units.Format(float64(least))+" mm up to 2 m")
}

// lengthsBySize reads lengths by conduit: 20: 80 mm, or plastic conduit 20: 80 mm.
func (p *parser) lengthsBySize(n *source.Node, what, shape string) map[string]Given[units.Millimetres] {
	out := map[string]Given[units.Millimetres]{}
	p.bySize(n, what, shape, func(key string, _, v *source.Node) { out[key] = p.toolLength(v, 1) })
	return out
}

// bySize reads a mapping whose keys are conduits.
func (p *parser) bySize(n *source.Node, what, shape string, read func(key string, k, v *source.Node)) {
	if n.Kind != source.Mapping {
		p.AddNode(ErrValue, n, what+" are listed by size of conduit", "such as {"+shape+"}")
		return
	}
	for i := 0; i < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if key, ok := p.conduitKey(k, shape); ok {
			read(key, k, v)
		}
	}
}

func (p *parser) conduitKey(k *source.Node, shape string) (string, bool) {
	if k.Kind == source.Scalar {
		if _, err := units.ParseMillimetres(k.Value); err == nil {
			return k.Value, true
		}
		before := len(p.Problems)
		e := p.enclosure(k, true)
		return e.String(), len(p.Problems) == before
	}
	p.AddNode(ErrKey, k, "expected a size of conduit", "such as "+shape)
	return "", false
}

const trialShape = "20: {cut: 500 mm, legs: [300 mm, 262 mm]}"

func (p *parser) trials(n *source.Node) map[string]Trial {
	out := map[string]Trial{}
	p.bySize(n, "trial bends", trialShape, func(key string, k, v *source.Node) { out[key] = p.trial(k, v) })
	return out
}

func (p *parser) trial(name, n *source.Node) Trial {
	t := Trial{At: source.At(name)}
	before := len(p.Problems)
	for key, v := range p.keys(n, "a trial bend", []string{"cut", "legs"}) {
		if key == "cut" {
			t.Cut = p.toolLength(v, 1).V
			continue
		}
		legs := list(v)
		if len(legs) != 2 {
			p.AddNode(ErrValue, v, "a right angle has two legs", "such as legs: [300 mm, 262 mm]")
			continue
		}
		for i, l := range legs {
			t.Legs[i] = p.toolLength(l, 1).V
		}
	}
	if len(p.Problems) > before {
		return t
	}
	if t.Cut == 0 || t.Legs[0] == 0 {
		p.AddNode(ErrMissing, name, "a trial bend needs its cut length and both legs", "such as {cut: 500 mm, legs: [300 mm, 262 mm]}")
	} else if t.Legs[0]+t.Legs[1] <= t.Cut {
		p.AddNode(ErrConflict, name, "the legs of a right angle add up to more than the tube was cut to", "legs are measured from the end to the back of the bend")
	}
	return t
}

func (p *parser) swing(n *source.Node) {
	s := &p.job.Swing
	s.At = source.At(n)
	for key, v := range p.keys(n, "expansion", []string{"lowest", "highest", "fitted at", "sun", "figure"}) {
		switch key {
		case "lowest":
			s.Lowest = quantity(p, v, units.ParseCelsius)
		case "highest":
			s.Highest = quantity(p, v, units.ParseCelsius)
		case "fitted at":
			s.Fitted = quantity(p, v, units.ParseCelsius)
		case "sun":
			s.Sun = Given[bool]{p.yes(v), source.At(v)}
		case "figure":
			words := []string{"larger", "smaller", "third"}
			s.Figure = Given[string]{words[word(p, v, words)], source.At(v)}
		}
	}
	switch {
	case s.Lowest.Said() != s.Highest.Said():
		p.AddNode(ErrMissing, n, "a range of temperature has two ends", "such as {lowest: 0 C, highest: 40 C}")
	case s.Lowest.Said() && s.Lowest.V >= s.Highest.V:
		p.AddNode(ErrConflict, n, "the lowest temperature is not below the highest", "such as {lowest: 0 C, highest: 40 C}")
	case s.Fitted.Said() && !s.Lowest.Said():
		p.AddNode(ErrMissing, n, "the opening on the day needs the range too", "such as {lowest: 0 C, highest: 40 C, fitted at: 20 C}")
	case s.Fitted.Said() && (s.Fitted.V < s.Lowest.V || s.Fitted.V > s.Highest.V):
		p.AddNode(ErrConflict, n, "the temperature on the day is outside the range", "between lowest and highest")
	}
}

// offcuts reads lengths at hand by enclosure.
func (p *parser) offcuts(n *source.Node) map[string][]Given[units.Metres] {
	out := map[string][]Given[units.Metres]{}
	if n.Kind != source.Mapping {
		p.AddNode(ErrValue, n, "offcuts are listed by enclosure", "such as {steel conduit 20: [1.2 m, 0.8 m]}")
		return out
	}
	for i := 0; i < len(n.Content); i += 2 {
		before := len(p.Problems)
		e := p.enclosure(n.Content[i], true)
		if len(p.Problems) > before {
			continue
		}
		lengths := list(n.Content[i+1])
		if len(lengths) > mostParts {
			p.AddNode(ErrValue, n.Content[i+1], strconv.Itoa(len(lengths))+" offcuts of one size", "at most "+strconv.Itoa(mostParts))
			continue
		}
		for _, v := range lengths {
			out[e.String()] = append(out[e.String()], p.above(v))
		}
	}
	return out
}
