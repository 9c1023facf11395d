package route

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"tubewright/factors"
	"tubewright/factors/source"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

var materialWords = map[string]factors.Material{
	"steel": factors.Steel, "galvanised": factors.Steel, "galv": factors.Steel, "metal": factors.Steel,
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
	w := enclosureWords(n.Value)
	e.Material, e.Kind = w.material, w.kind
	switch size := n.Value[w.size:w.end]; {
	case w.odd != "":
		p.oddWord(n, w)
	case w.material == 0:
		p.AddNode(ErrValue, n, strconv.Quote(n.Value)+" says no material", "steel or plastic: "+enclosureShape)
	case w.kind == 0:
		p.AddNode(ErrValue, n, strconv.Quote(n.Value)+" is neither conduit nor trunking", kindHint(w.material, size))
	case size == "":
		p.AddNode(ErrValue, n, strconv.Quote(n.Value)+" has no size", enclosureShape)
	case w.kind == factors.Conduit:
		p.conduitSize(n, &e, size, w.size)
	default:
		var good bool
		if e.Width, e.Depth, good = p.widthByDepth(n, size, w.size); good && !stated {
			p.tabulatedTrunking(n, e, size, w.size)
		}
	}
	return e
}

var kindWords = map[string]factors.Kind{"conduit": factors.Conduit, "tube": factors.Conduit, "trunking": factors.Trunking}

// enclosed is an enclosure taken to words: in any order, as each of them can be
// one thing only.
type enclosed struct {
	material  factors.Material
	kind      factors.Kind
	size, end int // of the text
	odd       string
	at        int // of the odd word
}

// enclosureWords sorts the words of "steel conduit 20" or "20 mm steel
// conduit". What is neither material nor kind nor behind the size is odd, and
// so is a second of a thing.
func enclosureWords(text string) (w enclosed) {
	for at := 0; at < len(text); {
		word, _, _ := strings.Cut(text[at:], " ")
		m, material := materialWords[word]
		k, kind := kindWords[word]
		odd := false
		switch {
		case word == "":
		case material:
			odd, w.material = w.material != 0 && w.material != m, m
		case kind:
			odd, w.kind = w.kind != 0, k
		case w.end == 0 && isDigit(word, 0):
			w.size, w.end = at, at+len(word)
		case w.end > 0 && strings.TrimSpace(text[w.end:at]) == "" && (w.material != 0 && w.kind != 0 || isSizeWord(word)):
			w.end = at + len(word)
		default:
			odd = true
		}
		if odd && w.odd == "" {
			w.odd, w.at = word, at
		}
		at += len(word) + 1
	}
	return w
}

// isSizeWord reports whether a word can go on with a size that was begun:
// 20 mm, 50 x 50.
func isSizeWord(word string) bool {
	return word == "mm" || word == "x" || word == "×" || isDigit(word, 0)
}

// oddWord reports a word that an enclosure has no use for, as the thing that
// is missing.
func (p *parser) oddWord(n *source.Node, w enclosed) {
	_, kind := kindWords[w.odd]
	_, material := materialWords[w.odd]
	what, want, known := " is one word too many", enclosureShape, []string(nil)
	switch {
	case kind || material || w.material != 0 && w.kind != 0:
	case w.material == 0 && (w.kind != 0 || w.at == 0):
		what, known = " is no material", []string{"steel", "plastic"}
		want = "steel or plastic: " + enclosureShape
	default:
		what, known = " is neither conduit nor trunking", []string{"conduit", "trunking"}
	}
	if near := source.Nearest(w.odd, known); near != "" {
		want = "did you mean " + near + "?"
	}
	p.Add(ErrValue, p.Inside(n, w.at), utf8.RuneCountInString(w.odd), strconv.Quote(w.odd)+what, want)
}

// kindHint is the enclosure that a material and a size without a kind were to
// be: one figure is a conduit's, width by depth a trunking's.
func kindHint(m factors.Material, size string) string {
	bare := strings.TrimRight(strings.TrimSuffix(size, "mm"), " ")
	material := "steel"
	if m == factors.Plastic {
		material = "plastic"
	}
	switch mm, err := units.ParseMillimetres(bare); {
	case bare == "":
		return enclosureShape
	case err == nil && slices.Contains(uk.ConduitSizes(m), mm):
		return "did you mean " + material + " conduit " + bare + "?"
	case strings.ContainsAny(bare, "x×"):
		return "did you mean " + material + " trunking " + bare + "?"
	}
	return enclosureShape
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
