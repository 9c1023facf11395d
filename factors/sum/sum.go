// Package sum writes working: an expression that evaluates, prints in symbols
// and prints in numbers, so that the sum on the sheet is the sum that was done.
//
// A rule builds its sums on a *Work. With a nil *Work the same expressions are
// evaluated and nothing is kept, so a verdict alone costs no text, and the
// steps asked for later are the same code run again.
package sum

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Term is a symbol that stands for a number.
type Term struct {
	Symbol string // as the standard writes it: Iz
	Value  float64
	Unit   string       // "A", "mm", "" for a pure number
	Cite   fmt.Stringer // where the number was looked up; nil when it was not
	Money  bool         // printed with two places
}

// Expr is a sum over terms.
type Expr struct {
	op   op
	term Term
	args []Expr
}

type op uint8

const (
	opTerm op = iota
	opAdd
	opSub
	opMul
	opDiv
	opRoot
	opSquare
	opMax
	opMin
	opCents
)

// T makes an expression of a term.
func T(t Term) Expr { return Expr{term: t} }

// N makes an expression of a bare number.
func N(v float64) Expr { return Expr{term: Term{Symbol: "", Value: v}} }

// Add is a + b + …
func Add(args ...Expr) Expr { return Expr{op: opAdd, args: args} }

// Sub is a − b.
func Sub(a, b Expr) Expr { return Expr{op: opSub, args: []Expr{a, b}} }

// Times is a × b × …
func Times(args ...Expr) Expr { return Expr{op: opMul, args: args} }

// Over is a / b.
func Over(a, b Expr) Expr { return Expr{op: opDiv, args: []Expr{a, b}} }

// Root is √a.
func Root(a Expr) Expr { return Expr{op: opRoot, args: []Expr{a}} }

// Square is a².
func Square(a Expr) Expr { return Expr{op: opSquare, args: []Expr{a}} }

// Max is the largest of its arguments.
func Max(args ...Expr) Expr { return Expr{op: opMax, args: args} }

// Min is the smallest of its arguments.
func Min(args ...Expr) Expr { return Expr{op: opMin, args: args} }

// Cents is a to the nearest hundredth, halves away from nought: an amount of
// money as it stands on paper.
func Cents(a Expr) Expr { return Expr{op: opCents, args: []Expr{a}} }

// Eval returns the value of the expression.
func (e Expr) Eval() float64 {
	switch e.op {
	case opTerm:
		return e.term.Value
	case opRoot:
		return math.Sqrt(e.args[0].Eval())
	case opSquare:
		v := e.args[0].Eval()
		return v * v
	case opCents:
		return cents(e.args[0].Eval())
	}
	if len(e.args) == 0 {
		return 0
	}
	v := e.args[0].Eval()
	for _, a := range e.args[1:] {
		switch e.op {
		case opAdd:
			v += a.Eval()
		case opSub:
			v -= a.Eval()
		case opMul:
			v *= a.Eval()
		case opDiv:
			v /= a.Eval()
		case opMax:
			v = max(v, a.Eval())
		case opMin:
			v = min(v, a.Eval())
		}
	}
	return v
}

// cents rounds to hundredths. The dust that multiplying leaves under a half
// does not send it down.
func cents(v float64) float64 {
	return math.Copysign(math.Floor(math.Abs(v)*100+0.5+1e-7)/100, v)
}

// Symbols prints the expression in symbols: It × Ca × Cg.
func (e Expr) Symbols() string { return e.print(0, false) }

// Numbers prints the expression with its numbers put in: 24 A × 0.94 × 0.80.
func (e Expr) Numbers() string { return e.print(0, true) }

var strength = [...]int{opTerm: 9, opAdd: 1, opSub: 1, opMul: 2, opDiv: 2, opRoot: 8, opSquare: 7, opMax: 8, opMin: 8}
var signs = [...]string{opAdd: " + ", opSub: " − ", opMul: " × ", opDiv: " / "}

// sole is what a sum or product of one thing comes to: no sign, no brackets.
func (e Expr) sole() Expr {
	for e.op == opCents || len(e.args) == 1 && e.op >= opAdd && e.op <= opDiv {
		e = e.args[0]
	}
	return e
}

func (e Expr) print(outer int, numbers bool) string {
	e = e.sole()
	switch e.op {
	case opTerm:
		if numbers || e.term.Symbol == "" {
			return e.term.number()
		}
		return e.term.Symbol
	case opRoot:
		return "√(" + e.args[0].print(0, numbers) + ")"
	case opSquare:
		return e.printSquare(outer, numbers)
	case opMax, opMin:
		return e.printCall(numbers)
	}
	own := strength[e.op]
	parts := make([]string, len(e.args))
	for i, a := range e.args {
		need := own
		if i > 0 && (e.op == opSub || e.op == opDiv) {
			need++ // a − (b + c), a / (b × c)
		}
		parts[i] = a.print(need, numbers)
	}
	s := strings.Join(parts, signs[e.op])
	if own < outer {
		return "(" + s + ")"
	}
	return s
}

// printSquare puts brackets round all that a reader could take the ² to stop
// short of: (24 A)², (-3)², (largest of (a, b))², (a²)².
func (e Expr) printSquare(outer int, numbers bool) string {
	arg := e.args[0].sole()
	inner := arg.print(strength[opRoot], numbers)
	if arg.op == opMax || arg.op == opMin || arg.op == opTerm && strings.ContainsAny(inner, " -") {
		inner = "(" + inner + ")"
	}
	if outer > strength[opSquare] {
		return "(" + inner + "²)"
	}
	return inner + "²"
}

func (e Expr) printCall(numbers bool) string {
	parts := make([]string, len(e.args))
	for i, a := range e.args {
		parts[i] = a.print(0, numbers)
	}
	name := "largest of ("
	if e.op == opMin {
		name = "smallest of ("
	}
	return name + strings.Join(parts, ", ") + ")"
}

func (t Term) number() string {
	if t.Money {
		return WithUnit(strconv.FormatFloat(t.Value, 'f', 2, 64), t.Unit)
	}
	return WithUnit(Figure(t.Value), t.Unit)
}

// WithUnit joins a figure and its unit as the trade writes them; things that are
// counted come in the plural: runs.
func WithUnit(figure, unit string) string {
	switch unit {
	case "", "1":
		return figure
	case "°":
		return figure + unit
	}
	if figure == "1" && len(unit) > 3 {
		unit = strings.TrimSuffix(unit, "s") // of things counted: 1 run, 2 runs
	}
	return figure + " " + unit
}

// Figure prints a value for working: whole numbers whole, others to at least
// four significant digits without trailing noughts.
func Figure(v float64) string {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return "–"
	}
	if v == 0 {
		return "0" // and not -0
	}
	if v == math.Trunc(v) && math.Abs(v) < 1e9 {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	places := 3
	if a := math.Abs(v); a > 0 {
		places = max(0, 3-int(math.Floor(math.Log10(a))))
	}
	s := strconv.FormatFloat(v, 'f', min(places, 9), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Apart prints two values with as many digits as it takes to tell them apart,
// so that a reader sees why one is the larger.
func Apart(a, b float64) (string, string) {
	sa, sb := Figure(a), Figure(b)
	for places := 1; sa == sb && a != b && places <= 12; places++ {
		sa, sb = strconv.FormatFloat(a, 'f', places, 64), strconv.FormatFloat(b, 'f', places, 64)
	}
	if sa == sb && a != b {
		return strconv.FormatFloat(a, 'g', -1, 64), strconv.FormatFloat(b, 'g', -1, 64)
	}
	return sa, sb
}
