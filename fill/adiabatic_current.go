package fill

import (
	"errors"
	"fmt"
	"math"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/route"
)

// alongRun shows how the prospective fault current falls from the origin to the
// farthest point, conductors cold: line to neutral from the current at the
// origin, line to earth from Ze.
func alongRun(w *sum.Work, m *matter, index int) {
	if !w.Keeps() {
		return
	}
	U0 := nominal(m)
	paths := m.PointPaths(index)
	if m.Supply.Fault.Said() && len(paths) > 0 {
		Ipf := w.Given("prospective fault current at the origin, as given", sum.Term{Symbol: "Ipf", Value: float64(m.Supply.Fault.V), Unit: "A"})
		Z := w.Let("Z", "loop that it comes from", "Ω", sum.Over(sum.T(U0), sum.T(Ipf)))
		p := &paths[len(paths)-1]
		if r, err := pointResistance(nil, m, index, p); (err == nil || errors.Is(err, errNoCPC)) && r.Rn.Value > 0 {
			w.Let("I line", "line to neutral at "+pointName(m, index, p)+", cold", "A",
				sum.Over(sum.T(U0), sum.Add(sum.T(Z), sum.T(r.R1), sum.T(r.Rn))))
		}
	}
	if I, err := farFault(nil, m, index); err == nil {
		w.Given("line to earth at the farthest point, hot and with Cmin", I)
	}
}

// farFault is the least fault current to earth of a circuit: at the farthest
// point, conductors hot, the voltage at its least.
func farFault(w *sum.Work, m *matter, index int) (sum.Term, error) {
	external, err := externalLoop(nil, m)
	if err != nil {
		return sum.Term{}, err
	}
	paths := m.PointPaths(index)
	worst, err := farthest(m, index, paths, external)
	if err != nil {
		return sum.Term{}, err
	}
	if worst < 0 {
		return sum.Term{}, errors.New("no point")
	}
	r, err := pointResistance(nil, m, index, &paths[worst])
	if err != nil {
		return sum.Term{}, err
	}
	Zs := hotLoop(nil, m, index, r, external)
	return w.Let("If", "least fault current to earth, at "+pointName(m, index, &paths[worst]), "A",
		sum.Over(sum.Times(sum.T(uk.Cmin().Term("Cmin")), sum.T(nominal(m))), sum.T(Zs))), nil
}

// thinnestSteel is the steel of least cross-section that serves as cpc.
func thinnestSteel(m *matter, c *route.Circuit, paths []route.PointPath, cable factors.Cable) (withstand, error) {
	least := withstand{name: "steel conduit", k: uk.SteelK(cable.Insulation).Term("k"), S: sum.Term{Symbol: "A", Value: math.Inf(1), Unit: "mm²"}}
	for i := range paths {
		for _, p := range paths[i].Steel {
			enc := m.Runs[p.Run].Enc
			if enc.Kind == factors.Trunking {
				continue // its steel is a multiple of any conduit's that leaves it
			}
			A, err := uk.ConduitArea(enc)
			if err != nil {
				return least, err
			}
			if A.Num < least.S.Value {
				least.S = A.Term("A")
				least.name = enc.String()
			}
		}
	}
	if math.IsInf(least.S.Value, 1) {
		return least, fmt.Errorf("no cross-section is carried for the steel that serves as cpc of circuit %s", c.Name)
	}
	return least, nil
}

// breaking judges the breaking capacity of the device against the fault current
// at the origin, where the job gives both.
//
// Source: BS 7671, 434.5.1 (from memory).
func breaking(w *sum.Work, m *matter, index int) Finding {
	c := &m.Circuits[index]
	if !c.Electrical.Breaking.Said() {
		return Finding{}
	}
	f := Finding{Check: "breaking", Subject: "circuit " + c.Name, At: c.Electrical.Breaking.At, Unit: "A"}
	Ipf := w.Given("prospective fault current at the origin, as given", sum.Term{Symbol: "Ipf", Value: float64(m.Supply.Fault.V), Unit: "A"})
	Icn := w.Given("breaking capacity of the device, as given", sum.Term{Symbol: "Icn", Value: float64(c.Electrical.Breaking.V), Unit: "A"})
	w.Note("the current at the board is lower; the origin's is taken", ruleText("BS 7671 434.5.1: from memory"))
	f.Value, f.Limit, f.Verdict = Ipf.Value, Icn.Value, Pass
	if !w.AtMost("breaking capacity", Ipf, Icn) {
		f.Verdict = Fail
		f.Reason = fmt.Sprintf("the fault current may be %s A and the device breaks %s A: another device, or one before it that limits the energy (maker's tables)", sum.Figure(Ipf.Value), sum.Figure(Icn.Value))
	}
	return f
}

// breakings counts the circuits to judge.
func breakings(j *route.Job) int {
	if j.Supply.Fault.Said() {
		return len(j.Circuits)
	}
	return 0
}

// faults counts the circuits to judge: none in a job that says nothing of its
// supply's earthing.
func faults(j *route.Job) int {
	if j.Supply.Earthing.Said() || j.Supply.Ze.Said() {
		return len(j.Circuits)
	}
	return 0
}

func circuits(j *route.Job) int { return len(j.Circuits) }
