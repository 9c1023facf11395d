package render

import (
	"fmt"
	"io"
	"strings"

	"tubewright/fill"
)

// sizeChecks are the checks that settle a size on the bill: of a conductor, or
// of what it lies in.
var sizeChecks = map[string]bool{"space": true, "rating": true, "drop": true, "fault": true, "adiabatic": true}

// failed names the checks that fail: "space, run A".
func (b *PricedBill) failed() []string { return failed(b.Report) }

// unsettled names the checks that are open and leave a size undecided.
func (b *PricedBill) unsettled() []string { return unsettled(b.Report) }

func failed(r *fill.Report) []string {
	return findings(r, func(f *fill.Finding) bool { return f.Verdict == fill.Fail })
}

func unsettled(r *fill.Report) []string {
	return findings(r, func(f *fill.Finding) bool { return f.Verdict == fill.Open && sizeChecks[f.Check] })
}

func findings(r *fill.Report, of func(*fill.Finding) bool) []string {
	out := []string{}
	if r == nil {
		return out
	}
	for i := range r.Findings {
		if f := &r.Findings[i]; of(f) {
			out = append(out, f.Check+", "+f.Subject)
		}
	}
	return out
}

// checkNotes say at the top of a page, a bill or a list, that the job it is for
// does not pass its checks, or that sizes are open; none where neither is so.
func checkNotes(r *fill.Report, page string) (notes []string) {
	if list := failed(r); len(list) > 0 {
		notes = append(notes, counted(len(list), "check FAILS", "checks FAIL")+": this "+page+" is for a job that does not pass (command check says why): "+someOf(list))
	}
	if list := unsettled(r); len(list) > 0 {
		notes = append(notes, counted(len(list), "check is OPEN, so that a size on this "+page+" is not settled", "checks are OPEN, so that sizes on this "+page+" are not settled")+" (command check says why): "+someOf(list))
	}
	return notes
}

// someOf is a list of names as far as a note can hold it; CSV and JSON have all.
func someOf(list []string) string {
	const most = 20
	if n := len(list) - most; n > 0 {
		return fmt.Sprintf("%s; and %d more", strings.Join(list[:most], "; "), n)
	}
	return strings.Join(list, "; ")
}

func writeChecks(w io.Writer, r *fill.Report, page string) {
	for _, n := range checkNotes(r, page) {
		_ = writeWrapped(w, "", "  ", n) // the buffer keeps every error for Flush
		fmt.Fprintln(w)
	}
}
