package render

import (
	"fmt"
	"strings"

	"tubewright/factors/sum"
	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

// drawSide fills the column beside the layout: title block and cautions from
// the bottom up, then circuits, bill and legend from the top down in what is
// left. A bill that does not go in whole is left out and named.
func (d *diagram) drawSide(side rect) {
	d.Group("side", "circuits, bill, legend, title block")
	defer d.End()
	side.y1 = d.titleBlock(side)
	side.y1 = d.cautions(side)
	legend := d.used.entries()
	high := legendHigh(legend, side.wide())
	side.y1 -= high
	d.legend(rect{side.x0, side.y1, side.x1, side.y1 + high}, legend)
	d.Line(PenDimension, false, side.x0, side.y1, side.x1, side.y1)
	side.y0 = d.drawCircuits(side)
	d.drawBill(side)
}

// drawCircuits draws the table of circuits, failures first.
func (d *diagram) drawCircuits(side rect) float64 {
	t := d.circuitsTable()
	if len(t.rows) == 0 {
		return side.y0
	}
	most := side.high() - headHigh - panelPad
	if len(d.bill) > 0 {
		most -= headHigh // for the word where the bill is
	}
	f := t.flow(side.wide()-2*panelPad, most)
	note := ""
	if all := len(d.circuits) + len(d.others); f.shown() < all {
		note = fmt.Sprintf("first %d of %d; the rest in check JOB", f.shown(), all)
	}
	title := "Circuits"
	if len(d.others) > 0 {
		title = "Circuits and board"
	}
	below := d.panelHead(side, title, note)
	f.draw(d, below.x0+panelPad, below.y0)
	y := below.y0 + f.high + panelPad
	d.Line(PenDimension, false, side.x0, y, side.x1, y)
	return y
}

// circuitsTable lists what is found of neither run nor circuit, and the
// circuits: whatever fails first.
func (d *diagram) circuitsTable() *sheetTable {
	const most = 500 // more than the largest paper shows
	t := &sheetTable{head: []string{"way", "circuit", "device", "mm², cpc", "rating, A", "verdict"},
		caps: []float64{8, 30, 22, 24, 30, 12}, gives: []bool{false, true, false, true, false, false}, rowMM: tableRowMM, notes: 6}
	for _, fails := range []bool{true, false} {
		for _, f := range d.others {
			if (f.Verdict == fill.Fail) == fails && len(t.rows) < most {
				t.rows = append(t.rows, tableRow{fails: fails, note: f.Check + ": " + oneLine(f.Reason),
					cells: []string{"–", oneLine(f.Subject), "", "", "", verdictOf(f.Verdict)}})
			}
		}
		for i := range d.circuits {
			c, f := &d.job.Circuits[i], &d.circuits[i]
			if (f.verdict == fill.Fail) == fails && len(t.rows) < most {
				t.rows = append(t.rows, tableRow{fails: fails, note: f.reason(d.job),
					cells: []string{wayOf(c), oneLine(c.Name), deviceOf(c), circuitCable(c), f.rated(), verdictOf(f.verdict)}})
			}
		}
	}
	return t
}

// deviceOf is B20, or RCBO B20 where it senses residual current too.
func deviceOf(c *route.Circuit) string {
	if c.Electrical.RCBO.Said() {
		return "RCBO " + c.Device.V.String()
	}
	return c.Device.V.String()
}

func wayOf(c *route.Circuit) string {
	if !c.Way.Said() {
		return "–"
	}
	return fmt.Sprint(c.Way.V)
}

func circuitCable(c *route.Circuit) string {
	s := cableShort(c.Cable.V, "")
	if c.Lines() == 3 {
		s = "3 ph. " + s
	}
	if c.CPC.V > 0 && c.CPC.V != c.Cable.V.CSA {
		s += "/" + units.Format(float64(c.CPC.V))
	}
	return s
}

// rated is what the rating check compared, in amps: 20 of 28.8.
func (f *circuitFacts) rated() string {
	for _, g := range f.findings {
		if g.Check == "rating" && sum.Figure(g.Limit) != "–" {
			value, limit := Figures(g)
			return value + " of " + limit
		}
	}
	return "–"
}

// reason joins what the circuit's findings say where they do not pass.
func (f *circuitFacts) reason(j *route.Job) string {
	var parts []string
	for _, v := range []fill.Verdict{fill.Fail, fill.Open, fill.Advise} {
		for _, g := range f.findings {
			if g.Verdict == v && g.Reason != "" {
				parts = append(parts, g.Check+": "+oneLine(g.Reason)+failsIn(j, g))
			}
		}
	}
	return strings.Join(parts, "; ")
}

// failsIn names the runs where a circuit fails, when its reason names one of
// several.
func failsIn(j *route.Job, f *fill.Finding) string {
	const most = 8
	if len(f.Runs) < 2 {
		return ""
	}
	names := make([]string, len(f.Runs))
	for i, run := range f.Runs {
		names[i] = oneLine(j.Runs[run].Name)
	}
	if n := len(names) - most; n > 0 {
		names = append(names[:most], fmt.Sprintf("%d more", n))
	}
	return "; fails in runs " + strings.Join(names, ", ")
}

// billTable is the bill with its names set in as many lines as a column of that
// width asks for.
func (d *diagram) billTable(wide, rowMM float64) *sheetTable {
	t := &sheetTable{head: []string{"item", "to order"}, caps: []float64{200, 60}, gives: []bool{true, false}, rowMM: rowMM}
	order := TextWidth(t.head[1], TextSmall, true)
	for _, b := range d.bill {
		order = max(order, TextWidth(b.Quantity, TextSmall, false))
	}
	room := max(leastItem, wide-order-4*tablePad-0.5)
	for _, b := range d.bill {
		lines := breakLines(oneLine(b.Item), room, TextSmall, 6)
		t.rows = append(t.rows, tableRow{cells: []string{lines[0], oneLine(b.Quantity)}, more: lines[1:]})
	}
	return t
}

// leastItem is the narrowest column of names, in mm.
const leastItem = 22.0

// drawBill draws the bill whole, in one column or in two, or says where it is.
func (d *diagram) drawBill(side rect) {
	if len(d.bill) == 0 {
		return
	}
	wide, high := side.wide()-2*panelPad, side.high()-headHigh-panelPad
	for _, try := range []struct{ columns, rowMM float64 }{{1, tableRowMM}, {1, tableTightMM}, {2, tableTightMM}} {
		f := d.billTable(wide/try.columns, try.rowMM).flow(wide, high)
		if f.shown() == len(d.bill) {
			below := d.panelHead(side, "Bill", "")
			f.draw(d, below.x0+panelPad, below.y0)
			return
		}
	}
	d.panelHead(side, "Bill", fmt.Sprintf("%d items: see bill JOB", len(d.bill)))
}
