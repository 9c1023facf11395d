package route_test

import (
	"math"
	"testing"

	"tubewright/route"

	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/stat/combin"
	"pgregory.net/rapid"
)

// TestLightingShortest: the switched line of each group and the neutral of the
// circuit, as drawn in, are no longer than by any other order of their lights.
// The runs are plastic: in steel a neutral may go a longer way with its line.
//
// Outside check: every order, one by one, in lists from gonum stat/combin, over
// distances by gonum's Floyd and Warshall.
func TestLightingShortest(t *testing.T) {
	several := 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, planRules{loops: 3, circuits: 2, enc: []string{"plastic conduit 20"}, cpc: ownCPC, shortest: true})
		j := p.parse(t)
		far := p.everyDistance()
		for c := range j.Circuits {
			if j.Circuits[c].Order != route.Shortest || j.Circuits[c].Arrangement.V != route.Lighting {
				continue
			}
			type net struct {
				f     route.Function
				group int
			}
			drawn, starts, lights := map[net]float64{}, map[net]int{}, map[net][]int{}
			for _, s := range j.Singles[j.Circuits[c].Singles[0]:j.Circuits[c].Singles[1]] {
				if of := (net{s.Function, s.Group}); s.To.Pin == route.PinSL || s.To.Pin == route.PinN {
					if _, known := starts[of]; !known {
						starts[of] = s.From.Place
					}
					drawn[of] += float64(s.Length) - tail(j, s.From.Place) - tail(j, s.To.Place)
					lights[of] = append(lights[of], s.To.Place)
				}
			}
			for of, at := range lights {
				if len(at) > 7 {
					continue
				}
				if len(at) > 1 {
					several++
				}
				if best := shortestChain(far, starts[of], at); math.Abs(best-drawn[of]) > 1e-6 {
					t.Fatalf("%s of group %d: %v m drawn, %v m by another order\n%s", of.f, of.group, drawn[of], best, p.text())
				}
			}
		}
	})
	if several == 0 {
		t.Error("no net of several lights: the draw is too tame")
	}
}

func (p *plan) everyDistance() path.AllShortest {
	g := simple.NewWeightedUndirectedGraph(0, math.Inf(1))
	for _, r := range p.runs {
		a, b := simple.Node(r.from), simple.Node(r.to)
		if w, ok := g.Weight(a.ID(), b.ID()); !ok || float64(r.mm)/1000 < w {
			g.SetWeightedEdge(g.NewWeightedEdge(a, b, float64(r.mm)/1000))
		}
	}
	all, _ := path.FloydWarshall(g)
	return all
}

func shortestChain(far path.AllShortest, from int, through []int) float64 {
	best := math.Inf(1)
	for _, order := range combin.Permutations(len(through), len(through)) {
		length, at := 0.0, from
		for _, k := range order {
			length += far.Weight(int64(at), int64(through[k]))
			at = through[k]
		}
		best = min(best, length)
	}
	return best
}
