package fill

import (
	"fmt"
	"math"
	"strconv"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

func ohms(v float64) units.Ohms { return units.Ohms(v) }

// figure is a reading with its unit.
func figure(v float64, unit string) string { return sum.WithUnit(sum.Figure(v), unit) }

// milliohms is a resistance to the milliohm, finer than most instruments show.
func milliohms(v float64) string { return strconv.FormatFloat(v, 'f', 3, 64) + " Ω" }

// judgeOhms holds a resistance to its limit first, then to what was expected.
func (c *comparer) judgeOhms(w *sum.Work, r *route.Reading, e *Expected, out *Comparison) {
	out.Limit = e.Most
	if math.IsInf(r.Value, 1) {
		out.Verdict, out.Reason, out.Means = Fail, "no continuity", c.meansOpen(r)
		return
	}
	if known(e.Value) {
		X := sum.Term{Symbol: "expected", Value: e.Value, Unit: "Ω"}
		by := c.within(w, X, r.Test.Live())
		out.Low, out.High = max(0, e.Value-by), e.Value+by
	}
	read := sum.Term{Symbol: "read", Value: r.Value, Unit: "Ω"}
	if known(e.Most) && !w.AtMost("limit", read, sum.Term{Symbol: e.Test.String() + " most", Value: e.Most, Unit: "Ω"}) {
		out.Verdict, out.Reason = Fail, c.overLimit(w, r, e)
		out.Means = c.meansHigh(r, e, out)
		return
	}
	c.judgeDeviation(w, r, e, out)
}

// judgeDeviation compares a reading within its limit with the expected value.
func (c *comparer) judgeDeviation(w *sum.Work, r *route.Reading, e *Expected, out *Comparison) {
	from, to := milliohms(out.Low), milliohms(out.High)
	switch {
	case !known(e.Value) && known(e.Most):
		out.Reason = "within its limit; no value to expect: " + e.Why
	case !known(e.Value):
		out.Verdict, out.Reason = Open, "nothing to hold it against: "+e.Why
	case r.Value > out.High:
		out.Verdict, out.Reason = Advise, fmt.Sprintf("%s is above what is expected, %s to %s", figure(r.Value, "Ω"), from, to)
		out.Means = c.meansHigh(r, e, out)
	case r.Value < out.Low:
		c.judgeLow(w, r, e, out)
	default:
		if w.Keeps() {
			w.Notef("%s lies between %s and %s", figure(r.Value, "Ω"), from, to)
		}
	}
}

// judgeLow tells a path in parallel from a fault: steel conduit lowers R2 and
// Zs, and a reading down to what the tube explains passes.
func (c *comparer) judgeLow(w *sum.Work, r *route.Reading, e *Expected, out *Comparison) {
	if known(e.WithSteel) {
		by := c.within(nil, sum.Term{Value: e.WithSteel}, r.Test.Live())
		if r.Value >= e.WithSteel-by {
			out.Reason = fmt.Sprintf("lower than the copper alone (%s): the steel in parallel explains down to %s", milliohms(e.Value), milliohms(max(0, e.WithSteel-by)))
			w.Note(out.Reason)
			return
		}
	}
	out.Verdict, out.Reason = Advise, fmt.Sprintf("%s is below what is expected, %s to %s", figure(r.Value, "Ω"), milliohms(out.Low), milliohms(out.High))
	out.Means = c.meansLow(r, e, out)
}

// overLimit says which limit a reading is over; of Zs also what the table
// permits of hot conductors.
func (c *comparer) overLimit(w *sum.Work, r *route.Reading, e *Expected) string {
	value, limit := sum.Apart(r.Value, e.Most)
	if r.Test != route.EarthLoop {
		return fmt.Sprintf("%s Ω is over the %s Ω that Ze leaves of the test limit of Zs", value, limit)
	}
	text := fmt.Sprintf("%s Ω is over the test limit of %s Ω", value, limit)
	if e.Table == e.Most {
		return text
	}
	if r.Value > e.Table {
		return text + fmt.Sprintf(" and over the %s that the table permits", figure(e.Table, "Ω"))
	}
	return text + fmt.Sprintf(", 0.8 of the table, though not over the table's own %s: R1+R2 and Ze measured apart and R1+R2 brought to working temperature decide", figure(e.Table, "Ω"))
}

func (c *comparer) judgeInsulation(w *sum.Work, r *route.Reading, e *Expected, out *Comparison) {
	out.Limit = e.Least
	doubt := uk.InsulationDoubt()
	least := sum.Term{Symbol: "least", Value: e.Least, Unit: "MΩ"}
	switch {
	case !w.AtMost("insulation", least, sum.Term{Symbol: "read", Value: r.Value, Unit: "MΩ"}):
		out.Verdict, out.Reason = Fail, fmt.Sprintf("%s is under the least of %s", figure(r.Value, "MΩ"), figure(e.Least, "MΩ"))
		out.Means = meansInsulation(r.Value)
	case r.Value < doubt.Num && !r.Over:
		out.Verdict, out.Reason = Advise, fmt.Sprintf("%s is over the least of %s and under the %s below which the cause is looked for (memory)", figure(r.Value, "MΩ"), figure(e.Least, "MΩ"), figure(doubt.Num, "MΩ"))
		out.Means = meansInsulation(r.Value)
	}
}

func (c *comparer) judgeTime(w *sum.Work, r *route.Reading, e *Expected, out *Comparison) {
	out.Limit = e.Most
	if !known(e.Most) {
		out.Verdict, out.Reason = Open, "nothing to hold it against: "+e.Why
		return
	}
	read := sum.Term{Symbol: "read", Value: r.Value, Unit: "ms"}
	if !w.AtMost("trip time", read, sum.Term{Symbol: "t most", Value: e.Most, Unit: "ms"}) {
		out.Verdict, out.Reason = Fail, fmt.Sprintf("%s is over %s", figure(r.Value, "ms"), figure(e.Most, "ms"))
		if r.Test == route.FiveTimes {
			out.Verdict, out.Reason = Advise, out.Reason+": good practice, no longer asked for (memory)"
		}
		out.Means = meansSlow
		return
	}
	if known(e.Least) && !w.AtMost("not before", sum.Term{Symbol: "t least", Value: e.Least, Unit: "ms"}, read) {
		out.Verdict, out.Limit = Fail, e.Least
		out.Reason = fmt.Sprintf("%s is under the %s of a delayed device", figure(r.Value, "ms"), figure(e.Least, "ms"))
		out.Means = []string{"the device is not delayed, or another one before it tripped first"}
	}
}

func (c *comparer) judgeWord(w *sum.Work, r *route.Reading, out *Comparison) {
	switch {
	case r.Test == route.Polarity && r.Value == 0:
		out.Verdict, out.Reason, out.Means = Fail, "polarity is wrong", meansPolarity
	case r.Test == route.HalfTrip && r.Value == 1:
		out.Verdict, out.Reason, out.Means = Advise, "trips at half its rated residual current: good practice asks that it does not (memory)", meansHalf
	default:
		w.Note("as it should be")
	}
}

// judgeFault compares the prospective fault current with the one that breaking
// capacities were judged by.
func (c *comparer) judgeFault(w *sum.Work, e *Expected, out *Comparison) {
	switch {
	case !known(e.Value):
		out.Verdict, out.Reason = Open, "nothing to hold it against: "+e.Why
	case out.Value > e.Value:
		out.Verdict = Advise
		out.Reason = fmt.Sprintf("%s is more than the %s that the job gives: put it in the job and judge breaking capacities and cpcs again", figure(out.Value, "A"), figure(e.Value, "A"))
	default:
		w.Note("no more than the job gives")
	}
}
