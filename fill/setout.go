package fill

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"tubewright/factors/sum"
	"tubewright/route"
)

// setOut says what of a drawn run cannot be made with the tools that the job
// states. A run that can be made has no finding here: command setout shows it.
//
// Source: geometry, see route.SetOut.
//
// Of trunking that is one body the run that it begins with has the finding.
func setOut(w *sum.Work, m *matter, index int) Finding {
	if m.Job.SetOutUnder(index) != index {
		return Finding{}
	}
	made := m.Job.SetOut
	if m.brief && w == nil {
		made = func(_ *sum.Work, run int) route.SetOut { return m.Job.Shape(run) }
	}
	f := setOutFinding(w, m.Job, index, made)
	if f.Verdict == Pass {
		f.Verdict = 0
	}
	return f
}

// SetOutFinding judges whether a run can be made.
func SetOutFinding(w *sum.Work, j *route.Job, run int) Finding {
	return setOutFinding(w, j, run, j.SetOut)
}

func setOutFinding(w *sum.Work, j *route.Job, run int, made func(*sum.Work, int) route.SetOut) Finding {
	r := &j.Runs[run]
	f := Finding{Check: "set-out", Subject: "run " + r.Name, At: r.At, Value: none, Limit: none, Verdict: Pass}
	if !r.Drawn {
		f.Verdict = 0
		return f
	}
	s := made(w, run)
	if len(s.Lacks) == 0 {
		if len(s.Advice) > 0 {
			f.Verdict, f.Reason = Advise, strings.Join(s.Advice, "; ")
		}
		return f
	}
	l := slices.MaxFunc(s.Lacks, func(a, b route.Lack) int { return cmp.Compare(a.Limit-a.Value, b.Limit-b.Value) })
	f.Verdict, f.Value, f.Limit, f.AtLeast, f.Unit = Fail, l.Value, l.Limit, true, "mm" // what there is, what it takes
	f.Reason = fmt.Sprintf("%s: %s mm, at least %s mm needed", l.What, sum.Figure(l.Value), sum.Figure(l.Limit))
	if l.Instead != "" {
		f.Reason += "; instead: " + l.Instead
	}
	if n := len(s.Lacks) - 1; n > 0 {
		f.Reason += fmt.Sprintf("; %s more: setout lists them", counting(n, "reason"))
	}
	w.Note(f.Reason)
	return f
}
