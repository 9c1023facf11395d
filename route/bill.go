package route

import (
	"fmt"
	"math"
	"slices"

	"tubewright/factors"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

// Item is one line of the bill.
type Item struct {
	Group  string    // "conduit", "cable"
	Name   string    // in the trade's terms
	Unit   string    // "m" or "each"
	Net    float64   // as measured or counted
	Waste  float64   // share added to Net
	Gross  float64   // with the allowance for waste, or whole lengths by the cut list
	Pack   float64   // metres of a stock length or reel; 0 where it is sold by the piece
	Packs  float64   // whole lengths or reels to order
	Order  string    // what to buy: "3 lengths of 3.75 m"
	Cut    bool      // Packs are those of the cut list
	AtHand float64   // metres of offcuts at hand that the cut list cuts up before new lengths
	Lost   float64   // share of what is cut up that is lost, by the cut list
	Kept   float64   // metres of offcuts that the cut list leaves to keep
	Labour bool      // work only, nothing to buy
	Runs   []string  // none for what is of the board
	Shares []float64 // of Net, run by run
	Rule   string    // how it was counted
}

// OverNet is by what share of net gross is more: the allowance for waste, or
// whole lengths by the cut list. False where nothing is bought by length, or
// offcuts at hand and bends make gross less than net.
func (it *Item) OverNet() (float64, bool) {
	if it.Pack == 0 || it.Net <= 0 || it.Gross < it.Net {
		return 0, false
	}
	return round6(it.Gross/it.Net - 1), true
}

// The groups of a bill, in its order.
const (
	groupConduit   = "conduit"
	groupTrunking  = "trunking"
	groupBoxes     = "boxes and fittings"
	groupBoard     = "board"
	groupAccessory = "accessories"
	groupFixings   = "fixings"
	groupCable     = "cable"
)

var groupOrder = []string{groupConduit, groupTrunking, groupBoxes, groupBoard, groupAccessory, groupFixings, groupCable}

// Bill counts the material of a job by the rules that its items name.
//
// Cost: linear in runs, places and passages of circuits.
func (j *Job) Bill() []Item {
	t := &takeoff{job: j, index: map[itemKey]int{}, cut: j.cutLengths(), within: make([]bool, len(j.Places))}
	for _, b := range j.bodies {
		for _, m := range b[1:] {
			from, _ := m.ends(j)
			t.within[from] = true
		}
	}
	counted := make([]bool, len(j.bodies))
	for i := range j.Runs {
		if j.Runs[i].Existing {
			continue
		}
		if j.isConduit(i) {
			t.conduit(i)
		} else if k := j.inBody[i].body; !counted[k] {
			t.trunking(j.bodies[k])
			counted[k] = true
		}
		t.listed(i)
	}
	t.singles()
	tails, fed := j.tailPlaces(), j.fed()
	t.enclosed = j.enclosedIsolators()
	for i := range j.Places {
		t.place(i, tails[i], fed[i])
	}
	t.connectors()
	t.board()
	return t.finish()
}

type itemKey struct{ group, name string }

type takeoff struct {
	job   *Job
	items []Item
	parts [][]part // of each item
	index map[itemKey]int
	cut   map[factors.Enclosure]*lengthsCut

	enclosed []bool // the isolators that bring an enclosure of their own
	within   []bool // the places within a body of trunking: nothing joins it there
}

// part is what one run takes of an item.
type part struct {
	run int
	n   float64
}

// add counts a quantity of an item that its runs take in equal parts.
func (t *takeoff) add(group, name, unit, rule string, n float64, runs ...int) {
	parts := make([]part, len(runs))
	for i, r := range runs {
		parts[i] = part{r, n / float64(len(runs))}
	}
	t.addParts(group, name, unit, rule, n, parts)
}

func (t *takeoff) addParts(group, name, unit, rule string, n float64, parts []part) {
	if n <= 0 {
		return
	}
	k := itemKey{group, name}
	i, ok := t.index[k]
	if !ok {
		i = len(t.items)
		t.index[k] = i
		t.items = append(t.items, Item{Group: group, Name: name, Unit: unit, Rule: rule, Labour: rule == ruleBend || rule == ruleFold})
		t.parts = append(t.parts, nil)
	}
	t.items[i].Net += n
	t.parts[i] = append(t.parts[i], parts...)
}

// conduit counts a conduit run's own material.
func (t *takeoff) conduit(i int) {
	r := &t.job.Runs[i]
	so := t.job.Shape(i)
	name := r.Enc.String() + " mm"
	t.add(groupConduit, name, "m", t.lengthRule(r.Enc), float64(r.Length), i)
	t.add(groupBoxes, "coupler, "+name, "each", ruleCoupler, t.couplers(r, &so), i)
	t.add(groupBoxes, "running coupler with locknut, "+name, "each", ruleRunning, t.captive(r), i)
	t.add(groupBoxes, "expansion coupler, "+name, "each", ruleExpansion, t.expansions(r, &so), i)
	t.bends(i)
	n := t.supports(r, &so)
	saddle := t.job.Choices.Saddles.V
	t.add(groupFixings, saddle.String()+", "+name, "each", t.saddleRule(), n, i)
	t.add(groupFixings, screwAndPlug, "each", ruleScrew, saddle.screws()*n, i)
}

// bends counts what is formed in the tube, and bends that are bought.
func (t *takeoff) bends(i int) {
	r := &t.job.Runs[i]
	name := r.Enc.String() + " mm"
	right := float64(r.Bends.Right)
	if r.Made.V {
		t.add(groupBoxes, "normal bend, "+name, "each", ruleMade, right, i)
		if r.Enc.Material == factors.Steel {
			t.add(groupBoxes, "coupler, "+name, "each", ruleCoupler, 2*right, i)
		}
		right = 0
	}
	t.add(groupConduit, "bend formed, "+name, "each", ruleBend, right+float64(len(r.Bends.Other)), i)
	t.add(groupConduit, "set formed, "+name, "each", ruleBend, float64(r.Bends.Sets-r.Bends.Doubles-r.Bends.Bubbles), i)
	t.add(groupConduit, "double set formed, "+name, "each", ruleBend, float64(r.Bends.Doubles), i)
	t.add(groupConduit, "bubble set formed, "+name, "each", ruleBend, float64(r.Bends.Bubbles), i)
}

// couplers is how many join the lengths of a run: those of its set-out where
// it is drawn.
func (t *takeoff) couplers(r *Run, so *SetOut) (n float64) {
	if !r.Drawn || !so.Made() {
		return stockJoints(r.Length, t.job.StockLength(r.Enc))
	}
	for k := 1; k < len(so.Pieces); k++ {
		if so.Pieces[k].Ends[0] == "coupler" {
			n++
		}
	}
	return n
}

// stockJoints is how many joints a run of that length has.
func stockJoints(length, stock units.Metres) float64 {
	return max(0, math.Ceil(float64(length/stock)-1e-9)-1)
}

// StockLength is the length an enclosure is sold in: the job's, or the
// makers'.
func (j *Job) StockLength(e factors.Enclosure) units.Metres {
	material, kind := "steel", " conduit"
	if e.Material == factors.Plastic {
		material = "plastic"
	}
	if e.Kind == factors.Trunking {
		kind = " trunking"
	}
	if g, ok := j.Stock.Lengths[material+kind]; ok {
		return g.V
	}
	return units.Metres(uk.StockLength(e).Num)
}

// supports counts a run's saddles or fixing points: those of its set-out where
// it is drawn, else on each straight leg the spaces between the end ones, plus
// one.
func (t *takeoff) supports(r *Run, so *SetOut) float64 {
	if r.Drawn && so.Made() {
		return float64(len(so.Saddles))
	}
	n := 0.0
	rule := t.job.Choices.Support.V
	end := units.Metres(rule.fromBox().Num / 1000)
	for _, l := range straights(r) {
		s, err := rule.spacing(r.Enc, true)
		if err != nil {
			return 0
		}
		n += math.Ceil(max(0, float64(l.Length-2*end))/s.Num-1e-9) + 1
	}
	return n
}

// saddleRule says by which rule set supports stand.
func (t *takeoff) saddleRule() string {
	rule := t.job.Choices.Support.V
	return fmt.Sprintf("%s; end ones at most %s mm from box or bend; distances of the %s (tables in command tables)", ruleSaddle, units.Format(rule.fromBox().Num), rule)
}

// straights are the straight legs of a run. A run that is not drawn is taken
// as equal horizontal legs between its bends.
func straights(r *Run) []Leg {
	if r.Drawn {
		return mergedLegs(r.Legs)
	}
	legs := make([]Leg, r.Bends.Count+1)
	for i := range legs {
		legs[i] = Leg{Dir: Point{X: 1}, Length: r.Length / units.Metres(len(legs))}
	}
	return legs
}

// mergedLegs joins straight legs that go on in one direction.
func mergedLegs(legs []Leg) []Leg {
	var out []Leg
	for _, l := range legs {
		if l.IsSet() {
			continue
		}
		if k := len(out) - 1; k >= 0 && out[k].Dir == l.Dir {
			out[k].Length += l.Length
			continue
		}
		out = append(out, l)
	}
	return out
}

// listed counts the metres of the cables listed by hand in a run.
func (t *takeoff) listed(i int) {
	for _, l := range t.job.Runs[i].Listed {
		c := Core{Cable: l.Cable, Name: l.Name}
		t.add(groupCable, cableName(c), "m", ruleCable, float64(t.job.Runs[i].Length)*float64(l.Count), i)
	}
}

// singles counts the metres of every core of the circuits. A core's tails
// belong to its first and last run.
func (t *takeoff) singles() {
	for i := range t.job.Singles {
		s := &t.job.Singles[i]
		parts := make([]part, len(s.Way))
		tails := float64(s.Length)
		for k, p := range s.Way {
			length := float64(t.job.Runs[p.Run].Length)
			parts[k] = part{p.Run, length}
			tails -= length
		}
		if n := len(parts); n > 0 {
			parts[0].n += tails / 2
			parts[n-1].n += tails / 2
		}
		t.addParts(groupCable, cableName(Core{Cable: s.Cable, Colour: s.Colour}), "m", ruleCable, float64(s.Length), parts)
	}
}

func cableName(c Core) string {
	name := c.Cable.String()
	if c.Cable.Form == factors.Single {
		name += " single"
	}
	if c.Name != "" {
		name += ", " + c.Name
	}
	if c.Colour != NoColour {
		return name + ", " + c.Colour.String()
	}
	if c.Cable.Form == factors.Single {
		return name + ", colour not given"
	}
	return name
}

// finish adds the waste, says what to order and sorts the groups.
func (t *takeoff) finish() []Item {
	for i := range t.items {
		t.shares(i)
		run := -1
		if len(t.parts[i]) > 0 {
			run = t.parts[i][0].run
		}
		t.order(&t.items[i], run)
	}
	slices.SortStableFunc(t.items, func(a, b Item) int {
		return slices.Index(groupOrder, a.Group) - slices.Index(groupOrder, b.Group)
	})
	return t.items
}

// shares adds an item's parts up, run by run in the order of the file.
func (t *takeoff) shares(i int) {
	slices.SortStableFunc(t.parts[i], func(a, b part) int { return a.run - b.run })
	it, last := &t.items[i], -1
	for _, p := range t.parts[i] {
		if p.run != last {
			it.Runs = append(it.Runs, t.job.Runs[p.run].Name)
			it.Shares = append(it.Shares, 0)
			last = p.run
		}
		it.Shares[len(it.Shares)-1] += p.n
	}
	for k := range it.Shares {
		it.Shares[k] = round6(it.Shares[k])
	}
}

func (t *takeoff) order(it *Item, run int) {
	it.Net = round6(it.Net)
	switch {
	case it.Labour:
		it.Gross, it.Order = it.Net, "–"
		return
	case it.Group == groupCable:
		it.Waste, it.Pack = t.job.Allow.CableWaste.V, float64(t.job.Stock.Reel.V)
	case it.Unit == "m":
		it.Waste, it.Pack = t.job.Allow.ConduitWaste.V, float64(t.job.StockLength(t.job.Runs[run].Enc))
	}
	it.Gross = round6(it.Net * (1 + it.Waste))
	if it.Pack == 0 {
		it.Order = units.Format(it.Gross)
		return
	}
	one, many := "length", "lengths"
	if it.Group == groupCable {
		one, many = "reel", "reels"
	}
	it.Packs = math.Ceil(it.Gross/it.Pack - 1e-9)
	if c := t.cut[t.job.Runs[run].Enc]; c != nil && it.Group != groupCable {
		t.orderCut(it, c)
	}
	if it.Packs == 1 {
		many = one
	}
	it.Order = fmt.Sprintf("%.0f %s of %s m", it.Packs, many, units.Format(it.Pack))
	if it.AtHand > 0 && it.Packs == 0 {
		it.Order = "none: offcuts at hand do"
	}
}

// round6 takes off what adding up leaves past the sixth place.
func round6(v float64) float64 { return math.Round(v*1e6) / 1e6 }
