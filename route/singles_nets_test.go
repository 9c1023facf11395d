package route_test

import (
	"math"
	"math/cmplx"

	"tubewright/route"

	"gonum.org/v1/gonum/mat"
)

// A node is a terminal of a circuit. Two circuits have terminals of their own
// at one place.
type node struct {
	circuit int
	at      route.Terminal
}

// starPoint is no terminal: the middle of a three-phase load without neutral.
const starPoint route.Pin = 200

// A network is a circuit in one state of its switches: cores that resist by
// their length, loads that take current, and what is joined without resistance.
type network struct {
	job     *route.Job
	circuit int
	number  map[node]int
	root    []int // of the nodes joined without resistance
	cores   []branch
	loads   []branch
	fixed   map[node]complex128
}

type branch struct {
	a, b        int
	conductance float64
	single      int // index of Job.Singles, for a core
	place       int // for a load
	pin         route.Pin
}

// gang is what the simulation can switch.
type gang struct {
	group *route.Group
	k     int // which switch of the group
}

func gangs(j *route.Job, circuit int) []gang {
	var out []gang
	for i := range j.Circuits[circuit].Groups {
		g := &j.Circuits[circuit].Groups[i]
		for k := range g.Switches {
			out = append(out, gang{g, k})
		}
	}
	return out
}

// newNetwork builds a circuit, its switches thrown as the bits of state say.
// The cores of circuits whose neutral it borrows are in it, their loads are
// not.
func newNetwork(j *route.Job, circuit int, state uint) *network {
	n := &network{job: j, circuit: circuit, number: map[node]int{}, fixed: map[node]complex128{}}
	n.wire(circuit)
	c := &j.Circuits[circuit]
	for k := range c.Groups {
		if name := c.Groups[k].Neutral; name.Said() {
			n.borrow(k+1, name.V)
		}
	}
	for bit, g := range gangs(j, circuit) {
		n.throw(g, state>>bit&1 == 1)
	}
	n.connectLoads()
	return n
}

func (n *network) node(circuit int, t route.Terminal) int {
	k := node{circuit, t}
	if _, ok := n.number[k]; !ok {
		n.number[k] = len(n.root)
		n.root = append(n.root, len(n.root))
	}
	return n.number[k]
}

func (n *network) find(i int) int {
	for n.root[i] != i {
		i = n.root[i]
	}
	return i
}

func (n *network) join(a, b int) { n.root[n.find(a)] = n.find(b) }

// wire adds the live cores of a circuit, and the board that feeds it.
func (n *network) wire(circuit int) {
	for i := range n.job.Singles {
		s := &n.job.Singles[i]
		if s.Circuit == circuit && s.Live() {
			n.cores = append(n.cores, branch{a: n.node(circuit, s.From), b: n.node(circuit, s.To), conductance: 100 / float64(s.Length), single: i})
		}
	}
	for k, pin := range []route.Pin{route.PinL, route.PinL2, route.PinL3} {
		n.fix(circuit, pin, cmplx.Rect(1, -2*math.Pi/3*float64(k)))
	}
	n.fix(circuit, route.PinN, 0)
}

func (n *network) fix(circuit int, pin route.Pin, volts complex128) {
	at := route.Terminal{Place: n.job.Board.Place, Pin: pin}
	n.node(circuit, at)
	n.fixed[node{circuit, at}] = volts
}

// borrow adds the lender's cores and joins the group's neutral to the lender's
// where it starts.
func (n *network) borrow(group int, name string) {
	for lender := range n.job.Circuits {
		if n.job.Circuits[lender].Name != name {
			continue
		}
		if _, ok := n.fixed[node{lender, route.Terminal{Place: n.job.Board.Place, Pin: route.PinN}}]; !ok {
			n.wire(lender)
		}
		for i := range n.job.Singles {
			s := &n.job.Singles[i]
			if s.Circuit == n.circuit && s.Function == route.Neutral && s.Group == group {
				if at := (node{lender, s.From}); n.has(at) {
					n.join(n.number[at], n.node(n.circuit, s.From))
				}
			}
		}
	}
}

func (n *network) has(at node) bool {
	_, ok := n.number[at]
	return ok
}

// throw closes the contacts of a gang: a one-way switch makes or breaks, a
// two-way joins its common to one way or the other, an intermediate passes its
// pairs straight or crossed.
func (n *network) throw(g gang, thrown bool) {
	place, last := g.group.Switches[g.k].V, len(g.group.Switches)-1
	pin := func(p route.Pin) int {
		return n.node(n.circuit, route.Terminal{Place: place, Gang: g.group.Gangs[g.k], Pin: p})
	}
	feed := n.node(n.circuit, route.Terminal{Place: place, Pin: route.PinL})
	one, two := route.PinOne, route.PinTwo
	if thrown {
		one, two = two, one
	}
	switch {
	case g.group.Conversion && (g.k == 0 || last == 1): // line on L1 of both
		n.join(feed, pin(route.PinOne))
	case g.k == 0:
		n.join(feed, pin(route.PinC))
	}
	switch {
	case g.k > 0 && g.k < last:
		n.join(pin(route.PinOneIn), pin(one))
		n.join(pin(route.PinTwoIn), pin(two))
	case last > 0:
		n.join(pin(route.PinC), pin(one))
	case thrown:
		n.join(pin(route.PinC), pin(route.PinOne))
	}
}

func (n *network) connectLoads() {
	c := &n.job.Circuits[n.circuit]
	var points []route.Given[int]
	points = append(points, c.Points...)
	for _, s := range c.Spurs {
		points = append(points, s.Points...)
	}
	for _, p := range points {
		home := route.PinN
		if !c.Neutral {
			home = starPoint
		}
		for k := range c.Lines() {
			n.load(p.V, route.PinL+route.Pin(k), home)
		}
	}
	for _, g := range c.Groups {
		for _, l := range g.Lights {
			if len(g.Switches) > 0 {
				n.load(l.V, route.PinSL, route.PinN)
			}
			if k := n.job.Places[l.V].Kind; len(g.Switches) == 0 || k == route.EmergencyLight || k == route.TimedFan {
				n.load(l.V, route.PinL, route.PinN)
			}
		}
	}
}

// load adds a load; no two are alike.
func (n *network) load(place int, pin, home route.Pin) {
	_, part := math.Modf(float64(len(n.loads)+1) * math.Phi)
	a := n.node(n.circuit, route.Terminal{Place: place, Pin: pin})
	b := n.node(n.circuit, route.Terminal{Place: place, Pin: home})
	n.loads = append(n.loads, branch{a: a, b: b, conductance: 0.01 + 0.01*part, place: place, pin: pin})
}

// solve finds the voltage of every node: at each that is not held by the
// board, the currents add up to zero. Nodes that nothing joins to the board
// stay at zero.
func (n *network) solve() []complex128 {
	volts := make([]complex128, len(n.root))
	held := map[int]bool{}
	for at, v := range n.fixed {
		r := n.find(n.number[at])
		volts[r], held[r] = v, true
	}
	branches := append(append([]branch(nil), n.cores...), n.loads...)
	row := n.free(branches, held)
	if len(row) > 0 {
		g := mat.NewDense(len(row), len(row), nil)
		rhs := mat.NewDense(len(row), 2, nil)
		for _, br := range branches {
			a, b := n.find(br.a), n.find(br.b)
			for _, end := range [][2]int{{a, b}, {b, a}} {
				i, free := row[end[0]]
				if !free || a == b {
					continue
				}
				g.Set(i, i, g.At(i, i)+br.conductance)
				if k, ok := row[end[1]]; ok {
					g.Set(i, k, g.At(i, k)-br.conductance)
				} else {
					rhs.Set(i, 0, rhs.At(i, 0)+br.conductance*real(volts[end[1]]))
					rhs.Set(i, 1, rhs.At(i, 1)+br.conductance*imag(volts[end[1]]))
				}
			}
		}
		var x mat.Dense
		if err := x.Solve(g, rhs); err != nil {
			panic(err)
		}
		for r, i := range row {
			volts[r] = complex(x.At(i, 0), x.At(i, 1))
		}
	}
	for i := range volts {
		volts[i] = volts[n.find(i)]
	}
	return volts
}

// free numbers the nodes that branches join to the board and that it does not
// hold.
func (n *network) free(branches []branch, held map[int]bool) map[int]int {
	reached := map[int]bool{}
	for r := range held {
		reached[r] = true
	}
	row := map[int]int{}
	for grown := true; grown; {
		grown = false
		for _, br := range branches {
			a, b := n.find(br.a), n.find(br.b)
			if reached[a] == reached[b] {
				continue
			}
			if reached[a] {
				a = b
			}
			reached[a], grown = true, true
			row[a] = len(row)
		}
	}
	return row
}

// unbalanced solves the circuit and returns the net current in each run where
// the live conductors of the circuit, and of those it borrows from where
// lenders is true, do not cancel.
func (n *network) unbalanced(volts []complex128, lenders bool) map[int]float64 {
	sum := map[int]complex128{}
	for _, br := range n.cores {
		s := &n.job.Singles[br.single]
		if s.Circuit != n.circuit && !lenders {
			continue
		}
		amps := (volts[br.a] - volts[br.b]) * complex(br.conductance, 0)
		for _, p := range s.Way {
			if p.Forward {
				sum[p.Run] += amps
			} else {
				sum[p.Run] -= amps
			}
		}
	}
	out := map[int]float64{}
	for run, amps := range sum {
		if a := cmplx.Abs(amps); a > 1e-8 {
			out[run] = a
		}
	}
	return out
}
