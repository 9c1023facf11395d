package render

import (
	"fmt"
	"io"
	"math"
	"strings"

	"tubewright/route"
)

// The sheets of the workbook.
const (
	sheetBill    = "Bill"
	sheetSum     = "Estimate"
	sheetInstead = "Instead"
	sheetNotes   = "Notes"
)

// WriteBillXLSX writes a workbook whose sums are live: gross, quantity paid
// for, amount and hours of each line, the totals, and the estimate are
// formulas, so that a price put in by hand counts at once. A line without a
// price says so and is left out of the sums.
func WriteBillXLSX(to io.Writer, b PricedBill) error {
	x := &workbook{bill: b}
	x.billSheet()
	x.sumSheet()
	if b.Instead != nil {
		x.insteadSheet()
	}
	x.notesSheet()
	return writeWorkbook(to, b.Job.Name, x.sheets)
}

// workbook is a workbook being written.
type workbook struct {
	bill   PricedBill
	sheets []*worksheet
	totals []int // rows of the group totals
	last   int   // last row of the bill
}

// sheet returns the sheet of that name, a new one the first time.
func (x *workbook) sheet(name string) *worksheet {
	for _, s := range x.sheets {
		if s.name == name {
			return s
		}
	}
	s := &worksheet{name: name, rows: map[int]map[int]cell{}, lines: map[int]int{}}
	x.sheets = append(x.sheets, s)
	return s
}

// put writes a value or a formula; the cell keeps its style.
func (x *workbook) put(sheet, column string, row int, v any) {
	s := x.sheet(sheet)
	was, c := s.at(column, row)
	was.value = v
	s.set(c, row, was)
}

// formula is a formula, without its =, and what it comes to, for programs that
// show a workbook without working it out: a float64 or a text.
type formula struct {
	text  string
	comes any
}

func (x *workbook) style(sheet, from, to string, row int, style cellStyle) {
	s := x.sheet(sheet)
	for c := from[0]; c <= to[0]; c++ {
		was, i := s.at(string(rune(c)), row)
		was.style = style
		s.set(i, row, was)
	}
}

var billColumns = []struct {
	head  string
	width float64
	style cellStyle
}{{"item", 46, styleHead}, {"unit", 6, styleHead}, {"net", 9, styleHeadRight}, {"over net", 11, styleHeadRight}, {"gross", 9, styleHeadRight}, {"length or reel, m", 9, styleHeadRight}, {"paid for", 9, styleHeadRight}, {"price for", 9, styleHeadAside}, {"of these", 9, styleHeadRight},
	{"price", 10, styleHeadRight}, {"amount", 11, styleHeadRight}, {"minutes each, times net", 9, styleHeadRight}, {"hours", 9, styleHeadRight}, {"runs", 30, styleHeadAside}, {"counting rule (sheet Notes)", 10, styleHeadRight}, {"offcuts at hand, m", 10, styleHeadRight}}

// headRow is the row of the column heads.
const headRow = 4

func (x *workbook) billSheet() {
	x.put(sheetBill, "A", 1, strings.Trim(x.bill.Job.Name+", "+x.bill.Job.Date, ", "))
	x.put(sheetBill, "A", 2, Cautions[0])
	if n := len(unmadeNotes(x.bill.Job)); n > 0 {
		x.put(sheetBill, "A", 3, counted(n, "run", "runs")+" cannot be made as drawn: sheet Notes")
		x.style(sheetBill, "A", "A", 3, styleGroup)
	}
	x.style(sheetBill, "A", "A", 1, styleGroup)
	for i, c := range billColumns {
		name := string(rune('A' + i))
		x.put(sheetBill, name, headRow, c.head)
		x.sheet(sheetBill).width(name, c.width)
		x.style(sheetBill, name, name, headRow, c.style)
	}
	x.sheet(sheetBill).lines[headRow] = 3
	rules := ruleNumbers(x.bill.Items)
	row, first := headRow, 0
	for i, it := range x.bill.Items {
		if i == 0 || x.bill.Items[i-1].Group != it.Group {
			row++
			x.put(sheetBill, "A", row, strings.ToUpper(it.Group))
			x.style(sheetBill, "A", "A", row, styleGroup)
			first = row + 1
		}
		row++
		x.billRow(row, i, rules[it.Rule])
		if i+1 == len(x.bill.Items) || x.bill.Items[i+1].Group != it.Group {
			row++
			x.groupTotal(row, first, it.Group)
		}
	}
	x.last = row
	x.sheet(sheetBill).frozen, x.sheet(sheetBill).wide = headRow, true
}

func (x *workbook) billRow(row, i, rule int) {
	it := x.bill.Items[i]
	put := func(column string, v any) { x.put(sheetBill, column, row, v) }
	put("A", it.Name)
	put("B", it.Unit)
	put("C", it.Net)
	x.gross(row, it)
	put("N", strings.Join(it.Runs, " "))
	put("O", rule)
	x.style(sheetBill, "C", "C", row, styleAmount)
	x.style(sheetBill, "D", "D", row, stylePercent)
	x.style(sheetBill, "E", "G", row, styleAmount)
	x.style(sheetBill, "J", "K", row, styleAmount)
	x.style(sheetBill, "M", "M", row, styleAmount)
	x.style(sheetBill, "H", "H", row, styleAside)
	x.style(sheetBill, "N", "N", row, styleAside)
	if !it.Labour {
		x.priceCells(row, it, x.priced(i))
	}
	if l := x.priced(i); l != nil && l.Timed {
		put("L", l.Minutes)
	}
	var worked any = ""
	if l := x.priced(i); l != nil && l.Timed {
		worked = l.Hours
	}
	put("M", formula{fmt.Sprintf(`IF(ISBLANK(L%d),"",ROUND(C%d*L%d/60,2))`, row, row, row), worked})
}

// gross writes the waste and what is bought with it: the allowance added, or
// whole lengths by the cut list and what they are more than net.
func (x *workbook) gross(row int, it route.Item) {
	if it.Pack > 0 {
		x.put(sheetBill, "F", row, it.Pack)
	}
	if it.AtHand > 0 {
		x.put(sheetBill, "P", row, it.AtHand)
		x.style(sheetBill, "P", "P", row, styleAmount)
	}
	if it.Cut {
		var over any = "" // less than net is bought where offcuts or bends make up for it
		if it.Gross >= it.Net {
			over = math.Round(it.Waste*1e6) / 1e6
		}
		x.put(sheetBill, "D", row, formula{fmt.Sprintf(`IF(E%d<C%d,"",ROUND(E%d/C%d-1,6))`, row, row, row, row), over})
		x.put(sheetBill, "E", row, formula{fmt.Sprintf("ROUND(%.0f*F%d,6)", it.Packs, row), it.Gross})
		return
	}
	if it.Waste > 0 {
		x.put(sheetBill, "D", row, it.Waste)
	}
	x.put(sheetBill, "E", row, formula{fmt.Sprintf("ROUND(C%d*(1+D%d),6)", row, row), it.Gross})
}

// priced is the line of the estimate, nil without one.
func (x *workbook) priced(i int) *route.PricedItem {
	if x.bill.Estimate == nil {
		return nil
	}
	return &x.bill.Estimate.Lines[i]
}

// priceCells writes what is paid for, by what measure, and the amount.
func (x *workbook) priceCells(row int, it route.Item, l *route.PricedItem) {
	per := route.Per{Text: "each", Count: 1, Of: route.PerPiece}
	switch {
	case l != nil && l.Price != nil:
		per = l.Price.Per
	case it.Unit == "m":
		per = route.Per{Text: "m", Count: 1, Of: route.PerMetre}
	}
	var paid any = formula{fmt.Sprintf("E%d", row), it.Gross}
	if it.Cut && per.Of == route.PerLength {
		paid = it.Packs
	} else if it.Pack > 0 && (per.Of == route.PerLength || per.Of == route.PerReel) {
		paid = formula{fmt.Sprintf("ROUNDUP(ROUND(E%d/F%d,9),0)", row, row), it.Packs}
	}
	x.put(sheetBill, "G", row, paid)
	x.put(sheetBill, "H", row, per.Text)
	x.put(sheetBill, "I", row, per.Count)
	var amount any = noPrice
	if l != nil && l.Priced {
		x.put(sheetBill, "J", row, l.Price.Price.V)
		amount = l.Cost
	}
	x.put(sheetBill, "K", row, formula{fmt.Sprintf(`IF(ISBLANK(J%d),"%s",ROUND(G%d/I%d*J%d,2))`, row, noPrice, row, row, row), amount})
}

const (
	noPrice    = "no price"
	nonePriced = "none priced" // of a group: its total is not nothing
)

func (x *workbook) groupTotal(row, first int, group string) {
	x.put(sheetBill, "A", row, "total "+group)
	cells := func(c string) string { return fmt.Sprintf("%s%d:%s%d", c, first, c, row-1) }
	var amount, worked any = nonePriced, ""
	if e := x.bill.Estimate; e != nil {
		if g := e.Groups[len(x.totals)]; g.Priced {
			amount = g.Cost
		}
		if g := e.Groups[len(x.totals)]; g.Timed {
			worked = g.Hours
		}
	}
	x.put(sheetBill, "K", row, formula{fmt.Sprintf(`IF(COUNT(%s)=0,"%s",SUM(%s))`, cells("K"), nonePriced, cells("K")), amount})
	x.put(sheetBill, "M", row, formula{fmt.Sprintf(`IF(COUNT(%s)=0,"",SUM(%s))`, cells("M"), cells("M")), worked})
	x.style(sheetBill, "A", "P", row, styleTotal)
	x.totals = append(x.totals, row)
}

// ruleNumbers numbers the rules in the order in which they are met.
func ruleNumbers(items []route.Item) map[string]int {
	number := map[string]int{}
	for _, it := range items {
		if number[it.Rule] == 0 {
			number[it.Rule] = len(number) + 1
		}
	}
	return number
}
