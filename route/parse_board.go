package route

import (
	"fmt"
	"strings"

	"tubewright/factors/source"
	"tubewright/factors/units"
)

var supplyKeys = []string{"voltage", "phases", "earthing", "Ze", "fault", "electrode", "drop", "rating", "private", "device"}

func (p *parser) supply(n *source.Node) {
	s := &p.job.Supply
	for key, v := range p.keys(n, "supply", supplyKeys) {
		switch key {
		case "voltage":
			s.Voltage = good(p, v, units.ParseVolts, above, "a supply has a voltage above 0", "such as 230 V, line to neutral")
		case "phases":
			s.Phases = p.phases(v)
		case "earthing":
			s.Earthing = Given[Earthing]{Earthing(word(p, v, earthingWords)), source.At(v)}
		case "Ze":
			s.Ze = good(p, v, units.ParseOhms, above, "a loop has a resistance above 0", "such as 0.35 ohm")
		case "fault":
			s.Fault = good(p, v, units.ParseAmps, above, "a fault current is above 0", "such as 1.6 kA")
		case "electrode":
			s.Electrode = good(p, v, units.ParseOhms, above, "an electrode has a resistance above 0", "such as 80 ohm")
		case "drop":
			s.Drop = good(p, v, units.ParseShare, func(f float64) bool { return f < 0.2 }, "no supply loses that much", "such as 1 %")
		case "rating":
			s.Rating = good(p, v, units.ParseAmps, above, "a supply's rating is above 0", "such as 100 A")
		case "private":
			s.Private = p.yes(v)
		case "device":
			s.Upstream = p.device(v)
		}
	}
}

var boardKeys = []string{"at", "ways", "modules", "main", "sections", "torque"}

func (p *parser) board(n *source.Node) {
	b := &p.job.Board
	for key, v := range p.keys(n, "board", boardKeys) {
		switch key {
		case "at":
			p.boardAt(v)
		case "ways":
			b.Ways = p.count(v, 1, 200)
		case "modules":
			b.Modules = p.count(v, 1, 400)
		case "main":
			b.Main = p.mainSwitch(v)
		case "sections":
			p.sections(v)
		case "torque":
			p.torque(v)
		}
	}
}

func (p *parser) boardAt(v *source.Node) {
	b := &p.job.Board
	if b.Place = p.placeNamed(v); b.Place < 0 {
		return
	}
	if kind := p.job.Places[b.Place].Kind; kind != BoardPlace && kind != 0 {
		p.AddNode(ErrConflict, v, v.Value+" is a "+kind.String()+", not a board", "a place with is: board")
	}
}

var mainWords = []string{"switch", "RCCB"}

// mainSwitch reads {device: RCCB, rating: 80 A, residual: 30 mA, type: A}.
func (p *parser) mainSwitch(n *source.Node) Given[MainSwitch] {
	m := MainSwitch{Device: mainWords[0], At: source.At(n), Modules: 2}
	if p.job.Supply.Phases.V == 3 {
		m.Modules = 4
	}
	before := len(p.Problems)
	for key, v := range p.keys(n, "a main switch", []string{"device", "rating", "residual", "type", "delayed", "modules"}) {
		switch key {
		case "device":
			m.Device = mainWords[word(p, v, mainWords)]
		case "rating":
			m.Rating = good(p, v, units.ParseAmps, above, "a rating is above 0", "such as 80 A").V
		case "residual":
			m.Residual = p.residualCurrent(v)
		case "type":
			m.Type = ResidualType(word(p, v, residualWords))
		case "delayed":
			m.Delayed = p.yes(v)
		case "modules":
			m.Modules = p.count(v, 1, 12).V
		}
	}
	if len(p.Problems) == before {
		switch {
		case m.Rating == 0:
			p.AddNode(ErrMissing, n, "the main switch has no rating", "rating: 80 A")
		case m.Device == "RCCB" && (m.Residual == 0 || m.Type == 0):
			p.AddNode(ErrMissing, n, "an RCCB needs its residual current and type", "residual: 30 mA, type: A")
		case m.Device == "switch" && (m.Residual > 0 || m.Type > 0 || m.Delayed):
			p.AddNode(ErrConflict, n, "a plain switch has no residual current", "device: RCCB")
		}
	}
	return Given[MainSwitch]{m, source.At(n)}
}

func (p *parser) residualCurrent(v *source.Node) units.Amps {
	return good(p, v, units.ParseAmps, func(a units.Amps) bool { return a >= 0.005 && a <= 3 },
		"no residual device is rated so", "10 mA, 30 mA, 100 mA, 300 mA or 500 mA").V
}

// sections reads the parts of a split board.
func (p *parser) sections(n *source.Node) {
	for _, one := range list(n) {
		var s Section
		before := len(p.Problems)
		for key, v := range p.keys(one, "a section", []string{"main", "ways"}) {
			switch key {
			case "main":
				s.Main = p.mainSwitch(v)
			case "ways":
				for _, w := range list(v) {
					s.Ways = append(s.Ways, p.count(w, 1, 200))
				}
			}
		}
		if len(p.Problems) == before && (!s.Main.Said() || len(s.Ways) == 0) {
			p.AddNode(ErrMissing, one, "a section needs its main and its ways", "{main: {device: RCCB, rating: 63 A, residual: 30 mA, type: A}, ways: [1, 2]}")
		}
		p.job.Board.Sections = append(p.job.Board.Sections, s)
	}
}

// torqueWords are the terminals whose torque a maker states.
var torqueWords = []string{"main switch", "devices", "busbar", "neutral bar", "earth bar"}

// torque reads the maker's figures: one for all, or one for each terminal.
func (p *parser) torque(n *source.Node) {
	p.job.Board.Torque = map[string]Given[float64]{}
	if n.Kind == source.Scalar {
		g := p.newtonMetres(n)
		for _, w := range torqueWords {
			p.job.Board.Torque[w] = g
		}
		return
	}
	for key, v := range p.keys(n, "torque", torqueWords) {
		p.job.Board.Torque[key] = p.newtonMetres(v)
	}
}

func (p *parser) newtonMetres(n *source.Node) Given[float64] {
	const want = "the maker's figure for these terminals, such as 2.8 N m"
	g := Given[float64]{At: source.At(n)}
	if n.Kind != source.Scalar {
		p.AddNode(ErrValue, n, "expected one torque", want)
		return g
	}
	text, metre := strings.CutSuffix(n.Value, "m")
	text, newton := strings.CutSuffix(strings.TrimRight(text, " ·"), "N")
	v, rest, err := units.Number(strings.TrimSpace(text))
	if !newton || !metre || err != nil || rest != "" || v < 0.2 || v > 60 {
		p.AddNode(ErrValue, n, fmt.Sprintf("%q is no torque", n.Value), want)
		return g
	}
	g.V = v
	return g
}

// splits reports a way that two sections claim, or that the board has not.
func (p *parser) splits() {
	seen := map[int]bool{}
	for _, s := range p.job.Board.Sections {
		for _, w := range s.Ways {
			switch {
			case p.job.Board.Ways.Said() && w.V > p.job.Board.Ways.V:
				p.Add(ErrConflict, w.At, 1, fmt.Sprintf("the board has no way %d", w.V), fmt.Sprintf("ways 1 to %d", p.job.Board.Ways.V))
			case seen[w.V]:
				p.Add(ErrConflict, w.At, 1, fmt.Sprintf("way %d is in two sections", w.V), "each way once")
			}
			seen[w.V] = true
		}
	}
}
