package render

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// A workbook is a zip of small XML files (ECMA-376, part 1). It is written here
// and not by a library: the one that the tests read it back with takes longer
// to initialise (2.7 ms, in every command) than the rest of the program, which
// may take three times a bare program's start at most.

// cellStyle is an entry of the workbook's style sheet.
type cellStyle int

// The styles, in the order of styleSheet.
const (
	stylePlain cellStyle = iota
	styleHead
	styleGroup
	styleTotal
	styleAmount
	stylePercent
	styleWrapped
	styleHeadRight // over figures
	styleAside     // text beside figures
	styleHeadAside
)

const xmlHead = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"

const styleSheet = xmlHead + `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">` +
	`<fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts>` +
	`<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>` +
	`<borders count="3"><border/><border><bottom style="thin"><color rgb="FF000000"/></bottom></border><border><top style="thin"><color rgb="FF000000"/></top></border></borders>` +
	`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
	`<cellXfs count="10"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>` +
	`<xf numFmtId="0" fontId="1" fillId="0" borderId="1" xfId="0" applyFont="1" applyBorder="1" applyAlignment="1"><alignment wrapText="1" vertical="top"/></xf>` +
	`<xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1"/>` +
	`<xf numFmtId="4" fontId="1" fillId="0" borderId="2" xfId="0" applyFont="1" applyBorder="1" applyNumberFormat="1"/>` +
	`<xf numFmtId="4" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1" applyAlignment="1"><alignment horizontal="right"/></xf>` +
	`<xf numFmtId="10" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>` +
	`<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0" applyAlignment="1"><alignment wrapText="1" vertical="top"/></xf>` +
	`<xf numFmtId="0" fontId="1" fillId="0" borderId="1" xfId="0" applyFont="1" applyBorder="1" applyAlignment="1"><alignment horizontal="right" wrapText="1" vertical="top"/></xf>` +
	`<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0" applyAlignment="1"><alignment horizontal="left" indent="1"/></xf>` +
	`<xf numFmtId="0" fontId="1" fillId="0" borderId="1" xfId="0" applyFont="1" applyBorder="1" applyAlignment="1"><alignment horizontal="left" indent="1" wrapText="1" vertical="top"/></xf></cellXfs>` +
	`</styleSheet>`

// cell is a value, or a formula, and its style.
type cell struct {
	value any // string, formula, a number, or nil
	style cellStyle
}

// worksheet is one sheet of a workbook.
type worksheet struct {
	name   string
	widths []float64   // of the columns, from the first; 0 for the usual width
	frozen int         // rows that stay in sight, with the first column
	wide   bool        // printed landscape
	lines  map[int]int // of text in a row of more than one
	rows   map[int]map[int]cell
}

// at returns the cell of a column letter and row, to be written back by set.
func (s *worksheet) at(column string, row int) (cell, int) {
	c := int(column[0] - 'A')
	return s.rows[row][c], c
}

func (s *worksheet) set(c, row int, v cell) {
	if s.rows[row] == nil {
		s.rows[row] = map[int]cell{}
	}
	s.rows[row][c] = v
}

func (s *worksheet) width(column string, w float64) {
	c := int(column[0] - 'A')
	for len(s.widths) <= c {
		s.widths = append(s.widths, 0)
	}
	s.widths[c] = w
}

// xml is the sheet's part of the workbook.
func (s *worksheet) xml() []byte {
	var b bytes.Buffer
	b.WriteString(xmlHead + `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">`)
	b.WriteString(`<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>`)
	b.WriteString(`<sheetViews><sheetView workbookViewId="0">`)
	if s.frozen > 0 {
		fmt.Fprintf(&b, `<pane xSplit="1" ySplit="%d" topLeftCell="B%d" activePane="bottomRight" state="frozen"/>`, s.frozen, s.frozen+1)
	}
	b.WriteString(`</sheetView></sheetViews><sheetFormatPr defaultRowHeight="15"/><cols>`)
	for i, w := range s.widths {
		if w > 0 {
			fmt.Fprintf(&b, `<col min="%d" max="%d" width="%g" customWidth="1"/>`, i+1, i+1, w)
		}
	}
	b.WriteString(`</cols><sheetData>`)
	for _, r := range sortedKeys(s.rows) {
		high := ""
		if n := s.lines[r]; n > 1 { // not every program fits a row to what is wrapped in it
			high = fmt.Sprintf(` ht="%d" customHeight="1"`, 15*n)
		}
		fmt.Fprintf(&b, `<row r="%d"%s>`, r, high)
		for _, c := range sortedKeys(s.rows[r]) {
			s.rows[r][c].write(&b, fmt.Sprintf("%c%d", 'A'+c, r))
		}
		b.WriteString(`</row>`)
	}
	b.WriteString(`</sheetData>`)
	lies := "portrait"
	if s.wide {
		lies = "landscape"
	}
	fmt.Fprintf(&b, `<pageSetup paperSize="9" orientation="%s" fitToWidth="1" fitToHeight="0"/>`, lies)
	// Excel takes 255 characters each for the head and the foot of a page.
	fmt.Fprintf(&b, `<headerFooter><oddHeader>&amp;L&amp;8%s</oddHeader><oddFooter>&amp;L&amp;8%s</oddFooter></headerFooter></worksheet>`,
		escaped(Cautions[2]), escaped(Cautions[0]+"\n"+Cautions[1]))
	return b.Bytes()
}

func sortedKeys[V any](m map[int]V) []int {
	keys := make([]int, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

func (c cell) write(b *bytes.Buffer, at string) {
	fmt.Fprintf(b, `<c r="%s" s="%d"`, at, c.style)
	switch v := c.value.(type) {
	case nil:
		b.WriteString(`/>`)
	case formula:
		text, isText := v.comes.(string)
		if isText {
			b.WriteString(` t="str"`)
		} else {
			text = strconv.FormatFloat(v.comes.(float64), 'g', -1, 64)
		}
		b.WriteString(`><f>` + escaped(v.text) + `</f><v>` + escaped(text) + `</v></c>`)
	case string:
		b.WriteString(` t="inlineStr"><is><t xml:space="preserve">` + escaped(v) + `</t></is></c>`)
	case float64:
		b.WriteString(`><v>` + strconv.FormatFloat(v, 'g', -1, 64) + `</v></c>`)
	case int:
		b.WriteString(`><v>` + strconv.Itoa(v) + `</v></c>`)
	default:
		panic(fmt.Sprintf("a cell cannot hold %T", v)) // our own mistake
	}
}

func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a Builder does not fail
	return b.String()
}

// writeWorkbook writes the sheets as a workbook that works its formulas out
// when it is opened; what they come to stands beside them all the same.
func writeWorkbook(to io.Writer, title string, sheets []*worksheet) error {
	const kind = "application/vnd.openxmlformats-officedocument.spreadsheetml."
	const ns = "http://schemas.openxmlformats.org/"
	var types, books, links, titles strings.Builder
	for i, s := range sheets {
		fmt.Fprintf(&types, `<Override PartName="/xl/worksheets/sheet%d.xml" ContentType="%sworksheet+xml"/>`, i+1, kind)
		fmt.Fprintf(&books, `<sheet name="%s" sheetId="%d" r:id="rId%d"/>`, escaped(s.name), i+1, i+1)
		if s.frozen > 0 { // repeated on each page
			fmt.Fprintf(&titles, `<definedName name="_xlnm.Print_Titles" localSheetId="%d">%s!$1:$%d</definedName>`, i, s.name, s.frozen)
		}
		fmt.Fprintf(&links, `<Relationship Id="rId%d" Type="%sofficeDocument/2006/relationships/worksheet" Target="worksheets/sheet%d.xml"/>`, i+1, ns, i+1)
	}
	files := []struct{ name, text string }{
		{"[Content_Types].xml", xmlHead + `<Types xmlns="` + ns + `package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
			`<Override PartName="/xl/workbook.xml" ContentType="` + kind + `sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="` + kind + `styles+xml"/>` +
			`<Override PartName="/docProps/core.xml" ContentType="application/vnd.openxmlformats-package.core-properties+xml"/>` + types.String() + `</Types>`},
		{"_rels/.rels", xmlHead + `<Relationships xmlns="` + ns + `package/2006/relationships"><Relationship Id="rId1" Type="` + ns + `officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/>` +
			`<Relationship Id="rId2" Type="` + ns + `package/2006/relationships/metadata/core-properties" Target="docProps/core.xml"/></Relationships>`},
		{"docProps/core.xml", xmlHead + `<cp:coreProperties xmlns:cp="` + ns + `package/2006/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title>` + escaped(title) + `</dc:title><dc:creator>tubewright</dc:creator></cp:coreProperties>`},
		{"xl/workbook.xml", xmlHead + `<workbook xmlns="` + ns + `spreadsheetml/2006/main" xmlns:r="` + ns + `officeDocument/2006/relationships"><sheets>` + books.String() + `</sheets><definedNames>` + titles.String() + `</definedNames><calcPr fullCalcOnLoad="1"/></workbook>`},
		{"xl/_rels/workbook.xml.rels", xmlHead + `<Relationships xmlns="` + ns + `package/2006/relationships">` + links.String() +
			fmt.Sprintf(`<Relationship Id="rId%d" Type="%sofficeDocument/2006/relationships/styles" Target="styles.xml"/></Relationships>`, len(sheets)+1, ns)},
		{"xl/styles.xml", styleSheet},
	}
	for i, s := range sheets {
		files = append(files, struct{ name, text string }{fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), string(s.xml())})
	}
	z := zip.NewWriter(to)
	for _, f := range files {
		w, err := z.Create(f.name)
		if err != nil {
			return err
		}
		if _, err := io.WriteString(w, f.text); err != nil {
			return err
		}
	}
	return z.Close()
}
