package fill

import (
	"fmt"
	"slices"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/route"
)

// BoardDemand is the greatest current of each line of the board, after
// diversity where the job chooses an allowance.
type BoardDemand struct {
	Lines []float64 // A: one, or three
	Most  float64   // A, of the line that carries most
	Worst int       // that line, from 0
}

// MaxDemand adds up what the circuits of the board take, line by line. Circuits
// of one use stand together: the allowance is laid on them and never on the
// whole board. Where the job chooses none, all circuits count in full.
//
// Source: IET On-Site Guide, Appendix A, Table A2 (see the table diversity).
func MaxDemand(w *sum.Work, j *route.Job) BoardDemand {
	t := boardDemand(w, newMatter(j))
	d := BoardDemand{Lines: make([]float64, len(t))}
	for i := range t {
		d.Lines[i] = t[i].Value
		if t[i].Value > t[d.Worst].Value {
			d.Worst = i
		}
	}
	d.Most = t[d.Worst].Value
	return d
}

// demand judges the maximum demand of the board against the main switch and
// the supply, whichever is rated less.
//
// Source: BS 7671, 311.1 and 536.4.3 (numbers from memory).
func demand(w *sum.Work, m *matter, _ int) Finding {
	f := Finding{Check: "demand", Subject: "board", At: m.Board.Main.At, Value: none, Limit: none, Unit: "A"}
	lines := boardDemand(w, m)
	worst := 0
	for i := range lines {
		if lines[i].Value > lines[worst].Value {
			worst = i
		}
	}
	limit, what := demandLimit(w, m)
	if !f.At.Known() {
		f.At = m.Supply.Rating.At
	}
	f.Value, f.Limit = lines[worst].Value, limit.Value
	f.Method = "diversity: " + m.Choices.Diversity.V.String()
	if w.AtMost("against "+what, lines[worst], limit) {
		f.Verdict = Pass
		return f
	}
	f.Verdict = Fail
	f.Reason = fmt.Sprintf("the circuits take %s A at once, more than %s of %s A", sum.Figure(f.Value), what, sum.Figure(f.Limit))
	if m.Choices.Diversity.V == route.NoDiversity {
		f.Reason += "; no diversity is taken (choices: diversity)"
	}
	return f
}

// demands is 1 where the job rates the board's main switch or its supply.
func demands(j *route.Job) int {
	if len(j.Circuits) > 0 && (j.Board.Main.Said() || j.Supply.Rating.Said()) {
		return 1
	}
	return 0
}

// demandLimit is the lesser rating of main switch and supply.
func demandLimit(w *sum.Work, m *matter) (sum.Term, string) {
	main := sum.Term{Symbol: "In main", Value: float64(m.Board.Main.V.Rating), Unit: "A"}
	supply := sum.Term{Symbol: "In supply", Value: float64(m.Supply.Rating.V), Unit: "A"}
	if m.Board.Main.Said() {
		w.Given("rating of the main switch", main)
	}
	if m.Supply.Rating.Said() {
		w.Given("rating of the supply", supply)
	}
	if !m.Board.Main.Said() || m.Supply.Rating.Said() && supply.Value < main.Value {
		return supply, "the supply"
	}
	return main, "the main switch"
}

// taken is what a circuit puts on a line.
type taken struct {
	circuit int
	I       sum.Term
}

// boardDemand is the demand of each line of the board.
func boardDemand(w *sum.Work, m *matter) []sum.Term {
	lines := max(1, m.Supply.Phases.V)
	if !w.Keeps() && m.Choices.Diversity.V == route.NoDiversity {
		return plainDemand(m, lines)
	}
	currents := make([]sum.Term, len(m.Circuits))
	for i := range m.Circuits {
		c := &m.Circuits[i]
		currents[i] = designCurrent(nil, m, c)
		currents[i].Symbol = "I(" + c.Name + ")"
		w.Given("circuit "+c.Name+", "+useOf(m.Job, c).String()+lineNote(m.Job, i, lines), currents[i])
	}
	out := make([]sum.Term, lines)
	for l := range lines {
		name := "I"
		if lines > 1 {
			name = fmt.Sprintf("I(L%d)", l+1)
			w.Notef("line L%d", l+1)
		}
		out[l] = lineDemand(w, m, name, on(m.Job, currents, l, lines))
	}
	return out
}

// plainDemand adds the circuits up without an allowance.
func plainDemand(m *matter, lines int) []sum.Term {
	out := make([]sum.Term, lines)
	for i := range m.Circuits {
		I := designCurrent(nil, m, &m.Circuits[i]).Value
		for l := range lines {
			if onLine(m.Job, i, l, lines) {
				out[l].Value += I
			}
		}
	}
	for l := range out {
		out[l].Symbol, out[l].Unit = "I", "A"
	}
	return out
}

// on lists the circuits of a line, the largest first within each use.
func on(j *route.Job, currents []sum.Term, line, lines int) []taken {
	var out []taken
	for i := range currents {
		if onLine(j, i, line, lines) {
			out = append(out, taken{i, currents[i]})
		}
	}
	slices.SortStableFunc(out, func(a, b taken) int {
		switch {
		case a.I.Value > b.I.Value:
			return -1
		case a.I.Value < b.I.Value:
			return 1
		}
		return 0
	})
	return out
}

// onLine reports whether a circuit loads a line: a three-phase one loads all; a
// single-phase one the line that the job names, else by its way in turn.
func onLine(j *route.Job, circuit, line, lines int) bool {
	return lines == 1 || j.Circuits[circuit].Lines() == 3 || lineOf(j, circuit) == line
}

// lineOf is the line of a single-phase circuit from 0; in turn where the job
// gives neither its line nor its way.
func lineOf(j *route.Job, circuit int) int {
	if line := j.LineOf(circuit); line > 0 {
		return line - 1
	}
	return circuit % 3
}

func lineNote(j *route.Job, circuit, lines int) string {
	c := &j.Circuits[circuit]
	switch {
	case lines == 1:
		return ""
	case c.Lines() == 3:
		return ", on all three lines"
	case c.Electrical.Line.Said():
		return fmt.Sprintf(", on L%d", lineOf(j, circuit)+1)
	}
	return fmt.Sprintf(", on L%d: not stated, so by turns (common practice, no source)", lineOf(j, circuit)+1)
}

// lineDemand is the demand of the circuits of one line, use by use.
func lineDemand(w *sum.Work, m *matter, symbol string, circuits []taken) sum.Term {
	premises := m.Choices.Diversity.V
	if premises == route.NoDiversity {
		w.Note("no diversity is taken: every circuit counts in full (choices: diversity)")
		return addUp(w, symbol, "demand of all circuits", circuits)
	}
	var parts []sum.Expr
	for use := route.UseOther; use <= route.UseStationary; use++ {
		var of []taken
		for _, t := range circuits {
			if useOf(m.Job, &m.Circuits[t.circuit]) == use {
				of = append(of, t)
			}
		}
		if len(of) > 0 {
			parts = append(parts, sum.T(useDemand(w, m, premises, use, of)))
		}
	}
	return w.Let(symbol, "demand of the line", "A", sum.Add(parts...))
}

func addUp(w *sum.Work, symbol, meaning string, circuits []taken) sum.Term {
	parts := make([]sum.Expr, len(circuits))
	for i, t := range circuits {
		parts[i] = sum.T(t.I)
	}
	return w.Let(symbol, meaning, "A", sum.Add(parts...))
}

// useDemand is the demand of the circuits of one use, the largest first.
func useDemand(w *sum.Work, m *matter, premises route.Premises, use route.Use, of []taken) sum.Term {
	symbol := "I(" + use.String() + ")"
	if use == route.UseOther {
		return addUp(w, symbol, "other uses: no allowance, in full", of)
	}
	currents, sockets := make([]sum.Term, 0, len(of)), 0
	for _, t := range of {
		c := &m.Circuits[t.circuit]
		if c.Electrical.SocketIn {
			sockets++
		}
		if use == route.UseStationary && len(c.Electrical.Loads) > 1 && !c.Demand.Said() {
			for _, l := range c.Electrical.Loads {
				I := loadCurrent(nil, m, c, l)
				I.Symbol = "I(" + m.Places[l.Place].Name + ")"
				currents = append(currents, I)
			}
			continue
		}
		currents = append(currents, t.I)
	}
	slices.SortStableFunc(currents, func(a, b sum.Term) int {
		switch {
		case a.Value > b.Value:
			return -1
		case a.Value < b.Value:
			return 1
		}
		return 0
	})
	d, err := uk.Diversity(w, symbol, premises.String(), use.String(), currents, sockets)
	if err != nil {
		w.Notef("%s: no allowance in the table for such premises, so counted in full", use)
		return addUp(w, symbol, "in full", of)
	}
	return d
}

// useOf is what a circuit is for: as the job says, else lighting by its
// arrangement, sockets by its points or its ring, other for the rest.
func useOf(j *route.Job, c *route.Circuit) route.Use {
	switch {
	case c.Electrical.Use.Said():
		return c.Electrical.Use.V
	case c.Arrangement.V == route.Lighting:
		return route.UseLighting
	case c.Arrangement.V == route.Ring:
		return route.UseSockets
	case !c.Named && len(c.Points) > 0 && onlySockets(j, c):
		return route.UseSockets
	}
	return route.UseOther
}

func onlySockets(j *route.Job, c *route.Circuit) bool {
	for _, g := range c.Points {
		if j.Places[g.V].Kind != route.Socket {
			return false
		}
	}
	return true
}
