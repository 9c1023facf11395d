package render

import (
	"encoding/json"
	"io"
	"math"
	"strings"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/fill"
)

type findingJSON struct {
	Check   string   `json:"check"`
	Subject string   `json:"subject"`
	Verdict string   `json:"verdict"`
	Value   *float64 `json:"value"`
	Limit   *float64 `json:"limit"`
	Unit    string   `json:"unit"`
	Margin  *float64 `json:"margin"`
	Reason  string   `json:"reason,omitempty"`
	Runs    []string `json:"runs,omitempty"` // where a circuit fails
	Instead []string `json:"instead,omitempty"`
	Sources []string `json:"sources"`
	Steps   []string `json:"steps"`
}

type reportJSON struct {
	Job      string        `json:"job"`
	Rules    string        `json:"rules"`
	Verdict  string        `json:"verdict"`
	Findings []findingJSON `json:"findings"`
	Cautions []string      `json:"cautions"`
}

// number is v for JSON, null where there is none.
func number(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	v = math.Round(v*1e9) / 1e9 // what adding up leaves in the last places
	return &v
}

func stepTexts(steps []sum.Step) []string {
	out := make([]string, len(steps))
	for i, s := range steps {
		out[i] = s.String()
		if s.Symbol != "" && s.Meaning != "" {
			out[i] = s.Meaning + ": " + out[i]
		}
	}
	return out
}

// WriteReportJSON writes the findings with their steps and sources.
func WriteReportJSON(w io.Writer, r *fill.Report) error {
	return writeJSON(w, reportJSON{Job: r.Job.Name, Rules: r.Job.Rules, Verdict: r.Verdict().String(), Findings: findingsJSON(r), Cautions: Cautions})
}

func findingsJSON(r *fill.Report) []findingJSON {
	out := make([]findingJSON, 0, len(r.Findings))
	for i := range r.Findings {
		f := &r.Findings[i]
		steps := f.Steps()
		var runs []string
		for _, k := range f.Runs {
			runs = append(runs, r.Job.Runs[k].Name)
		}
		out = append(out, findingJSON{
			Runs: runs, Check: f.Check, Subject: f.Subject, Verdict: f.Verdict.String(), Value: number(f.Value), Limit: number(f.Limit),
			Unit: f.Unit, Margin: number(f.Margin()), Reason: f.Reason, Instead: f.Instead, Sources: fill.Sources(steps), Steps: stepTexts(steps),
		})
	}
	return out
}

func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

type cellJSON struct {
	Keys       []string `json:"keys"`
	Value      float64  `json:"value"`
	Provenance string   `json:"provenance"`
}

// WriteTableJSON writes one table with every cell and how it is known.
func WriteTableJSON(w io.Writer, t *factors.Table) error {
	out := struct {
		ID         string           `json:"id"`
		Title      string           `json:"title"`
		Standard   string           `json:"standard"`
		Unit       string           `json:"unit"`
		Provenance string           `json:"provenance"`
		Detail     string           `json:"detail,omitempty"`
		Checked    string           `json:"checked"`
		Axes       []string         `json:"axes"`
		Cells      []cellJSON       `json:"cells"`
		Notes      []string         `json:"notes"`
		Sources    []factors.Source `json:"sources"`
	}{ID: t.ID, Title: t.Title, Standard: t.Standard, Unit: t.Unit, Provenance: t.Prov.String(), Detail: strings.TrimSpace(t.Detail), Checked: t.Checked,
		Axes: []string{}, Cells: []cellJSON{}, Notes: t.Notes, Sources: t.Sources}
	for _, a := range t.Axes {
		out.Axes = append(out.Axes, a.Name)
	}
	t.Cells(func(v factors.Value, keys []factors.Key) {
		c := cellJSON{Value: v.Num, Provenance: v.Cite.Prov.String()}
		for _, k := range keys {
			c.Keys = append(c.Keys, k.String())
		}
		out.Cells = append(out.Cells, c)
	})
	return writeJSON(w, out)
}

// WriteTableListJSON writes the names of all tables.
func WriteTableListJSON(w io.Writer, f *factors.Family) error {
	type entry struct {
		ID         string `json:"id"`
		Title      string `json:"title"`
		Standard   string `json:"standard"`
		Provenance string `json:"provenance"`
	}
	var out []entry
	for _, id := range f.IDs() {
		t := f.Table(id)
		out = append(out, entry{t.ID, t.Title, t.Standard, t.Prov.String()})
	}
	return writeJSON(w, struct {
		Rules  string  `json:"rules"`
		Tables []entry `json:"tables"`
	}{f.Name, out})
}

type fitJSON struct {
	Verdict  string         `json:"verdict"`
	Value    *float64       `json:"value"`
	Limit    *float64       `json:"limit"`
	Unit     string         `json:"unit"`
	Method   string         `json:"method"`
	Reason   string         `json:"reason,omitempty"`
	Instead  []string       `json:"instead,omitempty"`
	More     map[string]int `json:"more"`
	Circuits []circuitsJSON `json:"more_circuits"`
	Run      string         `json:"run,omitempty"`
	Grouping *groupingJSON  `json:"grouping,omitempty"`
	Sources  []string       `json:"sources"`
	Steps    []string       `json:"steps"`
	Cautions []string       `json:"cautions"`
}

// circuitsJSON is how many whole circuits of a size would go in: line, neutral
// and cpc, a ring with both legs.
type circuitsJSON struct {
	CSA     float64 `json:"csa_mm2"`
	Radials int     `json:"radials"`
	Rings   int     `json:"rings"`
}

// WriteFitJSON writes the answer about one run and what else would go in.
func WriteFitJSON(w io.Writer, a *fill.Answer) error {
	f := &a.Space
	steps := f.Steps()
	out := fitJSON{Verdict: f.Verdict.String(), Value: number(f.Value), Limit: number(f.Limit), Unit: f.Unit, Method: f.Method, Reason: f.Reason, Instead: f.Instead,
		More: map[string]int{}, Circuits: []circuitsJSON{}, Sources: fill.Sources(steps), Steps: stepTexts(steps), Cautions: Cautions}
	for _, m := range a.More {
		out.More[sum.Figure(float64(m.CSA))] = m.Count
		out.Circuits = append(out.Circuits, circuitsJSON{float64(m.CSA), m.Radials(), m.Rings()})
	}
	if a.Group != nil {
		out.Run, out.Grouping = a.Job.Runs[a.Group.Run].Name, regroupJSON(a)
		out.Sources = append(out.Sources, a.Group.Citations...)
	}
	return writeJSON(w, out)
}
