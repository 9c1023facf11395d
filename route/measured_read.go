package route

import (
	"math"
	"strings"

	"tubewright/factors/source"
	"tubewright/factors/units"
)

// read reads one reading and keeps it.
func (m *measuring) read(r Reading, n *source.Node) {
	r.At = source.At(n)
	if r.Test.OfRing() && m.job.Circuits[r.Circuit].Arrangement.V != Ring {
		m.AddNode(ErrConflict, n, r.Test.String()+" is of a ring, and circuit "+m.job.Circuits[r.Circuit].Name+" is none", "R1+R2 and R2 at its points")
		return
	}
	if m.value(&r, n) {
		m.out.Readings = append(m.out.Readings, r)
	}
}

// value reads what the instrument showed, in the unit of its test.
func (m *measuring) value(r *Reading, n *source.Node) bool {
	before := len(m.Problems)
	switch r.Test {
	case Polarity:
		if m.yes(n) {
			r.Value = 1
		}
	case HalfTrip:
		r.Value = float64(word(m.parser, n, []string{"no trip", "trips"}))
	case Insulation:
		m.insulation(r, n)
	case Trip, FiveTimes:
		r.Value = float64(good(m.parser, n, units.ParseMilliseconds, above, "a trip time is above 0", "such as 24 ms; a device that does not trip: 9999 ms").V)
	case FaultAtOrigin:
		r.Value = float64(good(m.parser, n, units.ParseAmps, above, "a fault current is above 0", "such as 1.2 kA").V)
	default:
		if n.Kind == source.Scalar && n.Value == "open" && !r.Test.Live() {
			r.Value = math.Inf(1)
			return true
		}
		r.Value = float64(quantity(m.parser, n, units.ParseOhms).V)
	}
	return len(m.Problems) == before
}

// insulation reads 200 Mohm, or > 200 Mohm where the instrument shows no more.
func (m *measuring) insulation(r *Reading, n *source.Node) {
	text := strings.TrimLeft(strings.TrimPrefix(n.Value, ">"), " ")
	r.Over = n.Kind == source.Scalar && strings.HasPrefix(n.Value, ">")
	if !r.Over {
		r.Value = float64(quantity(m.parser, n, units.ParseMegohms).V)
		return
	}
	v, err := units.ParseMegohms(text)
	if err != nil {
		m.inside(n, err.(*units.Error), len(n.Value)-len(text))
		return
	}
	r.Value = float64(v)
}
