package route

import (
	"strings"

	"tubewright/factors"
	"tubewright/factors/source"
)

// QuickAsk is one run as an installer asks about it, without a job file.
type QuickAsk struct {
	In, Length, Bends string
	Conductor         string   // "solid" or "stranded"; "" for the default
	Factor, Inside    string   // for trunking that no table has
	Cables            []string // lists, as typed
}

// Quick is the job of that one run. A complaint shows the flag as it was typed.
func Quick(q QuickAsk) (*Job, error) {
	var t typed
	at := runNodes{in: t.flag("--in", q.In), length: t.flag("--length", q.Length), bends: t.flag("--bends", q.Bends), factor: t.flag("--factor", q.Factor), inside: t.flag("--inside", q.Inside)}
	conductor, cables := t.flag("--conductor", q.Conductor), t.list(q.Cables)
	p := t.parser()
	p.job = newJob(p.File)
	p.job.Name = "command line"
	if conductor != nil {
		p.choices(&source.Node{Kind: source.Mapping, Content: []*source.Node{{Kind: source.Scalar, Value: "conductor"}, conductor}})
	}
	name := &source.Node{Kind: source.Scalar, Value: "asked"}
	r := Run{Name: name.Value, From: -1, To: -1}
	p.runEnclosure(&r, name, at)
	p.runWay(&r, name, at)
	if cables != nil {
		r.Listed = p.cableList(cables)
	}
	p.job.Runs = []Run{r}
	if len(p.Problems) == 0 {
		p.finish()
	}
	if err := p.Problems.Err(); err != nil {
		return nil, err
	}
	return p.job, nil
}

// Add is the job with more drawn into a run, and through every other run of
// its pull: cables, and circuits by words such as "2.5 ring". Circuits by words
// come last in Job.Circuits and name their runs; every three singles of a size,
// a pair, and a sheathed cable count as another loaded circuit. Where the cables
// that are there belong to no circuit and nothing says how many they are, that
// is left so.
func (j *Job) Add(run int, cables []string) (*Job, error) {
	var t typed
	list := t.list(cables)
	k := *j
	if list == nil {
		return &k, nil
	}
	p := t.parser()
	p.job = &k
	more := p.cableList(list)
	if err := p.Problems.Err(); err != nil {
		return nil, err
	}
	runs := []int{run}
	if pull := j.PullOf(run); pull != nil {
		runs = pull.Runs
	}
	k.Runs = append([]Run(nil), j.Runs...)
	k.Circuits = append([]Circuit(nil), j.Circuits...)
	k.Circuits = append(k.Circuits, p.asked...)
	for _, i := range runs {
		k.Runs[i].draw(more, p.asked, len(j.Circuits))
	}
	for c := range p.asked {
		for _, i := range runs {
			at := &k.Circuits[len(j.Circuits)+c]
			at.Runs = append(at.Runs, Given[int]{V: i})
		}
	}
	return &k, nil
}

// draw puts cables and circuits, numbered from first, into a run.
func (r *Run) draw(more []Listed, circuits []Circuit, first int) {
	if !r.Unassigned() {
		for _, l := range more {
			r.Other.V += l.circuits()
		}
		r.Other.At = source.Pos{Line: 1, Col: 1}
	}
	r.Listed = append(append([]Listed(nil), r.Listed...), more...)
	r.Carries = append([]Carried(nil), r.Carries...)
	for i := range circuits {
		passes := 1
		if circuits[i].Arrangement.V == Ring {
			passes = 2
		}
		r.Carries = append(r.Carries, Carried{first + i, passes})
	}
}

// Unassigned reports whether cables that may be loaded circuits are listed for a
// run without a word of how many circuits they are. One single alone is none.
func (r *Run) Unassigned() bool {
	many := 0
	for _, l := range r.Listed {
		if many += l.Count; l.Cable.Form != factors.Single {
			many++
		}
	}
	return many > 1 && !r.Other.Said()
}

// circuits is how many loaded circuits listed cables are taken for.
func (l Listed) circuits() int {
	switch {
	case l.OfCircuit || l.Cable.Form == factors.Round:
		return 0
	case l.Cable.Form == factors.TwinEarth:
		return l.Count
	case l.Count < 2:
		return 0 // a cpc or a bonding conductor
	}
	return max(1, l.Count/3)
}

// typed is what stands on a command line, a line for each flag.
type typed struct{ lines []string }

// flag keeps a flag's text; nil where there is none.
func (t *typed) flag(name, text string) *source.Node {
	if text == "" {
		return nil
	}
	text = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, "?"))
	if name != "" {
		name += " "
	}
	n := &source.Node{Kind: source.Scalar, Value: text, Line: len(t.lines) + 1, Column: 1 + len(name)}
	if strings.Contains(text, " ") {
		n.Style = source.Quoted
		text = `"` + text + `"`
	}
	t.lines = append(t.lines, name+text)
	return n
}

// list keeps lists of cables; nil where there are none.
func (t *typed) list(texts []string) *source.Node {
	n := &source.Node{Kind: source.Sequence}
	for _, text := range texts {
		if v := t.flag("", text); v != nil {
			n.Content = append(n.Content, v)
		}
	}
	if len(n.Content) == 0 {
		return nil
	}
	return n
}

func (t *typed) parser() *parser {
	f := source.NewFile("command line", []byte(strings.Join(t.lines, "\n")))
	f.Typed = true
	return &parser{Reader: &source.Reader{File: f}, broken: map[string]bool{}, asks: true}
}
