package render

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"tubewright/factors/sum"
	"tubewright/fill"
)

// WriteWorking prints every step of every finding as a student would write it:
// what is worked out, the formula, the numbers put in, the result, and the
// table it comes from.
func WriteWorking(to io.Writer, r *fill.Report) error {
	w := bufio.NewWriter(to)
	heading(w, r.Job.Name, r.Job.Date)
	for i := range r.Findings {
		f := &r.Findings[i]
		title := f.Check + ", " + f.Subject
		fmt.Fprintf(w, "%s\n%s\n", title, strings.Repeat("-", len([]rune(title))))
		steps := f.Steps()
		for k, s := range steps {
			writeStep(w, k+1, s)
		}
		fmt.Fprintf(w, "  verdict: %s%s\n", VerdictWord(f.Verdict), against(f))
		if f.Reason != "" && !noteSays(steps, f.Reason) {
			_ = writeWrapped(w, "  ", "  ", f.Reason)
		}
		for _, s := range fill.Sources(steps) {
			_ = writeWrapped(w, "  source: ", "          ", s)
		}
		fmt.Fprintln(w)
	}
	fmt.Fprintln(w, Tally(r))
	footer(w)
	return w.Flush()
}

// against says what was held against what.
func against(f *fill.Finding) string {
	value, limit := Figures(f)
	switch {
	case math.IsNaN(f.Value):
		return ""
	case math.IsNaN(f.Limit):
		return " (" + sum.WithUnit(value, f.Unit) + ", no limit)"
	}
	return " (" + value + " against " + sum.WithUnit(limit, f.Unit) + ")"
}

// noteSays reports whether a step is that sentence already.
func noteSays(steps []sum.Step, text string) bool {
	return slices.ContainsFunc(steps, func(s sum.Step) bool { return s.Symbol == "" && s.Meaning == text })
}

// writeStep prints a step: a note as a sentence, a sum under what it means.
func writeStep(w io.Writer, number int, s sum.Step) {
	lead := fmt.Sprintf("%3d  ", number)
	text := s.Meaning
	if s.Symbol == "" {
		if len(s.Cites) > 0 {
			text += " [" + s.Sources() + "]"
		}
		_ = writeWrapped(w, lead, "     ", text)
		return
	}
	_ = writeWrapped(w, lead, "     ", text)
	_ = writeWrapped(w, "       ", "         ", s.String())
}
