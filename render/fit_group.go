package render

import (
	"fmt"
	"io"
	"math"
	"slices"

	"tubewright/factors/sum"
	"tubewright/fill"
	"tubewright/route"
)

// writeAsked says of which run the answer is, what lies there and what is to go
// in.
func writeAsked(w io.Writer, a *fill.Answer) {
	r := &a.Was.Runs[a.Run]
	_ = writeWrapped(w, "", "  ", fmt.Sprintf("run %s: %s, %s", r.Name, r.Enc, wayText(r))) // the buffer keeps every error for Flush
	if pull := a.Was.PullOf(a.Run); pull != nil && len(pull.Runs) > 1 {
		_ = writeWrapped(w, "  ", "    ", fmt.Sprintf("drawn in as one with %s: this run has the least room", pull.Name(a.Was)))
	}
	_ = writeWrapped(w, "  in it now: ", "    ", cableList(a.Was.Cores(a.Run)))
	if more := a.Job.Runs[a.Run].Listed[len(r.Listed):]; len(more) > 0 {
		cores := make([]route.Core, len(more))
		for i, l := range more {
			cores[i] = route.Core{Cable: l.Cable, Count: l.Count, Name: l.Name}
		}
		_ = writeWrapped(w, "  to go in:  ", "    ", cableList(cores))
	}
}

// writeGroup says what the circuits in the run may carry then.
func writeGroup(w io.Writer, a *fill.Answer) {
	g := a.Group
	name := a.Job.Runs[g.Run].Name
	fmt.Fprintln(w)
	if g.Unknown > 0 {
		_ = writeWrapped(w, "grouping: ", "  ", fmt.Sprintf("open: %s in run %s belong to no circuit; say in the job how many circuits they are (other circuits: N, 0 where none is loaded)", counted(g.Unknown, "cable", "cables"), name))
		return
	}
	_ = writeWrapped(w, "grouping: ", "  ", fmt.Sprintf("loaded circuits in run %s: %s", name, countsText(g)))
	for i := range g.Circuits {
		_ = writeWrapped(w, "  ", "    ", regroupedText(a.Job, &g.Circuits[i]))
	}
	for i := range g.New {
		n := &g.New[i]
		c := &a.Job.Circuits[n.Circuit]
		text := fmt.Sprintf("each %s asked for: group of %d, Cg %s: may carry %s A here", c.Name, n.Now.Counted, sum.Figure(n.Now.Cg), sum.Figure(n.Now.May))
		if n.Reason != "" {
			text = "each " + c.Name + " asked for: open: " + n.Reason
		}
		_ = writeWrapped(w, "  ", "    ", text)
	}
	if slices.ContainsFunc(g.Circuits, func(c fill.Regrouped) bool { return c.Now.Counted < g.Now }) {
		_ = writeWrapped(w, "  ", "    ", "(a circuit loaded to at most 30 % of its grouped rating is left out of the others' count)")
	}
	_ = writeWrapped(w, "  ", "    ", "(other runs that a new circuit passes: ask of each)")
}

func countsText(g *fill.Regrouping) string {
	text := fmt.Sprintf("%d now", g.Was)
	if g.Now != g.Was {
		text += fmt.Sprintf(", %d then", g.Now)
	}
	if g.Taken > 0 {
		text += fmt.Sprintf("; cables to go in are taken for %s: say 2.5 ring or 2.5 radial to be sure", counted(g.Taken, "circuit", "circuits"))
	}
	return text
}

// regroupedText is one circuit before and after.
func regroupedText(j *route.Job, g *fill.Regrouped) string {
	name := "circuit " + j.Circuits[g.Circuit].Name
	if g.Reason != "" {
		return name + ": open: " + g.Reason
	}
	text := fmt.Sprintf("%s: group of %d, Cg %s; may carry %s A, must carry %s A: ", name, g.Now.Counted, sum.Figure(g.Now.Cg), sum.Figure(g.Now.May), sum.Figure(g.Need))
	if g.Was != g.Now {
		text = fmt.Sprintf("%s: group of %d → %d, Cg %s → %s; may carry %s → %s A, must carry %s A: ", name, g.Was.Counted, g.Now.Counted,
			sum.Figure(g.Was.Cg), sum.Figure(g.Now.Cg), sum.Figure(g.Was.May), sum.Figure(g.Now.May), sum.Figure(g.Need))
	}
	switch {
	case g.Now.Verdict != fill.Fail:
		return text + "pass"
	case g.Was.Verdict == fill.Fail:
		return text + "FAILS already"
	}
	return text + "FAILS then"
}

// groupingJSON is what more circuits do to those in the run; unknown cables
// belong to no circuit, and then nothing else is known.
type groupingJSON struct {
	Verdict  string          `json:"verdict"`
	Was      int             `json:"circuits_now"`
	Now      int             `json:"circuits_then"`
	Taken    int             `json:"cables_taken_for_circuits"`
	Unknown  int             `json:"cables_of_no_circuit"`
	Circuits []regroupedJSON `json:"circuits"`
	New      []regroupedJSON `json:"asked_for"`
}

type regroupedJSON struct {
	Circuit string     `json:"circuit"`
	Need    *float64   `json:"must_carry_a"`
	Was     *shareJSON `json:"now,omitempty"`
	Now     *shareJSON `json:"then"`
	Reason  string     `json:"reason,omitempty"`
}

type shareJSON struct {
	Counted int      `json:"group_of"`
	Cg      *float64 `json:"cg"`
	May     *float64 `json:"may_carry_a"`
	Verdict string   `json:"verdict,omitempty"`
}

func regroupJSON(a *fill.Answer) *groupingJSON {
	g, word := a.Group, a.Group.Verdict().String()
	if g.Unknown > 0 {
		word = fill.Open.String()
	}
	out := &groupingJSON{word, g.Was, g.Now, g.Taken, g.Unknown, []regroupedJSON{}, []regroupedJSON{}}
	for _, c := range g.Circuits {
		out.Circuits = append(out.Circuits, regroupedJSON{a.Job.Circuits[c.Circuit].Name, number(c.Need), share(c.Was), share(c.Now), c.Reason})
	}
	for _, c := range g.New {
		then := share(c.Now)
		then.Verdict = "" // nothing is asked of its device
		out.New = append(out.New, regroupedJSON{a.Job.Circuits[c.Circuit].Name, number(math.NaN()), nil, then, c.Reason})
	}
	return out
}

func share(s fill.Share) *shareJSON {
	return &shareJSON{s.Counted, number(s.Cg), number(s.May), s.Verdict.String()}
}
