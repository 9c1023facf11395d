package render

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

// PricedBill is a bill with what it comes to.
type PricedBill struct {
	Job      *route.Job
	Items    []route.Item
	Estimate *route.Estimate // nil: no price list
	Instead  []fill.Instead  // nil: not asked for
}

// WriteEstimate prints the bill and below it, with a price list, every price
// and the sum to the total; then, where asked for, what other enclosures would
// change.
func WriteEstimate(to io.Writer, b PricedBill) error {
	w := bufio.NewWriter(to)
	if err := billTable(w, b.Job, b.Items); err != nil {
		return err
	}
	if b.Estimate != nil {
		if err := priceTable(w, b.Estimate); err != nil {
			return err
		}
		buildUp(w, b.Estimate)
	}
	if b.Instead != nil {
		if err := insteadTable(w, b); err != nil {
			return err
		}
	}
	footer(w)
	return w.Flush()
}

func money(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

func hours(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

// priceTable prints the lines with their prices, group by group with totals.
func priceTable(w io.Writer, e *route.Estimate) error {
	in := "amounts in the currency of the price list"
	if e.Terms.Currency != "" {
		in = "amounts in " + e.Terms.Currency
	}
	fmt.Fprintf(w, "\nPRICES, %s\n", in)
	t := columns{head: []string{"item", "quantity", "price", "for", "amount", "min each", "hours"},
		right: []bool{false, true, true, false, true, true, true}, most: []int{44}}
	group := 0
	for i, l := range e.Lines {
		if i == 0 || e.Lines[i-1].Group != l.Group {
			t.add(strings.ToUpper(l.Group), "", "", "", "", "", "")
		}
		t.add(priceCells(&l)...)
		if i+1 == len(e.Lines) || e.Lines[i+1].Group != l.Group {
			g := e.Groups[group]
			t.add(totalCells(g)...)
			group++
		}
	}
	return t.write(w, "")
}

// totalCells are a group's total; what is not known is not nothing.
func totalCells(g route.GroupTotal) []string {
	cells := []string{"  total " + g.Group, "", "", "", nonePriced, "", "–"}
	if g.Priced {
		cells[4] = money(g.Cost)
	}
	if g.Timed {
		cells[6] = hours(g.Hours)
	}
	return cells
}

func priceCells(l *route.PricedItem) []string {
	cells := []string{"  " + l.Name, "", "–", "", "–", "–", "–"}
	switch {
	case l.Priced:
		cells[1], cells[2], cells[3], cells[4] = quantityText(l.Quantity), money(l.Price.Price.V), l.Price.Per.Text, money(l.Cost)
	case !l.Labour:
		cells[4] = "no price"
	}
	if l.Timed {
		cells[5], cells[6] = units.Format(round3(l.Minutes)), hours(l.Hours)
	}
	return cells
}

func round3(v float64) float64 { return float64(int64(v*1000+0.5)) / 1000 }

// buildUp prints what has no price, which is never counted as nothing, and
// the sum from material to total.
func buildUp(w io.Writer, e *route.Estimate) {
	if n := len(e.Unpriced); n > 0 {
		fmt.Fprintf(w, "\nNOT PRICED: the total is without %s\n", counted(n, "item", "items"))
		for _, name := range e.Unpriced {
			_ = writeWrapped(w, "  ", "    ", name)
		}
	}
	if n := len(e.Untimed); n > 0 && e.Terms.Rate.V > 0 {
		fmt.Fprintf(w, "\nNO TIME: the hours are without %s\n", counted(n, "item", "items"))
		_ = writeWrapped(w, "  ", "    ", strings.Join(e.Untimed, "; "))
	}
	fmt.Fprintf(w, "\nESTIMATE\n")
	for i, s := range e.Steps {
		writeStep(w, i+1, s)
	}
	fmt.Fprintf(w, "\n%s\n", totalLine(e))
}

func totalLine(e *route.Estimate) string {
	text := "total " + strings.TrimSpace(e.Terms.Currency+" "+money(e.Total)) + ", before tax"
	if n := len(e.Unpriced); n > 0 {
		text += ", without " + counted(n, "item", "items") + " that " + verb(n) + " no price"
	}
	return text
}

func verb(n int) string {
	if n == 1 {
		return "has"
	}
	return "have"
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// insteadTable prints what other enclosures would change.
func insteadTable(w io.Writer, b PricedBill) error {
	fmt.Fprintf(w, "\nINSTEAD: the whole job read, checked and counted again\n")
	t := columns{head: []string{"with", "check", "total", "difference", "changes"}, right: []bool{false, false, true, true}, narrow: 24}
	for _, in := range b.Instead {
		total, difference := "–", "–"
		if in.Estimate != nil {
			total, difference = money(in.Estimate.Total), "not all priced"
			if in.Compared {
				difference = fmt.Sprintf("%+.2f", in.Difference)
			}
		}
		verdict := "–"
		if in.Reason == "" {
			verdict = VerdictWord(in.Verdict)
		}
		t.add(in.What, verdict, total, difference, changes(&in))
	}
	if len(b.Instead) == 0 {
		t.add("nothing to change", "–", "–", "–", "")
	}
	return t.write(w, "  ")
}

// changes says in a few words what a substitution does to the checks.
func changes(in *fill.Instead) string {
	if in.Reason != "" {
		return in.Reason
	}
	var parts []string
	for _, c := range []struct {
		word string
		list []string
	}{{"then fails: ", in.Fails}, {"no longer fails: ", in.Heals}} {
		if n := len(c.list); n > 3 {
			parts = append(parts, fmt.Sprintf("%s%s and %d more", c.word, strings.Join(c.list[:3], "; "), n-3))
		} else if n > 0 {
			parts = append(parts, c.word+strings.Join(c.list, "; "))
		}
	}
	if parts == nil {
		return "no check changes its failures"
	}
	return strings.Join(parts, "; ")
}

// WriteEstimateCSV writes the priced bill for a spreadsheet: the columns of
// the bill, then its prices. A price that is not given is an empty cell.
func WriteEstimateCSV(to io.Writer, e *route.Estimate) error {
	if _, err := io.WriteString(to, "\ufeff"); err != nil {
		return err
	}
	w := csv.NewWriter(to)
	w.UseCRLF = true
	rows := [][]string{append(billHead(), "paid for", "price", "price for", "amount", "minutes each", "hours")}
	for _, l := range e.Lines {
		rows = append(rows, append(billCells(l.Item), csvPrices(&l)...))
	}
	for _, r := range [][2]string{{"material", money(e.Material)}, {"sundries", money(e.Sundries)}, {"labour", money(e.Labour)}, {"overhead", money(e.Overhead)}, {"profit", money(e.Profit)}, {"total", money(e.Total)}} {
		row := make([]string, len(rows[0]))
		row[0], row[1], row[len(billHead())+3] = "estimate", r[0], r[1]
		rows = append(rows, row)
	}
	for _, r := range rows {
		if err := w.Write(unformula(r)); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

func csvPrices(l *route.PricedItem) []string {
	cells := make([]string, 6)
	if l.Priced {
		cells[0], cells[1], cells[2], cells[3] = units.Format(l.Quantity), units.Format(l.Price.Price.V), l.Price.Per.Text, money(l.Cost)
	}
	if l.Timed {
		cells[4], cells[5] = units.Format(l.Minutes), units.Format(l.Hours)
	}
	return cells
}
