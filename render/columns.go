package render

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// columns is a table of text. The cells of a column are padded to one width,
// counted in characters.
type columns struct {
	head   []string
	right  []bool // numbers stand to the right
	most   []int  // width at which a column's text is broken into lines; 0: nowhere
	narrow int    // how narrow the last column may get to keep within the page; 0: it is not broken
	rows   [][]string
	paint  func(column int, cell string) string // nil: none
}

// columnGap stands between two columns.
const columnGap = "  "

func (c *columns) add(cells ...string) { c.rows = append(c.rows, cells) }

// write prints the table without spaces at the end of a line.
func (c *columns) write(w io.Writer, indent string) error {
	broken := make([][][]string, len(c.rows))
	widths := make([]int, len(c.head))
	for i, h := range c.head {
		widths[i] = utf8.RuneCountInString(h)
	}
	for r, row := range c.rows {
		broken[r] = make([][]string, len(row))
		for i, cell := range row {
			broken[r][i] = breakCell(cell, c.mostOf(i))
			for _, l := range broken[r][i] {
				widths[i] = max(widths[i], utf8.RuneCountInString(l))
			}
		}
	}
	c.fitPage(indent, widths, broken)
	if strings.Join(c.head, "") != "" {
		if err := c.line(w, indent, widths, c.head, false); err != nil {
			return err
		}
	}
	for _, cells := range broken {
		for _, line := range linesOf(cells) {
			if err := c.line(w, indent, widths, line, true); err != nil {
				return err
			}
		}
	}
	return nil
}

func (c *columns) mostOf(i int) int {
	if i < len(c.most) {
		return c.most[i]
	}
	return 0
}

// fitPage breaks the last column where the table is wider than the page.
func (c *columns) fitPage(indent string, widths []int, broken [][][]string) {
	last := len(widths) - 1
	before := utf8.RuneCountInString(indent)
	for _, n := range widths[:last] {
		before += n + len(columnGap)
	}
	if c.narrow == 0 || before+widths[last] <= pageWidth {
		return
	}
	room := max(c.narrow, pageWidth-before)
	for r, row := range c.rows {
		broken[r][last] = breakCell(row[last], room)
	}
	widths[last] = room
}

// breakCell breaks a cell into lines of at most most characters; what follows
// the first stands two further in.
func breakCell(cell string, most int) []string {
	if most == 0 || utf8.RuneCountInString(cell) <= most {
		return []string{cell}
	}
	text := strings.TrimLeft(cell, " ")
	lead := cell[:len(cell)-len(text)]
	lines := wrap(text, most-len(lead), most-len(lead)-2)
	for i := range lines {
		if i > 0 {
			lines[i] = "  " + lines[i]
		}
		lines[i] = lead + lines[i]
	}
	return lines
}

// linesOf turns a row of broken cells into rows of one line each.
func linesOf(cells [][]string) [][]string {
	n := 1
	for _, c := range cells {
		n = max(n, len(c))
	}
	out := make([][]string, n)
	for k := range out {
		out[k] = make([]string, len(cells))
		for i, c := range cells {
			if k < len(c) {
				out[k][i] = c[k]
			}
		}
	}
	return out
}

func (c *columns) line(w io.Writer, indent string, widths []int, cells []string, paint bool) error {
	var b strings.Builder
	b.WriteString(indent)
	for i, cell := range cells {
		pad := strings.Repeat(" ", max(0, widths[i]-utf8.RuneCountInString(cell)))
		shown := cell
		if paint && c.paint != nil {
			shown = c.paint(i, cell)
		}
		if i < len(c.right) && c.right[i] {
			b.WriteString(pad + shown)
		} else {
			b.WriteString(shown + pad)
		}
		if i < len(cells)-1 {
			b.WriteString(columnGap)
		}
	}
	_, err := fmt.Fprintln(w, strings.TrimRight(b.String(), " "))
	return err
}
