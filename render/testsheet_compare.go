package render

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"tubewright/factors/sum"
	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

// WriteComparison prints readings beside what was expected of them, what a
// deviation usually means, and what is not measured yet.
func WriteComparison(to io.Writer, c *fill.Comparisons, colour bool) error {
	w := bufio.NewWriter(to)
	heading(w, c.Sheet.Job.Name, c.Measured.Date)
	_ = writeWrapped(w, "", "  ", measuredTitle(c))
	fmt.Fprintln(w)
	tab := columns{head: []string{"verdict", "test", "of", "read", "expected", "from", "to", "limit", "unit"}, right: []bool{false, false, false, true, true, true, true, true}}
	if colour {
		tab.paint = paintVerdict
	}
	for i := range c.Results {
		x := &c.Results[i]
		expected := "–"
		if x.Expected != nil {
			expected = expectedText(x.Expected)
		}
		tab.add(VerdictWord(x.Verdict), x.Check, x.Subject, readText(x), expected, boundText3(x.Low), boundText3(x.High), limitSign(x), x.Unit)
	}
	if err := tab.write(w, ""); err != nil {
		return err
	}
	writeMeanings(w, c)
	writeMissing(w, c)
	writeAllowance(w, &c.Allow)
	fmt.Fprintf(w, "\n%s\n", Tally(c.Report()))
	footer(w)
	return w.Flush()
}

// writeAllowance says by how much a reading may differ, and how to state it.
func writeAllowance(w io.Writer, a *fill.Allowance) {
	text := fmt.Sprintf("Between from and to lies what instrument, leads and temperature may make of the expected value: allowance: {instrument: %s %%, continuity: %s ohm, loop: %s ohm, temperature: %s C}",
		units.Format(a.Share*100), units.Format(a.Continuity), units.Format(a.Loop), units.Format(a.Kelvin))
	if a.Stated {
		text += ", as the file states in whole or part."
	} else {
		text += ", common practice without a source: the file may state its own."
	}
	_ = writeWrapped(w, "\n", "", text)
}

// measuredTitle says which file, by whom and at which temperature.
func measuredTitle(c *fill.Comparisons) string {
	s := "READINGS of " + c.Measured.File.Name
	if c.Measured.TestedBy != "" {
		s += ", tested by " + c.Measured.TestedBy
	}
	s += ", conductors at " + units.Format(float64(c.Sheet.Celsius)) + " °C"
	if !c.Measured.Ambient.Said() {
		s += ": the file does not say (ambient: 15 C)"
	}
	if slices.ContainsFunc(c.Measured.Readings, func(r route.Reading) bool { return r.Test == route.External }) {
		s += "; Zs to expect with Ze as read"
	}
	return s
}

func boundText3(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return ohmText(v)
}

// readText is a reading as it is written down.
func readText(x *fill.Comparison) string {
	switch {
	case x.Reading == nil:
		return ohmText(x.Value)
	case math.IsInf(x.Value, 1):
		return "open"
	case x.Reading.Test == route.Polarity:
		return [...]string{"no", "yes"}[int(x.Value)]
	case x.Reading.Test == route.HalfTrip:
		return [...]string{"no trip", "trips"}[int(x.Value)]
	case x.Reading.Over:
		return "> " + sum.Figure(x.Value)
	}
	return sum.Figure(x.Value)
}

func expectedText(e *fill.Expected) string {
	switch {
	case e.Test == route.Polarity:
		return "yes"
	case e.Test == route.HalfTrip:
		return "no trip"
	}
	return ohmText(e.Value)
}

// limitSign is the limit with its sign: ≥ for the least, ≤ for the most.
func limitSign(x *fill.Comparison) string {
	switch {
	case math.IsNaN(x.Limit):
		return ""
	case x.Expected != nil && x.Limit == x.Expected.Least:
		return "≥ " + sum.Figure(x.Limit)
	}
	return "≤ " + sum.Figure(x.Limit)
}

// writeMeanings prints the reason of every result that has one, and beneath it
// what it usually means.
func writeMeanings(w io.Writer, c *fill.Comparisons) {
	said := false
	for i := range c.Results {
		x := &c.Results[i]
		if x.Reason == "" {
			continue
		}
		if !said {
			fmt.Fprintln(w, "\nWHAT IT USUALLY MEANS; common practice, no source")
			said = true
		}
		_ = writeWrapped(w, "  ", "    ", VerdictWord(x.Verdict)+" "+x.Check+", "+x.Subject+": "+x.Reason)
		for _, m := range x.Means {
			_ = writeWrapped(w, "      – ", "        ", m)
		}
	}
}

// writeMissing lists what has not been measured, a line a circuit.
func writeMissing(w io.Writer, c *fill.Comparisons) {
	if len(c.Missing) == 0 {
		return
	}
	fmt.Fprintf(w, "\nNOT MEASURED, %d of the sheet\n", len(c.Missing))
	for k := 0; k < len(c.Missing); {
		circuit := c.Missing[k].Circuit
		var parts []string
		for ; k < len(c.Missing) && c.Missing[k].Circuit == circuit; k++ {
			e := &c.Missing[k]
			text := e.Test.String()
			if e.Point >= 0 {
				text += " at " + c.Sheet.Job.PathName(&c.Sheet.Circuits[circuit].Paths[e.Point])
			}
			parts = append(parts, text)
		}
		name := "origin"
		if circuit >= 0 {
			name = oneLine(c.Sheet.Job.Circuits[circuit].Name)
		}
		_ = writeWrapped(w, "  "+name+": ", "    ", strings.Join(parts, ", "))
	}
}
