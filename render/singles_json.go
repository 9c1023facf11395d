package render

import (
	"io"

	"tubewright/factors/units"
	"tubewright/fill"
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
	Cores  []coreJSON     `json:"cores"`
}

type coreJSON struct {
	Circuit  string `json:"circuit"`
	Function string `json:"function"`
	Colour   string `json:"colour"`
	Cable    string `json:"cable"`
	Count    int    `json:"count"`
}

type totalJSON struct {
	Cable   string  `json:"cable"`
	Colour  string  `json:"colour"`
	LengthM float64 `json:"length_m"`
	Reels   float64 `json:"reels"`
}

type drawJSON struct {
	Pull   string     `json:"pull"`
	Feed   string     `json:"feed"`
	Out    string     `json:"out"`
	Cables int        `json:"cables"`
	Labels []string   `json:"labels"` // circuit and label of each single
	Why    string     `json:"why"`
	Over   bool       `json:"over,omitempty"` // over cores in place
	Lying  []coilJSON `json:"lying"`
}

// coilJSON is what lies of each core at an end of a pull for the runs beyond.
type coilJSON struct {
	At      string   `json:"at"`
	When    string   `json:"when"` // before the draw, for the other way; or after
	LengthM float64  `json:"length_m"`
	Working string   `json:"working"`
	Labels  []string `json:"labels"`
	Runs    []string `json:"runs"`
	TailM   float64  `json:"tail_m"`
}

type crowdJSON struct {
	At     string `json:"at"`
	Cores  int    `json:"cores"`
	Cables string `json:"cables"`
	Tail   bool   `json:"earth_tail"` // one of the cores is the box's earth tail
}

// crowdedJSON lists the terminals that take more than two cores.
func crowdedJSON(j *route.Job) []crowdJSON {
	out := []crowdJSON{}
	for _, m := range j.Crowded() {
		out = append(out, crowdJSON{terminalName(j, -1, []route.Terminal{m.Terminal}), m.Ends(), crowdText(j, m), m.Tail})
	}
	return out
}

// orderJSON is what the order of least cable and joints in boxes save a circuit.
type orderJSON struct {
	Circuit string      `json:"circuit"`
	Saving  *savingJSON `json:"order,omitempty"`
	Joined  []netJSON   `json:"joined,omitempty"`
	Notes   []string    `json:"notes"` // the same in words
}

type savingJSON struct {
	Listed float64  `json:"listed_m"`
	Least  float64  `json:"least_m"`
	Bound  *float64 `json:"no_order_below_m"` // null where none is proved
}

type netJSON struct {
	Conductor string  `json:"conductor"`
	Group     int     `json:"group,omitempty"`
	Looped    float64 `json:"looped_m"`
	Joined    float64 `json:"joined_m"`
	Bound     float64 `json:"no_tree_below_m"`
}

func ordersJSON(j *route.Job) []orderJSON {
	out := []orderJSON{}
	for i := range j.Circuits {
		c := &j.Circuits[i]
		one := orderJSON{Circuit: c.Name, Notes: []string{}}
		if sv := c.Saving; sv.Shortest > 0 {
			one.Saving = &savingJSON{Listed: *number(sv.Listed), Least: *number(sv.Shortest)}
			if sv.Exact || sv.Bound > 0 {
				one.Saving.Bound = number(sv.Bound)
			}
			one.Notes = append(one.Notes, savingText(c))
		}
		for _, n := range c.Joined {
			one.Joined = append(one.Joined, netJSON{netName(n), n.Group, *number(n.Looped), *number(n.Least), *number(n.Bound)})
			one.Notes = append(one.Notes, joinedText(n))
		}
		if len(one.Notes) > 0 {
			out = append(out, one)
		}
	}
	return out
}

type connectorJSON struct {
	Circuits []string `json:"circuits"` // one, or those that share its cpc
	At       string   `json:"at"`
	Cores    int      `json:"cores"`
	Cables   string   `json:"cables"`
	FarEnds  []string `json:"far_ends"`
}

func connectorsJSON(j *route.Job) []connectorJSON {
	out := []connectorJSON{}
	for _, m := range j.Connectors() {
		one := connectorJSON{At: terminalName(j, m.Circuit, []route.Terminal{m.Terminal}), Cores: len(m.Cores), Cables: cableCounts(m.Cables(j)), FarEnds: farEnds(j, m)}
		for _, i := range j.Serves(m.Circuit, j.Singles[m.Cores[0]].Function) {
			one.Circuits = append(one.Circuits, j.Circuits[i].Name)
		}
		out = append(out, one)
	}
	return out
}

// drawInJSON is the draw-in plan, in order.
func drawInJSON(j *route.Job) []drawJSON {
	out := []drawJSON{}
	for _, d := range j.DrawIn() {
		one := drawJSON{Pull: j.Pulls[d.Pull].Name(j), Feed: placeName(j, d.Feed), Out: placeName(j, d.Out), Cables: len(d.Singles),
			Labels: labelsJSON(j, d.Singles), Why: d.Why, Over: d.Over, Lying: []coilJSON{}}
		for _, l := range d.Listed {
			one.Cables += l.Count
		}
		for k := range d.Coils {
			one.Lying = append(one.Lying, lyingJSON(j, &d.Coils[k]))
		}
		out = append(out, one)
	}
	return out
}

func lyingJSON(j *route.Job, c *route.Coil) coilJSON {
	length, working := coilText(j, c)
	one := coilJSON{At: placeName(j, c.Place), When: "after", LengthM: *number(length), Working: working, Labels: labelsJSON(j, c.Singles), TailM: float64(c.Tail)}
	if c.First {
		one.When = "before"
	}
	for _, p := range c.Way {
		one.Runs = append(one.Runs, j.Runs[p.Run].Name)
	}
	return one
}

// labelsJSON is the circuit and label of each single.
func labelsJSON(j *route.Job, singles []int) []string {
	out := make([]string, 0, len(singles))
	for _, i := range singles {
		out = append(out, servedText(j, j.Singles[i].Circuit, j.Singles[i].Function)+" "+j.Singles[i].Mark())
	}
	return out
}

// singlesJSON is the list of singles.
type singlesJSON struct {
	Job        string           `json:"job"`
	Verdict    string           `json:"verdict"` // of all checks
	Notes      []string         `json:"notes"`   // of the checks that fail or are open
	Fails      []string         `json:"checks_failed"`
	Singles    []singleJSON     `json:"singles"`
	Runs       []runSinglesJSON `json:"runs"`
	Orders     []orderJSON      `json:"orders"` // of the circuits that ask for the shortest, or are joined
	Connectors []connectorJSON  `json:"connectors"`
	Crowded    []crowdJSON      `json:"crowded_terminals"` // that take more than two cores
	Totals     []totalJSON      `json:"totals"`
	DrawIn     []drawJSON       `json:"draw_in"`
	Cautions   []string         `json:"cautions"`
}

// WriteSinglesJSON writes every core, and the count of each run by size. A
// cable known by its diameter alone counts under that diameter.
func WriteSinglesJSON(w io.Writer, r *fill.Report) error {
	j := r.Job
	out := singlesJSON{Job: j.Name, Verdict: r.Verdict().String(), Notes: list(checkNotes(r, singlesPage)), Fails: failed(r),
		Singles: []singleJSON{}, Runs: []runSinglesJSON{}, Orders: ordersJSON(j), Connectors: connectorsJSON(j), Crowded: crowdedJSON(j),
		Totals: []totalJSON{}, DrawIn: drawInJSON(j), Cautions: Cautions}
	for _, t := range totals(j) {
		out.Totals = append(out.Totals, totalJSON{t.cable.String(), t.colour, *number(t.metres), *number(t.metres / float64(j.Stock.Reel.V))})
	}
	for i := range j.Singles {
		out.Singles = append(out.Singles, oneSingleJSON(j, &j.Singles[i]))
	}
	for i := range j.Runs {
		out.Runs = append(out.Runs, oneRunJSON(j, i))
	}
	return writeJSON(w, out)
}

func oneSingleJSON(j *route.Job, s *route.Single) singleJSON {
	one := singleJSON{Circuit: j.Circuits[s.Circuit].Name, Function: s.Function.String(), Label: s.Mark(), Colour: s.Colour.String(),
		Size: units.Format(float64(s.Cable.CSA)), From: endName(j, s, false), To: endName(j, s, true), Runs: []string{}, LengthM: *number(float64(s.Length))}
	if of := j.Serves(s.Circuit, s.Function); len(of) > 1 {
		for _, i := range of {
			one.Serves = append(one.Serves, j.Circuits[i].Name)
		}
	}
	for _, p := range s.Way {
		one.Runs = append(one.Runs, j.Runs[p.Run].Name)
	}
	return one
}

func oneRunJSON(j *route.Job, i int) runSinglesJSON {
	r := runSinglesJSON{Run: j.Runs[i].Name, BySize: map[string]int{}, Cores: []coreJSON{}}
	for _, c := range j.Cores(i) {
		one := coreJSON{Circuit: c.Name, Function: c.Function.String(), Colour: c.Colour.String(), Cable: c.Cable.String(), Count: c.Count}
		if c.Circuit >= 0 {
			one.Circuit = servedText(j, c.Circuit, c.Function)
		}
		r.Cores = append(r.Cores, one)
		r.Count += c.Count
		size := units.Format(float64(c.Cable.CSA))
		if c.Cable.OD > 0 {
			size = "⌀" + units.Format(float64(c.Cable.OD))
		}
		r.BySize[size] += c.Count
	}
	return r
}
