package fill

import (
	"slices"

	"tubewright/factors/sum"
	"tubewright/route"
)

// Comparison is a reading beside what was expected, or a rule over several
// readings of a ring.
type Comparison struct {
	Finding             // value: what was read; limit: what it must keep to, NaN where nothing is
	Expected  *Expected // nil of a rule over several readings
	Reading   *route.Reading
	Low, High float64  // between which a reading passes for the expected value; NaN where none is
	Means     []string // what such a deviation usually means: common practice, no source
}

// Comparisons are the readings of a file beside the sheet.
type Comparisons struct {
	Sheet    *TestSheet
	Measured *route.Measured
	Results  []Comparison // in the order of testing
	Missing  []Expected   // what the sheet asks for and the file has not
	Allow    Allowance
}

// Verdict is the gravest of the results.
func (c *Comparisons) Verdict() Verdict { return c.Report().Verdict() }

// Report is the results as findings of the job.
func (c *Comparisons) Report() *Report {
	r := &Report{Job: c.Sheet.Job}
	for i := range c.Results {
		r.Findings = append(r.Findings, c.Results[i].Finding)
	}
	return r
}

// comparer sets readings beside the sheet at their temperature, with Ze as
// measured where it was.
type comparer struct {
	sheet    *sheet
	given    *sheet // with Ze as the job gives it
	readings []route.Reading
	at       map[readingKey]*route.Reading
	allow    meterAllowance
}

type readingKey struct {
	circuit, point int
	test           route.Test
}

// Compare sets readings beside what the job makes one expect.
//
// Cost: linear in readings and points.
func Compare(j *route.Job, measured *route.Measured) *Comparisons {
	c := newComparer(j, measured)
	t := NewTestSheet(j, measured.Ambient.V)
	out := &Comparisons{Sheet: t, Measured: measured, Allow: c.allow.exported(&measured.Allow)}
	take := func(es []Expected) {
		for i := range es {
			e := &es[i]
			r, read := c.at[readingKey{e.Circuit, e.Point, e.Test}]
			switch {
			case read:
				out.Results = append(out.Results, c.result(r))
			case c.asked(e):
				out.Missing = append(out.Missing, *e)
			}
		}
	}
	take(t.Supply)
	for i := range t.Circuits {
		take(t.Circuits[i].Expected)
		take(c.extra(&t.Circuits[i]))
		out.Results = append(out.Results, c.ringRules(i)...)
	}
	return out
}

func newComparer(j *route.Job, measured *route.Measured) *comparer {
	c := &comparer{readings: measured.Readings, at: map[readingKey]*route.Reading{}, allow: allowanceOf(measured)}
	for i := range c.readings {
		r := &c.readings[i]
		c.at[readingKey{r.Circuit, r.Point, r.Test}] = r
	}
	job := *j
	if r, read := c.at[readingKey{-1, -1, route.External}]; read {
		// What is measured at the origin has the electrode in it.
		job.Supply.Ze.V, job.Supply.Ze.At = ohms(r.Value), r.At
		job.Supply.Electrode = route.Supply{}.Electrode
	}
	c.sheet, c.given = newSheet(&job, measured.Ambient.V), newSheet(j, measured.Ambient.V)
	return c
}

// extra are readings that the sheet of a circuit does not ask for and the file
// has: R1+Rn of a radial, R2 of a ring.
func (c *comparer) extra(t *CircuitTests) []Expected {
	var out []Expected
	for _, r := range c.readings {
		if r.Circuit != t.Circuit {
			continue
		}
		if _, there := t.At(r.Point, r.Test); !there {
			out = append(out, c.sheet.expect(nil, r.Circuit, r.Point, r.Test))
		}
	}
	return out
}

// asked reports whether a reading that the file lacks must be taken: not what
// is good practice only, nor R2 beside R1+R2, nor R1+R2 where R2 was read. A
// ring without a cpc of its own needs both.
func (c *comparer) asked(e *Expected) bool {
	if e.Circuit >= 0 && c.sheet.m.Circuits[e.Circuit].Arrangement.V != route.Ring {
		_, alone := c.at[readingKey{e.Circuit, e.Point, route.CPCAlone}]
		if e.Test == route.CPCAlone || e.Test == route.LineCPC && alone {
			return false
		}
	}
	if e.Test == route.Trip && c.tripRead(e.Circuit) {
		return false
	}
	return e.Test != route.HalfTrip && e.Test != route.FiveTimes && (e.Known() || e.Test.OfPoint())
}

// tripRead reports whether the device of a circuit was tested from another
// circuit that it serves.
func (c *comparer) tripRead(circuit int) bool {
	m := c.sheet.m
	own, ok := residualOf(m, circuit)
	if !ok || m.Circuits[circuit].Electrical.RCBO.Said() {
		return false
	}
	for i := range m.Circuits {
		if _, read := c.at[readingKey{i, -1, route.Trip}]; read && !m.Circuits[i].Electrical.RCBO.Said() && sectionOf(m, i) == sectionOf(m, circuit) {
			if r, _ := residualOf(m, i); r == own {
				return true
			}
		}
	}
	return false
}

// sectionOf is the section of the board that a circuit's way is in, -1 for none.
func sectionOf(m *matter, circuit int) int {
	way := m.Circuits[circuit].Way
	return slices.IndexFunc(m.Board.Sections, func(s route.Section) bool {
		return way.Said() && slices.ContainsFunc(s.Ways, func(g route.Given[int]) bool { return g.V == way.V })
	})
}

// result judges one reading; its working is the same code run again.
func (c *comparer) result(r *route.Reading) Comparison {
	out := c.judge(nil, r)
	out.Finding = judge(c.sheet.m, func(w *sum.Work, _ *matter, _ int) Finding { return c.judge(w, r).Finding }, 0)
	e := c.expect(nil, r)
	out.Expected, out.Reading = &e, r
	return out
}

// expect is what a reading is set beside.
func (c *comparer) expect(w *sum.Work, r *route.Reading) Expected {
	if r.Test == route.External {
		return c.given.expect(w, r.Circuit, r.Point, r.Test)
	}
	return c.sheet.expect(w, r.Circuit, r.Point, r.Test)
}

// judge is the verdict on one reading.
func (c *comparer) judge(w *sum.Work, r *route.Reading) Comparison {
	e := c.expect(w, r)
	out := Comparison{Low: none, High: none, Finding: Finding{
		Check: r.Test.String(), Subject: c.subject(r), At: r.At, Value: r.Value, Limit: none, Unit: r.Test.Unit(), Verdict: Pass}}
	switch r.Test {
	case route.Polarity, route.HalfTrip:
		c.judgeWord(w, r, &out)
	case route.Insulation:
		c.judgeInsulation(w, r, &e, &out)
	case route.Trip, route.FiveTimes:
		c.judgeTime(w, r, &e, &out)
	case route.FaultAtOrigin:
		c.judgeFault(w, &e, &out)
	default:
		c.judgeOhms(w, r, &e, &out)
	}
	if out.Verdict != Pass {
		w.Note(out.Reason)
	}
	return out
}

// subject names what was measured: sockets, s1.
func (c *comparer) subject(r *route.Reading) string {
	switch {
	case r.Circuit < 0:
		return "origin"
	case r.Point < 0:
		return c.sheet.m.Circuits[r.Circuit].Name
	}
	return c.sheet.m.Circuits[r.Circuit].Name + ", " + c.sheet.m.PathName(&c.sheet.paths[r.Circuit][r.Point])
}
