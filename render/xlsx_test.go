package render_test

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"tubewright/fill"
	"tubewright/render"
	"tubewright/route"
)

// pricedDemo is a demo job's bill on terms of its own.
func pricedDemo(t *testing.T, job string) render.PricedBill {
	t.Helper()
	text, err := os.ReadFile("../testdata/jobs/" + job + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	j, err := route.Parse(job+".yaml", text)
	if err != nil {
		t.Fatal(err)
	}
	if text, err = os.ReadFile("../testdata/prices/demo.csv"); err != nil {
		t.Fatal(err)
	}
	list, err := route.ParsePrices("demo.csv", text)
	if err != nil {
		t.Fatal(err)
	}
	j.Terms = route.Terms{Currency: "GBP"}
	j.Terms.Rate.V, j.Terms.Sundries.V, j.Terms.Overhead.V, j.Terms.Profit.V = 36.5, 0.04, 0.075, 0.06
	j.Terms.High.Height.V, j.Terms.High.Height.At.Line = 4.2, 1
	j.Terms.High.Runs = []route.Given[int]{{V: 0}, {V: len(j.Runs) - 1}}
	b := render.PricedBill{Job: j, Items: j.Bill(), Report: fill.Check(j)}
	if b.Estimate, err = j.Price(list); err != nil {
		t.Fatal(err)
	}
	if b.Instead, err = fill.WhatIf(j, list); err != nil {
		t.Fatal(err)
	}
	return b
}

type totals struct {
	Items []struct {
		Item  string
		Price struct{ Amount, Hours *float64 }
	}
	Estimate struct {
		Groups                                                     []struct{ Amount, Hours *float64 }
		Material, Sundries, Hours, Labour, Overhead, Profit, Total float64
		Unpriced                                                   []string
	}
}

func jsonTotals(t *testing.T, b render.PricedBill) (out totals) {
	t.Helper()
	var buf bytes.Buffer
	if err := render.WriteBillJSON(&buf, b); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(buf.Bytes(), &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// TestWorkbookComputes opens the workbook with the library, has it compute
// every formula, and compares with the totals of the JSON.
func TestWorkbookComputes(t *testing.T) {
	for _, job := range []string{"boatstore", "workshop", "clubhouse", "classroom", "existing"} {
		t.Run(job, func(t *testing.T) {
			b := pricedDemo(t, job)
			x := workbookOf(t, b)
			want := jsonTotals(t, b)
			linesCompute(t, x, want)
			e := want.Estimate
			for cell, v := range map[string]float64{"B2": e.Material, "B7": e.Labour, "B9": e.Sundries, "B11": e.Overhead, "B13": e.Profit, "B14": e.Total, "B15": float64(len(e.Unpriced))} {
				computes(t, x, "Estimate", cell, v)
			}
			for i, in := range b.Instead {
				if in.Compared {
					computes(t, x, "Instead", "D"+strconv.Itoa(i+2), in.Difference)
				}
			}
		})
	}
}

// linesCompute checks each line's amount and hours, and each group's sums.
func linesCompute(t *testing.T, x *excelize.File, want totals) {
	t.Helper()
	rows, err := x.GetRows("Bill")
	if err != nil {
		t.Fatal(err)
	}
	item, group := 0, 0
	for i := 4; i < len(rows); i++ {
		row := strconv.Itoa(i + 1)
		switch {
		case strings.HasPrefix(rows[i][0], "total "):
			if a := want.Estimate.Groups[group].Amount; a != nil {
				computes(t, x, "Bill", "K"+row, *a)
			} else if got, _ := x.CalcCellValue("Bill", "K"+row); got != "none priced" {
				t.Errorf("K%s is %q where nothing is priced", row, got)
			}
			if h := want.Estimate.Groups[group].Hours; h != nil {
				computes(t, x, "Bill", "M"+row, *h)
			} else if got, _ := x.CalcCellValue("Bill", "M"+row); got != "" {
				t.Errorf("M%s is %q where nothing is timed", row, got)
			}
			group++
		case item < len(want.Items) && rows[i][0] == want.Items[item].Item:
			if p := want.Items[item].Price; p.Amount != nil {
				computes(t, x, "Bill", "K"+row, *p.Amount)
			}
			if p := want.Items[item].Price; p.Hours != nil {
				computes(t, x, "Bill", "M"+row, *p.Hours)
			}
			item++
		}
	}
	if item != len(want.Items) || group != len(want.Estimate.Groups) {
		t.Errorf("%d of %d items, %d of %d groups are on the sheet", item, len(want.Items), group, len(want.Estimate.Groups))
	}
}

func computes(t *testing.T, x *excelize.File, sheet, cell string, want float64) {
	t.Helper()
	formula, err := x.GetCellFormula(sheet, cell)
	if err != nil || formula == "" {
		t.Errorf("%s!%s has no formula (%v)", sheet, cell, err)
	}
	text, err := x.CalcCellValue(sheet, cell, excelize.Options{RawCellValue: true})
	got, perr := strconv.ParseFloat(text, 64)
	if err != nil || perr != nil || math.Abs(got-want) > 1e-9 {
		t.Errorf("%s!%s = %s comes to %q (%v), the JSON has %v", sheet, cell, formula, text, err, want)
	}
}

// One job gives one file, byte for byte; no part of it bears the clock. The
// library of the workbook keeps its sheets in a map: more writes than two.
func TestBillFilesAreSame(t *testing.T) {
	demo, again := pricedDemo(t, "workshop"), pricedDemo(t, "workshop")
	for name, write := range map[string]func(io.Writer, render.PricedBill) error{
		"xlsx": render.WriteBillXLSX,
		"csv":  render.WriteBillCSV,
		"json": render.WriteBillJSON,
		"text": render.WriteEstimate,
	} {
		var first bytes.Buffer
		if err := write(&first, demo); err != nil {
			t.Fatal(err)
		}
		for range 20 {
			var next bytes.Buffer
			if err := write(&next, again); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(first.Bytes(), next.Bytes()) {
				t.Fatalf("%s: two runs write two files", name)
			}
		}
		if name != "xlsx" {
			continue
		}
		z, err := zip.NewReader(bytes.NewReader(first.Bytes()), int64(first.Len()))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range z.File {
			if y := f.Modified.Year(); y > 2000 {
				t.Errorf("%s is dated %v", f.Name, f.Modified)
			}
		}
	}
}

// A workbook without prices asks for them: every line to buy says so.
func TestWorkbookWithoutPrices(t *testing.T) {
	b := pricedDemo(t, "boatstore")
	b.Estimate, b.Instead = nil, nil
	x := workbookOf(t, b)
	buy := 0.0
	for _, it := range b.Items {
		if !it.Labour {
			buy++
		}
	}
	computes(t, x, "Estimate", "B15", buy)
	computes(t, x, "Estimate", "B14", 0)
	if err := x.SetCellValue("Bill", "J6", 11.5); err != nil {
		t.Fatal(err)
	}
	computes(t, x, "Estimate", "B15", buy-1)
	computes(t, x, "Bill", "K6", math.Round(b.Items[0].Gross*11.5*100)/100)
}

// TestFormulasCarryTheirValues reads back what stands beside each formula and
// holds it to what the library computes: previewers do not calculate.
func TestFormulasCarryTheirValues(t *testing.T) {
	for _, job := range []string{"boatstore", "workshop", "clubhouse", "classroom", "existing"} {
		for _, priced := range []bool{true, false} {
			b := pricedDemo(t, job)
			if !priced {
				b.Estimate, b.Instead = nil, nil
			}
			x := workbookOf(t, b)
			if n := heldToTheirValues(t, x); n < 3*len(b.Items) {
				t.Errorf("%s: only %d formulas", job, n)
			}
		}
	}
}

// workbookOf writes a bill as a workbook and opens it.
func workbookOf(t *testing.T, b render.PricedBill) *excelize.File {
	t.Helper()
	var buf bytes.Buffer
	if err := render.WriteBillXLSX(&buf, b); err != nil {
		t.Fatal(err)
	}
	x, err := excelize.OpenReader(&buf)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { x.Close() })
	return x
}

func heldToTheirValues(t *testing.T, x *excelize.File) (formulas int) {
	t.Helper()
	for _, sheet := range x.GetSheetList() {
		for row := 1; row < 150; row++ {
			for c := 'A'; c <= 'P'; c++ {
				cell := string(c) + strconv.Itoa(row)
				if f, _ := x.GetCellFormula(sheet, cell); f == "" {
					continue
				}
				formulas++
				raw := excelize.Options{RawCellValue: true}
				stored, _ := x.GetCellValue(sheet, cell, raw)
				computed, err := x.CalcCellValue(sheet, cell, raw)
				a, errA := strconv.ParseFloat(stored, 64)
				b, errB := strconv.ParseFloat(computed, 64)
				if err != nil || (errA == nil) != (errB == nil) || errA != nil && stored != computed || math.Abs(a-b) > 1.5e-6 { // metres to the sixth place, where a half may be rounded either way
					t.Errorf("%s!%s holds %q, computes to %q (%v)", sheet, cell, stored, computed, err)
				}
			}
		}
	}
	return formulas
}
