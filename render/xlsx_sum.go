package render

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"tubewright/route"
)

// sumSheet writes the estimate as formulas on the bill.
func (x *workbook) sumSheet() {
	x.begin(sheetSum, page{widths: []float64{58, 14}})
	terms := x.bill.Job.Terms
	if x.bill.Estimate != nil {
		terms = x.bill.Estimate.Terms
	}
	x.row(1, 1, cells{"A": cell(styleGroup, "Estimate"+inCurrency(terms.Currency)+", before tax")})
	for i, r := range x.sumRows(terms) {
		x.row(i+2, 1, cells{"A": cell(stylePlain, r.what), "B": r.value})
	}
	x.end()
}

func inCurrency(c string) string {
	if c == "" {
		return ""
	}
	return " in " + c
}

type sumRow struct {
	what  string
	value excelize.Cell
}

// sumRows are rows 2 to 15 of the sheet; the formulas name each other by row.
func (x *workbook) sumRows(t route.Terms) []sumRow {
	e := x.bill.Estimate
	if e == nil {
		e = &route.Estimate{}
	}
	return []sumRow{
		{"material", x.overGroups("K", e.Material)},
		{"hours", x.overGroups("M", e.Hours)},
		{"hours of high work among them", cell(styleAmount, *number(e.HighHours))},
		{"addition to the hours of high work (a United States figure)", cell(stylePercent, e.HighAddition)},
		{"labour rate, an hour", cell(styleAmount, t.Rate.V)},
		{"labour", formula(styleAmount, e.Labour, "ROUND(ROUND(B3+B4*B5,2)*B6,2)")},
		{"sundries, share of material", cell(stylePercent, t.Sundries.V)},
		{"sundries", formula(styleAmount, e.Sundries, "ROUND(B2*B8,2)")},
		{"overhead, share of material, sundries and labour", cell(stylePercent, t.Overhead.V)},
		{"overhead", formula(styleAmount, e.Overhead, "ROUND((B2+B9+B7)*B10,2)")},
		{"profit, share of material, sundries, labour and overhead", cell(stylePercent, t.Profit.V)},
		{"profit", formula(styleAmount, e.Profit, "ROUND((B2+B9+B7+B11)*B12,2)")},
		{"total", formula(styleTotal, e.Total, "ROUND(B2+B9+B7+B11+B13,2)")},
		{"items without a price, not in the total", formula(styleGroup, x.notPriced(), `COUNTIF(%s!K%d:K%d,"%s")`, sheetBill, headRow+1, max(x.last, headRow+1), noPrice)},
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
func (x *workbook) overGroups(column string, comes float64) excelize.Cell {
	if len(x.totals) == 0 {
		return formula(styleAmount, 0.0, "0")
	}
	each := make([]string, len(x.totals))
	for i, row := range x.totals {
		each[i] = fmt.Sprintf("%s!%s%d", sheetBill, column, row)
	}
	return formula(styleAmount, comes, "SUM(%s)", strings.Join(each, ","))
}
