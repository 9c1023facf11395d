package fill

import (
	"fmt"
	"math"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/route"
)

// drop judges the voltage lost from the origin to the worst point of a circuit
// with its loads on: 3 % for lighting and 5 % for other uses of the nominal
// voltage, wider on a private supply and over 100 m.
//
// Source: BS 7671, 525 and Appendix 4, section 6 (limits partly memory).
func drop(w *sum.Work, m *matter, index int) Finding {
	c := &m.Circuits[index]
	f := Finding{Check: "drop", Subject: "circuit " + c.Name, At: c.At, Value: none, Limit: none, Unit: "V"}
	own, p, length, err := worstDrop(w, m, index)
	if err != nil {
		return open(w, f, err)
	}
	U := nominalBetween(w, m, c)
	limit := dropLimit(w, m, c, U, length)
	total := own
	if m.Supply.Drop.Said() {
		share := sum.T(sum.Term{Symbol: "share", Value: m.Supply.Drop.V})
		upstream := w.Let("ΔU0", "lost before the board, as given", "V", sum.Times(share, sum.T(U)))
		total = w.Let("ΔU all", "from the origin, the circuit's own drop added", "V", sum.Add(sum.T(upstream), sum.T(own)))
	}
	f.Value, f.Limit = total.Value, limit.Value
	f.Verdict = Pass
	if w.Keeps() {
		w.Let("ΔU %", "of the nominal voltage", "%", sum.Over(sum.Times(sum.N(100), sum.T(total)), sum.T(U)))
	}
	if !w.AtMost("voltage drop", total, limit) {
		f.Verdict = Fail
		f.Reason = fmt.Sprintf("%s V lost to %s, %s %% of %s V", sum.Figure(total.Value), pointName(m, index, &p), sum.Figure(100*total.Value/U.Value), sum.Figure(U.Value))
		if size := largerForDrop(m, index); size != "" {
			f.Instead = []string{size}
			f.Reason += ": " + size + " brings it within the limit"
		}
	}
	return f
}

// nominalBetween is the voltage that the drop is a share of: line to neutral,
// or between lines.
func nominalBetween(w *sum.Work, m *matter, c *route.Circuit) sum.Term {
	U0 := nominal(m)
	if c.Lines() == 1 {
		return w.Given("nominal voltage, line to neutral", U0)
	}
	return w.Let("U", "nominal voltage between lines", "V", sum.Times(sum.Root(sum.N(3)), sum.T(U0)))
}

// dropLimit is the limit in volts for a point at the end of that length of
// wiring.
func dropLimit(w *sum.Work, m *matter, c *route.Circuit, U sum.Term, length float64) sum.Term {
	light := lights(m, c)
	pct := uk.DropLimit(m.Supply.Private, light).Term("limit")
	if w.Keeps() {
		what := "other uses"
		if light {
			what = "lighting"
		}
		pct = w.Given("limit for "+what, pct)
	}
	if length <= 100 && !w.Keeps() {
		return sum.Term{Symbol: "ΔU max", Value: pct.Value * U.Value / 100, Unit: "V"}
	}
	if length <= 100 {
		return w.Let("ΔU max", "limit", "V", sum.Over(sum.Times(sum.T(pct), sum.T(U)), sum.N(100)))
	}
	each, most := uk.DropOver100()
	l := sum.T(sum.Term{Symbol: "l", Value: length, Unit: "m"})
	more := w.Let("more", "for wiring over 100 m", "%", sum.Min(sum.Times(sum.T(each.Term("each")), sum.Sub(l, sum.N(100))), sum.T(most.Term("most"))))
	return w.Let("ΔU max", "limit", "V", sum.Over(sum.Times(sum.Add(sum.T(pct), sum.T(more)), sum.T(U)), sum.N(100)))
}

// lights reports whether a circuit feeds lighting, alone or with other uses:
// the stricter limit holds.
func lights(m *matter, c *route.Circuit) bool {
	if c.Arrangement.V == route.Lighting || c.Electrical.Use.V == route.UseLighting {
		return true
	}
	for _, g := range c.Points {
		if k := m.Places[g.V].Kind; k == route.Light || k == route.EmergencyLight {
			return true
		}
	}
	return false
}

// worstDrop is the drop of the circuit's own cores to the point where it is
// largest for its limit, that point, and the length of wiring to it.
func worstDrop(w *sum.Work, m *matter, index int) (own sum.Term, p route.PointPath, length float64, err error) {
	c := &m.Circuits[index]
	if c.Named {
		own, length, err = namedDrop(w, m, index)
		return own, route.PointPath{Place: -1, LineHalf: c.Arrangement.V == route.Ring}, length, err
	}
	d, err := newDropped(m, index, m.PointPaths(index))
	if err != nil {
		return own, p, 0, err
	}
	worst := d.worst()
	if worst < 0 {
		return own, p, 0, fmt.Errorf("circuit %s feeds no point", c.Name)
	}
	p = d.paths[worst]
	if w.Keeps() {
		d.describe(w, pointName(m, index, &p))
	}
	return d.shown(w, worst), p, max(p.Line, p.LineBack), nil
}

// namedDrop is the drop along the runs that a circuit names: the whole load at
// their end, on a ring in the middle.
func namedDrop(w *sum.Work, m *matter, index int) (own sum.Term, length float64, err error) {
	c := &m.Circuits[index]
	length = m.NamedLength(index)
	figure, err := dropFigure(nil, m, index, c.Demand.V.Factor)
	if err != nil {
		return own, 0, err
	}
	ring := c.Arrangement.V == route.Ring
	if !w.Keeps() {
		own = sum.Term{Symbol: "ΔU", Value: figure.Value * m.load(index) * length / 1000, Unit: "V"}
		if ring {
			own.Value, length = own.Value/4, length/2
		}
		return own, length, nil
	}
	Ib := designCurrent(w, m, c)
	figure, _ = dropFigure(w, m, index, c.Demand.V.Factor)
	l := sum.T(sum.Term{Symbol: "l", Value: length, Unit: "m"})
	lost := sum.Times(sum.T(figure), sum.T(Ib), l)
	if ring {
		w.Note("the circuit names its runs, which are taken as once round the ring, with the whole load in the middle: a quarter of the length counts")
		return w.Let("ΔU", "drop at the middle of the ring", "V", sum.Over(lost, sum.Times(sum.N(4), sum.N(1000)))), length / 2, nil
	}
	w.Note("the circuit names its runs and not its points: their lengths add up, a run named twice counts twice, and the whole load is taken at the end")
	return w.Let("ΔU", "drop at the end of the runs, tails included", "V", sum.Over(lost, sum.N(1000))), length, nil
}

// largerForDrop is the smallest larger size of the same make with which the
// drop is within its limit, "" when none is.
func largerForDrop(m *matter, index int) string {
	return largerSize(m, index, func(other *matter) bool { return drop(nil, other, index).Verdict == Pass })
}

// pointDrop is the voltage lost to a point from the origin.
type pointDrop struct{ V, Pct float64 }

// pointDrops works out the drop at every point.
func pointDrops(m *matter, index int, paths []route.PointPath) []pointDrop {
	c := &m.Circuits[index]
	out := make([]pointDrop, len(paths))
	for i := range out {
		out[i] = pointDrop{none, none}
	}
	U := nominalBetween(nil, m, c).Value
	put := func(i int, own float64) {
		v := own + m.Supply.Drop.V*U
		out[i] = pointDrop{v, 100 * v / U}
	}
	if c.Named {
		if own, _, err := namedDrop(nil, m, index); err == nil {
			put(0, own.Value)
		}
		return out
	}
	d, err := newDropped(m, index, paths)
	if err != nil {
		return out
	}
	for i := range paths {
		if v := d.at(i); !math.IsNaN(v) {
			put(i, v)
		}
	}
	return out
}
