package fill

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// parting is a pull cut by draw-in boxes into parts none of which is longer or
// has more bends than said. Value and limit are those of the part that has the
// least room.
type parting struct {
	boxes        int
	length       units.Metres
	bends        int
	value, limit float64
}

// mostTried is how many numbers of boxes are tried: from 10 m down to less than
// a metre between them where the pull is not over 40 m.
const mostTried = 40

// divide finds the fewest draw-in boxes with which every part of a pull holds:
// each length up to the one said with each number of bends up to the most. The
// factors fall with length and bends, but that of a straight part not over 3 m
// is of another table, so that one is tried too.
func divide(length units.Metres, bends int, holds func(units.Metres, int) (value, limit float64, ok bool)) (parting, bool) {
	longest, _ := tableEnd(0)
	least := max(1, int(math.Ceil(float64(length)/longest.Num-1e-9))-1)
	for boxes := least; boxes < least+mostTried; boxes++ {
		n := float64(boxes + 1)
		d := parting{boxes: boxes, length: units.Metres(math.Ceil(float64(length)*1000/n-1e-6) / 1000), bends: int(math.Ceil(float64(bends) / n))}
		if d.tried(holds) {
			return d, true
		}
	}
	return parting{}, false
}

func (d *parting) tried(holds func(units.Metres, int) (value, limit float64, ok bool)) bool {
	try := func(length units.Metres, bends int) bool {
		value, limit, ok := holds(length, bends)
		if d.limit == 0 || value*d.limit >= d.value*limit {
			d.value, d.limit = value, limit
		}
		return ok
	}
	if !try(min(d.length, shortMost), 0) {
		return false
	}
	for bends := range d.bends + 1 {
		if !try(d.length, bends) {
			return false
		}
	}
	return true
}

// shortMost is the longest straight pull of the short tables.
const shortMost units.Metres = 3

// text says the parting as an instruction; with is what else it takes.
func (d parting) text(with string) string {
	word := "a draw-in box"
	if d.boxes > 1 {
		word = fmt.Sprintf("%d draw-in boxes", d.boxes)
	}
	text := fmt.Sprintf("%s%s, so that no part is longer than %s m", word, with, units.Format(float64(d.length)))
	if d.bends > 0 {
		text += " or has more than " + counting(d.bends, "bend")
	} else {
		text += " and none has a bend"
	}
	if d.value > 0 {
		text += fmt.Sprintf(" (%s of %s)", sum.Figure(d.value), sum.Figure(d.limit))
	}
	return text
}

// dividedPull lists what makes a pull that is past the table hold its cables:
// the fewest boxes with the tube as it is, and fewer with a larger one.
func dividedPull(m *matter, p *route.Pull, r *route.Run, cables []cableCount) (out []string) {
	var total [2]float64 // of the cable factors: long or bent, short straight
	for k, short := range []bool{false, true} {
		t, err := sumOfFactors(nil, cables, func(c factors.Cable) (factors.Value, error) { return uk.CableFactor(c, short) })
		if err != nil {
			return nil
		}
		total[k] = t.Value
	}
	within := func(size units.Millimetres) (parting, bool) {
		return divide(p.Length, p.Bends, func(length units.Metres, bends int) (float64, float64, bool) {
			value := total[0]
			if uk.ShortStraight(length, bends) {
				value = total[1]
			}
			v, err := uk.ConduitFactor(nil, length, bends, size)
			return value, v.Value, err == nil && sum.AtMost(value, v.Value)
		})
	}
	best, found := within(r.Enc.Size)
	if found {
		out = append(out, best.text(""))
	}
	larger, size := parting{}, units.Millimetres(0)
	for _, s := range largerSizes(m, r) {
		if d, ok := within(s); ok && (size == 0 || d.boxes < larger.boxes) {
			larger, size = d, s
		}
	}
	if size > 0 && (!found || larger.boxes < best.boxes) {
		e := r.Enc
		e.Size = size
		out = append(out, larger.text(" and "+e.String()))
	}
	return out
}

// largerSizes lists the conduits over a run's, of its material and stocked.
func largerSizes(m *matter, r *route.Run) []units.Millimetres {
	return slices.DeleteFunc(uk.ConduitSizes(r.Enc.Material), func(s units.Millimetres) bool {
		return s <= r.Enc.Size || len(m.Stock.Conduit) > 0 && !slices.Contains(m.Stock.Conduit, s)
	})
}

// severalRuns says between how many equal runs cables must be divided, largest
// first, each into the first run that has room.
func severalRuns(in string, limit float64, cables []cableCount, size func(factors.Cable) float64) string {
	rest := slices.Clone(cables)
	slices.SortStableFunc(rest, func(a, b cableCount) int { return cmp.Compare(size(b.Cable), size(a.Cable)) })
	if !sum.AtMost(size(rest[0].Cable), limit) {
		return "the largest cable alone is over what " + in + " may hold"
	}
	runs := 0
	for len(rest) > 0 {
		runs++
		room := limit
		for i := range rest {
			if one := size(rest[i].Cable); one > 0 {
				n := min(rest[i].Count, int(math.Floor(room/one+1e-9)))
				rest[i].Count -= n
				room -= float64(n) * one
			}
		}
		rest = slices.DeleteFunc(rest, func(c cableCount) bool { return c.Count == 0 })
	}
	return fmt.Sprintf("divide the cables between %d runs of %s, of %s each", runs, in, sum.Figure(limit))
}
