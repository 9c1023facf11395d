package fill

import (
	"math"
	"slices"
)

// Entry is one line of the schedule of circuits.
type Entry struct {
	Way
	Section int     // 0 straight behind the main switch
	Ib      float64 // A, NaN for a blank
	ZsMax   float64 // Ω, NaN for a blank or where no table gives one
}

// Schedule lists the ways by number, blanks too, then the circuits without a
// way under number 0.
func (b *Board) Schedule() []Entry {
	m := newMatter(b.Job)
	var out []Entry
	add := func(w Way, section int) {
		e := Entry{Way: w, Section: section, Ib: math.NaN(), ZsMax: math.NaN()}
		if w.Circuit >= 0 {
			e.Ib = designCurrent(nil, m, &b.Job.Circuits[w.Circuit]).Value
			if limit, err := zsLimitOf(nil, m, w.Circuit); err == nil {
				e.ZsMax = limit.Zs.Value
			}
		}
		out = append(out, e)
	}
	for i := range b.Parts {
		for _, w := range b.Parts[i].Ways {
			add(w, b.Parts[i].Section)
		}
	}
	slices.SortFunc(out, func(x, y Entry) int { return x.Number - y.Number })
	for _, c := range b.NoWay {
		add(Way{Circuit: c, Modules: b.Job.Circuits[c].Lines()}, 0)
	}
	return out
}
