package uk

import (
	"tubewright/factors"
	"tubewright/factors/sum"
)

var (
	diversity       = table("diversity")
	diversityInFull = table("diversity-in-full")
)

// Diversity returns the demand after the published allowances of the circuits
// of one use, or of the points of stationary equipment, and writes the sum into
// w. The error is a *factors.Miss where the table has no allowance for the use
// in such premises.
//
//	premises  "household", "shops and offices" or "hotels"
//	use       a row of the table
//	currents  A, the largest first
//	sockets   how many of them are cookers with a socket in the control unit
//
// A household's heating counts as one load, its cookers one by one. The
// allowance is between circuits of one use: it is never laid over a whole board.
//
// Source: IET On-Site Guide, Table A2 (read).
func Diversity(w *sum.Work, symbol, premises, use string, currents []sum.Term, sockets int) (sum.Term, error) {
	at := func(t *factors.Table, part string) (factors.Value, error) {
		return t.At(factors.Word(premises), factors.Word(use), factors.Word(part))
	}
	first, err := at(diversityInFull(), "first")
	if err == nil {
		beyond := must(at(diversity(), "beyond"))
		return w.Let(symbol, "demand of "+use+" after diversity", "A", inFull(currents, use == "cooker", sockets, first, beyond)), nil
	}
	parts := make([]sum.Expr, len(currents))
	for i, I := range currents {
		share, err := at(diversity(), [...]string{"largest", "second", "others"}[min(i, 2)])
		if err != nil {
			return sum.Term{}, err
		}
		parts[i] = sum.Times(sum.T(share.Term("share")), sum.T(I))
	}
	return w.Let(symbol, "demand of "+use+" after diversity", "A", sum.Add(parts...)), nil
}

// inFull takes the first amps in full and a share of the rest, of each load or
// of all together.
func inFull(currents []sum.Term, each bool, sockets int, first, beyond factors.Value) sum.Expr {
	limit, share := sum.T(first.Term("first")), sum.T(beyond.Term("share"))
	one := func(I sum.Expr) sum.Expr {
		if I.Eval() <= first.Num {
			return I
		}
		return sum.Add(limit, sum.Times(share, sum.Sub(I, limit)))
	}
	var parts []sum.Expr
	for _, I := range currents {
		parts = append(parts, sum.T(I))
	}
	if !each {
		return one(sum.Add(parts...))
	}
	for i := range parts {
		parts[i] = one(parts[i])
	}
	if sockets > 0 {
		socket := must(diversityInFull().At(first.Cite.Keys[0], first.Cite.Keys[1], factors.Word("socket")))
		parts = append(parts, sum.Times(sum.N(float64(sockets)), sum.T(socket.Term("socket"))))
	}
	return sum.Add(parts...)
}
