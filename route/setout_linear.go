package route

import (
	"math"

	"tubewright/factors/sum"
)

// linear is a length as a sum of terms, each so many times: how far corners and
// marks lie apart. What is taken of a way and given back cancels.
type linear []linearPart

type linearPart struct {
	times float64
	term  sum.Term
}

// plus adds a term so many times; one of nought says nothing.
func (l linear) plus(times float64, t sum.Term) linear {
	if t.Value == 0 {
		return l
	}
	out := append(linear{}, l...)
	for i := range out {
		if out[i].term.Symbol != t.Symbol {
			continue
		}
		out[i].times += times
		if out[i].times == 0 {
			return append(out[:i], out[i+1:]...)
		}
		return out
	}
	return append(out, linearPart{times, t})
}

func (l linear) add(times float64, other linear) linear {
	for _, p := range other {
		l = l.plus(times*p.times, p.term)
	}
	return l
}

// expr is the sum to print, what is taken off last.
func (l linear) expr() sum.Expr {
	var plus []sum.Expr
	for _, p := range l {
		if p.times > 0 {
			plus = append(plus, p.expr())
		}
	}
	e := sum.Add(plus...)
	if len(plus) == 0 {
		e = sum.N(0)
	}
	for _, p := range l {
		if p.times < 0 {
			e = sum.Sub(e, p.expr())
		}
	}
	return e
}

func (p linearPart) expr() sum.Expr {
	switch n := math.Abs(p.times); {
	case n == 1:
		return sum.T(p.term)
	case n < 1:
		return sum.Over(sum.T(p.term), sum.N(1/n))
	default:
		return sum.Times(sum.N(n), sum.T(p.term))
	}
}

// let writes the length down.
func (l linear) let(w *sum.Work, symbol, meaning string) sum.Term {
	return w.Let(symbol, meaning, "mm", l.expr())
}
