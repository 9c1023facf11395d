package render

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tubewright/fill"
	"tubewright/route"
)

// drawnJob draws a wall of conduit in steel and plastic as a tree, with sets
// and bubble sets, and trunking with corners, a bend and a tee at its places.
// Legs are long enough for whatever stands in them. metres are reckoned here,
// from the lengths that were drawn.
type drawnJob struct {
	t      *rapid.T
	places strings.Builder
	runs   strings.Builder
	metres map[string]float64
	bends  map[string]int // formed, by enclosure
	over   bool           // bubble sets have four bends, not three
}

func (d *drawnJob) leg(in, dir string) string {
	cm := rapid.IntRange(150, 800).Draw(d.t, "cm")
	d.metres[in] += float64(cm) / 100
	text := fmt.Sprintf("%s %.2f", dir, float64(cm)/100)
	if strings.Contains(in, "trunking") {
		return text
	}
	kind := rapid.SampledFrom([]string{"", "", "set 40 mm out", "double set 80 mm out", "bubble set 60 mm out"}).Draw(d.t, "set")
	long := float64(cm)/100 + 1.5
	degrees := map[bool]float64{true: 22.5, false: 45}[strings.HasPrefix(kind, "bubble")]
	switch {
	case kind == "":
		return text
	case strings.HasPrefix(kind, "set"):
		d.bends[in] += 2
		d.metres[in] += 0.040 * math.Tan(degrees*math.Pi/360)
		kind += " at 30"
		d.metres[in] += 0.040 * (math.Tan(30*math.Pi/360) - math.Tan(degrees*math.Pi/360))
	case strings.HasPrefix(kind, "double"):
		d.bends[in] += 4
		d.metres[in] += 2 * 0.080 * math.Tan(30*math.Pi/360)
		kind += " at 30"
	case d.over:
		d.bends[in] += 4
		kind += " over 100 mm"
		d.metres[in] += 2 * 0.060 * math.Tan(degrees*math.Pi/360)
	default:
		d.bends[in] += 3
		d.metres[in] += 2 * 0.060 * math.Tan(degrees*math.Pi/360)
	}
	d.metres[in] += long
	return fmt.Sprintf("%s, %s, %s %.2f", text, kind, dir, long)
}

var turnsOf = map[string][]string{"up": {"left", "right"}, "down": {"left", "right"}, "left": {"up", "down"}, "right": {"up", "down"}}

// conduits draws a chain of conduit from a board, with a turn in some runs.
func (d *drawnJob) conduits() {
	d.places.WriteString("  p0: {is: board, height: 2 m}\n")
	dir := "right"
	for i := 1; i <= rapid.IntRange(1, 3).Draw(d.t, "conduits"); i++ {
		in := rapid.SampledFrom([]string{"steel conduit 20", "plastic conduit 20"}).Draw(d.t, "in")
		kind := rapid.SampledFrom([]string{"box", "light", "socket", "switch", "box"}).Draw(d.t, "kind")
		fmt.Fprintf(&d.places, "  p%d: {is: %s}\n", i, kind)
		path := d.leg(in, dir)
		if rapid.Bool().Draw(d.t, "turn") {
			dir = rapid.SampledFrom(turnsOf[dir]).Draw(d.t, "direction")
			path += ", " + d.leg(in, dir)
			d.bends[in]++
		}
		fmt.Fprintf(&d.runs, "  C%d: {from: p%d, to: p%d, in: %s, path: %q}\n", i, i-1, i, in, path)
	}
}

// trunkings draws trunking from a place to the right and up, and perhaps down.
func (d *drawnJob) trunkings() {
	in := rapid.SampledFrom([]string{"steel trunking 50x50", "plastic trunking 50x50"}).Draw(d.t, "trunking")
	d.places.WriteString("  e1: {is: entry}\n  e2: {is: entry}\n  e3: {is: entry}\n  e4: {is: entry}\n")
	first := d.leg(in, "right")
	if rapid.Bool().Draw(d.t, "corner") {
		first += ", " + d.leg(in, "up") + ", " + d.leg(in, "right")
	}
	fmt.Fprintf(&d.runs, "  T1: {from: e1, to: e2, in: %s, path: %q}\n", in, first)
	second := rapid.SampledFrom([]string{"right", "up"}).Draw(d.t, "second")
	fmt.Fprintf(&d.runs, "  T2: {from: e2, to: e3, in: %s, path: %q}\n", in, d.leg(in, second))
	if rapid.Bool().Draw(d.t, "tee") {
		fmt.Fprintf(&d.runs, "  T3: {from: e2, to: e4, in: %s, path: %q}\n", in, d.leg(in, "down"))
	}
}

// counts are what the marks of the strips show, by enclosure.
type counts struct {
	saddles, bends, loops map[string]int
	ends                  map[string]int // enclosure/what is at the end
	pieces                map[string][]int
}

// count reads the marks of the strips and nothing else.
func count(sheets []*Sheet) counts {
	r := reading{counts: counts{map[string]int{}, map[string]int{}, map[string]int{}, map[string]int{}, map[string][]int{}}}
	for _, s := range sheets {
		inside := false
		for _, m := range s.List {
			switch m := m.(type) {
			case groupMark:
				inside = m.name == "piece"
			case endMark:
				r.closeEnd()
				inside = false
			case lineMark:
				if inside && m.closed && m.pen == PenSymbol {
					r.loops[r.in]++
				}
			case textMark:
				if inside {
					r.text(m)
				}
			}
		}
	}
	return r.counts
}

// reading is a strip being read: its enclosure, and what is written so far at
// one of its ends.
type reading struct {
	counts
	in, end string
}

func (r *reading) closeEnd() {
	if r.end != "" {
		name, rest, _ := strings.Cut(strings.TrimSpace(r.end), ", ")
		if strings.HasPrefix(rest, "thread") { // the end with the long thread counts apart
			name += ", " + rest
		}
		r.ends[r.in+"/"+name]++
	}
	r.end = ""
}

func (r *reading) text(m textMark) {
	switch {
	case strings.Contains(m.S, "   cut to "):
		parts := strings.Split(m.S, "   ")
		long := 0
		fmt.Sscanf(parts[2], "cut to %d mm", &long)
		r.in = parts[1]
		r.pieces[r.in] = append(r.pieces[r.in], long)
	case m.Bold && m.Height == TextNormal && m.AlignX != Centre:
		r.closeEnd()
		r.end = " "
	case r.end != "" && m.Angle == 0 && !m.Bold && m.Height == TextSmall:
		r.end += m.S + " "
	default:
		r.closeEnd()
		if strings.HasPrefix(m.S, "saddle ") || strings.HasPrefix(m.S, "fixing ") {
			r.saddles[r.in]++
		}
		if strings.Contains(m.S, " start  ") {
			r.bends[r.in]++
		}
	}
}

// TestBillFromTheMarks recounts the bill of random jobs from the marks of the
// strips and of the layout: lengths, bends, couplers, entries, boxes, saddles
// and the fittings of trunking.
func TestBillFromTheMarks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &drawnJob{t: t, metres: map[string]float64{}, bends: map[string]int{}, over: rapid.Bool().Draw(t, "over")}
		d.conduits()
		d.trunkings()
		text := "job: drawn\nplaces:\n" + d.places.String() + "runs:\n" + d.runs.String()
		j, err := route.Parse("drawn.yaml", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		runs := make([]int, len(j.Runs))
		for i := range runs {
			runs[i] = i
		}
		sheets, err := SetOutSheets(j, runs, A3)
		if err != nil || len(Unmade(j)) > 0 {
			t.Fatalf("%v %v\n%s", err, Unmade(j), text)
		}
		bill := map[string]route.Item{}
		for _, it := range j.Bill() {
			bill[it.Name] = it
		}
		c := count(sheets)
		for in, want := range d.metres {
			recount(t, bill, c, in, want)
			if got := formed(bill, in, d.over); !strings.Contains(in, "trunking") && (got != c.bends[in] || got != d.bends[in]) {
				t.Errorf("%s: the bill has %d bends in all, the strips %d, drawn were %d", in, got, c.bends[in], d.bends[in])
			}
		}
		screws(t, bill, c, placesOnTheLayout(t, j, bill))
		if t.Failed() {
			t.Log(text)
		}
	})
}

// formed is every bend that the bill's work on a conduit comes to.
func formed(bill map[string]route.Item, in string, over bool) int {
	n := func(what string) int { return int(bill[what+" formed, "+in+" mm"].Net) }
	bubble := 3
	if over {
		bubble = 4
	}
	return n("bend") + 2*n("set") + 4*n("double set") + bubble*n("bubble set")
}

// recount holds the items of one enclosure to the marks.
func recount(t *rapid.T, bill map[string]route.Item, c counts, in string, metres float64) {
	conduit := strings.Contains(in, "conduit")
	length, saddle, suffix := in+" with lid", "trunking fixing point, "+in, ", "+in
	if conduit {
		length, saddle, suffix = in+" mm", "spacer-bar saddle, "+in+" mm", ", "+in+" mm"
	}
	want := map[string]int{saddle: c.saddles[in]}
	ends := func(what string) int { return c.ends[in+"/"+what] }
	switch {
	case conduit:
		want["expansion coupler"+suffix] = ends("expansion coupler") / 2
		running := ends("running coupler") // the end of the other piece says how long its thread is
		want["running coupler with locknut"+suffix] = running
		want["coupler"+suffix] = c.loops[in]/2 - ends("expansion coupler")/2 - running + ends("coupler and male bush")
		want["male brass bush 20 mm"] = c.ends["steel conduit 20/coupler and male bush"]
		want["adaptor with lock-ring, plastic conduit 20 mm"] = c.ends["plastic conduit 20/adaptor"]
	default:
		coupler := "coupler" + suffix
		if strings.HasPrefix(in, "steel") {
			coupler = "coupler with earth link" + suffix
		}
		bends, tees := ends("flat bend")/2, ends("flat tee")/3
		want["flat bend"+suffix], want["flat tee"+suffix], want["stop end"+suffix] = bends, tees, ends("stop end")
		want[coupler] = c.loops[in]/2 + 2*bends + 3*tees
		want["lid fixing"+suffix] = 2 * len(c.pieces[in])
	}
	for name, n := range want {
		if got := bill[name].Net; got != float64(n) {
			t.Errorf("%s: the bill has %v, the strips %d", name, got, n)
		}
	}
	it := bill[length]
	if math.Abs(it.Net-metres) > 1e-5 {
		t.Errorf("%s: the bill has %v m, drawn were %v", length, it.Net, metres)
	}
	least, most := lengthsFor(c.pieces[in], int(math.Round(it.Pack*1000)))
	if it.Packs < float64(least) || it.Packs > float64(most) || !it.Cut {
		t.Errorf("%s: the bill orders %v, the pieces need %d at least and %d by first fit", length, it.Packs, least, most)
	}
}

// lengthsFor is what pieces need by their sum alone and by first fit
// decreasing, with the saw cut of 2 mm.
func lengthsFor(pieces []int, stock int) (least, most int) {
	const kerf = 2
	total := 0
	var left []int
	for _, p := range slices.Backward(slices.Sorted(slices.Values(pieces))) {
		total += p + kerf
		at := slices.IndexFunc(left, func(room int) bool { return room >= p+kerf })
		if at < 0 {
			left = append(left, stock+kerf)
			at = len(left) - 1
		}
		left[at] -= p + kerf
	}
	return (total + stock + kerf - 1) / (stock + kerf), len(left)
}

// screws holds the screws to the saddles of the strips and the places of the
// layout: one a spacer-bar saddle, two a fixing of trunking, two a circular or
// surface box, four an adaptable box.
func screws(t *rapid.T, bill map[string]route.Item, c counts, places map[string]int) {
	adaptable := int(bill["adaptable box with lid, steel"].Net + bill["adaptable box with lid, plastic"].Net)
	want := 2*(places["box"]+places["light"]+places["socket"]+places["switch"]) + 2*adaptable
	for in, n := range c.saddles {
		if strings.Contains(in, "trunking") {
			n *= 2
		}
		want += n
	}
	if got := bill["screw and plug"].Net; got != float64(want) {
		t.Errorf("screws and plugs: the bill has %v, the marks ask for %d", got, want)
	}
}

// placesOnTheLayout holds boxes and accessories to the symbols of the layout,
// and returns how many of each kind of place there are.
func placesOnTheLayout(t *rapid.T, j *route.Job, bill map[string]route.Item) map[string]int {
	sheet, err := Diagram(fill.Check(j), DrawingOptions{})
	if err != nil {
		t.Fatal(err)
	}
	n, seen := map[string]int{}, map[string]bool{} // a place may stand in two views
	for _, m := range sheet.List {
		if g, ok := m.(groupMark); ok && g.name == "place" && !seen[g.title] {
			seen[g.title] = true
			kind, _, _ := strings.Cut(g.title, " ")
			n[kind]++
		}
	}
	round, surface, lids := 0.0, 0.0, 0.0
	for name, it := range bill {
		switch {
		case strings.HasPrefix(name, "surface accessory box"):
			surface += it.Net
		case strings.HasPrefix(name, "lid and gasket"):
			lids += it.Net
		case it.Group == "boxes and fittings" && strings.Contains(name, " box"):
			round += it.Net
		}
	}
	for name, c := range map[string]struct{ got, want float64 }{
		"luminaires": {bill["luminaire"].Net, float64(n["light"])}, "socket-outlets": {bill["socket-outlet, one-gang"].Net, float64(n["socket"])},
		"switches": {bill["plate switch, one-gang"].Net, float64(n["switch"])}, "surface boxes": {surface, float64(n["socket"] + n["switch"])},
		"round and adaptable boxes": {round, float64(n["box"] + n["light"])}, "lids": {lids + bill["adaptable box with lid, steel"].Net + bill["adaptable box with lid, plastic"].Net, float64(n["box"])},
	} {
		if c.got != c.want && !(name == "lids" && c.got > c.want) {
			t.Errorf("%s: the bill has %v, the layout %v", name, c.got, c.want)
		}
	}
	return n
}

// The board on the bill is the board that is drawn: blanks, main and section
// devices, a device a way.
func TestBoardFromTheMarks(t *testing.T) {
	for _, name := range []string{"boards/split", "boards/rcbo", "jobs/clubhouse", "jobs/workshop"} {
		text, err := os.ReadFile("../testdata/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		j, _ := setOutDemo(t, string(text))
		sheet, err := BoardFront(fill.BoardOf(j), BoardReport(fill.Check(j)), A3)
		if err != nil {
			t.Fatal(err)
		}
		marks := map[string]float64{}
		for _, m := range sheet.List {
			if g, ok := m.(groupMark); ok {
				marks[g.name]++
			}
		}
		bill := map[string]float64{}
		for _, it := range j.Bill() {
			switch {
			case it.Group != "board" || strings.Contains(it.Name, "enclosure") || strings.HasPrefix(it.Name, "three-phase distribution board") || strings.Contains(it.Name, "line side"):
			case it.Name == "blank, one module":
				bill["blank"] += it.Net
			case strings.HasSuffix(it.Name, " modules"):
				bill["main"] += it.Net
			default:
				bill["way"] += it.Net
			}
		}
		for _, what := range []string{"blank", "main", "way"} {
			if bill[what] != marks[what] {
				t.Errorf("%s: %v of %s on the bill, %v on the board's drawing", name, bill[what], what, marks[what])
			}
		}
	}
}
