package render

import (
	"fmt"
	"strings"

	"tubewright/fill"
	"tubewright/route"
)

// runsPanel is the panel that says everything of each run: cards with
// cross-sections, or a table where there are too many runs for cards.
type runsPanel struct {
	d     *diagram
	high  float64
	cards *cardSheet
	table tableFlow
}

// mostCards is from where no sheet has room for cards.
const mostCards = 40

// cardScales are how much larger than usual a card may be: where there is
// little else on the sheet, the cross-sections grow; where there is much, the
// cards are a little smaller rather than none.
var cardScales = []float64{5, 4, 3.2, 2.6, 2.2, 1.8, 1.5, 1.25, 1, 0.85}

// planRuns decides how the runs are shown in a panel of that width and at most
// that height; with grow the cards take what room there is.
func (d *diagram) planRuns(widthMM, mostHigh float64, grow bool) *runsPanel {
	p := &runsPanel{d: d}
	if len(d.order) <= mostCards {
		for _, k := range cardScales {
			if k > 1 && !grow {
				continue
			}
			if c := d.cardSheet(widthMM, k); c.high+headHigh <= mostHigh {
				p.cards, p.high = c, c.high+headHigh
				if grow {
					p.high = min(mostHigh, c.high*cardSpread+headHigh)
				}
				return p
			}
		}
	}
	p.table = d.runsTable().flow(widthMM-2*panelPad, mostHigh-headHigh-panelPad)
	p.high = p.table.high + headHigh + panelPad
	return p
}

func (p *runsPanel) draw(area rect) {
	p.d.Group("runs", "table of runs")
	defer p.d.End()
	all := len(p.d.order)
	if p.cards != nil {
		below := p.d.panelHead(area, "Runs", "cross-sections to the scale given below each, cables as they might lie")
		p.cards.draw(below)
		return
	}
	note := "no room for cross-sections"
	if n := p.table.shown(); n < all {
		note = fmt.Sprintf("first %d of %d runs, failures first; the rest in check JOB", n, all)
	}
	below := p.d.panelHead(area, "Runs", note)
	p.table.draw(p.d, below.x0+panelPad, below.y0)
}

// runsTable lists the runs, failures first.
func (d *diagram) runsTable() *sheetTable {
	const most = 1000 // more than the largest paper shows
	t := &sheetTable{head: []string{"run", "in", "length, bends", "cables", "how full", "verdict"},
		caps: []float64{24, 38, 40, 42, 44, 22}, gives: []bool{true, true, true, true, false, false}, rowMM: tableRowMM, notes: 3}
	for _, i := range d.order[:min(len(d.order), most)] {
		r, f := &d.job.Runs[i], &d.runs[i]
		row := tableRow{fails: f.grave(), cells: []string{
			oneLine(r.Name), r.Enc.String(), wayText(r), cableList(d.job.Cores(i)), f.full(), f.verdictText()}}
		if f.verdict != fill.Pass {
			row.note = strings.Join(f.reasons(), "; ")
		}
		if t := f.failingText(); t != "" {
			row.note = strings.TrimPrefix(row.note+"; "+t, "; ")
		}
		t.rows = append(t.rows, row)
	}
	return t
}

// verdictOf is the word for a verdict, a dash where nothing was judged.
func verdictOf(v fill.Verdict) string {
	if v == 0 {
		return "–"
	}
	return VerdictWord(v)
}

// verdictText is the verdict of a run as a table has it.
func (f *runFacts) verdictText() string {
	if w := f.word(); w != "" {
		return w
	}
	return verdictOf(f.verdict)
}

// failingText names the circuits in a run that fail by themselves.
func (f *runFacts) failingText() string {
	switch n := len(f.failing); {
	case n == 0:
		return ""
	case n > 4:
		return fmt.Sprintf("FAIL circuits: %s and %d more", strings.Join(f.failing[:3], ", "), n-3)
	case n == 1:
		return "FAIL circuit: " + f.failing[0]
	}
	return "FAIL circuits: " + strings.Join(f.failing, ", ")
}

// circuitNames lists the circuits that pass through a run, and how often where
// one does so more than once; it counts as one loaded circuit all the same.
func circuitNames(j *route.Job, run int) string {
	const most = 6
	var names []string
	carries := j.Runs[run].Carries
	for i, c := range carries {
		if i == most {
			names = append(names, fmt.Sprintf("%d more", len(carries)-most))
			break
		}
		name := oneLine(j.Circuits[c.Circuit].Name)
		if c.Passes > 1 {
			name += passesText(lines(j, run, c.Circuit))
		}
		names = append(names, name)
	}
	return strings.Join(names, ", ")
}

// lines counts a circuit's lines in a run, of one phase, or its sheathed cables.
func lines(j *route.Job, run, circuit int) (n int) {
	for _, c := range j.Cores(run) {
		if c.Circuit == circuit && (c.Function == route.Unnamed || c.Function == route.Line && c.Colour == route.Brown) {
			n += c.Count
		}
	}
	return n
}

func passesText(n int) string {
	if n == 2 {
		return " (twice)"
	}
	return fmt.Sprintf(" (%d times)", n)
}
