package route

import (
	"slices"
	"strconv"
	"strings"

	"tubewright/factors/source"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

const deviceShape = "such as B20, C16, BS 88-2 32 A, BS 3036 30 A"

// fuseStandards are the fuses whose rating rules are known.
var fuseStandards = []string{"BS 88-2", "BS 88-3", "BS 1361", "BS 1362", "BS 3036"}

// device reads a circuit-breaker (B20) or a fuse (BS 3036 30 A).
func (p *parser) device(n *source.Node) Given[Device] {
	g := Given[Device]{At: source.At(n)}
	if n.Kind != source.Scalar {
		p.AddNode(ErrValue, n, "expected a protective device", deviceShape)
		return g
	}
	if d, ok := p.devices[n.Value]; ok {
		g.V = d
		return g
	}
	if g.V = p.readDevice(n); g.V.Rating > 0 {
		if p.devices == nil {
			p.devices = map[string]Device{}
		}
		p.devices[n.Value] = g.V
	}
	return g
}

func (p *parser) readDevice(n *source.Node) Device {
	text := n.Value
	if strings.HasPrefix(text, "BS ") {
		return p.fuse(n)
	}
	kind, rest := "", ""
	if text != "" {
		kind, rest = text[:1], strings.TrimSuffix(strings.TrimSpace(text[1:]), "A")
	}
	rest = strings.TrimSpace(rest)
	rating, tail, err := units.Number(rest)
	switch {
	case kind != "B" && kind != "C" && kind != "D":
		p.AddNode(ErrValue, n, strconv.Quote(text)+" is no device known here", deviceShape)
	case err != nil || tail != "" || rating <= 0 || rating > 125:
		p.AddNode(ErrValue, n, strconv.Quote(text)+" has no rating of 1 to 125 A", deviceShape)
	case !slices.Contains(uk.RatedCurrents(), units.Amps(rating)):
		p.AddNode(ErrValue, n, "no circuit-breaker is rated "+units.Format(rating)+" A", "the nearest: "+nextRatings(kind, units.Amps(rating)))
	default:
		return Device{Standard: "BS EN 60898", Type: kind, Rating: units.Amps(rating)}
	}
	return Device{}
}

// nextRatings names the breakers of the next rating below and above.
func nextRatings(kind string, In units.Amps) string {
	all := uk.RatedCurrents()
	i, _ := slices.BinarySearch(all, In)
	var names []string
	for _, n := range all[max(0, i-1):min(len(all), i+1)] {
		names = append(names, Device{Type: kind, Rating: n}.String())
	}
	return strings.Join(names, " or ")
}

func (p *parser) fuse(n *source.Node) Device {
	for _, s := range fuseStandards {
		rest, ok := strings.CutPrefix(n.Value, s+" ")
		if !ok {
			continue
		}
		rating, err := units.ParseAmps(rest)
		if err != nil {
			p.inside(n, err.(*units.Error), len(s)+1)
			return Device{}
		}
		if rating <= 0 || rating > 800 {
			p.AddNode(ErrValue, n, "no fuse of "+rest, deviceShape)
			return Device{}
		}
		return Device{Standard: s, Rating: rating}
	}
	p.AddNode(ErrValue, n, strconv.Quote(n.Value)+" is no fuse known here", strings.Join(fuseStandards, ", ")+": "+deviceShape)
	return Device{}
}

// demand reads 18 A, 4.1 kW, or {power: 4.1 kW, power factor: 0.8}.
func (p *parser) demand(n *source.Node) Given[Demand] {
	g := Given[Demand]{At: source.At(n)}
	if n.Kind == source.Mapping {
		g.V = p.demandKeys(n)
		return g
	}
	const what, want = "a demand is above 0", "such as 18 A; leave it out to take the device's rating"
	switch {
	case n.Kind != source.Scalar:
		p.AddNode(ErrValue, n, "expected a demand", demandShape)
	case strings.HasSuffix(n.Value, "A") && !strings.HasSuffix(n.Value, "VA"):
		g.V.Current = good(p, n, units.ParseAmps, above, what, want).V
	case strings.HasSuffix(n.Value, "W") || strings.HasSuffix(n.Value, "VA"):
		g.V.Power = good(p, n, units.ParseWatts, above, what, want).V
	default:
		p.AddNode(ErrValue, n, strconv.Quote(n.Value)+" is no demand", demandShape)
	}
	return g
}

const demandShape = "such as 18 A, 4.1 kW or 450 W"

// demandKeys reads {power: 4.1 kW, power factor: 0.8}.
func (p *parser) demandKeys(n *source.Node) (d Demand) {
	before := len(p.Problems)
	for key, v := range p.keys(n, "demand", []string{"power", "current", "power factor"}) {
		switch key {
		case "power":
			d.Power = quantity(p, v, units.ParseWatts).V
		case "current":
			d.Current = quantity(p, v, units.ParseAmps).V
		case "power factor":
			d.Factor = p.powerFactor(v)
		}
	}
	if len(p.Problems) == before && (d.Power > 0) == (d.Current > 0) {
		p.AddNode(ErrConflict, n, "a demand is a power or a current", "one of the two: {power: 4.1 kW, power factor: 0.8}")
	}
	return d
}

func (p *parser) powerFactor(v *source.Node) float64 {
	f, rest, err := units.Number(v.Value)
	if err != nil || rest != "" || f <= 0 || f > 1 {
		p.AddNode(ErrValue, v, strconv.Quote(v.Value)+" is no power factor", "above 0 and up to 1")
		return 1
	}
	return f
}
