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
func (b *PricedBill) failed() []string {
	return b.findings(func(f *fill.Finding) bool { return f.Verdict == fill.Fail })
}

// unsettled names the checks that are open and leave a size undecided.
func (b *PricedBill) unsettled() []string {
	return b.findings(func(f *fill.Finding) bool { return f.Verdict == fill.Open && sizeChecks[f.Check] })
}

func (b *PricedBill) findings(of func(*fill.Finding) bool) []string {
	out := []string{}
	if b.Report == nil {
		return out
	}
	for i := range b.Report.Findings {
		if f := &b.Report.Findings[i]; of(f) {
			out = append(out, f.Check+", "+f.Subject)
		}
	}
	return out
}

// checkNotes say above the items that the job they are counted for does not
// pass its checks, or that sizes are open; none where neither is so.
func checkNotes(b *PricedBill) (notes []string) {
	if list := b.failed(); len(list) > 0 {
		notes = append(notes, counted(len(list), "check FAILS", "checks FAIL")+": this bill is for a job that does not pass (command check says why): "+someOf(list))
	}
	if list := b.unsettled(); len(list) > 0 {
		notes = append(notes, counted(len(list), "check is OPEN, so that a size on this bill is not settled", "checks are OPEN, so that sizes on this bill are not settled")+" (command check says why): "+someOf(list))
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

func writeChecks(w io.Writer, b *PricedBill) {
	for _, n := range checkNotes(b) {
		_ = writeWrapped(w, "", "  ", n) // the buffer keeps every error for Flush
		fmt.Fprintln(w)
	}
}
