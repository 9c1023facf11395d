package render

import (
	"encoding/csv"
	"io"
	"strings"

	"tubewright/factors/units"
	"tubewright/route"
)

// WriteBillCSV writes the bill for a spreadsheet: with a byte order mark, so
// that it shows ² and ⌀, and no cell that a spreadsheet would take for a
// formula. Runs that cannot be made stand above the items, named in the first
// column. With a price list the columns of prices follow; one that is not
// given is an empty cell. Below the items stand the estimate, what has no price
// or no time, what other enclosures would change, and the cautions.
func WriteBillCSV(to io.Writer, b PricedBill) error {
	if _, err := io.WriteString(to, "\ufeff"); err != nil {
		return err
	}
	w := csv.NewWriter(to)
	w.UseCRLF = true
	rows := [][]string{billHead()}
	if b.Estimate != nil {
		rows[0] = append(rows[0], priceHead...)
	}
	for _, n := range checkNotes(b.Report, "bill") {
		row := make([]string, len(rows[0]))
		row[0], row[1] = "checks", n
		rows = append(rows, row)
	}
	for _, n := range unmadeNotes(b.Job) {
		row := make([]string, len(rows[0]))
		row[0], row[1] = "cannot be made as drawn", n
		rows = append(rows, row)
	}
	for i, it := range b.Items {
		row := billCells(it)
		if b.Estimate != nil {
			row = append(row, csvPrices(&b.Estimate.Lines[i])...)
		}
		rows = append(rows, row)
	}
	rows = append(rows, belowItems(b, len(rows[0]))...)
	for _, r := range rows {
		if err := w.Write(unformula(r)); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

func billHead() []string {
	return []string{"group", "item", "net", "gross", "unit", "to order", "offcuts at hand m", "gross over net %", "lost by cutting %", "kept offcuts m", "runs", "counting"}
}

var priceHead = []string{"paid for", "price", "price for", "amount", "minutes", "minutes for", "minutes times", "hours"}

// Columns of the prices, from the first of them.
const (
	csvAmount = 3
	csvHours  = 7
)

func billCells(it route.Item) []string {
	hand, over, lost, kept := "", "", "", ""
	if it.AtHand > 0 {
		hand = units.Format(it.AtHand)
	}
	if share, ok := it.OverNet(); ok {
		over = units.Format(round3(share * 100))
	}
	if it.Cut {
		lost, kept = units.Format(round3(it.Lost*100)), units.Format(it.Kept)
	}
	return []string{it.Group, it.Name, units.Format(it.Net), units.Format(it.Gross), it.Unit, it.Order, hand, over, lost, kept, strings.Join(it.Runs, " "), it.Rule}
}

func csvPrices(l *route.PricedItem) []string {
	cells := make([]string, len(priceHead))
	if l.Priced {
		cells[0], cells[1], cells[2], cells[csvAmount] = units.Format(l.Quantity), units.Format(l.Price.Price.V), l.Price.Per.Text, money(l.Cost)
	}
	if l.Timed {
		cells[4], cells[5], cells[6], cells[csvHours] = units.Format(l.Minutes), l.Unit, units.Format(l.Net), units.Format(l.Hours)
	}
	return cells
}

// belowItems are the rows below the items, of that many cells.
func belowItems(b PricedBill, cells int) (rows [][]string) {
	add := func(group, text string) []string {
		row := make([]string, cells)
		row[0], row[1] = group, text
		rows = append(rows, row)
		return row
	}
	first := len(billHead())
	if e := b.Estimate; e != nil {
		for _, s := range csvSums(e) {
			add("estimate", s[0])[first+csvAmount] = s[1]
		}
		add("estimate", "hours")[first+csvHours] = hours(e.Hours)
		for _, name := range e.Unpriced {
			add("not priced", name)
		}
		for _, name := range e.Untimed {
			add("no time", name)
		}
	}
	for _, name := range b.failed() {
		add("check fails", name)
	}
	for _, name := range b.unsettled() {
		add("check is open", name)
	}
	for _, what := range notCounted(b.Job, b.Items) {
		add("not counted", what)
	}
	for i := range b.Instead {
		in := &b.Instead[i]
		row := add("instead", strings.Join([]string{in.What, insteadVerdict(in), changes(b.Estimate, in)}, "; "))
		if b.Estimate != nil && in.Compared {
			row[first+csvAmount] = money(in.Estimate.Total)
		}
	}
	for _, c := range Cautions {
		add("caution", c)
	}
	return rows
}

// csvSums are the amounts from material to total, which says what it leaves
// out.
func csvSums(e *route.Estimate) [][2]string {
	total := "total"
	if without := totalWithout(e); without != "" {
		total += without
	}
	return [][2]string{{"material", money(e.Material)}, {"sundries", money(e.Sundries)}, {"labour", money(e.Labour)},
		{"overhead", money(e.Overhead)}, {"profit", money(e.Profit)}, {total + ", before tax", money(e.Total)}}
}

// unformula keeps a spreadsheet from taking a cell for a formula.
func unformula(cells []string) []string {
	for i, cell := range cells {
		if cell != "" && strings.ContainsRune("=+-@\t", rune(cell[0])) {
			cells[i] = "'" + cell
		}
	}
	return cells
}
