package route

import (
	"fmt"
	"strings"

	"tubewright/factors/units"
)

// board counts the board that the job describes: enclosure, main switch,
// section devices, a device a circuit, blanks and, on a single-phase board,
// busbars. Without main,
// sections or a number of ways the job has no board to buy.
func (t *takeoff) board() {
	b := &t.job.Board
	if !b.Main.Said() && !b.Ways.Said() && len(b.Sections) == 0 {
		return
	}
	add := func(name, rule string, n int) { t.add(groupBoard, name, "each", rule, float64(n)) }
	ways, used := t.job.boardWays()
	add(t.job.enclosureName(ways), ruleBoard, 1)
	modules := ways
	for _, m := range t.job.mains() {
		name := m.String()
		if m.Device == mainWords[0] {
			name = "main " + name
		}
		add(name+fmt.Sprintf(", %d modules", m.Modules), ruleBoard, 1)
		modules += m.Modules
	}
	for i := range t.job.Circuits {
		if c := &t.job.Circuits[i]; c.Device.Said() {
			add(c.deviceName(), ruleDevice, 1)
		}
	}
	add("blank, one module", ruleBlank, ways-used+max(0, b.Modules.V-modules))
	if t.job.Supply.Phases.V != 3 {
		t.busbars(ways)
	}
}

// boardWays is how many ways the board has and how many its devices cover.
func (j *Job) boardWays() (ways, used int) {
	ways = j.Board.Ways.V
	for _, s := range j.Board.Sections {
		for _, w := range s.Ways {
			if !j.Board.Ways.Said() {
				ways = max(ways, w.V)
			}
		}
	}
	for i := range j.Circuits {
		if c := &j.Circuits[i]; c.Way.Said() {
			used += c.Lines()
			if !j.Board.Ways.Said() {
				ways = max(ways, c.Way.V+c.Lines()-1)
			}
		}
	}
	return ways, used
}

// mains are the board's main switch and those of its sections.
func (j *Job) mains() []MainSwitch {
	var out []MainSwitch
	if j.Board.Main.Said() {
		out = append(out, j.Board.Main.V)
	}
	for _, s := range j.Board.Sections {
		out = append(out, s.Main.V)
	}
	return out
}

func (j *Job) enclosureName(ways int) string {
	name := fmt.Sprintf("consumer unit enclosure, %d ways", ways)
	if j.Supply.Phases.V == 3 {
		name = "three-phase distribution board, " + ThreePoleWays(ways)
	}
	if j.Board.Modules.Said() {
		name += fmt.Sprintf(", rail of %d modules", j.Board.Modules.V)
	}
	return name
}

// busbars counts one on the line side of each main or section device.
func (t *takeoff) busbars(ways int) {
	rest := ways
	for _, s := range t.job.Board.Sections {
		t.add(groupBoard, t.job.busbarName(len(s.Ways)), "each", ruleBusbar, 1)
		rest -= len(s.Ways)
	}
	if rest > 0 {
		t.add(groupBoard, t.job.busbarName(rest), "each", ruleBusbar, 1)
	}
}

func (j *Job) busbarName(ways int) string {
	name := fmt.Sprintf("busbar, line side, %d ways", ways)
	if ways == 1 {
		name = "link, line side, one way"
	}
	return name
}

// ThreePoleWays says how many ways of three poles hold so many poles: a
// three-phase board is sold by them, and a job counts its ways pole by pole.
func ThreePoleWays(poles int) string {
	text := fmt.Sprintf("%d ways of three poles", (poles+2)/3)
	if poles <= 3 {
		text = "1 way of three poles"
	}
	if poles == 1 {
		return text + ", for 1 pole"
	}
	if poles%3 != 0 {
		return fmt.Sprintf("%s, for %d poles", text, poles)
	}
	return fmt.Sprintf("%s (%d poles)", text, poles)
}

// String names a main switch in the trade's terms: RCCB 80 A, 30 mA, type A.
func (m MainSwitch) String() string {
	s := m.Device + " " + units.Format(float64(m.Rating)) + " A"
	if m.Residual > 0 {
		s += ", " + Residual{Current: m.Residual, Type: m.Type, Delayed: m.Delayed}.String()
	}
	return s
}

// String is the residual part of a device: 30 mA, type A.
func (r Residual) String() string {
	s := fmt.Sprintf("%s mA, type %s", units.Format(float64(r.Current)*1000), r.Type)
	if r.Delayed {
		s += ", time-delayed"
	}
	return s
}

// deviceName names a circuit's device: circuit-breaker C16, three-pole.
func (c *Circuit) deviceName() string {
	name := c.Device.V.String()
	switch {
	case c.Electrical.RCBO.Said():
		name = "RCBO " + name + ", " + c.Electrical.RCBO.V.String()
	case strings.HasPrefix(name, "BS "):
		name = "fuse " + name
	default:
		name = "circuit-breaker " + name
	}
	if c.Lines() == 3 {
		name += ", three-pole"
	}
	return name
}
