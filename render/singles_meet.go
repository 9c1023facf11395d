package render

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"tubewright/factors"
	"tubewright/route"
)

// connectors lists where cores are joined and no accessory has the terminal.
func connectors(w io.Writer, j *route.Job) error {
	t := columns{head: []string{"at", "circuit", "cores", "cables", "from or to"}, right: []bool{false, false, true}, narrow: 8}
	for _, m := range j.Connectors() {
		t.add(terminalName(j, m.Circuit, []route.Terminal{m.Terminal}), meetingServes(j, m), strconv.Itoa(len(m.Cores)), cableCounts(m.Cables(j)), strings.Join(farEnds(j, m), ", "))
	}
	if len(t.rows) == 0 {
		return nil
	}
	fmt.Fprintln(w, "\nCONNECTORS, where cores are joined and no accessory has the terminal")
	if err := t.write(w, "  "); err != nil {
		return err
	}
	return writeWrapped(w, "  ", "    ", "each in a box that stays accessible (BS 7671 526.3, from memory)")
}

// meetingServes names the circuits that a connector belongs to.
func meetingServes(j *route.Job, m route.Meeting) string {
	return servedText(j, m.Circuit, j.Singles[m.Cores[0]].Function)
}

// farEnds lists where the cores of a connector come from or go to.
func farEnds(j *route.Job, m route.Meeting) []string {
	names := make([]string, len(m.Cores))
	for i, k := range m.Cores {
		s := &j.Singles[k]
		names[i] = endName(j, s, s.From.Place == m.Terminal.Place)
	}
	return names
}

// crowdedTerminals warns of what may not go into a terminal.
func crowdedTerminals(w io.Writer, j *route.Job) error {
	crowded := j.Crowded()
	if len(crowded) == 0 {
		return nil
	}
	fmt.Fprintln(w, "\nMORE THAN TWO CORES IN A TERMINAL, connectors apart: the maker's instructions say what it takes")
	t := columns{head: []string{"terminal", "cores", "cables"}, right: []bool{false, true}, narrow: 8}
	for _, m := range crowded {
		t.add(terminalName(j, -1, []route.Terminal{m.Terminal}), strconv.Itoa(m.Ends()), crowdText(j, m))
	}
	return t.write(w, "  ")
}

// crowdText is what goes into a terminal.
func crowdText(j *route.Job, m route.Meeting) string {
	text := cableCounts(m.Cables(j))
	if m.Tail {
		text += " and the box's earth tail"
	}
	return text
}

// cableCounts counts equal cables: 2 × 1.5 mm² stranded, 1 × 2.5 mm² stranded.
func cableCounts(cables []factors.Cable) string {
	count := map[string]int{}
	var names []string
	for _, c := range cables {
		if count[c.String()]++; count[c.String()] == 1 {
			names = append(names, c.String())
		}
	}
	for i, n := range names {
		names[i] = fmt.Sprintf("%d × %s", count[n], n)
	}
	return strings.Join(names, ", ")
}
