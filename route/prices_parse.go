package route

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"tubewright/factors/source"
	"tubewright/factors/units"
)

// ErrPrices is a price list that cannot be understood, for errors.Is.
var ErrPrices = errors.New("price list not understood")

var priceColumns = []string{"item", "unit", "price", "minutes", "note"}

// ParsePrices reads a price list. The error is a source.Problems with all
// that is wrong with it; the list is nil then.
//
// Cost: linear in the text.
func ParsePrices(name string, text []byte) (*PriceList, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	f := source.NewFile(name, text)
	p := &priceParser{Reader: &source.Reader{File: f}, list: &PriceList{File: f, index: map[string]int{}}, words: map[string]int{}}
	switch {
	case len(text) > source.MaxBytes:
		p.Add(ErrPrices, source.Pos{}, 1, fmt.Sprintf("the file has more than %d bytes", source.MaxBytes), "")
	case !utf8.Valid(text):
		p.Add(ErrPrices, source.Pos{}, 1, "the file is not UTF-8 text", "save it as CSV UTF-8")
	case len(bytes.TrimSpace(text)) == 0:
		p.Add(ErrPrices, source.Pos{}, 1, "the file is empty", "start with the line item,unit,price,minutes")
	default:
		p.read(text)
	}
	if err := p.Problems.Err(); err != nil {
		return nil, err
	}
	return p.list, nil
}

type priceParser struct {
	*source.Reader
	list    *PriceList
	words   map[string]int // lines by the words of their items, in any order
	columns []string       // of the file, known names
}

// cell is one field of the file with its place.
type cell struct {
	text string
	at   source.Pos
}

func (c cell) width() int { return max(1, utf8.RuneCountInString(c.text)) }

func (p *priceParser) read(text []byte) {
	r := csv.NewReader(bytes.NewReader(text))
	r.Comment = '#'
	r.FieldsPerRecord = -1
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			p.broken(err)
			if len(p.Problems) >= mostHints {
				return
			}
			continue
		}
		cells := make([]cell, len(record))
		for i, text := range record {
			line, col := r.FieldPos(i)
			cells[i] = p.cell(line, col, text)
		}
		switch {
		case p.columns == nil:
			if !p.header(cells) {
				return
			}
		case len(cells) == 1 && cells[0].text == "":
		default:
			p.line(cells)
		}
	}
}

// cell places a field: the library counts columns in bytes, we in characters.
func (p *priceParser) cell(line, col int, text string) cell {
	shown := p.File.Line(int32(line))
	before := shown[:min(len(shown), col-1)]
	c := cell{strings.TrimSpace(text), source.Pos{Line: int32(line), Col: int32(1 + utf8.RuneCountInString(before))}}
	c.at.Col += int32(utf8.RuneCountInString(text) - utf8.RuneCountInString(strings.TrimLeft(text, " \t")))
	return c
}

// broken reports quotes that do not pair; what follows cannot be told apart.
func (p *priceParser) broken(err error) {
	var bad *csv.ParseError
	if !errors.As(err, &bad) {
		p.Add(ErrPrices, source.Pos{}, 1, err.Error(), "")
		return
	}
	c := p.cell(bad.Line, bad.Column, "")
	p.Add(ErrPrices, c.at, 1, "a quote that does not pair", `put the whole field in quotes and write a quote in it twice: "12"" plate"`)
}

// header reads the names of the columns.
func (p *priceParser) header(cells []cell) bool {
	for i, c := range cells {
		name := strings.ToLower(c.text)
		switch {
		case !slices.Contains(priceColumns, name):
			want := source.Suggest(name, priceColumns)
			if len(cells) == 1 && strings.ContainsAny(name, ";\t") {
				want = "the columns are set apart by commas: item,unit,price,minutes"
			}
			p.Add(ErrPrices, c.at, c.width(), "no column is called "+quoted(c.text), want)
		case slices.ContainsFunc(cells[:i], func(b cell) bool { return strings.EqualFold(b.text, c.text) }):
			p.Add(ErrPrices, c.at, c.width(), "column "+name+" is there twice", "one of the two must go")
		}
		p.columns = append(p.columns, name)
	}
	if len(p.Problems) > 0 {
		return false
	}
	for _, must := range []string{"item", "unit", "price"} {
		if !slices.Contains(p.columns, must) {
			p.Add(ErrPrices, cells[0].at, cells[0].width(), "no column "+must, "the first line is item,unit,price,minutes")
		}
	}
	return len(p.Problems) == 0
}

// line reads one item.
func (p *priceParser) line(cells []cell) {
	if len(cells) > len(p.columns) {
		extra := cells[len(p.columns)]
		p.Add(ErrPrices, extra.at, extra.width(), fmt.Sprintf("%d fields, the first line has %d", len(cells), len(p.columns)),
			"a decimal point, not a comma; or put a text that has a comma in quotes")
		return
	}
	price, timeCell := Price{At: cells[0].at}, cell{}
	before := len(p.Problems)
	for i, c := range cells {
		switch p.columns[i] {
		case "item":
			price.Item = c.text
			if c.text == "" {
				p.Add(ErrPrices, c.at, 1, "no item", "as the bill names it, such as steel conduit 20 mm")
			}
		case "unit":
			price.Per, price.PerAt = p.per(c, c.text, 0), c.at
		case "price":
			price.Price = p.amount(c)
		case "minutes":
			price.Minutes, price.Timed = p.minutes(c)
			timeCell = c
		}
	}
	if !price.PerAt.Known() {
		p.Add(ErrPrices, price.At, cells[0].width(), "no unit", perShape)
	}
	if len(p.Problems) == before && p.timeIsClear(&price, timeCell) {
		p.keep(price, cells[0])
	}
}

// timeIsClear complains about minutes that may be for one metre or for what the
// price buys: a length, a reel, 100 m.
func (p *priceParser) timeIsClear(price *Price, c cell) bool {
	per := price.Per
	if price.Minutes.V == 0 || price.Timed.Of != 0 || per.Of == PerPiece || per.Of == PerMetre && per.Count == 1 {
		return true
	}
	what := per.Text
	if per.Count == 1 || what == "ft" {
		what = "a " + what
	}
	p.Add(ErrPrices, c.at, c.width(), c.text+" for a metre or for "+what+"?", fmt.Sprintf(`"%[1]s per m" or "%[1]s per %[2]s"`, c.text, per.Text))
	return false
}

func (p *priceParser) keep(price Price, first cell) {
	name, words := plainName(price.Item), wordsOf(price.Item)
	i, twice := p.list.index[name]
	said := " is priced twice"
	if !twice {
		if i, twice = p.words[words]; twice {
			said = fmt.Sprintf(" is %q in other words or another order, priced twice", p.list.Prices[i].Item)
		}
	}
	if twice {
		pr := p.Add(ErrPrices, first.at, first.width(), quoted(price.Item)+said, "one of the two must go")
		pr.Also, pr.AlsoS = p.list.Prices[i].At, "first priced"
		return
	}
	p.words[words] = len(p.list.Prices)
	p.list.index[name] = len(p.list.Prices)
	p.list.Prices = append(p.list.Prices, price)
}

// complain reports a quantity's error at its place in a cell.
func (p *priceParser) complain(c cell, offset int, err *units.Error) {
	from := min(len(c.text), offset+err.Offset)
	to := min(len(c.text), from+err.Len)
	at := c.at.Right(utf8.RuneCountInString(c.text[:from]))
	if strings.HasPrefix(p.File.Line(c.at.Line)[p.byteAt(c.at):], `"`) {
		at = at.Right(1)
	}
	p.Add(ErrPrices, at, max(1, utf8.RuneCountInString(c.text[from:to])), err.What, err.Want)
}

// byteAt is the offset of a place in its line.
func (p *priceParser) byteAt(at source.Pos) int {
	line, n := p.File.Line(at.Line), 0
	for col := int32(1); col < at.Col && n < len(line); col++ {
		_, w := utf8.DecodeRuneInString(line[n:])
		n += w
	}
	return n
}

func (p *priceParser) per(c cell, text string, offset int) Per {
	per, err := ParsePer(text)
	if err != nil {
		p.complain(c, offset, err.(*units.Error))
	}
	return per
}

// amount reads a price, which may be empty.
func (p *priceParser) amount(c cell) Given[float64] {
	if c.text == "" || c.text == "-" || c.text == "–" {
		return Given[float64]{}
	}
	v, rest, err := units.Number(c.text)
	rest = strings.TrimSpace(rest)
	if slip := slipOfPrice(c.text); slip != nil {
		p.complain(c, 0, slip)
		return Given[float64]{}
	}
	switch {
	case err == nil && rest != "":
		err = &units.Error{Offset: len(c.text) - len(rest), Len: len(rest), What: quoted(rest) + " after a price", Want: "a number alone; the currency is the job's, what a price buys stands in the column unit"}
	case err == nil && v < 0:
		err = &units.Error{Len: len(c.text), What: "a price below 0", Want: "leave it empty where it is not known"}
	case err == nil && v > mostPrice:
		err = &units.Error{Len: len(c.text), What: "a price of " + c.text, Want: "at most " + strconv.Itoa(mostPrice)}
	case err != nil && err.Want == "":
		err.Want = "such as 11.40"
	}
	if err != nil {
		p.complain(c, 0, err)
		return Given[float64]{}
	}
	return Given[float64]{v, c.at}
}

var (
	signed  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(\p{Sc}) ?(\S.*)$`) })
	grouped = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\d{1,3}(,\d{3})+(\.\d+)?$`) })
)

// slipOfPrice names what spreadsheets and invoices put into an amount: a sign of
// the currency, and commas between thousands. A comma alone, 1,200, may be
// either and is not guessed.
func slipOfPrice(text string) *units.Error {
	if m := signed().FindStringSubmatch(text); m != nil {
		amount := m[2]
		if grouped().MatchString(amount) {
			amount = strings.ReplaceAll(amount, ",", "")
		}
		return &units.Error{Len: len(m[1]), What: "a currency sign before the price", Want: "leave the sign out: " + amount}
	}
	m := grouped().FindStringSubmatch(text)
	if m == nil {
		return nil
	}
	want := "leave the comma out: " + strings.ReplaceAll(text, ",", "")
	if m[2] == "" && strings.Count(text, ",") == 1 {
		want += "; or, if it marks the decimals, write a point: " + strings.Replace(text, ",", ".", 1)
	}
	return &units.Error{Offset: strings.Index(text, ","), Len: 1, What: "a comma inside a number", Want: want}
}

// mostPrice is beyond any fitting: sums of such prices still keep their cents.
const mostPrice = 10_000_000

// minutes reads 9, 9 min, 270 per 100 ft, 4.5 h per 100 ft, or nothing.
func (p *priceParser) minutes(c cell) (Given[float64], Per) {
	if c.text == "" || c.text == "-" || c.text == "–" {
		return Given[float64]{}, Per{}
	}
	v, rest, err := units.Number(c.text)
	const shape = "minutes for one piece or metre, such as 9; or 4.5 h per 100 ft"
	if err == nil && (v < 0 || v > 1e6) {
		err = &units.Error{Len: len(c.text), What: "nothing takes " + c.text + " minutes", Want: shape}
	}
	if err != nil {
		if err.Want == "" {
			err.Want = shape
		}
		p.complain(c, 0, err)
		return Given[float64]{}, Per{}
	}
	unit, per, timed := strings.Cut(rest, "per ")
	switch strings.TrimSpace(unit) {
	case "", "min":
	case "h":
		v *= 60
	default:
		rest = strings.TrimLeft(rest, " ")
		p.complain(c, len(c.text)-len(rest), &units.Error{Len: len(strings.TrimSpace(unit)), What: quoted(strings.TrimSpace(unit)) + " is no time", Want: shape})
		return Given[float64]{}, Per{}
	}
	g := Given[float64]{v, c.at}
	if !timed {
		return g, Per{}
	}
	return g, p.per(c, per, len(c.text)-len(per))
}

// quoted is a word as a complaint shows it.
func quoted(s string) string { return strconv.Quote(s) }
