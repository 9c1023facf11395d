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

var materialWords = map[string]factors.Material{
	"steel": factors.Steel, "galvanised": factors.Steel, "metal": factors.Steel,
	"plastic": factors.Plastic, "PVC": factors.Plastic, "pvc": factors.Plastic, "mini": factors.Plastic,
}

// enclosure reads "steel conduit 20" or "steel trunking 50x50". A trunking of
// a size that no table has needs a stated figure.
func (p *parser) enclosure(n *source.Node, stated bool) factors.Enclosure {
	if n.Kind != source.Scalar {
		p.AddNode(ErrValue, n, "expected an enclosure", enclosureShape)
		return factors.Enclosure{}
	}
	key := n.Value
	if stated {
		key = "stated " + key
	}
	if e, ok := p.enclosures[key]; ok {
		return e
	}
	before := len(p.Problems)
	e := p.readEnclosure(n, stated)
	if len(p.Problems) == before {
		if p.enclosures == nil {
			p.enclosures = map[string]factors.Enclosure{}
		}
		p.enclosures[key] = e
	}
	return e
}

func (p *parser) readEnclosure(n *source.Node, stated bool) (e factors.Enclosure) {
	text := n.Value
	first, rest, _ := strings.Cut(text, " ")
	var ok bool
	if e.Material, ok = materialWords[first]; !ok {
		want := "steel or plastic: " + enclosureShape
		if near := source.Nearest(first, []string{"steel", "plastic"}); near != "" {
			want = "did you mean " + near + "?"
		}
		p.Add(ErrValue, source.At(n), max(1, len([]rune(first))), strconv.Quote(first)+" is no material", want)
		return e
	}
	rest = strings.TrimLeft(rest, " ")
	second, size, _ := strings.Cut(rest, " ")
	at := len(text) - len(rest)
	switch second {
	case "conduit", "tube":
		e.Kind = factors.Conduit
	case "trunking":
		e.Kind = factors.Trunking
	default:
		want := enclosureShape
		if near := source.Nearest(second, []string{"conduit", "trunking"}); near != "" {
			want = "did you mean " + near + "?"
		}
		p.Add(ErrValue, p.Inside(n, at), max(1, len([]rune(second))), strconv.Quote(second)+" is neither conduit nor trunking", want)
		return e
	}
	if strings.TrimSpace(size) == "" {
		p.AddNode(ErrValue, n, strconv.Quote(text)+" has no size", enclosureShape)
		return e
	}
	offset := len(text) - len(size)
	if e.Kind == factors.Conduit {
		p.conduitSize(n, &e, size, offset)
		return e
	}
	var good bool
	if e.Width, e.Depth, good = p.widthByDepth(n, size, offset); good && !stated {
		p.tabulatedTrunking(n, e, size, offset)
	}
	return e
}

func (p *parser) conduitSize(n *source.Node, e *factors.Enclosure, size string, offset int) {
	mm, err := units.ParseMillimetres(size)
	if err != nil {
		p.inside(n, err.(*units.Error), offset)
		return
	}
	e.Size = mm
	if sizes := uk.ConduitSizes(e.Material); !slices.Contains(sizes, mm) {
		p.Add(ErrSize, p.Inside(n, offset), utf8.RuneCountInString(size), "no table has "+n.Value, "sizes: "+join(sizes))
	}
}

func join[T ~float64](sizes []T) string {
	names := make([]string, len(sizes))
	for i, s := range sizes {
		names[i] = units.Format(float64(s))
	}
	return strings.Join(names, ", ")
}

// widthByDepth reads 50x38 and puts the larger first.
func (p *parser) widthByDepth(n *source.Node, size string, offset int) (w, d units.Millimetres, ok bool) {
	a, b, found := strings.Cut(strings.Replace(strings.ReplaceAll(size, " ", ""), "×", "x", 1), "x")
	if found {
		x, err1 := units.ParseMillimetres(a)
		y, err2 := units.ParseMillimetres(strings.TrimSuffix(b, "mm"))
		if err1 == nil && err2 == nil && x > 0 && y > 0 {
			return max(x, y), min(x, y), true
		}
	}
	p.Add(ErrValue, p.Inside(n, offset), max(1, len([]rune(size))), strconv.Quote(size)+" is no trunking size", "width x depth in mm, such as 50x50")
	return 0, 0, false
}

// trunkingSize reads a size that stands alone.
func (p *parser) trunkingSize(n *source.Node) (w, d units.Millimetres, ok bool) {
	if n.Kind != source.Scalar {
		p.AddNode(ErrValue, n, "expected a trunking size", "such as 50x50")
		return 0, 0, false
	}
	return p.widthByDepth(n, n.Value, 0)
}

func (p *parser) tabulatedTrunking(n *source.Node, e factors.Enclosure, size string, offset int) {
	if _, err := uk.TrunkingFactor(e); err == nil {
		return
	}
	want := "give factor or inside (measured), or a size of the table: " + nearestSizes(e, uk.TrunkingSizes(e.Material))
	p.Add(ErrSize, p.Inside(n, offset), len([]rune(size)), "no table has "+e.String(), want)
}

// nearestSizes lists the few tabulated sizes nearest in area.
func nearestSizes(e factors.Enclosure, all []factors.Enclosure) string {
	all = slices.Clone(all)
	area := e.Width * e.Depth
	slices.SortStableFunc(all, func(a, b factors.Enclosure) int {
		da, db := a.Width*a.Depth-area, b.Width*b.Depth-area
		return int(max(da, -da) - max(db, -db))
	})
	var names []string
	for _, t := range all[:min(4, len(all))] {
		names = append(names, t.SizeName())
	}
	return strings.Join(names, ", ")
}

// insideSize reads measured internal sizes: 47x47, or a bore for conduit.
func (p *parser) insideSize(n *source.Node, k factors.Kind) (w, h units.Millimetres, ok bool) {
	if k == factors.Conduit {
		p.AddNode(ErrConflict, n, "a conduit's bore follows from its size", "inside is for trunking")
		return 0, 0, false
	}
	return p.trunkingSize(n)
}

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
		if l, ok := p.listed(n, strings.TrimSpace(part), offset); ok {
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
		p.Add(ErrValue, p.Inside(n, offset), max(1, len([]rune(item))), strconv.Quote(item)+" does not say how many", "a count, x and a size: 6 x "+units.Format(number))
		return Listed{}, false
	case number != float64(int(number)) || number < 1 || number > mostCables:
		p.Add(ErrValue, p.Inside(n, offset), len(item)-len(rest), units.Format(number)+" is no number of cables", fmt.Sprintf("a whole number from 1 to %d", mostCables))
		return Listed{}, false
	}
	cable := strings.TrimLeft(strings.TrimPrefix(strings.TrimPrefix(trimmed, "x"), "×"), " ")
	c, name, ok := p.cableText(n, cable, offset+len(item)-len(cable))
	return Listed{Count: int(number), Cable: c, Name: name, At: p.Inside(n, offset)}, ok
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
	if g.V, _, ok = p.cableText(n, n.Value, 0); ok {
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
	diameter := strings.HasPrefix(text, "⌀") || strings.HasPrefix(text, "dia ")
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
