package fill

import (
	"math"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// More is how many more singles of one size would go into a run.
type More struct {
	CSA   units.SquareMM
	Count int
}

// Radials is how many circuits of line, neutral and cpc would go in, all of
// the size. Where so many singles fit, so many circuits do: the whole part of a
// third of the room is that of a third of its whole part.
func (m More) Radials() int { return m.Count / 3 }

// Rings is how many rings would go in with both legs, three singles each.
func (m More) Rings() int { return m.Count / 6 }

// spaceOf judges the space of a run; without cables, what it may hold.
func spaceOf(j *route.Job, run int) Finding {
	if len(j.Cores(run)) == 0 {
		return judge(newMatter(j), emptySpace, run)
	}
	return judge(newMatter(j), space, run)
}

// emptySpace says what a run without cables may hold.
func emptySpace(w *sum.Work, m *matter, index int) Finding {
	r := &m.Runs[index]
	f := Finding{Check: "space", Subject: "run " + r.Name, At: r.At, Limit: none, Verdict: Pass, Reason: "no cables named: this is what the run may hold"}
	if r.Enc.Kind == factors.Trunking {
		f.Unit, f.Method = "mm²", "trunking factors"
		limit, err := trunkingLimit(w, r)
		if err != nil {
			f.Verdict, f.Reason = Fail, err.Error()
			return f
		}
		f.Limit = limit.Value
		return f
	}
	pull := m.PullOf(index)
	_, f.Method = pullTables(w, m, pull)
	limit, err := uk.ConduitFactor(w, pull.Length, pull.Bends, r.Enc.Size)
	if err != nil {
		f.Verdict, f.Instead = Fail, dividedPull(m, pull, r, nil)
		f.Reason = pastTable(w, pull, f.Instead)
		return f
	}
	f.Limit = limit.Value
	return f
}

// MoreOf answers the installer's question for one run: how many more of each
// size fit beside what lies there. Sizes without a factor are left out; where
// the run itself has no published factor the list is empty.
//
// Only space is answered: more cables may also be more circuits, and the
// grouping of those that are there must be looked at again.
func MoreOf(j *route.Job, run int) []More {
	f := spaceOf(j, run)
	room := f.Margin()
	if math.IsNaN(room) {
		return nil
	}
	var out []More
	for _, size := range uk.SizesWithFactor(j.Runs[run].Enc.Kind) {
		v, err := factorOf(j, run, size)
		if err != nil {
			continue
		}
		out = append(out, More{size, max(0, int(math.Floor(room/v.Num+1e-9)))})
	}
	return out
}

func factorOf(j *route.Job, run int, size units.SquareMM) (factors.Value, error) {
	c := factors.Cable{Form: factors.Single, CSA: size, Insulation: j.Choices.Insulation.V, Strands: j.StrandsOf(size)}
	if j.Runs[run].Enc.Kind == factors.Trunking {
		return uk.TrunkingCableFactor(c)
	}
	p := j.PullOf(run)
	return uk.CableFactor(c, uk.ShortStraight(p.Length, p.Bends))
}
