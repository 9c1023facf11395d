package sum

import (
	"fmt"
	"math"
	"strings"
)

// Step is one line of working.
type Step struct {
	Symbol   string
	Meaning  string
	Symbolic string // the expression in symbols, "" for a look-up or a note
	Numeric  string // the expression in numbers
	Value    float64
	Unit     string
	Result   string         // the value as printed, or the outcome of a comparison
	Cites    []fmt.Stringer // where looked-up numbers come from
	Expr     Expr           // what was evaluated
}

// String prints the step as a student would write it:
//
//	Iz = It × Ca × Cg = 24 A × 0.94 × 0.8 = 18.05 A   [4D1A; 4B1; 4C1]
func (s Step) String() string {
	var b strings.Builder
	b.WriteString(s.Line())
	if len(s.Cites) > 0 {
		b.WriteString("   [" + s.Sources() + "]")
	}
	return b.String()
}

// Line is the step without its sources.
func (s Step) Line() string {
	if s.Symbol == "" {
		return s.Meaning
	}
	parts := []string{s.Symbol}
	if s.Symbolic != "" && s.Symbolic != s.Numeric {
		parts = append(parts, s.Symbolic)
	}
	if s.Numeric != "" && WithUnit(s.Numeric, s.Unit) != s.Result && s.Numeric != s.Result {
		parts = append(parts, s.Numeric)
	}
	return strings.Join(append(parts, s.Result), " = ")
}

// Sources prints the step's citations.
func (s Step) Sources() string {
	texts := make([]string, len(s.Cites))
	for i, c := range s.Cites {
		texts[i] = c.String()
	}
	return strings.Join(texts, "; ")
}

// Work gathers the steps of one check. A nil Work evaluates and keeps nothing.
type Work struct{ Steps []Step }

// Let evaluates e, writes the step down and returns the result as a new term.
func (w *Work) Let(symbol, meaning, unit string, e Expr) Term {
	t := Term{Symbol: symbol, Value: e.Eval(), Unit: unit, Money: e.op == opCents}
	if w != nil {
		w.Steps = append(w.Steps, Step{
			Symbol: symbol, Meaning: meaning, Symbolic: e.Symbols(), Numeric: e.Numbers(),
			Value: t.Value, Unit: unit, Result: t.number(), Cites: e.cites(nil), Expr: e,
		})
	}
	return t
}

// Given writes down a number that was given or looked up and returns it.
func (w *Work) Given(meaning string, t Term) Term {
	if w != nil {
		s := Step{Symbol: t.Symbol, Meaning: meaning, Value: t.Value, Unit: t.Unit, Result: t.number(), Expr: T(t)}
		if t.Cite != nil {
			s.Cites = []fmt.Stringer{t.Cite}
		}
		w.Steps = append(w.Steps, s)
	}
	return t
}

// Note writes down a sentence of explanation, with the sources it rests on.
func (w *Work) Note(text string, cites ...fmt.Stringer) {
	if w != nil {
		w.Steps = append(w.Steps, Step{Meaning: text, Cites: cites})
	}
}

// Notef is Note with a format; the text is made only when steps are kept.
func (w *Work) Notef(format string, args ...any) {
	if w != nil {
		w.Note(fmt.Sprintf(format, args...))
	}
}

// AtMost reports whether a ≤ b, apart from the dust that adding up decimal
// fractions leaves: 10 × 8 + 55 × 16.6 is 993 and fits into 993.
func AtMost(a, b float64) bool { return a <= b+dust*math.Abs(b) }

const dust = 1e-12

// AtMost compares a ≤ b on the unrounded values and writes the outcome down
// with enough digits to see it.
func (w *Work) AtMost(meaning string, a, b Term) bool {
	ok := AtMost(a.Value, b.Value)
	if w != nil {
		sign, word := "≤", "holds"
		if !ok {
			sign, word = ">", "does not hold"
		}
		sa, sb := Apart(a.Value, b.Value)
		if ok && a.Value > b.Value {
			sa, sb = Figure(b.Value), Figure(b.Value)
		}
		w.Steps = append(w.Steps, Step{
			Meaning: fmt.Sprintf("%s: %s ≤ %s required; %s %s %s: %s", meaning, a.Symbol, b.Symbol,
				WithUnit(sa, a.Unit), sign, WithUnit(sb, b.Unit), word),
		})
	}
	return ok
}

// Keeps reports whether steps are written down; a rule may skip making text
// when they are not.
func (w *Work) Keeps() bool { return w != nil }

// cites gathers the citations of an expression's terms, each once, in order.
func (e Expr) cites(seen []fmt.Stringer) []fmt.Stringer {
	if e.op == opTerm {
		if e.term.Cite == nil {
			return seen
		}
		for _, s := range seen {
			if s.String() == e.term.Cite.String() {
				return seen
			}
		}
		return append(seen, e.term.Cite)
	}
	for _, a := range e.args {
		seen = a.cites(seen)
	}
	return seen
}
