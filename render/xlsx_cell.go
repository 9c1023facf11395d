package render

import (
	"fmt"

	"github.com/xuri/excelize/v2"
)

// The styles of cells, in the order of cellStyles.
const (
	stylePlain = iota
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

func cellStyles() []*excelize.Style {
	const amount, percent = 4, 10 // ECMA-376, part 1, 18.8.30: #,##0.00 and 0.00%
	// The size and face of the library's plain font: left out, a program chooses.
	bold := &excelize.Font{Bold: true, Size: 11, Family: "Calibri"}
	line := func(side string) []excelize.Border {
		return []excelize.Border{{Type: side, Color: "000000", Style: 1}}
	}
	head := func(a excelize.Alignment) *excelize.Style {
		a.WrapText, a.Vertical = true, "top"
		return &excelize.Style{Font: bold, Border: line("bottom"), Alignment: &a}
	}
	return []*excelize.Style{
		stylePlain:     nil,
		styleHead:      head(excelize.Alignment{}),
		styleGroup:     {Font: bold},
		styleTotal:     {Font: bold, Border: line("top"), NumFmt: amount},
		styleAmount:    {NumFmt: amount, Alignment: &excelize.Alignment{Horizontal: "right"}},
		stylePercent:   {NumFmt: percent},
		styleWrapped:   {Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}},
		styleHeadRight: head(excelize.Alignment{Horizontal: "right"}),
		styleAside:     {Alignment: &excelize.Alignment{Horizontal: "left", Indent: 1}},
		styleHeadAside: head(excelize.Alignment{Horizontal: "left", Indent: 1}),
	}
}

// cells are the cells of a row by the letter of their column.
type cells map[string]excelize.Cell

func cell(style int, v any) excelize.Cell { return excelize.Cell{StyleID: style, Value: v} }

// formula is a formula, without its =, and what it comes to, a float64 or a
// text, for programs that show a workbook without working it out.
func formula(style int, comes any, format string, args ...any) excelize.Cell {
	return excelize.Cell{StyleID: style, Value: comes, Formula: fmt.Sprintf(format, args...)}
}
