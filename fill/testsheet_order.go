package fill

import "tubewright/factors/uk"

// TestStep is one test of the sequence, to be ticked.
type TestStep struct {
	Number int
	Live   bool
	Text   string
	Source string // "" where OrderSource covers it
}

// OrderSource is where the order of the tests comes from. What is to be
// disconnected before is common practice.
const OrderSource = testOrder

// Order is the sequence of tests for this job: dead ones first. A failure is
// put right and the tests before it that it may have touched are repeated.
//
// Source: textbooks (read).
func (t *TestSheet) Order() []TestStep {
	var out []TestStep
	add := func(live bool, source, text string) { out = append(out, TestStep{len(out) + 1, live, text, source}) }
	add(false, "common practice, no source", "Isolated, locked off and proved dead; loads, lamps, dimmers and what has electronics disconnected; leads nulled")
	add(false, "", "Continuity of every cpc, with main and supplementary bonding: R1+R2, or R2 by a long lead, at every point")
	if t.any((*CircuitTests).IsRing) {
		add(false, "", "Continuity of every ring: r1, rn and r2 from end to end, then cross-connected at every point")
	}
	add(false, "", "Insulation resistance: switches closed; between line and neutral, line and cpc, neutral and cpc")
	add(false, "", "Polarity at every point: line in every switch and device")
	add(true, "", "Polarity and prospective fault current at the incoming terminals, main switch off")
	add(true, "the conductor off and on from memory", "Ze with the main earthing conductor off its terminal, main switch off; it is put back before anything is switched on")
	add(true, "", "Zs at every point, or Ze and the measured R1+R2 added")
	if t.any(func(c *CircuitTests) bool { return c.Residual != "" }) {
		add(true, "", "Trip time of every residual device, then its test button")
	}
	if t.any(func(c *CircuitTests) bool { return t.Job.Circuits[c.Circuit].Lines() == 3 }) || t.Job.Supply.Phases.V == 3 {
		add(true, "BS 7671 643.9 (from memory)", "Phase sequence")
	}
	add(true, "", "Switches, isolators and controls do what they are for")
	return out
}

func (t *TestSheet) any(is func(*CircuitTests) bool) bool {
	for i := range t.Circuits {
		if is(&t.Circuits[i]) {
			return true
		}
	}
	return false
}

// Points is the number of points of the job, which are all in parallel when the
// insulation of the whole board is tested at once.
func (t *TestSheet) Points() int {
	n := 0
	for i := range t.Circuits {
		n += len(t.Circuits[i].Paths)
	}
	return n
}

// BoardEach is what each point of the job must have, in MΩ, for the board
// tested as one to read the least permitted.
func (t *TestSheet) BoardEach() float64 {
	least, _ := uk.Insulation(t.Job.Supply.Voltage.V)
	return float64(t.Points()) * least.Num
}
