package route_test

import (
	"math"
	"slices"
	"testing"

	"tubewright/route"

	"gonum.org/v1/gonum/stat/combin"
	"pgregory.net/rapid"
)

// TestEndSwitchesSwapped: the end switch that is nearer to the board takes the
// line; metres by hand, of each core with 0.6 m at the board and 0.15 m at every
// other end (common practice, no source).
func TestEndSwitchesSwapped(t *testing.T) {
	const job = `
job: x
places: {board: {is: board}, sw1: {is: switch}, sw2: {is: switch}, l1: {is: light}}
runs:
  A: {from: board, to: sw2, in: steel conduit 20, length: 2 m, bends: 0}
  B: {from: sw2, to: l1, in: steel conduit 20, length: 1 m, bends: 0}
  C: {from: l1, to: sw1, in: steel conduit 20, length: 3 m, bends: 0}
circuits:
  lights: {device: B6, cable: 1.5, arrangement: lighting, order: shortest, groups: [{switches: [sw1, sw2], lights: [l1]}]}
`
	j, err := route.Parse("x.yaml", []byte(job))
	if err != nil {
		t.Fatal(err)
	}
	tails := 5*2*0.15 + 3*0.15 + 3*0.6        // strappers 2, switched line, cpc 2; line, neutral, cpc
	swapped := 2. + 4 + 4 + 3 + 3 + 2 + 1 + 3 // line, strappers, switched line, neutral, cpc
	listed := 6. + 4 + 4 + 1 + 3 + 2 + 1 + 3  // the same
	want := route.Saving{Listed: listed + tails, Shortest: swapped + tails, Bound: swapped + tails, Exact: true, Tried: 2}
	if got := j.Circuits[0].Saving; math.Abs(got.Listed-want.Listed)+math.Abs(got.Shortest-want.Shortest)+math.Abs(got.Bound-want.Bound) > 1e-6 || got.Exact != want.Exact || got.Tried != want.Tried {
		t.Errorf("%+v, want %+v", got, want)
	}
	if first := j.Circuits[0].Groups[0].Switches[0].V; j.Places[first].Name != "sw2" {
		t.Errorf("%s takes the line", j.Places[first].Name)
	}
}

// TestLightingEveryOrder: where the order of least cable is said to be proved, no
// other draws in less; it is what is drawn, and never more than as listed.
//
// Outside check: every order of end switches, intermediates and lights, one by
// one, in lists from gonum stat/combin, each written into the file and added up.
func TestLightingEveryOrder(t *testing.T) {
	exact, saved := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, planRules{loops: rapid.SampledFrom([]int{0, 0, 2}).Draw(t, "most loops"), circuits: 1, enc: steelOnly, cpc: []string{"", "conduit"}})
		c := &p.circuits[0]
		if c.arrangement != "lighting" {
			return
		}
		c.shortest = true
		j := p.parse(t)
		sv := j.Circuits[0].Saving
		if drawn := metres(j, 0); math.Abs(drawn-sv.Shortest) > 1e-6 || sv.Shortest > sv.Listed+1e-9 || sv.Bound > sv.Shortest+1e-9 || sv.Tried == 0 {
			t.Fatalf("%v m drawn, %+v\n%s", drawn, sv, p.text())
		}
		if sv.Shortest < sv.Listed-1e-9 {
			saved++
		}
		for k, g := range j.Circuits[0].Groups {
			if n := len(g.Switches); n > 1 && !slices.Contains([]int{c.groups[k].switches[0], c.groups[k].switches[n-1]}, g.Switches[0].V) {
				t.Fatalf("group %d: an intermediate takes the line\n%s", k+1, p.text())
			}
		}
		q := *p
		q.circuits = slices.Clone(p.circuits)
		q.circuits[0].shortest = false
		orders := q.orders()
		if len(orders) > 72 {
			return
		}
		least := math.Inf(1)
		for _, groups := range orders {
			q.circuits[0].groups = groups
			least = min(least, metres(q.parse(t), 0))
		}
		if sv.Exact {
			exact++
		}
		if sv.Exact && sv.Shortest > least+1e-6 || sv.Bound > least+1e-6 {
			t.Fatalf("%v m by another order, %+v\n%s", least, sv, p.text())
		}
	})
	if exact == 0 || saved == 0 {
		t.Errorf("%d proved, %d saved: the draw is too tame", exact, saved)
	}
}

// orders lists the groups of the first circuit in every order.
func (p *plan) orders() [][]planGroup {
	all := [][]planGroup{nil}
	for _, g := range p.circuits[0].groups {
		var next [][]planGroup
		for _, switches := range everySwitch(g.switches, g.conversion) {
			for _, order := range combin.Permutations(len(g.lights), len(g.lights)) {
				one := g
				one.switches, one.lights = switches, nil
				for _, i := range order {
					one.lights = append(one.lights, g.lights[i])
				}
				for _, before := range all {
					next = append(next, append(slices.Clone(before), one))
				}
			}
		}
		all = next
	}
	return all
}

func everySwitch(switches []int, conversion bool) (out [][]int) {
	n := len(switches)
	if n < 2 || conversion {
		return [][]int{switches}
	}
	between := [][]int{nil}
	if n > 2 {
		between = combin.Permutations(n-2, n-2)
	}
	for _, ends := range [][2]int{{0, n - 1}, {n - 1, 0}} {
		for _, order := range between {
			one := []int{switches[ends[0]]}
			for _, i := range order {
				one = append(one, switches[i+1])
			}
			out = append(out, append(one, switches[ends[1]]))
		}
	}
	return out
}
