package cut

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func decreasing(pieces []Piece) []int {
	var ls []int
	for _, p := range pieces {
		for range p.Count {
			ls = append(ls, p.Length)
		}
	}
	slices.Sort(ls)
	slices.Reverse(ls)
	return ls
}

// fewest tries every way to share the pieces among the bars. n pieces fit when
// they and n−1 cuts do: the last cut may run off the end.
func fewest(pieces []Piece, s Stock) int {
	lengths := decreasing(pieces)
	bars := slices.Clone(s.Offcuts)
	best := len(lengths)
	var share func(i int)
	share = func(i int) {
		fresh := len(bars) - len(s.Offcuts)
		if fresh >= best {
			return
		}
		if i == len(lengths) {
			best = fresh
			return
		}
		for b := range bars {
			if was := bars[b]; was >= lengths[i] {
				bars[b] -= lengths[i] + s.Kerf
				share(i + 1)
				bars[b] = was
			}
		}
		bars = append(bars, s.Length-lengths[i]-s.Kerf)
		share(i + 1)
		bars = bars[:len(bars)-1]
	}
	share(0)
	return best
}

// cutList draws a list; small ones may be shared out by brute force.
func cutList(t *rapid.T, most int) ([]Piece, Stock) {
	s := Stock{
		Length:  rapid.IntRange(5, 60).Draw(t, "stock length"),
		Kerf:    rapid.IntRange(0, 4).Draw(t, "kerf"),
		Useful:  rapid.IntRange(0, 20).Draw(t, "useful"),
		Offcuts: rapid.SliceOfN(rapid.IntRange(1, 65), 0, 3).Draw(t, "offcuts"),
		Effort:  20_000_000,
	}
	var pieces []Piece
	for _, length := range rapid.SliceOfN(rapid.IntRange(1, s.Length), 0, most).Draw(t, "lengths") {
		pieces = append(pieces, Piece{Length: length, Count: 1})
	}
	return pieces, s
}

func enlarge(pieces []Piece, s *Stock, by int) {
	for i := range pieces {
		pieces[i].Length *= by
	}
	for i := range s.Offcuts {
		s.Offcuts[i] *= by
	}
	s.Length *= by
	s.Kerf *= by
	s.Useful *= by
}

func solve(t testing.TB, pieces []Piece, s Stock) Plan {
	t.Helper()
	p, err := Solve(pieces, s)
	if err != nil {
		t.Fatal(err)
	}
	verify(t, pieces, s, p)
	return p
}

func TestAgreesWithTryingAll(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pieces, s := cutList(rt, 7)
		enlarge(pieces, &s, rapid.SampledFrom([]int{1, 1000, 15_000_000}).Draw(rt, "scale"))
		p, err := Solve(pieces, s)
		if err != nil {
			rt.Fatal(err)
		}
		verify(rt, pieces, s, p)
		if want := fewest(pieces, s); p.New != want || p.Bound != want || !p.Proved {
			rt.Fatalf("%d new lengths, bound %d, proved %t; trying all finds %d", p.New, p.Bound, p.Proved, want)
		}
	})
}

func TestNeverWorseThanFirstFit(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pieces, s := cutList(rt, 40)
		s.Effort = rapid.IntRange(1, 100_000).Draw(rt, "effort")
		p, err := Solve(pieces, s)
		if err != nil {
			rt.Fatal(err)
		}
		verify(rt, pieces, s, p)
		if ffd := firstFitDecreasing(pieces, s); p.New > ffd {
			rt.Fatalf("%d new lengths, first fit decreasing takes %d", p.New, ffd)
		}
	})
}

// The whole search with its bounds taken away must still find the fewest.
func TestSearchAloneFindsFewest(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pieces, stock := cutList(rt, 7)
		m := newModel(pieces, stock)
		s := newSolver(m, newEffort(t.Context(), 0))
		s.best, s.fresh, s.bound = nil, len(pieces)+1, 0
		all := s.search(part{need: s.needs(), count: s.counts()})
		want := fewest(pieces, stock)
		if s.fresh != want || !all {
			rt.Fatalf("%d new lengths, all tried %t; trying all finds %d", s.fresh, all, want)
		}
	})
}

func TestProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pieces, s := cutList(rt, 25)
		p, err := Solve(pieces, s)
		if err != nil || !p.Proved {
			rt.Skip("not proved in the effort given")
		}
		check := func(what string, pieces []Piece, s Stock, ok func(q Plan) bool) {
			q, err := Solve(pieces, s)
			if err != nil {
				rt.Fatal(err)
			}
			if q.Proved && !ok(q) {
				rt.Errorf("%s: %d new lengths became %d", what, p.New, q.New)
			}
		}
		turned := slices.Clone(pieces)
		slices.Reverse(turned)
		check("pieces turned round", turned, s, func(q Plan) bool { return q.New == p.New })
		more := append(slices.Clone(pieces), Piece{Length: rapid.IntRange(1, s.Length).Draw(rt, "one more"), Count: 1})
		check("a piece more", more, s, func(q Plan) bool { return q.New == p.New || q.New == p.New+1 })
		rich := s
		rich.Offcuts = append(slices.Clone(s.Offcuts), rapid.IntRange(1, s.Length).Draw(rt, "offcut more"))
		check("an offcut more", pieces, rich, func(q Plan) bool { return q.New == p.New || q.New == p.New-1 })
	})
}

// TestOffcutsAreCutFirst: no piece is cut from a new length that an offcut has
// room for, and the most is cut from offcuts that trying all finds.
func TestOffcutsAreCutFirst(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pieces, s := cutList(rt, 8)
		p := solve(t, pieces, s)
		rooms, most := map[int]int{}, 0
		for i, o := range s.Offcuts {
			rooms[i] = o
		}
		for _, b := range p.Bars {
			if b.FromOffcut() {
				rooms[b.Offcut] = b.Left
				for _, c := range b.Cuts {
					most += pieces[c.Piece].Length + s.Kerf
				}
			}
		}
		for _, b := range p.Bars {
			for _, c := range b.Cuts {
				for o, room := range rooms {
					if l := pieces[c.Piece].Length; !b.FromOffcut() && l <= room {
						rt.Errorf("a piece of %d is cut from a new length, offcut %d has %d left", l, o+1, room)
					}
				}
			}
		}
		if want := mostFromOffcuts(pieces, s, p.New); most != want || !p.Most {
			rt.Errorf("%d from offcuts, proved %t; trying all finds %d", most, p.Most, want)
		}
	})
}

// mostFromOffcuts tries every way to share the pieces among the offcuts and so
// many new lengths.
func mostFromOffcuts(pieces []Piece, s Stock, fresh int) int {
	bars := slices.Clone(s.Offcuts)
	for range fresh {
		bars = append(bars, s.Length)
	}
	lengths, best := decreasing(pieces), -1
	var share func(i, filled int)
	share = func(i, filled int) {
		if i == len(lengths) {
			best = max(best, filled)
			return
		}
		for b := range bars {
			if was := bars[b]; was >= lengths[i] {
				bars[b] -= lengths[i] + s.Kerf
				more := 0
				if b < len(s.Offcuts) {
					more = lengths[i] + s.Kerf
				}
				share(i+1, filled+more)
				bars[b] = was
			}
		}
	}
	share(0, 0)
	return best
}
