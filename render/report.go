package render

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strings"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/fill"
)

// ReportOptions say how much of a report is printed and how.
type ReportOptions struct {
	All    bool // every finding, however many pass
	Colour bool
}

// manyFindings is from where passes are only counted, unless All is set.
const manyFindings = 200

// WriteReport prints the findings of a job as a table, then what fails or is
// open with its reason, the count, and the cautions.
func WriteReport(to io.Writer, r *fill.Report, o ReportOptions) error {
	w := bufio.NewWriter(to)
	heading(w, r.Job.Name, r.Job.Date)
	hide := !o.All && len(r.Findings) > manyFindings
	if err := findingTable(w, r, hide, o.Colour); err != nil {
		return err
	}
	reasons(w, r)
	fmt.Fprintf(w, "\n%s\n", Tally(r))
	if hide && r.Count()[fill.Pass] > 0 {
		fmt.Fprintf(w, "%d that pass are not listed (--all lists them)\n", r.Count()[fill.Pass])
	}
	if n := fromMemory(r); n > 0 {
		rest := "rest"
		if n == 1 {
			rest = "rests"
		}
		fmt.Fprintf(w, "%d of the findings %s on a figure known from memory only; work JOB shows which\n", n, rest)
	}
	footer(w)
	return w.Flush()
}

// findingTable prints the findings as a table, those that pass too unless they
// are hidden.
func findingTable(w io.Writer, r *fill.Report, hide, colour bool) error {
	t := columns{head: []string{"verdict", "check", "subject", "value", "limit", "left", "unit"}, right: []bool{false, false, false, true, true, true}}
	if colour {
		t.paint = paintVerdict
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		if hide && f.Verdict == fill.Pass {
			continue
		}
		value, limit := Figures(f)
		t.add(VerdictWord(f.Verdict), f.Check, f.Subject, value, limit, left(f), f.Unit)
	}
	return t.write(w, "")
}

func heading(w io.Writer, name, date string) {
	line := name
	if date != "" {
		line += ", " + date
	}
	_ = writeWrapped(w, "", "", line) // the buffer keeps every error for Flush
	_ = writeWrapped(w, "rules uk: ", "  ", uk.Edition)
	fmt.Fprintln(w)
}

func footer(w io.Writer) {
	fmt.Fprintln(w)
	for _, c := range Cautions {
		_ = writeWrapped(w, "", "  ", c)
	}
}

// VerdictWord is the verdict as printed: a failure stands out without colour.
func VerdictWord(v fill.Verdict) string {
	if v == fill.Fail {
		return "FAIL"
	}
	return v.String()
}

// Figures prints value and limit with as many digits as tell them apart; a
// dash where there is none.
func Figures(f *fill.Finding) (value, limit string) {
	if math.IsNaN(f.Value) || math.IsNaN(f.Limit) {
		return sum.Figure(f.Value), sum.Figure(f.Limit)
	}
	return sum.Apart(f.Value, f.Limit)
}

func left(f *fill.Finding) string { return sum.Figure(f.Margin()) }

const (
	red    = "\x1b[31;1m"
	yellow = "\x1b[33m"
	green  = "\x1b[32m"
	plain  = "\x1b[0m"
)

func paintVerdict(column int, cell string) string {
	if column != 0 {
		return cell
	}
	switch strings.TrimSpace(cell) {
	case "FAIL":
		return red + cell + plain
	case "advise", "open":
		return yellow + cell + plain
	case "pass":
		return green + cell + plain
	}
	return cell
}

// reasons explains every finding that does not simply pass.
func reasons(w io.Writer, r *fill.Report) {
	first := true
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Reason == "" || f.Verdict == fill.Pass {
			continue
		}
		if first {
			fmt.Fprintln(w)
			first = false
		}
		lead := fmt.Sprintf("%s %s, %s: ", VerdictWord(f.Verdict), f.Check, f.Subject)
		_ = writeWrapped(w, "", "    ", lead+f.Reason+failsIn(r.Job, f))
	}
}

// Tally says how many findings have each verdict.
func Tally(r *fill.Report) string {
	n := r.Count()
	parts := []string{}
	for _, v := range []fill.Verdict{fill.Fail, fill.Open, fill.Advise, fill.Pass} {
		if n[v] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n[v], VerdictWord(v)))
		}
	}
	if len(parts) == 0 {
		return "nothing to judge"
	}
	return strings.Join(parts, ", ")
}

// fromMemory counts the findings whose working cites a figure from memory.
// Of a job with very many findings it looks at the first ones only.
func fromMemory(r *fill.Report) int {
	n := 0
	for i := range r.Findings[:min(len(r.Findings), manyFindings)] {
		for _, s := range fill.Sources(r.Findings[i].Steps()) {
			if strings.Contains(s, "(from memory)") {
				n++
				break
			}
		}
	}
	return n
}
