package sum

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func term(symbol string, v float64, unit string) Expr {
	return T(Term{Symbol: symbol, Value: v, Unit: unit})
}

func TestPrinting(t *testing.T) {
	a, b, c := term("a", 2, "A"), term("b", 3, ""), term("c", 4, "")
	tests := []struct {
		e                Expr
		symbols, numbers string
		value            float64
	}{
		{e: Times(a, b, c), symbols: "a × b × c", numbers: "2 A × 3 × 4", value: 24},
		{e: Times(Add(a, b), c), symbols: "(a + b) × c", numbers: "(2 A + 3) × 4", value: 20},
		{e: Sub(a, Add(b, c)), symbols: "a − (b + c)", numbers: "2 A − (3 + 4)", value: -5},
		{e: Sub(a, Sub(b, c)), symbols: "a − (b − c)", numbers: "2 A − (3 − 4)", value: 3},
		{e: Sub(Sub(a, b), c), symbols: "a − b − c", numbers: "2 A − 3 − 4", value: -5},
		{e: Over(a, Times(b)), symbols: "a / b", numbers: "2 A / 3", value: 2.0 / 3},
		{e: Square(Times(a)), symbols: "a²", numbers: "(2 A)²", value: 4},
		{e: Over(a, Times(b, c)), symbols: "a / (b × c)", numbers: "2 A / (3 × 4)", value: 2.0 / 12},
		{e: Over(Over(a, b), c), symbols: "a / b / c", numbers: "2 A / 3 / 4", value: 2.0 / 12},
		{e: Over(a, Over(b, c)), symbols: "a / (b / c)", numbers: "2 A / (3 / 4)", value: 8.0 / 3},
		{e: Over(N(1), Root(c)), symbols: "1 / √(c)", numbers: "1 / √(4)", value: 0.5},
		{e: Square(a), symbols: "a²", numbers: "(2 A)²", value: 4},
		{e: Square(N(-3)), symbols: "(-3)²", numbers: "(-3)²", value: 9},
		{e: Square(Square(b)), symbols: "(b²)²", numbers: "(3²)²", value: 81},
		{e: Square(Times(Sub(c, b), c)), symbols: "((c − b) × c)²", numbers: "((4 − 3) × 4)²", value: 16},
		{e: Square(term("two words", 5, "")), symbols: "(two words)²", numbers: "5²", value: 25},
		{e: Square(Max(b, c)), symbols: "(largest of (b, c))²", numbers: "(largest of (3, 4))²", value: 16},
		{e: Min(Times(a, b), c), symbols: "smallest of (a × b, c)", numbers: "smallest of (2 A × 3, 4)", value: 4},
		{e: Times(term("θ", 90, "°"), N(0.5)), symbols: "θ × 0.5", numbers: "90° × 0.5", value: 45},
		{e: Add(), value: 0},
	}
	for _, tt := range tests {
		if got := tt.e.Symbols(); got != tt.symbols {
			t.Errorf("%s, want %s", got, tt.symbols)
		}
		if got := tt.e.Numbers(); got != tt.numbers {
			t.Errorf("%s, want %s", got, tt.numbers)
		}
		if got := tt.e.Eval(); math.Abs(got-tt.value) > 1e-12 {
			t.Errorf("%s is %v, want %v", tt.symbols, got, tt.value)
		}
	}
}

func TestFigure(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0", math.Copysign(0, -1): "0", 24: "24", 18.048: "18.05", 0.8: "0.8", 0.0725: "0.0725", 1234.56: "1235", 999.96: "1000", 12345.6: "12346",
		0.00012345: "0.0001234", 1.0 / 3: "0.3333", -2.5: "-2.5", 1e12: "1000000000000", math.Inf(1): "–", math.NaN(): "–",
	} {
		if got := Figure(v); got != want {
			t.Errorf("%v: %s, want %s", v, got, want)
		}
	}
}

// TestApart: two different numbers never print alike, and equal ones always do.
func TestApart(t *testing.T) {
	if a, b := Apart(17.9999, 18); a != "17.9999" || b != "18.0000" {
		t.Errorf("%s and %s", a, b)
	}
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64().Draw(t, "a")
		b := rapid.OneOf(rapid.Float64(), rapid.Just(a), rapid.Just(math.Nextafter(a, math.Inf(1))), rapid.Just(a*(1+1e-9))).Draw(t, "b")
		if sa, sb := Apart(a, b); (sa == sb) != (a == b) {
			t.Fatalf("%v and %v print as %s and %s", a, b, sa, sb)
		}
	})
}

type page string

func (p page) String() string { return string(p) }

func TestWork(t *testing.T) {
	It := Term{Symbol: "It", Value: 24, Unit: "A", Cite: page("4D1A")}
	Ca := Term{Symbol: "Ca", Value: 0.94, Cite: page("4B1")}
	Cg := Term{Symbol: "Cg", Value: 0.8, Cite: page("4C1")}
	rule := func(w *Work) bool {
		w.Given("what the cable carries alone", It)
		w.Notef("ambient %d °C", 35)
		Iz := w.Let("Iz", "what it may carry here", "A", Times(T(It), T(Ca), T(Cg), T(Ca)))
		return w.AtMost("rating", Term{Symbol: "In", Value: 17, Unit: "A"}, Iz)
	}
	w := &Work{}
	if rule(w) || rule(nil) {
		t.Error("17 A is within 16.97 A")
	}
	want := []string{
		"It = 24 A   [4D1A]",
		"ambient 35 °C",
		"Iz = It × Ca × Cg × Ca = 24 A × 0.94 × 0.8 × 0.94 = 16.97 A   [4D1A; 4B1; 4C1]",
		"rating: In ≤ Iz required; 17 A > 16.97 A: does not hold",
	}
	for i, s := range w.Steps {
		if s.String() != want[i] {
			t.Errorf("step %d: %s\nwant %s", i, s, want[i])
		}
	}
	if len(w.Steps) != len(want) || !w.Keeps() || (*Work)(nil).Keeps() {
		t.Errorf("%d steps", len(w.Steps))
	}
}

// drawExpr makes an expression whose numbers print in full, so that the line in
// numbers is the whole sum.
func drawExpr(t *rapid.T, depth int) Expr {
	if depth == 0 || rapid.IntRange(0, 3).Draw(t, "leaf") == 0 {
		v := float64(rapid.IntRange(-400, 400).Draw(t, "quarters")) / 4
		unit := rapid.SampledFrom([]string{"", "A", "mm²", "°"}).Draw(t, "unit")
		return term("x", v, unit)
	}
	some := func() []Expr {
		args := make([]Expr, rapid.IntRange(1, 3).Draw(t, "arguments"))
		for i := range args {
			args[i] = drawExpr(t, depth-1)
		}
		return args
	}
	switch rapid.SampledFrom([]op{opAdd, opSub, opMul, opDiv, opRoot, opSquare, opMax, opMin}).Draw(t, "operation") {
	case opAdd:
		return Add(some()...)
	case opSub:
		return Sub(drawExpr(t, depth-1), drawExpr(t, depth-1))
	case opMul:
		return Times(some()...)
	case opDiv:
		return Over(drawExpr(t, depth-1), drawExpr(t, depth-1))
	case opRoot:
		return Root(drawExpr(t, depth-1))
	case opSquare:
		return Square(drawExpr(t, depth-1))
	case opMax:
		return Max(some()...)
	}
	return Min(some()...)
}

// steady reports whether no sum in e comes to next to nothing: there the order
// of rounding, which brackets left out may change, is all that is seen.
func steady(e Expr) bool {
	for _, a := range e.args {
		if !steady(a) || (e.op == opAdd || e.op == opSub) && math.Abs(a.Eval()) > 1e5*math.Abs(e.Eval()) {
			return false
		}
	}
	return true
}

// TestPrintedSumIsComputedSum: whoever works out the printed line by the rules
// of arithmetic gets the value.
func TestPrintedSumIsComputedSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := drawExpr(t, rapid.IntRange(0, 4).Draw(t, "depth"))
		if !steady(e) {
			return
		}
		line, want := e.Numbers(), e.Eval()
		got, rest, err := workOut(line)
		if err != nil || rest != "" {
			t.Fatalf("%s: stopped at %q: %v", line, rest, err)
		}
		if math.IsNaN(want) && math.IsNaN(got) || math.IsInf(want, 0) && want == got {
			return
		}
		if math.IsNaN(want) != math.IsNaN(got) || math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
			t.Fatalf("%s is %v; the value is %v", line, got, want)
		}
	})
}

func ExampleWork() {
	w := &Work{}
	Iz := w.Let("Iz", "what the cable may carry here", "A", Times(term("It", 24, "A"), term("Ca", 0.94, ""), term("Cg", 0.8, "")))
	w.AtMost("rating", Term{Symbol: "In", Value: 20, Unit: "A"}, Iz)
	for _, s := range w.Steps {
		fmt.Println(s)
	}
	// Output:
	// Iz = It × Ca × Cg = 24 A × 0.94 × 0.8 = 18.05 A
	// rating: In ≤ Iz required; 20 A > 18.05 A: does not hold
}
