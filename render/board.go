package render

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

// tickBox is a box to tick by hand.
const tickBox = "☐"

// toEnter stands where the job gives no torque: there is no usual one.
const toEnter = "maker's figure to be entered"

// boardChecks are the checks that a board's page repeats.
var boardChecks = map[string]bool{"board": true, "ways": true, "main": true, "division": true, "torque": true, "demand": true}

// BoardReport is the part of a report that judges the board.
func BoardReport(r *fill.Report) *fill.Report {
	out := &fill.Report{Job: r.Job}
	for _, f := range r.Findings {
		if boardChecks[f.Check] {
			out.Findings = append(out.Findings, f)
		}
	}
	return out
}

// WriteBoard prints the schedule of circuits, the checks of the board, the
// build checklist, the torque list and the order on the bars. r is the
// BoardReport of the board's job.
func WriteBoard(to io.Writer, b *fill.Board, r *fill.Report) error {
	w := bufio.NewWriter(to)
	heading(w, b.Job.Name, b.Job.Date)
	_ = writeWrapped(w, "BOARD: ", "  ", boardTitle(b)) // the buffer keeps every error for Flush
	for _, part := range []func(io.Writer, *fill.Board) error{writeSchedule, writeTasks, writeTorque, writeBars} {
		if err := part(w, b); err != nil {
			return err
		}
	}
	fmt.Fprintln(w, "\nCHECKS")
	if err := findingTable(w, r, false, false); err != nil {
		return err
	}
	reasons(w, r)
	fmt.Fprintf(w, "\n%s\n", Tally(r))
	footer(w)
	return w.Flush()
}

// boardTitle names the board: DB; main RCCB 80 A, 30 mA, type A.
func boardTitle(b *fill.Board) string {
	parts := []string{}
	if b.Job.Board.Place >= 0 {
		parts = append(parts, b.Name())
	}
	if b.Main.Said() {
		parts = append(parts, "main "+b.Main.V.String())
	}
	for i := range b.Parts {
		if p := &b.Parts[i]; p.Main.Said() {
			parts = append(parts, p.Name()+" "+p.Main.V.String())
		}
	}
	ways := fmt.Sprintf("%d ways", b.Ways)
	if b.Job.Supply.Phases.V == 3 {
		ways += " of one pole: " + route.ThreePoleWays(b.Ways)
	}
	return strings.Join(append(parts, ways), "; ")
}

// waysText says how many ways are used and left.
func waysText(b *fill.Board) string {
	if !b.Job.Board.Ways.Said() {
		return fmt.Sprintf("%d ways used; the job does not say how many there are", b.Used)
	}
	s := fmt.Sprintf("%d of %d ways used, %d left; %d modules", b.Used, b.Ways, b.Left(), b.Modules())
	if m := b.Job.Board.Modules; m.Said() {
		s += fmt.Sprintf(" on a rail of %d", m.V)
	}
	return s
}

// wayNumber is a way's number, or the span that its device covers.
func wayNumber(w fill.Way) string {
	switch {
	case w.Number == 0:
		return "–"
	case w.Modules > 1:
		return fmt.Sprintf("%d–%d", w.Number, w.Number+w.Modules-1)
	}
	return fmt.Sprint(w.Number)
}

// scheduleHead are the columns of a schedule of circuits.
var scheduleHead = []string{"way", "circuit", "device", "RCBO", "cable mm²", "cpc mm²", "Ib A", "Zs max Ω", "section"}

// scheduleRow is one line of the schedule.
func scheduleRow(b *fill.Board, e fill.Entry) []string {
	section := "–"
	if e.Section > 0 {
		section = fmt.Sprint(e.Section)
	}
	if e.Circuit < 0 {
		return []string{wayNumber(e.Way), "blank", "", "", "", "", "", "", section}
	}
	c := &b.Job.Circuits[e.Circuit]
	rcbo := "–"
	if g := c.Electrical.RCBO; g.Said() {
		rcbo = g.V.String()
	}
	return []string{wayNumber(e.Way), oneLine(c.Name), c.Device.V.String(), rcbo, cableShort(c.Cable.V, ""), cpcText(b.Job, c), threeFigures(e.Ib), threeFigures(e.ZsMax), section}
}

// threeFigures rounds for a schedule; the checks use the whole value.
func threeFigures(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	s := strconv.FormatFloat(v, 'g', 3, 64)
	if strings.ContainsRune(s, 'e') {
		s = sum.Figure(v)
	}
	return s
}

// cpcText is what serves as a circuit's protective conductor.
func cpcText(j *route.Job, c *route.Circuit) string {
	switch {
	case c.CPCRule == route.SharedCPC:
		return "shared"
	case c.CPCRule == route.ConduitCPC:
		for i := c.Singles[0]; i < c.Singles[1]; i++ {
			if j.Singles[i].Function == route.CPC { // in part of it
				return "conduit, " + units.Format(float64(c.CPC.V))
			}
		}
		return "conduit"
	case c.Cable.V.Form == factors.TwinEarth:
		return "in cable"
	}
	return units.Format(float64(c.CPC.V))
}

func writeSchedule(w io.Writer, b *fill.Board) error {
	fmt.Fprintln(w, "\nSCHEDULE OF CIRCUITS")
	t := columns{head: scheduleHead, right: []bool{true, false, false, false, true, true, true, true, true}}
	for _, e := range b.Schedule() {
		t.add(scheduleRow(b, e)...)
	}
	if err := t.write(w, "  "); err != nil {
		return err
	}
	return writeWrapped(w, "  ", "  ", waysText(b))
}

// stageNotes say what a stage of the checklist asks before it starts.
var stageNotes = map[fill.Stage]string{
	fill.Building:  "only on a board proved dead",
	fill.DeadTests: "in this order; a failure is put right and the tests before it repeated",
	fill.LiveTests: "ON A LIVE BOARD: a competent person, cover on, insulated instruments, after every dead test has passed",
}

func writeTasks(w io.Writer, b *fill.Board) error {
	fmt.Fprintln(w, "\nBUILD CHECKLIST, common practice without a source where none is named")
	stage := fill.Stage(0)
	for _, t := range b.Tasks() {
		if t.Stage != stage {
			stage = t.Stage
			line := stage.String()
			if note := stageNotes[stage]; note != "" {
				line += ": " + note
			}
			if err := writeWrapped(w, "  ", "    ", line); err != nil {
				return err
			}
		}
		if err := writeWrapped(w, fmt.Sprintf("    %s %2d  ", tickBox, t.Number), "          ", t.Text+bracketed(t.Source)); err != nil {
			return err
		}
	}
	return nil
}

func bracketed(source string) string {
	if source == "" {
		return ""
	}
	return " [" + source + "]"
}

// torqueText is a torque for a list, a gap to fill where there is none.
func torqueText(newtonMetres float64) string {
	if math.IsNaN(newtonMetres) {
		return "……"
	}
	return units.Format(newtonMetres)
}

func writeTorque(w io.Writer, b *fill.Board) error {
	fmt.Fprintln(w, "\nTORQUE LIST, set driver, figures in N m as the job gives them from the maker")
	t := columns{head: []string{"terminal", "clamp", "conductor", "N m", "tightened", "rechecked"}, right: []bool{false, false, false, true}}
	missing := []string{}
	last := ""
	for _, x := range b.Terminals() {
		t.add(x.At, x.Clamp, x.Conductor, torqueText(x.TorqueNm), tickBox, tickBox)
		if math.IsNaN(x.TorqueNm) && x.Kind != last {
			missing, last = append(missing, x.Kind), x.Kind
		}
	}
	if err := t.write(w, "  "); err != nil {
		return err
	}
	for _, kind := range missing {
		fmt.Fprintf(w, "  %s: %s\n", kind, toEnter)
	}
	return nil
}

func writeBars(w io.Writer, b *fill.Board) error {
	fmt.Fprintln(w, "\nORDER ON THE BARS, a terminal has the number of its way")
	for _, bar := range b.Bars() {
		fmt.Fprintf(w, "  %s\n", bar.Name)
		t := columns{head: []string{"no.", "conductor"}, right: []bool{true}}
		for _, f := range bar.Feeds {
			t.add("", f)
		}
		for _, x := range bar.Terminals {
			t.add(fmt.Sprint(x.Number), x.Conductor)
		}
		if err := t.write(w, "    "); err != nil {
			return err
		}
	}
	return nil
}
