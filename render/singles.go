package render

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

// WriteSingles prints which checks fail, what lies in each run, every core of
// each circuit with its ends and runs, the totals, and the plan to draw in by.
func WriteSingles(to io.Writer, r *fill.Report) error {
	j := r.Job
	w := bufio.NewWriter(to)
	heading(w, j.Name, j.Date)
	writeChecks(w, r, singlesPage)
	for _, part := range []func(io.Writer, *route.Job) error{singlesByRun, singlesByCircuit, connectors, crowdedTerminals, singlesTotals, drawInPlan} {
		if err := part(w, j); err != nil {
			return err
		}
	}
	footer(w)
	return w.Flush()
}

// singlesPage is what a list of singles calls itself.
const singlesPage = "list"

// singlesByRun lists the cores of each run by colour, size and function.
func singlesByRun(w io.Writer, j *route.Job) error {
	fmt.Fprintln(w, "IN EACH RUN")
	t := columns{head: []string{"run", "in all", "count", "cable", "colour", "function", "circuit"}, right: []bool{false, true, true}}
	for i := range j.Runs {
		cores := j.Cores(i)
		all := 0
		for _, c := range cores {
			all += c.Count
		}
		name, number := j.Runs[i].Name, strconv.Itoa(all)
		for _, c := range cores {
			circuit := c.Name
			if c.Circuit >= 0 {
				circuit = servedText(j, c.Circuit, c.Function)
			}
			t.add(name, number, strconv.Itoa(c.Count), c.Cable.String(), dash(c.Colour.String()), dash(c.Function.String()), dash(circuit))
			name, number = "", ""
		}
		if len(cores) == 0 {
			t.add(name, "0", "", "", "", "", "")
		}
	}
	return t.write(w, "  ")
}

func dash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// servedText names the circuits that cores of a function serve: one, or all
// that share its protective conductor.
func servedText(j *route.Job, circuit int, f route.Function) string {
	var names []string
	for _, i := range j.Serves(circuit, f) {
		names = append(names, j.Circuits[i].Name)
	}
	return strings.Join(names, " + ")
}

// singlesByCircuit lists each core with its two ends, the runs it passes and
// the length to cut; a protective conductor that circuits share comes last.
func singlesByCircuit(w io.Writer, j *route.Job) error {
	sharers := j.SharedCPC()
	isShared := func(s *route.Single) bool {
		return len(sharers) > 0 && s.Circuit == sharers[0] && s.Function == route.CPC
	}
	for i := range j.Circuits {
		c := &j.Circuits[i]
		fmt.Fprintf(w, "\nCIRCUIT %s\n", c.Name)
		for _, text := range orderTexts(c) {
			if err := writeWrapped(w, "  ", "    ", text); err != nil {
				return err
			}
		}
		if slices.Contains(sharers, i) {
			fmt.Fprintln(w, "  cpc shared with other circuits: see SHARED CPC")
		}
		if c.CPCRule == route.ConduitCPC {
			fmt.Fprintln(w, "  cpc: the steel of its runs, tied to each accessory by a tail from its box; a single only where listed")
		}
		if err := coreTable(w, j, i, func(s *route.Single) bool { return !isShared(s) }); err != nil {
			return err
		}
	}
	if err := labelNote(w, j); err != nil || len(sharers) == 0 {
		return err
	}
	fmt.Fprintf(w, "\nSHARED CPC of %s\n", servedText(j, sharers[0], route.CPC))
	for _, n := range j.Circuits[sharers[0]].Joined {
		if n.Function == route.CPC {
			if err := writeWrapped(w, "  ", "    ", joinedText(n)); err != nil {
				return err
			}
		}
	}
	return coreTable(w, j, sharers[0], isShared)
}

// labelNote explains the labels that need it.
func labelNote(w io.Writer, j *route.Job) error {
	var notes []string
	ring, group, strapper, numbered := false, false, false, ""
	for i := range j.Singles {
		s := &j.Singles[i]
		ring = ring || s.Leg > 0 && s.Function <= route.CPC
		group = group || s.Group > 1 && s.Function > route.CPC
		strapper = strapper || s.Leg > 1 && s.Function > route.CPC
		if s.Number > 0 && numbered == "" {
			numbered = s.Mark()
		}
	}
	if ring {
		notes = append(notes, "L-1 and L-2 are the two ends of a ring at the board")
	}
	if group {
		notes = append(notes, "SL2 and /2 belong to the circuit's second lighting group")
	}
	if strapper {
		notes = append(notes, "S1 and S2 leave the first switch, S3 and S4 the second")
	}
	if numbered != "" {
		notes = append(notes, numbered+" and so on are numbered along the circuit, where two of a kind lie in one run")
	}
	if notes == nil {
		return nil
	}
	fmt.Fprintln(w)
	return writeWrapped(w, "  ", "    ", "labels, to be read with the circuit's name: "+strings.Join(notes, "; "))
}

// coreTable lists those of a circuit's cores that are wanted.
func coreTable(w io.Writer, j *route.Job, circuit int, wanted func(*route.Single) bool) error {
	t := columns{head: []string{"label", "function", "cable", "colour", "from", "to", "metres", "runs"}, right: []bool{false, false, false, false, false, false, true}, most: []int{0, 0, 0, 0, 22, 22}, narrow: 8}
	for i := j.Circuits[circuit].Singles[0]; i < j.Circuits[circuit].Singles[1]; i++ {
		if s := &j.Singles[i]; wanted(s) {
			t.add(s.Mark(), dash(s.Function.String()), s.Cable.String(), dash(s.Colour.String()), endName(j, s, false), endName(j, s, true), fmt.Sprintf("%.2f", s.Length), passedText(j, s.Way))
		}
	}
	if err := t.write(w, "  "); err != nil || !slices.ContainsFunc(t.rows, func(r []string) bool { return strings.HasSuffix(r[5], " COMs") }) {
		return err
	}
	_, err := fmt.Fprintln(w, "  COMs: the commons of the gangs that the circuit feeds there, linked")
	return err
}

// orderTexts say what the order of least cable and joints in boxes save a
// circuit; of a cpc that others share, see there.
func orderTexts(c *route.Circuit) (out []string) {
	if c.Saving.Shortest > 0 {
		out = append(out, savingText(c))
	}
	for _, n := range c.Joined {
		if n.Function != route.CPC || c.CPCRule != route.SharedCPC {
			out = append(out, joinedText(n))
		}
	}
	return out
}

// savingText says what the order of least cable adds up to, how it was found and
// what is proved of it.
func savingText(c *route.Circuit) string {
	sv := &c.Saving
	against := fmt.Sprintf("against %s m as listed", sum.Figure(sv.Listed))
	bound := ""
	if sv.Exact || sv.Bound > 0 {
		bound = boundText("order", sv.Exact, sv.Bound)
	}
	if c.Arrangement.V != route.Lighting {
		return fmt.Sprintf("order of least cable: %s m along one core %s%s", sum.Figure(sv.Shortest), against, bound)
	}
	tried := ""
	if sv.Tried > 1 {
		tried = fmt.Sprintf(", the least of %d orders of its switches", sv.Tried)
		if c.Loop == route.AtLights {
			tried += " and first lights"
		}
	}
	nets := ""
	if !slices.ContainsFunc(c.Joined, func(n route.Joined) bool { return n.Function == route.Neutral }) {
		nets = "; the neutral in a chain, two cores a terminal"
		if c.CPCRule == route.OwnCPC {
			nets += ", the cpc as a tree"
		}
	}
	return fmt.Sprintf("order of least cable: %s m of all its cores with tails %s%s%s%s", sum.Figure(sv.Shortest), against, tried, bound, nets)
}

// netName names the conductor that is joined.
func netName(n route.Joined) string {
	if n.Function == route.Unnamed {
		return "all conductors"
	}
	return n.Function.String()
}

func joinedText(n route.Joined) string {
	what := netName(n)
	if n.Group > 0 {
		what += " of group " + strconv.Itoa(n.Group)
	}
	return fmt.Sprintf("%s joined in boxes: %s m with tails against %s m looped%s", what, sum.Figure(n.Least), sum.Figure(n.Looped), boundText("tree over these ways", n.Exact, n.Bound))
}

func boundText(what string, exact bool, bound float64) string {
	if exact {
		return " (no " + what + " is shorter)"
	}
	return fmt.Sprintf(" (no %s is shorter than %s m)", what, sum.Figure(bound))
}

// endName is where a core ends, at its From or its far end. Of a circuit that
// only names its runs the job says no terminals, only where the runs end.
func endName(j *route.Job, s *route.Single, far bool) string {
	if j.Circuits[s.Circuit].Named {
		if far {
			return placeName(j, s.To.Place)
		}
		return placeName(j, s.From.Place)
	}
	return terminalName(j, s.Circuit, j.Lands(s, far))
}

// terminalName names a terminal, or several that are linked: sw1 COM, sw1 gang 2
// L1, sw1 COMs where the line goes on from gang to gang. The lines of a
// three-phase circuit, and at a three-phase board that of any whose line is
// known, are numbered.
func terminalName(j *route.Job, circuit int, lands []route.Terminal) string {
	t := lands[0]
	if t.Place < 0 {
		return "–"
	}
	pl := &j.Places[t.Place]
	name := pl.Name
	pin := t.Pin.String()
	switch {
	case t.Gang == 0 || len(lands) > 1:
	case t.Pin == route.PinSL: // joined in a box, of that lighting group
		pin += strconv.Itoa(t.Gang)
	case pl.Gangs > 1:
		name += " gang " + strconv.Itoa(t.Gang)
	}
	if circuit >= 0 {
		switch c := &j.Circuits[circuit]; {
		case c.Lines() == 3 && t.Pin == route.PinL:
			pin = "L1"
		case c.Lines() == 3 && t.Pin == route.PinLOut:
			pin = "L1 out"
		case t.Pin == route.PinL && pl.Kind == route.BoardPlace && j.LineOf(circuit) > 0:
			pin = "L" + strconv.Itoa(j.LineOf(circuit))
		}
	}
	if len(lands) > 1 {
		for _, l := range lands {
			if l.Pin != t.Pin {
				return name + " " + route.PinL.String() // to different terminals
			}
		}
		pin += "s" // of several gangs, linked
	}
	if pin != "" {
		name += " " + pin
	}
	return name
}

func passedText(j *route.Job, way []route.Pass) string {
	names, between := make([]string, len(way)), " "
	for i, p := range way {
		names[i] = j.Runs[p.Run].Name
		if strings.Contains(names[i], " ") {
			between = ", "
		}
	}
	return strings.Join(names, between)
}

// singlesTotals adds up the metres of each size and colour, in reels.
func singlesTotals(w io.Writer, j *route.Job) error {
	if len(j.Singles) == 0 {
		return nil
	}
	fmt.Fprintln(w, "\nTOTALS, with tails and without waste")
	t := columns{head: []string{"cable", "colour", "metres", "reels"}, right: []bool{false, false, true, true}}
	for _, g := range totals(j) {
		t.add(g.cable.String(), dash(g.colour), fmt.Sprintf("%.2f", g.metres), fmt.Sprintf("%.2f", g.metres/float64(j.Stock.Reel.V)))
	}
	if err := t.write(w, "  "); err != nil {
		return err
	}
	return writeWrapped(w, "  ", "    ", fmt.Sprintf("a reel is %s m; tails %s at the board, %s at every other terminal (common practice, no source)",
		units.Format(float64(j.Stock.Reel.V)), metresText(j.Allow.BoardTail.V), metresText(j.Allow.AccessoryTail.V)))
}

func metresText(m units.Metres) string { return units.Format(float64(m.MM())) + " mm" }

type total struct {
	cable  factors.Cable
	colour string
	metres float64
}

func totals(j *route.Job) []total {
	var out []total
	for i := range j.Singles {
		s := &j.Singles[i]
		cable, colour := s.Cable, s.Colour.String()
		k := slices.IndexFunc(out, func(t total) bool { return t.cable == cable && t.colour == colour })
		if k < 0 {
			k = len(out)
			out = append(out, total{cable: cable, colour: colour})
		}
		out[k].metres += float64(s.Length)
	}
	slices.SortStableFunc(out, func(a, b total) int {
		return cmp.Or(cmp.Compare(a.cable.CSA, b.cable.CSA), strings.Compare(a.cable.String(), b.cable.String()))
	})
	return out
}
