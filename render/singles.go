package render

import (
	"bufio"
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/units"
	"tubewright/route"
)

// WriteSingles prints what lies in each run, every core of each circuit with
// its ends and runs, the totals, and the plan to draw in by.
func WriteSingles(to io.Writer, j *route.Job) error {
	w := bufio.NewWriter(to)
	heading(w, j.Name, j.Date)
	for _, part := range []func(io.Writer, *route.Job) error{singlesByRun, singlesByCircuit, singlesTotals, drawInPlan} {
		if err := part(w, j); err != nil {
			return err
		}
	}
	footer(w)
	return w.Flush()
}

// singlesByRun lists the cores of each run by colour, size and function.
func singlesByRun(w io.Writer, j *route.Job) error {
	fmt.Fprintln(w, "IN EACH RUN")
	t := columns{head: []string{"run", "in all", "count", "cable", "colour", "function", "circuit"}, right: []bool{false, true, true}}
	for i := range j.Runs {
		cores := j.Cores(i)
		all := 0
		for _, c := range cores {
			all += c.Count
		}
		name, number := j.Runs[i].Name, strconv.Itoa(all)
		for _, c := range cores {
			circuit := c.Name
			if c.Circuit >= 0 {
				circuit = j.Circuits[c.Circuit].Name
			}
			t.add(name, number, strconv.Itoa(c.Count), c.Cable.String(), dash(c.Colour.String()), dash(c.Function.String()), dash(circuit))
			name, number = "", ""
		}
		if len(cores) == 0 {
			t.add(name, "0", "", "", "", "", "")
		}
	}
	return t.write(w, "  ")
}

func dash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// singlesByCircuit lists each core with its two ends, the runs it passes and
// the length to cut.
func singlesByCircuit(w io.Writer, j *route.Job) error {
	for i := range j.Circuits {
		c := &j.Circuits[i]
		singles := j.Singles[c.Singles[0]:c.Singles[1]]
		fmt.Fprintf(w, "\nCIRCUIT %s\n", c.Name)
		if c.Saving.Shortest > 0 {
			fmt.Fprintf(w, "  order of least cable: %s m along one core against %s m as listed%s\n", sum.Figure(c.Saving.Shortest), sum.Figure(c.Saving.Listed), boundText(c.Saving))
		}
		t := columns{head: []string{"label", "function", "cable", "colour", "from", "to", "metres", "runs"}, right: []bool{false, false, false, false, false, false, true}, narrow: 8}
		for k := range singles {
			s := &singles[k]
			t.add(s.Mark(), dash(s.Function.String()), s.Cable.String(), dash(s.Colour.String()), terminalName(j, s.From), terminalName(j, s.To), fmt.Sprintf("%.2f", s.Length), passedText(j, s.Way))
		}
		if err := t.write(w, "  "); err != nil {
			return err
		}
	}
	return nil
}

func boundText(s route.Saving) string {
	if s.Exact {
		return " (no order is shorter)"
	}
	return fmt.Sprintf(" (no order is shorter than %s m)", sum.Figure(s.Bound))
}

func terminalName(j *route.Job, t route.Terminal) string {
	if t.Place < 0 {
		return "–"
	}
	name := j.Places[t.Place].Name
	if t.Gang > 0 && j.Places[t.Place].Gangs > 1 {
		name += " gang " + strconv.Itoa(t.Gang)
	}
	if t.Pin != route.NoPin {
		name += " " + t.Pin.String()
	}
	return name
}

func passedText(j *route.Job, way []route.Pass) string {
	names := make([]string, len(way))
	for i, p := range way {
		names[i] = j.Runs[p.Run].Name
	}
	return strings.Join(names, " ")
}

// singlesTotals adds up the metres of each size and colour, in reels.
func singlesTotals(w io.Writer, j *route.Job) error {
	if len(j.Singles) == 0 {
		return nil
	}
	fmt.Fprintln(w, "\nTOTALS, with tails and without waste")
	t := columns{head: []string{"cable", "colour", "metres", "reels"}, right: []bool{false, false, true, true}}
	for _, g := range totals(j) {
		t.add(g.cable.String(), dash(g.colour), fmt.Sprintf("%.2f", g.metres), fmt.Sprintf("%.2f", g.metres/float64(j.Stock.Reel.V)))
	}
	if err := t.write(w, "  "); err != nil {
		return err
	}
	return writeWrapped(w, "  ", "    ", fmt.Sprintf("a reel is %s m; tails %s at the board, %s at every other terminal (common practice, no source)",
		units.Format(float64(j.Stock.Reel.V)), metresText(j.Allow.BoardTail.V), metresText(j.Allow.AccessoryTail.V)))
}

func metresText(m units.Metres) string { return units.Format(float64(m.MM())) + " mm" }

type total struct {
	cable  factors.Cable
	colour string
	metres float64
}

func totals(j *route.Job) []total {
	var out []total
	for i := range j.Singles {
		s := &j.Singles[i]
		cable, colour := s.Cable, s.Colour.String()
		k := slices.IndexFunc(out, func(t total) bool { return t.cable == cable && t.colour == colour })
		if k < 0 {
			k = len(out)
			out = append(out, total{cable: cable, colour: colour})
		}
		out[k].metres += float64(s.Length)
	}
	slices.SortStableFunc(out, func(a, b total) int {
		return cmp.Or(cmp.Compare(a.cable.CSA, b.cable.CSA), strings.Compare(a.cable.String(), b.cable.String()))
	})
	return out
}

// drawInPlan prints the pulls in the order in which they are drawn.
func drawInPlan(w io.Writer, j *route.Job) error {
	draws := j.DrawIn()
	if len(draws) == 0 {
		return nil
	}
	fmt.Fprintln(w, "\nDRAW-IN PLAN, conduit complete before the first cable; all of a pull together")
	t := columns{head: []string{"no.", "pull", "feed at", "out at", "cables", "what goes in", "why this end"}, right: []bool{true, false, false, false, true}, most: []int{0, 0, 0, 0, 0, 32}, narrow: 24}
	for i, d := range draws {
		n := len(d.Singles)
		for _, l := range d.Listed {
			n += l.Count
		}
		t.add(strconv.Itoa(i+1), j.Pulls[d.Pull].Name(j), placeName(j, d.Feed), placeName(j, d.Out), strconv.Itoa(n), drawnText(j, d), d.Why)
	}
	return t.write(w, "  ")
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
	last := -1
	for _, i := range d.Singles {
		s := &j.Singles[i]
		if s.Circuit != last {
			if len(parts) > 0 {
				parts[len(parts)-1] += ";"
			}
			parts = append(parts, j.Circuits[s.Circuit].Name+":")
			last = s.Circuit
		}
		parts = append(parts, dash(s.Mark()))
	}
	return strings.Join(parts, " ")
}

// WriteLabels writes the label list, one row for each end of each core, for a
// label printer or a spreadsheet.
func WriteLabels(to io.Writer, j *route.Job) error {
	w := csv.NewWriter(to)
	w.UseCRLF = true
	rows := [][]string{{"circuit", "label", "function", "this end", "far end", "colour", "cable"}}
	for i := range j.Singles {
		s := &j.Singles[i]
		name := j.Circuits[s.Circuit].Name
		a, b := terminalName(j, s.From), terminalName(j, s.To)
		rows = append(rows,
			[]string{name, s.Mark(), s.Function.String(), a, b, s.Colour.String(), s.Cable.String()},
			[]string{name, s.Mark(), s.Function.String(), b, a, s.Colour.String(), s.Cable.String()})
	}
	for _, r := range rows {
		if err := w.Write(unformula(r)); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}
