package render

import (
	"fmt"
	"math"

	"tubewright/fill"
)

// drawBoardSide fills the column beside the front view: title block, cautions
// and torques from the bottom up, the schedule and what does not simply pass
// from the top down.
func (d *diagram) drawBoardSide(b *fill.Board, side rect) {
	d.Group("side", "schedule, checks, torques, title block")
	defer d.End()
	side.y1 = d.titleBlock(side)
	side.y1 = d.cautions(side)
	side.y1 = d.drawTorques(b, side)
	side.y0 = d.drawSchedule(b, side)
	d.drawReasons(side)
}

// drawTorques draws the torques at the foot of the area and returns their top.
func (d *diagram) drawTorques(b *fill.Board, area rect) float64 {
	t, missing := torqueTable(b)
	if len(t.rows) == 0 {
		return area.y1
	}
	area.y0 = area.y1 - headHigh - t.rowMM*float64(len(t.rows)+1) - panelPad
	d.Line(PenDimension, false, area.x0, area.y0, area.x1, area.y0)
	note := "the maker's figures; tick by hand"
	if missing {
		note = torqueText(math.NaN()) + " " + toEnter
	}
	below := d.panelHead(area, "Torques", note)
	f := t.flow(area.wide()-2*panelPad, below.high())
	f.draw(d, below.x0+panelPad, below.y0)
	return area.y0
}

// torqueTable has a line for each kind of terminal, and says whether any has
// no figure.
func torqueTable(b *fill.Board) (t *sheetTable, missing bool) {
	t = &sheetTable{head: []string{"terminals", "no.", "N m", "tightened", "rechecked"},
		caps: []float64{24, 10, 12, 16, 16}, gives: []bool{true, false, false, false, false}, rowMM: tableRowMM}
	at, count := map[string]int{}, map[string]int{}
	for _, x := range b.Terminals() {
		missing = missing || math.IsNaN(x.TorqueNm)
		if count[x.Kind] == 0 {
			at[x.Kind] = len(t.rows)
			t.rows = append(t.rows, tableRow{cells: []string{x.Kind, "", torqueText(x.TorqueNm), tickBox, tickBox}})
		}
		count[x.Kind]++
		t.rows[at[x.Kind]].cells[1] = fmt.Sprint(count[x.Kind])
	}
	return t, missing
}

// drawSchedule draws the schedule at the head of the area and returns its foot.
func (d *diagram) drawSchedule(b *fill.Board, area rect) float64 {
	t := &sheetTable{head: []string{"way", "circuit", "device", "mm²/cpc", "Ib A", "Zs ≤ Ω", "sect."},
		caps: []float64{8, 40, 24, 22, 12, 16, 12}, gives: []bool{false, true, true, true, false, false, false}, rowMM: tableRowMM}
	for _, e := range b.Schedule() {
		t.rows = append(t.rows, tableRow{cells: sheetEntry(b, e)})
	}
	if len(b.Job.Board.Sections) == 0 {
		t.dropLast()
	}
	most := area.high() - headHigh - panelPad
	if t.rowMM*float64(len(t.rows)+1) > most {
		t.rowMM = tableTightMM
	}
	f := t.flow(area.wide()-2*panelPad, most)
	note := fmt.Sprintf("%d of %d ways used, %d left", b.Used, b.Ways, b.Left())
	if f.shown() < len(t.rows) {
		note = fmt.Sprintf("first %d of %d; the rest in board JOB", f.shown(), len(t.rows))
	}
	below := d.panelHead(area, "Schedule", note)
	f.draw(d, below.x0+panelPad, below.y0)
	return below.y0 + f.high + panelPad
}

// dropLast takes the last column off.
func (t *sheetTable) dropLast() {
	n := len(t.head) - 1
	t.head, t.caps, t.gives = t.head[:n], t.caps[:n], t.gives[:n]
	for i := range t.rows {
		t.rows[i].cells = t.rows[i].cells[:n]
	}
}

// sheetEntry is one line of the schedule, shorter than on a page.
func sheetEntry(b *fill.Board, e fill.Entry) []string {
	row := scheduleRow(b, e)
	if e.Circuit < 0 {
		return []string{row[0], row[1], "", "", "", "", row[8]}
	}
	return []string{row[0], row[1], deviceOf(&b.Job.Circuits[e.Circuit]), row[4] + "/" + row[5], row[6], row[7], row[8]}
}

// drawReasons writes what the checks say where they do not simply pass, as far
// as there is room.
func (d *diagram) drawReasons(area rect) {
	var lines []cardLine
	for _, v := range []fill.Verdict{fill.Fail, fill.Open, fill.Advise} {
		for i := range d.report.Findings {
			f := &d.report.Findings[i]
			if f.Verdict != v || f.Reason == "" {
				continue
			}
			ink := Black
			if v == fill.Fail {
				ink = Red
			}
			for _, l := range breakLines(VerdictWord(v)+" "+f.Check+": "+oneLine(f.Reason), area.wide()-2*panelPad, TextSmall, 12) {
				lines = append(lines, cardLine{s: l, ink: ink})
			}
		}
	}
	room := int((area.high() - headHigh - panelPad) / tableNoteMM)
	if len(lines) == 0 || room < 1 {
		return
	}
	d.Line(PenDimension, false, area.x0, area.y0, area.x1, area.y0)
	note := ""
	if len(lines) > room {
		lines, note = lines[:room], "more in board JOB"
	}
	below := d.panelHead(area, "Checks", note)
	for i, l := range lines {
		d.Text(Text{S: l.s, X: below.x0 + panelPad, Y: below.y0 + float64(i)*tableNoteMM + TextSmall, Height: TextSmall, Ink: l.ink})
	}
}
