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
)

// WriteFit prints the answer about one run: whether it fits, the sum, how many
// more of each size would go in, and of a run of a job what the circuits there
// may carry then.
func WriteFit(to io.Writer, a *fill.Answer) error {
	w := bufio.NewWriter(to)
	f := &a.Space
	if a.Was != nil {
		writeAsked(w, a)
	}
	writeFits(w, f)
	if f.Verdict != fill.Fail && a.Group.Verdict() == fill.Fail {
		fmt.Fprintln(w, "BUT NOT BY GROUPING: a circuit in it may carry too little, see grouping below")
	}
	fmt.Fprintln(w)
	steps, number := f.Steps(), 0
	for _, s := range steps {
		if s.Symbol != "" || s.Meaning != f.Reason { // which stands above already
			number++
			writeStep(w, number, s)
		}
	}
	if len(a.More) > 0 && f.Verdict != fill.Fail {
		fmt.Fprintln(w)
		_ = writeWrapped(w, "still to go in, one size at a time: ", "  ", moreText(a.More))
		writeCircuits(w, a.More)
		if a.Group == nil {
			fmt.Fprintln(w, "  (space only: grouping lowers what each circuit may carry)")
		}
	}
	sources := fill.Sources(steps)
	if a.Group != nil {
		writeGroup(w, a)
		sources = append(sources, a.Group.Citations...)
	}
	for i, s := range sources {
		if i == 0 {
			fmt.Fprintln(w)
		}
		_ = writeWrapped(w, "source: ", "        ", s)
	}
	footer(w)
	return w.Flush()
}

// writeFits is the verdict, and why.
func writeFits(w io.Writer, f *fill.Finding) {
	value, limit := Figures(f)
	answer := "fits"
	switch f.Verdict {
	case fill.Fail:
		answer = "DOES NOT FIT"
	case fill.Advise:
		answer = "fits by the space factor (advice, no table)"
	case fill.Open:
		answer = "open: no published figure"
	}
	if math.IsNaN(f.Limit) {
		fmt.Fprintln(w, answer)
	} else {
		fmt.Fprintf(w, "%s: %s of %s (%.0f %%)\n", answer, value, sum.WithUnit(limit, f.Unit), f.Value/f.Limit*100)
	}
	if f.Reason != "" {
		_ = writeWrapped(w, "", "  ", f.Reason) // the buffer keeps every error for Flush
	}
}

// usualRadials and usualRings are the sizes of circuits spoken of unasked, in
// mm². Common practice, no source.
var (
	usualRadials = []units.SquareMM{1, 1.5, 2.5, 4, 6, 10}
	usualRings   = []units.SquareMM{2.5, 4}
)

// writeCircuits says the same by whole circuits.
func writeCircuits(w io.Writer, more []fill.More) {
	radials := circuitText(more, usualRadials, fill.More.Radials)
	rings := circuitText(more, usualRings, fill.More.Rings)
	_ = writeWrapped(w, "  radial circuits (line, neutral and cpc of one size): ", "    ", radials)
	_ = writeWrapped(w, "  rings (both legs in this run): ", "    ", rings)
}

// circuitText lists how many circuits of each size go in, and the sizes of
// which none does.
func circuitText(more []fill.More, usual []units.SquareMM, count func(fill.More) int) string {
	var some, none []string
	for _, m := range more {
		size := sum.Figure(float64(m.CSA)) + " mm²"
		switch n := count(m); {
		case !slices.Contains(usual, m.CSA):
		case n == 0:
			none = append(none, size)
		default:
			some = append(some, fmt.Sprintf("%d × %s", n, size))
		}
	}
	switch {
	case len(some) == 0:
		return "none"
	case len(none) > 0:
		some = append(some, "none of "+strings.Join(none, ", "))
	}
	return strings.Join(some, ", ")
}

// moreText lists how many of each size go in, and the sizes of which none does.
func moreText(more []fill.More) string {
	var some, none []string
	for _, m := range more {
		size := sum.Figure(float64(m.CSA))
		if m.Count == 0 {
			none = append(none, size)
			continue
		}
		some = append(some, fmt.Sprintf("%d × %s mm²", m.Count, size))
	}
	if len(none) > 0 {
		some = append(some, "none of "+strings.Join(none, ", ")+" mm²")
	}
	return strings.Join(some, ", ")
}
