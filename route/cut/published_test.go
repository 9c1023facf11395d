package cut

import (
	"reflect"
	"testing"
)

// Every problem of the files: the plan is right, the optimum met, and the
// bound proves it. Sources: files_test.go.
func TestPublished(t *testing.T) {
	for _, set := range []string{"binpack1", "binpack3", "triplets", "kerf"} {
		ps := problems(t, set)
		if want := map[string]int{"binpack1": 20, "binpack3": 20, "triplets": 10, "kerf": 21}[set]; len(ps) != want {
			t.Fatalf("%s: %d problems read, want %d", set, len(ps), want)
		}
		for _, p := range ps {
			t.Run(p.name, func(t *testing.T) {
				t.Parallel()
				plan := solve(t, p.pieces, p.stock)
				if plan.New != p.optimum || plan.Bound != p.optimum {
					t.Errorf("%d new lengths, bound %d, the optimum is %d", plan.New, plan.Bound, p.optimum)
				}
			})
		}
	}
}

func TestSameInputSamePlan(t *testing.T) {
	p := problems(t, "triplets")[2]
	p.stock.Offcuts = []int{700, 400, 700, 250}
	a, b := solve(t, p.pieces, p.stock), solve(t, p.pieces, p.stock)
	if !reflect.DeepEqual(a, b) {
		t.Error("two plans for one list differ")
	}
}

// The bound holds whatever is known of the plan: the greedy bounds too.
func TestSimpleBoundsBelowOptimum(t *testing.T) {
	for _, set := range []string{"binpack1", "binpack3", "triplets", "kerf"} {
		for _, p := range problems(t, set) {
			m := newModel(p.pieces, p.stock)
			if got := m.simpleBound(); got > p.optimum {
				t.Errorf("%s: bound %d is above the optimum %d", p.name, got, p.optimum)
			}
		}
	}
}

// Nine pieces in lengths of 100: the material fills 3.00 lengths, L2 finds 4.
// Source: Martello and Toth, Knapsack Problems (1990), the example to section
// 8.3, from memory; reckoned again by hand: with α = 33, one piece stands
// alone (70), one is over half (60, room 40), and 149 − 40 more takes 2.
func TestL2(t *testing.T) {
	var pieces []Piece
	for _, w := range []int{70, 60, 50, 33, 33, 33, 11, 7, 3} {
		pieces = append(pieces, Piece{Length: w, Count: 1})
	}
	m := newModel(pieces, Stock{Length: 100})
	if m.material() != 3 || m.l2() != 4 {
		t.Errorf("material %d, L2 %d; want 3 and 4", m.material(), m.l2())
	}
	if p := solve(t, pieces, Stock{Length: 100}); p.New != 4 || !p.Proved {
		t.Errorf("%d new lengths, proved %t", p.New, p.Proved)
	}
}
