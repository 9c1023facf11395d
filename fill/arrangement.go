package fill

import (
	"fmt"
	"math"

	"tubewright/factors/sum"
	"tubewright/factors/units"
	"tubewright/route"
)

const (
	practiceRule = ruleText("common practice, no source")
	spurRule     = ruleText("BS 7671 Appendix 15: an unfused spur of a ring feeds one single or one twin socket (from memory)")
	cpcRule      = ruleText("BS 7671 543.2: metal conduit and trunking as protective conductors (number from memory)")
)

// arrangement points out what a circuit's shape leaves wanting: several
// sockets on a spur without a fuse, a load wired before the isolator that
// stands beside it, a tube that cannot serve as the cpc it is to be.
func arrangement(w *sum.Work, m *matter, index int) Finding {
	c := &m.Circuits[index]
	f := Finding{Check: "arrangement", Subject: "circuit " + c.Name, At: c.At, Value: math.NaN(), Limit: math.NaN()}
	advise := func(text string, source fmt.Stringer) {
		w.Note(text, source)
		f.Verdict = Advise
		if f.Reason != "" {
			text = f.Reason + "; " + text
		}
		f.Reason = text
	}
	for _, s := range c.Spurs {
		if c.Arrangement.V == route.Ring && len(s.Points) > 1 && m.Places[s.Points[0].V].Kind == route.Socket {
			advise(fmt.Sprintf("the spur from %s feeds %d points: one single or one twin socket, unless a fused connection unit comes first", m.Places[s.From.V].Name, len(s.Points)), spurRule)
		}
	}
	var lists [][]route.Given[int]
	if c.Arrangement.V != route.Ring { // a ring goes through what stands on it
		lists = append(lists, c.Points)
	}
	for _, s := range c.Spurs {
		lists = append(lists, s.Points)
	}
	for _, g := range c.Groups {
		lists = append(lists, g.Lights)
		for _, l := range g.Lights {
			if len(g.Switches) == 0 && m.Places[l.V].Kind == route.TimedFan {
				advise(m.Places[l.V].Name+" is a timed fan without a switch: it has no switched line to start it", practiceRule)
			}
		}
	}
	for _, places := range lists {
		if n := len(places); n > 1 && m.Places[places[n-1].V].Kind.Isolates() && !m.Places[places[n-2].V].Kind.Isolates() {
			advise(fmt.Sprintf("%s comes after %s and isolates nothing: list it first", m.Places[places[n-1].V].Name, m.Places[places[n-2].V].Name), practiceRule)
		}
	}
	if text := notSteel(m, c); text != "" {
		advise(text, cpcRule)
	}
	if f.Verdict == 0 {
		return Finding{}
	}
	return f
}

// notSteel says where a single is drawn in because the tube that is to serve
// as cpc is not of steel.
func notSteel(m *matter, c *route.Circuit) string {
	if c.NoSteel {
		return fmt.Sprintf("cpc: conduit, but none of its runs is of steel: a cpc of %s is drawn in throughout", units.Format(float64(c.CPC.V))+" mm²")
	}
	if c.CPCRule != route.ConduitCPC || c.Named {
		return ""
	}
	var names []string
	for _, g := range c.Runs {
		if r := &m.Runs[g.V]; !r.Enc.Ferromagnetic() {
			names = append(names, r.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("cpc: conduit, but %s not of steel: a cpc of %s is drawn in from terminal to terminal there; where steel begins again its box is tied to that terminal", plural("run", names), units.Format(float64(c.CPC.V))+" mm²")
}

// plural names runs with their verb: run B is, runs B and C are.
func plural(word string, names []string) string {
	if len(names) == 1 {
		return word + " " + names[0] + " is"
	}
	return word + "s " + join(names) + " are"
}
