package fill

import (
	"fmt"
	"strings"

	"tubewright/factors/source"
	"tubewright/factors/sum"
	"tubewright/route"
)

const (
	largestFirst = ruleText("order of devices: common practice, no source")
	moduleWidths = ruleText("one module a line: common practice, no source")
	divisionRule = ruleText("BS 7671 314.1: division into circuits (from memory)")
	torqueRule   = ruleText("BS 7671 134.1.1: maker's instructions; 526.1: connections")
)

// boards is how many boards there are to judge: none when the job says neither
// main switch nor sections nor ways.
func boards(j *route.Job) int {
	if j.Board.Main.Said() || j.Board.Ways.Said() || len(j.Board.Sections) > 0 {
		return 1
	}
	return 0
}

// boardOrder advises on the order of the devices: the largest next to the
// device that feeds them, the rest falling. Nothing fails by it.
//
// Source: common practice, no source.
func boardOrder(w *sum.Work, m *matter, _ int) Finding {
	b := BoardOf(m.Job)
	f := Finding{Check: "board", Subject: "order of devices", At: boardAt(m.Job), Verdict: Pass, Unit: "devices"}
	var late []string
	for i := range b.Parts {
		order, least := []string{}, -1
		for _, way := range b.Parts[i].Ways {
			if way.Circuit < 0 {
				continue
			}
			d := m.Circuits[way.Circuit].Device.V
			order = append(order, fmt.Sprintf("way %d %s", way.Number, d))
			if least >= 0 && d.Rating > m.Circuits[least].Device.V.Rating {
				late = append(late, fmt.Sprintf("%s in way %d stands farther out than %s in way %d", d, way.Number, m.Circuits[least].Device.V, m.Circuits[least].Way.V))
				continue
			}
			least = way.Circuit
		}
		if len(order) > 0 {
			w.Note(b.Parts[i].Name()+", from the device that feeds them outward: "+strings.Join(order, ", "), largestFirst)
		}
	}
	n := w.Let("n", "devices larger than one nearer the feed", "devices", sum.N(float64(len(late))))
	f.Value, f.Limit = n.Value, 0
	if len(late) > 0 {
		f.Verdict = Advise
		f.Reason = "the largest usually stands next to the main switch or section device, the rest falling (practice differs): " + strings.Join(late, "; ")
	}
	return f
}

// boardWays counts ways and modules: the circuits go into the ways, the
// devices onto the rail.
//
// Source: counting; one module a line is common practice, no source.
func boardWays(w *sum.Work, m *matter, _ int) Finding {
	b := BoardOf(m.Job)
	f := Finding{Check: "ways", Subject: "board", At: boardAt(m.Job), Value: float64(b.Used), Limit: none, Unit: "ways"}
	used := w.Given("ways that devices cover, one for each line they switch", sum.Term{Symbol: "used", Value: f.Value, Unit: "ways", Cite: moduleWidths})
	if !m.Board.Ways.Said() {
		f.Verdict, f.Reason = Open, "the job does not say how many ways the board has: board: {ways: 6}"
		w.Note(f.Reason)
		return f
	}
	ways := w.Given("ways of the board", sum.Term{Symbol: "ways", Value: float64(b.Ways), Unit: "ways"})
	f.Limit = ways.Value
	w.Let("left", "ways left", "ways", sum.Sub(sum.T(ways), sum.T(used)))
	waiting := waitingWays(m.Job, b)
	switch {
	case !w.AtMost("devices in the ways", used, ways): // a device may not reach past the last way
		f.Verdict, f.Reason = Fail, fmt.Sprintf("%d ways are covered, the board has %d", b.Used, b.Ways)
	case len(b.NoWay) > 0 && waiting > b.Left():
		f.Verdict, f.Value = Fail, float64(b.Used+waiting)
		f.Reason = fmt.Sprintf("%s need %d more, %d are left", unplaced(m.Job, b), waiting, b.Left())
	case len(b.NoWay) > 0:
		f.Verdict, f.Reason = Open, "no way is given for "+unplaced(m.Job, b)
	default:
		f.Verdict = Pass
	}
	if f.Verdict != Fail {
		onRail(w, m, b, &f)
	}
	return f
}

// onRail holds the modules of main switch, section devices and ways against
// the rail, where the job gives its width.
func onRail(w *sum.Work, m *matter, b *Board, f *Finding) {
	if !m.Board.Modules.Said() {
		return
	}
	need := w.Given("modules of main switch, section devices and ways", sum.Term{Symbol: "need", Value: float64(b.Modules()), Unit: "modules", Cite: moduleWidths})
	rail := w.Given("modules of the rail", sum.Term{Symbol: "rail", Value: float64(m.Board.Modules.V), Unit: "modules"})
	if !w.AtMost("devices on the rail", need, rail) {
		f.Verdict, f.Value, f.Limit, f.Unit = Fail, need.Value, rail.Value, "modules"
		f.Reason = fmt.Sprintf("main switch, section devices and %d ways are %d modules wide, the rail %d", b.Ways, b.Modules(), m.Board.Modules.V)
	}
}

func waitingWays(j *route.Job, b *Board) int {
	n := 0
	for _, i := range b.NoWay {
		n += j.Circuits[i].Lines()
	}
	return n
}

func unplaced(j *route.Job, b *Board) string {
	var names []string
	for _, i := range b.NoWay {
		names = append(names, j.Circuits[i].Name)
	}
	if len(names) == 1 {
		return "circuit " + names[0]
	}
	return "circuits " + strings.Join(names, ", ")
}

func boardAt(j *route.Job) source.Pos {
	switch {
	case j.Board.Main.Said():
		return j.Board.Main.At
	case j.Board.Ways.Said():
		return j.Board.Ways.At
	}
	return j.Board.Sections[0].Main.At
}

// division advises where one residual device holds every circuit of the
// board: one fault to earth puts all of them out.
//
// Source: BS 7671, 314.1 (from memory).
func division(w *sum.Work, m *matter, _ int) Finding {
	b := BoardOf(m.Job)
	all := 0
	for i := range b.Parts {
		all += b.Parts[i].Circuits()
	}
	most, by := mostBehind(m.Job, b, all)
	if all < 2 || by == "" {
		return Finding{}
	}
	f := Finding{Check: "division", Subject: "board", At: boardAt(m.Job), Verdict: Pass, Unit: "circuits"}
	n := w.Given("circuits that "+by+" puts out together", sum.Term{Symbol: "n", Value: float64(most), Unit: "circuits", Cite: divisionRule})
	total := w.Given("circuits of the board", sum.Term{Symbol: "all", Value: float64(all), Unit: "circuits"})
	f.Value, f.Limit = n.Value, total.Value-1
	if w.AtMost("some stay on", n, w.Let("most", "with one left on", "circuits", sum.Sub(sum.T(total), sum.N(1)))) {
		return f
	}
	f.Verdict = Advise
	f.Reason = fmt.Sprintf("one fault to earth trips %s and puts out all %d circuits%s; 314.1 (from memory) asks to divide so that a fault stays with its circuit: an RCBO for each, or sections behind a plain main switch", by, all, withLights(m.Job))
	return f
}

// mostBehind is the largest number of circuits behind one undelayed residual
// device, and which device that is. A delayed main lets those behind it trip
// first, as long as each circuit has one.
func mostBehind(j *route.Job, b *Board, all int) (most int, by string) {
	own := 0 // circuits with a residual device besides the main
	for i := range b.Parts {
		p := &b.Parts[i]
		for _, way := range p.Ways {
			if way.Circuit < 0 {
				continue
			}
			rcbo := j.Circuits[way.Circuit].Electrical.RCBO.Said()
			if rcbo || leakage(p.Main) {
				own++
			}
			if rcbo && most < 1 {
				most, by = 1, "an RCBO"
			}
		}
		if leakage(p.Main) && p.Circuits() > most {
			most, by = p.Circuits(), "the RCCB of "+p.Name()
		}
	}
	if leakage(b.Main) && (!b.Main.V.Delayed || own < all) {
		return all, "the main RCCB"
	}
	return most, by
}

func withLights(j *route.Job) string {
	for i := range j.Circuits {
		if j.Circuits[i].Arrangement.V == route.Lighting {
			return ", lights included"
		}
	}
	return ""
}
