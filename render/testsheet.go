package render

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

// toMeasure is the gap that a reading is written into.
const toMeasure = "………"

// testsLive stands before everything that is tested on a live circuit.
const testsLive = "LIVE, a competent person, after every dead test has passed"

// WriteTestSheet prints what the tests of a job should read, with gaps for the
// readings: the sequence, the origin, each circuit, and how each value is
// found.
func WriteTestSheet(to io.Writer, t *fill.TestSheet) error {
	w := bufio.NewWriter(to)
	heading(w, t.Job.Name, t.Job.Date)
	fmt.Fprintf(w, "TEST SHEET, readings to expect with the conductors at %s °C\n", units.Format(float64(t.Celsius)))
	writeTemperatures(w)
	writeTestOrder(w, t)
	writeOrigin(w, t)
	for i := range t.Circuits {
		if err := writeCircuitTests(w, t, &t.Circuits[i]); err != nil {
			return err
		}
	}
	if len(t.Circuits) == 0 {
		fmt.Fprintln(w, "\nThe job has no circuits: no point to test.")
	} else {
		writeBoardInsulation(w, t)
		writeFound(w, t)
	}
	footer(w)
	return w.Flush()
}

func writeTemperatures(w io.Writer) {
	celsius, times := uk.TestTemperatures()
	parts := make([]string, len(celsius))
	for i := range celsius {
		parts[i] = fmt.Sprintf("%s °C × %s", units.Format(float64(celsius[i])), units.Format(times[i].Num))
	}
	_ = writeWrapped(w, "  ", "  ", "The lengths are those of the job with tails, the resistances the largest of the standard, so new cable reads a little less. At another temperature: "+
		strings.Join(parts, ", ")+fmt.Sprintf(" [%s, from memory].", times[0].Cite.Table.Ref))
	share, _ := uk.TestShare()
	_ = writeWrapped(w, "  ", "  ", fmt.Sprintf("The test limit of Zs is %s of the table's figure, which holds for hot conductors [%s]; with a residual device in a TT supply it is the table's figure itself.",
		units.Format(share.Num), share.Cite.Table.Ref))
}

func writeTestOrder(w io.Writer, t *fill.TestSheet) {
	_ = writeWrapped(w, "\nSEQUENCE, ", "  ", "a failure is put right and the tests before it done again"+bracketed(fill.OrderSource))
	live := false
	for i, s := range t.Order() {
		if i == 0 {
			fmt.Fprintln(w, "  DEAD")
		}
		if s.Live && !live {
			live = true
			_ = writeWrapped(w, "  ", "    ", testsLive)
		}
		_ = writeWrapped(w, fmt.Sprintf("    %s %2d  ", tickBox, s.Number), "          ", s.Text+bracketed(s.Source))
	}
}

func writeOrigin(w io.Writer, t *fill.TestSheet) {
	fmt.Fprintf(w, "\nORIGIN, %s\n", testsLive)
	tab := columns{head: []string{"test", "as the job gives it", "measured", ""}, right: []bool{false, true, false}, narrow: 30}
	for i := range t.Supply {
		e := &t.Supply[i]
		tab.add(testNames[e.Test], ohmText(e.Value)+unitAfter(e), toMeasure, e.Why)
	}
	_ = tab.write(w, "  ") // the buffer keeps every error for Flush
}

func unitAfter(e *fill.Expected) string {
	if math.IsNaN(e.Value) {
		return ""
	}
	return " " + e.Test.Unit()
}

// testNames say what a test measures.
var testNames = map[route.Test]string{
	route.LineEnds: "r1, line end to end", route.NeutralEnds: "rn, neutral end to end", route.CPCEnds: "r2, cpc end to end",
	route.External: "Ze", route.FaultAtOrigin: "prospective fault current",
}

// ohmText prints a resistance to three places: a milliohm more than most
// instruments show, for sums by hand.
func ohmText(v float64) string {
	switch {
	case math.IsNaN(v):
		return "–"
	case v >= 10:
		return sum.Figure(v)
	}
	return strconv.FormatFloat(v, 'f', 3, 64)
}

// limitText prints a limit with the digits of the tables, never more than it
// is.
func limitText(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return sum.Figure(v)
}

func writeBoardInsulation(w io.Writer, t *fill.TestSheet) {
	if len(t.Circuits) < 2 {
		return
	}
	_ = writeWrapped(w, "\n", "  ", fmt.Sprintf("The board's insulation tested as one has %d points in parallel: each must have %s MΩ for the whole to read the least; split the board before calling a low reading a fault.",
		t.Points(), sum.Figure(t.BoardEach())))
}
