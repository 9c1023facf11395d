package fill

import (
	"fmt"
	"slices"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// group is the loaded circuits in one run.
type group struct {
	all   bunch // before any is left out
	rest  bunch // without the light ones
	light []int // circuits left out: at most 30 % of their grouped rating
}

// bunch is how many circuits heat one another.
type bunch struct {
	n     int
	mixed bool // sizes so different that 1/√n holds
}

// grouping counts the loaded circuits of a run. A circuit counts once; a ring
// with both legs in the run once or twice, as the job chooses. A circuit whose
// demand or loads are stated and come to at most 30 % of its grouped rating is
// left out; then the
// others' grouped rating rises, so the search goes on until nothing changes.
//
// Source: BS 7671, 523.5 and Table 4C1 (see the tables cited).
func grouping(m *matter, run int) group {
	r := &m.Runs[run]
	g := group{all: bunch{n: r.Other.V}}
	for _, c := range r.Carries {
		g.all.n += legs(m, c)
	}
	g.all.mixed = g.all.n > 1 && mixedSizes(m, r, nil)
	g.rest = g.all
	if g.all.n < 2 {
		return g
	}
	for g.leaveOut(m, run) {
		g.rest.mixed = mixedSizes(m, r, g.light)
	}
	return g
}

// group is the bunch of circuits in a run.
func (m *matter) group(run int) group {
	if m.groups != nil {
		return m.groups[run]
	}
	return grouping(m, run)
}

// load is the design current of a circuit, in amps.
func (m *matter) load(circuit int) float64 {
	if m.loads != nil {
		return m.loads[circuit]
	}
	return designCurrent(nil, m, &m.Circuits[circuit]).Value
}

// legs is how many circuits a passage counts as.
func legs(m *matter, c route.Carried) int {
	if c.Passes == 2 && m.Circuits[c.Circuit].Arrangement.V == route.Ring {
		return m.Choices.RingLegs.V
	}
	return 1
}

// leaveOut takes the lightly loaded circuits out of the count and reports
// whether there were any.
func (g *group) leaveOut(m *matter, run int) bool {
	before := len(g.light)
	cg, err := g.rest.factor(nil)
	if err != nil {
		return false
	}
	for _, c := range m.Runs[run].Carries {
		circuit := &m.Circuits[c.Circuit]
		if !circuit.LoadSaid() || slices.Contains(g.light, c.Circuit) {
			continue
		}
		It, err := uk.Rating(m.cableOf(c.Circuit), method(&m.Runs[run]), circuit.Loaded())
		if err == nil && sum.AtMost(m.load(c.Circuit), uk.LightLoadShare().Num*It.Num*cg.Value) {
			g.light = append(g.light, c.Circuit)
			g.rest.n -= legs(m, c)
		}
	}
	return len(g.light) > before
}

// factor is Cg of a bunch.
func (b bunch) factor(w *sum.Work) (sum.Term, error) {
	if b.mixed {
		return uk.MixedSizes(w, max(1, b.n)), nil
	}
	v, err := uk.Grouping(max(1, b.n))
	if err != nil {
		return sum.Term{}, err
	}
	return v.Term("Cg"), nil
}

// bears is what bears on the given circuit: all circuits and their sizes for
// one that was left out of the others' count, which is still rated for its own
// load in the whole group; itself and the others for the rest.
//
// Source: BS 7671, 523.5: a light circuit is ignored when the factor for the
// others is found (see the table cited).
func (g *group) bears(circuit int) bunch {
	if slices.Contains(g.light, circuit) {
		return g.all
	}
	return g.rest
}

// mixedSizes reports whether 1/√n holds for the sizes of a run's circuits.
// Table 4C1 takes equal cables; cables whose sizes span at most three adjacent
// standard sizes count as equal (IEC 60364-5-52, B.52.5.1, from memory).
func mixedSizes(m *matter, r *route.Run, without []int) bool {
	if m.Choices.Mixed.V == route.MixedTable {
		return false
	}
	var least, most units.SquareMM
	for _, c := range r.Carries {
		if slices.Contains(without, c.Circuit) {
			continue
		}
		s := m.cableOf(c.Circuit).CSA
		if least == 0 || s < least {
			least = s
		}
		most = max(most, s)
	}
	if least == most {
		return false
	}
	if m.Choices.Mixed.V == route.MixedRoot {
		return true
	}
	return sizeIndex(most)-sizeIndex(least) >= 3
}

func sizeIndex(s units.SquareMM) int { return slices.Index(uk.StandardSizes(), s) }

// method is the reference method of a run.
//
// Source: BS 7671, Table 4A2 (from memory): conduit or trunking on a wall or in
// masonry is method B, conduit in a thermally insulating wall method A.
func method(r *route.Run) uk.Method {
	if r.Fixed.V == route.InInsulatedWall {
		return uk.MethodA
	}
	return uk.MethodB
}

// designCurrent is Ib: the stated demand, else the sum of the stated loads,
// else the device's rating.
func designCurrent(w *sum.Work, m *matter, c *route.Circuit) sum.Term {
	switch d := c.Demand.V; {
	case d.Power > 0:
		return powerCurrent(w, m, c, d, "Ib", "design current")
	case d.Current > 0:
		return w.Given("design current, as stated", sum.Term{Symbol: "Ib", Value: float64(d.Current), Unit: "A"})
	case len(c.Electrical.Loads) > 0:
		return loadsCurrent(w, m, c)
	}
	return w.Given("design current: none stated, so the device's rating is taken", sum.Term{Symbol: "Ib", Value: float64(c.Device.V.Rating), Unit: "A"})
}

// loadsCurrent adds up the currents of a circuit's loads.
func loadsCurrent(w *sum.Work, m *matter, c *route.Circuit) sum.Term {
	if !w.Keeps() {
		total := 0.0
		for _, l := range c.Electrical.Loads {
			total += loadCurrent(nil, m, c, l).Value
		}
		return sum.Term{Symbol: "Ib", Value: total, Unit: "A"}
	}
	parts := make([]sum.Expr, len(c.Electrical.Loads))
	for i, l := range c.Electrical.Loads {
		parts[i] = sum.T(loadCurrent(w, m, c, l))
	}
	return w.Let("Ib", "design current: the loads together", "A", sum.Add(parts...))
}

// loadCurrent is what one load of a circuit takes.
func loadCurrent(w *sum.Work, m *matter, c *route.Circuit, l route.Load) sum.Term {
	symbol, meaning := "I", ""
	if w.Keeps() {
		symbol, meaning = "I("+m.Places[l.Place].Name+")", "load at "+m.Places[l.Place].Name
	}
	if l.Demand.Power > 0 {
		return powerCurrent(w, m, c, l.Demand, symbol, meaning)
	}
	return w.Given(meaning, sum.Term{Symbol: symbol, Value: float64(l.Demand.Current), Unit: "A"})
}

// powerCurrent is the current of a power: P / (U0 cosφ), a third of it in each
// line of a three-phase load.
func powerCurrent(w *sum.Work, m *matter, c *route.Circuit, d route.Demand, symbol, meaning string) sum.Term {
	P := sum.T(sum.Term{Symbol: "P", Value: float64(d.Power), Unit: "W"})
	U0 := sum.T(sum.Term{Symbol: "U0", Value: float64(m.Supply.Voltage.V), Unit: "V"})
	below := []sum.Expr{U0}
	if c.Lines() == 3 {
		below = []sum.Expr{sum.N(3), U0}
	}
	if d.Factor > 0 && d.Factor != 1 {
		below = append(below, sum.T(sum.Term{Symbol: "cosφ", Value: d.Factor}))
	}
	return w.Let(symbol, meaning, "A", sum.Over(P, sum.Times(below...)))
}

// describe writes down how the circuits were counted.
func (g *group) describe(w *sum.Work, m *matter, run, circuit int) {
	if !w.Keeps() {
		return
	}
	r := &m.Runs[run]
	w.Notef("run %s: %s", r.Name, g.list(m, r))
	for _, c := range r.Carries {
		if c.Passes == 2 && m.Circuits[c.Circuit].Arrangement.V == route.Ring {
			g.describeRing(w, m, r, c)
		}
	}
	if len(g.light) > 0 {
		names := make([]string, len(g.light))
		for i, c := range g.light {
			names[i] = m.Circuits[c].Name
		}
		w.Note(fmt.Sprintf("left out of the others' count, at most 30 %% of the grouped rating: %s", join(names)), uk.LightLoadShare().Cite)
	}
	if slices.Contains(g.light, circuit) {
		w.Notef("this circuit is judged with all %d", g.all.n)
	}
}

func (g *group) list(m *matter, r *route.Run) string {
	names := make([]string, 0, len(r.Carries))
	for _, c := range r.Carries {
		names = append(names, m.Circuits[c.Circuit].Name)
	}
	text := fmt.Sprintf("%d loaded circuits", g.all.n)
	if g.all.n == 1 {
		text = "1 loaded circuit"
	}
	text += ": " + join(names)
	if r.Other.V > 0 {
		text += fmt.Sprintf(", and %d more that the job counts without naming them", r.Other.V)
	}
	return text
}

// ringLegs says how the rings that lie twice in a run were counted, where that
// bears on the given circuit: another choice may change its verdict.
func (g *group) ringLegs(m *matter, run, circuit int) string {
	var rings []string
	for _, c := range m.Runs[run].Carries {
		left := slices.Contains(g.light, c.Circuit) && !slices.Contains(g.light, circuit)
		if c.Passes == 2 && m.Circuits[c.Circuit].Arrangement.V == route.Ring && !left {
			rings = append(rings, m.Circuits[c.Circuit].Name)
		}
	}
	if rings == nil {
		return ""
	}
	as := "one circuit"
	if m.Choices.RingLegs.V == 2 {
		as = "two circuits"
	}
	return fmt.Sprintf("; a ring that lies there twice counts as %s (choices: ring legs): %s", as, join(rings))
}

// describeRing shows both ways of counting a ring that lies twice in one run:
// with both legs, or with a leg and a spur.
func (g *group) describeRing(w *sum.Work, m *matter, r *route.Run, c route.Carried) {
	one, two := g.all.n-legs(m, c)+1, g.all.n-legs(m, c)+2
	figure := func(n int) string {
		t, err := bunch{n, g.all.mixed}.factor(nil)
		if err != nil {
			return "no figure"
		}
		return sum.Figure(t.Value)
	}
	w.Notef("ring %s lies twice in run %s: one circuit by the wording (n = %d, Cg %s), two by the heat (n = %d, Cg %s); the trade is split, this job counts %d (choices: ring legs)",
		m.Circuits[c.Circuit].Name, r.Name, one, figure(one), two, figure(two), legs(m, c))
}

func join(names []string) string {
	if len(names) > 12 {
		return fmt.Sprintf("%s and %d more", joinAll(names[:10]), len(names)-10)
	}
	return joinAll(names)
}

func joinAll(names []string) string {
	text := ""
	for i, n := range names {
		if i > 0 {
			text += ", "
		}
		text += n
	}
	return text
}
