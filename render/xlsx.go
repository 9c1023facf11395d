package render

import (
	"errors"
	"io"
	"strings"

	"github.com/xuri/excelize/v2"

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
	x := &workbook{bill: b, file: excelize.NewFile()}
	x.err = x.file.SetSheetName(x.file.GetSheetName(0), sheetBill)
	for _, s := range cellStyles() {
		id, err := x.file.NewStyle(s)
		x.styles, x.err = append(x.styles, id), errors.Join(x.err, err)
	}
	x.billSheet()
	x.sumSheet()
	if b.Instead != nil {
		x.insteadSheet()
	}
	x.notesSheet()
	return x.save(to)
}

// workbook is a workbook being written. Of the first error on nothing more is.
type workbook struct {
	bill   PricedBill
	file   *excelize.File
	stream *excelize.StreamWriter // of the sheet begun
	styles []int                  // the library's number of each style
	totals []int                  // rows of the group totals
	last   int                    // last row of the bill
	err    error
}

var billColumns = []struct {
	head  string
	width float64
	style int
}{{"item", 46, styleHead}, {"unit", 6, styleHead}, {"net", 9, styleHeadRight}, {"gross over net %", 11, styleHeadRight}, {"gross", 9, styleHeadRight}, {"length or reel, m", 9, styleHeadRight}, {"paid for", 9, styleHeadRight}, {"price for", 9, styleHeadAside}, {"of these", 9, styleHeadRight},
	{"price", 10, styleHeadRight}, {"amount", 11, styleHeadRight}, {"minutes for one (m or each, as unit), times net", 11, styleHeadRight}, {"hours", 9, styleHeadRight}, {"runs", 30, styleHeadAside}, {"counting rule (sheet Notes)", 10, styleHeadRight}, {"offcuts at hand, m", 10, styleHeadRight}, {"lost by cutting %", 9, styleHeadRight}, {"kept offcuts, m", 9, styleHeadRight}}

// headRow is the row of the column heads.
const headRow = 4

func (x *workbook) billSheet() {
	p := page{wide: true, frozen: headRow}
	heads := cells{}
	for i, c := range billColumns {
		p.widths = append(p.widths, c.width)
		heads[string(rune('A'+i))] = cell(c.style, c.head)
	}
	x.begin(sheetBill, p)
	x.row(1, 1, cells{"A": cell(styleGroup, strings.Trim(x.bill.Job.Name+", "+x.bill.Job.Date, ", "))})
	x.row(2, 1, cells{"A": cell(stylePlain, Cautions[0])})
	if notes := x.headNotes(); len(notes) > 0 {
		x.row(3, 1, cells{"A": cell(styleGroup, strings.Join(notes, "; "))})
	}
	x.row(headRow, 3, heads)
	rules := ruleNumbers(x.bill.Items)
	row, first := headRow, 0
	for i, it := range x.bill.Items {
		if i == 0 || x.bill.Items[i-1].Group != it.Group {
			row++
			x.row(row, 1, cells{"A": cell(styleGroup, strings.ToUpper(it.Group))})
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
	x.end()
}

// headNotes say above the items what a bill of this job cannot be trusted for;
// the names are on the sheet of notes.
func (x *workbook) headNotes() (notes []string) {
	for _, n := range checkNotes(x.bill.Report, "bill") {
		at := strings.Index(n, " (")
		notes = append(notes, n[:at]+" (sheet Notes)")
	}
	if n := len(unmadeNotes(x.bill.Job)); n > 0 {
		notes = append(notes, counted(n, "run", "runs")+" cannot be made as drawn: sheet Notes")
	}
	return notes
}

const (
	noPrice    = "no price"
	nonePriced = "none priced" // of a group: its total is not nothing
)

func (x *workbook) groupTotal(row, first int, group string) {
	var amount, worked any = nonePriced, ""
	if e := x.bill.Estimate; e != nil {
		if g := e.Groups[len(x.totals)]; g.Priced {
			amount = g.Cost
		}
		if g := e.Groups[len(x.totals)]; g.Timed {
			worked = g.Hours
		}
	}
	line := cells{}
	for i := range billColumns {
		line[string(rune('A'+i))] = cell(styleTotal, nil)
	}
	line["A"] = cell(styleTotal, "total "+group)
	line["K"] = formula(styleTotal, amount, `IF(COUNT(K%[1]d:K%[2]d)=0,"%[3]s",SUM(K%[1]d:K%[2]d))`, first, row-1, nonePriced)
	line["M"] = formula(styleTotal, worked, `IF(COUNT(M%[1]d:M%[2]d)=0,"",SUM(M%[1]d:M%[2]d))`, first, row-1)
	x.row(row, 1, line)
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
