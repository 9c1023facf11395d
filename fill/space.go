package fill

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// space judges whether what lies in a run fits: the sum of the cable factors
// against the factor of the conduit or trunking; where a cable or a size has
// no factor, the cables' areas against a share of the internal area.
//
// Source: IET On-Site Guide, Appendix E (see the tables cited).
func space(w *sum.Work, m *matter, index int) Finding {
	r := &m.Runs[index]
	f := Finding{Check: "space", Subject: "run " + r.Name, At: r.At, Value: none, Limit: none}
	cables := cablesIn(m, index)
	if len(cables) == 0 {
		f.Verdict, f.Reason = Open, "no cables are named for this run"
		w.Note(f.Reason)
		return f
	}
	if r.Enc.Kind == factors.Trunking {
		return trunkingSpace(w, m, r, cables, f)
	}
	return conduitSpace(w, m, m.PullOf(index), r, cables, f)
}

// cableCount is a number of equal cables in a run.
type cableCount struct {
	Cable factors.Cable
	Count int
}

// cablesIn adds up the cables of a run by kind, in the order in which they are
// named.
func cablesIn(m *matter, run int) []cableCount {
	cores := m.Cores(run)
	out := make([]cableCount, 0, len(cores))
	for _, c := range cores {
		k := slices.IndexFunc(out, func(o cableCount) bool { return o.Cable == c.Cable })
		if k < 0 {
			out = append(out, cableCount{c.Cable, c.Count})
			continue
		}
		out[k].Count += c.Count
	}
	return out
}

func conduitSpace(w *sum.Work, m *matter, pull *route.Pull, r *route.Run, cables []cableCount, f Finding) Finding {
	short, method := pullTables(w, m, pull)
	f.Method = method
	total, err := sumOfFactors(w, cables, func(c factors.Cable) (factors.Value, error) { return uk.CableFactor(c, short) })
	if err != nil {
		return conduitByArea(w, m, r, cables, f, err)
	}
	f.Value = total.Value
	limit, err := uk.ConduitFactor(w, pull.Length, pull.Bends, r.Enc.Size)
	if errors.Is(err, factors.ErrPastTable) || errors.Is(err, factors.ErrNoRow) {
		f.Verdict, f.Instead = Fail, dividedPull(m, pull, r, cables)
		f.Reason = pastTable(w, pull, f.Instead)
		return f
	}
	f.Limit = limit.Value
	if w.AtMost("fits when", total, limit) {
		f.Verdict = Pass
		return f
	}
	f.Verdict = Fail
	f.Instead = largerConduits(m, pull, r, total.Value)
	f.Reason = instead(f.Instead, func() string { return severalConduits(m, pull, r, cables) })
	w.Note(f.Reason)
	return f
}

// pullTables says whether a pull is read from the tables for short straight
// pulls, and what that method is called.
func pullTables(w *sum.Work, m *matter, pull *route.Pull) (short bool, method string) {
	short, method = uk.ShortStraight(pull.Length, pull.Bends), "cable factors, long or bent"
	pair := "long or bent: the pair of tables for pulls over 3 m or with bends"
	if short {
		method, pair = "cable factors, short straight", "straight and not over 3 m: the pair of tables for short straight pulls"
	}
	if w.Keeps() {
		describePull(w, m, pull)
		w.Notef("%s m, %s; %s", sum.Figure(float64(pull.Length)), countBends(pull.Bends), pair)
	}
	return short, method
}

// pastTable says why the guide has no factor for a pull and what would do, and
// writes it down.
func pastTable(w *sum.Work, p *route.Pull, options []string) string {
	end, most := tableEnd(p.Bends)
	reason := fmt.Sprintf("no factor here: with %s the guide's table ends at %s m, whatever the tube", countBends(p.Bends), units.Format(end.Num))
	if p.Bends > most {
		reason = fmt.Sprintf("the guide offers no factor for %s between draw-in points, whatever the tube", countBends(p.Bends))
	}
	if len(options) == 0 {
		reason += "; with draw-in boxes too no conduit of the tables holds these cables: divide them between runs"
	} else {
		reason += ": " + strings.Join(options, "; or ")
	}
	w.Note(reason, end.Cite)
	return reason
}

// sumOfFactors adds up count × factor. The error is a *factors.Miss for the
// first cable that has no factor.
func sumOfFactors(w *sum.Work, cables []cableCount, factor func(factors.Cable) (factors.Value, error)) (sum.Term, error) {
	var buf [8]sum.Expr
	parts := buf[:0]
	for _, c := range cables {
		v, err := factor(c.Cable)
		if err != nil {
			return sum.Term{}, err
		}
		t := sum.Term{Value: v.Num}
		if w.Keeps() {
			t = v.Term("f(" + c.Cable.String() + ")")
			t.Unit = ""
		}
		parts = append(parts, sum.Times(sum.N(float64(c.Count)), sum.T(t)))
	}
	return w.Let("Σ", "sum of the cable factors", "", sum.Add(parts...)), nil
}

// largerConduits lists the conduits of the same material that would hold the
// sum, the smallest first; only stocked sizes where the job names them.
func largerConduits(m *matter, p *route.Pull, r *route.Run, total float64) []string {
	return largerThat(m, r, total, func(e factors.Enclosure) (float64, error) {
		v, err := uk.ConduitFactor(nil, p.Length, p.Bends, e.Size)
		return v.Value, err
	})
}

// largerThat lists the next two larger conduits whose room is enough.
func largerThat(m *matter, r *route.Run, total float64, room func(factors.Enclosure) (float64, error)) []string {
	var out []string
	for _, size := range largerSizes(m, r) {
		e := r.Enc
		e.Size = size
		v, err := room(e)
		if err != nil || !sum.AtMost(total, v) {
			continue
		}
		if out = append(out, fmt.Sprintf("%s (%s)", e, sum.Figure(v))); len(out) == 2 {
			break
		}
	}
	return out
}

// severalConduits says how many runs of the largest conduit hold the cables.
func severalConduits(m *matter, p *route.Pull, r *route.Run, cables []cableCount) string {
	e, short := r.Enc, uk.ShortStraight(p.Length, p.Bends)
	most, _ := uk.ConduitFactor(nil, p.Length, p.Bends, e.Size)
	for _, size := range largerSizes(m, r) {
		if v, err := uk.ConduitFactor(nil, p.Length, p.Bends, size); err == nil && v.Value > most.Value {
			e.Size, most = size, v
		}
	}
	return "no conduit of the tables holds it in one run: " + severalRuns(e.String(), most.Value, cables, func(c factors.Cable) float64 {
		v, _ := uk.CableFactor(c, short) // the sum of them has been made
		return v.Num
	})
}

// instead says what would hold the cables: the smallest, or nothing that is
// one run.
func instead(options []string, none func() string) string {
	if len(options) == 0 {
		return none()
	}
	text := "smallest that holds it: " + options[0]
	for _, o := range options[1:] {
		text += ", then " + o
	}
	return text
}
