package fill

import (
	"errors"
	"fmt"
	"slices"
	"strconv"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// drawIn judges a pull by the rule set that the job chose: the ends of the
// guide's own table, or the angles turned in all that specifications allow.
//
// Source: see the tables draw-in-limits and draw-in-degrees.
func drawIn(w *sum.Work, m *matter, index int) Finding {
	pull := &m.Pulls[index]
	f := Finding{Check: "draw-in", Subject: "run " + pull.Name(m.Job), At: m.Runs[pull.Runs[0]].At}
	if w.Keeps() {
		describePull(w, m, pull)
	}
	if rule := m.Choices.DrawIn.V; rule != route.DrawInGuide {
		return drawInDegrees(w, pull, rule, f)
	}
	length := w.Given("length between draw-in points", sum.Term{Symbol: "L", Value: float64(pull.Length), Unit: "m"})
	end, most := tableEnd(pull.Bends)
	if pull.Bends > most {
		f.Verdict, f.Value, f.Limit = Fail, float64(pull.Bends), float64(most)
		f.Unit = "bends"
		f.Reason = fmt.Sprintf("%d bends between draw-in points; the guide's table ends at %d: %s", pull.Bends, most, splitAdvice(pull))
		w.Note(f.Reason, end.Cite)
		return f
	}
	limit := w.Given("longest with "+countBends(pull.Bends), end.Term("Lmax"))
	f.Value, f.Limit, f.Unit = length.Value, limit.Value, "m"
	if w.AtMost("length", length, limit) {
		f.Verdict = Pass
		return f
	}
	f.Verdict = Fail
	f.Reason = fmt.Sprintf("with %s the guide's table ends at %s m: %s", countBends(pull.Bends), units.Format(limit.Value), splitAdvice(pull))
	return f
}

// tableEnd is the longest pull that the guide's table has with so many bends,
// or with the most that it has where these are more.
func tableEnd(bends int) (end factors.Value, most int) {
	end, err := uk.DrawInLimit(bends)
	if err == nil {
		return end, bends
	}
	var miss *factors.Miss
	errors.As(err, &miss)
	most = int(miss.Known[len(miss.Known)-1].Num)
	end, _ = uk.DrawInLimit(most) // a row that the table says it has
	return end, most
}

func drawInDegrees(w *sum.Work, pull *route.Pull, rule route.DrawInRule, f Finding) Finding {
	turned := w.Given("angle turned in all", sum.Term{Symbol: "Σθ", Value: pull.Degrees, Unit: "°"})
	most := uk.DrawInDegrees(rule.Degrees())
	limit := w.Given("most that the chosen specification allows", most.Term("Σθmax"))
	f.Value, f.Limit, f.Unit = turned.Value, limit.Value, "°"
	f.Verdict = Pass
	if !w.AtMost("angle", turned, limit) {
		f.Verdict = Fail
		f.Reason = fmt.Sprintf("%s° turned between draw-in points, %s° allowed: a draw-in box wherever the next bend would go over it", units.Format(pull.Degrees), units.Format(limit.Value))
	}
	return f
}

// splitAdvice says where draw-in boxes would divide a pull that is too long or
// turns too often. Whether the parts hold the cables is for space to say.
func splitAdvice(p *route.Pull) string {
	d, ok := divide(p.Length, p.Bends, func(length units.Metres, bends int) (float64, float64, bool) {
		end, err := uk.DrawInLimit(bends)
		return 0, 0, err == nil && sum.AtMost(float64(length), end.Num)
	})
	if !ok {
		return "draw-in boxes between the bends"
	}
	return d.text("")
}

func countBends(n int) string {
	if n == 0 {
		return "no bends"
	}
	return counting(n, "bend")
}

// counting is a number of things: 1 bend, 2 bends.
func counting(n int, thing string) string { return sum.WithUnit(strconv.Itoa(n), thing+"s") }

// describePull writes down how length and bends were counted.
func describePull(w *sum.Work, m *matter, p *route.Pull) {
	if len(p.Runs) > 1 {
		w.Notef("drawn in as one pull through %s: no draw-in point between them, so lengths and bends add up", p.Name(m.Job))
		lengths := make([]sum.Expr, len(p.Runs))
		for i, r := range p.Runs {
			lengths[i] = sum.T(sum.Term{Symbol: "L(" + m.Runs[r].Name + ")", Value: float64(m.Runs[r].Length), Unit: "m"})
		}
		w.Let("L", "length of the pull", "m", sum.Add(lengths...))
	}
	sets, open := 0, false
	if p.Joints.Right+len(p.Joints.Other) > 0 {
		w.Notef("turned in the fittings between the runs: %s; an elbow counts as a right angle (common practice, no source)", p.Joints)
	}
	for i, r := range p.Runs {
		if b := p.Parts[i]; m.Runs[r].Drawn && b.Sets+b.Right+len(b.Other) > 0 {
			w.Notef("bends of run %s, from its path: %s", m.Runs[r].Name, b)
			sets += b.Sets
			open = open || slices.ContainsFunc(m.Runs[r].Legs, func(l route.Leg) bool { return l.IsSet() && !l.Stated })
		}
	}
	if open && m.Choices.DrawIn.V != route.DrawInGuide {
		w.Note("a set whose path leaves its angle open turns 45° at each bend here, a bubble set 22.5° and twice that in its middle, even where the former makes it flatter")
	}
	if sets > 0 {
		w.Note("a set or a double set counts as one bend (the guide's footnote, from memory)")
	}
}
