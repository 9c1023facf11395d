package fill

import (
	"math"
	"slices"

	"tubewright/factors/sum"
	"tubewright/route"
)

// Answer is what fit says of one run.
type Answer struct {
	Job   *route.Job
	Run   int
	Space Finding
	More  []More
	Was   *route.Job // the job before more was put into the run; nil without a job file
	Group *Regrouping
}

// Ask judges the space of the only run of a job, which is all that an installer
// asks about a tube without a job file. A run without cables passes.
func Ask(j *route.Job) *Answer {
	return &Answer{Job: j, Space: spaceOf(j, 0), More: MoreOf(j, 0)}
}

// AskMore judges a run of a job into which more is drawn: the space, in that run
// of its pull which has the least room, and the grouping in the run itself.
func AskMore(was, now *route.Job, run int) *Answer {
	a := &Answer{Job: now, Was: was, Run: run, Space: spaceOf(now, run), Group: regrouping(was, now, run)}
	if pull := now.PullOf(run); pull != nil {
		for _, r := range pull.Runs {
			if f := spaceOf(now, r); f.Verdict > a.Space.Verdict || f.Verdict == a.Space.Verdict && f.Margin() < a.Space.Margin() {
				a.Run, a.Space = r, f
			}
		}
	}
	a.More = MoreOf(now, a.Run)
	return a
}

// Regrouping is what more circuits in a run do to those that are there.
type Regrouping struct {
	Run       int
	Was, Now  int         // loaded circuits
	Taken     int         // circuits that listed cables were taken for
	Unknown   int         // cables that belong to no circuit, where nothing says how many circuits they are; the rest is empty then
	Circuits  []Regrouped // those that are there
	New       []Regrouped // those asked for, one of each kind; Was is empty
	Citations []string
}

// Verdict is the gravest of the circuits that are there.
func (g *Regrouping) Verdict() Verdict {
	worst := Pass
	if g != nil {
		for i := range g.Circuits {
			worst = max(worst, g.Circuits[i].Now.Verdict)
		}
	}
	return worst
}

// Regrouped is what a circuit's cable may carry in the run.
type Regrouped struct {
	Circuit  int
	Was, Now Share
	Need     float64 // what it must carry, A; of one asked for 0
	Reason   string  // why there is no figure
}

// Share is one circuit's part of a group.
type Share struct {
	Counted int     // circuits that bear on it
	Cg      float64 // group factor
	May     float64 // A
	Verdict Verdict
}

func regrouping(was, now *route.Job, run int) *Regrouping {
	g := &Regrouping{Run: run}
	if r := &was.Runs[run]; r.Unassigned() {
		for _, l := range r.Listed {
			g.Unknown += l.Count
		}
		return g
	}
	a, b := newMatter(was), newMatter(now)
	g.Was, g.Now = a.group(run).all.n, b.group(run).all.n
	g.Taken = now.Runs[run].Other.V - was.Runs[run].Other.V
	w := &sum.Work{}
	for _, c := range now.Runs[run].Carries {
		one := Regrouped{Circuit: c.Circuit}
		one.Now, one.Need, one.Reason = b.shareOf(w, c.Circuit, run)
		switch old := c.Circuit < len(was.Circuits); {
		case old:
			one.Was, _, _ = a.shareOf(nil, c.Circuit, run)
			g.Circuits = append(g.Circuits, one)
		case now.Choices.Overload.V != route.NotTogether && !slices.ContainsFunc(g.New, func(n Regrouped) bool { return now.Circuits[n.Circuit].Name == now.Circuits[c.Circuit].Name }):
			g.New = append(g.New, one)
		}
	}
	g.Citations = Sources(w.Steps)
	return g
}

// shareOf is what a circuit may carry in a run, and what it must.
func (m *matter) shareOf(w *sum.Work, circuit, run int) (s Share, need float64, reason string) {
	c := &m.Circuits[circuit]
	Ib := designCurrent(nil, m, c)
	n, have, err := stretch(w, m, circuit, run, Ib, sum.Term{Symbol: "In", Value: float64(c.Device.V.Rating), Unit: "A"})
	g := m.group(run)
	bears := g.bears(circuit)
	cg, cgErr := bears.factor(nil)
	s.Counted = bears.n
	s.Cg, s.May, s.Verdict = cg.Value, have.Value, Pass
	switch {
	case err != nil || cgErr != nil:
		s.Cg, s.May, s.Verdict = math.NaN(), math.NaN(), Open
		return s, n.Value, openReason(err)
	case !sum.AtMost(n.Value, have.Value):
		s.Verdict = Fail
	}
	return s, n.Value, ""
}
