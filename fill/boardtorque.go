package fill

import (
	"fmt"
	"math"
	"strings"

	"tubewright/factors/sum"
	"tubewright/route"
)

// Terminal is a clamp of the board that is tightened to its maker's figure.
type Terminal struct {
	Kind      string  // whose figure holds: "devices", as the job file words it
	At        string  // "way 2 B20"
	Clamp     string  // "line out"
	Conductor string  // what goes in
	TorqueNm  float64 // N m, NaN until the maker's figure is given
}

// Terminals lists the board's clamps in the order of work: main switch,
// section devices, busbar, devices, bars.
func (b *Board) Terminals() []Terminal {
	l := &torqueList{board: b}
	l.main("main "+b.Main.V.Device, b.Main, "supply", b.mainFeeds())
	for i := range b.Parts {
		p := &b.Parts[i]
		l.main(fmt.Sprintf("%s %s", p.Name(), p.Main.V.Device), p.Main, "link from the main switch", "busbar")
	}
	for _, busbar := range []bool{true, false} {
		for i := range b.Parts {
			l.devices(&b.Parts[i], busbar)
		}
	}
	for _, bar := range b.Bars() {
		kind := "neutral bar"
		if bar.Earth {
			kind = "earth bar"
		}
		for _, feed := range bar.Feeds {
			l.add(kind, bar.Name, "feed", feed)
		}
		for _, t := range bar.Terminals {
			if t.Cores > 0 {
				l.add(kind, bar.Name, fmt.Sprintf("no. %d", t.Number), t.Conductor)
			}
		}
	}
	return l.list
}

// mainFeeds is what leaves the main switch: a busbar, links to sections, both.
func (b *Board) mainFeeds() string {
	direct, sections := len(b.Parts) == 0, false
	for i := range b.Parts {
		direct = direct || b.Parts[i].Section == 0
		sections = sections || b.Parts[i].Section > 0
	}
	switch {
	case direct && sections:
		return "busbar and links to the sections"
	case sections:
		return "links to the sections"
	}
	return "busbar"
}

type torqueList struct {
	board *Board
	list  []Terminal
}

func (l *torqueList) add(kind, at, clamp, conductor string) {
	t := Terminal{Kind: kind, At: at, Clamp: clamp, Conductor: conductor, TorqueNm: math.NaN()}
	if g := l.board.Job.Board.Torque[kind]; g.Said() {
		t.TorqueNm = g.V
	}
	l.list = append(l.list, t)
}

func (l *torqueList) main(at string, m route.Given[route.MainSwitch], in, out string) {
	if !m.Said() {
		return
	}
	for _, side := range []struct{ word, what string }{{"in", in}, {"out", out}} {
		for _, line := range l.board.lineNames() {
			l.add("main switch", at, line+" "+side.word, side.what)
		}
		what := side.what
		if side.word == "out" {
			what = strings.Replace(what, "busbar", "neutral bar", 1)
		}
		l.add("main switch", at, "N "+side.word, what)
	}
}

// lineNames are L, or L1 to L3.
func (b *Board) lineNames() []string {
	if b.Job.Supply.Phases.V == 3 {
		return []string{"L1", "L2", "L3"}
	}
	return []string{"L"}
}

// devices lists one end of the devices of a part: the busbar's, or the one
// that the circuits leave by.
func (l *torqueList) devices(p *Part, busbar bool) {
	for _, w := range p.Ways {
		if w.Circuit < 0 {
			continue
		}
		c := &l.board.Job.Circuits[w.Circuit]
		at := fmt.Sprintf("way %d %s", w.Number, c.Device.V)
		for _, line := range l.board.Lines(w) {
			name := l.board.lineNames()[line-1]
			if busbar {
				l.add("busbar", at, name+" in", "busbar")
			} else {
				l.add("devices", at, name+" out", c.Name)
			}
		}
		if !busbar && c.Electrical.RCBO.Said() && c.Neutral && !c.Borrows() {
			l.add("devices", at, "N out", c.Name)
		}
	}
}

// torque is open until the job gives the maker's figure of every clamp. There
// is no usual figure: the standard prints none.
//
// Source: BS 7671, 134.1.1 and 526.1 (read).
func torque(w *sum.Work, m *matter, _ int) Finding {
	if !m.Board.Main.Said() && m.Board.Torque == nil {
		return Finding{}
	}
	f := Finding{Check: "torque", Subject: "board", At: boardAt(m.Job), Verdict: Pass, Limit: 0, Unit: "terminals"}
	missing, kinds := 0, []string{}
	all := BoardOf(m.Job).Terminals()
	for i, t := range all {
		if math.IsNaN(t.TorqueNm) {
			missing++
			if !strings.Contains(strings.Join(kinds, ", "), t.Kind) {
				kinds = append(kinds, t.Kind)
			}
		} else if i == 0 || all[i-1].Kind != t.Kind {
			w.Given("maker's figure as the job gives it, "+t.Kind, sum.Term{Symbol: "T", Value: t.TorqueNm, Unit: "N m"})
		}
	}
	w.Note("where the maker gives a torque it is to be met with a set driver; the standard prints no figure, so none is taken", torqueRule)
	n := w.Let("n", fmt.Sprintf("of %d terminals, those without a maker's figure", len(all)), "terminals", sum.N(float64(missing)))
	f.Value = n.Value
	if missing > 0 {
		f.Verdict = Open
		f.Reason = "maker's figure to be entered for " + strings.Join(kinds, ", ") + ": board: {torque: {" + kinds[0] + ": … N m}}"
	}
	return f
}
