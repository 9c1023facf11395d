package fill

import (
	"fmt"

	"tubewright/factors/sum"
	"tubewright/route"
)

const (
	overloadRule = ruleText("BS 7671 536.4: rating and overload protection of switches and RCCBs (from memory)")
	mainRule     = ruleText("BS 7671 462.1.201: a main switch at the origin (from memory)")
	linesInTurn  = ruleText("ways take the lines in turn: common practice, no source")
)

// mains is how many main switches there are to judge: the board's, and one for
// each section.
func mains(j *route.Job) int {
	if boards(j) == 0 {
		return 0
	}
	return 1 + len(j.Board.Sections)
}

// boardMain judges the rating of a main switch, or of a section's device: it
// carries the demand, and since neither a switch nor an RCCB breaks an
// overload, something else does. Either the device before the board is rated
// no higher, or the devices behind it do not add up to more. Diversity is not
// counted on for that.
//
// Source: BS 7671, 536.4 (from memory).
func boardMain(w *sum.Work, m *matter, index int) Finding {
	b := BoardOf(m.Job)
	main, ways, name := b.behind(index)
	if !main.Said() {
		f := Finding{Check: "main", Subject: name, At: boardAt(m.Job), Verdict: Advise, Value: none, Limit: none,
			Reason: "the job states no main switch for the board, so none is judged or counted: board: {main: {device: switch, rating: 100 A}}, unless one stands elsewhere"}
		w.Note(f.Reason, mainRule)
		return f
	}
	f := Finding{Check: "main", Subject: name, At: main.At, Value: none, Limit: none, Unit: "A"}
	In := w.Given("rating of the "+main.V.Device, sum.Term{Symbol: "In main", Value: float64(main.V.Rating), Unit: "A"})
	w.Note("it carries the demand of what is behind it", overloadRule)
	Id := partDemand(w, b, m, index, ways)
	f.Value, f.Limit = Id.Value, In.Value
	if !w.AtMost("demand and "+main.V.Device, Id, In) {
		f.Verdict, f.Reason = Fail, fmt.Sprintf("the demand of %s A is more than the %s A of the %s", sum.Figure(Id.Value), sum.Figure(In.Value), main.V.Device)
		return f
	}
	return b.overload(w, m, ways, In, f)
}

// behind returns a main switch, what stands behind it and its name: 0 is the
// board's, the others are the sections'.
func (b *Board) behind(index int) (main route.Given[route.MainSwitch], ways []Way, name string) {
	if index > 0 {
		for i := range b.Parts {
			if b.Parts[i].Section == index {
				ways = b.Parts[i].Ways
			}
		}
		return b.Job.Board.Sections[index-1].Main, ways, fmt.Sprintf("section %d", index)
	}
	for i := range b.Parts {
		ways = append(ways, b.Parts[i].Ways...)
	}
	for _, c := range b.NoWay {
		ways = append(ways, Way{Number: 1, Circuit: c, Modules: b.Job.Circuits[c].Lines()})
	}
	return b.Main, ways, "board"
}

// overload finds what protects a switch or RCCB against overload.
func (b *Board) overload(w *sum.Work, m *matter, ways []Way, In sum.Term, f Finding) Finding {
	w.Note("a switch or an RCCB breaks no overload: the device before it or those behind it must", overloadRule)
	up, known := upstream(m.Job)
	if known {
		w.Given("rating of the device before the board", up)
		f.Value = up.Value
		if w.AtMost("protected from before", up, In) {
			f.Verdict, f.Method = Pass, "by the device before the board"
			return f
		}
	}
	total := b.heaviest(w, "ΣIn", "ratings of the devices behind it, added up without diversity", ways, func(c *route.Circuit) sum.Term {
		return sum.Term{Symbol: "In", Value: float64(c.Device.V.Rating), Unit: "A"}
	})
	f.Value = total.Value
	if w.AtMost("protected from behind", total, In) {
		f.Verdict, f.Method = Pass, "by the devices behind it"
		w.Note("this holds where the maker's instructions let the devices behind it protect it", overloadRule)
		return f
	}
	sums := fmt.Sprintf("the devices behind it add up to %s A, more than its %s A", sum.Figure(total.Value), sum.Figure(In.Value))
	if !known {
		f.Verdict, f.Reason = Open, sums+"; whether the device before it protects it is not known: supply: {device: BS 88-3 80 A} or {rating: 80 A}"
		return f
	}
	f.Verdict, f.Reason = Fail, sums+fmt.Sprintf(", and the device before it is %s A: nothing protects it against overload", sum.Figure(up.Value))
	return f
}

// upstream is the rating that stands before the board.
func upstream(j *route.Job) (t sum.Term, known bool) {
	t = sum.Term{Symbol: "In before", Unit: "A"}
	switch {
	case j.Supply.Upstream.Said():
		t.Value = float64(j.Supply.Upstream.V.Rating)
	case j.Supply.Rating.Said():
		t.Value = float64(j.Supply.Rating.V)
	default:
		return t, false
	}
	return t, true
}

// heaviest adds up a current over the circuits of some ways, line by line on a
// three-phase board, and returns the largest sum.
func (b *Board) heaviest(w *sum.Work, symbol, meaning string, ways []Way, of func(*route.Circuit) sum.Term) sum.Term {
	names := b.lineNames()
	sums := make([]sum.Expr, len(names))
	for k := range names {
		var parts []sum.Expr
		for _, way := range ways {
			if way.Circuit < 0 {
				continue
			}
			for _, line := range b.Lines(way) {
				if line == k+1 {
					t := of(&b.Job.Circuits[way.Circuit])
					t.Symbol += "(" + b.Job.Circuits[way.Circuit].Name + ")"
					parts = append(parts, sum.T(t))
				}
			}
		}
		sums[k] = sum.N(0)
		if len(parts) > 0 {
			sums[k] = sum.Add(parts...)
		}
	}
	if len(names) == 1 {
		return w.Let(symbol, meaning, "A", sums[0])
	}
	w.Note("each line by itself", linesInTurn)
	lines := make([]sum.Expr, len(names))
	for k, name := range names {
		lines[k] = sum.T(w.Let(symbol+" "+name, meaning, "A", sums[k]))
	}
	return w.Let(symbol, "the line that carries most", "A", sum.Max(lines...))
}

// partDemand is what the circuits behind a main switch draw: the board's after
// diversity, a section's added up.
func partDemand(w *sum.Work, b *Board, m *matter, index int, ways []Way) sum.Term {
	if index == 0 {
		most := MaxDemand(w, m.Job).Most
		return w.Given("demand of the board, as the check demand works it out", sum.Term{Symbol: "I", Value: most, Unit: "A"})
	}
	return b.heaviest(w, "ΣIb", "design currents added up without diversity", ways, func(c *route.Circuit) sum.Term {
		return designCurrent(nil, m, c)
	})
}
