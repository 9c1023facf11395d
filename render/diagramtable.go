package render

// sheetTable is a table on a sheet. Its columns are as wide as their widest
// text, up to a cap; a row that fails stands out and may have lines below it.
type sheetTable struct {
	head  []string
	caps  []float64 // widest that a column gets, in mm
	gives []bool    // columns that may be cut for room
	rows  []tableRow
	rowMM float64
	notes int // most lines below a row
}

// tableRow is a row; a verdict in the last cell is set off by its word.
type tableRow struct {
	cells []string
	more  []string // further lines of the first cell
	fails bool
	note  string // below the row, across the table
}

const (
	tableRowMM   = 3.5
	tableTightMM = 2.9
	tableNoteMM  = 2.9
	tableMoreMM  = 2.4
	tablePad     = 0.8
)

// widths are those of the columns, together at most the width given: the
// widest columns give way first.
func (t *sheetTable) widths(rows []tableRow, widthMM float64) []float64 {
	out := make([]float64, len(t.head))
	total := 0.0
	for i, h := range t.head {
		out[i] = TextWidth(h, TextSmall, true)
		for _, r := range rows {
			out[i] = max(out[i], TextWidth(r.cells[i], TextSmall, r.fails))
		}
		out[i] = min(out[i], t.caps[i]) + 2*tablePad + 0.2
		total += out[i]
	}
	for total > widthMM {
		widest, second := -1, 0.0
		for i := range out {
			if t.gives[i] && (widest < 0 || out[i] > out[widest]) {
				widest = i
			}
		}
		for i := range out {
			if t.gives[i] && i != widest {
				second = max(second, out[i])
			}
		}
		less := min(total-widthMM, max(0.5, out[widest]-second))
		out[widest] -= less
		total -= less
	}
	return out
}

// cellsHigh is the height of a row's cells.
func (t *sheetTable) cellsHigh(r *tableRow) float64 {
	if len(r.more) == 0 {
		return t.rowMM
	}
	return t.rowMM + tableMoreMM*float64(len(r.more)) + 0.5
}

// rowHigh is the height of a row with its notes in a table of that width.
func (t *sheetTable) rowHigh(r *tableRow, widthMM float64) float64 {
	high := t.cellsHigh(r)
	if r.note == "" {
		return high
	}
	return high + tableNoteMM*float64(len(breakLines(r.note, widthMM-5, TextSmall, t.notes)))
}

// tableFlow is a table broken into columns of a panel.
type tableFlow struct {
	table   *sheetTable
	columns int
	wide    float64 // of one column
	high    float64
	ends    []int // row after the last of each column
}

// flow breaks the table into as many columns as go into the width, all of one
// height: the least that holds every row, at most the most given.
func (t *sheetTable) flow(widthMM, mostHigh float64) tableFlow {
	looked := t.rows[:min(len(t.rows), 500)]
	natural := 0.0
	for _, w := range t.widths(looked, widthMM) {
		natural += w
	}
	f := tableFlow{table: t, columns: max(1, int(widthMM/natural))}
	f.wide = widthMM / float64(f.columns)
	total := 0.0
	for i := range looked {
		total += t.rowHigh(&looked[i], f.wide)
	}
	for f.high = t.rowMM + total/float64(f.columns); ; f.high += t.rowMM {
		f.high = min(f.high, mostHigh)
		f.ends = f.breakAt(f.high)
		if f.shown() == len(t.rows) || f.high >= mostHigh {
			return f
		}
	}
}

func (f *tableFlow) breakAt(high float64) []int {
	var ends []int
	row := 0
	for range f.columns {
		used := f.table.rowMM
		for row < len(f.table.rows) {
			h := f.table.rowHigh(&f.table.rows[row], f.wide)
			if used+h > high {
				break
			}
			used += h
			row++
		}
		ends = append(ends, row)
	}
	return ends
}

// shown is how many rows find room.
func (f *tableFlow) shown() int { return f.ends[len(f.ends)-1] }

// draw draws the table from the corner on.
func (f *tableFlow) draw(c Canvas, x, y float64) {
	widths := f.table.widths(f.table.rows[:min(f.shown(), len(f.table.rows))], f.wide)
	total := 0.0
	for _, w := range widths {
		total += w
	}
	for i := range widths {
		widths[i] += (f.wide - total) / float64(len(widths))
	}
	from := 0
	for k, end := range f.ends {
		if k > 0 && from == end {
			break
		}
		left, top := x+float64(k)*f.wide, y
		f.table.drawRow(c, tableRow{cells: f.table.head}, widths, left, top, true)
		top += f.table.rowMM
		c.Line(PenEdge, false, left+tablePad, top, left+f.wide-tablePad, top)
		for _, r := range f.table.rows[from:end] {
			f.table.drawRow(c, r, widths, left, top, false)
			top += f.notes(c, r, left, top)
			c.Line(PenGrid, false, left+tablePad, top, left+f.wide-tablePad, top)
		}
		from = end
	}
}

func (t *sheetTable) drawRow(c Canvas, r tableRow, widths []float64, x, y float64, head bool) {
	for i, cell := range r.cells {
		bold, ink := head || r.fails, Black
		if r.fails && i == len(r.cells)-1 {
			right := x + min(widths[i], TextWidth(cell, TextSmall, true)+2*tablePad)
			c.Fill(Red, x, y+0.3, right, y+0.3, right, y+t.rowMM-0.3, x, y+t.rowMM-0.3)
			ink = White
		}
		c.Text(Text{S: cutToFit(cell, widths[i]-2*tablePad, TextSmall, bold), X: x + tablePad, Y: y + t.rowMM/2,
			Height: TextSmall, AlignY: Middle, Bold: bold, Ink: ink})
		x += widths[i]
	}
}

// notes writes what stands below a row and returns the row's height.
func (f *tableFlow) notes(c Canvas, r tableRow, x, y float64) float64 {
	high := f.table.cellsHigh(&r)
	for i, l := range r.more {
		c.Text(Text{S: l, X: x + tablePad, Y: y + f.table.rowMM/2 + float64(i+1)*tableMoreMM, Height: TextSmall, AlignY: Middle})
	}
	if r.note == "" {
		return high
	}
	y += high
	lines := breakLines(r.note, f.wide-5, TextSmall, f.table.notes)
	for i, l := range lines {
		c.Text(Text{S: l, X: x + 4, Y: y + float64(i)*tableNoteMM + 0.2 + TextSmall, Height: TextSmall})
	}
	return high + tableNoteMM*float64(len(lines))
}
