package route

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tubewright/factors"
	"tubewright/factors/units"
)

// lengthsCut is how many lengths of an enclosure the bill orders: by the cut
// list for the runs that are drawn and can be made, by the allowance for the
// others.
type lengthsCut struct {
	lengths int          // of the cut list, after the offcuts at hand
	lostMM  int          // in cutting them
	drawnMM int          // lengths and offcuts cut up
	handMM  int          // of them offcuts
	keptMM  int          // left over and worth keeping
	longMM  int          // the longest of it
	others  units.Metres // runs without pieces
	left    []string     // their names
}

// cutLengths cuts the pieces of the drawn runs of every enclosure. Without a
// usable stock length there is none, and command cut says why.
func (j *Job) cutLengths() map[factors.Enclosure]*lengthsCut {
	made := j.madeRuns()
	lists, err := j.cutLists(func(run int) bool { return made[run] })
	if err != nil {
		return nil
	}
	out := map[factors.Enclosure]*lengthsCut{}
	for i := range lists {
		p := &lists[i].Plan
		out[lists[i].Enclosure] = &lengthsCut{lengths: p.New, lostMM: p.Waste, drawnMM: p.Drawn, handMM: p.Drawn - p.New*lists[i].Stock.Length, keptMM: p.Kept}
		for _, b := range p.Bars {
			if b.Keep {
				out[lists[i].Enclosure].longMM = max(out[lists[i].Enclosure].longMM, b.Left)
			}
		}
	}
	for i := range j.Runs {
		r := &j.Runs[i]
		if c := out[r.Enc]; c != nil && !made[i] && !r.Existing {
			c.others += r.Length
			c.left = append(c.left, r.Name)
		}
	}
	return out
}

// madeRuns marks the runs whose pieces are cut by the list.
func (j *Job) madeRuns() []bool {
	made := make([]bool, len(j.Runs))
	for i := range j.Runs {
		if j.isConduit(i) {
			made[i] = j.Cuttable(i)
		}
	}
	for _, body := range j.bodies {
		whole := j.Cuttable(body[0].Run)
		for _, b := range body {
			made[b.Run] = whole
		}
	}
	return made
}

// Cuttable reports whether a run is drawn and its pieces can all be cut from a
// stock length: then the bill orders it by the cut list.
func (j *Job) Cuttable(run int) bool {
	if !j.Runs[run].Drawn {
		return false
	}
	s := j.Shape(j.SetOutUnder(run))
	stock := float64(j.StockLength(j.Runs[run].Enc).MM())
	return len(s.Pieces) > 0 && !slices.ContainsFunc(s.Pieces, func(p TubePiece) bool {
		return p.Long() > stock+1e-6 || math.Round(p.Long()) < 1
	})
}

// lengthRule says how the lengths of an enclosure are found.
func (t *takeoff) lengthRule(e factors.Enclosure) string {
	c := t.cut[e]
	switch {
	case c == nil:
		return ruleLength
	case len(c.left) > 0:
		rule := ruleCutSome + strings.Join(c.left, " ")
		if c.longMM > 0 {
			rule += fmt.Sprintf("; the cut list leaves offcuts of %s m, the longest %s m: what goes in them need not be bought", units.Format(float64(c.keptMM)/1000), units.Format(float64(c.longMM)/1000))
		}
		return rule
	}
	return ruleCutLength
}

// orderCut orders lengths by the cut list: what is bought is what is paid for.
func (t *takeoff) orderCut(it *Item, c *lengthsCut) {
	it.Cut = true
	it.Packs = float64(c.lengths) + math.Ceil(float64(c.others)*(1+t.job.Allow.ConduitWaste.V)/it.Pack-1e-9)
	it.Gross = round6(it.Packs * it.Pack)
	it.AtHand, it.Kept = float64(c.handMM)/1000, float64(c.keptMM)/1000
	it.Waste = max(0, it.Gross/it.Net-1)
	if c.drawnMM > 0 {
		it.Lost = float64(c.lostMM) / float64(c.drawnMM)
	}
}
