package fill

import (
	"fmt"
	"strings"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
)

// temperature judges what plastic conduit and trunking must stand: the air
// round it, as its ambient and the range under expansion: say, against both
// ends of its temperatures. What the sun adds is one maker's figure, and a
// cable at 90 °C need not reach it: both are advised on. A run of steel gives no
// finding.
//
// Source: BS EN 61386; see the tables conduit-temperature and sun-rise.
func temperature(w *sum.Work, m *matter, index int) Finding {
	r := &m.Runs[index]
	if r.Enc.Material != factors.Plastic {
		return Finding{}
	}
	f := Finding{Check: "temperature", Subject: "run " + r.Name, At: r.At, Unit: "°C", Verdict: Pass}
	highest := w.Given("highest for plastic conduit and trunking", uk.PlasticHighest().Term("tmax"))
	air := w.Given("ambient", sum.Term{Symbol: "ta", Value: float64(m.AmbientOf(index)), Unit: "°C"})
	swing := m.SwingOf(r)
	if swing.Highest.Said() {
		stated := w.Given("highest as expansion: states", sum.Term{Symbol: "th", Value: float64(swing.Highest.V), Unit: "°C"})
		air = w.Let("ta", "warmest air", "°C", sum.Max(sum.T(air), sum.T(stated)))
	}
	f.Value, f.Limit = air.Value, highest.Value
	if !w.AtMost("ambient", air, highest) {
		f.Verdict = Fail
		f.Reason = fmt.Sprintf("plastic is for %s °C at most: steel here, or another way", sum.Figure(highest.Value))
		return f
	}
	if swing.Lowest.Said() {
		lowest := w.Given("lowest for plastic conduit and trunking", uk.PlasticLowest().Term("tmin"))
		cold := w.Given("lowest as expansion: states", sum.Term{Symbol: "tl", Value: float64(swing.Lowest.V), Unit: "°C"})
		if !w.AtMost("cold", lowest, cold) {
			f.Verdict, f.Value, f.Limit, f.AtLeast = Fail, cold.Value, lowest.Value, true
			f.Reason = fmt.Sprintf("plastic is for %s °C at least: steel here, or a plastic whose maker states a lower figure", sum.Figure(lowest.Value))
			return f
		}
	}
	var advice []string
	if swing.Sun.V {
		sunny := w.Let("ts", "surface in direct sun", "°C", sum.Add(sum.T(air), sum.T(uk.SunRise().Term("sun"))))
		f.Value = sunny.Value
		if !w.AtMost("in the sun", sunny, highest) {
			advice = append(advice, fmt.Sprintf("in direct sun it may reach %s °C, by one maker's figure, and plastic is for %s °C at most: shade it, or use steel", sum.Figure(sunny.Value), sum.Figure(highest.Value)))
		}
	}
	if text, value, ok := hotCable(w, m, index, highest); ok {
		advice = append(advice, text)
		f.Value = max(f.Value, value)
	}
	if len(advice) > 0 {
		f.Verdict, f.Reason = Advise, strings.Join(advice, "; ")
	}
	return f
}

// hotCable advises on a cable that may run hotter than plastic stands.
func hotCable(w *sum.Work, m *matter, index int, highest sum.Term) (advice string, value float64, ok bool) {
	for _, c := range m.Cores(index) {
		if c.Cable.Insulation != factors.Thermosetting {
			continue
		}
		hot := w.Given("conductor of "+c.Cable.String()+" at full load", sum.Term{Symbol: "tc", Value: float64(c.Cable.Insulation.MaxTemp()), Unit: "°C"})
		advice = fmt.Sprintf("cables that may run at %s °C in plastic that holds %s °C: load them so that their surface stays below it, or use steel",
			sum.Figure(hot.Value), sum.Figure(highest.Value))
		w.Note(advice, uk.PlasticHighest().Cite)
		return advice, hot.Value, true
	}
	return "", 0, false
}
