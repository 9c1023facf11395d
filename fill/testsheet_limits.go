package fill

import (
	"errors"
	"fmt"
	"math"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

var (
	errNoResidual = errors.New("the job names no residual device for the circuit")
	errNoFault    = errors.New("the prospective fault current at the origin is not given: supply: {fault: 1.6 kA}")
	errFiveTimes  = errors.New("no figure at five times was read for a device that is delayed or of over 30 mA")
)

// origin is what the job says of the supply.
func (s *sheet) origin(w *sum.Work, e *Expected) error {
	if e.Test == route.External {
		Ze, err := externalLoop(w, s.m)
		if err == nil {
			e.Value = Ze.Value
		}
		return err
	}
	if !s.m.Supply.Fault.Said() {
		return errNoFault
	}
	e.Value = w.Given("prospective fault current at the origin, as given", sum.Term{Symbol: "Ipf", Value: float64(s.m.Supply.Fault.V), Unit: "A"}).Value
	return nil
}

// nominalOf is the highest nominal voltage between two conductors of a circuit.
func (s *sheet) nominalOf(circuit int) units.Volts {
	U := float64(s.m.Supply.Voltage.V)
	if s.m.Circuits[circuit].Lines() == 3 {
		U *= math.Sqrt(3)
	}
	return units.Volts(U)
}

// TestVolts is the direct voltage to test a circuit's insulation with.
func (t *TestSheet) TestVolts(circuit int) float64 {
	_, volts := uk.Insulation(t.sheet.nominalOf(circuit))
	return volts.Num
}

// insulation is the least insulation resistance, and what each point must have
// so that all of them in parallel do not read less: 1/R is the sum of 1/Ri.
func (s *sheet) insulation(w *sum.Work, e *Expected) {
	least, volts := uk.Insulation(s.nominalOf(e.Circuit))
	w.Given("direct voltage to test with", volts.Term("U"))
	R := w.Given("least insulation resistance of the circuit", least.Term("R"))
	n := sum.Term{Symbol: "n", Value: float64(len(s.paths[e.Circuit]))}
	e.Least = R.Value
	e.Each = w.Let("R each", "what each of n equal points must have, as they read in parallel", "MΩ", sum.Times(sum.T(n), sum.T(R))).Value
}

// residual is what a residual device is tested to.
func (s *sheet) residual(w *sum.Work, e *Expected) error {
	r, ok := residualOf(s.m, e.Circuit)
	if !ok {
		return errNoResidual
	}
	w.Notef("%s", r)
	I := sum.Term{Symbol: "IΔn", Value: float64(r.Current) * 1000, Unit: "mA"}
	switch e.Test {
	case route.Trip:
		least, most := uk.TripTime(r.Delayed)
		if r.Delayed {
			e.Least = w.Given("trips at its rated residual current, not before", least.Term("t least")).Value
		}
		e.Most = w.Given("trips at its rated residual current within", most.Term("t most")).Value
	case route.HalfTrip:
		half := w.Let("I", "half the rated residual current", "mA", sum.Over(sum.T(I), sum.N(2)))
		e.Prove = fmt.Sprintf("does not trip at %s mA", sum.Figure(half.Value))
	case route.FiveTimes:
		if r.Delayed || I.Value > uk.AdditionalProtection().Num {
			return errFiveTimes
		}
		w.Let("I", "five times the rated residual current", "mA", sum.Times(sum.N(5), sum.T(I)))
		e.Most = w.Given("trips within", uk.FiveTimes().Term("t most")).Value
	}
	return nil
}

// RatedResidual is the rated residual current of the device that a circuit is
// tested with, in mA; NaN where the job names none.
func (t *TestSheet) RatedResidual(circuit int) float64 {
	r, ok := residualOf(t.sheet.m, circuit)
	if !ok {
		return none
	}
	return float64(r.Current) * 1000
}
