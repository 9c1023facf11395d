package route

import (
	"slices"
	"strconv"

	"tubewright/factors/source"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

var circuitKeys = append([]string{"way", "device", "cable", "cpc", "arrangement", "demand", "phases", "neutral", "points", "spurs", "groups", "loop", "order", "via", "runs"}, electricalKeys...)

func (p *parser) readCircuits(n *source.Node) {
	p.job.Circuits = make([]Circuit, 0, len(n.Content)/2)
	p.names(n, "circuits", p.circuit)
}

func (p *parser) circuit(name, n *source.Node) {
	c := Circuit{Name: name.Value, At: source.At(name), Neutral: true}
	var cpc, runs *source.Node
	var at pointNodes
	var loads *source.Node
	unread := false // the arrangement could not be read
	for key, v := range p.keys(n, name.Value, circuitKeys) {
		switch key {
		case "way":
			c.Way = p.count(v, 1, 200)
		case "device":
			c.Device = p.device(v)
		case "cable":
			c.Cable = p.cable(v)
		case "cpc":
			cpc = v
		case "arrangement":
			before := len(p.Problems)
			c.Arrangement = Given[Arrangement]{Arrangement(word(p, v, arrangementWords)), source.At(v)}
			unread = len(p.Problems) > before
		case "demand":
			c.Demand = p.demand(v)
		case "phases":
			c.Phases = p.phases(v)
		case "neutral":
			c.Neutral = p.yes(v)
		case "runs":
			runs = v
		case "points":
			at.points = v
		case "spurs":
			at.spurs = v
		case "groups":
			at.groups = v
		case "via":
			at.via = v
		case "loop":
			c.Loop = Loop(word(p, v, loopWords))
		case "order":
			c.Order = Order(word(p, v, orderWords))
		case "loads":
			loads = v
		default:
			p.electrical(&c, key, v)
		}
	}
	if unread && at.groups != nil && at.points == nil {
		c.Arrangement.V = Lighting // so that the slip has one complaint
	}
	p.circuitNeeds(name, &c, runs)
	c.CPC.V = c.Cable.V.CSA
	if cpc != nil {
		p.cpc(&c, cpc)
	}
	if runs != nil {
		c.Named = true
		p.passes(&c, name, runs)
	}
	if c.CPCRule == SharedCPC && c.Arrangement.V == Ring && runs == nil {
		p.AddNode(ErrConflict, cpc, "the cpc of a ring is a ring of its own", "a size, or conduit where steel serves (BS 7671 543.2.9, from memory)")
	}
	p.points(&c, name, runs, at)
	if loads != nil {
		p.loads(&c, loads)
	}
	p.job.Circuits = append(p.job.Circuits, c)
}

func (p *parser) circuitNeeds(name *source.Node, c *Circuit, runs *source.Node) {
	if !c.Device.Said() {
		p.AddNode(ErrMissing, name, "circuit "+c.Name+" has no device", "device: B20, or BS 88-2 32 A")
	}
	if !c.Cable.Said() {
		p.AddNode(ErrMissing, name, "circuit "+c.Name+" has no cable", "cable: 2.5")
	}
	if c.Phases.V == 3 && p.job.Supply.Phases.V == 1 {
		p.Add(ErrConflict, c.Phases.At, 1, "circuit "+c.Name+" is three-phase, the supply is not", "supply: {phases: 3}")
	}
	if l := c.Electrical.Line; l.Said() && c.Lines() == 3 {
		p.Add(ErrConflict, l.At, 2, "circuit "+c.Name+" is on all three lines", "leave line out")
	}
	if !c.Neutral && c.Lines() == 1 {
		p.AddNode(ErrConflict, name, "a single-phase circuit needs its neutral", "neutral: no is for three-phase loads")
	}
}

// cpc reads the size of a circuit's protective conductor, or what serves as it.
func (p *parser) cpc(c *Circuit, n *source.Node) {
	switch n.Value {
	case "shared":
		c.CPCRule = SharedCPC
		return
	case "conduit":
		c.CPCRule = ConduitCPC
		return
	}
	if n.Kind == source.Scalar && !isDigit(n.Value, 0) {
		want := "a size such as 2.5, or shared, or conduit"
		if near := source.Nearest(n.Value, []string{"shared", "conduit"}); near != "" {
			want = "did you mean " + near + "?"
		}
		p.AddNode(ErrValue, n, strconv.Quote(n.Value)+" is no cpc", want)
		return
	}
	before := len(p.Problems)
	c.CPC = quantity(p, n, units.ParseSquareMM)
	if len(p.Problems) == before && !slices.Contains(uk.StandardSizes(), c.CPC.V) {
		p.AddNode(ErrSize, n, "no table has "+units.Format(float64(c.CPC.V))+" mm²", "a size in the tables ("+join(uk.StandardSizes())+"), shared, or conduit")
	}
}

// passes reads the runs a circuit passes; a run named twice is passed twice.
func (p *parser) passes(c *Circuit, name, n *source.Node) {
	nodes := list(n)
	c.Runs = make([]Given[int], 0, len(nodes))
	for _, r := range nodes {
		i, ok := p.runs[r.Value]
		if r.Kind != source.Scalar || !ok {
			p.noSuch(r, "runs", "run", p.runNames)
			continue
		}
		c.Runs = append(c.Runs, Given[int]{i, source.At(r)})
		passes := 0
		for _, g := range c.Runs {
			if g.V == i {
				passes++
			}
		}
		if passes == 3 {
			p.AddNode(ErrConflict, r, "circuit "+c.Name+" passes run "+p.job.Runs[i].Name+" 3 times", "once, or twice for a ring or a loop down and back")
		}
	}
	if len(nodes) == 0 {
		p.AddNode(ErrMissing, n, "circuit "+c.Name+" passes no run", "runs: [A, B]")
	}
	p.reach(c, name)
}

func (p *parser) runNames() []string {
	names := make([]string, len(p.job.Runs))
	for i := range p.job.Runs {
		names[i] = p.job.Runs[i].Name
	}
	return names
}

// reach reports the first run of a circuit that does not hang together with
// its first.
//
// Cost: linear in the runs that the circuit names.
func (p *parser) reach(c *Circuit, name *source.Node) {
	for _, g := range c.Runs {
		if r := &p.job.Runs[g.V]; r.From < 0 || r.To < 0 {
			return // a run that stands alone has no ends to join
		}
	}
	ends := make(joins, 2*len(c.Runs))
	for _, g := range c.Runs {
		ends.join(p.job.Runs[g.V].From, p.job.Runs[g.V].To)
	}
	for _, g := range c.Runs {
		r := &p.job.Runs[g.V]
		if ends.root(r.From) == ends.root(p.job.Runs[c.Runs[0].V].From) {
			continue
		}
		p.Add(ErrReach, g.At, len([]rune(r.Name)), "circuit "+c.Name+" cannot reach run "+r.Name,
			"name the runs between "+p.job.Places[r.From].Name+" and the others too")
		return
	}
}

// joins keeps which places hang together: each leads to another of its own, or
// to itself.
type joins map[int]int

func (j joins) root(place int) int {
	up, seen := j[place]
	if !seen {
		j[place] = place
		return place
	}
	for up != place {
		j[place] = j[up] // halve the way for the next who asks
		place, up = up, j[up]
	}
	return place
}

func (j joins) join(a, b int) { j[j.root(a)] = j.root(b) }
