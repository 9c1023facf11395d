// Package cut plans the cutting of pieces of tube from stock lengths.
//
// All lengths are whole millimetres. A bar is one stock length or one offcut
// put in the vice. Every cut costs one kerf, the width the saw turns to dust:
// n pieces take n cuts, or n−1 when the last piece ends the bar. Both are
// covered by packing (length + kerf) into (bar + kerf).
//
// The plan takes as few new lengths as it can, then cuts as much as it can from
// the offcuts at hand, then wastes as little as it can. It comes with a bound:
// no plan needs fewer new lengths. The fewest lengths are searched for until
// the two meet or the effort ends. The use of offcuts is brought up and the waste
// down by exchange of pieces; then the ways to fill the offcuts are tried until
// none is left or the effort for it ends. The waste is not proved least. No piece
// is cut from a new length that an offcut has room for.
//
//	start   first fit and best fit decreasing              fit.go
//	bound   material; Martello and Toth's L2               bound.go
//	        linear programme over patterns, rounded up     columns.go
//	plan    dive on the programme, then complete search    dive.go, search.go
//	both    for many lengths, by groups of neighbours      coarse.go
//	most    ways to fill the offcuts, the fullest first   offcuts.go
//	tidy    moves and swaps between bars                   tidy.go
package cut

import "context"

// Piece is a number of equal pieces.
type Piece struct {
	Name   string
	Length int // mm, at least 1
	Count  int // none is allowed
}

// Stock is what the pieces are cut from.
type Stock struct {
	Length  int   // mm, of a new length
	Kerf    int   // mm, what one cut takes
	Offcuts []int // mm, lengths at hand, cut first
	Useful  int   // mm, the least leftover worth keeping; 0 keeps them all
	Effort  int   // elementary steps to spend; 0 is DefaultEffort
}

// Cut is one piece in a bar.
type Cut struct {
	Piece int // index in the pieces given
	Start int // mm from the end cut first to where the piece begins
}

// Bar is one length to cut, the longest piece first.
type Bar struct {
	Length int // mm
	Offcut int // index in Stock.Offcuts; −1 is a new length
	Cuts   []Cut
	Left   int  // mm beyond the last cut
	Keep   bool // what is left is worth keeping
}

// FromOffcut reports whether the bar is a length at hand.
func (b Bar) FromOffcut() bool { return b.Offcut >= 0 }

// Plan is the bars to cut: offcuts first, bars cut alike side by side.
// Drawn = Pieces + Kept + Waste.
type Plan struct {
	Bars   []Bar
	New    int  // new lengths used
	Bound  int  // new lengths that no plan can do without
	Proved bool // New equals Bound
	Most   bool // Proved, and no plan with as few new lengths cuts more from the offcuts
	Drawn  int  // mm, the bars together
	Pieces int  // mm, the pieces together
	Kept   int  // mm, leftovers worth keeping
	Waste  int  // mm, leftovers too short to keep, and sawdust
}

// DefaultEffort is the steps spent on a cut list whose fewest lengths resist
// proof: a few seconds on a small computer.
const DefaultEffort = 600_000_000

// Solve plans the cutting. The same input gives the same plan on any machine of
// one kind; kinds that round arithmetic otherwise may cut as few lengths in
// another way.
//
// The error joins all that is wrong: ErrTooLong, ErrNotPositive, ErrNegative,
// ErrTooMany.
func Solve(pieces []Piece, stock Stock) (Plan, error) {
	return SolveContext(context.Background(), pieces, stock)
}

// SolveContext is Solve that settles for the best plan found when ctx ends;
// that is no error. Plans then depend on the speed of the machine.
func SolveContext(ctx context.Context, pieces []Piece, stock Stock) (Plan, error) {
	if err := check(pieces, stock); err != nil {
		return Plan{}, err
	}
	m := newModel(pieces, stock)
	s := newSolver(m, newEffort(ctx, stock.Effort))
	s.run()
	return m.plan(s.best, s.bound, s.most), nil
}
