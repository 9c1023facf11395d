package render

import (
	"io"

	"tubewright/fill"
)

type entryJSON struct {
	Way     int      `json:"way"` // 0 without a way
	Modules int      `json:"modules"`
	Circuit *string  `json:"circuit"` // null for a blank
	Device  string   `json:"device,omitempty"`
	RCBO    string   `json:"rcbo,omitempty"`
	Cable   string   `json:"cable,omitempty"`
	CPC     string   `json:"cpc,omitempty"`
	Ib      *float64 `json:"ib_a"`
	ZsMax   *float64 `json:"zs_max_ohm"`
	Section int      `json:"section"` // 0 straight behind the main switch
}

type taskJSON struct {
	Number int    `json:"number"`
	Stage  string `json:"stage"`
	Live   bool   `json:"live"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

type terminalJSON struct {
	Kind      string   `json:"kind"`
	At        string   `json:"at"`
	Clamp     string   `json:"clamp"`
	Conductor string   `json:"conductor"`
	TorqueNm  *float64 `json:"torque_nm"`
	Note      string   `json:"note,omitempty"`
}

type barTerminalJSON struct {
	Number    int    `json:"number"`
	Cores     int    `json:"cores"`
	Conductor string `json:"conductor"`
}

type barJSON struct {
	Bar       string            `json:"bar"`
	Feeds     []string          `json:"feeds"`
	Terminals []barTerminalJSON `json:"terminals"`
}

type boardJSON struct {
	Job       string         `json:"job"`
	Board     string         `json:"board"`
	Main      string         `json:"main,omitempty"`
	Sections  []string       `json:"sections"`
	Ways      int            `json:"ways"`
	Used      int            `json:"used"`
	Left      *int           `json:"left"` // null where the job does not say how many ways there are
	Modules   int            `json:"modules"`
	Rail      *int           `json:"rail_modules"`
	Verdict   string         `json:"verdict"`
	Findings  []findingJSON  `json:"findings"`
	Schedule  []entryJSON    `json:"schedule"`
	Checklist []taskJSON     `json:"checklist"`
	Torque    []terminalJSON `json:"torque"`
	Bars      []barJSON      `json:"bars"`
	Cautions  []string       `json:"cautions"`
}

// WriteBoardJSON writes all that WriteBoard prints.
func WriteBoardJSON(w io.Writer, b *fill.Board, r *fill.Report) error {
	out := boardJSON{Job: b.Job.Name, Board: b.Name(), Sections: []string{}, Ways: b.Ways, Used: b.Used, Modules: b.Modules(),
		Verdict: r.Verdict().String(), Findings: findingsJSON(r), Schedule: entriesJSON(b), Checklist: []taskJSON{}, Torque: []terminalJSON{}, Bars: barsJSON(b), Cautions: Cautions}
	if b.Main.Said() {
		out.Main = b.Main.V.String()
	}
	if b.Job.Board.Ways.Said() {
		left := b.Left()
		out.Left = &left
	}
	if b.Job.Board.Modules.Said() {
		out.Rail = &b.Job.Board.Modules.V
	}
	for i := range b.Job.Board.Sections {
		out.Sections = append(out.Sections, b.Job.Board.Sections[i].Main.V.String())
	}
	for _, t := range b.Tasks() {
		out.Checklist = append(out.Checklist, taskJSON{t.Number, t.Stage.String(), t.Stage == fill.LiveTests, t.Text, sourceWords(t.Source)})
	}
	for _, t := range b.Terminals() {
		one := terminalJSON{Kind: t.Kind, At: t.At, Clamp: t.Clamp, Conductor: t.Conductor, TorqueNm: number(t.TorqueNm)}
		if one.TorqueNm == nil {
			one.Note = toEnter
		}
		out.Torque = append(out.Torque, one)
	}
	return writeJSON(w, out)
}

func entriesJSON(b *fill.Board) []entryJSON {
	out := []entryJSON{}
	for _, e := range b.Schedule() {
		one := entryJSON{Way: e.Number, Modules: e.Modules, Ib: number(e.Ib), ZsMax: number(e.ZsMax), Section: e.Section}
		if e.Circuit >= 0 {
			c := &b.Job.Circuits[e.Circuit]
			one.Circuit, one.Device = &c.Name, c.Device.V.String()
			one.Cable, one.CPC = c.Cable.V.String(), cpcText(b.Job, c)
			if c.Electrical.RCBO.Said() {
				one.RCBO = c.Electrical.RCBO.V.String()
			}
		}
		out = append(out, one)
	}
	return out
}

func barsJSON(b *fill.Board) []barJSON {
	out := []barJSON{}
	for _, bar := range b.Bars() {
		one := barJSON{Bar: bar.Name, Feeds: bar.Feeds, Terminals: []barTerminalJSON{}}
		for _, t := range bar.Terminals {
			one.Terminals = append(one.Terminals, barTerminalJSON{t.Number, t.Cores, t.Conductor})
		}
		out = append(out, one)
	}
	return out
}

func sourceWords(source string) string {
	if source == "" {
		return "common practice, no source"
	}
	return source
}
