package fill

import (
	"fmt"
	"slices"

	"tubewright/factors/sum"
	"tubewright/route"
)

// describe writes down where the loads are.
func (d *dropped) describe(w *sum.Work, at string) {
	designCurrent(w, d.m, &d.m.Circuits[d.index])
	if d.how != "" {
		w.Note(d.how)
	}
	w.Notef("the worst point: %s", at)
}

// perLine is how many parts of a sum stand on one line.
const perLine = 8

// shown is the drop at a point with its working: for each power factor the
// ampere-metres, then what they lose.
func (d *dropped) shown(w *sum.Work, point int) sum.Term {
	var parts []sum.Expr
	factors := d.factors()
	for _, factor := range factors {
		moment := d.moment(w, factor, point)
		figure, err := dropFigure(w, d.m, d.index, factor)
		if err != nil {
			return sum.Term{Symbol: "ΔU", Value: none, Unit: "V"}
		}
		if len(factors) > 1 {
			mark := " at cosφ " + sum.Figure(factor)
			if factor == 0 {
				mark = ", cosφ not stated"
			}
			moment.Symbol += mark
			figure.Symbol += mark
		}
		parts = append(parts, sum.Over(sum.Times(sum.T(figure), sum.T(moment)), sum.N(1000)))
	}
	own := w.Let("ΔU", "drop at "+pointName(d.m, d.index, &d.paths[point]), "V", sum.Add(parts...))
	d.showRing(w)
	return own
}

// factors lists the power factors of the loads, in their order.
func (d *dropped) factors() []float64 {
	var out []float64
	for i := range d.loads {
		if !slices.Contains(out, d.loads[i].factor) {
			out = append(out, d.loads[i].factor)
		}
	}
	return out
}

// moment adds up current × length over the loads of one power factor, on lines
// of a few each.
func (d *dropped) moment(w *sum.Work, factor float64, point int) sum.Term {
	var line, lines []sum.Expr
	flush := func(symbol, meaning string) sum.Term {
		t := w.Let(symbol, meaning, "A m", sum.Add(line...))
		line = nil
		return t
	}
	for i := range d.loads {
		l := &d.loads[i]
		if l.factor != factor {
			continue
		}
		if len(line) == perLine {
			lines = append(lines, sum.T(flush(fmt.Sprintf("M%d", len(lines)+1), "current times the way shared")))
		}
		length := d.lengthShown(w, l.path, point)
		line = append(line, sum.Times(sum.T(l.I), sum.T(length)))
	}
	if len(lines) == 0 {
		return flush("M", "current times the way that it shares with the worst point")
	}
	lines = append(lines, sum.T(flush(fmt.Sprintf("M%d", len(lines)+1), "current times the way shared")))
	return w.Let("M", "together", "A m", sum.Add(lines...))
}

// lengthShown writes down the metres of circuit that a load's current and a
// point share.
func (d *dropped) lengthShown(w *sum.Work, load, point int) sum.Term {
	name := d.m.Places[d.paths[load].Place].Name
	symbol, of := "l("+name+")", "way shared by the current of "+name
	line, neutral := d.shared(route.Line, load, point), d.shared(route.Neutral, load, point)
	threePhase := d.m.Circuits[d.index].Lines() == 3
	switch {
	case line == neutral && d.onRing(load, point):
		return w.Let(symbol, of+", both ways round: the nearer point from one end, the farther from the other, over the ring", "m", d.ringWay(load, point, line))
	case threePhase || line == neutral:
		return w.Given(of+", tails included", sum.Term{Symbol: symbol, Value: line, Unit: "m"})
	}
	a := sum.T(sum.Term{Symbol: "line", Value: line, Unit: "m"})
	b := sum.T(sum.Term{Symbol: "neutral", Value: neutral, Unit: "m"})
	return w.Let(symbol, of+": line and neutral cores, each half of the table's figure", "m", sum.Over(sum.Add(a, b), sum.N(2)))
}

func (d *dropped) onRing(load, point int) bool {
	return len(d.ring) > 0 && d.paths[load].LineBack > 0 && d.paths[point].LineBack > 0
}

// ringWay is the length that counts where a load's current divides between the
// two ways round, with what the two points share of a spur.
func (d *dropped) ringWay(load, point int, length float64) sum.Expr {
	p, q := d.side(route.Line, load), d.side(route.Line, point)
	x, y, L := p.one-p.spur, q.one-q.spur, p.one+p.back-2*p.spur
	near := sum.T(sum.Term{Symbol: "near", Value: min(x, y), Unit: "m"})
	far := sum.T(sum.Term{Symbol: "far", Value: L - max(x, y), Unit: "m"})
	e := sum.Over(sum.Times(near, far), sum.T(sum.Term{Symbol: "L", Value: L, Unit: "m"}))
	if spur := length - e.Eval(); spur > 1e-9 {
		return sum.Add(e, sum.T(sum.Term{Symbol: "spur", Value: spur, Unit: "m"}))
	}
	return e
}

// showRing shows the rule of thumb beside the exact figure.
func (d *dropped) showRing(w *sum.Work) {
	if d.ring == nil || len(d.loads) == 0 {
		return
	}
	c := &d.m.Circuits[d.index]
	round := 0.0
	for _, i := range d.ring {
		round += float64(d.m.Singles[i].Length)
	}
	Ib := designCurrent(nil, d.m, c)
	L := sum.T(sum.Term{Symbol: "L", Value: round, Unit: "m"})
	w.Let("ΔU at L/4", "the rule of thumb beside it: all of Ib at the middle of the ring", "V",
		sum.Over(sum.Times(sum.T(d.loads[0].figure), sum.T(Ib), L), sum.Times(sum.N(4), sum.N(1000))))
}
