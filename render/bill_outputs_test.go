package render_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"tubewright/render"
)

// amounts are what one output says that a bill comes to, as it prints it.
type amounts struct {
	lines  []string // of the items in order, "" where there is no price
	groups []string
	sums   [6]string // material, sundries, labour, overhead, profit, total
}

func (a amounts) String() string {
	return strings.Join(append(append(append([]string{}, a.lines...), a.groups...), a.sums[:]...), "|")
}

var sumNames = [6]string{"material", "sundries", "labour", "overhead", "profit", "total"}

// TestOutputsAgreeToThePenny reads terminal, CSV, JSON and workbook of the demo
// jobs back and compares every amount.
func TestOutputsAgreeToThePenny(t *testing.T) {
	for _, job := range []string{"boatstore", "workshop", "clubhouse", "classroom", "existing"} {
		t.Run(job, func(t *testing.T) {
			b := pricedDemo(t, job)
			want := jsonAmounts(t, b)
			if (want.sums[5] == "0.00") != (job == "existing") { // of which nothing is bought
				t.Fatal("nothing to compare")
			}
			for name, got := range map[string]amounts{"terminal": textAmounts(t, b), "CSV": csvAmounts(t, b), "workbook": xlsxAmounts(t, b)} {
				if name == "CSV" {
					got.groups = want.groups // it has none
				}
				if got.String() != want.String() {
					t.Errorf("%s:\n%v\nJSON:\n%v", name, got, want)
				}
			}
		})
	}
}

func pence(v *float64, none string) string {
	if v == nil {
		return none
	}
	return fmt.Sprintf("%.2f", *v)
}

func jsonAmounts(t *testing.T, b render.PricedBill) (a amounts) {
	j := jsonTotals(t, b)
	for _, it := range j.Items {
		a.lines = append(a.lines, pence(it.Price.Amount, ""))
	}
	for _, g := range j.Estimate.Groups {
		a.groups = append(a.groups, pence(g.Amount, "none priced"))
	}
	e := j.Estimate
	for i, v := range []float64{e.Material, e.Sundries, e.Labour, e.Overhead, e.Profit, e.Total} {
		a.sums[i] = pence(&v, "")
	}
	return a
}

// textAmounts reads the price table by the place of its head and the sums off
// the ends of the steps.
func textAmounts(t *testing.T, b render.PricedBill) (a amounts) {
	var buf bytes.Buffer
	if err := render.WriteEstimate(&buf, b); err != nil {
		t.Fatal(err)
	}
	_, text, _ := strings.Cut(buf.String(), "\nPRICES")
	end, inTable, symbol := 0, false, ""
	for _, line := range strings.Split(text, "\n") {
		r := []rune(line)
		switch {
		case strings.HasPrefix(line, "item "):
			end, inTable = len([]rune(line[:strings.Index(line, "amount")]))+len("amount"), true
		case line == "":
			inTable = false
		case inTable && len(r) >= end:
			cell := strings.TrimSpace(string(r[end-8 : end]))
			if cell != "priced" && cell != "no price" {
				cell = cell[strings.LastIndex(cell, " ")+1:]
			}
			switch {
			case strings.HasPrefix(line, "  total "):
				a.groups = append(a.groups, strings.Replace(cell, "priced", "none priced", 1))
			case cell == "no price" || cell == "–":
				a.lines = append(a.lines, "")
			case cell != "":
				a.lines = append(a.lines, cell)
			}
		default:
			if len(line) > 10 && line[:7] == "       " && line[8:10] == " =" && line[7] != ' ' {
				symbol = line[7:8]
			}
			if at := strings.LastIndex(line, "= "); at >= 0 && strings.Contains("MSLOPT", symbol) {
				a.sums[strings.Index("MSLOPT", symbol)] = line[at+2:]
			}
			if rest, ok := strings.CutPrefix(line, "total GBP "); ok && !strings.HasPrefix(rest, a.sums[5]+",") {
				t.Errorf("%s, the steps come to %s", line, a.sums[5])
			}
		}
	}
	return a
}

func csvAmounts(t *testing.T, b render.PricedBill) (a amounts) {
	var buf bytes.Buffer
	if err := render.WriteBillCSV(&buf, b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(buf.Bytes(), []byte("\ufeff")))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	amount := 0
	for i, h := range rows[0] {
		if h == "amount" {
			amount = i
		}
	}
	for _, r := range rows[1:] {
		if r[11] != "" { // an item: it has a rule of counting
			a.lines = append(a.lines, r[amount])
			continue
		}
		for i, name := range sumNames {
			if r[0] == "estimate" && strings.Split(r[1], ",")[0] == name {
				a.sums[i] = r[amount]
			}
		}
	}
	return a
}

// xlsxAmounts has the library work every formula out.
func xlsxAmounts(t *testing.T, b render.PricedBill) (a amounts) {
	x := workbookOf(t, b)
	value := func(sheet, cell string) string {
		text, err := x.CalcCellValue(sheet, cell, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		if v, err := strconv.ParseFloat(text, 64); err == nil {
			return fmt.Sprintf("%.2f", v)
		}
		return text
	}
	rows, err := x.GetRows("Bill")
	if err != nil {
		t.Fatal(err)
	}
	for i := 4; i < len(rows); i++ {
		switch row := strconv.Itoa(i + 1); {
		case len(rows[i]) < 2: // the head of a group
		case strings.HasPrefix(rows[i][0], "total "):
			a.groups = append(a.groups, value("Bill", "K"+row))
		default:
			a.lines = append(a.lines, strings.Replace(value("Bill", "K"+row), "no price", "", 1))
		}
	}
	for i, cell := range []string{"B2", "B9", "B7", "B11", "B13", "B14"} {
		a.sums[i] = value("Estimate", cell)
	}
	return a
}
