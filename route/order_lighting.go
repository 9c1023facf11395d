package route

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/combin"
)

// mostOrders bounds how often a lighting circuit is laid to find the order of
// its switches, and mostBetween of how many intermediates every order is tried.
const (
	mostOrders  = 128
	mostBetween = 4
)

// leastOrder puts the switches of each group, and where the line goes to lights
// the light that takes it, in the order that draws in the least cable: the
// circuit is laid in each and all its cores are added up. The end switches may
// change places, and intermediates between them; two switches of the conversion
// method stay, as their first drop is there already. In each of them every net
// takes the shortest order of its places.
//
// An order stands only if some core takes each way that the job names.
//
// Cost: up to 128 times that of laying the circuit.
func (d *deriver) leastOrder() {
	t := &lightTrials{deriver: d, start: d.drafted(), file: slices.Clone(d.c.Groups), groups: slices.Clone(d.c.Groups), least: math.Inf(1)}
	choices := make([][]Group, len(d.c.Groups))
	all := 1
	for k := range d.c.Groups {
		var whole bool
		choices[k], whole = d.arrangements(&d.c.Groups[k])
		t.partly = t.partly || !whole
		all = min(all*len(choices[k]), mostOrders+1)
	}
	d.listed = true
	listed, ok := t.lay()
	d.listed = false
	if !ok {
		return // light reports why
	}
	if all <= mostOrders {
		t.every(choices, 0)
	} else {
		t.partly = true
		t.inTurn(choices)
	}
	t.saving(listed)
}

// lightTrials is the search for the order of a lighting circuit.
type lightTrials struct {
	*deriver
	start  draft
	file   []Group // as listed
	groups []Group // the best so far
	least  float64 // m of all cores, with tails
	bound  float64 // m; the least that any trial may come to
	tried  int
	partly bool // there are orders that were not tried
}

// lay lays the circuit as it stands, adds up its cores and takes them out again.
func (t *lightTrials) lay() (lengthM float64, ok bool) {
	t.loose = 0
	t.light()
	for i := t.start.singles; i < len(t.job.Singles); i++ {
		lengthM += float64(t.job.Singles[i].Length)
	}
	ok = len(t.Problems) == 0 && !slices.ContainsFunc(t.c.Via, func(v Via) bool { return !v.used })
	t.restore(t.start)
	return lengthM, ok
}

// try weighs the order that the groups stand in.
func (t *lightTrials) try() {
	length, ok := t.lay()
	if !ok {
		return
	}
	if bound := length - t.loose; t.tried == 0 || bound < t.bound {
		t.bound = bound
	}
	t.tried++
	if length < t.least-1e-9 {
		t.least, t.groups = length, slices.Clone(t.c.Groups)
	}
}

// every tries all arrangements of the groups from k on.
func (t *lightTrials) every(choices [][]Group, k int) {
	if k == len(choices) {
		t.try()
		return
	}
	for _, g := range choices[k] {
		t.c.Groups[k] = g
		t.every(choices, k+1)
	}
}

// inTurn tries the arrangements of one group after the other, the others as they
// are best so far.
func (t *lightTrials) inTurn(choices [][]Group) {
	for k := range choices {
		for _, g := range choices[k] {
			if t.tried == mostOrders {
				break
			}
			t.c.Groups[k] = g
			t.try()
		}
		t.c.Groups[k] = t.groups[k]
	}
}

// saving keeps the best order, and says what it saves and what is proved: that
// no order takes less only where every one was tried and what is drawn does not
// hang on more than the order.
func (t *lightTrials) saving(listed float64) {
	if t.listed = listed <= t.least+1e-9; t.listed { // what is listed stands
		t.least, t.groups = listed, t.file
	}
	sv := Saving{Listed: listed, Shortest: t.least, Tried: t.tried}
	copy(t.c.Groups, t.groups)
	if !t.partly && t.settled() {
		sv.Bound = min(t.bound, sv.Shortest)
		sv.Exact = sv.Bound >= sv.Shortest-1e-9
	}
	t.c.Saving = sv
}

// settled reports whether the lengths hang on the orders that are tried and on
// nothing else: the runs form a tree, cores are not joined in boxes, and no
// light takes its permanent line from whichever place is near.
func (t *lightTrials) settled() bool {
	only := t.ways.onlyWays()
	for i, r := range t.job.Runs {
		if r.From >= 0 && r.To >= 0 && r.From != r.To && !only[i] {
			return false
		}
	}
	if len(t.joints) > 0 || len(t.permanents()) > 0 {
		return false
	}
	switched := 0
	for _, g := range t.c.Groups {
		if len(g.Switches) > 0 {
			switched++
		}
	}
	return t.c.Loop == AtLights || switched == 0 || switched == len(t.c.Groups)
}

// arrangements lists the orders of a group that are tried, its own first, and
// whether these are all.
func (d *deriver) arrangements(g *Group) (out []Group, all bool) {
	lights := [][]Given[int]{g.Lights}
	if d.c.Loop == AtLights && len(g.Switches) > 0 {
		lights = d.firstLights(g.Lights)
	}
	orders, all := switchOrders(len(g.Switches), g.Conversion)
	for _, l := range lights {
		for _, order := range orders {
			one := *g
			one.Lights, one.Switches, one.Gangs = l, nil, nil
			for _, i := range order {
				one.Switches, one.Gangs = append(one.Switches, g.Switches[i]), append(one.Gangs, g.Gangs[i])
			}
			out = append(out, one)
		}
	}
	return out, all
}

// switchOrders lists the orders of n switches with the same two at the ends.
func switchOrders(n int, conversion bool) (orders [][]int, all bool) {
	listed := make([]int, n)
	for i := range listed {
		listed[i] = i
	}
	if n < 2 || conversion {
		return [][]int{listed}, n <= 2
	}
	between := [][]int{listed[1 : n-1]}
	switch m := n - 2; {
	case m > mostBetween:
		turned := slices.Clone(between[0])
		slices.Reverse(turned)
		between = append(between, turned)
	case m > 1:
		between = nil
		for _, order := range combin.Permutations(m, m) {
			for i := range order {
				order[i]++
			}
			between = append(between, order)
		}
	}
	for _, ends := range [][2]int{{0, n - 1}, {n - 1, 0}} {
		for _, b := range between {
			orders = append(orders, slices.Concat([]int{ends[0]}, b, []int{ends[1]}))
		}
	}
	return orders, n-2 <= mostBetween
}

// firstLights lists the lights with each in turn first, and behind an isolator
// the load that is fed through it.
func (d *deriver) firstLights(lights []Given[int]) (out [][]Given[int]) {
	for i := range lights {
		end := i + 1
		for end < len(lights) && d.isBehind(lights[end].V) {
			end++
		}
		if !d.isBehind(lights[i].V) {
			out = append(out, slices.Concat(lights[i:end], lights[:i], lights[end:]))
		}
	}
	return out
}
