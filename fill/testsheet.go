package fill

import (
	"math"

	"tubewright/factors/sum"
	"tubewright/factors/units"
	"tubewright/route"
)

// TestSheet is what the tests of a job should read, and between which limits.
type TestSheet struct {
	Job      *route.Job
	Celsius  units.Celsius // of the conductors while testing
	Supply   []Expected
	Circuits []CircuitTests
	sheet    *sheet
}

// CircuitTests is a circuit's part of the sheet.
type CircuitTests struct {
	Circuit  int
	Paths    []route.PointPath
	Expected []Expected // in the order of testing
	Residual string     // the device that answers to leakage, "" for none
	Notes    []string   // to know before a reading is called wrong
}

// Expected is one reading of the sheet.
type Expected struct {
	Circuit, Point int // -1: at the origin; of the circuit as a whole
	Test           route.Test
	Value          float64 // what the instrument should show; NaN where it is not known
	Least, Most    float64 // permitted; NaN where nothing is
	Table          float64 // Zs: what the table permits of hot conductors
	WithSteel      float64 // with steel conduit in parallel at its best; NaN where there is none or no figure
	Each           float64 // insulation: what each point must have, MΩ, for all in parallel to read Least
	Prove          string  // polarity, no trip at half: what is proved
	Why            string  // why there is no value

	sheet *sheet
}

// Steps is the working of the value and of its limits.
func (e *Expected) Steps() []sum.Step {
	w := &sum.Work{}
	e.sheet.expect(w, e.Circuit, e.Point, e.Test)
	return w.Steps
}

// Known reports whether the sheet has a value or a limit for the reading.
func (e *Expected) Known() bool {
	return e.Prove != "" || known(e.Value) || known(e.Least) || known(e.Most)
}

func known(v float64) bool { return !math.IsNaN(v) }

// At finds a reading of the circuit; Point is -1 for the circuit as a whole.
func (c *CircuitTests) At(point int, t route.Test) (*Expected, bool) {
	for i := range c.Expected {
		if e := &c.Expected[i]; e.Point == point && e.Test == t {
			return e, true
		}
	}
	return nil, false
}

// IsRing reports whether the circuit is tested as a ring.
func (c *CircuitTests) IsRing() bool {
	_, ring := c.At(-1, route.LineEnds)
	return ring
}

// sheet is what the expected readings are worked out from.
type sheet struct {
	m       *matter
	celsius units.Celsius
	paths   [][]route.PointPath
}

// NewTestSheet works out the sheet of a job for conductors at that temperature.
func NewTestSheet(j *route.Job, celsius units.Celsius) *TestSheet {
	s := newSheet(j, celsius)
	t := &TestSheet{Job: j, Celsius: celsius, sheet: s, Supply: []Expected{s.expect(nil, -1, -1, route.External), s.expect(nil, -1, -1, route.FaultAtOrigin)}}
	for i := range j.Circuits {
		t.Circuits = append(t.Circuits, s.circuit(i))
	}
	return t
}

func newSheet(j *route.Job, celsius units.Celsius) *sheet {
	s := &sheet{m: newMatter(j), celsius: celsius, paths: make([][]route.PointPath, len(j.Circuits))}
	for i := range j.Circuits {
		s.paths[i] = j.PointPaths(i)
	}
	return s
}

// circuit lists the readings of one circuit in the order of testing.
func (s *sheet) circuit(i int) CircuitTests {
	c := CircuitTests{Circuit: i, Paths: s.paths[i], Notes: s.notes(i)}
	add := func(point int, tests ...route.Test) {
		for _, t := range tests {
			c.Expected = append(c.Expected, s.expect(nil, i, point, t))
		}
	}
	each := func(tests ...route.Test) {
		for k := range c.Paths {
			add(k, tests...)
		}
	}
	switch {
	case s.m.Circuits[i].Arrangement.V != route.Ring:
		each(route.LineCPC, route.CPCAlone)
	case s.m.RingCores(i, route.CPC) == nil:
		add(-1, route.LineEnds, route.NeutralEnds)
		each(route.LineCPC, route.LineNeutral, route.CPCAlone)
	default:
		add(-1, route.LineEnds, route.NeutralEnds, route.CPCEnds)
		each(route.LineCPC, route.LineNeutral)
	}
	add(-1, route.Insulation)
	each(route.Polarity, route.EarthLoop)
	if r, ok := residualOf(s.m, i); ok {
		c.Residual = r.String()
		add(-1, route.Trip, route.HalfTrip, route.FiveTimes)
	}
	return c
}

// expect works out one reading, and writes how into w.
func (s *sheet) expect(w *sum.Work, circuit, point int, t route.Test) Expected {
	e := Expected{Circuit: circuit, Point: point, Test: t, Value: none, Least: none, Most: none, Table: none, WithSteel: none, Each: none, sheet: s}
	var err error
	switch t {
	case route.External, route.FaultAtOrigin:
		err = s.origin(w, &e)
	case route.LineEnds, route.NeutralEnds, route.CPCEnds:
		e.Value, err = s.ends(w, circuit, t)
	case route.LineCPC, route.LineNeutral, route.CPCAlone:
		err = s.continuity(w, &e)
	case route.Insulation:
		s.insulation(w, &e)
	case route.Polarity:
		e.Prove = s.polarity(w, &e)
	case route.EarthLoop:
		err = s.loop(w, &e)
	default:
		err = s.residual(w, &e)
	}
	if err != nil {
		e.Why = openReason(err)
		w.Note(e.Why)
	}
	return e
}
