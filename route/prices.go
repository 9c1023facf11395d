package route

import (
	"slices"
	"strings"

	"tubewright/factors/source"
	"tubewright/factors/units"
)

// PriceList is what the user pays for items and how long they take: one line
// an item, in the order of the file.
//
//	item,unit,price,minutes
//	steel conduit 20 mm,length,11.40,9 per m
//	spacer-bar saddle,100,45,4
//	4 mm² stranded single,reel,62,0.5 per m
//
// unit is what the price buys: each, 100, 1000, m, 100 m, length, reel, ft.
// minutes are for one piece where the unit counts pieces and for one metre
// where it is m; beside a length, a reel or another measure they say what they
// are for (9 per m, 34 per length, 4.5 h per 100 ft). An empty price or an empty
// time is "not given", which is not 0.
type PriceList struct {
	File   *source.File
	Prices []Price
	index  map[string]int
}

// Price is one line of a price list.
type Price struct {
	Item    string
	At      source.Pos // of the line
	Per     Per        // what Price buys
	PerAt   source.Pos
	Price   Given[float64]
	Minutes Given[float64] // for one MinutesPer
	Timed   Per            // zero: one piece or one metre, as the item is counted
}

// Measure is what a quantity counts.
type Measure uint8

// The measures that prices come by.
const (
	PerPiece  Measure = iota + 1
	PerMetre          // or the foot
	PerLength         // a whole stock length
	PerReel           // a whole reel of cable
)

// Per is a number of pieces, metres, lengths or reels: the 100 of "per 100".
type Per struct {
	Text  string // as the list says it: 100 ft
	Count float64
	Of    Measure
}

// perWords are the measures by name, with their size in pieces or metres.
var perWords = map[string]Per{
	"each": {Count: 1, Of: PerPiece}, "m": {Count: 1, Of: PerMetre}, "ft": {Count: 0.3048, Of: PerMetre},
	"length": {Count: 1, Of: PerLength}, "reel": {Count: 1, Of: PerReel},
}

const perShape = "each, 100, 1000, m, 100 m, ft, 100 ft, length or reel"

// ParsePer reads "each", "per 100", "1000", "m", "100 ft", "length", "reel".
func ParsePer(s string) (Per, error) {
	text := strings.TrimPrefix(strings.ToLower(strings.TrimSpace(s)), "per ")
	count, word := 1.0, text
	if n, rest, err := units.Number(text); err == nil {
		count, word = n, strings.TrimSpace(rest)
		if word == "" {
			word = "each"
		}
	}
	p, ok := perWords[word]
	if !ok || count <= 0 || count > 1e6 {
		want := perShape
		if near := source.Nearest(word, []string{"each", "length", "reel"}); !ok && near != "" {
			want = "did you mean " + near + "?"
		}
		return Per{}, &units.Error{Offset: 0, Len: max(1, len(s)), What: "nothing is sold by " + quoted(s), Want: want}
	}
	p.Text, p.Count = text, p.Count*count
	return p, nil
}

// Find returns the line that prices an item: the one of its name or, for a
// cable, the one of its name without the colour. Capitals and blanks do not
// matter.
//
// Cost: constant.
func (l *PriceList) Find(group, item string) *Price {
	if i, ok := l.index[plainName(item)]; ok {
		return &l.Prices[i]
	}
	if group == groupCable {
		if at := strings.LastIndex(item, ", "); at > 0 {
			if i, ok := l.index[plainName(item[:at])]; ok {
				return &l.Prices[i]
			}
		}
	}
	return nil
}

// Nearest returns the line that must mean an item but does not name it as the
// bill does, nil where none is near: the sizes are the same, what kind of thing
// it is agrees, and of the shorter name each word is in the longer one, give or
// take a slip of the pen: male bush 20 for male brass bush 20 mm, but not
// coupler for expansion coupler. A line that is the item's name up to its comma
// is near too, and one whose size of trunking lacks its last digit: no trunking is
// 75x5.
//
// Cost: linear in the list.
func (l *PriceList) Nearest(item string) *Price {
	var best *Price
	fewest := 3 // words too many or too few
	for i := range l.Prices {
		if begins(item, l.Prices[i].Item) && fewest > 2 {
			best, fewest = &l.Prices[i], 2
		}
		if n, ok := apart(item, l.Prices[i].Item); ok && n < fewest {
			best, fewest = &l.Prices[i], n
		}
	}
	return best
}

// begins reports whether a line is an item's name up to its first comma.
func begins(item, line string) bool {
	head, _, more := strings.Cut(item, ",")
	return more && wordsOf(head) == wordsOf(line)
}

// sameSizes reports whether the figures of two names are the same, but for one
// last digit of a size of trunking.
func sameSizes(a, b []string) bool {
	slips := 0
	for i := range a {
		if i < len(b) && a[i] != b[i] && cutShort(a[i], b[i]) {
			slips++
		} else if i >= len(b) || a[i] != b[i] {
			return false
		}
	}
	return len(a) == len(b) && slips < 2
}

// cutShort reports whether two sizes of trunking differ by the last digit of one
// side.
func cutShort(a, b string) bool {
	w, h, ok := strings.Cut(a, "x")
	w2, h2, ok2 := strings.Cut(b, "x")
	short := func(a, b string) bool {
		return len(a) == len(b)-1 && b[:len(a)] == a || len(b) == len(a)-1 && a[:len(b)] == b
	}
	return ok && ok2 && (w == w2 && short(h, h2) || h == h2 && short(w, w2))
}

// apart is how many words one name has more than the other.
func apart(item, line string) (int, bool) {
	a, b := nameWords(item), nameWords(line)
	kind := wordsIn(nameWords(strings.SplitN(item, ",", 2)[0]))
	x, y := wordsIn(a), wordsIn(b)
	switch {
	case !sameSizes(figuresIn(a), figuresIn(b)), len(kind) == 0, !has(y, kind[len(kind)-1]):
		return 0, false
	case !isFigure(a[0]) && !has(y[:1], x[0]): // a cable has its size first and may leave its make out
		return 0, false
	}
	short, long := a, b
	if len(short) > len(long) {
		short, long = long, short
	}
	for _, w := range short {
		if !isFigure(w) && !has(long, w) { // the figures have been compared
			return 0, false
		}
	}
	return len(long) - len(short), true
}

// nameWords are the words and sizes of a name; mm goes without saying.
func nameWords(s string) []string {
	s = strings.NewReplacer("mm2", " ", "mm²", " ", ",", " ").Replace(strings.ToLower(s))
	var out []string
	for _, w := range strings.Fields(s) {
		if w = strings.TrimSuffix(w, "mm"); w != "" {
			out = append(out, w)
		}
	}
	return out
}

func isFigure(w string) bool { return w[0] >= '0' && w[0] <= '9' }

// figuresIn are the sizes among words: 20 mm is no slip for 25 mm.
func figuresIn(words []string) []string {
	return slices.DeleteFunc(slices.Clone(words), func(w string) bool { return !isFigure(w) })
}

func wordsIn(words []string) []string { return slices.DeleteFunc(slices.Clone(words), isFigure) }

// has reports whether a word is among others, give or take a slip: of a figure
// or a short word none, of a long one two.
func has(words []string, word string) bool {
	return slices.ContainsFunc(words, func(w string) bool {
		return w == word || !isFigure(w) && !isFigure(word) && slip(w, word)
	})
}

func slip(a, b string) bool {
	most := 0
	switch letters := min(len(a), len(b)); {
	case letters > 8:
		most = 2
	case letters > 3:
		most = 1
	}
	return source.Slips(a, b, most) <= most
}

// wordsOf are the words and sizes of a name, in whatever order they stand.
func wordsOf(s string) string {
	words := nameWords(s)
	slices.Sort(words)
	return strings.Join(words, " ")
}

// plainName is a name as it is compared.
func plainName(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }
