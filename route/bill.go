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
	Group string  // "conduit", "cable"
	Name  string  // in the trade's terms
	Unit  string  // "m" or "each"
	Net   float64 // as measured or counted
	Gross float64 // with the allowance for waste
	Order string  // what to buy: "3 lengths of 3.75 m"
	Runs  []string
	Rule  string // how it was counted
}

// The groups of a bill, in its order.
const (
	groupConduit  = "conduit"
	groupTrunking = "trunking"
	groupBoxes    = "boxes and fittings"
	groupFixings  = "fixings"
	groupCable    = "cable"
)

// How things are counted. A fact of the trade without a published source says
// so.
const (
	ruleLength    = "metres along the centre line, corner to corner, plus the allowance for waste, in whole stock lengths; the exact cutting is not worked out here"
	ruleCoupler   = "one at each joint of stock lengths within a run (steel lengths usually come with one coupler each)"
	ruleBox       = "circular conduit box by the number of conduits that enter it (common practice, no source)"
	ruleAccessory = "one surface box an accessory; up to three switch gangs on a one-gang box (common practice, no source)"
	ruleEntry     = "one at each conduit end in a box, board or trunking without a spout (common practice, no source)"
	ruleFitting   = "one where the job names the fitting"
	ruleBend      = "bends formed in the tube, counted from the path or as given: labour, not an item to buy"
	ruleSaddle    = "each straight leg: spaces between the end saddles by the spacing table, plus one; end saddles 225 mm from box or bend (a maker's figure, read)"
	ruleScrew     = "one screw and plug a saddle, two a trunking fixing (common practice, no source)"
	ruleTrunkJoin = "one at each joint of stock lengths and on each side of a bend (common practice, no source)"
	ruleTrunkBend = "one at each change of direction"
	ruleTrunkEnd  = "stop end where one trunking ends in the open, flanged connector at a board or equipment (common practice, no source)"
	ruleCable     = "length of the run for each core in it, a tail for each core that ends at a board or accessory, plus the allowance for waste, in whole reels"
)

// Bill counts the material of a job by the rules that its items name.
//
// Cost: linear in runs, places and passages of circuits.
func (j *Job) Bill() []Item {
	t := &takeoff{job: j, index: map[itemKey]int{}}
	for i := range j.Runs {
		t.runMaterial(i)
		t.listed(i)
	}
	t.singles()
	for i := range j.Places {
		t.place(i)
	}
	return t.finish()
}

type itemKey struct{ group, name string }

type takeoff struct {
	job   *Job
	items []Item
	runs  [][]int // of each item
	index map[itemKey]int
}

// add counts a quantity of an item, for a run where it belongs to one.
func (t *takeoff) add(group, name, unit, rule string, n float64, runs ...int) {
	if n <= 0 {
		return
	}
	k := itemKey{group, name}
	i, ok := t.index[k]
	if !ok {
		i = len(t.items)
		t.index[k] = i
		t.items = append(t.items, Item{Group: group, Name: name, Unit: unit, Rule: rule})
		t.runs = append(t.runs, nil)
	}
	t.items[i].Net += n
	t.runs[i] = append(t.runs[i], runs...)
}

func (t *takeoff) runMaterial(i int) {
	r := &t.job.Runs[i]
	joints := stockJoints(r.Length, t.job.StockLength(r.Enc))
	if r.Enc.Kind == factors.Conduit {
		t.add(groupConduit, r.Enc.String()+" mm", "m", ruleLength, float64(r.Length), i)
		t.add(groupBoxes, "coupler, "+r.Enc.String()+" mm", "each", ruleCoupler, joints, i)
		t.add(groupConduit, "bend formed, "+r.Enc.String()+" mm", "each", ruleBend, float64(r.Bends.Right+len(r.Bends.Other)), i)
		t.add(groupConduit, "set formed, "+r.Enc.String()+" mm", "each", ruleBend, float64(r.Bends.Sets-r.Bends.Doubles), i)
		t.add(groupConduit, "double set formed, "+r.Enc.String()+" mm", "each", ruleBend, float64(r.Bends.Doubles), i)
		n := t.supports(r)
		t.add(groupFixings, "spacer-bar saddle, "+r.Enc.String()+" mm", "each", ruleSaddle, n, i)
		t.add(groupFixings, "screw and plug", "each", ruleScrew, n, i)
		return
	}
	t.trunking(i, joints)
}

// trunking counts a trunking run's own material.
func (t *takeoff) trunking(i int, joints float64) {
	r := &t.job.Runs[i]
	name := r.Enc.String()
	t.add(groupTrunking, name+" with lid", "m", ruleLength, float64(r.Length), i)
	bends := float64(r.Bends.Right + len(r.Bends.Other))
	kind := "bend (flat, internal or external)"
	if r.Drawn {
		kind = "flat bend"
		for _, l := range r.Legs {
			if !l.IsSet() && l.Dir.Y != 0 {
				kind = "bend (flat, internal or external)"
			}
		}
	}
	t.add(groupTrunking, kind+", "+name, "each", ruleTrunkBend, bends, i)
	coupler := "coupler, " + name
	if r.Enc.Ferromagnetic() {
		coupler = "coupler with earth link, " + name
	}
	t.add(groupTrunking, coupler, "each", ruleTrunkJoin, joints+2*bends, i)
	n := t.supports(r)
	t.add(groupFixings, "trunking fixing point, "+name, "each", ruleSaddle, n, i)
	t.add(groupFixings, "screw and plug", "each", ruleScrew, 2*n, i)
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

// endSaddle is how far from a box or bend the first saddle sits. Source: a
// maker's installation note, see the table saddle-from-box.
const endSaddle units.Metres = 0.225

// supports counts a run's saddles or fixing points: on each straight leg the
// spaces between the end ones, plus one. A run that is not drawn is taken as
// equal horizontal legs between its bends.
func (t *takeoff) supports(r *Run) float64 {
	maker := t.job.Choices.Support.V == SupportMaker
	count := func(length units.Metres, horizontal bool) float64 {
		s, err := uk.SupportSpacing(r.Enc, horizontal, maker)
		if err != nil {
			return 0
		}
		return math.Ceil(max(0, float64(length-2*endSaddle))/s.Num-1e-9) + 1
	}
	if !r.Drawn {
		legs := float64(r.Bends.Count + 1)
		return legs * count(r.Length/units.Metres(legs), true)
	}
	n := 0.0
	for _, l := range mergedLegs(r.Legs) {
		n += count(l.Length, math.Abs(l.Dir.Z) < 0.5)
	}
	return n
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

// singles counts the metres of every core of the circuits.
func (t *takeoff) singles() {
	runs := make([]int, 0, 16)
	for i := range t.job.Singles {
		s := &t.job.Singles[i]
		runs = runs[:0]
		for _, p := range s.Way {
			runs = append(runs, p.Run)
		}
		t.add(groupCable, cableName(Core{Cable: s.Cable, Colour: s.Colour}), "m", ruleCable, float64(s.Length), runs...)
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

var groupOrder = []string{groupConduit, groupTrunking, groupBoxes, groupFixings, groupCable}

// finish adds the waste, says what to order and sorts the groups.
func (t *takeoff) finish() []Item {
	for i := range t.items {
		slices.Sort(t.runs[i])
		for _, r := range slices.Compact(t.runs[i]) {
			t.items[i].Runs = append(t.items[i].Runs, t.job.Runs[r].Name)
		}
		t.order(&t.items[i], t.runs[i])
	}
	slices.SortStableFunc(t.items, func(a, b Item) int {
		return slices.Index(groupOrder, a.Group) - slices.Index(groupOrder, b.Group)
	})
	return t.items
}

func (t *takeoff) order(it *Item, runs []int) {
	it.Net = round6(it.Net)
	it.Gross = it.Net
	switch {
	case it.Rule == ruleBend:
		it.Order = "–"
	case it.Group == groupCable:
		it.Gross = round6(it.Net * (1 + t.job.Allow.CableWaste.V))
		it.Order = packs(it.Gross, float64(t.job.Stock.Reel.V), "reel", "reels")
	case it.Unit == "m":
		it.Gross = round6(it.Net * (1 + t.job.Allow.ConduitWaste.V))
		it.Order = packs(it.Gross, float64(t.job.StockLength(t.job.Runs[runs[0]].Enc)), "length", "lengths")
	default:
		it.Order = units.Format(it.Gross)
	}
}

func packs(need, unit float64, one, many string) string {
	n := math.Ceil(need/unit - 1e-9)
	word := many
	if n == 1 {
		word = one
	}
	return fmt.Sprintf("%.0f %s of %s m", n, word, units.Format(unit))
}

// round6 takes off what adding up leaves past the sixth place.
func round6(v float64) float64 { return math.Round(v*1e6) / 1e6 }
