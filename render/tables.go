package render

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"tubewright/factors"
)

// WriteTableList prints the tables of a rule family by name.
func WriteTableList(to io.Writer, f *factors.Family) error {
	w := bufio.NewWriter(to)
	t := columns{head: []string{"table", "known", "where", "what"}}
	for _, id := range f.IDs() {
		tb := f.Table(id)
		t.add(tb.ID, tb.Prov.String(), tb.Ref, tb.Title)
	}
	if err := t.write(w, ""); err != nil {
		return err
	}
	footer(w)
	return w.Flush()
}

// WriteTable prints one table with its source. The last axis runs across; a
// figure from memory carries a star.
func WriteTable(to io.Writer, tb *factors.Table) error {
	w := bufio.NewWriter(to)
	fmt.Fprintf(w, "%s\n%s\n", tb.Title, tb.Standard)
	if tb.Unit != "1" {
		fmt.Fprintf(w, "values in %s\n", tb.Unit)
	}
	fmt.Fprintln(w)
	if err := tableGrid(tb).write(w, "  "); err != nil {
		return err
	}
	fmt.Fprintln(w)
	if anyUnread(tb) {
		fmt.Fprintln(w, "* not read in a published page")
	}
	for _, a := range tb.Axes {
		if a.Between != factors.Exact {
			fmt.Fprintf(w, "between two values of %s: %s\n", a.Name, a.Between)
		}
	}
	for _, n := range tb.Notes {
		_ = writeWrapped(w, "note: ", "      ", n)
	}
	fmt.Fprintf(w, "\nhow it is known: %s; checked %s\n", tb.Prov, tb.Checked)
	if tb.Detail != "" {
		_ = writeWrapped(w, "  ", "  ", tb.Detail)
	}
	for _, s := range tb.Sources {
		_ = writeWrapped(w, "source: ", "        ", s.Title)
		if s.URL != "" {
			fmt.Fprintln(w, "        "+s.URL)
		}
		if s.Agrees != "" {
			_ = writeWrapped(w, "        agrees: ", "        ", s.Agrees)
		}
	}
	footer(w)
	return w.Flush()
}

func anyUnread(tb *factors.Table) bool {
	found := false
	tb.Cells(func(v factors.Value, _ []factors.Key) { found = found || v.Cite.Prov != factors.Read })
	return found
}

// tableGrid lays a table's cells out: the first axes down, the last across.
func tableGrid(tb *factors.Table) *columns {
	last := len(tb.Axes) - 1
	across := []factors.Key{}
	seen := map[factors.Key]int{}
	tb.Cells(func(_ factors.Value, keys []factors.Key) {
		if _, ok := seen[keys[last]]; !ok && last > 0 {
			seen[keys[last]] = len(across)
			across = append(across, keys[last])
		}
	})
	t := &columns{}
	for _, a := range tb.Axes[:max(1, last)] {
		t.head = append(t.head, axisName(a))
		t.right = append(t.right, false)
	}
	if last == 0 {
		t.head, t.right = append(t.head, "value"), append(t.right, true)
	}
	for i, k := range across {
		name := k.String()
		if i == 0 {
			name = axisName(tb.Axes[last]) + " " + name
		}
		t.head, t.right = append(t.head, name), append(t.right, true)
	}
	fillGrid(t, tb, last, seen)
	return t
}

func axisName(a factors.Axis) string {
	if a.Unit == "" {
		return a.Name
	}
	return a.Name + " (" + a.Unit + ")"
}

func fillGrid(t *columns, tb *factors.Table, last int, column map[factors.Key]int) {
	rowOf := map[string]int{}
	tb.Cells(func(v factors.Value, keys []factors.Key) {
		head := make([]string, 0, len(t.head))
		for _, k := range keys[:max(1, last)] {
			head = append(head, k.String())
		}
		id := strings.Join(head, "\x00")
		r, ok := rowOf[id]
		if !ok {
			r = len(t.rows)
			rowOf[id] = r
			t.add(append(head, make([]string, len(t.head)-len(head))...)...)
		}
		at := len(t.head) - 1
		if last > 0 {
			at = last + column[keys[last]]
		}
		text := factors.Num(v.Num).String()
		if v.Cite.Prov != factors.Read {
			text += "*"
		} else {
			text += " "
		}
		t.rows[r][at] = text
	})
}
