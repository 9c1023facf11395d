package fill

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/route"
)

const (
	togetherRule = ruleText("BS 7671 521.5.1: rule read, number from memory")
	separateRule = ruleText("BS 7671 314.4: circuits electrically separate, from memory")
)

// together judges that all live conductors of a circuit and its cpc lie in the
// same ferromagnetic enclosure. In every state of the switches the current of
// each load, out and home, must pass each steel run as often one way as the
// other; a neutral borrowed from another circuit, or a core that comes home by
// another tube, breaks it. A circuit that only names its runs is not judged.
//
// Source: BS 7671, 521.5.1 (rule read, number from memory).
func together(w *sum.Work, m *matter, index int) Finding {
	c := &m.Circuits[index]
	if c.Named {
		return Finding{}
	}
	f := Finding{Check: "together", Subject: "circuit " + c.Name, At: c.At, Unit: "faults", Verdict: Pass}
	loops := m.Loops(index)
	s := tornApart(m, index, loops)
	for _, n := range s.notes {
		w.Note(n.text, n.source)
	}
	w.Note(fmt.Sprintf("%s, %s for their current over all switch states: in each steel run the currents out and home were added up", counting(loads(loops), "load"), counting(len(loops), "way")), togetherRule)
	a := w.Let("a", "steel runs where they do not cancel or the cpc is missing", "", sum.N(float64(len(s.apart))))
	b := w.Let("b", "loads whose neutral is borrowed from another circuit", "", sum.N(float64(s.borrowers)))
	n := w.Let("n", "faults", "", sum.Add(sum.T(a), sum.T(b)))
	f.Value, f.Limit = n.Value, 0
	if len(s.notes) > 0 {
		f.Verdict, f.Reason, f.Runs = Fail, s.reason(), slices.Sorted(maps.Keys(s.named))
	}
	return f
}

// torn is where a circuit's conductors do not keep together.
type torn struct {
	notes     []tornNote
	borrowers int          // loads whose neutral is another circuit's
	apart     map[int]bool // steel runs where currents do not cancel or the cpc is missing
	named     map[int]bool // these, and runs that hold a borrowed neutral
}

// reason is the gravest fault, a borrowed neutral before all others, and how
// many more there are.
func (s *torn) reason() string {
	slices.SortStableFunc(s.notes, func(a, b tornNote) int {
		return cmp.Compare(b.rank(), a.rank())
	})
	text := s.notes[0].text
	if n := len(s.notes) - 1; n > 0 {
		text += fmt.Sprintf("; and %d more: work --of together", n)
	}
	return text
}

func (n tornNote) rank() int {
	if n.source == separateRule {
		return 1
	}
	return 0
}

// tornNote is one fault and the rule that it breaks.
type tornNote struct {
	text   string
	source ruleText
}

// split notes a run once, with what text says of it.
func (s *torn) split(run int, text func() string) {
	if !s.apart[run] {
		s.apart[run], s.named[run] = true, true
		s.notes = append(s.notes, tornNote{text(), togetherRule})
	}
}

func tornApart(m *matter, index int, loops []route.CurrentLoop) *torn {
	s := &torn{apart: map[int]bool{}, named: map[int]bool{}}
	borrowers := map[int]bool{}
	for i := range loops {
		l := &loops[i]
		if l.Lender >= 0 && !borrowers[l.Load] {
			borrowers[l.Load] = true
			s.borrowers++
			s.notes = append(s.notes, tornNote{borrowedText(m, l), separateRule})
			for _, p := range lent(l) {
				s.named[p.Run] = true
			}
		}
		for _, run := range unbalanced(m, l) {
			s.split(run, func() string { return apartText(m, l, run) })
		}
	}
	for _, run := range withoutCPC(m, index) {
		s.split(run, func() string {
			return fmt.Sprintf("run %s has live conductors of the circuit and no cpc of it", m.Runs[run].Name)
		})
	}
	return s
}

func loads(loops []route.CurrentLoop) int {
	seen := map[int]bool{}
	for _, l := range loops {
		seen[l.Load] = true
	}
	return len(seen)
}

// unbalanced lists the steel runs in which a load's current does not cancel,
// in the order in which they are passed.
func unbalanced(m *matter, l *route.CurrentLoop) []int {
	net := map[int]int{}
	for _, way := range [][]route.Pass{l.Out, l.Back} {
		for _, p := range way {
			if p.Forward {
				net[p.Run]++
			} else {
				net[p.Run]--
			}
		}
	}
	var out []int
	for _, way := range [][]route.Pass{l.Out, l.Back} {
		for _, p := range way {
			if net[p.Run] != 0 && m.Runs[p.Run].Enc.Ferromagnetic() {
				out = append(out, p.Run)
				net[p.Run] = 0
			}
		}
	}
	return out
}

// lent is the part of the way home that lies in another circuit's neutral.
func lent(l *route.CurrentLoop) []route.Pass { return l.Back[len(l.Back)-l.Lent:] }

// borrowedText names the runs in which a load's current comes home in another
// circuit's neutral.
func borrowedText(m *matter, l *route.CurrentLoop) string {
	text := fmt.Sprintf("the neutral of %s is borrowed from circuit %s", m.Places[l.Load].Name, m.Circuits[l.Lender].Name)
	lender := m.Circuits[l.Lender].Name
	after := ": with circuit " + lender + " off, that neutral can still be live from here"
	var runs []string
	for _, p := range lent(l) {
		if name := m.Runs[p.Run].Name; !slices.Contains(runs, name) {
			runs = append(runs, name)
		}
	}
	switch len(runs) {
	case 0:
		return text + after
	case 1:
		return text + ", in whose neutral its current comes home through run " + runs[0] + after
	}
	return text + ", in whose neutral its current comes home through runs " + join(runs) + after
}

// apartText says how a load's current fails to cancel in a run.
func apartText(m *matter, l *route.CurrentLoop, run int) string {
	load, name := m.Places[l.Load].Name, m.Runs[run].Name
	switch {
	case crossings(l.Back, run) == 0:
		return fmt.Sprintf("the line to %s passes run %s and does not come home through it", load, name)
	case crossings(l.Out, run) == 0 && meets(l.Out, run):
		return fmt.Sprintf("the line to %s passes run %s out and back again, and its neutral comes home through it alone", load, name)
	case crossings(l.Out, run) == 0:
		return fmt.Sprintf("the neutral of %s comes home through run %s, where no line goes out to it", load, name)
	}
	return fmt.Sprintf("the line and the neutral of %s do not cancel in run %s", load, name)
}

func meets(way []route.Pass, run int) bool {
	return slices.ContainsFunc(way, func(p route.Pass) bool { return p.Run == run })
}

// crossings is how often a way passes a run forwards, less how often backwards.
func crossings(way []route.Pass, run int) (n int) {
	for _, p := range way {
		switch {
		case p.Run != run:
		case p.Forward:
			n++
		default:
			n--
		}
	}
	return n
}

// withoutCPC lists the steel runs that carry a circuit's live conductors
// without a protective conductor that serves it.
func withoutCPC(m *matter, index int) []int {
	c := &m.Circuits[index]
	if c.CPCRule == route.ConduitCPC {
		return nil
	}
	served := map[int]bool{}
	serve := func(singles []route.Single) {
		for i := range singles {
			if singles[i].Live() {
				continue // all others are cpcs, or sheathed cables with theirs in them
			}
			for _, p := range singles[i].Way {
				served[p.Run] = true
			}
		}
	}
	serve(m.Singles[c.Singles[0]:c.Singles[1]])
	if c.CPCRule == route.SharedCPC {
		serve(sharedCores(m))
	}
	var out []int
	for _, g := range c.Runs {
		if m.Runs[g.V].Enc.Ferromagnetic() && !served[g.V] {
			out = append(out, g.V)
		}
	}
	return out
}

// sharedCores are the cores of the circuit that the shared cpc is laid with,
// the first that shares it.
func sharedCores(m *matter) []route.Single {
	for i := range m.Circuits {
		if c := &m.Circuits[i]; c.CPCRule == route.SharedCPC && !c.Named && c.Cable.V.Form == factors.Single {
			return m.Singles[c.Singles[0]:c.Singles[1]]
		}
	}
	return nil
}
