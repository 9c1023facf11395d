package render

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/fill"
	"tubewright/route"
)

// workedReading is how readings of one kind are found, by one worked example.
type workedReading struct {
	test  route.Test
	where string
	steps []sum.Step
}

// workedReadings lists how the sheet's readings are found, each by the first reading
// of its test on a ring and on no ring.
func workedReadings(t *fill.TestSheet) []workedReading {
	var out []workedReading
	seen := map[string]bool{}
	take := func(ring bool, where string, e *fill.Expected) {
		key := fmt.Sprint(e.Test, ring && (e.Test == route.LineCPC || e.Test == route.EarthLoop))
		steps := e.Steps()
		if !seen[key] && e.Known() && len(steps) > 0 && e.Test != route.Polarity && e.Test != route.HalfTrip {
			seen[key] = true
			out = append(out, workedReading{e.Test, where, steps})
		}
	}
	for i := range t.Circuits {
		c := &t.Circuits[i]
		name := oneLine(t.Job.Circuits[c.Circuit].Name)
		for k := range c.Expected {
			e := &c.Expected[k]
			where := name
			if e.Point >= 0 {
				where += ", " + t.Job.PathName(&c.Paths[e.Point])
			}
			take(c.IsRing(), where, e)
		}
	}
	slices.SortStableFunc(out, func(a, b workedReading) int { return int(a.test) - int(b.test) })
	return out
}

// writeFound prints each formula in symbols, then with its numbers, and the
// sources.
func writeFound(w io.Writer, t *fill.TestSheet) {
	fmt.Fprintln(w, "\nHOW EACH VALUE IS FOUND, with one example of each kind; --json has every step of all")
	var all []sum.Step
	for _, f := range workedReadings(t) {
		value, used := chain(f.steps, f.test)
		if value == nil {
			continue
		}
		_ = writeWrapped(w, "  ", "    ", f.test.String()+", "+f.where+": "+strings.Join(append(used, value.Meaning), "; ")+bracketed(refsOf(f.steps)))
		_ = writeWrapped(w, "      ", "        ", value.Line())
		for _, s := range f.steps {
			if slices.Contains(limitSymbols, s.Symbol) && s.Symbol != value.Symbol {
				_ = writeWrapped(w, "      ", "        ", s.Line())
			}
		}
		all = append(all, f.steps...)
	}
	fmt.Fprintln(w, "\nSOURCES")
	for _, s := range tablesOf(all) {
		_ = writeWrapped(w, "  ", "    ", s)
	}
}

// limitSymbols are the steps that are limits of a reading.
var limitSymbols = []string{"Zs max", "Zs test", "R1+R2 most"}

// valueSymbols are the steps that a reading's value or limit may be, by what
// is looked for first.
func valueSymbols(t route.Test) []string {
	return append([]string{t.String(), "R each", "t most"}, limitSymbols...)
}

// chain finds the step of a working that is the value of a reading, else its
// limit, and the formulas that lead to it, in their order.
func chain(steps []sum.Step, t route.Test) (value *sum.Step, used []string) {
	last := -1
	for _, symbol := range valueSymbols(t) {
		for i := range steps {
			if steps[i].Symbol == symbol {
				last = i
			}
		}
		if last >= 0 {
			break
		}
	}
	if last < 0 {
		return nil, nil
	}
	text := steps[last].Symbolic
	for i := last - 1; i >= 0; i-- {
		if s := &steps[i]; s.Symbol != "" && s.Symbolic != "" && strings.Contains(text, s.Symbol) {
			text += " " + s.Symbolic
			if formula := s.Symbol + " = " + s.Symbolic; !slices.Contains(used, formula) {
				used = append(used, formula)
			}
		}
	}
	slices.Reverse(used)
	return &steps[last], used
}

// refsOf names the tables behind a working in short.
func refsOf(steps []sum.Step) string {
	var out []string
	for _, s := range steps {
		for _, c := range s.Cites {
			ref := c.String()
			if cite, ok := c.(*factors.Citation); ok {
				ref = cite.Table.Ref
			}
			if !slices.Contains(out, ref) {
				out = append(out, ref)
			}
		}
	}
	return strings.Join(out, "; ")
}

// tablesOf lists the tables behind a working, each once, and how each is known.
func tablesOf(steps []sum.Step) []string {
	var out []string
	for _, s := range steps {
		for _, c := range s.Cites {
			text := c.String()
			if cite, ok := c.(*factors.Citation); ok {
				text = cite.Table.Ref + ": " + cite.Table.Title + ", " + cite.Table.Standard + " (" + cite.Table.Prov.String() + ")"
			}
			if !slices.Contains(out, text) {
				out = append(out, text)
			}
		}
	}
	slices.SortFunc(out, strings.Compare)
	return out
}
