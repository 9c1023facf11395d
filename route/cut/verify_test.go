package cut

// failer is what verify needs of testing.T and rapid.T.
type failer interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// verify saws the plan by hand: it knows only lengths and the kerf.
func verify(t failer, pieces []Piece, s Stock, p Plan) {
	t.Helper()
	got := make([]int, len(pieces))
	drawn, kept, waste, fresh := 0, 0, 0, 0
	used := map[int]bool{}
	for i, b := range p.Bars {
		length := s.Length
		if b.FromOffcut() {
			length = s.Offcuts[b.Offcut]
			if used[b.Offcut] {
				t.Errorf("bar %d: offcut %d is used twice", i, b.Offcut)
			}
			used[b.Offcut] = true
			if fresh > 0 {
				t.Errorf("bar %d: an offcut after a new length", i)
			}
		} else {
			fresh++
		}
		if b.Length != length || len(b.Cuts) == 0 {
			t.Fatalf("bar %d: length %d, want %d; %d cuts", i, b.Length, length, len(b.Cuts))
		}
		rest, dust := verifyCuts(t, i, pieces, s.Kerf, b, got)
		keep := rest > 0 && rest >= s.Useful
		if b.Left != rest || b.Keep != keep {
			t.Errorf("bar %d: left %d keep %t, want %d %t", i, b.Left, b.Keep, rest, keep)
		}
		drawn += length
		if keep {
			kept += rest
			rest = 0
		}
		waste += rest + dust
	}
	total := 0
	for i, piece := range pieces {
		if got[i] != piece.Count {
			t.Errorf("piece %d: %d cut, want %d", i, got[i], piece.Count)
		}
		total += piece.Count * piece.Length
	}
	if p.Drawn != drawn || p.Kept != kept || p.Pieces != total || p.Waste != waste || p.New != fresh {
		t.Errorf("sums are %d drawn %d kept %d pieces %d waste %d new, want %d %d %d %d %d",
			p.Drawn, p.Kept, p.Pieces, p.Waste, p.New, drawn, kept, total, waste, fresh)
	}
	if p.Bound > p.New || p.Proved != (p.Bound == p.New) {
		t.Errorf("bound %d, new %d, proved %t", p.Bound, p.New, p.Proved)
	}
}

// verifyCuts takes the pieces off the bar one by one and returns the rest and
// the sawdust.
func verifyCuts(t failer, i int, pieces []Piece, kerf int, b Bar, got []int) (rest, dust int) {
	t.Helper()
	rest = b.Length
	for n, c := range b.Cuts {
		if at := b.Length - rest; c.Start != at {
			t.Errorf("bar %d cut %d: starts at %d, want %d", i, n, c.Start, at)
		}
		rest -= pieces[c.Piece].Length
		got[c.Piece]++
		if rest < 0 {
			t.Fatalf("bar %d cut %d: the bar is too short by %d", i, n, -rest)
		}
		saw := min(kerf, rest)
		rest -= saw
		dust += saw
		if n > 0 && pieces[c.Piece].Length > pieces[b.Cuts[n-1].Piece].Length {
			t.Errorf("bar %d cut %d: longer than the one before", i, n)
		}
	}
	return rest, dust
}

// firstFitDecreasing is the textbook rule, piece by piece: the offcuts in the
// order given, then new lengths.
func firstFitDecreasing(pieces []Piece, s Stock) int {
	rooms := make([]int, 0, len(s.Offcuts))
	for _, o := range s.Offcuts {
		rooms = append(rooms, o+s.Kerf)
	}
	for _, length := range decreasing(pieces) {
		w, put := length+s.Kerf, false
		for b := range rooms {
			if put = rooms[b] >= w; put {
				rooms[b] -= w
				break
			}
		}
		if !put {
			rooms = append(rooms, s.Length+s.Kerf-w)
		}
	}
	return len(rooms) - len(s.Offcuts)
}
