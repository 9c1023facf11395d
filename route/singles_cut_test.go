package route_test

import (
	"maps"
	"slices"
	"testing"

	"tubewright/route"

	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
	"pgregory.net/rapid"
)

// hop is one core between two places, as the trade's diagrams have it.
type hop struct {
	f        route.Function
	from, to int
}

// TestCutRule counts the cores of each run a second way, from the lists of
// terminals alone: cut a run, and of every net as many cores cross as there
// are hops with an end on either side, once, or twice where it dips down a
// drop and returns.
//
// Outside check: the rule follows from the conduits forming a tree; the
// tree of the cpc is gonum's (graph/path, Kruskal). Where more than three cores
// of that tree end on a terminal, three do and there is more cpc.
func TestCutRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, planRules{circuits: 3, enc: mixedEnc, cpc: ownCPC})
		j := p.parse(t)
		var hops []hop
		for i := range p.circuits {
			hops = append(hops, p.hops(&p.circuits[i])...)
		}
		tied, crowded := p.tied(), crowded(hops)
		cpc := 0 // mm by the job, less mm by the cuts
		for run := range p.runs {
			near := p.side(run)
			want := map[route.Function]int{}
			for _, h := range hops {
				if near[h.from] != near[h.to] {
					want[h.f]++
				}
			}
			got := map[route.Function]int{}
			for _, c := range j.Cores(run) {
				got[c.Function] += c.Count
			}
			cpc += (got[route.CPC] - want[route.CPC]) * p.runs[run].mm
			for f := range route.Common + 1 {
				if got[f] != want[f] && !(f == route.CPC && (tied || crowded)) {
					t.Fatalf("run %s: %d of %s, by the cut %d\n%s", runName(run), got[f], f, want[f], p.text())
				}
			}
		}
		if cpc != 0 && !crowded && !tied || cpc < 0 {
			t.Fatalf("%d mm of cpc more than the shortest tree\n%s", cpc, p.text())
		}
		for at, n := range cpcEnds(j) {
			if n > 3 {
				t.Fatalf("%d cpcs at %s\n%s", n, j.Places[at[1]].Name, p.text())
			}
		}
	})
}

// crowded reports whether more than three cpcs end on a terminal.
func crowded(hops []hop) bool {
	at := map[[2]int]int{}
	circuit := 0
	for _, h := range hops {
		if h.f != route.CPC {
			continue
		}
		if h.from == 0 {
			circuit++
		}
		at[[2]int{circuit, h.from}]++
		at[[2]int{circuit, h.to}]++
	}
	return slices.Max(append(slices.Collect(maps.Values(at)), 0)) > 3
}

// cpcEnds counts the cpcs of lighting that end on each terminal, by circuit and
// place.
func cpcEnds(j *route.Job) map[[2]int]int {
	n := map[[2]int]int{}
	for _, s := range j.Singles {
		if s.Function == route.CPC && j.Circuits[s.Circuit].Arrangement.V == route.Lighting {
			n[[2]int{s.Circuit, s.From.Place}]++
			n[[2]int{s.Circuit, s.To.Place}]++
		}
	}
	return n
}

// tied reports whether two ways are equally long, so that there may be more
// than one shortest tree.
func (p *plan) tied() bool {
	seen := map[int]bool{}
	for a := range p.places {
		for b := range a {
			mm := p.mm(a, b)
			if seen[mm] {
				return true
			}
			seen[mm] = true
		}
	}
	return false
}

// side is the places on the board's side when a run is cut.
func (p *plan) side(cut int) map[int]bool {
	near := map[int]bool{0: true}
	for grown := true; grown; {
		grown = false
		for i, r := range p.runs {
			if i != cut && near[r.from] != near[r.to] {
				near[r.from], near[r.to], grown = true, true, true
			}
		}
	}
	return near
}

// mm is the length of the way between two places of a tree: the runs that part
// them.
func (p *plan) mm(a, b int) (sum int) {
	for i, r := range p.runs {
		if near := p.side(i); near[a] != near[b] {
			sum += r.mm
		}
	}
	return sum
}

func (p *plan) hops(c *planCircuit) []hop {
	if c.arrangement == "lighting" {
		out := append(p.lineHops(c), groupHops(p, c)...)
		return append(out, p.treeHops(out)...)
	}
	var legs [][2]int
	chain := func(at int, points []int) {
		for _, to := range points {
			legs = append(legs, [2]int{at, to})
			at = to
		}
	}
	if chain(0, c.points); c.arrangement == "ring" {
		chain(c.points[len(c.points)-1], []int{0})
	}
	for _, s := range c.spurs {
		chain(s.from, s.points)
	}
	var out []hop
	for _, l := range legs {
		for range max(1, c.phases) {
			out = append(out, hop{route.Line, l[0], l[1]})
		}
		if !c.noNeutral {
			out = append(out, hop{route.Neutral, l[0], l[1]})
		}
		out = append(out, hop{route.CPC, l[0], l[1]})
	}
	return out
}

func chainHops(f route.Function, at int, places []int) []hop {
	var out []hop
	for _, to := range places {
		out = append(out, hop{f, at, to})
		at = to
	}
	return out
}

// lineHops loops the permanent line: at the first switches, and on to lights
// without one; or at the first lights, and down to each group's first switch.
func (p *plan) lineHops(c *planCircuit) []hop {
	var stops, on []int
	var drops []hop
	for _, g := range c.groups {
		switch {
		case len(g.switches) == 0 && c.atLights:
			stops = append(stops, g.lights...)
		case len(g.switches) == 0:
			on = append(on, g.lights...)
		case c.atLights:
			if !slices.ContainsFunc(drops, func(h hop) bool { return h.to == g.switches[0] }) {
				stops = append(stops, g.lights[0]) // another light feeds the plate else
				drops = append(drops, hop{route.Line, g.lights[0], g.switches[0]})
			}
		case !slices.Contains(stops, g.switches[0]):
			stops = append(stops, g.switches[0])
		}
	}
	out := append(chainHops(route.Line, 0, stops), drops...)
	if len(on) > 0 {
		from := 0
		for i, s := range stops {
			if i == 0 || p.mm(s, on[0]) < p.mm(from, on[0]) {
				from = s
			}
		}
		out = append(out, chainHops(route.Line, from, on)...)
	}
	return out
}

// groupHops are the strappers, switched and permanent lines and neutrals.
func groupHops(p *plan, c *planCircuit) []hop {
	var out []hop
	var lights, fed []int
	for _, h := range p.lineHops(c) {
		fed = append(fed, h.to)
	}
	for _, g := range c.groups {
		lights = append(lights, g.lights...)
		if len(g.switches) == 0 {
			continue
		}
		first, last := g.switches[0], g.switches[len(g.switches)-1]
		if g.conversion && len(g.switches) == 2 {
			if out = append(out, hop{route.SwitchedLine, first, last}); !slices.Contains(fed, last) {
				out, fed = append(out, hop{route.Line, first, last}), append(fed, last)
			}
		} else {
			out = append(out, chainHops(route.StrapperOne, first, g.switches[1:])...)
			out = append(out, chainHops(route.StrapperTwo, first, g.switches[1:])...)
		}
		if g.conversion {
			out = append(out, hop{route.Common, first, last})
			last = first
		}
		out = append(out, chainHops(route.SwitchedLine, last, g.lights)...)
	}
	out = append(out, permanentHops(p, c, fed)...)
	return append(out, chainHops(route.Neutral, 0, lights)...)
}

// permanentHops takes the permanent line on from the nearest place that has it.
func permanentHops(p *plan, c *planCircuit, fed []int) []hop {
	var out []hop
	for _, g := range c.groups {
		for _, l := range g.lights {
			k := p.places[l].kind
			if len(g.switches) == 0 || k != "timed fan" && k != "emergency light" || slices.Contains(fed, l) {
				continue
			}
			from := slices.MinFunc(fed, func(a, b int) int { return p.mm(a, l) - p.mm(b, l) })
			out = append(out, hop{route.PermanentLine, from, l})
			fed = append(fed, l)
		}
	}
	return out
}

// treeHops is the cpc: the board to the nearest place, and the shortest tree
// over the others.
func (p *plan) treeHops(live []hop) []hop {
	var places []int
	for _, h := range live {
		for _, at := range []int{h.from, h.to} {
			if at != 0 && !slices.Contains(places, at) {
				places = append(places, at)
			}
		}
	}
	nearest := slices.MinFunc(places, func(a, b int) int { return p.mm(0, a) - p.mm(0, b) })
	out := []hop{{route.CPC, 0, nearest}}
	g := simple.NewWeightedUndirectedGraph(0, 0)
	for i, a := range places {
		for _, b := range places[:i] {
			g.SetWeightedEdge(g.NewWeightedEdge(simple.Node(a), simple.Node(b), float64(p.mm(a, b))))
		}
	}
	tree := simple.NewWeightedUndirectedGraph(0, 0)
	path.Kruskal(tree, g)
	for edges := tree.Edges(); edges.Next(); {
		e := edges.Edge()
		out = append(out, hop{route.CPC, int(e.From().ID()), int(e.To().ID())})
	}
	return out
}
