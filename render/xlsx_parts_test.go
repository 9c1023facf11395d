package render_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tubewright/render"
	"tubewright/route"
)

// sheetPart is what is looked at of a sheet's part of the workbook, by the
// names of ECMA-376, part 1, 18.3.1.
type sheetPart struct {
	Dimension *struct{} `xml:"dimension"`
	Pane      struct {
		X     int    `xml:"xSplit,attr"`
		Y     int    `xml:"ySplit,attr"`
		State string `xml:"state,attr"`
	} `xml:"sheetViews>sheetView>pane"`
	Cols []struct {
		Min   int     `xml:"min,attr"`
		Width float64 `xml:"width,attr"`
	} `xml:"cols>col"`
	Rows []struct {
		R      int        `xml:"r,attr"`
		Height float64    `xml:"ht,attr"`
		Cells  []cellPart `xml:"c"`
	} `xml:"sheetData>row"`
	Page struct {
		Paper  int    `xml:"paperSize,attr"`
		Lies   string `xml:"orientation,attr"`
		Across int    `xml:"fitToWidth,attr"`
		Down   int    `xml:"fitToHeight,attr"`
	} `xml:"pageSetup"`
	Fit struct {
		ToPage bool `xml:"fitToPage,attr"`
	} `xml:"sheetPr>pageSetUpPr"`
	Header string `xml:"headerFooter>oddHeader"`
	Footer string `xml:"headerFooter>oddFooter"`
}

type cellPart struct {
	At   string  `xml:"r,attr"`
	Type string  `xml:"t,attr"`
	F    *string `xml:"f"`
	V    *string `xml:"v"`
	Text string  `xml:"is>t"`
}

// parts unzips a workbook, without the library that wrote it.
func parts(t *testing.T, b render.PricedBill) (names []string, text map[string]string) {
	t.Helper()
	var buf bytes.Buffer
	if err := render.WriteBillXLSX(&buf, b); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(buf.Bytes()), int64(buf.Len()))
	if err != nil {
		t.Fatal(err)
	}
	text = map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		all, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		names, text[f.Name] = append(names, f.Name), string(all)
	}
	return names, text
}

func sheetParts(t *testing.T, text map[string]string) (out []sheetPart) {
	t.Helper()
	for i := 1; text["xl/worksheets/sheet"+strconv.Itoa(i)+".xml"] != ""; i++ {
		var s sheetPart
		if err := xml.Unmarshal([]byte(text["xl/worksheets/sheet"+strconv.Itoa(i)+".xml"]), &s); err != nil {
			t.Fatal(err)
		}
		out = append(out, s)
	}
	return out
}

// The library that writes the workbook reads it back in the other tests; here
// its parts are read as XML, for other programs than the library.
func TestWorkbookParts(t *testing.T) {
	names, text := parts(t, pricedDemo(t, "workshop"))
	if !slices.IsSorted(names) { // then they stand in no order of a map
		t.Errorf("the parts stand in the order %v", names)
	}
	sheets := sheetParts(t, text)
	if len(sheets) != 4 {
		t.Fatalf("%d sheets, want Bill, Estimate, Instead, Notes", len(sheets))
	}
	for i, s := range sheets {
		if s.Header != "&L&8"+render.Cautions[2] || s.Footer != "&L&8"+render.Cautions[0]+"\n"+render.Cautions[1] {
			t.Errorf("sheet %d: head %q, foot %q", i+1, s.Header, s.Footer)
		}
		if s.Page.Paper != 9 || s.Page.Across != 1 || s.Page.Down != 0 || !s.Fit.ToPage || (s.Page.Lies == "landscape") != (i%2 == 0) {
			t.Errorf("sheet %d is printed as %+v, %+v", i+1, s.Page, s.Fit)
		}
		if s.Dimension != nil {
			t.Errorf("sheet %d states a size", i+1)
		}
		for k, c := range s.Cols {
			if c.Min != k+1 || c.Width == 0 {
				t.Errorf("sheet %d: column %d of widths is %+v", i+1, k+1, c)
			}
		}
	}
	if p := sheets[0].Pane; p.X != 1 || p.Y != 4 || p.State != "frozen" {
		t.Errorf("the bill's pane is %+v", p)
	}
	for part, want := range map[string]string{
		"xl/workbook.xml":   `<definedName localSheetId="0" name="_xlnm.Print_Titles">Bill!$1:$4</definedName>`,
		"docProps/core.xml": "<dc:creator>tubewright</dc:creator>",
	} {
		if !strings.Contains(text[part], want) {
			t.Errorf("%s is without %s:\n%s", part, want, text[part])
		}
	}
	if !strings.Contains(text["xl/workbook.xml"], `fullCalcOnLoad="true"`) || strings.Contains(text["docProps/core.xml"], "created") {
		t.Errorf("not worked out when opened, or dated:\n%s\n%s", text["xl/workbook.xml"], text["docProps/core.xml"])
	}
}

// A program that does not calculate shows what stands beside a formula: a number
// as a number, so that it is formatted and can be added up, a text as a text.
func TestFormulasStandBesideTheirValues(t *testing.T) {
	b := pricedDemo(t, "workshop")
	_, text := parts(t, b)
	numbers, texts, held := 0, map[string]int{}, map[string]bool{}
	for i, s := range sheetParts(t, text) {
		for _, r := range s.Rows {
			for _, c := range r.Cells {
				held[c.Text] = true
				switch {
				case c.F == nil:
				case c.Type == "" && c.V != nil:
					if _, err := strconv.ParseFloat(*c.V, 64); err != nil {
						t.Errorf("sheet %d, %s: %v", i+1, c.At, err)
					}
					numbers++
				case c.Type == "str" && c.V != nil:
					texts[*c.V]++
				case c.Type == "str":
					texts[""]++ // an empty text is left out
				default:
					t.Errorf("sheet %d, %s: %s, type %q, has no value", i+1, c.At, *c.F, c.Type)
				}
			}
		}
	}
	noPrice := len(b.Estimate.Unpriced)
	if texts["no price"] != noPrice || noPrice == 0 || len(texts) > 3 || numbers < 3*len(b.Items) {
		t.Errorf("%d numbers, texts %v; %d items are without a price", numbers, texts, noPrice)
	}
	for _, it := range b.Items {
		if !held[it.Name] {
			t.Errorf("%q is on no sheet", it.Name)
		}
	}
}

// What the user wrote stays text, whatever it begins with, and none is lost.
func TestWorkbookKeepsTexts(t *testing.T) {
	b := pricedDemo(t, "workshop")
	for _, name := range []string{"=1+1", "+1", "-1", "@now", "12", "TRUE", " a & <b> ", "_x0041_", "fünf €"} {
		b.Items[0].Name = name
		_, text := parts(t, b)
		c := sheetParts(t, text)[0].Rows[4].Cells[0]
		if want := strings.Replace(name, "_x0041_", "_x005F_x0041_", 1); c.At != "A6" || c.Type != "inlineStr" || c.F != nil || c.Text != want {
			t.Errorf("%q is written as %+v", name, c)
		}
	}
	keepsWithinLimits(t, b)
}

// keepsWithinLimits: Excel has 32,767 characters in a cell and 409 points in a
// row ("Excel specifications and limits", from memory).
func keepsWithinLimits(t *testing.T, b render.PricedBill) {
	t.Helper()
	b.Items[0].Runs = slices.Repeat([]string{"riser-1"}, 5000)
	b.Items[0].Rule = strings.Repeat("a long rule ", 500)
	_, text := parts(t, b)
	sheets := sheetParts(t, text)
	cells := sheets[0].Rows[4].Cells
	i := slices.IndexFunc(cells, func(c cellPart) bool { return c.At == "N6" })
	if got := cells[i].Text; len(got) > 32767 || len(got) < 32700 || !strings.HasSuffix(got, "riser-1 and more: see the bill as CSV") {
		t.Errorf("the runs end in %q", got[len(got)-60:])
	}
	highest := 0.0
	for _, r := range sheets[3].Rows {
		highest = max(highest, r.Height)
	}
	if highest != 409 {
		t.Errorf("the highest row is %v", highest)
	}
}

// A place that cannot be written to is an error.
func TestWorkbookWriteFails(t *testing.T) {
	r, w := io.Pipe()
	r.Close()
	if err := render.WriteBillXLSX(w, render.PricedBill{Job: &route.Job{}}); err != io.ErrClosedPipe {
		t.Errorf("got %v", err)
	}
}

// What a bill cannot be trusted for stands over its items as text; every column
// has a head and a width, and the shares are numbers.
func TestWorkbookHeadAndColumns(t *testing.T) {
	_, text := parts(t, pricedDemo(t, "classroom"))
	bill := sheetParts(t, text)[0]
	if c := bill.Rows[2].Cells[0]; c.At != "A3" || c.Type != "inlineStr" || c.Text != "9 checks FAIL: this bill is for a job that does not pass (sheet Notes)" {
		t.Errorf("above the items stands %+v", c)
	}
	_, text = parts(t, pricedDemo(t, "boatstore"))
	bill = sheetParts(t, text)[0]
	heads := map[string]string{}
	for _, r := range bill.Rows {
		for _, c := range r.Cells {
			switch {
			case r.R == 3:
				t.Errorf("%s of a job that passes holds %q", c.At, c.Text)
			case r.R == 4:
				heads[c.At] = c.Text
			case c.At == "Q6" || c.At == "R6":
				if v, err := strconv.ParseFloat(*c.V, 64); err != nil || c.Type != "" || v <= 0 || v >= 3.75 {
					t.Errorf("%s holds %q of type %q", c.At, *c.V, c.Type)
				}
				heads[c.At] = "held"
			}
		}
	}
	for at, want := range map[string]string{"D4": "gross over net %", "L4": "minutes for one (m or each, as unit), times net", "P4": "offcuts at hand, m", "Q4": "lost by cutting %", "R4": "kept offcuts, m", "Q6": "held", "R6": "held"} {
		if heads[at] != want {
			t.Errorf("%s is %q, want %q", at, heads[at], want)
		}
	}
	if len(bill.Cols) != 18 {
		t.Errorf("%d columns have a width", len(bill.Cols))
	}
}
