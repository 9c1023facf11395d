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
	head  []string
	right []bool // numbers stand to the right
	rows  [][]string
	paint func(column int, cell string) string // nil: none
}

func (c *columns) add(cells ...string) { c.rows = append(c.rows, cells) }

// write prints the table with two spaces between columns and none at the end
// of a line.
func (c *columns) write(w io.Writer, indent string) error {
	widths := make([]int, len(c.head))
	for i, h := range c.head {
		widths[i] = utf8.RuneCountInString(h)
	}
	for _, r := range c.rows {
		for i, cell := range r {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	if strings.Join(c.head, "") != "" {
		if err := c.line(w, indent, widths, c.head, false); err != nil {
			return err
		}
	}
	for _, r := range c.rows {
		if err := c.line(w, indent, widths, r, true); err != nil {
			return err
		}
	}
	return nil
}

func (c *columns) line(w io.Writer, indent string, widths []int, cells []string, paint bool) error {
	var b strings.Builder
	b.WriteString(indent)
	for i, cell := range cells {
		pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
		shown := cell
		if paint && c.paint != nil {
			shown = c.paint(i, cell)
		}
		switch {
		case i < len(c.right) && c.right[i]:
			b.WriteString(pad + shown)
		default:
			b.WriteString(shown + pad)
		}
		if i < len(cells)-1 {
			b.WriteString("  ")
		}
	}
	_, err := fmt.Fprintln(w, strings.TrimRight(b.String(), " "))
	return err
}

// wrap breaks text into lines of at most width characters.
func wrap(text string, width int) []string {
	var lines []string
	line, n := "", 0
	for _, word := range strings.Fields(text) {
		size := utf8.RuneCountInString(word)
		if n > 0 && n+1+size > width {
			lines = append(lines, line)
			line, n = "", 0
		}
		if n > 0 {
			line += " "
			n++
		}
		line += word
		n += size
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

func writeWrapped(w io.Writer, first, next, text string, width int) error {
	for i, l := range wrap(text, width-utf8.RuneCountInString(next)) {
		lead := next
		if i == 0 {
			lead = first
		}
		if _, err := fmt.Fprintln(w, lead+l); err != nil {
			return err
		}
	}
	return nil
}
