package fill

import (
	"fmt"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
)

// temperature judges what plastic conduit and trunking must stand: the air
// round it against its highest temperature; cables that may run at 90 °C are
// advised on. A run of steel gives no finding.
//
// Source: BS EN 61386; see the table conduit-temperature.
func temperature(w *sum.Work, m *matter, index int) Finding {
	r := &m.Runs[index]
	if r.Enc.Material != factors.Plastic {
		return Finding{}
	}
	f := Finding{Check: "temperature", Subject: "run " + r.Name, At: r.At, Unit: "°C"}
	highest := w.Given("highest for plastic conduit and trunking", uk.PlasticHighest().Term("tmax"))
	air := w.Given("ambient", sum.Term{Symbol: "ta", Value: float64(m.AmbientOf(index)), Unit: "°C"})
	f.Value, f.Limit = air.Value, highest.Value
	if !w.AtMost("ambient", air, highest) {
		f.Verdict = Fail
		f.Reason = fmt.Sprintf("plastic is for %s °C at most: steel here, or another way", sum.Figure(highest.Value))
		return f
	}
	f.Verdict = Pass
	for _, c := range m.Cores(index) {
		if c.Cable.Insulation == factors.Thermosetting {
			hot := w.Given("conductor of "+c.Cable.String()+" at full load", sum.Term{Symbol: "tc", Value: float64(c.Cable.Insulation.MaxTemp()), Unit: "°C"})
			f.Verdict, f.Value = Advise, hot.Value
			f.Reason = fmt.Sprintf("cables that may run at %s °C in plastic that holds %s °C: load them so that their surface stays below it, or use steel",
				sum.Figure(f.Value), sum.Figure(highest.Value))
			w.Note(f.Reason, uk.PlasticHighest().Cite)
			return f
		}
	}
	return f
}
