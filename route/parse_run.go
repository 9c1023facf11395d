package route

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"tubewright/factors"
	"tubewright/factors/source"
	"tubewright/factors/units"
)

var runKeys = []string{"from", "to", "in", "path", "length", "bends", "cables", "existing", "fixed", "ambient", "sun", "insulation", "other circuits", "factor", "inside", "figure from"}

func (p *parser) readRuns(n *source.Node) {
	p.runs = make(map[string]int, len(n.Content)/2)
	p.job.Runs = make([]Run, 0, len(n.Content)/2)
	p.names(n, "runs", p.run)
}

// runNodes are the values of a run that are read once all keys are known.
type runNodes struct{ from, to, in, path, length, bends, factor, inside, source *source.Node }

func (p *parser) run(name, n *source.Node) {
	r := Run{Name: name.Value, At: source.At(name), From: -1, To: -1}
	var at runNodes
	for key, v := range p.keys(n, name.Value, runKeys) {
		switch key {
		case "from":
			at.from = v
			r.From, r.FromAt = p.placeNamed(v), source.At(v)
		case "to":
			at.to = v
			r.To = p.placeNamed(v)
		case "in":
			at.in = v
		case "path":
			at.path = v
		case "length":
			at.length = v
		case "bends":
			at.bends = v
		case "factor":
			at.factor = v
		case "inside":
			at.inside = v
		case "figure from":
			at.source = v
		default:
			p.runDetail(&r, key, v)
		}
	}
	p.runEnds(&r, name, at)
	p.runEnclosure(&r, name, at)
	p.runWay(&r, name, at)
	index := len(p.job.Runs)
	p.runs[name.Value] = index
	p.job.Runs = append(p.job.Runs, r)
	for _, place := range []int{r.From, r.To} {
		if place >= 0 {
			p.job.Places[place].Runs = append(p.job.Places[place].Runs, index)
		}
	}
}

// runDetail reads the keys that stand by themselves.
func (p *parser) runDetail(r *Run, key string, v *source.Node) {
	switch key {
	case "cables":
		r.Listed = p.cableList(v)
	case "existing":
		r.Existing = p.yes(v)
	case "fixed":
		r.Fixed = Given[Fixing]{Fixing(word(p, v, fixingWords)), source.At(v)}
	case "ambient":
		r.Ambient = quantity(p, v, units.ParseCelsius)
	case "sun":
		r.Sun = Given[bool]{p.yes(v), source.At(v)}
	case "insulation":
		r.Surrounded = quantity(p, v, units.ParseMillimetres)
	case "other circuits":
		r.Other = p.count(v, 0, 100)
	}
}

func (p *parser) runEnds(r *Run, name *source.Node, at runNodes) {
	switch {
	case at.from == nil && at.to != nil:
		p.AddNode(ErrMissing, name, "run "+r.Name+" comes from nowhere", "from: a place (or neither from nor to)")
	case at.from != nil && at.to == nil:
		p.AddNode(ErrMissing, name, "run "+r.Name+" leads nowhere", "to: a place (or neither from nor to)")
	case r.From >= 0 && r.From == r.To:
		p.AddNode(ErrConflict, at.to, "run "+r.Name+" ends where it starts", "two different places")
	}
}

func (p *parser) runEnclosure(r *Run, name *source.Node, at runNodes) {
	if at.in == nil {
		p.AddNode(ErrMissing, name, "run "+r.Name+" is in nothing", "in: steel conduit 20, or steel trunking 50x50")
		return
	}
	r.EncAt = source.At(at.in)
	stated := at.factor != nil || at.inside != nil
	r.Enc = p.enclosure(at.in, stated)
	if p.instead != nil && !stated && !r.Existing {
		r.Enc = p.instead(r.Enc)
	}
	if at.factor != nil {
		r.Stated.Factor = p.statedFactor(at.factor, r.Enc.Kind)
	}
	if at.inside != nil {
		if w, h, ok := p.insideSize(at.inside, r.Enc.Kind); ok {
			r.Stated.Width, r.Stated.Height, r.Stated.Inside = w, h, source.At(at.inside)
		}
	}
	if at.source != nil {
		r.Stated.From = p.text(at.source)
		if !stated {
			p.AddNode(ErrConflict, at.source, "a source without a figure", "give factor or inside as well")
		}
	}
}

// statedFactor reads a trunking factor, in mm².
func (p *parser) statedFactor(n *source.Node, k factors.Kind) Given[float64] {
	if k == factors.Conduit {
		p.AddNode(ErrConflict, n, "a conduit's factor depends on its length and bends", "leave it out: only a trunking has a factor of its own")
		return Given[float64]{}
	}
	parse := func(s string) (float64, error) {
		v, rest, err := units.Number(s)
		switch {
		case err != nil:
			err.Want = "such as 898"
			return 0, err
		case rest != "" && rest != " mm²" && rest != " mm2":
			return 0, &units.Error{Offset: len(s) - len(rest), Len: len(rest), What: strconv.Quote(strings.TrimSpace(rest)) + " is no unit of a trunking factor", Want: "such as 898"}
		}
		return v, nil
	}
	return good(p, n, parse, func(v float64) bool { return v > 0 && v <= mostFactor },
		n.Value+" is no trunking factor", "above 0 and up to "+strconv.Itoa(mostFactor)+", such as 898")
}

// mostFactor is beyond any trunking: half a square metre.
const mostFactor = 500000

// runWay reads how the run goes: a path, or a length and bends.
func (p *parser) runWay(r *Run, name *source.Node, at runNodes) {
	switch {
	case at.path != nil && at.length != nil:
		p.AddNode(ErrConflict, at.length, "run "+r.Name+" has a path and a length", "the path has the length in it: leave one out")
	case at.path != nil && at.bends != nil && (at.bends.Value == "made" || at.bends.Value == "formed"):
		r.Made = Given[bool]{at.bends.Value == "made", source.At(at.bends)}
		p.runPath(r, at.path)
	case at.path != nil && at.bends != nil:
		p.AddNode(ErrConflict, at.bends, "run "+r.Name+" has a path and bends", "the bends are counted from the path: leave one out, or say made or formed")
	case at.path != nil:
		p.runPath(r, at.path)
	case at.length != nil:
		r.Length = p.above(at.length).V
		if at.bends != nil {
			n := p.count(at.bends, 0, 20)
			r.Bends = Bends{Count: n.V, Right: n.V, Degrees: 90 * float64(n.V)}
		}
	default:
		p.AddNode(ErrMissing, name, "run "+r.Name+" has no length", "length: 6 m, or path: up 0.9, right 2.4")
	}
}

func (p *parser) runPath(r *Run, n *source.Node) {
	if n.Kind != source.Scalar {
		p.AddNode(ErrValue, n, "a path is one text", "path: up 0.9, right 2.4 (in quotes inside { })")
		return
	}
	legs, errs := parsePath(n.Value)
	for _, e := range errs {
		offset := min(e.offset, len(n.Value))
		end := min(len(n.Value), offset+e.width)
		p.Add(ErrValue, p.Inside(n, offset), max(1, utf8.RuneCountInString(n.Value[offset:end])), e.what, e.want)
	}
	if len(errs) > 0 {
		return
	}
	r.Drawn, r.Legs = true, legs
}
