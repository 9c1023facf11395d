package fill_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
	"tubewright/fill"
	"tubewright/route"
)

// network is the cores of one kind as resistors between terminals, solved by
// Kirchhoff's laws with a general solver: it knows nothing of ways, rings or
// superposition.
type network struct {
	names  map[string]int
	joined []int // a closed contact makes two terminals one
	res    []resistor
}

type resistor struct {
	a, b int
	ohm  float64
}

func newNetwork() *network { return &network{names: map[string]int{}} }

func (n *network) node(name string) int {
	i, ok := n.names[name]
	if !ok {
		i = len(n.joined)
		n.names[name] = i
		n.joined = append(n.joined, i)
	}
	for n.joined[i] != i {
		i = n.joined[i]
	}
	return i
}

func (n *network) join(a, b string) { n.joined[n.node(a)] = n.node(b) }

func (n *network) put(a, b string, ohm float64) {
	n.node(a)
	n.node(b)
	n.res = append(n.res, resistor{n.names[a], n.names[b], ohm})
}

func (n *network) root(i int) int {
	for n.joined[i] != i {
		i = n.joined[i]
	}
	return i
}

// solve returns how far the voltage of every terminal lies below the source's
// when currents are drawn.
func (n *network) solve(t *rapid.T, source string, drawn map[string]float64) map[string]float64 {
	at := map[int]int{} // unknowns of the terminals that hang together with the source
	src := n.node(source)
	at[src] = -1
	for grown := true; grown; {
		grown = false
		for _, r := range n.res {
			a, b := n.root(r.a), n.root(r.b)
			_, hasA := at[a]
			_, hasB := at[b]
			if hasA != hasB {
				if hasA {
					a = b
				}
				at[a] = len(at) - 1
				grown = true
			}
		}
	}
	g := mat.NewDense(len(at)-1, len(at)-1, nil)
	for _, r := range n.res {
		a, okA := at[n.root(r.a)]
		b, okB := at[n.root(r.b)]
		if !okA || !okB || a == b {
			continue
		}
		for _, p := range [][2]int{{a, b}, {b, a}} {
			if p[0] >= 0 {
				g.Set(p[0], p[0], g.At(p[0], p[0])+1/r.ohm)
				if p[1] >= 0 {
					g.Set(p[0], p[1], g.At(p[0], p[1])-1/r.ohm)
				}
			}
		}
	}
	currents := mat.NewVecDense(len(at)-1, nil)
	for name, amps := range drawn {
		k, ok := at[n.node(name)]
		if !ok {
			t.Fatalf("%s does not hang together with the source", name)
		}
		currents.SetVec(k, currents.AtVec(k)+amps)
	}
	var below mat.VecDense
	if err := below.SolveVec(g, currents); err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	for name := range n.names {
		if k, ok := at[n.node(name)]; ok && k >= 0 {
			out[name] = below.AtVec(k)
		} else if ok {
			out[name] = 0
		}
	}
	return out
}

func pinName(t route.Terminal) string { return fmt.Sprintf("%d/%d/%d", t.Place, t.Gang, t.Pin) }

// coresOf are the cores of a circuit that are wanted, as resistors of so many
// ohms a metre. Switches stand so that every light of the job burns.
func coresOf(j *route.Job, circuit int, ohmPerMetre float64, want func(*route.Single) bool) *network {
	n := newNetwork()
	c := &j.Circuits[circuit]
	for i := c.Singles[0]; i < c.Singles[1]; i++ {
		if s := &j.Singles[i]; want(s) {
			n.put(pinName(s.From), pinName(s.To), ohmPerMetre*float64(s.Length))
		}
	}
	for _, g := range c.Groups {
		for k, s := range g.Switches {
			gang := func(p route.Pin) string { return pinName(route.Terminal{Place: s.V, Gang: g.Gangs[k], Pin: p}) }
			switch {
			case k > 0 && k < len(g.Switches)-1:
				n.join(gang(route.PinOneIn), gang(route.PinOne))
				n.join(gang(route.PinTwoIn), gang(route.PinTwo))
				continue
			case k == 0:
				n.join(pinName(route.Terminal{Place: s.V, Pin: route.PinL}), gang(route.PinC))
			}
			n.join(gang(route.PinC), gang(route.PinOne))
		}
	}
	return n
}

func isLine(s *route.Single) bool    { return s.Live() && s.Function != route.Neutral }
func isNeutral(s *route.Single) bool { return s.Function == route.Neutral }
func isCPC(s *route.Single) bool     { return s.Function == route.CPC }

// tree draws runs that join the board with n points in some tree.
func tree(t *rapid.T, n int, kind func(i int) string) string {
	var places, runs strings.Builder
	for i := range n {
		from := "board"
		if k := rapid.IntRange(-1, i-1).Draw(t, "run from"); k >= 0 {
			from = fmt.Sprintf("p%d", k)
		}
		fmt.Fprintf(&places, "  p%d: {is: %s, gangs: 4}\n", i, kind(i))
		fmt.Fprintf(&runs, "  R%d: {from: %s, to: p%d, in: plastic conduit 32, length: %.1f m}\n", i, from, i, float64(rapid.IntRange(2, 300).Draw(t, "decimetres"))/10)
	}
	return "job: drawn\nsupply: {voltage: 230 V, earthing: TN-S, Ze: 0.5 ohm}\nplaces:\n  board: {is: board}\n" + places.String() + "runs:\n" + runs.String()
}

// powerJob draws a radial or a ring with spurs and loads at some of its points.
func powerJob(t *rapid.T, ring bool) string {
	n := rapid.IntRange(2, 9).Draw(t, "points")
	order := rapid.Permutation(indices(n)).Draw(t, "order")
	spurs := rapid.IntRange(0, n/3).Draw(t, "spurs")
	main, rest := order[:n-spurs], order[n-spurs:]
	text := tree(t, n, func(int) string { return "socket" }) + "circuits:\n  x:\n    device: B32\n    cable: 2.5\n    cpc: 1.5\n"
	if ring {
		text += "    arrangement: ring\n"
	}
	text += "    points: " + names(main) + "\n"
	if spurs > 0 {
		text += fmt.Sprintf("    spurs: [{from: p%d, points: %s}]\n", rapid.SampledFrom(main).Draw(t, "spur from"), names(rest))
	}
	var loads []string
	for i := range n {
		if amps := rapid.IntRange(0, 8).Draw(t, "amps"); amps > 0 {
			loads = append(loads, fmt.Sprintf("p%d: %d A", i, amps))
		}
	}
	if len(loads) > 0 {
		text += "    loads: {" + strings.Join(loads, ", ") + "}\n"
	}
	return text
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

func names(places []int) string {
	out := make([]string, len(places))
	for i, p := range places {
		out[i] = fmt.Sprintf("p%d", p)
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// againstNetwork compares every point's drop, R1, Rn and R2 with the solved
// network. Half of 18 mV/A/m falls to each of line and neutral (BS 7671 Table
// 4D1B); 7.41 and 12.1 mΩ/m are 2.5 and 1.5 mm² (BS EN 60228).
func againstNetwork(t *rapid.T, text string, mV float64, milliohm [2]float64) {
	j, err := route.Parse("drawn.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	draw := func(pin route.Pin) map[string]float64 {
		out := map[string]float64{}
		for _, l := range j.Circuits[0].Electrical.Loads {
			out[pinName(route.Terminal{Place: l.Place, Pin: pin})] += float64(l.Demand.Current)
		}
		return out
	}
	board := func(p route.Pin) string { return pinName(route.Terminal{Place: j.Board.Place, Pin: p}) }
	lit := route.PinL
	if len(j.Circuits[0].Groups) > 0 {
		lit = route.PinSL
	}
	line := coresOf(j, 0, mV/2/1000, isLine).solve(t, board(route.PinL), draw(lit))
	neutral := coresOf(j, 0, mV/2/1000, isNeutral).solve(t, board(route.PinN), draw(route.PinN))
	for _, v := range fill.Values(j, 0) {
		if j.Places[v.Place].Kind == route.Switch {
			continue
		}
		load, home, earth := route.Terminal{Place: v.Place, Pin: lit}, route.Terminal{Place: v.Place, Pin: route.PinN}, route.Terminal{Place: v.Place, Pin: route.PinE}
		if len(j.Circuits[0].Electrical.Loads) > 0 {
			if want := line[pinName(load)] + neutral[pinName(home)]; math.Abs(v.DropV-want) > 1e-9 {
				t.Fatalf("%s: drop %.9f V, the network has %.9f\n%s", j.Places[v.Place].Name, v.DropV, want, text)
			}
		}
		one := func(end route.Terminal) map[string]float64 { return map[string]float64{pinName(end): 1} }
		for what, pair := range map[string][2]float64{
			"R1": {v.R1, lineOhm(t, j, milliohm[0]/1000, v.Place, lit)},
			"Rn": {v.Rn, coresOf(j, 0, milliohm[0]/1000, isNeutral).solve(t, board(route.PinN), one(home))[pinName(home)]},
			"R2": {v.R2, coresOf(j, 0, milliohm[1]/1000, isCPC).solve(t, board(route.PinE), one(earth))[pinName(earth)]},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-9 {
				t.Fatalf("%s of %s: %.9f, the network has %.9f\n%s", what, j.Places[v.Place].Name, pair[0], pair[1], text)
			}
		}
	}
}

// lineOhm is the resistance of the line to a point: of a light that the line is
// looped through, to the farther of its terminals.
func lineOhm(t *rapid.T, j *route.Job, ohmPerMetre float64, place int, lit route.Pin) float64 {
	most := 0.0
	for _, pin := range []route.Pin{lit, route.PinL} {
		n := coresOf(j, 0, ohmPerMetre, isLine)
		end := pinName(route.Terminal{Place: place, Pin: pin})
		if _, there := n.names[end]; there {
			most = max(most, n.solve(t, pinName(route.Terminal{Place: j.Board.Place, Pin: route.PinL}), map[string]float64{end: 1})[end])
		}
	}
	return most
}

// TestRingNetwork: the exact drop and resistances of random rings with spurs
// and loads are those of the resistive network.
func TestRingNetwork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { againstNetwork(t, powerJob(t, true), 18, [2]float64{7.41, 12.1}) })
}

// TestRadialNetwork: the same for radials.
func TestRadialNetwork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { againstNetwork(t, powerJob(t, false), 18, [2]float64{7.41, 12.1}) })
}

// TestLightingNetwork: the same for lights behind one-way, two-way and
// intermediate switches, the line by one way and the neutral by another.
func TestLightingNetwork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 8).Draw(t, "places")
		lights := rapid.IntRange(1, n-1).Draw(t, "lights")
		kind := func(i int) string {
			if i < lights {
				return "light"
			}
			return "switch"
		}
		text := tree(t, n, kind) + "circuits:\n  x:\n    device: B6\n    cable: 1.5\n    arrangement: lighting\n    loop: " +
			rapid.SampledFrom([]string{"at switches", "at lights"}).Draw(t, "loop") + "\n    groups:\n"
		var loads []string
		for i := range lights {
			k := rapid.IntRange(1, min(n-lights, 4)).Draw(t, "switches")
			switches := rapid.Permutation(indices(n)[lights:]).Draw(t, "which")[:k]
			text += fmt.Sprintf("      - {switches: %s, lights: [p%d]}\n", names(switches), i)
			loads = append(loads, fmt.Sprintf("p%d: %d A", i, rapid.IntRange(1, 3).Draw(t, "amps")))
		}
		text = strings.ReplaceAll(text, "gangs: 4", "gangs: 8")
		text = strings.ReplaceAll(text, "is: light, gangs: 8", "is: light")
		againstNetwork(t, text+"    loads: {"+strings.Join(loads, ", ")+"}\n", 29, [2]float64{12.1, 12.1})
	})
}
