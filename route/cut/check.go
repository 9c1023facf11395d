package cut

import (
	"errors"
	"fmt"
)

// What can be wrong with a cut list. Each names the smallest list that is.
var (
	// ErrTooLong is a piece that no new length yields: 3001 from 3000.
	ErrTooLong = errors.New("longer than a new length")
	// ErrNotPositive is a length of nothing: a piece, a stock length or an offcut of 0.
	ErrNotPositive = errors.New("must be at least 1 mm")
	// ErrNegative is a count, a kerf, a useful length or an effort of −1.
	ErrNegative = errors.New("must not be negative")
	// ErrTooMany is more than can be planned: 1 000 001 pieces, a length of
	// 1 000 000 001 mm, 5 001 lengths that all differ.
	ErrTooMany = errors.New("more than can be planned")
)

const (
	mostMM     = 1_000_000_000
	mostPieces = 1_000_000
	mostSorts  = 5_000 // different lengths of piece, and offcuts
)

// check finds all that is wrong, in the order given.
func check(pieces []Piece, s Stock) error {
	var c checker
	c.length("stock length", s.Length)
	c.length("kerf", max(s.Kerf, 1))
	c.atLeastNone("kerf", s.Kerf)
	c.atLeastNone("useful length", s.Useful)
	c.atLeastNone("effort", s.Effort)
	for i, o := range s.Offcuts {
		c.length(fmt.Sprintf("offcut %d", i+1), o)
	}
	c.most("offcuts", len(s.Offcuts), mostSorts)
	c.pieces(pieces, s)
	return errors.Join(c.found...)
}

type checker struct{ found []error }

func (c *checker) add(kind error, format string, args ...any) {
	c.found = append(c.found, fmt.Errorf(format+": %w", append(args, kind)...))
}

func (c *checker) length(what string, mm int) {
	if mm < 1 {
		c.add(ErrNotPositive, "%s is %d mm", what, mm)
	}
	if mm > mostMM {
		c.add(ErrTooMany, "%s is %d mm, the most is %d", what, mm, mostMM)
	}
}

func (c *checker) atLeastNone(what string, n int) {
	if n < 0 {
		c.add(ErrNegative, "%s is %d", what, n)
	}
}

func (c *checker) most(what string, n, most int) {
	if n > most {
		c.add(ErrTooMany, "%d %s, the most is %d", n, what, most)
	}
}

func (c *checker) pieces(pieces []Piece, s Stock) {
	total, sorts := 0, map[int]bool{}
	for i, p := range pieces {
		what := fmt.Sprintf("piece %d", i+1)
		if p.Name != "" {
			what += fmt.Sprintf(" (%s)", p.Name)
		}
		c.length(what, p.Length)
		c.atLeastNone("count of "+what, p.Count)
		if s.Length > 0 && p.Length > s.Length {
			c.add(ErrTooLong, "%s is %d mm, a new length is %d mm", what, p.Length, s.Length)
		}
		total = min(total+max(0, min(p.Count, mostPieces+1)), mostPieces+1)
		sorts[p.Length] = true
	}
	if total > mostPieces {
		c.add(ErrTooMany, "more than %d pieces", mostPieces)
	}
	c.most("different lengths of piece", len(sorts), mostSorts)
}
