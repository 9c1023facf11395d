package render_test

import (
	"bytes"
	"encoding/csv"
	"io"
	"math"
	"strings"
	"testing"

	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/render"
	"tubewright/route"
)

// priced is the bill of a job priced by a list, with what else might be put in.
func priced(t *testing.T, job, list string) render.PricedBill {
	t.Helper()
	j, err := route.Parse("j.yaml", []byte(job))
	if err != nil {
		t.Fatal(err)
	}
	l, err := route.ParsePrices("p.csv", []byte("item,unit,price,minutes\n"+list))
	if err != nil {
		t.Fatal(err)
	}
	b := render.PricedBill{Job: j, Items: j.Bill()}
	if b.Estimate, err = j.Price(l); err != nil {
		t.Fatal(err)
	}
	if b.Instead, err = fill.WhatIf(j, l); err != nil {
		t.Fatal(err)
	}
	return b
}

const unmadeJob = `job: u
tools: {formers: {20: 80 mm}}
runs:
  A: {in: steel conduit 20, path: "right 1, up 0.12, right 1"}
  B: {in: steel conduit 20, path: "right 2"}
`

// TestUnmadeOnEveryOutput: a bill that counts a run which cannot be made says
// so, why, and how it was counted, whatever it is written as.
func TestUnmadeOnEveryOutput(t *testing.T) {
	b := priced(t, unmadeJob, "steel conduit 20 mm,length,12,9 per m\n")
	for name, write := range map[string]func(io.Writer, render.PricedBill) error{
		"text": render.WriteEstimate, "CSV": render.WriteBillCSV, "JSON": render.WriteBillJSON,
	} {
		var buf bytes.Buffer
		if err := write(&buf, b); err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(buf.String()), " ")
		for _, want := range []string{"run A: leg up 0.12 m has no room", "at least 160 mm needed", "counted by its metres and the allowance for waste"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s lacks %q:\n%s", name, want, buf.String())
			}
		}
		if at, item := strings.Index(text, "run A: leg"), strings.Index(text, "steel conduit 20 mm"); at > item {
			t.Errorf("%s names run A below the items", name)
		}
		if strings.Contains(text, "run B:") {
			t.Errorf("%s names run B, which can be made", name)
		}
	}
	rows := sheetText(t, b, "Notes")
	if !strings.Contains(rows, "cannot be made as drawn: run A: leg up 0.12 m") || !strings.Contains(sheetText(t, b, "Bill"), "1 run cannot be made as drawn") {
		t.Errorf("the workbook does not name run A:\n%s", rows)
	}
}

func sheetText(t *testing.T, b render.PricedBill, sheet string) string {
	t.Helper()
	rows, err := workbookOf(t, b).GetRows(sheet)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	for _, r := range rows {
		out.WriteString(strings.Join(r, "|") + "\n")
	}
	return out.String()
}

// TestOffcutsOnTheBill: 1.9 m and 3.75 m from one offcut of 2 m and one length:
// 3.75 m are bought for 5.65 m. The bill says why it is less, and no share over
// net is below nothing.
func TestOffcutsOnTheBill(t *testing.T) {
	b := priced(t, `job: o
stock: {offcuts: {steel conduit 20: [2 m]}}
runs:
  A: {in: steel conduit 20, path: "right 1.9"}
  B: {in: steel conduit 20, path: "right 3.75"}
`, "steel conduit 20 mm,length,12,9 per m\n")
	it := b.Items[0]
	if it.Gross != 3.75 || it.Net != 5.65 || it.AtHand != 2 || it.Waste != 0 {
		t.Errorf("%+v", it)
	}
	var buf bytes.Buffer
	if err := render.WriteEstimate(&buf, b); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(buf.String()), " ")
	for _, want := range []string{"offcuts at hand cut up first, not bought, so that gross may be less than net: 2 m of steel conduit 20 mm",
		"9 per m 5.65 m 0.85"} { // 5.65 m × 9 min / 60 = 0.8475 h
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q:\n%s", want, buf.String())
		}
	}
	if rows := sheetText(t, b, "Bill"); !strings.Contains(rows, "steel conduit 20 mm|m|5.65||3.75|3.75|1.00|length|1|12.00|12.00|9|0.85|A B|1|2.00|") {
		t.Errorf("%s", rows)
	}
}

// TestAllOffcuts: a bill that buys nothing of an enclosure says so.
func TestAllOffcuts(t *testing.T) {
	b := priced(t, "job: o\nstock: {offcuts: {steel conduit 20: [2 m]}}\nruns: {A: {in: steel conduit 20, path: \"right 1.9\"}}\n", "steel conduit 20 mm,length,12,9 per m\n")
	if it := b.Items[0]; it.Order != "none: offcuts at hand do" || it.Packs != 0 || b.Estimate.Lines[0].Cost != 0 {
		t.Errorf("%+v", it)
	}
	if row := render.BillRows(b.Items)[0]; row.Quantity != "none: offcuts at hand do" {
		t.Errorf("%+v", row)
	}
}

// TestNoTotalOfWhatIsNotPriced: an enclosure put in that the list does not
// price has no total beside those that it does.
func TestNoTotalOfWhatIsNotPriced(t *testing.T) {
	b := priced(t, "job: o\nruns: {A: {in: steel conduit 20, path: \"right 1.9\"}}\n",
		"steel conduit 20 mm,length,12,9 per m\n\"spacer-bar saddle, steel conduit 20 mm\",each,1,1\nscrew and plug,each,1,1\nsteel conduit 25 mm,length,15,9 per m\n\"spacer-bar saddle, steel conduit 25 mm\",each,1,1\n")
	for _, in := range b.Instead {
		if in.Compared != (in.What == "all conduit the next size up") {
			t.Errorf("%s: compared %t", in.What, in.Compared)
		}
	}
	var buf bytes.Buffer
	if err := render.WriteBillCSV(&buf, b); err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(strings.TrimPrefix(buf.String(), "\ufeff")))
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	met := 0
	for _, row := range rows {
		if row[0] != "instead" {
			continue
		}
		met++
		up := strings.HasPrefix(row[1], "all conduit the next size up; ")
		if (row[15] != "") != up || !up && !strings.Contains(row[1], "no price for: plastic conduit 20 mm") {
			t.Errorf("%q", row)
		}
	}
	if met != len(b.Instead) || met < 2 {
		t.Errorf("%d rows for %d", met, len(b.Instead))
	}
	if rows := sheetText(t, b, "Instead"); !strings.Contains(rows, "all conduit in plastic|open|not all priced||") {
		t.Errorf("%s", rows)
	}
}

// TestOverNetIsOneThing: 4.20 m take two lengths of 3.75 m, which is 78.571 %
// over net; cable has its allowance of 10 % in the same column. Saw cuts of 1 mm
// and offcuts from 300 mm are common practice, no source.
func TestOverNetIsOneThing(t *testing.T) {
	b := priced(t, "job: o\ntools: {kerf: 1 mm, least offcut: 300 mm}\nruns: {A: {in: steel conduit 20, path: \"right 4.2\", cables: 2 x 1.5}}\n", "steel conduit 20 mm,length,12,34 per length\n")
	var text, table, doc bytes.Buffer
	for to, write := range map[*bytes.Buffer]func(io.Writer, render.PricedBill) error{&text: render.WriteEstimate, &table: render.WriteBillCSV, &doc: render.WriteBillJSON} {
		if err := write(to, b); err != nil {
			t.Fatal(err)
		}
	}
	if it := b.Items[0]; it.Net != 4.2 || it.Gross != 7.5 || it.Kept < 3.2 || it.Kept > 3.3 {
		t.Fatalf("%+v", it)
	}
	page := strings.Join(strings.Fields(text.String()), " ")
	kept, lost := units.Format(b.Items[0].Kept), units.Format(math.Round(b.Items[0].Lost*1e5)/1e3)
	for _, want := range []string{"steel conduit 20 mm: 78.571 %, whole lengths by the cut list; kept offcuts " + kept + " m; lost by cutting " + lost + " % of what is cut up",
		"cable: 10 %, the allowance for waste", "9.067 per m 4.2 m 0.63", "not counted: board and protective devices, which the job does not describe; the loads themselves"} {
		if !strings.Contains(page, want) {
			t.Errorf("the text lacks %q:\n%s", want, text.String())
		}
	}
	for _, want := range []string{"gross over net %,lost by cutting %,kept offcuts m,", "2 lengths of 3.75 m,,78.571," + lost + "," + kept + ",A,", "1 reel of 100 m,,10,,,A,", "not counted,flexible conduit and glands to machines,"} {
		if !strings.Contains(table.String(), want) {
			t.Errorf("the CSV lacks %q:\n%s", want, table.String())
		}
	}
	for _, want := range []string{`"gross_over_net_percent": 78.571`, `"lost_by_cutting_percent": ` + lost, `"kept_offcuts_m": ` + kept, `"gross_over_net_percent": 10,`, `"kept_offcuts_m": null`, `"time to inspect, test and certify"`} {
		if !strings.Contains(doc.String(), want) {
			t.Errorf("the JSON lacks %q:\n%s", want, doc.String())
		}
	}
	if rows := sheetText(t, b, "Bill"); !strings.Contains(rows, "steel conduit 20 mm|m|4.20|78.57%|7.50|3.75|2.00|length|") {
		t.Errorf("the workbook has\n%s", rows)
	}
	if notes := sheetText(t, b, "Notes"); !strings.Contains(notes, "not counted: time to inspect, test and certify") {
		t.Errorf("the workbook's notes are\n%s", notes)
	}
}

// TestNoMainSwitch: a board without one says so on every output; a board with
// one does not.
func TestNoMainSwitch(t *testing.T) {
	for board, want := range map[string]bool{"ways: 3": true, "ways: 3, main: {device: switch, rating: 63 A}": false} {
		b := priced(t, "job: m\nboard: {"+board+"}\nruns: {A: {in: steel conduit 20, length: 3 m}}\n", "steel conduit 20 mm,length,12,34 per length\n")
		var all bytes.Buffer
		for _, write := range []func(io.Writer, render.PricedBill) error{render.WriteEstimate, render.WriteBillCSV, render.WriteBillJSON} {
			before := all.Len()
			if err := write(&all, b); err != nil {
				t.Fatal(err)
			}
			if page := strings.Join(strings.Fields(all.String()[before:]), " "); strings.Contains(page, "the board's main switch, which the job does not state") != want {
				t.Errorf("%s: want it said: %t\n%s", board, want, page)
			}
		}
		if notes := sheetText(t, b, "Notes"); strings.Contains(notes, "the board's main switch") != want {
			t.Errorf("%s: want it said: %t\n%s", board, want, notes)
		}
	}
}
