package render

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// page is how a sheet is laid out.
type page struct {
	wide   bool      // printed landscape
	frozen int       // rows that stay in sight, with the first column, and head each page
	widths []float64 // of the columns, from the first
}

// begin begins the sheet of that name; its rows follow in their order.
func (x *workbook) begin(name string, p page) {
	if x.err != nil {
		return
	}
	if _, x.err = x.file.NewSheet(name); x.err != nil {
		return
	}
	if x.err = errors.Join(x.layOut(name, p), x.freeze(name, p.frozen)); x.err != nil {
		return
	}
	// A stream and not SetCellFormula: that one makes a text of the number that a
	// formula comes to.
	if x.stream, x.err = x.file.NewStreamWriter(name); x.err != nil {
		return
	}
	for i, w := range slices.Backward(p.widths) { // each is put before those there are, and they should ascend
		x.err = errors.Join(x.err, x.stream.SetColWidth(i+1, i+1, w))
	}
}

func (x *workbook) layOut(name string, p page) error {
	fit, a4, lies, across, down := true, 9, "portrait", 1, 0 // as many pages down as it takes
	if p.wide {
		lies = "landscape"
	}
	return errors.Join(
		x.file.SetSheetDimension(name, ""), // the library's A1 would not be true
		x.file.SetSheetProps(name, &excelize.SheetPropsOptions{FitToPage: &fit}),
		x.file.SetPageLayout(name, &excelize.PageLayoutOptions{Size: &a4, Orientation: &lies, FitToWidth: &across, FitToHeight: &down}),
		x.file.SetHeaderFooter(name, &excelize.HeaderFooterOptions{OddHeader: "&L&8" + Cautions[2], OddFooter: "&L&8" + Cautions[0] + "\n" + Cautions[1]}))
}

func (x *workbook) freeze(name string, rows int) error {
	if rows == 0 {
		return nil
	}
	return errors.Join(
		x.file.SetPanes(name, &excelize.Panes{Freeze: true, XSplit: 1, YSplit: rows, TopLeftCell: fmt.Sprintf("B%d", rows+1), ActivePane: "bottomRight"}),
		x.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("%s!$1:$%d", name, rows), Scope: name}))
}

// row writes a row of as many lines of text.
func (x *workbook) row(row, lines int, line cells) {
	if x.err != nil {
		return
	}
	values := make([]any, len(billColumns))
	for column, c := range line {
		c.StyleID = x.styles[c.StyleID]
		values[column[0]-'A'] = c
	}
	high := excelize.RowOpts{}
	if lines > 1 { // not every program fits a row to what is wrapped in it
		high.Height = float64(min(15*lines, excelize.MaxRowHeight))
	}
	x.err = x.stream.SetRow(fmt.Sprintf("A%d", row), values, high)
}

func (x *workbook) end() {
	if x.err == nil {
		x.err = x.stream.Flush()
	}
}

// save writes the workbook, to be worked out anew when it is opened.
func (x *workbook) save(to io.Writer) error {
	anew := true
	x.file.Pkg.Delete("docProps/core.xml") // the library's own, with a date of 2006
	whole, err := new(bytes.Buffer), errors.Join(x.err,
		x.file.SetCalcProps(&excelize.CalcPropsOptions{FullCalcOnLoad: &anew}),
		x.file.SetAppProps(&excelize.AppProperties{Application: "tubewright"}),
		x.file.SetDocProps(&excelize.DocProperties{Title: x.bill.Job.Name, Creator: "tubewright"}))
	if err == nil {
		err = x.file.Write(whole)
	}
	if err = errors.Join(err, x.file.Close()); err != nil {
		return err
	}
	return inOrder(to, whole.Bytes())
}

// inOrder writes the files of a zip in the order of their names. The library
// keeps streamed sheets in a map, and writes them in any order.
func inOrder(to io.Writer, zipped []byte) error {
	from, err := zip.NewReader(bytes.NewReader(zipped), int64(len(zipped)))
	if err != nil {
		return err
	}
	slices.SortFunc(from.File, func(a, b *zip.File) int { return strings.Compare(a.Name, b.Name) })
	z := zip.NewWriter(to)
	for _, f := range from.File {
		if err := z.Copy(f); err != nil {
			return err
		}
	}
	return z.Close()
}
