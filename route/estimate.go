package route

import (
	"fmt"
	"slices"
	"strings"

	"tubewright/factors/source"
	"tubewright/factors/sum"
	"tubewright/factors/us"
)

// PricedItem is one item of an estimate.
type PricedItem struct {
	Item
	Price    *Price  // nil where the list has none
	Quantity float64 // pieces, metres, lengths or reels paid for
	Cost     float64 // Quantity / Price.Per.Count × the price, to the hundredth
	Priced   bool    // there is a price; false: Cost is not known
	Timed    bool    // there is a time; false: Hours are not known
	Minutes  float64 // for one piece or one metre
	Hours    float64
}

// GroupTotal is what one group of the bill comes to.
type GroupTotal struct {
	Group       string
	Cost, Hours float64
	Priced      bool // some of it has a price; false: Cost is not known
	Timed       bool // some of it has a time; false: Hours are not known
}

// Estimate is a bill with its prices and the sum that follows.
type Estimate struct {
	Terms    Terms
	Lines    []PricedItem
	Groups   []GroupTotal
	Unpriced []string // items to buy without a price, with the nearest line of the list
	Untimed  []string // items without a time; work with the nearest line of the list

	Material, Sundries, Hours, HighHours, HighAddition, Labour, Overhead, Profit, Total float64
	Steps                                                                               []sum.Step
}

// SameGaps reports whether two estimates leave out the same quantities for
// want of a price, so that their totals can be compared.
func (e *Estimate) SameGaps(other *Estimate) bool { return slices.Equal(e.gaps(), other.gaps()) }

func (e *Estimate) gaps() []string {
	var out []string
	for i := range e.Lines {
		if l := &e.Lines[i]; !l.Labour && !l.Priced {
			out = append(out, fmt.Sprintf("%s: %g", l.Name, l.Gross))
		}
	}
	return out
}

// Price prices the job's bill on the job's own terms.
func (j *Job) Price(list *PriceList) (*Estimate, error) {
	return NewEstimate(j.Bill(), list, j.Terms, j.highRuns())
}

// highRuns are the names of the runs put up at a height.
func (j *Job) highRuns() map[string]bool {
	high := map[string]bool{}
	for _, r := range j.Terms.High.Runs {
		high[j.Runs[r.V].Name] = true
	}
	return high
}

// NewEstimate prices a bill. The error is a source.Problems with every price
// whose unit does not fit how its item is counted. high names the runs at
// terms.High.Height.
//
// Cost: linear in the items and the list.
func NewEstimate(items []Item, list *PriceList, terms Terms, high map[string]bool) (*Estimate, error) {
	e := &Estimate{Terms: terms}
	r := &source.Reader{File: list.File}
	for _, it := range items {
		l := PricedItem{Item: it, Price: list.Find(it.Group, it.Name)}
		if l.Price != nil {
			l.price(r)
		}
		e.Lines = append(e.Lines, l)
		e.missing(&l, list)
		e.group(&l)
		for k, share := range it.Shares {
			if high[it.Runs[k]] {
				e.HighHours += share * l.Minutes / 60
			}
		}
	}
	if err := r.Problems.Err(); err != nil {
		return nil, err
	}
	e.HighHours = sum.Cents(sum.N(e.HighHours)).Eval()
	e.buildUp()
	return e, nil
}

// price works out what a line costs and how long it takes.
func (l *PricedItem) price(r *source.Reader) {
	p := l.Price
	if p.Price.Said() && !l.Labour {
		n, ok := l.bought(p.Per.Of)
		if !ok {
			r.Add(ErrPrices, p.PerAt, max(1, len(p.Per.Text)), fmt.Sprintf("%s is counted in %s, not by %s", l.Name, l.counted(), p.Per.Text), "unit: "+l.units())
			return
		}
		l.Quantity, l.Priced = n, true
		l.Cost = sum.Cents(sum.Times(sum.Over(sum.N(n), sum.N(p.Per.Count)), sum.N(p.Price.V))).Eval()
	}
	if p.Minutes.Said() {
		per := p.Timed
		if per.Of == 0 {
			per = Per{Count: 1, Of: PerPiece}
			if l.Unit == "m" {
				per.Of = PerMetre
			}
		}
		size, ok := l.measures(per)
		if !ok {
			r.Add(ErrPrices, p.Minutes.At, 1, fmt.Sprintf("%s is counted in %s, its time is not by %s", l.Name, l.counted(), per.Text), "time for: "+l.units())
			return
		}
		l.Minutes, l.Timed = p.Minutes.V/size, true
		l.Hours = sum.Cents(sum.N(l.Net * l.Minutes / 60)).Eval()
	}
}

// bought is how much of an item is paid for, as its price counts it: all with
// waste by the metre or the piece, whole lengths and reels otherwise.
func (l *PricedItem) bought(of Measure) (float64, bool) {
	switch {
	case of == PerPiece && l.Unit == "each", of == PerMetre && l.Unit == "m":
		return l.Gross, true
	case of == PerLength && l.Unit == "m" && l.Group != groupCable, of == PerReel && l.Group == groupCable:
		return l.Packs, l.Pack > 0
	}
	return 0, false
}

// measures is how many pieces or metres a time is for.
func (l *PricedItem) measures(p Per) (float64, bool) {
	switch {
	case p.Of == PerPiece && l.Unit == "each", p.Of == PerMetre && l.Unit == "m":
		return p.Count, true
	case p.Of == PerLength && l.Unit == "m" && l.Group != groupCable, p.Of == PerReel && l.Group == groupCable:
		return p.Count * l.Pack, l.Pack > 0
	}
	return 0, false
}

func (l *PricedItem) counted() string {
	if l.Unit == "m" {
		return "metres"
	}
	return "pieces"
}

func (l *PricedItem) units() string {
	switch {
	case l.Group == groupCable:
		return "m, 100 m, ft, 100 ft or reel"
	case l.Unit == "m":
		return "m, 100 m, ft, 100 ft or length"
	}
	return "each, 100 or 1000"
}

// missing notes what the list does not say about a line.
func (e *Estimate) missing(l *PricedItem, list *PriceList) {
	text := l.Name
	if near := list.Nearest(l.Name); l.Price == nil && near != nil {
		text += fmt.Sprintf(" (line %d of %s has %q)", near.At.Line, list.File.Name, near.Item)
	}
	if !l.Labour && !l.Priced {
		e.Unpriced = append(e.Unpriced, text)
	}
	switch {
	case l.Timed:
	case l.Labour: // nowhere else named
		e.Untimed = append(e.Untimed, text)
	default:
		e.Untimed = append(e.Untimed, l.Name)
	}
}

func (e *Estimate) group(l *PricedItem) {
	if n := len(e.Groups); n == 0 || e.Groups[n-1].Group != l.Group {
		e.Groups = append(e.Groups, GroupTotal{Group: l.Group})
	}
	g := &e.Groups[len(e.Groups)-1]
	g.Priced, g.Timed = g.Priced || l.Priced, g.Timed || l.Timed
	g.Cost = sum.Cents(sum.N(g.Cost + l.Cost)).Eval()
	g.Hours = sum.Cents(sum.N(g.Hours + l.Hours)).Eval()
}

// buildUp is the sum from material to total. Amounts and hours are rounded to
// the hundredth as they stand, so that they add up on paper.
func (e *Estimate) buildUp() {
	w := &sum.Work{}
	costs, hours := e.groupTerms()
	w.Note("Amounts and hours are rounded to 0.01 as they stand, before tax.")
	M := w.Let("M", "material", "", sum.Cents(sum.Add(costs...)))
	H := w.Let("H", "hours", "h", sum.Cents(sum.Add(hours...)))
	e.Material, e.Hours = M.Value, H.Value
	sofar := []sum.Expr{sum.T(M)}
	var none []string
	share := func(symbol, rate, name, of string, v float64, base []sum.Expr) float64 {
		if v == 0 {
			none = append(none, name)
			return 0
		}
		r := w.Given(name+", share of "+of, sum.Term{Symbol: rate, Value: v})
		t := w.Let(symbol, name, "", sum.Cents(sum.Times(sum.Add(base...), sum.T(r))))
		sofar = append(sofar, sum.T(t))
		return t.Value
	}
	e.Sundries = share("S", "s", "sundries", "material", e.Terms.Sundries.V, sofar)
	if e.Terms.Rate.V == 0 {
		none = append(none, "labour rate")
	} else {
		L := e.labour(w, H)
		e.Labour = L.Value
		sofar = append(sofar, sum.T(L))
	}
	e.Overhead = share("O", "o", "overhead", "what stands above", e.Terms.Overhead.V, sofar)
	e.Profit = share("P", "p", "profit", "what stands above", e.Terms.Profit.V, sofar)
	if len(none) > 0 {
		w.Note("Not given, so nothing: " + strings.Join(none, ", ") + ".")
	}
	e.Total = w.Let("T", "total", "", sum.Cents(sum.Add(sofar...))).Value
	e.Steps = w.Steps
}

// groupTerms are the groups' amounts and hours, as far as they are known.
func (e *Estimate) groupTerms() (costs, hours []sum.Expr) {
	for _, g := range e.Groups {
		if g.Priced {
			costs = append(costs, sum.T(sum.Term{Symbol: initials(g.Group, "M"), Value: g.Cost, Money: true}))
		}
		if g.Timed {
			hours = append(hours, sum.T(sum.Term{Symbol: initials(g.Group, "h"), Value: g.Hours, Unit: "h", Money: true}))
		}
	}
	for _, e := range []*[]sum.Expr{&costs, &hours} {
		if *e == nil {
			*e = []sum.Expr{sum.N(0)}
		}
	}
	return costs, hours
}

// labour is the hours at their rate, those of high work with their addition.
func (e *Estimate) labour(w *sum.Work, H sum.Term) sum.Term {
	rate := w.Given("labour rate, money an hour", sum.Term{Symbol: "r", Value: e.Terms.Rate.V, Money: true})
	if h := e.Terms.High; h.Height.Said() && len(h.Runs) > 0 {
		if v, err := us.HighWork(h.Height.V); err == nil {
			a := w.Given("addition to the hours of high work, per cent (a United States figure)", v.Term("a"))
			a.Unit, e.HighAddition = "", v.Num/100
			Hh := w.Given("hours of the runs up there, without the addition", sum.Term{Symbol: "Hh", Value: e.HighHours, Unit: "h", Money: true})
			H = w.Let("Ht", "hours with the addition", "h", sum.Cents(sum.Add(sum.T(H), sum.Over(sum.Times(sum.T(Hh), sum.T(a)), sum.N(100)))))
		}
	}
	return w.Let("L", "labour", "", sum.Cents(sum.Times(sum.T(H), sum.T(rate))))
}

// initials tells the groups' sums apart: M(boxes and fittings).
func initials(group, symbol string) string { return symbol + "(" + strings.ToLower(group) + ")" }
