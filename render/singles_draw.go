package render

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"tubewright/factors/sum"
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
	bends := slices.ContainsFunc(draws, func(d route.Draw) bool { return d.Bends })
	if bends {
		t.head, t.most[5] = append(t.head, "fed from the far end because"), 32
	}
	for i, d := range draws {
		n := len(d.Singles)
		for _, l := range d.Listed {
			n += l.Count
		}
		row := []string{strconv.Itoa(i + 1), j.Pulls[d.Pull].Name(j), placeName(j, d.Feed), placeName(j, d.Out), strconv.Itoa(n), drawnText(j, d)}
		switch {
		case d.Bends:
			row = append(row, d.Why)
		case bends:
			row = append(row, "")
		}
		t.add(row...)
	}
	if err := t.write(w, "  "); err != nil || !bends {
		return err
	}
	return writeWrapped(w, "  ", "    ", fmt.Sprintf("the ends are compared by the capstan equation with a coefficient of friction of %s, an assumption that nothing else rests on", sum.Figure(route.PlanFriction)))
}

func placeName(j *route.Job, place int) string {
	if place < 0 {
		return "–"
	}
	return j.Places[place].Name
}

// drawnText lists the labels of a pull by circuit: sockets L N E L N E.
func drawnText(j *route.Job, d route.Draw) string {
	listed := make([]string, len(d.Listed))
	for i, l := range d.Listed {
		listed[i] = fmt.Sprintf("%d × %s", l.Count, l.Cable)
	}
	var parts []string
	if len(listed) > 0 {
		parts = append(parts, strings.Join(listed, ", "))
	}
	last := ""
	for _, i := range d.Singles {
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
// for each connector, for a label printer or a spreadsheet.
func WriteLabels(to io.Writer, j *route.Job) error {
	w := csv.NewWriter(to)
	w.UseCRLF = true
	rows := [][]string{{"circuit", "label", "function", "this end", "far end", "colour", "cable"}}
	for i := range j.Singles {
		s := &j.Singles[i]
		name := servedText(j, s.Circuit, s.Function)
		a, b := endName(j, s, false), endName(j, s, true)
		rows = append(rows,
			[]string{name, s.Mark(), s.Function.String(), a, b, s.Colour.String(), s.Cable.String()},
			[]string{name, s.Mark(), s.Function.String(), b, a, s.Colour.String(), s.Cable.String()})
	}
	for _, m := range j.Connectors() {
		name := terminalName(j, m.Circuit, []route.Terminal{m.Terminal})
		first := &j.Singles[m.Cores[0]]
		rows = append(rows, []string{meetingServes(j, m), first.Mark(), "connector", name, strings.Join(farEnds(j, m), ", "), first.Colour.String(), cableCounts(m.Cables(j))})
	}
	for _, r := range rows {
		if err := w.Write(unformula(r)); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}
