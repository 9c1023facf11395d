package route

import (
	"errors"
	"path/filepath"
	"strings"

	"tubewright/factors/source"
	"tubewright/factors/units"
)

// ParseMeasured reads the readings of a job's tests: YAML, or CSV where the
// name ends in .csv or the text starts with that header. The error is a
// source.Problems with everything that is wrong with the file.
//
//	measured: Rowing club boat store
//	ambient: 15 C
//	circuits:
//	  sockets:
//	    insulation: "> 200 Mohm"
//	    points: {s1: {R1+R2: 0.12 ohm, R2: 0.06 ohm, Zs: 0.42 ohm, polarity: yes}}
//	    residual: {trip: 24 ms}
//
// Cost: linear in the text and in the points of the circuits it names.
func ParseMeasured(j *Job, name string, text []byte) (*Measured, error) {
	var m *measuring
	want := "circuits: {NAME: {insulation: 200 Mohm, points: {…}}}"
	if strings.EqualFold(filepath.Ext(name), ".csv") || strings.HasPrefix(strings.TrimPrefix(string(text), "\ufeff"), "circuit,") {
		m, want = measuredCSV(j, name, text), "fill in the column value"
	} else {
		m = measuredYAML(j, name, text)
	}
	if len(m.Problems) == 0 && len(m.out.Readings) == 0 {
		m.Add(ErrMissing, source.Pos{Line: 1, Col: 1}, 1, "the file has no readings", want)
	}
	if err := m.Problems.Err(); err != nil {
		return nil, err
	}
	return m.out, nil
}

// measuring reads one file of readings.
type measuring struct {
	*parser
	out   *Measured
	paths map[int][]PointPath    // of each circuit asked for
	first map[reading]source.Pos // where a line of CSV gave it
}

// reading is what can be read once.
type reading struct {
	circuit, point int
	test           Test
}

func newMeasuring(j *Job, r *source.Reader) *measuring {
	m := &measuring{
		parser: &parser{Reader: r, job: j, broken: map[string]bool{}},
		out:    &Measured{File: r.File}, paths: map[int][]PointPath{}, first: map[reading]source.Pos{},
	}
	m.out.Ambient.V = 20
	return m
}

func measuredYAML(j *Job, name string, text []byte) *measuring {
	r, root := source.Parse(name, text)
	m := newMeasuring(j, r)
	switch {
	case root == nil && len(r.Problems) == 0:
		m.Add(ErrJob, source.Pos{Line: 1, Col: 1}, 1, "the file is empty", "start with measured: and the name of the job")
	case root == nil, errors.Is(r.Problems, source.ErrAlias):
		// What an alias stands for is not read, so more would be guesswork.
	case root.Kind != source.Mapping:
		m.AddNode(ErrJob, root, "a file of readings starts with a key", "start with measured: and the name of the job")
	default:
		m.whole(root)
	}
	return m
}

var measuredKeys = []string{"measured", "date", "tested by", "ambient", "allowance", "supply", "circuits"}

func (m *measuring) whole(root *source.Node) {
	named := false
	for key, v := range m.keys(root, "a file of readings", measuredKeys) {
		switch key {
		case "measured":
			named = true
			if v.Kind != source.Scalar || v.Value != m.job.Name {
				m.AddNode(ErrConflict, v, "these readings are of another job", "the job is called "+m.job.Name)
			}
		case "date":
			m.out.Date = m.text(v)
		case "tested by":
			m.out.TestedBy = m.text(v)
		case "ambient":
			m.ambient(v)
		case "allowance":
			m.allowance(v)
		case "supply":
			m.tests(v, "supply", -1, -1, []Test{External, FaultAtOrigin})
		case "circuits":
			m.circuits(v)
		}
	}
	if !named {
		m.AddNode(ErrMissing, root, "the file does not say which job was measured", "start with measured: "+m.job.Name)
	}
}

func (m *measuring) ambient(v *source.Node) {
	m.out.Ambient = good(m.parser, v, units.ParseCelsius, func(c units.Celsius) bool { return c >= -20 && c <= 60 },
		v.Value+" is no temperature to test at", "the conductors' own, such as 15 C")
}

func (m *measuring) allowance(n *source.Node) {
	a := &m.out.Allow
	for key, v := range m.keys(n, "allowance", []string{"instrument", "continuity", "loop", "temperature"}) {
		switch key {
		case "instrument":
			a.Share = quantity(m.parser, v, units.ParseShare)
		case "continuity":
			a.Continuity = quantity(m.parser, v, units.ParseOhms)
		case "loop":
			a.Loop = quantity(m.parser, v, units.ParseOhms)
		case "temperature":
			a.Kelvin = good(m.parser, v, units.ParseCelsius, func(c units.Celsius) bool { return c >= 0 && c <= 30 },
				v.Value+" is no uncertainty of a temperature", "such as 5 C")
		}
	}
}

func (m *measuring) circuits(n *source.Node) {
	m.names(n, "circuits", func(k, v *source.Node) {
		if circuit, ok := m.circuit(k); ok {
			m.circuitReadings(circuit, v)
		}
	})
}

// circuit finds the circuit of a name.
func (m *measuring) circuit(k *source.Node) (int, bool) {
	i := m.job.circuitIndex(k.Value)
	if i < 0 {
		m.noSuch(k, "circuits", "circuit", func() []string {
			names := make([]string, len(m.job.Circuits))
			for i := range names {
				names[i] = m.job.Circuits[i].Name
			}
			return names
		})
	}
	return i, i >= 0
}

// circuitTestKeys are the keys of a circuit; those of a point are known to be
// one, and misplaced.
var circuitTestKeys = append([]string{"r1", "rn", "r2", "insulation", "points", "residual"}, pointTestNames...)

var pointTestNames = testNames(pointTests)

func testNames(tests []Test) []string {
	names := make([]string, len(tests))
	for i, t := range tests {
		names[i] = t.String()
	}
	return names
}

func (m *measuring) circuitReadings(circuit int, n *source.Node) {
	for key, v := range m.keys(n, "circuit "+m.job.Circuits[circuit].Name, circuitTestKeys) {
		switch key {
		case "points":
			m.names(v, "points", func(k, v *source.Node) {
				if point, ok := m.point(circuit, k); ok {
					m.tests(v, "point "+k.Value, circuit, point, pointTests)
				}
			})
		case "residual":
			m.tests(v, "residual", circuit, -1, []Test{Trip, HalfTrip, FiveTimes})
		default:
			t := testNamed(key)
			if t.OfPoint() {
				m.AddNode(ErrConflict, v, key+" is of a point, not of the circuit", "points: {NAME: {"+key+": …}}")
				continue
			}
			m.read(Reading{Circuit: circuit, Point: -1, Test: t}, v)
		}
	}
}

var pointTests = []Test{LineCPC, LineNeutral, CPCAlone, Polarity, EarthLoop}

// tests reads the readings of a mapping whose keys are tests.
func (m *measuring) tests(n *source.Node, what string, circuit, point int, known []Test) {
	for key, v := range m.keys(n, what, testNames(known)) {
		m.read(Reading{Circuit: circuit, Point: point, Test: testNamed(key)}, v)
	}
}

func testNamed(word string) Test {
	for t, w := range testWords {
		if t > 0 && w == word {
			return Test(t)
		}
	}
	return 0
}

// point finds the point of a circuit that bears a name.
func (m *measuring) point(circuit int, k *source.Node) (int, bool) {
	paths, seen := m.paths[circuit]
	if !seen {
		paths = m.job.PointPaths(circuit)
		m.paths[circuit] = paths
	}
	names := make([]string, len(paths))
	for i := range paths {
		names[i] = m.job.PathName(&paths[i])
		if names[i] == k.Value {
			return i, true
		}
	}
	m.AddNode(ErrReference, k, k.Value+" is no point of circuit "+m.job.Circuits[circuit].Name, source.Suggest(k.Value, names))
	return 0, false
}
