package fill

import (
	"errors"
	"fmt"
	"slices"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// rating judges a circuit's cable: Ib ≤ In ≤ Iz on every stretch, and names
// the worst. The factors of a stretch multiply only with each other; those of
// another stretch do not act there.
//
// Source: BS 7671, 433.1 and Appendix 4, section 5.
func rating(w *sum.Work, m *matter, index int) Finding {
	c := &m.Circuits[index]
	f := Finding{Check: "rating", Subject: "circuit " + c.Name, At: c.At, Value: none, Limit: none, Unit: "A"}
	Ib := designCurrent(w, m, c)
	In := sum.Term{Symbol: "In", Value: float64(c.Device.V.Rating), Unit: "A"}
	if w.Keeps() {
		w.Given("rating of the device "+c.Device.V.String(), In)
	}
	if !w.AtMost("load and device", Ib, In) {
		f.Verdict, f.Value, f.Limit = Fail, Ib.Value, In.Value
		f.Reason = fmt.Sprintf("the design current of %s A is more than the device's %s A", sum.Figure(Ib.Value), sum.Figure(In.Value))
		return f
	}
	worst, need, have, err := worstStretch(m, index, Ib, In)
	if err != nil {
		f.Verdict, f.Reason = Open, "run "+m.Runs[worst].Name+": "+openReason(err)
		w.Note(f.Reason)
		return f
	}
	if w.Keeps() {
		if len(c.Runs) > 1 {
			w.Notef("each run is judged by itself; the worst is run %s", m.Runs[worst].Name)
		}
		need, have, _ = stretch(w, m, index, worst, Ib, In)
	}
	f.Value, f.Limit = need.Value, have.Value
	if w.AtMost("in run "+m.Runs[worst].Name, need, have) {
		f.Verdict = Pass
		if f.Reason = unassigned(m, c); f.Reason != "" {
			f.Verdict = Open
			w.Note(f.Reason)
		}
		return f
	}
	f.Verdict, f.Runs = Fail, shortRuns(m, index, Ib, In)
	f.Reason = fmt.Sprintf("too little for %s in run %s", c.Device.V, m.Runs[worst].Name)
	if size := largerCable(m, index, Ib, In); size > 0 {
		f.Instead = []string{units.Format(float64(size)) + " mm²"}
		f.Reason += ": " + f.Instead[0] + " carries it if nothing else changes"
	}
	g := m.group(worst)
	f.Reason += g.ringLegs(m, worst, index)
	return f
}

// unassigned names the runs of a circuit with cables that no circuit has and
// that are not said to be circuits: the group there may be larger than counted.
func unassigned(m *matter, c *route.Circuit) string {
	var runs []string
	for _, g := range c.Runs {
		if r := &m.Runs[g.V]; r.Unassigned() && !slices.Contains(runs, r.Name) {
			runs = append(runs, r.Name)
		}
	}
	if len(runs) == 0 {
		return ""
	}
	where := "run " + runs[0] + " belong to no circuit and are not in the group: say there"
	if len(runs) > 1 {
		where = "runs " + join(runs) + " belong to no circuit and are not in the group: say in each"
	}
	return "cables in " + where + " how many circuits they are (other circuits: N, 0 where none is loaded)"
}

func openReason(err error) string {
	var miss *factors.Miss
	if errors.As(err, &miss) {
		return "no published figure: " + miss.Error()
	}
	return err.Error()
}

// worstStretch is the run where the least is left between need and rating, or
// the first that has no published figure.
func worstStretch(m *matter, index int, Ib, In sum.Term) (worst int, need, have sum.Term, err error) {
	worst = -1
	for _, g := range m.Circuits[index].Runs {
		n, h, err := stretch(nil, m, index, g.V, Ib, In)
		if err != nil {
			return g.V, n, h, err
		}
		if worst < 0 || h.Value/n.Value < have.Value/need.Value {
			worst, need, have = g.V, n, h
		}
	}
	return worst, need, have, nil
}

// shortRuns lists the runs in which the cable may carry too little, each once.
func shortRuns(m *matter, index int, Ib, In sum.Term) []int {
	var out []int
	for _, g := range m.Circuits[index].Runs {
		if need, have, err := stretch(nil, m, index, g.V, Ib, In); err == nil && !sum.AtMost(need.Value, have.Value) {
			out = append(out, g.V)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// stretch returns what the cable must carry in a run and what it may.
func stretch(w *sum.Work, m *matter, index, run int, Ib, In sum.Term) (need, have sum.Term, err error) {
	c, r, cable := &m.Circuits[index], &m.Runs[run], m.cableOf(index)
	way := method(r)
	v, err := uk.Rating(cable, way, c.Loaded())
	if err != nil {
		return need, have, err
	}
	It := v.Term("It")
	if w.Keeps() {
		w.Given(fmt.Sprintf("%s, reference method %s, %d loaded conductors, alone at 30 °C", cable, way, c.Loaded()), It)
	}
	g := m.group(run)
	g.describe(w, m, run, index)
	bunch := g.bears(index)
	Cg, err := bunch.factor(w)
	if err != nil {
		return need, have, err
	}
	if w.Keeps() && !bunch.mixed {
		w.Given(fmt.Sprintf("group of %d", bunch.n), Cg)
	}
	Ca, err := uk.Ambient(cable.Insulation, m.AmbientOf(run))
	if err != nil {
		return need, have, err
	}
	if w.Keeps() {
		w.Given(fmt.Sprintf("ambient %s °C", units.Format(float64(m.AmbientOf(run)))), Ca.Term("Ca"))
	}
	fs := []sum.Term{It, Ca.Term("Ca"), Cg}
	if r.Surrounded.V > 0 && way == uk.MethodA {
		w.Note("method A allows for the insulation already: no Ci")
	} else if r.Surrounded.V > 0 {
		Ci, err := uk.Surrounded(r.Surrounded.V)
		if err != nil {
			return need, have, err
		}
		fs = append(fs, w.Given(units.Format(float64(r.Surrounded.V))+" mm wholly in thermal insulation", Ci.Term("Ci")))
	}
	if m.Choices.Overload.V == route.NotTogether && bunch.n > 1 {
		return notTogether(w, c, fs, Ib, In)
	}
	return overloadTogether(w, c, fs, In)
}

// overloadTogether is for circuits that may be overloaded at the same time:
// In ≤ Cf × Iz. For a ring on a 30 A or 32 A device it is 20 A ≤ Iz.
//
// Source: BS 7671, Appendix 4, section 5, equations 1 and 2; 433.1.204.
func overloadTogether(w *sum.Work, c *route.Circuit, fs []sum.Term, In sum.Term) (need, have sum.Term, err error) {
	Iz := product(w, "Iz", "what the cable may carry here", "A", fs)
	if c.Arrangement.V == route.Ring && (In.Value == 30 || In.Value == 32) {
		least := uk.RingLeast().Term("least Iz")
		return w.Given("ring final circuit on a 30 A or 32 A device: each leg at least", least), Iz, nil
	}
	Cf, err := uk.DeviceFactor(c.Device.V.Standard)
	if err != nil || Cf.Num == 1 {
		return In, Iz, err
	}
	cf := w.Given("semi-enclosed fuse", Cf.Term("Cf"))
	return In, w.Let("Cf Iz", "of that, with this fuse", "A", sum.Times(sum.T(cf), sum.T(Iz))), nil
}

// notTogether is for groups that the designer states will not be overloaded at
// the same time: the larger of two tabulated currents.
//
// Source: BS 7671, Appendix 4, section 5, equations 3 and 4 (forms read, the
// full product of factors from memory).
func notTogether(w *sum.Work, c *route.Circuit, fs []sum.Term, Ib, In sum.Term) (need, have sum.Term, err error) {
	It, Cg := fs[0], fs[2]
	others := []sum.Expr{sum.T(fs[1])}
	for _, t := range fs[3:] {
		others = append(others, sum.T(t))
	}
	w.Note("the job states that these circuits are not liable to be overloaded together; the designer answers for it")
	in2 := sum.Square(sum.T(In))
	if c.Device.V.Standard == "BS 3036" {
		in2 = sum.Times(sum.N(1.9), in2)
	}
	cg2 := sum.Square(sum.T(Cg))
	root := sum.Root(sum.Add(in2, sum.Over(sum.Times(sum.N(0.48), sum.Square(sum.T(Ib)), sum.Sub(sum.N(1), cg2)), cg2)))
	one := w.Let("I3", "equation 3", "A", sum.Over(root, sum.Times(others...)))
	two := w.Let("I4", "equation 4", "A", sum.Over(sum.T(Ib), sum.Times(append(others, sum.T(Cg))...)))
	return w.Let("It needed", "the larger of the two", "A", sum.Max(sum.T(one), sum.T(two))), It, nil
}

// product is the factors multiplied in their order. Without steps to keep it
// makes no expression: a large job multiplies hundreds of thousands of times.
func product(w *sum.Work, symbol, meaning, unit string, fs []sum.Term) sum.Term {
	if !w.Keeps() {
		v := fs[0].Value
		for _, f := range fs[1:] {
			v *= f.Value
		}
		return sum.Term{Symbol: symbol, Value: v, Unit: unit}
	}
	es := make([]sum.Expr, len(fs))
	for i, t := range fs {
		es[i] = sum.T(t)
	}
	return w.Let(symbol, meaning, unit, sum.Times(es...))
}

// largerCable is the smallest size of the same make that passes on every
// stretch, 0 when none does. What else the larger cable changes (space, the
// group's sizes) is not looked at.
func largerCable(m *matter, index int, Ib, In sum.Term) units.SquareMM {
	c := &m.Circuits[index]
	if c.Cable.V.Form != factors.Single {
		return 0
	}
	for _, size := range uk.StandardSizes() {
		if size <= c.Cable.V.CSA {
			continue
		}
		cable := c.Cable.V
		cable.CSA = size
		if size >= 4 {
			cable.Strands = factors.Stranded
		}
		if passes(&matter{Job: m.Job, swapped: index, cable: cable}, index, Ib, In) {
			return size
		}
	}
	return 0
}

func passes(m *matter, index int, Ib, In sum.Term) bool {
	for _, g := range m.Circuits[index].Runs {
		need, have, err := stretch(nil, m, index, g.V, Ib, In)
		if err != nil || !sum.AtMost(need.Value, have.Value) {
			return false
		}
	}
	return true
}
