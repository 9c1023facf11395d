package route

import (
	"strings"

	"tubewright/factors/source"
	"tubewright/factors/units"
)

// PriceList is what the user pays for items and how long they take: one line
// an item, in the order of the file.
//
//	item,unit,price,minutes
//	steel conduit 20 mm,length,11.40,9
//	spacer-bar saddle,100,45,4
//	4 mm² stranded single,reel,62,0.5
//
// unit is what the price buys: each, 100, 1000, m, 100 m, length, reel, ft.
// minutes are for one piece or one metre where they do not say otherwise
// (270 per 100 ft, 4.5 h per 100 ft). An empty price or an empty time is "not
// given", which is not 0.
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
	text := strings.TrimPrefix(strings.TrimSpace(s), "per ")
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

// Nearest returns the line that looks most like an item and has the same
// sizes in it, nil where none is close.
//
// Cost: linear in the list.
func (l *PriceList) Nearest(item string) *Price {
	var known []string
	for i := range l.Prices {
		if figures(l.Prices[i].Item) == figures(item) {
			known = append(known, l.Prices[i].Item)
		}
	}
	if near := source.Nearest(item, known); near != "" {
		return &l.Prices[l.index[plainName(near)]]
	}
	return nil
}

// plainName is a name as it is compared.
func plainName(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// figures are the digits of a name: 20 mm is no slip for 25 mm.
func figures(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r == '.' {
			return r
		}
		return -1
	}, s)
}
