package render

import (
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"tubewright/route"
)

// billRow writes item i of the bill.
func (x *workbook) billRow(row, i, rule int) {
	it, l := x.bill.Items[i], x.priced(i)
	line := cells{
		"A": cell(stylePlain, it.Name),
		"B": cell(stylePlain, it.Unit),
		"C": cell(styleAmount, it.Net),
		"J": cell(styleAmount, nil),
		"N": cell(styleAside, inOneCell(it.Runs)),
		"O": cell(stylePlain, rule),
	}
	line.gross(row, it)
	if !it.Labour {
		line.price(row, it, l)
	}
	var worked any = ""
	if l != nil && l.Timed {
		line["L"] = cell(stylePlain, l.Minutes)
		worked = l.Hours
	}
	line["M"] = formula(styleAmount, worked, `IF(ISBLANK(L%[1]d),"",ROUND(C%[1]d*L%[1]d/60,2))`, row)
	x.row(row, 1, line)
}

// inOneCell names runs. A workbook holds so many characters in a cell, and the
// library cuts a longer text off without a word.
func inOneCell(runs []string) string {
	const more = " and more: see the bill as CSV"
	text := strings.Join(runs, " ")
	if len(text) <= excelize.TotalCellChars {
		return text
	}
	text = text[:excelize.TotalCellChars-len(more)]
	return text[:max(strings.LastIndexByte(text, ' '), 0)] + more
}

// priced is the line of the estimate, nil without one.
func (x *workbook) priced(i int) *route.PricedItem {
	if x.bill.Estimate == nil {
		return nil
	}
	return &x.bill.Estimate.Lines[i]
}

// gross puts the waste and what is bought with it: the allowance added, or
// whole lengths by the cut list and what they are more than net.
func (line cells) gross(row int, it route.Item) {
	if it.Pack > 0 {
		line["F"] = cell(styleAmount, it.Pack)
	}
	if it.AtHand > 0 {
		line["P"] = cell(styleAmount, it.AtHand)
	}
	if it.Cut {
		line["Q"], line["R"] = cell(stylePercent, math.Round(it.Lost*1e6)/1e6), cell(styleAmount, it.Kept)
		var over any = "" // less than net is bought where offcuts or bends make up for it
		if share, ok := it.OverNet(); ok {
			over = share
		}
		line["D"] = formula(stylePercent, over, `IF(E%[1]d<C%[1]d,"",ROUND(E%[1]d/C%[1]d-1,6))`, row)
		line["E"] = formula(styleAmount, it.Gross, "ROUND(%.0f*F%d,6)", it.Packs, row)
		return
	}
	line["D"] = cell(stylePercent, nil)
	if it.Waste > 0 {
		line["D"] = cell(stylePercent, it.Waste)
	}
	line["E"] = formula(styleAmount, it.Gross, "ROUND(C%[1]d*(1+D%[1]d),6)", row)
}

// price puts what is paid for, by what measure, and the amount.
func (line cells) price(row int, it route.Item, l *route.PricedItem) {
	per := route.Per{Text: "each", Count: 1, Of: route.PerPiece}
	switch {
	case l != nil && l.Price != nil:
		per = l.Price.Per
	case it.Unit == "m":
		per = route.Per{Text: "m", Count: 1, Of: route.PerMetre}
	}
	line["G"] = formula(styleAmount, it.Gross, "E%d", row)
	if it.Cut && per.Of == route.PerLength {
		line["G"] = cell(styleAmount, it.Packs)
	} else if it.Pack > 0 && (per.Of == route.PerLength || per.Of == route.PerReel) {
		line["G"] = formula(styleAmount, it.Packs, "ROUNDUP(ROUND(E%[1]d/F%[1]d,9),0)", row)
	}
	line["H"] = cell(styleAside, per.Text)
	line["I"] = cell(stylePlain, per.Count)
	var amount any = noPrice
	if l != nil && l.Priced {
		line["J"] = cell(styleAmount, l.Price.Price.V)
		amount = l.Cost
	}
	line["K"] = formula(styleAmount, amount, `IF(ISBLANK(J%[1]d),"%[2]s",ROUND(G%[1]d/I%[1]d*J%[1]d,2))`, row, noPrice)
}
