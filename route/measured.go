package route

import (
	"tubewright/factors/source"
	"tubewright/factors/units"
)

// Test is one of the tests of a completed circuit.
type Test uint8

// The tests in the order in which they are done: dead ones, then live ones.
const (
	LineEnds    Test = iota + 1 // r1: a ring's line from end to end
	NeutralEnds                 // rn
	CPCEnds                     // r2
	LineCPC                     // R1+R2 at a point; of a ring with its ends cross-connected
	LineNeutral                 // R1+Rn at a point, likewise
	CPCAlone                    // R2 at a point, by a long lead
	Insulation                  // the lowest of the circuit
	Polarity                    // at a point
	External                    // Ze at the origin
	FaultAtOrigin
	EarthLoop // Zs at a point
	Trip      // of the residual device, at its rated residual current
	HalfTrip  // whether it trips at half of that
	FiveTimes // its time at five times that
)

// testWords name the tests as the file of readings does.
var testWords = [...]string{"", "r1", "rn", "r2", "R1+R2", "R1+Rn", "R2", "insulation", "polarity", "Ze", "fault", "Zs", "trip", "half", "five times"}

func (t Test) String() string { return testWords[t] }

// Live reports whether the test is done on a live circuit.
func (t Test) Live() bool { return t >= External }

// OfPoint reports whether the test is done at every point.
func (t Test) OfPoint() bool { return t >= LineCPC && t <= CPCAlone || t == Polarity || t == EarthLoop }

// OfSupply reports whether the test is done once, at the origin.
func (t Test) OfSupply() bool { return t == External || t == FaultAtOrigin }

// OfRing reports whether only a ring has the test.
func (t Test) OfRing() bool { return t >= LineEnds && t <= CPCEnds }

// Unit is the unit of the reading; "" for yes and no.
func (t Test) Unit() string {
	switch t {
	case Insulation:
		return "MΩ"
	case Polarity, HalfTrip:
		return ""
	case FaultAtOrigin:
		return "A"
	case Trip, FiveTimes:
		return "ms"
	}
	return "Ω"
}

// Measured is a file of readings, understood against its job.
type Measured struct {
	File     *source.File
	Date     string // as written
	TestedBy string
	Ambient  Given[units.Celsius] // of the conductors while testing, default 20 °C
	Allow    MeterAllowance
	Readings []Reading // in the order of the file
}

// MeterAllowance is what a reading may differ from the expected value by. What
// the file does not state is zero and not Said.
type MeterAllowance struct {
	Share      Given[float64]       // of the value
	Continuity Given[units.Ohms]    // of a resistance measured dead
	Loop       Given[units.Ohms]    // of a loop measured live
	Kelvin     Given[units.Celsius] // how well the conductors' temperature is known
}

// Reading is what an instrument showed.
type Reading struct {
	Circuit int // -1: at the origin
	Point   int // index into PointPaths of the circuit, -1: the circuit as a whole
	Test    Test
	Value   float64 // in the test's unit; +Inf for an open conductor; 1 for yes and for a device that trips
	Over    bool    // the instrument shows no more: > 200 MΩ
	At      source.Pos
}

// PathName names a point of a circuit: its place, or end or middle where a
// circuit only names its runs.
func (j *Job) PathName(p *PointPath) string {
	switch {
	case p.LineHalf:
		return "middle"
	case p.Place >= 0:
		return j.Places[p.Place].Name
	}
	return "end"
}
