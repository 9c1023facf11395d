package render

import (
	"fmt"
	"strings"

	"tubewright/route"
)

// sumSheet writes the estimate as formulas on the bill.
func (x *workbook) sumSheet() {
	x.sheet(sheetSum).width("A", 58)
	x.sheet(sheetSum).width("B", 14)
	terms := x.bill.Job.Terms
	if x.bill.Estimate != nil {
		terms = x.bill.Estimate.Terms
	}
	x.put(sheetSum, "A", 1, "Estimate"+inCurrency(terms.Currency)+", before tax")
	x.style(sheetSum, "A", "A", 1, styleGroup)
	for i, r := range x.sumRows(terms) {
		row := i + 2
		x.put(sheetSum, "A", row, r.what)
		x.put(sheetSum, "B", row, r.value)
		x.style(sheetSum, "B", "B", row, r.style)
	}
}

func inCurrency(c string) string {
	if c == "" {
		return ""
	}
	return " in " + c
}

type sumRow struct {
	what  string
	value any
	style cellStyle
}

// sumRows are rows 2 to 14 of the sheet; the formulas name each other by row.
func (x *workbook) sumRows(t route.Terms) []sumRow {
	e := x.bill.Estimate
	if e == nil {
		e = &route.Estimate{}
	}
	high, add := e.HighHours, e.HighAddition
	return []sumRow{
		{"material", x.overGroups("K", e.Material), styleAmount},
		{"hours", x.overGroups("M", e.Hours), styleAmount},
		{"hours of high work among them", *number(high), styleAmount},
		{"addition to the hours of high work (a United States figure)", add, stylePercent},
		{"labour rate, an hour", t.Rate.V, styleAmount},
		{"labour", formula{"ROUND(ROUND(B3+B4*B5,2)*B6,2)", e.Labour}, styleAmount},
		{"sundries, share of material", t.Sundries.V, stylePercent},
		{"sundries", formula{"ROUND(B2*B8,2)", e.Sundries}, styleAmount},
		{"overhead, share of material, sundries and labour", t.Overhead.V, stylePercent},
		{"overhead", formula{"ROUND((B2+B9+B7)*B10,2)", e.Overhead}, styleAmount},
		{"profit, share of material, sundries, labour and overhead", t.Profit.V, stylePercent},
		{"profit", formula{"ROUND((B2+B9+B7+B11)*B12,2)", e.Profit}, styleAmount},
		{"total", formula{"ROUND(B2+B9+B7+B11+B13,2)", e.Total}, styleTotal},
		{"items without a price, not in the total", formula{fmt.Sprintf(`COUNTIF(%s!K%d:K%d,"%s")`, sheetBill, headRow+1, max(x.last, headRow+1), noPrice), x.notPriced()}, styleGroup},
	}
}

// notPriced is how many lines to buy have no price.
func (x *workbook) notPriced() float64 {
	if e := x.bill.Estimate; e != nil {
		return float64(len(e.Unpriced))
	}
	n := 0.0
	for _, it := range x.bill.Items {
		if !it.Labour {
			n++
		}
	}
	return n
}

// overGroups adds the group totals of a column of the bill.
func (x *workbook) overGroups(column string, comes float64) formula {
	cells := make([]string, len(x.totals))
	for i, row := range x.totals {
		cells[i] = fmt.Sprintf("%s!%s%d", sheetBill, column, row)
	}
	if len(cells) == 0 {
		return formula{"0", 0.0}
	}
	return formula{"SUM(" + strings.Join(cells, ",") + ")", comes}
}

func (x *workbook) insteadSheet() {
	x.sheet(sheetInstead).width("A", 32)
	x.sheet(sheetInstead).wide = true
	for _, c := range []string{"B", "C", "D"} {
		x.sheet(sheetInstead).width(c, 14)
	}
	x.sheet(sheetInstead).width("E", 90)
	for i, h := range []string{"with", "check", "total", "difference", "changes"} {
		x.put(sheetInstead, string(rune('A'+i)), 1, h)
	}
	x.style(sheetInstead, "A", "B", 1, styleHead)
	x.style(sheetInstead, "C", "D", 1, styleHeadRight)
	x.style(sheetInstead, "E", "E", 1, styleHeadAside)
	if anyGaps(x.bill) {
		x.put(sheetInstead, "A", len(x.bill.Instead)+3, sameGaps)
	}
	for i, in := range x.bill.Instead {
		row := i + 2
		x.put(sheetInstead, "A", row, in.What)
		x.put(sheetInstead, "E", row, changes(x.bill.Estimate, &in))
		x.style(sheetInstead, "E", "E", row, styleAside)
		if in.Reason == "" {
			x.put(sheetInstead, "B", row, VerdictWord(in.Verdict))
		}
		if in.Estimate == nil {
			continue
		}
		x.put(sheetInstead, "C", row, notAllPriced)
		if in.Compared {
			x.put(sheetInstead, "C", row, in.Estimate.Total)
			x.put(sheetInstead, "D", row, formula{fmt.Sprintf("ROUND(C%d-%s!B14,2)", row, sheetSum), in.Difference})
		}
		x.style(sheetInstead, "C", "D", row, styleAmount)
	}
}

// notesSheet writes the cautions and how the items were counted.
func (x *workbook) notesSheet() {
	x.sheet(sheetNotes).width("A", 6)
	const wide = 110 // characters
	x.sheet(sheetNotes).width("B", wide)
	row := 0
	note := func(number any, text string) {
		row++
		if number != nil {
			x.put(sheetNotes, "A", row, number)
			x.style(sheetNotes, "A", "A", row, styleWrapped)
		}
		x.put(sheetNotes, "B", row, text)
		x.style(sheetNotes, "B", "B", row, styleWrapped)
		x.sheet(sheetNotes).lines[row] = len(wrap(text, wide-5, wide-5))
	}
	for _, c := range Cautions {
		note(nil, c)
	}
	for _, n := range unmadeNotes(x.bill.Job) {
		note(nil, "cannot be made as drawn: "+n)
	}
	if hand := handLine(x.bill.Items); hand != "" {
		note(nil, hand)
	}
	note(nil, "Formulas are live. A price or time put in on the sheet Bill counts at once; a line without a price says so and is left out of the sums.")
	done, rules := 0, ruleNumbers(x.bill.Items)
	for _, it := range x.bill.Items {
		if n := rules[it.Rule]; n > done {
			note(n, it.Rule)
			done = n
		}
	}
	if x.bill.Estimate != nil {
		for _, name := range x.bill.Estimate.Unpriced {
			note(nil, noPrice+": "+name)
		}
	}
}
