package route

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"tubewright/factors"
	"tubewright/factors/source"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

const (
	enclosureShape = "such as steel conduit 20, plastic conduit 25, steel trunking 50x50"
	cableShape     = "such as 6 x 2.5, 4 x 1.5 solid, 1 x 2.5 twin and earth, 3 x 6.1 mm"
	mostCables     = 2000
)

// cableList reads "6 x 2.5, 4 x 1.5" or a list of such.
func (p *parser) cableList(n *source.Node) []Listed {
	if n.Kind == source.Sequence {
		var out []Listed
		for _, c := range n.Content {
			out = append(out, p.cableList(c)...)
		}
		return out
	}
	if n.Kind != source.Scalar || strings.TrimSpace(n.Value) == "" {
		p.AddNode(ErrValue, n, "expected cables", cableShape)
		return nil
	}
	parts := strings.Split(n.Value, ",")
	if len(parts) > mostParts {
		p.AddNode(ErrValue, n, fmt.Sprintf("%d kinds of cable in one run", len(parts)), fmt.Sprintf("at most %d", mostParts))
		return nil
	}
	var out []Listed
	for at, i := 0, 0; i < len(parts); i++ {
		part := parts[i]
		if i+1 < len(parts) && decimalTail(part, parts[i+1]) {
			p.Add(ErrValue, p.Inside(n, at+len(part)), 1, "a comma inside a number", "write a point: "+strings.TrimSpace(part)+"."+parts[i+1])
			at += len(part) + len(parts[i+1]) + 2
			i++
			continue
		}
		offset := at + len(part) - len(strings.TrimLeft(part, " "))
		at += len(part) + 1
		item := strings.TrimSpace(part)
		if head, word, tail, ok := circuitWords(item); ok && p.asks {
			out = append(out, p.askedCircuit(n, head, word, tail, offset)...)
		} else if l, ok := p.listed(n, item, offset); ok {
			out = append(out, l)
		}
	}
	return out
}

// mostParts is how many steps a path, and kinds of cable a run, may have.
const mostParts = 500

// decimalTail reports whether a comma between the parts of a list stands
// inside a number: 2,5 and not 6 x 2.5,4 x 1.5.
func decimalTail(part, next string) bool {
	return isDigit(part, len(part)-1) && isDigit(next, 0) && !isCables(next)
}

// listed reads one item: a count, x, and a cable.
func (p *parser) listed(n *source.Node, item string, offset int) (Listed, bool) {
	number, rest, err := units.Number(item)
	trimmed := strings.TrimLeft(rest, " ")
	switch {
	case err != nil:
		p.Add(ErrValue, p.Inside(n, offset), max(1, len([]rune(item))), strconv.Quote(item)+" is no number of cables", cableShape)
		return Listed{}, false
	case !strings.HasPrefix(trimmed, "x") && !strings.HasPrefix(trimmed, "×"):
		p.Add(ErrValue, p.Inside(n, offset), max(1, len([]rune(item))), strconv.Quote(item)+" does not say how many", p.countHint(number, trimmed))
		return Listed{}, false
	case number != float64(int(number)) || number < 1 || number > mostCables:
		p.Add(ErrValue, p.Inside(n, offset), len(item)-len(rest), units.Format(number)+" is no number of cables", fmt.Sprintf("a whole number from 1 to %d", mostCables))
		return Listed{}, false
	}
	cable := strings.TrimLeft(strings.TrimPrefix(strings.TrimPrefix(trimmed, "x"), "×"), " ")
	c, name, ok := p.cableText(n, cable, offset+len(item)-len(cable))
	if ok && c.OD <= thinnest && isSize(c) && isDigit(cable, 0) {
		size := units.Format(float64(c.OD))
		p.Add(ErrValue, p.Inside(n, offset+len(item)-len(cable)), utf8.RuneCountInString(cable), size+" mm is a diameter, thinner than singles are", size+" for mm²; ⌀"+size+" mm where a diameter is meant")
	}
	return Listed{Count: int(number), Cable: c, Name: name, At: p.Inside(n, offset)}, ok
}

// countHint is what an item without its x was to be: 3 1.5 is 3 x 1.5, a size
// alone wants its count, or the word of a circuit.
func (p *parser) countHint(number float64, rest string) string {
	if size, _, err := units.Number(rest); err == nil && number == float64(int(number)) {
		return "did you mean " + units.Format(number) + " x " + units.Format(size) + "?"
	}
	word, tail, _ := strings.Cut(rest, " ")
	if near := source.Nearest(word, []string{"radial", "ring"}); p.asks && near != "" {
		return "did you mean " + strings.TrimRight(units.Format(number)+" "+near+" "+tail, " ") + "?"
	}
	return "a count, x and a size: 6 x " + units.Format(number)
}

// cable reads a cable that stands alone: 2.5, or 4 thermosetting.
func (p *parser) cable(n *source.Node) Given[factors.Cable] {
	g := Given[factors.Cable]{At: source.At(n)}
	if n.Kind != source.Scalar {
		p.AddNode(ErrValue, n, "expected a cable", "such as 2.5 or 4 thermosetting")
		return g
	}
	if c, ok := p.cables[n.Value]; ok {
		g.V = c
		return g
	}
	var ok bool
	if g.V, _, ok = p.cableText(n, n.Value, 0); ok && isSize(g.V) {
		size := units.Format(float64(g.V.OD))
		p.AddNode(ErrValue, n, size+" mm is a diameter: a circuit's cable is a cross-section", size+" (mm²)")
	} else if ok {
		if p.cables == nil {
			p.cables = map[string]factors.Cable{}
		}
		p.cables[n.Value] = g.V
	}
	return g
}

// cableText reads "2.5 solid thermosetting", "2.5 twin and earth", "6.1 mm data".
func (p *parser) cableText(n *source.Node, text string, offset int) (factors.Cable, string, bool) {
	bare := strings.TrimPrefix(strings.TrimPrefix(text, "⌀"), "dia ")
	number, rest, err := units.Number(bare)
	if err != nil {
		if err.Want == "" {
			err.Want = cableShape
		}
		p.inside(n, err, offset+len(text)-len(bare))
		return factors.Cable{}, "", false
	}
	words := strings.Fields(rest)
	sizeLen := len(text) - len(rest)
	diameter := bare != text
	if len(words) > 0 && words[0] == "mm" {
		diameter, words = true, words[1:]
	}
	if diameter {
		if number <= 0 || number > 100 {
			p.Add(ErrValue, p.Inside(n, offset), sizeLen, "no cable is "+units.Format(number)+" mm across", "the overall diameter in mm")
			return factors.Cable{}, "", false
		}
		return factors.Cable{Form: factors.Round, OD: units.Millimetres(number)}, strings.Join(words, " "), true
	}
	if len(words) > 0 && (words[0] == "mm²" || words[0] == "mm2") {
		words = words[1:]
	}
	c := factors.Cable{Form: factors.Single, CSA: units.SquareMM(number), Insulation: p.job.Choices.Insulation.V}
	if !p.cableWords(n, &c, words, rest, offset+sizeLen) {
		return c, "", false
	}
	return c, "", p.cableSize(n, &c, offset, sizeLen)
}

// thinnest is the largest size in mm² that is asked about where it is written
// as a diameter: 2.5 mm is a slip for 2.5, 6 mm may be a cable across.
const thinnest = 4

// isSize reports whether a diameter would be a cable size as well.
func isSize(c factors.Cable) bool {
	return c.Form == factors.Round && slices.Contains(uk.StandardSizes(), units.SquareMM(c.OD))
}

var cableWords = []string{"solid", "stranded", "flexible", "thermoplastic", "thermosetting", "twin and earth"}

func (p *parser) cableWords(n *source.Node, c *factors.Cable, words []string, rest string, offset int) bool {
	if len(words) >= 3 && strings.Join(words[:3], " ") == "twin and earth" {
		c.Form = factors.TwinEarth
		words = words[3:]
	}
	for _, w := range words {
		switch w {
		case "solid":
			c.Strands = factors.Solid
		case "stranded":
			c.Strands = factors.Stranded
		case "flexible":
			c.Strands = factors.Flexible
		case "thermoplastic":
			c.Insulation = factors.Thermoplastic
		case "thermosetting":
			c.Insulation = factors.Thermosetting
		default:
			at := offset + strings.Index(rest, w)
			if all := rest[strings.Index(rest, w):]; source.Nearest(all, cableWords) != "" {
				w = all // twin and eart
			}
			p.Add(ErrValue, p.Inside(n, at), len([]rune(w)), strconv.Quote(w)+" is no kind of cable", source.Suggest(w, cableWords))
			return false
		}
	}
	return true
}

// cableSize checks the size against the tables and settles the make-up of the
// conductor: 1 mm² is solid, from 4 mm² stranded, between them as the job says.
func (p *parser) cableSize(n *source.Node, c *factors.Cable, offset, width int) bool {
	sizes := uk.StandardSizes()
	if c.Form == factors.TwinEarth {
		sizes = uk.TwinEarthSizes()
		c.Strands = 0
	}
	if !slices.Contains(sizes, c.CSA) {
		p.Add(ErrSize, p.Inside(n, offset), width, "no table has "+units.Format(float64(c.CSA))+" mm²", "sizes in the tables: "+join(sizes))
		return false
	}
	if c.Form == factors.Single && c.Strands == 0 {
		c.Strands = p.job.StrandsOf(c.CSA)
	}
	if c.Strands == factors.Solid && c.CSA >= 4 {
		if i := strings.Index(n.Value[offset:], "solid"); i >= 0 {
			offset, width = offset+i, len("solid")
		}
		p.Add(ErrSize, p.Inside(n, offset), width, "from 4 mm² singles are stranded", "leave out solid")
		return false
	}
	return true
}

// StrandsOf is how a single of that size is made up where nothing else is
// said: 1 mm² is solid, from 4 mm² stranded, between them as the job chooses.
func (j *Job) StrandsOf(csa units.SquareMM) factors.Strands {
	switch {
	case csa <= 1:
		return factors.Solid
	case csa >= 4:
		return factors.Stranded
	}
	return j.Choices.Strands.V
}
