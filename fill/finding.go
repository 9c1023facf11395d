// Package fill judges a job: does what lies in each run fit, may it be drawn
// in, may it carry its load. Each check is a pure function from a job to
// findings; none of them formats anything.
package fill

import (
	"math"

	"tubewright/factors"
	"tubewright/factors/source"
	"tubewright/factors/sum"
	"tubewright/route"
)

// Verdict is the outcome of a check.
type Verdict uint8

// The verdicts, from the mildest to the gravest.
const (
	Pass   Verdict = iota + 1
	Advise         // common practice or a disputed figure, not the table
	Open           // no published table covers it
	Fail
)

var verdictWords = [...]string{"", "pass", "advise", "open", "fail"}

func (v Verdict) String() string { return verdictWords[v] }

// Finding is what one check says of one subject.
type Finding struct {
	Check   string // "space"
	Subject string // "run A"
	At      source.Pos
	Verdict Verdict
	Value   float64 // NaN where there is none
	Limit   float64 // NaN where no table gives one
	AtLeast bool    // the value may not fall below the limit
	Unit    string
	Reason  string   // what decided it, and what to do when it fails
	Method  string   // how it was judged, where there are several ways
	Instead []string // what would pass, the smallest first
	Runs    []int    // of a finding about a circuit: the runs where it fails, in the job's order; none where it fails as a whole

	rule   rule
	matter *matter
	index  int
}

// matter is what the rules judge: the job, and what several of them need.
type matter struct {
	*route.Job
	groups []group     // of each run; nil: work one out when it is asked for
	loads  []float64   // of each circuit, A; nil likewise
	used   map[int]use // of each place; nil likewise
	brief  bool        // what would mend a set-out is not looked for

	swapped int // a circuit judged with another cable, -1 for none
	cable   factors.Cable
}

func newMatter(j *route.Job) *matter { return &matter{Job: j, swapped: -1} }

// cableOf is the line conductor's cable of a circuit.
func (m *matter) cableOf(circuit int) factors.Cable {
	if circuit == m.swapped {
		return m.cable
	}
	return m.Circuits[circuit].Cable.V
}

// rule judges the subject of that index. With a nil w no steps are kept.
type rule func(w *sum.Work, m *matter, index int) Finding

// judge runs a rule and keeps what is needed to show its working.
func judge(m *matter, r rule, index int) Finding {
	f := r(nil, m, index)
	f.rule, f.matter, f.index = r, m, index
	return f
}

// Steps is the working: the rule run again with every step written down.
func (f *Finding) Steps() []sum.Step {
	w := &sum.Work{}
	f.rule(w, f.matter, f.index)
	return w.Steps
}

// Margin is what is left between value and limit, below nought what is short,
// NaN where either is missing.
func (f *Finding) Margin() float64 {
	if f.AtLeast {
		return f.Value - f.Limit
	}
	return f.Limit - f.Value
}

// Sources lists the citations of a working in full, each once.
func Sources(steps []sum.Step) []string {
	out := []string{}
	seen := map[string]bool{}
	for _, s := range steps {
		for _, c := range s.Cites {
			text := c.String()
			if full, ok := c.(*factors.Citation); ok {
				text = full.Full()
			}
			if !seen[text] {
				seen[text] = true
				out = append(out, text)
			}
		}
	}
	return out
}

// Report is everything found about a job.
type Report struct {
	Job      *route.Job
	Findings []Finding
}

// Verdict is the gravest of the findings.
func (r *Report) Verdict() Verdict {
	worst := Pass
	for i := range r.Findings {
		worst = max(worst, r.Findings[i].Verdict)
	}
	return worst
}

// Count returns how many findings have each verdict.
func (r *Report) Count() map[Verdict]int {
	n := map[Verdict]int{}
	for i := range r.Findings {
		n[r.Findings[i].Verdict]++
	}
	return n
}

var none = math.NaN()

// ruleText cites a rule by its text; it is not a table.
type ruleText string

func (r ruleText) String() string { return string(r) }
