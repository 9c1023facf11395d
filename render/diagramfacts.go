package render

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tubewright/factors"
	"tubewright/factors/source"
	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

// runFacts is what the diagram says of one run.
type runFacts struct {
	verdict  fill.Verdict // the gravest finding of the run, 0 where none judges it
	space    *fill.Finding
	findings []*fill.Finding // of the run or the pull it lies in
	failing  []string        // circuits whose own checks fail here, and which
}

// circuitFacts is what the diagram says of one circuit.
type circuitFacts struct {
	verdict  fill.Verdict
	findings []*fill.Finding
}

// subject is how a finding names what it judges. A pull is named after its
// runs, so the position tells it from a run that happens to bear that name.
type subject struct {
	name string
	at   source.Pos
}

// gather sorts the findings by run and circuit; others are what is found of
// anything else, such as the board, and does not pass.
//
// Cost: linear in runs, circuits and findings.
func gather(r *fill.Report) (runs []runFacts, circuits []circuitFacts, others []*fill.Finding) {
	j := r.Job
	runs = make([]runFacts, len(j.Runs))
	circuits = make([]circuitFacts, len(j.Circuits))
	judged := runSubjects(j)
	byCircuit := make(map[subject]int, len(j.Circuits))
	for i := range j.Circuits {
		byCircuit[subject{"circuit " + j.Circuits[i].Name, j.Circuits[i].At}] = i
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		key := subject{f.Subject, f.At}
		for _, run := range judged[key] {
			runs[run].add(f)
		}
		if c, ok := byCircuit[key]; ok {
			circuits[c].findings = append(circuits[c].findings, f)
			circuits[c].verdict = max(circuits[c].verdict, f.Verdict)
			if f.Verdict == fill.Fail {
				for _, run := range f.Runs {
					runs[run].failing = append(runs[run].failing, fmt.Sprintf("%s (%s)", oneLine(j.Circuits[c].Name), f.Check))
				}
			}
		} else if judged[key] == nil && f.Verdict != fill.Pass {
			others = append(others, f)
		}
	}
	return runs, circuits, others
}

// runSubjects are the runs that a finding of each run or pull is about.
func runSubjects(j *route.Job) map[subject][]int {
	judged := make(map[subject][]int, len(j.Runs))
	for i := range j.Runs {
		judged[subject{"run " + j.Runs[i].Name, j.Runs[i].At}] = []int{i}
	}
	for k := range j.Pulls {
		p := &j.Pulls[k]
		judged[subject{"run " + p.Name(j), j.Runs[p.Runs[0]].At}] = p.Runs
	}
	return judged
}

func (f *runFacts) add(found *fill.Finding) {
	f.findings = append(f.findings, found)
	f.verdict = max(f.verdict, found.Verdict)
	if found.Check == "space" {
		f.space = found
	}
}

// grave reports whether something fails here: the run, or a circuit in it.
func (f *runFacts) grave() bool { return f.verdict == fill.Fail || len(f.failing) > 0 }

// word is what is written beside the run's name where not all is well with it.
func (f *runFacts) word() string {
	switch {
	case f.verdict != fill.Fail && len(f.failing) > 0:
		return "circuit " + VerdictWord(fill.Fail)
	case f.verdict != fill.Pass && f.verdict != 0:
		return VerdictWord(f.verdict)
	}
	return ""
}

// full says how full the run is: 195 of 286, 68 %.
func (f *runFacts) full() string {
	if f.space == nil || math.IsNaN(f.space.Value) {
		return ""
	}
	value, limit := Figures(f.space)
	unit := ""
	if f.space.Unit != "" {
		unit = " " + f.space.Unit
	}
	if math.IsNaN(f.space.Limit) {
		return value + unit + ", no limit in the table"
	}
	return fmt.Sprintf("%s of %s%s, %s", value, limit, unit, percentOf(f.space.Value, f.space.Limit))
}

// percentOf rounds so that 100 % is never shown for what is over it, nor more
// for what is not.
func percentOf(value, limit float64) string {
	p := math.Round(value / limit * 100)
	if p <= 100 && value > limit {
		return "over 100 %"
	}
	if p > 100 && value <= limit {
		p = 100
	}
	return fmt.Sprintf("%.0f %%", p)
}

// reasons are the findings that do not pass, the gravest first. Where the pull
// itself is past the table, the space check only says so again.
func (f *runFacts) reasons() []string {
	var out []string
	pastTable := slices.ContainsFunc(f.findings, func(g *fill.Finding) bool { return g.Check == "draw-in" && g.Verdict == fill.Fail })
	for _, v := range []fill.Verdict{fill.Fail, fill.Open, fill.Advise} {
		for _, g := range f.findings {
			if g.Verdict != v || g.Reason == "" || g.Check == "space" && pastTable && math.IsNaN(g.Limit) {
				continue
			}
			out = append(out, g.Check+": "+oneLine(g.Reason))
		}
	}
	return out
}

// cableList lists what lies in a run: 3 x 4, 3 x 1.5.
func cableList(cores []route.Core) string {
	type kind struct {
		cable factors.Cable
		name  string
	}
	var order []kind
	count := map[kind]int{}
	for _, c := range cores {
		k := kind{c.Cable, c.Name}
		if count[k] == 0 {
			order = append(order, k)
		}
		count[k] += c.Count
	}
	parts := make([]string, len(order))
	for i, k := range order {
		parts[i] = fmt.Sprintf("%d x %s", count[k], cableShort(k.cable, k.name))
	}
	if len(parts) == 0 {
		return "no cables named"
	}
	return strings.Join(parts, ", ")
}

// cableShort names a cable in a word or two; the usual make is not said.
func cableShort(c factors.Cable, name string) string {
	if c.Form == factors.Round {
		return strings.TrimSpace("⌀" + units.Format(float64(c.OD)) + " " + oneLine(name))
	}
	s := units.Format(float64(c.CSA))
	switch {
	case c.Form == factors.TwinEarth:
		s += " twin and earth"
	case c.Strands == factors.Flexible:
		s += " flexible"
	}
	if c.Insulation == factors.Thermosetting {
		s += " thermosetting"
	}
	return s
}

func coreCount(cores []route.Core) int {
	n := 0
	for _, c := range cores {
		n += c.Count
	}
	return n
}

// wayText says how long a run is and how it bends: 1.96 m, 1 set.
func wayText(r *route.Run) string {
	if r.Existing {
		one := *r
		one.Existing = false
		return wayText(&one) + ", existing"
	}
	length := units.Format(math.Round(float64(r.Length)*1000)/1000) + " m"
	switch {
	case r.Drawn && r.Bends.Right+r.Bends.Sets+len(r.Bends.Other) > 0:
		return length + ", " + r.Bends.String()
	case r.Drawn || r.Bends.Count == 0:
		return length + ", straight"
	case r.Bends.Count == 1:
		return length + ", 1 bend"
	}
	return fmt.Sprintf("%s, %d bends", length, r.Bends.Count)
}

// gravestFirst orders indices: what fails first, else as they stand.
func gravestFirst(n int, grave func(int) bool) []int {
	out := make([]int, 0, n)
	for _, want := range []bool{true, false} {
		for i := range n {
			if grave(i) == want {
				out = append(out, i)
			}
		}
	}
	return out
}
