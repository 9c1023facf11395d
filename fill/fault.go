package fill

import (
	"errors"
	"fmt"
	"math"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/route"
)

var (
	errNoEarthing = errors.New("the supply's earthing is not given: supply: {earthing: TN-C-S, Ze: 0.35 ohm}, as measured or as the distributor declares")
	errNoZe       = errors.New("the loop outside the installation is not given: supply: {Ze: 0.35 ohm}, as measured or as the distributor declares")
	errNoRA       = errors.New("the electrode is not given: supply: {electrode: 80 ohm}, as measured")
)

// fault judges whether the protective device disconnects in time on a fault to
// earth at the farthest point: Zs at working temperature against Cmin U0 / Ia,
// or in a TT supply against 50 V / IΔn. The temperature factor is laid on R1 + R2
// alone, never on Ze. A job that says nothing of its supply gives no finding.
//
// Source: BS 7671, 411.3.2, 411.4.4, 411.5.3 and Tables 41.1 to 41.5.
func fault(w *sum.Work, m *matter, index int) Finding {
	c := &m.Circuits[index]
	f := Finding{Check: "fault", Subject: "circuit " + c.Name, At: c.At, Value: none, Limit: none, Unit: "Ω"}
	external, err := externalLoop(w, m)
	if err != nil {
		return open(w, f, err)
	}
	limit, err := zsLimitOf(w, m, index)
	if err != nil {
		return open(w, f, err)
	}
	paths := m.PointPaths(index)
	worst, err := farthest(m, index, paths, external)
	if err != nil || worst < 0 {
		if worst < 0 {
			return Finding{}
		}
		return open(w, f, fmt.Errorf("%s: %w", pointName(m, index, &paths[worst]), err))
	}
	p := &paths[worst]
	if w.Keeps() {
		w.Notef("the point with the highest loop impedance: %s", pointName(m, index, p))
	}
	r, _ := pointResistance(w, m, index, p)
	cold := w.Let("Zs cold", "loop at 20 °C, what a meter should read before parallel paths", "Ω", sum.Add(sum.T(external), sum.T(r.R1), sum.T(r.R2)))
	ringRule(w, m, index)
	hot := hotLoop(w, m, index, r, external)
	f.Value, f.Limit = hot.Value, limit.Zs.Value
	f.Method = "disconnection by " + c.Device.V.String()
	if limit.Residual {
		f.Method = "disconnection by the residual device"
	}
	if cold.Value > limit.Test.Value && w.Keeps() {
		w.Notef("the cold reading is over the test limit of %s Ω, though the design is judged hot", sum.Figure(limit.Test.Value))
	}
	if w.AtMost("at "+pointName(m, index, p), hot, limit.Zs) {
		return electrodeAdvice(w, m, f)
	}
	return slowFault(w, m, index, f, hot, pointName(m, index, p))
}

func open(w *sum.Work, f Finding, err error) Finding {
	f.Verdict, f.Reason = Open, openReason(err)
	w.Note(f.Reason)
	return f
}

// slowFault is the verdict on a loop that the overcurrent device does not
// answer to in time. A residual device may, in a TN supply too.
//
// Source: BS 7671, 411.4.5 (from memory).
func slowFault(w *sum.Work, m *matter, index int, f Finding, hot sum.Term, at string) Finding {
	f.Verdict = Fail
	f.Reason = fmt.Sprintf("the loop at %s is too high for %s: a larger cpc or line, a shorter way, or another device", at, m.Circuits[index].Device.V)
	r, ok := residualOf(m, index)
	if !ok || m.Supply.Earthing.V == route.TT {
		w.Note(f.Reason)
		return f
	}
	by := residualLimit(w, r)
	if w.AtMost("with the residual device", hot, by.Zs) {
		f.Verdict = Advise
		f.Reason = fmt.Sprintf("%s alone is too slow at %s; fault protection rests on the residual device (%s)", m.Circuits[index].Device.V, at, r)
		w.Note(f.Reason, ruleText("BS 7671 411.4.5: from memory"))
	}
	return f
}

// electrodeAdvice passes the loop, and says when a TT electrode is too high to
// be trusted.
func electrodeAdvice(w *sum.Work, m *matter, f Finding) Finding {
	f.Verdict = Pass
	if m.Supply.Earthing.V != route.TT || !m.Supply.Electrode.Said() {
		return f
	}
	RA := sum.Term{Symbol: "RA", Value: float64(m.Supply.Electrode.V), Unit: "Ω"}
	if stable := inOhms(uk.ElectrodeStable(), "stable"); !w.AtMost("electrode", RA, stable) {
		f.Verdict = Advise
		f.Reason = fmt.Sprintf("an electrode of over %s Ω may not be stable: improve it", sum.Figure(stable.Value))
		w.Note(f.Reason, uk.ElectrodeStable().Cite)
	}
	return f
}

// externalLoop is what lies outside the circuit: Ze, in a TT supply with the
// electrode.
func externalLoop(w *sum.Work, m *matter) (sum.Term, error) {
	s := &m.Supply
	Ze := sum.Term{Symbol: "Ze", Value: float64(s.Ze.V), Unit: "Ω"}
	RA := sum.Term{Symbol: "RA", Value: float64(s.Electrode.V), Unit: "Ω"}
	switch {
	case !s.Earthing.Said():
		return Ze, errNoEarthing
	case s.Earthing.V != route.TT && !s.Ze.Said():
		return Ze, errNoZe
	case s.Earthing.V != route.TT:
		return w.Given(s.Earthing.V.String()+": loop outside the installation, as given", Ze), nil
	case s.Electrode.Said() && s.Ze.Said():
		return w.Let("Ze", "TT: the distributor's part and the electrode", "Ω", sum.Add(sum.T(Ze), sum.T(RA))), nil
	case s.Electrode.Said():
		return w.Given("TT: resistance of the electrode, as given; the distributor's part is not", RA), nil
	case s.Ze.Said():
		return w.Given("TT: loop with the electrode, as given", Ze), nil
	}
	return RA, errNoRA
}

// hotLoop is Zs with the conductors of the circuit at their highest
// temperature.
func hotLoop(w *sum.Work, m *matter, circuit int, r resistances, external sum.Term) sum.Term {
	insulation := m.cableOf(circuit).Insulation
	if insulation == 0 {
		insulation = 1
	}
	x := uk.HotMultiplier(insulation).Term("f")
	parts := []sum.Expr{sum.T(r.R1), sum.T(r.R2)}
	if low := float64(m.Supply.Voltage.V) / (external.Value + x.Value*(r.R1.Value+r.R2.Value)); r.Steel.Value > 0 && low < 100 {
		parts = append(parts, sum.T(r.Steel))
		w.Note("the fault current is below 100 A: the steel counts twice", steelWarn)
	}
	w.Given("conductors at their highest temperature; on R1 and R2 only", x)
	return w.Let("Zs", "earth fault loop at working temperature", "Ω", sum.Add(sum.T(external), sum.Times(sum.T(x), sum.Add(parts...))))
}

// loopOf is Zs of a point, cold and hot.
func loopOf(m *matter, circuit int, r resistances, external sum.Term) (cold, hot float64) {
	return external.Value + r.R1.Value + r.R2.Value, hotLoop(nil, m, circuit, r, external).Value
}

// farthest is the point with the highest loop, -1 when there is none. With an
// error it is the point that has no figure.
func farthest(m *matter, circuit int, paths []route.PointPath, external sum.Term) (int, error) {
	worst, most := -1, math.Inf(-1)
	for i := range paths {
		r, err := pointResistance(nil, m, circuit, &paths[i])
		if err != nil {
			return i, err
		}
		if _, hot := loopOf(m, circuit, r, external); hot > most {
			worst, most = i, hot
		}
	}
	return worst, nil
}

// ringRule shows the rule of the ring test beside the figure of the point.
func ringRule(w *sum.Work, m *matter, circuit int) {
	if !w.Keeps() {
		return
	}
	r1, _, r2, ok := RingEnds(m.Job, circuit)
	if !ok {
		return
	}
	a := sum.T(w.Given("line, end to end", sum.Term{Symbol: "r1", Value: r1, Unit: "Ω"}))
	b := sum.T(w.Given("cpc, end to end", sum.Term{Symbol: "r2", Value: r2, Unit: "Ω"}))
	w.Let("R1+R2 ring", "what every socket of the ring reads, cross-connected for the test: (r1 + r2)/4", "Ω", sum.Over(sum.Add(a, b), sum.N(4)))
}

// pointName is how a finding names a point.
func pointName(m *matter, circuit int, p *route.PointPath) string {
	switch {
	case p.LineHalf:
		return "the middle of the ring"
	case p.Place >= 0:
		return m.Places[p.Place].Name
	}
	runs := m.Circuits[circuit].Runs
	return "the end of run " + m.Runs[runs[len(runs)-1].V].Name
}
