package route_test

import (
	"math"
	"slices"
	"testing"

	"tubewright/route"

	"pgregory.net/rapid"
)

var anyPlan = planRules{loops: 2, joints: true, circuits: 3, enc: mixedEnc, cpc: []string{"", "", "shared", "conduit"}, shortest: true}

// TestCoresArrive: every core is walked from terminal to terminal, is as long
// as its runs and tails, has both ends named apart from the others', and the
// job's and the bill's metres are what the runs and tails add up to.
func TestCoresArrive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := drawPlan(t, anyPlan).parse(t)
		total := 0.0
		ends := map[[2]route.Terminal]bool{}
		for i := range j.Singles {
			s := &j.Singles[i]
			at, length := s.From.Place, 0.0
			for _, p := range s.Way {
				r := &j.Runs[p.Run]
				from, to := r.From, r.To
				if !p.Forward {
					from, to = to, from
				}
				if from != at {
					t.Fatalf("core %d: run %s does not start where the last one ended", i, r.Name)
				}
				at = to
				length += float64(r.Length)
			}
			length += tail(j, s.From.Place) + tail(j, s.To.Place)
			if at != s.To.Place || math.Abs(length-float64(s.Length)) > 1e-6 || s.Mark() == "" {
				t.Fatalf("core %d %q: %d, not %d; %v m, not %v", i, s.Mark(), at, s.To.Place, s.Length, length)
			}
			if c := &j.Circuits[s.Circuit]; i < c.Singles[0] || i >= c.Singles[1] {
				t.Fatalf("core %d is not among its circuit's", i)
			}
			if s.Group == 0 && s.Function != route.Line && s.Function != route.Neutral && s.Function != route.CPC && s.Function != route.PermanentLine {
				t.Fatalf("core %d, %s, is of no group", i, s.Function)
			}
			total += length
			checkEnds(t, j, s, ends)
		}
		checkMetres(t, j, total)
	})
}

// checkEnds: no two cores of a circuit share both ends, except a ring's of one
// point.
func checkEnds(t *rapid.T, j *route.Job, s *route.Single, ends map[[2]route.Terminal]bool) {
	key := [2]route.Terminal{s.From, s.To}
	for k := range key {
		key[k].Gang += 1000 * (s.Circuit + 1)
	}
	if ends[key] || s.From == s.To {
		t.Fatalf("two cores of %s from %v to %v", j.Circuits[s.Circuit].Name, s.From, s.To)
	}
	ends[key] = true
}

// tail is what a job allows by default at each end of a core: 0.6 m at the
// board, 0.15 m elsewhere (common practice, no source).
func tail(j *route.Job, place int) float64 {
	if j.Places[place].Kind == route.BoardPlace {
		return 0.6
	}
	return 0.15
}

// checkMetres adds up the cores run by run, and the bill.
func checkMetres(t *rapid.T, j *route.Job, total float64) {
	byRun := 0.0
	for i := range j.Runs {
		for _, c := range j.Cores(i) {
			byRun += float64(c.Count) * float64(j.Runs[i].Length)
		}
	}
	for _, s := range j.Singles {
		byRun += tail(j, s.From.Place) + tail(j, s.To.Place)
	}
	bill := 0.0
	for _, it := range j.Bill() {
		if it.Group == "cable" {
			bill += it.Net
		}
	}
	if math.Abs(byRun-total) > 1e-6 || math.Abs(bill-total) > 1e-4 {
		t.Fatalf("%v m of singles, %v m by runs, %v m in the bill", total, byRun, bill)
	}
}

// TestTerminalsServed: every light has what its function needs and every point
// its lines, neutral and cpc; a switch never needs more gangs than it has.
func TestTerminalsServed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rules := anyPlan
		rules.cpc = ownCPC
		p := drawPlan(t, rules)
		j := p.parse(t)
		for c := range p.circuits {
			served := map[route.Terminal]int{}
			for _, s := range j.Singles[j.Circuits[c].Singles[0]:j.Circuits[c].Singles[1]] {
				served[s.From]++
				served[s.To]++
			}
			need := func(place, gang int, pins ...route.Pin) {
				for _, pin := range pins {
					if served[route.Terminal{Place: place, Gang: gang, Pin: pin}] == 0 {
						t.Fatalf("nothing at %s of %s\n%s", pin, p.places[place].name, p.text())
					}
				}
			}
			p.needs(&p.circuits[c], &j.Circuits[c], need)
			for at := range served {
				if at.Gang > j.Places[at.Place].Gangs && j.Places[at.Place].Kind == route.Switch {
					t.Fatalf("gang %d of %s", at.Gang, p.places[at.Place].name)
				}
			}
		}
	})
}

func (p *plan) needs(c *planCircuit, wired *route.Circuit, need func(place, gang int, pins ...route.Pin)) {
	points := slices.Clone(c.points)
	for _, s := range c.spurs {
		points = append(points, s.points...)
	}
	for _, at := range points {
		need(at, 0, route.PinL, route.PinE)
		if c.phases == 3 {
			need(at, 0, route.PinL2, route.PinL3)
		}
		if !c.noNeutral {
			need(at, 0, route.PinN)
		}
	}
	for k, g := range c.groups {
		for _, l := range g.lights {
			need(l, 0, route.PinN, route.PinE)
			permanent := p.places[l].kind == "timed fan" || p.places[l].kind == "emergency light"
			if len(g.switches) > 0 {
				need(l, 0, route.PinSL)
			}
			if len(g.switches) == 0 || permanent {
				need(l, 0, route.PinL)
			}
		}
		for i, wiredTo := range wired.Groups[k].Switches { // in the order of least cable, where that is asked for
			s, gang := wiredTo.V, wired.Groups[k].Gangs[i]
			need(s, 0, route.PinE)
			switch {
			case g.conversion && len(g.switches) == 2:
				need(s, 0, route.PinL)
				need(s, gang, route.PinTwo, route.PinC)
			case i == 0:
				need(s, 0, route.PinL)
				fallthrough
			case i == len(g.switches)-1:
				need(s, gang, map[bool][]route.Pin{true: {route.PinOne, route.PinTwo}, false: {route.PinOne}}[len(g.switches) > 1]...)
			default:
				need(s, gang, route.PinOneIn, route.PinTwoIn, route.PinOne, route.PinTwo)
			}
		}
	}
}

// TestCircuitRemoved: a job without one of its circuits has the very cores that
// it had, less that circuit's.
func TestCircuitRemoved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rules := anyPlan
		rules.cpc = []string{"", "conduit"} // a shared cpc belongs to all that share it
		p := drawPlan(t, rules)
		if len(p.circuits) < 2 {
			t.Skip("one circuit")
		}
		all := p.parse(t)
		gone := rapid.IntRange(0, len(p.circuits)-1).Draw(t, "gone")
		less := *p
		less.circuits = slices.Delete(slices.Clone(p.circuits), gone, gone+1)
		rest := less.parse(t)
		var want []route.Single
		for _, s := range all.Singles {
			if s.Circuit != gone {
				if s.Circuit > gone {
					s.Circuit--
				}
				want = append(want, s)
			}
		}
		sameSingles(t, want, rest.Singles)
	})
}

func sameSingles(t *rapid.T, want, got []route.Single) {
	if len(want) != len(got) {
		t.Fatalf("%d cores, not %d", len(got), len(want))
	}
	for i := range want {
		a, b := want[i], got[i]
		if !slices.Equal(a.Way, b.Way) {
			t.Fatalf("core %d takes %v, not %v", i, b.Way, a.Way)
		}
		a.Way, b.Way = nil, nil
		if a.Circuit != b.Circuit || a.Function != b.Function || a.From != b.From || a.To != b.To || a.Length != b.Length || a.Cable != b.Cable || a.Colour != b.Colour {
			t.Fatalf("core %d is %+v, not %+v", i, b, a)
		}
	}
}

// TestRunsTurned: which end of a run the file names first changes no count and
// no length, and only the direction in which the run is passed.
func TestRunsTurned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, anyPlan)
		j := p.parse(t)
		turned := *p
		turned.runs = slices.Clone(p.runs)
		turn := map[int]bool{}
		for i := range turned.runs {
			if turn[i] = rapid.Bool().Draw(t, "turn"); turn[i] {
				turned.runs[i].from, turned.runs[i].to = turned.runs[i].to, turned.runs[i].from
			}
		}
		other := turned.parse(t)
		for i := range other.Singles {
			s := &other.Singles[i]
			s.Way = slices.Clone(s.Way) // cores side by side share it
			for k, pass := range s.Way {
				s.Way[k].Forward = pass.Forward != turn[pass.Run]
			}
		}
		sameSingles(t, j.Singles, other.Singles)
		for i := range j.Runs {
			if !slices.Equal(j.Cores(i), other.Cores(i)) {
				t.Fatalf("run %s holds %v, turned %v", j.Runs[i].Name, j.Cores(i), other.Cores(i))
			}
		}
	})
}

// TestRingTwoWays: from the board to each point of a ring there are two ways
// and no more, and no core is on both.
func TestRingTwoWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, anyPlan)
		j := p.parse(t)
		for c := range j.Circuits {
			if j.Circuits[c].Arrangement.V != route.Ring {
				continue
			}
			for _, pin := range []route.Pin{route.PinL, route.PinN} {
				for _, g := range j.Circuits[c].Points {
					ways := coreWays(j, c, route.Terminal{Place: j.Board.Place, Pin: pin}, route.Terminal{Place: g.V, Pin: pin})
					if len(ways) != 2 {
						t.Fatalf("%d ways to %s\n%s", len(ways), j.Places[g.V].Name, p.text())
					}
					for _, core := range ways[0] {
						if slices.Contains(ways[1], core) {
							t.Fatalf("core %d is on both ways to %s\n%s", core, j.Places[g.V].Name, p.text())
						}
					}
				}
			}
		}
	})
}

// coreWays lists the ways from terminal to terminal along a circuit's cores,
// no core twice.
func coreWays(j *route.Job, circuit int, from, to route.Terminal) [][]int {
	var found [][]int
	var way []int
	var visit func(at route.Terminal)
	visit = func(at route.Terminal) {
		if at == to {
			found = append(found, slices.Clone(way))
			return
		}
		for i := j.Circuits[circuit].Singles[0]; i < j.Circuits[circuit].Singles[1]; i++ {
			s := &j.Singles[i]
			if slices.Contains(way, i) || s.From != at && s.To != at {
				continue
			}
			next := s.To
			if at == s.To {
				next = s.From
			}
			way = append(way, i)
			visit(next)
			way = way[:len(way)-1]
		}
	}
	visit(from)
	return found
}

// TestShortestOrder: the order of least cable is no longer than the order of
// the file and no shorter than its bound; the points are the same. Joints in
// boxes may draw in less than any order.
func TestShortestOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, anyPlan)
		short, listed := *p, *p
		short.circuits, listed.circuits = slices.Clone(p.circuits), slices.Clone(p.circuits)
		for i := range p.circuits {
			short.circuits[i].shortest, listed.circuits[i].shortest = true, false
			short.circuits[i].spurs, listed.circuits[i].spurs = nil, nil
		}
		a, b := short.parse(t), listed.parse(t)
		for c := range a.Circuits {
			s := a.Circuits[c].Saving
			if p.circuits[c].arrangement == "lighting" {
				continue
			}
			drawn := lineLength(a, c)
			if s.Shortest > s.Listed+1e-9 || s.Bound > s.Shortest+1e-9 || drawn > s.Shortest+1e-6 {
				t.Fatalf("%s: %v m drawn, %+v", a.Circuits[c].Name, drawn, s)
			}
			if joined := a.Circuits[c].Joined; len(joined) == 0 && drawn < s.Shortest-1e-6 || len(joined) > 0 && joined[0].Least >= joined[0].Looped {
				t.Fatalf("%s: %v m drawn, %+v, %+v", a.Circuits[c].Name, drawn, s, joined)
			}
			if !hasJoints(b) && math.Abs(lineLength(b, c)-s.Listed) > 1e-6 {
				t.Fatalf("%s: %v m as listed, %+v", a.Circuits[c].Name, lineLength(b, c), s)
			}
			if !slices.Equal(sortedPoints(a, c), sortedPoints(b, c)) {
				t.Fatalf("%s: points %v, not %v", a.Circuits[c].Name, sortedPoints(a, c), sortedPoints(b, c))
			}
		}
	})
}

func sortedPoints(j *route.Job, c int) []int {
	var out []int
	for _, g := range j.Circuits[c].Points {
		out = append(out, g.V)
	}
	slices.Sort(out)
	return out
}

// lineLength is the way of a circuit's first line, without tails.
func lineLength(j *route.Job, circuit int) float64 {
	sum := 0.0
	for _, s := range j.Singles {
		if s.Circuit == circuit && s.Function == route.Line && s.From.Pin == route.PinL {
			sum += float64(s.Length) - tail(j, s.From.Place) - tail(j, s.To.Place)
		}
	}
	return sum
}

func hasJoints(j *route.Job) bool {
	return slices.ContainsFunc(j.Places, func(p route.Place) bool { return p.Joints })
}
