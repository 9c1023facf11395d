package fill

import (
	"math"

	"tubewright/factors"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// More is how many more singles of one size would go into a run.
type More struct {
	CSA   units.SquareMM
	Count int
}

// Fit judges the space of a job's first run, which is all that an installer
// asks about an existing tube. A run without cables passes: MoreOf says what
// would go in.
func Fit(j *route.Job) Finding {
	f := judge(newMatter(j), space, 0)
	if f.Verdict == Open && len(j.Cores(0)) == 0 {
		f.Value, f.Limit = 0, emptyRoom(j, 0)
		f.Verdict, f.Reason = Pass, "no cables named: this is what the run may hold"
		if math.IsNaN(f.Limit) {
			f.Verdict, f.Reason = Fail, "no published factor for this run"
			if p := j.PullOf(0); p != nil {
				f.Reason = pastTable(p)
			}
		}
	}
	return f
}

// MoreOf answers the installer's question for one run: how many more of each
// size fit beside what lies there. Sizes without a factor are left out; where
// the run itself has no published factor the list is empty.
//
// Only space is answered: more cables may also be more circuits, and the
// grouping of those that are there must be looked at again.
func MoreOf(j *route.Job, run int) []More {
	r := &j.Runs[run]
	f := space(nil, newMatter(j), run)
	room := f.Limit - f.Value
	if f.Verdict == Open && len(j.Cores(run)) == 0 {
		room = emptyRoom(j, run)
	}
	if math.IsNaN(room) {
		return nil
	}
	var out []More
	for _, size := range uk.SizesWithFactor(r.Enc.Kind) {
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

// emptyRoom is what a run without cables may hold.
func emptyRoom(j *route.Job, run int) float64 {
	r := &j.Runs[run]
	if r.Enc.Kind == factors.Trunking {
		if t, err := trunkingLimit(nil, r); err == nil {
			return t.Value
		}
		return none
	}
	p := j.PullOf(run)
	if t, err := uk.ConduitFactor(nil, p.Length, p.Bends, r.Enc.Size); err == nil {
		return t.Value
	}
	return none
}
