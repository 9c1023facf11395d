package route

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"tubewright/factors"
	"tubewright/factors/source"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

// mostAsked is how many circuits may be asked for at once.
const mostAsked = 200

const circuitShape = "such as 2.5 radial, 2 x 4 radial, 2.5 ring with 1.5 cpc"

// askedWords are the shapes of circuit that a command line may ask for.
var askedWords = map[string]Arrangement{"radial": Radial, "radials": Radial, "ring": Ring, "rings": Ring}

// circuitWords cuts an item at its radial or ring.
func circuitWords(item string) (head, word, tail string, ok bool) {
	for at := 0; at < len(item); {
		word, _, _ := strings.Cut(item[at:], " ")
		if _, ok := askedWords[word]; ok {
			return item[:at], word, item[at+len(word):], true
		}
		at += len(word) + 1
	}
	return "", "", "", false
}

// askedCircuit reads "2 x 2.5 ring with 1.5 cpc": the singles of the circuits,
// and the circuits themselves. A ring has both its legs in the run. The cpc is
// of the line's size where nothing else is said, as in a job.
func (p *parser) askedCircuit(n *source.Node, head, word, tail string, offset int) []Listed {
	before := len(p.Problems)
	size, one := strings.TrimRight(head, " "), Listed{Count: 1, At: p.Inside(n, offset)}
	if _, rest, err := units.Number(size); err == nil && strings.HasPrefix(strings.TrimLeft(rest, " "), "x") {
		one, _ = p.listed(n, size, offset)
	} else if size == "" {
		p.Add(ErrValue, p.Inside(n, offset), len(word), "a "+word+" without a size", circuitShape)
	} else {
		one.Cable, _, _ = p.cableText(n, size, offset)
	}
	if len(p.Problems) == before && one.Cable.Form == factors.Round {
		p.Add(ErrValue, p.Inside(n, offset), utf8.RuneCountInString(size), "a "+word+" is of cables with a size in mm²", circuitShape)
	}
	cpc := p.askedCPC(n, one.Cable, tail, offset+len(head)+len(word))
	if len(p.Problems) == before && len(p.asked)+one.Count > mostAsked {
		p.Add(ErrValue, p.Inside(n, offset), utf8.RuneCountInString(size), "too many circuits for one run", "at most "+strconv.Itoa(mostAsked))
	}
	if len(p.Problems) > before {
		return nil
	}
	c := Circuit{Name: units.Format(float64(one.Cable.CSA)) + " mm² " + strings.TrimSuffix(word, "s"), Cable: Given[factors.Cable]{V: one.Cable}, Neutral: true, Named: true}
	c.Device.V = Device{Standard: "BS EN 60898"} // any without a factor of its own: nothing is asked of the device
	c.Arrangement.V = askedWords[word]
	legs := 1
	if c.Arrangement.V == Ring {
		legs = 2
	}
	for range one.Count {
		p.asked = append(p.asked, c)
	}
	one.OfCircuit = true
	earth := one
	one.Count, earth.Count, earth.Cable = 2*legs*one.Count, legs*one.Count, cpc
	if one.Cable.Form == factors.TwinEarth {
		one.Count /= 2
		return []Listed{one}
	}
	return []Listed{one, earth}
}

// askedCPC reads what follows radial or ring: nothing, or "with 1.5 cpc".
func (p *parser) askedCPC(n *source.Node, line factors.Cable, tail string, offset int) factors.Cable {
	words := strings.Fields(strings.NewReplacer("mm²", "", "mm2", "").Replace(tail))
	if len(words) == 0 {
		return line
	}
	if len(words) == 3 && words[0] == "with" && (words[2] == "cpc" || words[2] == "earth") && line.Form == factors.Single {
		v, err := units.ParseSquareMM(words[1])
		for _, size := range uk.StandardSizes() {
			if err == nil && v == size {
				return cpcCable(line, v)
			}
		}
	}
	text := strings.TrimLeft(tail, " ")
	p.Add(ErrValue, p.Inside(n, offset+len(tail)-len(text)), utf8.RuneCountInString(text), strconv.Quote(text)+" says nothing of a circuit here", circuitShape)
	return line
}
