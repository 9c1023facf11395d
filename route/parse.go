package route

import (
	"errors"
	"strconv"
	"strings"
	"unicode/utf8"

	"tubewright/factors"
	"tubewright/factors/source"
	"tubewright/factors/units"
)

// Parse reads a job file. The error is a source.Problems with everything that
// is wrong with the file; the job is nil then.
//
// Cost: linear in the text.
func Parse(name string, text []byte) (*Job, error) { return parse(name, text, nil) }

// parse reads a job file; with, where there is one, puts something else in the
// place of what it says.
func parse(name string, text []byte, with func(*parser)) (*Job, error) {
	reader, root := source.Parse(name, text)
	p := &parser{Reader: reader, job: newJob(reader.File), broken: map[string]bool{}}
	if with != nil {
		with(p)
	}
	switch {
	case root == nil && len(reader.Problems) == 0:
		p.Add(ErrJob, source.Pos{Line: 1, Col: 1}, 1, "the file is empty", "start with job: and a name")
	case errors.Is(reader.Problems, source.ErrAlias):
		// What an alias stands for is not read, so more would be guesswork.
	case root != nil && root.Kind == source.Sequence:
		p.AddNode(ErrJob, root, "a job file is not a list", "start with job: and a name, without a dash")
	case root != nil && root.Kind != source.Mapping:
		p.AddNode(ErrJob, root, "a job file starts with a key", "start with job: and a name")
	case root != nil:
		p.parse(root)
	}
	if err := p.Problems.Err(); err != nil {
		return nil, err
	}
	return p.job, nil
}

func newJob(f *source.File) *Job {
	j := &Job{File: f, Rules: "uk", Board: Board{Place: -1}}
	j.Ambient.V = 30
	j.Tolerance.V = 10
	j.Supply.Voltage.V = 230
	j.Supply.Phases.V = 1
	j.Choices.RingLegs.V = 2
	j.Choices.Strands.V = factors.Stranded
	j.Choices.Insulation.V = factors.Thermoplastic
	j.Stock.Lengths = map[string]Given[units.Metres]{}
	j.Stock.Reel.V = 100
	j.Allow = Allowances{
		BoardTail: Given[units.Metres]{V: 0.6}, AccessoryTail: Given[units.Metres]{V: 0.15},
		ConduitWaste: Given[float64]{V: 0.10}, CableWaste: Given[float64]{V: 0.10},
	}
	return j
}

type parser struct {
	*source.Reader
	job    *Job
	places map[string]int
	runs   map[string]int
	broken map[string]bool    // "places", "places bx1": what could not be read
	twice  map[string][]*twin // by section: names given twice
	key    string             // read last
	joined *source.Node       // the key that a decimal comma made

	instead func(factors.Enclosure) factors.Enclosure // nil: as the file says
	changed func(*Job)                                // before its cores are laid; nil likewise

	asks  bool      // a command line: circuits may stand among cables
	asked []Circuit // those circuits

	enclosures map[string]factors.Enclosure
	cables     map[string]factors.Cable
	devices    map[string]Device
}

var jobKeys = []string{"job", "rules", "date", "drawn by", "client", "ambient", "tolerance", "supply", "choices", "stock", "allow", "tools", "expansion", "board", "places", "runs", "circuits", "estimate"}

// parse reads the sections in the order in which they need each other,
// whatever the order of the file.
func (p *parser) parse(root *source.Node) {
	section := map[string]*source.Node{}
	for key, v := range p.keys(root, "a job", jobKeys) {
		if section[key] == nil {
			section[key] = v
		}
		p.topLevel(key, v)
	}
	if section["job"] == nil {
		p.AddNode(ErrMissing, root, "the job has no name", "start with job: and a name")
	}
	if section["runs"] == nil {
		p.AddNode(ErrMissing, root, "the job has no runs", "runs: {A: {in: steel conduit 20, length: 6 m, bends: 2, cables: 6 x 2.5}}")
		p.broken["runs"] = true
	}
	for _, s := range []struct {
		key  string
		read func(*source.Node)
	}{{"choices", p.choices}, {"places", p.readPlaces}, {"runs", p.readRuns}, {"board", p.board}, {"circuits", p.readCircuits}, {"estimate", p.estimate}} {
		if n := section[s.key]; n != nil {
			s.read(n)
		}
	}
	if len(p.Problems) == 0 {
		p.finish()
	}
}

// topLevel reads the keys that need no other section.
func (p *parser) topLevel(key string, v *source.Node) {
	j := p.job
	switch key {
	case "job":
		j.Name = p.text(v)
	case "rules":
		if v.Value != j.Rules {
			p.AddNode(ErrValue, v, "no rules are called "+strconv.Quote(v.Value), "known: uk")
		}
	case "date":
		j.Date = p.text(v)
	case "drawn by":
		j.DrawnBy = p.text(v)
	case "client":
		j.Client = p.text(v)
	case "ambient":
		j.Ambient = quantity(p, v, units.ParseCelsius)
	case "tolerance":
		j.Tolerance = quantity(p, v, units.ParseMillimetres)
	case "supply":
		p.supply(v)
	case "stock":
		p.stock(v)
	case "allow":
		p.allow(v)
	case "tools":
		p.tools(v)
	case "expansion":
		p.swing(v)
	}
}

// text reads a scalar as it is written.
func (p *parser) text(n *source.Node) string {
	if n.Kind != source.Scalar || n.Value == "" {
		p.AddNode(ErrValue, n, "expected a word or words", "put them in quotes where they have a colon or a comma")
		return ""
	}
	return n.Value
}

// quantity reads a scalar with a unit.
func quantity[T any](p *parser, n *source.Node, parse func(string) (T, error)) Given[T] {
	g := Given[T]{At: source.At(n)}
	if n.Kind != source.Scalar {
		p.AddNode(ErrValue, n, "expected one value, not a list or keys", "")
		return g
	}
	v, err := parse(n.Value)
	if err != nil {
		p.inside(n, err.(*units.Error), 0)
		return g
	}
	g.V = v
	return g
}

// inside reports a quantity's error at its place within a scalar.
func (p *parser) inside(n *source.Node, e *units.Error, offset int) {
	from := min(len(n.Value), offset+e.Offset)
	to := min(len(n.Value), from+e.Len)
	p.Add(ErrValue, p.Inside(n, from), max(1, utf8.RuneCountInString(n.Value[from:to])), e.What, e.Want)
}

// good reports a value that can be read and cannot be right. A value that
// could not be read has its complaint already.
func good[T any](p *parser, n *source.Node, parse func(string) (T, error), ok func(T) bool, what, want string) Given[T] {
	before := len(p.Problems)
	g := quantity(p, n, parse)
	if len(p.Problems) == before && !ok(g.V) {
		p.AddNode(ErrValue, n, what, want)
	}
	return g
}

// above reports whether a quantity is more than nothing.
func above[T ~float64](v T) bool { return v > 0 }

// count reads a whole number.
func (p *parser) count(n *source.Node, least, most int) Given[int] {
	return good(p, n, func(s string) (int, error) { return units.Count(s, most) }, func(v int) bool { return v >= least },
		n.Value+" is too few", "at least "+strconv.Itoa(least))
}

// word reads one of a list of words and returns its index, 0 when it is none.
func word(p *parser, n *source.Node, known []string) int {
	if n.Kind == source.Scalar {
		for i, k := range known {
			if k != "" && k == n.Value {
				return i
			}
		}
	}
	named := known
	if known[0] == "" {
		named = known[1:]
	}
	what := "expected a word"
	if n.Kind == source.Scalar {
		what = strconv.Quote(n.Value) + " is not known here"
	}
	want := source.Suggest(n.Value, named)
	switch {
	case isDigit(n.Value, 0): // 360 is not a slip for 180
		want = source.Known(named)
	case len(named) > mostAtOnce && !strings.HasPrefix(want, "known"):
		want += allKeys(p.key)
	}
	p.AddNode(ErrValue, n, what, want)
	return 0
}

// mostAtOnce is how many words a reader knows without a list of them.
const mostAtOnce = 12

// yes reads yes or no.
func (p *parser) yes(n *source.Node) bool {
	switch n.Value {
	case "yes", "true":
		return true
	case "no", "false":
		return false
	}
	p.AddNode(ErrValue, n, "expected yes or no", "")
	return false
}

// list reads a sequence, or a single value as a sequence of one.
func list(n *source.Node) []*source.Node {
	if n.Kind == source.Sequence {
		return n.Content
	}
	return []*source.Node{n}
}

func (p *parser) phases(v *source.Node) Given[int] {
	g := p.count(v, 1, 3)
	if g.V == 2 {
		p.AddNode(ErrValue, v, "two phases are not provided for", "1 or 3")
	}
	return g
}

var choiceKeys = []string{"draw-in", "ring legs", "overload", "mixed sizes", "conduit space", "conductor", "insulation", "support", "diversity", "drop at temperature", "saddles", "bushes"}

func (p *parser) choices(n *source.Node) {
	c := &p.job.Choices
	for key, v := range p.keys(n, "choices", choiceKeys) {
		at := source.At(v)
		switch key {
		case "draw-in":
			c.DrawIn = Given[DrawInRule]{DrawInRule(word(p, v, drawInWords)), at}
		case "ring legs":
			c.RingLegs = Given[int]{1 + word(p, v, []string{"one", "two"}), at}
		case "overload":
			c.Overload = Given[Overload]{Overload(word(p, v, overloadWords)), at}
		case "mixed sizes":
			c.Mixed = Given[MixedRule]{MixedRule(word(p, v, mixedWords)), at}
		case "conduit space":
			c.ConduitSpace = good(p, v, units.ParseShare, func(s float64) bool { return s >= 0.05 && s <= 0.6 },
				"a conduit is not filled to "+v.Value, "published figures: 35 %, 40 %, 45 %")
		case "conductor":
			c.Strands = Given[factors.Strands]{factors.Strands(1 + word(p, v, []string{"solid", "stranded"})), at}
		case "insulation":
			c.Insulation = Given[factors.Insulation]{factors.Insulation(1 + word(p, v, []string{"thermoplastic", "thermosetting"})), at}
		case "diversity":
			c.Diversity = Given[Premises]{Premises(word(p, v, premisesWords)), at}
		case "drop at temperature":
			c.DropHot = Given[bool]{p.yes(v), at}
		case "saddles", "bushes":
			p.fittingChoice(c, key, v)
		case "support":
			c.Support = Given[SupportRule]{SupportRule(word(p, v, supportWords)), at}
		}
	}
}

var stockLengths = []string{"steel conduit", "plastic conduit", "steel trunking", "plastic trunking"}

var stockKeys = append([]string{"reel", "trunking sizes", "conduit sizes", "offcuts"}, stockLengths...)

func (p *parser) stock(n *source.Node) {
	s := &p.job.Stock
	for key, v := range p.keys(n, "stock", stockKeys) {
		switch key {
		case "reel":
			s.Reel = p.above(v)
		case "trunking sizes":
			for _, c := range list(v) {
				if w, d, ok := p.trunkingSize(c); ok {
					s.Trunking = append(s.Trunking, factors.Enclosure{Kind: factors.Trunking, Width: w, Depth: d})
				}
			}
		case "conduit sizes":
			for _, c := range list(v) {
				s.Conduit = append(s.Conduit, quantity(p, c, units.ParseMillimetres).V)
			}
		case "offcuts":
			s.Offcuts = p.offcuts(v)
		default:
			s.Lengths[key] = p.above(v)
		}
	}
}

// above reads a length that cannot be nothing.
func (p *parser) above(v *source.Node) Given[units.Metres] {
	return good(p, v, units.ParseMetres, above, "a length above 0 is needed here", "such as 3 m")
}

func (p *parser) allow(n *source.Node) {
	a := &p.job.Allow
	for key, v := range p.keys(n, "allow", []string{"board tail", "accessory tail", "conduit waste", "cable waste"}) {
		switch key {
		case "board tail":
			a.BoardTail = quantity(p, v, units.ParseMetres)
		case "accessory tail":
			a.AccessoryTail = quantity(p, v, units.ParseMetres)
		case "conduit waste":
			a.ConduitWaste = quantity(p, v, units.ParseShare)
		case "cable waste":
			a.CableWaste = quantity(p, v, units.ParseShare)
		}
	}
}
