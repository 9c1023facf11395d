package render

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"tubewright/factors/sum"
	"tubewright/fill"
	"tubewright/route"
)

// drawInPlan prints the pulls in the order in which they are drawn.
func drawInPlan(w io.Writer, j *route.Job) error {
	draws := j.DrawIn()
	if len(draws) == 0 {
		return nil
	}
	fmt.Fprintln(w, "\nDRAW-IN PLAN, conduit complete before the first cable; all of a pull together")
	t := columns{head: []string{"no.", "pull", "feed at", "out at", "cables", "what goes in"}, right: []bool{true, false, false, false, true}, most: []int{0, 0, 0, 0, 0, 48}, narrow: 24}
	told := slices.ContainsFunc(draws, func(d route.Draw) bool { return !d.Plain })
	if told {
		t.head, t.most[5] = append(t.head, "why from that end"), 32
	}
	for i, d := range draws {
		n := len(d.Singles)
		for _, l := range d.Listed {
			n += l.Count
		}
		row := []string{strconv.Itoa(i + 1), j.Pulls[d.Pull].Name(j), placeName(j, d.Feed), placeName(j, d.Out), strconv.Itoa(n), drawnText(j, d)}
		switch {
		case !d.Plain:
			row = append(row, d.Why)
		case told:
			row = append(row, "")
		}
		t.add(row...)
	}
	if err := t.write(w, "  "); err != nil {
		return err
	}
	for _, n := range drawNotes(j, draws) {
		if err := writeWrapped(w, "  ", "    ", n); err != nil {
			return err
		}
	}
	return coilTable(w, j, draws)
}

// drawNotes says what the plan rests on and what it cannot do.
func drawNotes(j *route.Job, draws []route.Draw) (notes []string) {
	var over []string
	bends := false
	for i, d := range draws {
		bends = bends || d.Bends
		if d.Over {
			over = append(over, strconv.Itoa(i+1))
		}
	}
	if bends {
		notes = append(notes, fmt.Sprintf("the ends are compared by the capstan equation with a coefficient of friction of %s, an assumption that nothing else rests on", sum.Figure(route.PlanFriction)))
	}
	if over != nil {
		notes = append(notes, "OVER CORES IN PLACE, which the trade avoids: no. "+strings.Join(over, ", ")+". The tubes close a circle, and no order of whole pulls leads all their cores away from one feed point each. Leave a draw wire in with the first pull, or break these cores at an accessory or where joints are allowed")
	}
	return notes
}

// coilTable prints how much core lies at the draw-in points for the tubes
// beyond, in the order of the draws.
func coilTable(w io.Writer, j *route.Job, draws []route.Draw) error {
	t := columns{head: []string{"no.", "at", "metres", "of", "for"}, right: []bool{true, false, true}, most: []int{0, 0, 0, 32}, narrow: 24}
	for i := range draws {
		for k := range draws[i].Coils {
			c := &draws[i].Coils[k]
			length, text := coilText(j, c)
			no, at := strconv.Itoa(i+1), "out at "
			if c.First {
				at = "feed at "
			}
			t.add(no, at+placeName(j, c.Place), fmt.Sprintf("%.2f", length), labelsText(j, c.Singles), text)
		}
	}
	if len(t.rows) == 0 {
		return nil
	}
	fmt.Fprintln(w, "\nLEFT LYING for the tubes beyond, of each core; at a feed end, laid out before the draw")
	return t.write(w, "  ")
}

// coilText is the length of a coil in metres and how it adds up.
func coilText(j *route.Job, c *route.Coil) (float64, string) {
	var work sum.Work
	length := c.Length(j, &work)
	text := passedText(j, c.Way)
	if c.Tail > 0 {
		text += " and the tail at " + placeName(j, c.End)
	}
	return float64(length), text + ": " + work.Steps[0].Numeric
}

func placeName(j *route.Job, place int) string {
	if place < 0 {
		return "–"
	}
	return j.Places[place].Name
}

// drawnText lists what goes in at a pull: the cables listed by hand, then the
// labels by circuit.
func drawnText(j *route.Job, d route.Draw) string {
	var parts []string
	for _, l := range d.Listed {
		parts = append(parts, fmt.Sprintf("%d × %s", l.Count, l.Cable))
	}
	listed := strings.Join(parts, ", ")
	if listed != "" && len(d.Singles) > 0 {
		listed += "; "
	}
	return listed + labelsText(j, d.Singles)
}

// labelsText lists labels by circuit: sockets: L N E; lights: L N E.
func labelsText(j *route.Job, singles []int) string {
	var parts []string
	last := ""
	for _, i := range singles {
		s := &j.Singles[i]
		if name := servedText(j, s.Circuit, s.Function); name != last {
			if len(parts) > 0 {
				parts[len(parts)-1] += ";"
			}
			parts = append(parts, name+":")
			last = name
		}
		parts = append(parts, dash(s.Mark()))
	}
	return strings.Join(parts, " ")
}

// WriteLabels writes the label list, one row for each end of each core and one
// for each connector, for a label printer or a spreadsheet; above them which
// checks fail, if any, in the column of functions.
func WriteLabels(to io.Writer, r *fill.Report) error {
	j := r.Job
	w := csv.NewWriter(to)
	w.UseCRLF = true
	rows := [][]string{{"circuit", "label", "function", "this end", "far end", "colour", "cable", "runs", "metres"}}
	for _, n := range checkNotes(r, singlesPage) {
		rows = append(rows, []string{"", "", n, "", "", "", "", "", ""})
	}
	for i := range j.Singles {
		s := &j.Singles[i]
		name := servedText(j, s.Circuit, s.Function)
		a, b := endName(j, s, false), endName(j, s, true)
		runs, metres := passedText(j, s.Way), fmt.Sprintf("%.2f", s.Length)
		rows = append(rows,
			[]string{name, s.Mark(), s.Function.String(), a, b, s.Colour.String(), s.Cable.String(), runs, metres},
			[]string{name, s.Mark(), s.Function.String(), b, a, s.Colour.String(), s.Cable.String(), runs, metres})
	}
	for _, m := range j.Connectors() {
		name := terminalName(j, m.Circuit, []route.Terminal{m.Terminal})
		first := &j.Singles[m.Cores[0]]
		rows = append(rows, []string{meetingServes(j, m), connectorMark(first), "connector", name, strings.Join(farEnds(j, m), ", "), first.Colour.String(), cableCounts(m.Cables(j)), "", ""})
	}
	for _, r := range rows {
		if err := w.Write(unformula(r)); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

// connectorMark is the label of what is joined: that of its cores without their
// number along the circuit.
func connectorMark(s *route.Single) string {
	one := *s
	one.Number = 0
	return one.Mark()
}
