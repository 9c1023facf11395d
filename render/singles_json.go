package render

import (
	"io"

	"tubewright/factors/units"
	"tubewright/route"
)

type singleJSON struct {
	Circuit  string   `json:"circuit"`
	Serves   []string `json:"serves,omitempty"` // the circuits that share it
	Function string   `json:"function"`
	Label    string   `json:"label"`
	Colour   string   `json:"colour"`
	Size     string   `json:"size"`
	From     string   `json:"from"`
	To       string   `json:"to"`
	Runs     []string `json:"runs"`
	LengthM  float64  `json:"length_m"`
}

type runSinglesJSON struct {
	Run    string         `json:"run"`
	Count  int            `json:"count"`
	BySize map[string]int `json:"by_size"`
}

// WriteSinglesJSON writes every core, and the count of each run by size. A
// cable known by its diameter alone counts under that diameter.
func WriteSinglesJSON(w io.Writer, j *route.Job) error {
	out := struct {
		Singles  []singleJSON     `json:"singles"`
		Runs     []runSinglesJSON `json:"runs"`
		Cautions []string         `json:"cautions"`
	}{Singles: []singleJSON{}, Runs: []runSinglesJSON{}, Cautions: Cautions}
	for i := range j.Singles {
		s := &j.Singles[i]
		one := singleJSON{Circuit: j.Circuits[s.Circuit].Name, Function: s.Function.String(), Label: s.Mark(), Colour: s.Colour.String(),
			Size: units.Format(float64(s.Cable.CSA)), From: terminalName(j, s.From), To: terminalName(j, s.To), Runs: []string{}, LengthM: *number(float64(s.Length))}
		if of := j.Serves(s.Circuit, s.Function); len(of) > 1 {
			for _, i := range of {
				one.Serves = append(one.Serves, j.Circuits[i].Name)
			}
		}
		for _, p := range s.Way {
			one.Runs = append(one.Runs, j.Runs[p.Run].Name)
		}
		out.Singles = append(out.Singles, one)
	}
	for i := range j.Runs {
		r := runSinglesJSON{Run: j.Runs[i].Name, BySize: map[string]int{}}
		for _, c := range j.Cores(i) {
			r.Count += c.Count
			size := units.Format(float64(c.Cable.CSA))
			if c.Cable.OD > 0 {
				size = "⌀" + units.Format(float64(c.Cable.OD))
			}
			r.BySize[size] += c.Count
		}
		out.Runs = append(out.Runs, r)
	}
	return writeJSON(w, out)
}
