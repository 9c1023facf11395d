package render

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"tubewright/factors/sum"
	"tubewright/fill"
)

// WriteFit prints the answer about one run in a few lines: whether it fits,
// the sum, and how many more of each size would go in.
func WriteFit(to io.Writer, f *fill.Finding, more []fill.More) error {
	w := bufio.NewWriter(to)
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
	fmt.Fprintf(w, "%s: %s of %s%s%s\n", answer, value, limit, unitTail(f.Unit), share(f))
	if f.Reason != "" {
		_ = writeWrapped(w, "", "  ", f.Reason, pageWidth)
	}
	fmt.Fprintln(w)
	steps := f.Steps()
	for k, s := range steps {
		writeStep(w, k+1, s)
	}
	if len(more) > 0 {
		parts := make([]string, len(more))
		for i, m := range more {
			parts[i] = fmt.Sprintf("%d of %s", m.Count, sum.Figure(float64(m.CSA)))
		}
		fmt.Fprintln(w)
		_ = writeWrapped(w, "still to go in, one size at a time: ", "  ", strings.Join(parts, ", ")+" mm² (space only: grouping lowers what each circuit may carry)", pageWidth)
	}
	fmt.Fprintln(w)
	for _, s := range fill.Sources(steps) {
		_ = writeWrapped(w, "source: ", "        ", s, pageWidth)
	}
	footer(w)
	return w.Flush()
}

func share(f *fill.Finding) string {
	s := sum.Figure(f.Value / f.Limit * 100)
	if s == "–" {
		return ""
	}
	return fmt.Sprintf(" (%.0f %%)", f.Value/f.Limit*100)
}
