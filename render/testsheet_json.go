package render

import (
	"io"
	"strings"

	"tubewright/factors/sum"
	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

type expectedJSON struct {
	Circuit   *string  `json:"circuit"` // null: at the origin
	Point     *string  `json:"point"`   // null: the circuit as a whole
	Test      string   `json:"test"`
	Live      bool     `json:"live"`
	Unit      string   `json:"unit"`
	Expected  *float64 `json:"expected"`
	Least     *float64 `json:"least"`
	Most      *float64 `json:"most"`
	Table     *float64 `json:"table_hot"`
	WithSteel *float64 `json:"with_steel"`
	EachPoint *float64 `json:"each_point"`
	Prove     string   `json:"prove,omitempty"`
	Why       string   `json:"why,omitempty"`
	Sources   []string `json:"sources"`
	Steps     []string `json:"steps"`
}

type testStepJSON struct {
	Number int    `json:"number"`
	Live   bool   `json:"live"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

// WriteTestSheetJSON writes every expected reading with its steps and sources.
func WriteTestSheetJSON(w io.Writer, t *fill.TestSheet) error {
	out := struct {
		Job      string              `json:"job"`
		Celsius  float64             `json:"celsius"`
		Sequence []testStepJSON      `json:"sequence"`
		Readings []expectedJSON      `json:"readings"`
		Notes    map[string][]string `json:"notes"`
		Cautions []string            `json:"cautions"`
	}{Job: t.Job.Name, Celsius: float64(t.Celsius), Readings: expectedsJSON(t, allExpected(t)), Notes: map[string][]string{}, Cautions: Cautions}
	for _, s := range t.Order() {
		out.Sequence = append(out.Sequence, testStepJSON(s))
	}
	for i := range t.Circuits {
		out.Notes[t.Job.Circuits[i].Name] = append([]string{}, t.Circuits[i].Notes...)
	}
	return writeJSON(w, out)
}

// allExpected are the sheet's readings in the order of testing, circuit by
// circuit.
func allExpected(t *fill.TestSheet) []fill.Expected {
	out := append([]fill.Expected{}, t.Supply...)
	for i := range t.Circuits {
		out = append(out, t.Circuits[i].Expected...)
	}
	return out
}

func expectedsJSON(t *fill.TestSheet, es []fill.Expected) []expectedJSON {
	out := make([]expectedJSON, len(es))
	for i := range es {
		e := &es[i]
		steps := e.Steps()
		circuit, point := expectedNames(t, e)
		out[i] = expectedJSON{Test: e.Test.String(), Live: e.Test.Live(), Unit: e.Test.Unit(), Expected: number(e.Value), Least: number(e.Least), Most: number(e.Most),
			Table: number(e.Table), WithSteel: number(e.WithSteel), EachPoint: number(e.Each), Prove: e.Prove, Why: e.Why, Sources: fill.Sources(steps), Steps: stepTexts(steps)}
		if e.Circuit >= 0 {
			out[i].Circuit = &circuit
		}
		if e.Point >= 0 {
			out[i].Point = &point
		}
	}
	return out
}

// expectedNames are the names of a reading's circuit and point, "" for none.
func expectedNames(t *fill.TestSheet, e *fill.Expected) (circuit, point string) {
	if e.Circuit >= 0 {
		circuit = t.Job.Circuits[e.Circuit].Name
		if e.Point >= 0 {
			point = t.Job.PathName(&t.Circuits[e.Circuit].Paths[e.Point])
		}
	}
	return circuit, point
}

type comparisonJSON struct {
	findingJSON
	Read     string   `json:"read"`
	Expected *float64 `json:"expected"`
	Low      *float64 `json:"low"`
	High     *float64 `json:"high"`
	Means    []string `json:"means"`
}

// WriteComparisonJSON writes every result with its steps and sources.
func WriteComparisonJSON(w io.Writer, c *fill.Comparisons) error {
	out := struct {
		Job      string           `json:"job"`
		Readings string           `json:"readings"`
		Celsius  float64          `json:"celsius"`
		Verdict  string           `json:"verdict"`
		Results  []comparisonJSON `json:"results"`
		Missing  []expectedJSON   `json:"missing"`
		Cautions []string         `json:"cautions"`
	}{Job: c.Sheet.Job.Name, Readings: c.Measured.File.Name, Celsius: float64(c.Sheet.Celsius), Verdict: c.Verdict().String(),
		Results: []comparisonJSON{}, Missing: expectedsJSON(c.Sheet, c.Missing), Cautions: Cautions}
	findings := findingsJSON(c.Report())
	for i := range c.Results {
		x := &c.Results[i]
		r := comparisonJSON{findingJSON: findings[i], Read: readText(x), Low: number(x.Low), High: number(x.High), Means: append([]string{}, x.Means...)}
		if x.Expected != nil {
			r.Expected = number(x.Expected.Value)
			if x.Limit == x.Expected.Least {
				r.Margin = number(x.Value - x.Limit)
			}
		}
		out.Results = append(out.Results, r)
	}
	return writeJSON(w, out)
}

// formulaText is how a reading is found, in symbols.
func formulaText(e *fill.Expected, steps []sum.Step) string {
	value, used := chain(steps, e.Test)
	if value == nil || value.Symbolic == "" {
		return ""
	}
	return strings.Join(append(used, value.Symbol+" = "+value.Symbolic), "; ")
}

// fileUnits are the units as a file of readings writes them.
var fileUnits = map[string]string{"Ω": "ohm", "MΩ": "Mohm"}

func fileUnit(t route.Test) string {
	if u, ok := fileUnits[t.Unit()]; ok {
		return u
	}
	return t.Unit()
}

func bareFigure(v *float64) string {
	if v == nil {
		return ""
	}
	return units.Format(*v)
}
