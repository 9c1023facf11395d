package render

import (
	"fmt"
	"io"
	"math"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

// writeCircuitTests prints a circuit's dead tests, then its live ones.
func writeCircuitTests(w io.Writer, t *fill.TestSheet, c *fill.CircuitTests) error {
	if err := writeWrapped(w, "\nCIRCUIT ", "  ", circuitTitle(t.Job, c)); err != nil {
		return err
	}
	for _, n := range c.Notes {
		if err := writeWrapped(w, "  – ", "    ", n); err != nil {
			return err
		}
	}
	fmt.Fprintln(w, "  DEAD")
	if c.IsRing() {
		if err := writeEnds(w, c); err != nil {
			return err
		}
	}
	if err := writeContinuity(w, t.Job, c); err != nil {
		return err
	}
	if err := writeInsulation(w, t, c); err != nil {
		return err
	}
	fmt.Fprintf(w, "  %s\n", testsLive)
	if err := writeLoops(w, t.Job, c); err != nil {
		return err
	}
	return writeResidual(w, t, c)
}

// circuitTitle is sockets: way 1, B32, 2.5 mm² stranded, cpc 1.5 mm², ring.
func circuitTitle(j *route.Job, c *fill.CircuitTests) string {
	x := &j.Circuits[c.Circuit]
	s := oneLine(x.Name) + ": "
	if x.Way.Said() {
		s += fmt.Sprintf("way %d, ", x.Way.V)
	}
	s += deviceOf(x) + ", " + x.Cable.V.String()
	if cpc := cpcText(j, x); cpc == units.Format(float64(x.CPC.V)) {
		s += ", cpc " + cpc + " mm²"
	} else {
		s += ", cpc " + cpc
	}
	return s + ", " + x.Arrangement.V.String()
}

func writeEnds(w io.Writer, c *fill.CircuitTests) error {
	tab := columns{head: []string{"ring", "expected Ω", "measured Ω", ""}, right: []bool{false, true}, narrow: 30}
	for _, test := range []route.Test{route.LineEnds, route.NeutralEnds, route.CPCEnds} {
		if e, ok := c.At(-1, test); ok {
			note := e.Why
			if test == route.NeutralEnds {
				apart, _ := uk.RingBalance()
				note = "within " + sum.WithUnit(sum.Figure(apart.Num), apart.Unit) + " of r1"
			}
			tab.add(testNames[test], ohmText(e.Value), toMeasure, note)
		}
	}
	for _, q := range []struct {
		name  string
		other route.Test
	}{{"(r1 + r2)/4", route.CPCEnds}, {"(r1 + rn)/4", route.NeutralEnds}} {
		if v, ok := c.Quarter(q.other); ok {
			tab.add(q.name, ohmText(v), toMeasure, "")
		}
	}
	return tab.write(w, "    ")
}

// pointKind is what stands at a point of a circuit.
func pointKind(j *route.Job, p *route.PointPath) string {
	if p.Place < 0 {
		return ""
	}
	return j.Places[p.Place].Kind.String()
}

// writeContinuity prints the readings of every point: R1+R2 and R2, or of a
// ring line to cpc and line to neutral with the ends cross-connected.
func writeContinuity(w io.Writer, j *route.Job, c *fill.CircuitTests) error {
	tests := []route.Test{route.LineCPC, route.LineNeutral, route.CPCAlone}
	head := map[route.Test]string{route.LineCPC: "R1+R2 Ω", route.LineNeutral: "R1+Rn Ω", route.CPCAlone: "R2 Ω"}
	tab := columns{head: []string{"point", "is"}, right: []bool{false, false}, narrow: 24}
	var shown []route.Test
	for _, t := range tests {
		if _, ok := c.At(0, t); ok {
			shown = append(shown, t)
			tab.head = append(tab.head, head[t], steelHead(c, t), "measured")
			tab.right = append(tab.right, true, true, false)
		}
	}
	tab.head = append(tab.head, "polarity")
	for i := range c.Paths {
		p := &c.Paths[i]
		cells := []string{j.PathName(p), pointKind(j, p)}
		for _, t := range shown {
			e, _ := c.At(i, t)
			cells = append(cells, ohmText(e.Value), steelText(e), toMeasure)
		}
		prove := ""
		if e, ok := c.At(i, route.Polarity); ok {
			prove = tickBox + " " + e.Prove
		}
		tab.add(append(cells, prove)...)
	}
	tab.dropEmpty()
	if err := tab.write(w, "    "); err != nil {
		return err
	}
	return writeWhy(w, c, shown)
}

// steelHead heads the column of what steel in parallel may bring a reading
// down to, "" where no point has it.
func steelHead(c *fill.CircuitTests, t route.Test) string {
	for i := range c.Paths {
		if e, ok := c.At(i, t); ok && !math.IsNaN(e.WithSteel) {
			return "steel"
		}
	}
	return ""
}

func steelText(e *fill.Expected) string {
	if math.IsNaN(e.WithSteel) {
		return ""
	}
	return ohmText(e.WithSteel)
}

// writeWhy says why points have no value, each reason once.
func writeWhy(w io.Writer, c *fill.CircuitTests, tests []route.Test) error {
	said := map[string]bool{}
	for i := range c.Paths {
		for _, t := range tests {
			if e, ok := c.At(i, t); ok && e.Why != "" && !said[e.Why] {
				said[e.Why] = true
				if err := writeWrapped(w, "    – no "+t.String()+": ", "      ", e.Why); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

func writeInsulation(w io.Writer, t *fill.TestSheet, c *fill.CircuitTests) error {
	e, ok := c.At(-1, route.Insulation)
	if !ok {
		return nil
	}
	text := fmt.Sprintf("insulation  %s MΩ at %s V DC, at least %s MΩ", toMeasure, sum.Figure(t.TestVolts(c.Circuit)), sum.Figure(e.Least))
	if n := len(c.Paths); n > 1 {
		text += fmt.Sprintf("; %d points read in parallel, so each must have %s MΩ", n, sum.Figure(e.Each))
	}
	return writeWrapped(w, "    ", "      ", text)
}

func writeLoops(w io.Writer, j *route.Job, c *fill.CircuitTests) error {
	tab := columns{head: []string{"point", "Zs Ω", steelHead(c, route.EarthLoop), "measured Ω", "test limit Ω", "table, hot Ω"}, right: []bool{false, true, true, false, true, true}}
	for i := range c.Paths {
		if e, ok := c.At(i, route.EarthLoop); ok {
			tab.add(j.PathName(&c.Paths[i]), ohmText(e.Value), steelText(e), toMeasure, limitText(e.Most), limitText(e.Table))
		}
	}
	tab.dropEmpty()
	if err := tab.write(w, "    "); err != nil {
		return err
	}
	return writeWhy(w, c, []route.Test{route.EarthLoop})
}

func writeResidual(w io.Writer, t *fill.TestSheet, c *fill.CircuitTests) error {
	if c.Residual == "" {
		return writeWrapped(w, "    ", "      ", "residual device: the job names none for this circuit")
	}
	trip, _ := c.At(-1, route.Trip)
	half, _ := c.At(-1, route.HalfTrip)
	five, _ := c.At(-1, route.FiveTimes)
	within := "within " + sum.Figure(trip.Most) + " ms"
	if !math.IsNaN(trip.Least) {
		within = sum.Figure(trip.Least) + " to " + sum.Figure(trip.Most) + " ms"
	}
	I := t.RatedResidual(c.Circuit)
	text := fmt.Sprintf("residual device, %s: %s at %s mA AC, whatever its type  %s ms", c.Residual, within, sum.Figure(I), toMeasure)
	if err := writeWrapped(w, "    ", "      ", text); err != nil {
		return err
	}
	text = fmt.Sprintf("good practice, no longer asked for (memory): %s %s", tickBox, half.Prove)
	if !math.IsNaN(five.Most) {
		text += fmt.Sprintf("; within %s ms at five times  %s ms", sum.Figure(five.Most), toMeasure)
	}
	return writeWrapped(w, "      ", "      ", text)
}

// dropEmpty leaves out columns without a heading and without a cell.
func (c *columns) dropEmpty() {
	for i := len(c.head) - 2; i >= 0; i-- {
		empty := c.head[i] == ""
		for _, r := range c.rows {
			empty = empty && r[i] == ""
		}
		if !empty {
			continue
		}
		c.head = append(c.head[:i:i], c.head[i+1:]...)
		if i < len(c.right) {
			c.right = append(c.right[:i:i], c.right[i+1:]...)
		}
		for k, r := range c.rows {
			c.rows[k] = append(r[:i:i], r[i+1:]...)
		}
	}
}
