package route_test

import (
	"slices"
	"testing"

	"tubewright/fill"
	"tubewright/route"

	"pgregory.net/rapid"
)

// mostGangs are thrown through every state; a circuit with more is put through
// as many states, scattered over all that it has.
const mostGangs = 8

func states(j *route.Job, circuit int) []uint {
	n := len(gangs(j, circuit))
	out := make([]uint, 1<<min(mostGangs, n))
	for i := range out {
		out[i] = uint(i)
		if n > mostGangs {
			out[i] = uint(uint64(i+1) * 0x9e3779b97f4a7c15 >> (64 - n))
		}
	}
	return out
}

// TestCurrentsCancel solves each circuit as a network in every state of its
// switches, all loads on: where the runs form a tree, the currents of its live
// conductors in each run add up to zero. Every load has its voltage when it
// should and only then.
//
// Outside checks: Kirchhoff's laws, solved by gonum/mat; BS 7671, 521.5.1
// (rule read, number from memory).
func TestCurrentsCancel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, planRules{joints: true, circuits: 3, enc: steelOnly, cpc: ownCPC, shortest: true})
		j := p.parse(t)
		for c := range j.Circuits {
			for _, state := range states(j, c) {
				n := newNetwork(j, c, state)
				volts := n.solve()
				checkFed(t, n, volts, state)
				for run, amps := range n.unbalanced(volts, false) {
					t.Fatalf("circuit %s, state %b: %g left in run %s\n%s", j.Circuits[c].Name, state, amps, j.Runs[run].Name, p.text())
				}
			}
		}
		for _, f := range togetherFindings(j) {
			if f.Verdict != fill.Pass || f.Value != 0 {
				t.Fatalf("%s: %v %v, %s\n%s", f.Subject, f.Verdict, f.Value, f.Reason, p.text())
			}
		}
	})
}

func togetherFindings(j *route.Job) []fill.Finding {
	all := fill.Check(j).Findings
	return slices.DeleteFunc(all, func(f fill.Finding) bool { return f.Check != "together" })
}

// checkFed checks that each load has voltage when its switches say so: a
// one-way switch makes, and throwing any switch of a two-way group changes its
// lights over.
func checkFed(t *rapid.T, n *network, volts []complex128, state uint) {
	want := map[int]bool{} // of the lights' switched lines
	for bit, g := range gangs(n.job, n.circuit) {
		for _, l := range g.group.Lights {
			if g.k == 0 {
				want[l.V] = len(g.group.Switches) > 1 && !g.group.Conversion
			}
			if state>>bit&1 == 1 {
				want[l.V] = !want[l.V]
			}
		}
	}
	for _, l := range n.loads {
		v := volts[l.a] - volts[l.b]
		on := real(v)*real(v)+imag(v)*imag(v) > 0.25
		if on != (l.pin != route.PinSL || want[l.place]) {
			t.Fatalf("state %b: %s has %v at its %s", state, n.job.Places[l.place].Name, v, l.pin)
		}
	}
}

// TestTogetherIsTheSimulation: where runs form loops, with ways that the job
// names and neutrals borrowed from other circuits, fill counts the very steel
// runs in which the simulated currents leave something over in some state, and
// those that lack the cpc.
func TestTogetherIsTheSimulation(t *testing.T) {
	failed, borrowed := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, planRules{loops: 3, joints: true, circuits: 3, enc: mixedEnc, cpc: []string{"", "shared", "conduit"}, lenders: true})
		j := p.drawVia(t, p.parse(t))
		for c, f := range togetherFindings(j) {
			apart := withoutCPC(j, c)
			var own map[int]float64
			for _, state := range states(j, c) {
				n := newNetwork(j, c, state)
				volts := n.solve()
				checkFed(t, n, volts, state)
				for run := range n.unbalanced(volts, true) {
					if j.Runs[run].Enc.Ferromagnetic() {
						apart[run] = true
					}
				}
				if len(own) == 0 {
					own = n.unbalanced(volts, false)
				}
			}
			borrows := slices.ContainsFunc(j.Circuits[c].Groups, func(g route.Group) bool { return g.Neutral.Said() })
			lent := 0 // loads that come home by another circuit's neutral
			for _, g := range j.Circuits[c].Groups {
				if g.Neutral.Said() {
					lent += len(g.Lights)
				}
			}
			if int(f.Value) != len(apart)+lent || (f.Verdict == fill.Pass) != (len(apart) == 0 && !borrows) {
				t.Fatalf("%s: %v, %v runs; by simulation %v, borrowed %v: %s\n%s", f.Subject, f.Verdict, f.Value, apart, borrows, f.Reason, p.text())
			}
			if borrows && len(own) == 0 {
				t.Fatalf("%s borrows a neutral, and its own conductors cancel everywhere\n%s", f.Subject, p.text())
			}
			if len(apart) > 0 {
				failed++
			}
			if borrows {
				borrowed++
			}
		}
	})
	if failed == 0 || borrowed == 0 {
		t.Errorf("%d circuits with runs apart, %d that borrow: the draw is too tame", failed, borrowed)
	}
}

// withoutCPC lists the steel runs where a circuit has live cores and no cpc
// serves it.
func withoutCPC(j *route.Job, circuit int) map[int]bool {
	live, earthed := map[int]bool{}, map[int]bool{}
	rule := j.Circuits[circuit].CPCRule
	for i := range j.Singles {
		s := &j.Singles[i]
		for _, p := range s.Way {
			if s.Live() && s.Circuit == circuit {
				live[p.Run] = j.Runs[p.Run].Enc.Ferromagnetic() && rule != route.ConduitCPC
			}
			if s.Function == route.CPC && (s.Circuit == circuit || rule == route.SharedCPC && j.Circuits[s.Circuit].CPCRule == route.SharedCPC) {
				earthed[p.Run] = true
			}
		}
	}
	out := map[int]bool{}
	for run, steel := range live {
		if steel && !earthed[run] {
			out[run] = true
		}
	}
	return out
}

// drawVia sends a hop or two of the plan another way round, where there is one.
func (p *plan) drawVia(t *rapid.T, j *route.Job) *route.Job {
	for range rapid.IntRange(0, 2).Draw(t, "ways named") {
		s := &j.Singles[rapid.IntRange(0, len(j.Singles)-1).Draw(t, "core")]
		from, to := s.From.Place, s.To.Place
		runs := p.walk(t, from, to)
		if from == to || len(runs) == 0 {
			continue
		}
		c := &p.circuits[s.Circuit]
		if slices.ContainsFunc(c.via, func(v planVia) bool { return v.from == from && v.to == to || v.from == to && v.to == from }) {
			continue
		}
		before := c.via
		c.via = append(slices.Clone(before), planVia{from, to, runs})
		next, err := route.Parse("drawn.yaml", []byte(p.text()))
		if err != nil {
			c.via = before // it changed which hops there are
			continue
		}
		j = next
	}
	return j
}

// walk wanders from place to place, no place twice, until it arrives.
func (p *plan) walk(t *rapid.T, from, to int) []int {
	seen := map[int]bool{from: true}
	var runs []int
	for at := from; at != to; {
		var open []int
		for i, r := range p.runs {
			if r.from == at && !seen[r.to] || r.to == at && !seen[r.from] {
				open = append(open, i)
			}
		}
		if len(open) == 0 {
			return nil
		}
		r := rapid.SampledFrom(open).Draw(t, "next run")
		runs = append(runs, r)
		at = p.runs[r].from + p.runs[r].to - at
		seen[at] = true
	}
	return runs
}
