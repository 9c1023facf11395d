package cut

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
)

func TestKerf(t *testing.T) {
	for _, tt := range []struct {
		name      string
		pieces    []Piece
		stock     Stock
		fresh     int
		left      int // of the last bar
		waste     int
		lastStart int
	}{
		{"a piece as long as the bar takes no cut", []Piece{{"a", 3000, 1}}, Stock{Length: 3000, Kerf: 2}, 1, 0, 0, 0},
		{"two pieces and one cut end the bar", []Piece{{"a", 1499, 2}}, Stock{Length: 3000, Kerf: 2}, 1, 0, 2, 1501},
		{"a millimetre more and they do not", []Piece{{"a", 1500, 1}, {"b", 1499, 1}}, Stock{Length: 3000, Kerf: 2}, 2, 1499, 4, 0},
		{"the second cut runs off the end", []Piece{{"a", 1498, 2}}, Stock{Length: 2999, Kerf: 2}, 1, 0, 3, 1500},
		{"the second cut leaves nothing", []Piece{{"a", 1498, 2}}, Stock{Length: 3000, Kerf: 2}, 1, 0, 4, 1500},
		{"the second cut leaves a millimetre", []Piece{{"a", 1498, 2}}, Stock{Length: 3001, Kerf: 2}, 1, 1, 4, 1500},
		{"no kerf", []Piece{{"a", 1000, 3}}, Stock{Length: 3000}, 1, 0, 0, 2000},
		{"a kerf wider than the pieces", []Piece{{"a", 1, 3}}, Stock{Length: 9, Kerf: 3}, 1, 0, 6, 8},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := solve(t, tt.pieces, tt.stock)
			last := p.Bars[len(p.Bars)-1]
			if p.New != tt.fresh || !p.Proved || last.Left != tt.left || p.Waste != tt.waste {
				t.Errorf("%d new, left %d, waste %d; want %d, %d, %d", p.New, last.Left, p.Waste, tt.fresh, tt.left, tt.waste)
			}
			if at := last.Cuts[len(last.Cuts)-1].Start; at != tt.lastStart {
				t.Errorf("the last piece starts at %d, want %d", at, tt.lastStart)
			}
		})
	}
}

func longest(pieces []Piece) int {
	return slices.MaxFunc(pieces, func(a, b Piece) int { return a.Length - b.Length }).Length
}

func TestOffcuts(t *testing.T) {
	for _, tt := range []struct {
		name    string
		pieces  []Piece
		offcuts []int
		useful  int
		fresh   int
		used    []int // offcuts, in the plan's order
		waste   int
	}{
		{"one does", []Piece{{"a", 1000, 1}}, []int{1200}, 0, 0, []int{0}, 2},
		{"two save a length", []Piece{{"a", 1000, 4}}, []int{1000, 1000}, 300, 1, []int{0, 1}, 4},
		{"too short for any", []Piece{{"a", 1000, 1}}, []int{999}, 0, 1, nil, 2},
		{"exactly as long", []Piece{{"a", 1000, 1}}, []int{1000}, 0, 0, []int{0}, 0},
		{"full lengths in the van", []Piece{{"a", 1400, 4}}, []int{3000, 3000}, 300, 0, []int{0, 1}, 400},
		{"longer than a new length", []Piece{{"a", 1000, 3}}, []int{3700}, 300, 0, []int{0}, 6},
		{"the one that wastes less", []Piece{{"a", 1000, 1}}, []int{1200, 1400, 1100}, 300, 0, []int{1}, 2},
		{"of equals the first", []Piece{{"a", 1000, 1}}, []int{700, 1000, 1000}, 300, 0, []int{1}, 0},
		{"cut first though it saves no length", []Piece{{"a", 1000, 2}}, []int{1200}, 300, 1, []int{0}, 202},
		{"all that a piece fits", []Piece{{"a", 1900, 1}, {"b", 3750, 1}, {"c", 799, 1}, {"d", 1999, 1}}, []int{2000, 2000, 800}, 300, 1, []int{0, 1, 2}, 102},
		{"five lengths either way", []Piece{{"a", 3750, 1}, {"b", 3167, 1}, {"c", 2551, 1}, {"d", 1860, 1}, {"e", 1540, 1}, {"f", 1223, 1}, {"g", 1162, 1}, {"h", 857, 1}, {"i", 695, 1}, {"j", 666, 1}},
			[]int{1300, 2200}, 300, 5, []int{1, 0}, 18 + 116 + 136},
		{"two short pieces for a long one", []Piece{{"a", 900, 1}, {"b", 500, 1}, {"c", 480, 1}}, []int{1000}, 300, 1, []int{0}, 18 + 4},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := solve(t, tt.pieces, Stock{Length: max(3000, longest(tt.pieces)), Kerf: 2, Offcuts: tt.offcuts, Useful: tt.useful})
			var used []int
			for _, b := range p.Bars {
				if b.FromOffcut() {
					used = append(used, b.Offcut)
				}
			}
			if p.New != tt.fresh || !p.Proved || p.Waste != tt.waste || len(used) != len(tt.used) {
				t.Fatalf("%d new, offcuts %v, waste %d; want %d, %v, %d", p.New, used, p.Waste, tt.fresh, tt.used, tt.waste)
			}
			for i := range used {
				if used[i] != tt.used[i] {
					t.Errorf("offcuts %v, want %v", used, tt.used)
				}
			}
		})
	}
}

func TestKeepWhatIsUseful(t *testing.T) {
	for _, tt := range []struct {
		useful int
		keep   bool
	}{{0, true}, {997, true}, {998, true}, {999, false}} {
		p := solve(t, []Piece{{"a", 2000, 1}}, Stock{Length: 3000, Kerf: 2, Useful: tt.useful})
		if b := p.Bars[0]; b.Left != 998 || b.Keep != tt.keep {
			t.Errorf("useful %d: left %d, keep %t", tt.useful, b.Left, b.Keep)
		}
	}
}

// One piece moved at a time would leave two leftovers too short to keep.
func TestTidyMovesABarWhole(t *testing.T) {
	m := newModel([]Piece{{"a", 400, 2}}, Stock{Length: 3000, Kerf: 2, Offcuts: []int{900, 1500}, Useful: 650})
	s := newSolver(m, newEffort(t.Context(), 0))
	s.best = []layout{m.layoutOf(2, []take{{0, 2}})} // the offcut of 900
	s.tidy()
	if p := m.plan(s.best, s.bound, s.most); len(p.Bars) != 1 || p.Bars[0].Offcut != 1 || p.Kept != 696 || p.Waste != 4 {
		t.Errorf("%+v", p)
	}
}

// Two long pieces stand alone; the short ones go beside one of them where the
// other then leaves a leftover worth keeping.
func TestTidyGathersLeftovers(t *testing.T) {
	p := solve(t, []Piece{{"a", 1600, 2}, {"b", 900, 2}}, Stock{Length: 3000, Useful: 1000})
	if p.New != 2 || p.Kept != 0 || p.Waste != 1000 {
		t.Errorf("%d new, %d kept, %d wasted", p.New, p.Kept, p.Waste)
	}
	p = solve(t, []Piece{{"a", 1600, 2}, {"b", 500, 2}}, Stock{Length: 3000, Useful: 1000})
	if p.New != 2 || p.Kept != 1400 || p.Waste != 400 {
		t.Errorf("%d new, %d kept, %d wasted", p.New, p.Kept, p.Waste)
	}
}

func TestNothingToCut(t *testing.T) {
	for _, pieces := range [][]Piece{nil, {{"a", 1000, 0}}} {
		p := solve(t, pieces, Stock{Length: 3000, Kerf: 2, Offcuts: []int{1000}})
		if len(p.Bars) != 0 || p.New != 0 || !p.Proved {
			t.Errorf("%+v", p)
		}
	}
}

func TestManyAlike(t *testing.T) {
	p := solve(t, []Piece{{"a", 1400, 100_000}}, Stock{Length: 3000, Kerf: 2})
	if p.New != 50_000 || !p.Proved {
		t.Errorf("%d new, bound %d", p.New, p.Bound)
	}
	p = solve(t, []Piece{{"a", 14, mostPieces}}, Stock{Length: 3000, Kerf: 2})
	if p.New != 5348 || !p.Proved { // ⌈1 000 000 / ⌊3002/16⌋⌉
		t.Errorf("%d new, bound %d", p.New, p.Bound)
	}
}

func TestEndsWithTheContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	q := problems(t, "triplets")[0]
	p, err := SolveContext(ctx, q.pieces, q.stock)
	if err != nil {
		t.Fatal(err)
	}
	verify(t, q.pieces, q.stock, p)
	if p.Proved || p.New > firstFitDecreasing(q.pieces, q.stock) {
		t.Errorf("%d new, proved %t", p.New, p.Proved)
	}
}

func TestErrorsAllAtOnce(t *testing.T) {
	_, err := Solve(
		[]Piece{{"A1", 3001, 1}, {"A2", 0, 1}, {"", 100, -1}, {"A4", 100, mostPieces + 1}},
		Stock{Length: 3000, Kerf: -1, Offcuts: []int{500, 0}, Useful: -5, Effort: -1})
	if err == nil {
		t.Fatal("no error")
	}
	want := []string{
		"kerf is -1: must not be negative",
		"useful length is -5: must not be negative",
		"effort is -1: must not be negative",
		"offcut 2 is 0 mm: must be at least 1 mm",
		"piece 1 (A1) is 3001 mm, a new length is 3000 mm: longer than a new length",
		"piece 2 (A2) is 0 mm: must be at least 1 mm",
		"count of piece 3 is -1: must not be negative",
		"more than 1000000 pieces: more than can be planned",
	}
	if got := strings.Split(err.Error(), "\n"); strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", err, strings.Join(want, "\n"))
	}
}

// The smallest lists of the comments in check.go.
func TestErrorKinds(t *testing.T) {
	sorts := make([]Piece, mostSorts+1)
	for i := range sorts {
		sorts[i] = Piece{Length: i + 1, Count: 1}
	}
	one := []Piece{{"a", 1, 1}}
	for _, tt := range []struct {
		name   string
		pieces []Piece
		stock  Stock
		kind   error
	}{
		{"long piece", []Piece{{"a", 3001, 1}}, Stock{Length: 3000}, ErrTooLong},
		{"no piece", []Piece{{"a", 0, 1}}, Stock{Length: 3000}, ErrNotPositive},
		{"no stock", nil, Stock{}, ErrNotPositive},
		{"no offcut", nil, Stock{Length: 1, Offcuts: []int{0}}, ErrNotPositive},
		{"count", []Piece{{"a", 1, -1}}, Stock{Length: 1}, ErrNegative},
		{"kerf", one, Stock{Length: 1, Kerf: -1}, ErrNegative},
		{"useful", one, Stock{Length: 1, Useful: -1}, ErrNegative},
		{"effort", one, Stock{Length: 1, Effort: -1}, ErrNegative},
		{"pieces", []Piece{{"a", 1, mostPieces + 1}}, Stock{Length: 1}, ErrTooMany},
		{"length", nil, Stock{Length: mostMM + 1}, ErrTooMany},
		{"sorts", sorts, Stock{Length: 6000}, ErrTooMany},
		{"offcuts", nil, Stock{Length: 1, Offcuts: make([]int, mostSorts+1)}, ErrTooMany},
	} {
		if p, err := Solve(tt.pieces, tt.stock); !errors.Is(err, tt.kind) || len(p.Bars) > 0 {
			t.Errorf("%s: %v, want %v", tt.name, err, tt.kind)
		}
	}
}
