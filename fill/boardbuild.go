package fill

import (
	"fmt"
	"strings"

	"tubewright/route"
)

// Stage is a part of building up a board, in the order of work.
type Stage uint8

// The stages. Work of the last one is done on a live board.
const (
	Isolating Stage = iota + 1
	Building
	DeadTests
	LiveTests
)

var stageWords = [...]string{"", "isolate and prove dead", "build", "dead tests", "live tests"}

func (s Stage) String() string { return stageWords[s] }

// Task is one line of the build checklist, to be ticked.
type Task struct {
	Number int
	Stage  Stage
	Text   string
	Source string // "" where it is common practice without a source
}

const (
	practice  = "" // common practice, no source
	testOrder = "order of tests: textbooks (read)"
)

// Tasks is the build checklist of this board.
func (b *Board) Tasks() []Task {
	c := &checklist{board: b}
	c.isolate()
	c.fixDevices()
	c.fitBusbar()
	c.connect()
	c.finish()
	c.dead()
	c.live()
	return c.tasks
}

type checklist struct {
	board *Board
	tasks []Task
}

func (c *checklist) add(s Stage, source, format string, args ...any) {
	c.tasks = append(c.tasks, Task{len(c.tasks) + 1, s, fmt.Sprintf(format, args...), source})
}

func (c *checklist) isolate() {
	pairs := "line and neutral, line and earth, neutral and earth"
	if c.board.Job.Supply.Phases.V == 3 {
		pairs = "every two of L1, L2, L3, neutral and earth"
	}
	c.add(Isolating, practice, "The supply to %s is switched off at its isolating point, locked off, the key kept and a notice put up", c.board.Name())
	c.add(Isolating, practice, "The voltage detector is proved on a known source; dead is proved between %s; the detector is proved again", pairs)
}

func (c *checklist) fixDevices() {
	b := c.board
	c.add(Building, practice, "The enclosure is fixed plumb and level; every entry is bushed, every unused entry closed")
	c.add(Building, "BS 7671 416.2 (from memory)", "No gap in the top takes a 1 mm wire (IP4X), none elsewhere a finger (IPXXB)")
	if b.Job.Choices.Diversity.V == route.Household {
		c.add(Building, "BS 7671 421.1.201 (from memory)", "The enclosure is of non-combustible material: household premises")
	}
	if b.Main.Said() {
		c.add(Building, practice, "The %s is on the rail, caught, off", "main "+b.Main.V.String())
	}
	for i := range b.Parts {
		if p := &b.Parts[i]; p.Main.Said() {
			c.add(Building, practice, "The %s is on the rail before way %d, caught, off", p.Main.V.String()+" of "+p.Name(), p.Ways[0].Number)
		}
	}
	c.add(Building, practice, "The devices are on the rail in the order of ways, each caught and off: %s", b.devices())
}

// devices lists the devices: 1 B32 kitchen ring, 2 B20 water heater.
func (b *Board) devices() string {
	var parts []string
	for _, e := range b.Schedule() {
		if e.Circuit >= 0 && e.Number > 0 {
			c := &b.Job.Circuits[e.Circuit]
			parts = append(parts, fmt.Sprintf("%d %s %s", e.Number, c.Device.V, c.Name))
		}
	}
	if len(parts) == 0 {
		return "none yet"
	}
	return strings.Join(parts, ", ")
}

func (c *checklist) fitBusbar() {
	what := "The busbar sits"
	if len(c.board.Job.Board.Sections) > 0 {
		what = "Each section has its own busbar; it sits"
	}
	c.add(Building, practice, "Every line-side clamp is fully open before the busbar goes in")
	c.add(Building, practice, "%s on line terminals only, no tooth on a neutral (a dead short); each tooth is inside its clamp and caught, none behind it", what)
	c.add(Building, practice, "The busbar's cover is on over its whole length, the ends are capped, no spare tooth is bare")
}

func (c *checklist) connect() {
	for _, bar := range reversed(c.board.Bars()) {
		if order := bar.order(); order != "" {
			conductors := "Neutrals"
			if bar.Earth {
				conductors = "Cpcs"
			}
			c.add(Building, practice, "%s on the %s in the order of ways: %s", conductors, bar.Name, order)
		}
	}
	if c.board.any(func(c *route.Circuit) bool { return c.Electrical.RCBO.Said() }) {
		c.add(Building, practice, "Each RCBO has its circuit's own neutral; its lead is on the neutral bar at the number of its way")
	}
	c.add(Building, practice, "Lines in the devices in the order of ways")
	c.add(Building, "BS 7671 526.1 (read)", "No copper bare outside a clamp, no insulation inside one, no loose strand")
	c.add(Building, "BS 7671 134.1.1 (read)", "Every clamp is looked at, tightened with a set driver to the maker's figure, tugged and rechecked: torque list")
}

// reversed puts the earth bar first: cpcs go in before neutrals.
func reversed(bars []Bar) []Bar {
	return append([]Bar{bars[len(bars)-1]}, bars[:len(bars)-1]...)
}

// order lists what goes into a bar: 1 kitchen ring, 2 cores; 2 water heater.
func (b *Bar) order() string {
	var parts []string
	for _, t := range b.Terminals {
		if t.Circuit >= 0 && t.Cores > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", t.Number, t.Conductor))
		}
	}
	return strings.Join(parts, "; ")
}

func (b *Board) any(is func(*route.Circuit) bool) bool {
	for i := range b.Job.Circuits {
		if is(&b.Job.Circuits[i]) {
			return true
		}
	}
	return false
}

// residuals reports whether any device of the board answers to leakage.
func (b *Board) residuals() bool {
	for i := range b.Parts {
		if leakage(b.Parts[i].Main) {
			return true
		}
	}
	return leakage(b.Main) || b.any(func(c *route.Circuit) bool { return c.Electrical.RCBO.Said() })
}

func (c *checklist) finish() {
	var blanks []string
	for _, e := range c.board.Schedule() {
		if e.Circuit < 0 {
			blanks = append(blanks, fmt.Sprint(e.Number))
		}
	}
	if len(blanks) > 0 {
		c.add(Building, practice, "Blanks in the unused ways: %s", strings.Join(blanks, ", "))
	}
	c.add(Building, "BS 7671 514.9.1 (from memory)", "Ways labelled, schedule of circuits beside the board")
	if c.board.residuals() {
		c.add(Building, "BS 7671 514.12.2 (from memory)", "Notice to press the residual device's test button at intervals")
	}
	c.add(Building, practice, "Offcuts and tools out, cover on")
}

func (c *checklist) dead() {
	c.add(DeadTests, testOrder, "Continuity of every cpc")
	if c.board.any(func(c *route.Circuit) bool { return c.Arrangement.V == route.Ring }) {
		c.add(DeadTests, testOrder, "Continuity of every ring: line, neutral and cpc end to end")
	}
	c.add(DeadTests, testOrder+"; 500 V and 1 MΩ from memory", "Insulation resistance at 500 V DC, 1 MΩ or more")
	c.add(DeadTests, testOrder, "Polarity: line in every device and switch")
}

func (c *checklist) live() {
	c.add(LiveTests, testOrder, "LIVE, main switch off: polarity of the supply and prospective fault current at the incoming terminals")
	c.add(LiveTests, testOrder+"; the conductor off and on from memory", "LIVE, main switch off: Ze with the main earthing conductor off its bar; it is put back before anything is switched on")
	c.add(LiveTests, testOrder, "LIVE: Zs of every circuit; a cold reading is held to the test limit, which is below the schedule's Zs max")
	if c.board.residuals() {
		c.add(LiveTests, testOrder, "LIVE: trip time of every residual device, then its test button")
	}
	c.add(LiveTests, testOrder, "LIVE: switches, isolators and controls do what they are for")
}
