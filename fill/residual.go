package fill

import (
	"fmt"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/route"
)

// residualRule judges the residual device of a circuit: 30 mA and not delayed
// where additional protection is asked for, and of a type that answers to what
// the loads may leak. A circuit that neither asks for one nor has one gives no
// finding.
//
// Source: BS 7671, 411.3.3, 411.3.4, 415.1.1, 522.6.202, 531.3.3 and
// 701.411.3.3 (read).
func residualRule(w *sum.Work, m *matter, index int) Finding {
	c := &m.Circuits[index]
	f := Finding{Check: "residual", Subject: "circuit " + c.Name, At: c.At, Value: none, Limit: none, Unit: "mA"}
	asked := askedFor(m, c)
	r, ok := residualOf(m, index)
	if len(asked) == 0 && !ok {
		return Finding{}
	}
	limit := uk.AdditionalProtection().Term("IΔn most")
	if len(asked) > 0 {
		f.Limit = limit.Value
		if w.Keeps() {
			w.Note("additional protection is asked for: "+join(asked), uk.AdditionalProtection().Cite)
		}
	}
	if !ok {
		return withoutResidual(w, m, f, asked)
	}
	f.Method = r.String()
	w.Note(f.Method)
	I := w.Given("rated residual current", sum.Term{Symbol: "IΔn", Value: float64(r.Current) * 1000, Unit: "mA"})
	f.Value = I.Value
	if len(asked) > 0 {
		switch {
		case !w.AtMost("additional protection", I, limit):
			f.Verdict, f.Reason = Fail, fmt.Sprintf("a device of %s mA is asked for: %s", sum.Figure(limit.Value), asked[0])
		case r.Delayed:
			f.Verdict, f.Reason = Fail, "a time-delayed device gives no additional protection, which is asked for: "+asked[0]
		}
		if f.Verdict == Fail {
			w.Note(f.Reason)
			return f
		}
	}
	return waveform(w, f, r, c)
}

// withoutResidual is the verdict on a circuit that asks for a device and has
// none that the job names.
func withoutResidual(w *sum.Work, m *matter, f Finding, asked []string) Finding {
	f.Verdict, f.Reason = Fail, "a 30 mA residual device is asked for, and the circuit has none: "+asked[0]+"; an RCBO, or an RCCB before it"
	if !m.Board.Main.Said() {
		f.Verdict, f.Reason = Open, "a 30 mA residual device is asked for: "+asked[0]+"; the job does not say what the main switch is, nor names an RCBO"
	}
	w.Note(f.Reason)
	return f
}

const typeRule = ruleText("BS 7671 531.3.3: read")

// waveform compares the device's type with what the loads may leak.
func waveform(w *sum.Work, f Finding, r servedBy, c *route.Circuit) Finding {
	leak := c.Electrical.Leakage
	need := leastType(leak.V)
	how := "as the job says"
	if !leak.Said() {
		how = "not stated, so the usual is taken"
	}
	if w.Keeps() {
		w.Note(fmt.Sprintf("the loads may leak %s (%s): type %s at least; the device is type %s", leak.V, how, need, r.Type), typeRule)
	}
	f.Verdict = Pass
	switch {
	case r.Type == 0 || r.Type >= need:
	case !leak.Said() && r.Type == route.TypeAC:
		f.Verdict = Advise
		f.Reason = "type AC is only for fixed equipment known to leak no direct current; type A is the usual least to fit: say what the loads leak (leakage)"
	default:
		f.Verdict = Fail
		f.Reason = fmt.Sprintf("loads that leak %s want type %s; type %s may not trip", leak.V, need, r.Type)
	}
	if f.Reason != "" {
		w.Note(f.Reason, typeRule)
	}
	return f
}

// leastType is the type of residual device that a wave form wants.
func leastType(l route.Waveform) route.ResidualType {
	switch l {
	case route.PlainAC:
		return route.TypeAC
	case route.MixedFrequencies:
		return route.TypeF
	case route.SmoothDC:
		return route.TypeB
	}
	return route.TypeA
}

// askedFor lists what about a circuit asks for additional protection.
func askedFor(m *matter, c *route.Circuit) []string {
	var out []string
	small := float64(c.Device.V.Rating) <= uk.ResidualSockets().Num
	if small && (hasSocket(m.Job, c) || c.Electrical.Use.V == route.UseSockets || c.Named && c.Arrangement.V == route.Ring) {
		out = append(out, "socket-outlets up to 32 A (411.3.3)")
	}
	household := m.Choices.Diversity.V == route.Household && c.Arrangement.V == route.Lighting
	for _, l := range c.Electrical.Locations {
		switch l.V {
		case route.BathRoom:
			out = append(out, "a bath or shower room (701.411.3.3)")
		case route.Outdoors:
			if small {
				out = append(out, "mobile equipment outdoors (411.3.3)")
			}
		case route.Concealed:
			out = append(out, "concealment less than 50 mm deep (522.6.202)")
		case route.HouseholdLight:
			household = true
		}
	}
	if household {
		out = append(out, "luminaires in a household (411.3.4)")
	}
	return out
}

// residuals counts the circuits to judge: none in a job that says nothing of
// the board's devices, the supply's earthing or where a circuit runs.
func residuals(j *route.Job) int {
	if j.Board.Main.Said() || len(j.Board.Sections) > 0 || j.Supply.Earthing.Said() {
		return len(j.Circuits)
	}
	for i := range j.Circuits {
		if e := &j.Circuits[i].Electrical; e.RCBO.Said() || len(e.Locations) > 0 {
			return len(j.Circuits)
		}
	}
	return 0
}
