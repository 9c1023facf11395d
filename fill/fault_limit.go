package fill

import (
	"errors"
	"fmt"
	"strings"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// zsLimit is the largest earth fault loop impedance of a circuit.
type zsLimit struct {
	Zs       sum.Term // by the rule, unrounded
	Test     sum.Term // what a cold measurement is held to
	Residual bool     // by the residual device, not by the overcurrent one
}

var (
	errVoltage = errors.New("no disconnection time is carried for this voltage to earth: the table read is for over 120 V and up to 230 V")
	errTTFuse  = errors.New("no table read gives a fuse's loop impedance for the times of a TT supply: a residual device disconnects there")
)

// DisconnectionTime is the longest time to disconnection of a circuit, in
// seconds. A circuit that only names its runs counts as one with
// socket-outlets unless the job says that it feeds fixed equipment only.
//
// Source: BS 7671, 411.3.2.2 to 411.3.2.4 and Table 41.1 (read).
func DisconnectionTime(w *sum.Work, j *route.Job, circuit int) (sum.Term, error) {
	c := &j.Circuits[circuit]
	if U0 := j.Supply.Voltage.V; U0 <= 120 || U0 > 230 {
		return sum.Term{}, errVoltage
	}
	sockets := feedsSockets(j, c)
	time, scope := uk.DisconnectionTime(j.Supply.Earthing.V == route.TT, c.Device.V.Rating, sockets)
	t := time.Term("t")
	if !w.Keeps() {
		return t, nil
	}
	what := "fixed equipment only"
	if sockets {
		what = "a circuit with socket-outlets"
	}
	over := "up to"
	if float64(c.Device.V.Rating) > scope.Num {
		over = "over"
	}
	w.Note(fmt.Sprintf("%s, %s A, which is %s the %s A of the shorter time", what, sum.Figure(float64(c.Device.V.Rating)), over, sum.Figure(scope.Num)), scope.Cite)
	return w.Given("longest time to disconnection", t), nil
}

// feedsSockets reports whether a circuit may feed socket-outlets.
func feedsSockets(j *route.Job, c *route.Circuit) bool {
	e := &c.Electrical
	switch {
	case e.Fixed.Said():
		return !e.Fixed.V
	case e.SocketIn || e.Use.V == route.UseSockets:
		return true
	case c.Named:
		return c.Arrangement.V == route.Radial || c.Arrangement.V == route.Ring
	}
	return hasSocket(j, c)
}

// hasSocket reports whether a socket-outlet is among a circuit's points.
func hasSocket(j *route.Job, c *route.Circuit) bool {
	for _, g := range c.Points {
		if j.Places[g.V].Kind == route.Socket {
			return true
		}
	}
	for _, s := range c.Spurs {
		for _, g := range s.Points {
			if j.Places[g.V].Kind == route.Socket {
				return true
			}
		}
	}
	return false
}

// zsLimitOf is the largest loop impedance by the device that disconnects: the
// overcurrent device, or in a TT supply the residual device where there is one.
func zsLimitOf(w *sum.Work, m *matter, circuit int) (zsLimit, error) {
	tt := m.Supply.Earthing.V == route.TT
	if r, ok := residualOf(m, circuit); ok && tt {
		return residualLimit(w, r), nil
	}
	t, err := DisconnectionTime(w, m.Job, circuit)
	if err != nil {
		return zsLimit{}, err
	}
	d := m.Circuits[circuit].Device.V
	if d.Type != "" {
		return breakerLimit(w, m, d, t)
	}
	if tt {
		return zsLimit{}, errTTFuse
	}
	return fuseLimit(w, m, d, t)
}

// breakerLimit is Zs = Cmin U0 / Ia.
//
// Source: BS 7671, 411.4.4 and Table 41.3.
func breakerLimit(w *sum.Work, m *matter, d route.Device, t sum.Term) (zsLimit, error) {
	v, err := uk.Trip(d.Type, t.Value)
	if err != nil {
		return zsLimit{}, err
	}
	In := sum.Term{Symbol: "In", Value: float64(d.Rating), Unit: "A"}
	Ia := w.Let("Ia", "current that trips "+d.String()+" in that time", "A", sum.Times(sum.T(v.Term("trip")), sum.T(In)))
	U0 := nominal(m)
	limit := zsLimit{Zs: w.Let("Zs max", "largest earth fault loop impedance", "Ω", sum.Over(sum.Times(sum.T(uk.Cmin().Term("Cmin")), sum.T(U0)), sum.T(Ia)))}
	base := limit.Zs
	if table, err := uk.BreakerZs(d.Type, d.Rating, t.Value); err == nil && U0.Value == 230 {
		base = w.Given("the same as the table prints it", inOhms(table, "Zs table"))
	}
	limit.Test = testLimit(w, base)
	if w.Keeps() {
		uk.WithoutCmin(w, U0, Ia)
	}
	return limit, nil
}

// fuseLimit is the table's figure, in proportion where the voltage is not the
// table's 230 V.
func fuseLimit(w *sum.Work, m *matter, d route.Device, t sum.Term) (zsLimit, error) {
	v, err := uk.FuseZs(d.Standard, d.Rating, t.Value)
	if err != nil {
		return zsLimit{}, err
	}
	limit := zsLimit{Zs: w.Given("largest earth fault loop impedance with "+d.String(), inOhms(v, "Zs max"))}
	if U0 := nominal(m); U0.Value != 230 {
		limit.Zs = w.Let("Zs max", "at this voltage", "Ω", sum.Over(sum.Times(sum.T(inOhms(v, "Zs table")), sum.T(U0)), sum.N(230)))
	}
	limit.Test = testLimit(w, limit.Zs)
	return limit, nil
}

// residualLimit is Zs = 50 V / IΔn.
//
// Source: BS 7671, 411.5.3 and Table 41.5.
func residualLimit(w *sum.Work, r servedBy) zsLimit {
	I := sum.T(sum.Term{Symbol: "IΔn", Value: float64(r.Current), Unit: "A"})
	w.Notef("the residual device disconnects: %s", r)
	Zs := w.Let("Zs max", "largest earth fault loop impedance with the residual device", "Ω", sum.Over(sum.T(uk.TouchVoltage().Term("U")), I))
	if table, err := uk.ResidualZs(units.Amps(r.Current)); err == nil {
		w.Given("the same as the table prints it", inOhms(table, "Zs table"))
	}
	return zsLimit{Zs: Zs, Test: Zs, Residual: true}
}

// testLimit is what a measurement at room temperature is held to.
func testLimit(w *sum.Work, table sum.Term) sum.Term {
	rule, printed := uk.TestShare()
	test := w.Let("Zs test", "what a cold measurement is held to: 0.8 of the table", "Ω", sum.Times(sum.T(rule.Term("share")), sum.T(table)))
	if w.Keeps() {
		w.Let("Zs printed", "other limits in use: tables printed for 10 °C come to 1/1.24, and rounding before or after the 0.8 changes the last digit", "Ω",
			sum.Times(sum.T(printed.Term("share")), sum.T(table)))
	}
	return test
}

// inOhms writes the unit as the sums do.
func inOhms(v factors.Value, symbol string) sum.Term {
	t := v.Term(symbol)
	t.Unit = strings.Replace(t.Unit, "ohm", "Ω", 1)
	return t
}

func nominal(m *matter) sum.Term {
	return sum.Term{Symbol: "U0", Value: float64(m.Supply.Voltage.V), Unit: "V"}
}
