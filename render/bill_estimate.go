package render

import (
	"bufio"
	"fmt"
	"io"
	"slices"
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
	Report   *fill.Report    // nil: not judged
	Estimate *route.Estimate // nil: no price list
	Instead  []fill.Instead  // nil: not asked for
}

// WriteEstimate prints the bill and below it, with a price list, every price
// and the sum to the total; then, where asked for, what other enclosures would
// change.
func WriteEstimate(to io.Writer, b PricedBill) error {
	w := bufio.NewWriter(to)
	if err := billTable(w, &b); err != nil {
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
	t := columns{head: []string{"item", "quantity", "price", "for", "amount", "minutes", "times", "hours"},
		right: []bool{false, true, true, false, true, true, true, true}, most: []int{36}}
	group := 0
	for i, l := range e.Lines {
		if i == 0 || e.Lines[i-1].Group != l.Group {
			t.add(strings.ToUpper(l.Group), "", "", "", "", "", "", "")
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
	cells := []string{"  total " + g.Group, "", "", "", nonePriced, "", "", "–"}
	if g.Priced {
		cells[4] = money(g.Cost)
	}
	if g.Timed {
		cells[7] = hours(g.Hours)
	}
	return cells
}

func priceCells(l *route.PricedItem) []string {
	cells := []string{"  " + l.Name, "", "–", "", "–", "–", "", "–"}
	switch {
	case l.Priced:
		cells[1], cells[2], cells[3], cells[4] = quantityText(l.Quantity), money(l.Price.Price.V), l.Price.Per.Text, money(l.Cost)
	case !l.Labour:
		cells[4] = "no price"
	}
	if l.Timed {
		cells[5], cells[6], cells[7] = units.Format(round3(l.Minutes))+perUnit(l), timedText(l), hours(l.Hours)
	}
	return cells
}

// perUnit says what minutes are for.
func perUnit(l *route.PricedItem) string {
	if l.Unit == "m" {
		return " per m"
	}
	return " each"
}

// timedText is the quantity that the minutes are for, which is net: what waste
// adds is not worked.
func timedText(l *route.PricedItem) string {
	if l.Unit == "m" {
		return quantityText(l.Net) + " m"
	}
	return quantityText(l.Net)
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
	return "total " + strings.TrimSpace(e.Terms.Currency+" "+money(e.Total)) + ", before tax" + totalWithout(e)
}

// totalWithout says what a total leaves out, "" where nothing.
func totalWithout(e *route.Estimate) string {
	if n := len(e.Unpriced); n > 0 {
		return ", without " + counted(n, "item", "items") + " that " + verb(n) + " no price"
	}
	return ""
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
	for i := range b.Instead {
		in := &b.Instead[i]
		total, difference := "–", "–"
		if in.Compared {
			total, difference = money(in.Estimate.Total), fmt.Sprintf("%+.2f", in.Difference)
		} else if in.Estimate != nil {
			total = notAllPriced
		}
		t.add(in.What, insteadVerdict(in), total, difference, changes(b.Estimate, in))
	}
	if len(b.Instead) == 0 {
		t.add("nothing to change", "–", "–", "–", "")
	}
	if err := t.write(w, "  "); err != nil || !anyGaps(b) {
		return err
	}
	return writeWrapped(w, "  ", "    ", sameGaps)
}

const sameGaps = "Totals are without the same items as that of the job: they have no price."

// anyGaps reports whether totals shown beside each other leave something out.
func anyGaps(b PricedBill) bool {
	return slices.ContainsFunc(b.Instead, func(in fill.Instead) bool { return in.Compared && len(in.Estimate.Unpriced) > 0 })
}

const notAllPriced = "not all priced"

// insteadVerdict is what check says of a substitution.
func insteadVerdict(in *fill.Instead) string {
	if in.Reason != "" {
		return "–"
	}
	return VerdictWord(in.Verdict)
}

// listed is the first three of a list.
func listed(list []string) string {
	if n := len(list); n > 3 {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:3], "; "), n-3)
	}
	return strings.Join(list, "; ")
}

// changes says in a few words what a substitution does to the checks.
func changes(now *route.Estimate, in *fill.Instead) string {
	if in.Reason != "" {
		return in.Reason
	}
	var parts []string
	switch {
	case len(in.Fails)+len(in.Heals) > 0:
	case in.Verdict == fill.Fail:
		parts = append(parts, "the same checks fail as now")
	default:
		parts = append(parts, "no check fails, as now")
	}
	if len(in.Fails) > 0 {
		parts = append(parts, "then fails: "+listed(in.Fails))
	}
	if len(in.Heals) > 0 {
		parts = append(parts, "no longer fails: "+listed(in.Heals))
	}
	if in.Estimate != nil && !in.Compared {
		parts = append(parts, "no price for: "+listed(moreUnpriced(now, in.Estimate)))
	}
	return strings.Join(parts, "; ")
}

// moreUnpriced is what has no price then and has one, or is not needed, now;
// everything where only the quantities differ.
func moreUnpriced(now, then *route.Estimate) []string {
	more := slices.DeleteFunc(slices.Clone(then.Unpriced), func(item string) bool { return slices.Contains(now.Unpriced, item) })
	if len(more) == 0 {
		return then.Unpriced
	}
	return more
}
