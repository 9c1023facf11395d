package cut

import "testing"

// FuzzSolve reads a list from bytes: stock, kerf, useful, number of offcuts,
// the offcuts, then a length and a count by turns.
func FuzzSolve(f *testing.F) {
	f.Add([]byte{60, 2, 10, 1, 30, 29, 2, 31, 1, 7, 9})
	f.Add([]byte{255, 0, 0, 0, 255, 255, 1, 255})
	f.Add([]byte{100, 0, 0, 0, 70, 1, 60, 1, 50, 1, 33, 3, 11, 1, 7, 1, 3, 1})
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) < 4 {
			return
		}
		s := Stock{Length: int(b[0]), Kerf: int(b[1]), Useful: int(b[2]), Effort: 300_000}
		offcuts, b := int(b[3]), b[4:]
		for range min(offcuts, len(b)) {
			s.Offcuts = append(s.Offcuts, int(b[0]))
			b = b[1:]
		}
		var pieces []Piece
		for ; len(b) > 1; b = b[2:] {
			pieces = append(pieces, Piece{Length: int(b[0]), Count: int(int8(b[1]))})
		}
		p, err := Solve(pieces, s)
		if err != nil {
			return
		}
		verify(t, pieces, s, p)
		if ffd := firstFitDecreasing(pieces, s); p.New > ffd {
			t.Errorf("%d new lengths, first fit decreasing takes %d", p.New, ffd)
		}
	})
}
