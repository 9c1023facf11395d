package route

import (
	"strings"

	"tubewright/factors/source"
	"tubewright/factors/units"
	"tubewright/factors/us"
)

// Saddle is the saddle that holds a conduit.
type Saddle uint8

// The saddles a job may choose.
const (
	SpacerBar Saddle = iota
	Strap
	Distance
	Hospital
)

// Bush is what holds steel conduit in a hole without a spout.
type Bush uint8

// The ways to enter a hole.
const (
	MaleBush   Bush = iota // a coupler outside, a male brass bush through the hole into it
	FemaleBush             // a lock-ring each side of the hole, a female brass bush on the thread
)

var (
	saddleWords = []string{"spacer bar", "strap", "distance", "hospital"}
	bushWords   = []string{"male", "female"}
)

func (s Saddle) String() string {
	return [...]string{"spacer-bar", "strap", "distance", "hospital"}[s] + " saddle"
}

// screws is how many hold one saddle to the wall. Common practice, no source.
func (s Saddle) screws() float64 {
	if s == Strap {
		return 2
	}
	return 1
}

func (p *parser) fittingChoice(c *Choices, key string, v *source.Node) {
	switch key {
	case "saddles":
		c.Saddles = Given[Saddle]{Saddle(word(p, v, saddleWords)), source.At(v)}
	case "bushes":
		c.Bushes = Given[Bush]{Bush(word(p, v, bushWords)), source.At(v)}
	}
}

// Terms are what an estimate adds to net material: all are nothing unless the
// job or the command line says so.
type Terms struct {
	Currency string         // as printed; "" where the job does not say
	Rate     Given[float64] // money an hour
	Sundries Given[float64] // share of material
	Overhead Given[float64] // share of material, sundries and labour
	Profit   Given[float64] // share of all that and overhead
	High     HighWork
}

// HighWork is the runs that are put up from a ladder or a scaffold.
type HighWork struct {
	Height Given[units.Metres]
	Runs   []Given[int]
}

var termKeys = []string{"currency", "labour rate", "sundries", "overhead", "profit", "high work"}

func (p *parser) estimate(n *source.Node) {
	t := &p.job.Terms
	for key, v := range p.keys(n, "estimate", termKeys) {
		switch key {
		case "currency":
			t.Currency = p.text(v)
		case "labour rate":
			t.Rate = good(p, v, ParseMoney, func(m float64) bool { return m >= 0 }, "a rate below 0", "money an hour, such as 38.50")
		case "sundries":
			t.Sundries = p.share(v)
		case "overhead":
			t.Overhead = p.share(v)
		case "profit":
			t.Profit = p.share(v)
		case "high work":
			p.highWork(&t.High, v)
		}
	}
}

func (p *parser) share(v *source.Node) Given[float64] {
	return good(p, v, units.ParseShare, func(s float64) bool { return s >= 0 && s <= 10 }, v.Value+" is no addition", "such as 7.5 %")
}

// ParseMoney reads an amount without a currency.
func ParseMoney(s string) (float64, error) {
	v, rest, err := units.Number(strings.TrimSpace(s))
	if err == nil && rest != "" {
		err = &units.Error{Offset: len(s) - len(rest), Len: len(rest), What: quoted(strings.TrimSpace(rest)) + " after an amount", Want: "a number alone, such as 38.50"}
	}
	if err == nil && v > mostPrice {
		err = &units.Error{Len: len(s), What: s + " is out of all reason", Want: "such as 38.50"}
	}
	if err != nil {
		return 0, err
	}
	return v, nil
}

func (p *parser) highWork(h *HighWork, n *source.Node) {
	before := len(p.Problems)
	for key, v := range p.keys(n, "high work", []string{"height", "runs"}) {
		switch key {
		case "height":
			h.Height = quantity(p, v, units.ParseMetres)
			if _, err := us.HighWork(h.Height.V); err != nil && len(p.Problems) == before {
				p.AddNode(ErrValue, v, "no published addition for "+v.Value, "the table has 12 ft to 20 ft, 3.7 m to 6.1 m")
			}
		case "runs":
			for _, r := range list(v) {
				if i, ok := p.runs[r.Value]; ok {
					h.Runs = append(h.Runs, Given[int]{i, source.At(r)})
				} else {
					p.noSuch(r, "runs", "run", p.runNames)
				}
			}
		}
	}
	if len(p.Problems) == before && (!h.Height.Said() || len(h.Runs) == 0) {
		p.AddNode(ErrMissing, n, "high work needs a height and its runs", "high work: {height: 4.5 m, runs: [A, B]}")
	}
}
