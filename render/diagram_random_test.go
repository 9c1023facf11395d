package render

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tubewright/fill"
	"tubewright/route"
)

// randomJob writes a job file: a tree of drawn runs with legs in any
// direction, runs of which only the length is known, runs that stand alone,
// and circuits; with names long and short.
func randomJob(t *rapid.T) string {
	var places, runs strings.Builder
	flat := rapid.Bool().Draw(t, "on one wall")
	name := rapid.SampledFrom([]string{"a", "A1", "north bench", "Zähler größer als ²", "a name that is much longer than anyone would write it"})
	kind := rapid.SampledFrom([]string{"box", "socket", "light", "switch", "isolator", "motor", "entry", "coupler", "heater", "outlet, gangs: 2", "emergency light"})
	enc := rapid.SampledFrom([]string{"steel conduit 20", "plastic conduit 32", "steel trunking 50x50", "steel trunking 150x75", "plastic conduit 63"})
	list := rapid.SampledFrom([]string{"3 x 1.5", "6 x 2.5, 4 x 1.5", "14 x 4, 2 x 2.5 twin and earth", "1 x 6.1 mm data, 90 x 1.5", "4 x 2.5 flexible", "2 x 240"})
	fmt.Fprintf(&places, "  p0: {is: board, height: %g}\n", rapid.SampledFrom([]float64{1.5, 0.3}).Draw(t, "height"))
	drawn := rapid.IntRange(0, 40).Draw(t, "drawn runs")
	degree := map[int]int{}
	for i := 1; i <= drawn; i++ {
		from := rapid.IntRange(0, i-1).Draw(t, "from")
		k := kind.Draw(t, "kind")
		degree[from]++
		degree[i]++
		fmt.Fprintf(&places, "  p%d %s: {is: %s, draw-in: yes}\n", i, name.Draw(t, "place"), k)
		fmt.Fprintf(&runs, "  r%d %s: {from: %s, to: %s, in: %s, path: \"%s\", cables: \"%s\"}\n", i, name.Draw(t, "run"),
			placeAt(places.String(), from), placeAt(places.String(), i), enc.Draw(t, "enclosure"), randomPath(t, flat), list.Draw(t, "cables"))
	}
	for i := range rapid.IntRange(0, 12).Draw(t, "runs with a length") {
		ends, least := "", 0.0
		if drawn > 1 && rapid.Bool().Draw(t, "between places") {
			a := rapid.IntRange(0, drawn-1).Draw(t, "one end")
			ends = fmt.Sprintf("from: %s, to: %s, ", placeAt(places.String(), a), placeAt(places.String(), a+1))
			least = 400 // no less than the drawn places are apart
		}
		fmt.Fprintf(&runs, "  q%d: {%sin: %s, length: %g m, bends: %d, cables: \"%s\"}\n", i, ends, enc.Draw(t, "enclosure"),
			least+float64(rapid.IntRange(1, 120).Draw(t, "dm"))/10, rapid.IntRange(0, 5).Draw(t, "bends"), list.Draw(t, "cables"))
	}
	if runs.Len() == 0 {
		fmt.Fprintf(&runs, "  only: {in: steel conduit 20, length: 3 m}\n")
	}
	return fmt.Sprintf("job: %s\nplaces:\n%sruns:\n%s", name.Draw(t, "job"), places.String(), runs.String())
}

// placeAt is the name of a place by its line.
func placeAt(places string, i int) string {
	line := strings.Split(places, "\n")[i]
	return strings.TrimSpace(line[:strings.LastIndex(line, ": {is:")])
}

// randomPath walks legs that each turn square to the one before.
func randomPath(t *rapid.T, flat bool) string {
	axes := [][]string{{"up", "down"}, {"left", "right"}, {"out", "in"}}
	if flat {
		axes = axes[:2]
	}
	var legs []string
	last := -1
	for range rapid.IntRange(1, 4).Draw(t, "legs") {
		a := rapid.IntRange(0, len(axes)-1).Filter(func(a int) bool { return a != last }).Draw(t, "axis")
		last = a
		legs = append(legs, fmt.Sprintf("%s %g", rapid.SampledFrom(axes[a]).Draw(t, "way"), float64(rapid.IntRange(1, 40).Draw(t, "dm"))/10))
	}
	if rapid.IntRange(0, 3).Draw(t, "set") == 0 && last != 2 {
		legs = append(legs, "set 30 mm")
	}
	return strings.Join(legs, ", ")
}

// No diagram of any job has faults, on either paper.
func TestRandomJobsHaveNoFaults(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := randomJob(t)
		j, err := parseText(text)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		r := fill.Check(j)
		for _, p := range []Paper{A3, A4} {
			s, err := Diagram(r, DrawingOptions{Paper: p, Bill: someBill})
			if err != nil {
				t.Fatal(err)
			}
			if f := append(faults(s), uncounted(r.Job, s)...); len(f) > 0 {
				t.Fatalf("%s: %s\n%s", p.Name, strings.Join(f, "\n"), text)
			}
		}
	})
}

// uncounted lists runs that are drawn and whose number of cables is neither on
// the sheet, once, nor among those that it says there is no room for.
func uncounted(j *route.Job, s *Sheet) []string {
	shown, drawn := map[string]int{}, map[string]bool{}
	for i, m := range s.List {
		g, ok := m.(groupMark)
		if ok && g.name == "run" {
			drawn[g.title] = true
		}
		if !ok || g.name != "count" {
			continue
		}
		var n int
		if _, err := fmt.Sscanf(g.title, "%d in run", &n); err != nil || marked(s.List[i+1:]) != n {
			return []string{fmt.Sprintf("%q is marked as %d", g.title, marked(s.List[i+1:]))}
		}
		shown[g.title]++
	}
	missing := strings.Join(textsOf(s, "missing"), " ")
	var out []string
	for i := range j.Runs {
		if !drawn[oneLine("run "+j.Runs[i].Name)] {
			continue
		}
		title := fmt.Sprintf("%d in run %s", coreCount(j.Cores(i)), oneLine(j.Runs[i].Name))
		said := strings.Contains(missing, "the number of cables of run") &&
			(strings.Contains(missing, oneLine(j.Runs[i].Name)) || strings.Contains(missing, " more: see check JOB"))
		if shown[title] != 1 && !(shown[title] == 0 && said) {
			out = append(out, fmt.Sprintf("%s: shown %d times; %s", title, shown[title], missing))
		}
	}
	return out
}

// marked is the number that a group of marks shows: by its last text, else by
// its strokes.
func marked(marks []Mark) (n int) {
	for _, m := range marks {
		switch m := m.(type) {
		case endMark:
			return n
		case lineMark:
			if m.pen == PenEdge && len(m.xy) == 4 {
				n++
			}
		case textMark:
			if k, err := strconv.Atoi(m.S); err == nil && m.S != "" && !m.Bold {
				return k
			}
		}
	}
	return n
}

// The drawings of the demonstrations bear every count.
func TestDemosBearEveryCount(t *testing.T) {
	for _, name := range demos {
		for _, p := range []Paper{A3, A4} {
			r := demo(t, name)
			for _, f := range uncounted(r.Job, drawnOn(t, r, p, nil)) {
				t.Errorf("%s, %s: %s", name, p.Name, f)
			}
		}
	}
}

// largeJob is a spine of boxes along a wall with a drop from each, or runs that
// stand alone; every failing-th run holds far too much.
func largeJob(runs, failing int, drawn bool) string {
	var places, list strings.Builder
	places.WriteString("  b0: {is: board, height: 1.5 m}\n")
	for i := 1; i <= runs; i++ {
		cables := "3 x 2.5"
		if i%failing == 0 {
			cables = "40 x 2.5"
		}
		if !drawn {
			fmt.Fprintf(&list, "  r%d: {in: steel conduit 20, length: 4 m, bends: 1, cables: %s}\n", i, cables)
			continue
		}
		from, to, kind, path := i/2*2-1, i, "socket", "down 1.2"
		if i%2 == 1 {
			from, kind, path = i-2, "box", "right 1.5"
		}
		fmt.Fprintf(&places, "  b%d: {is: %s}\n", to, kind)
		fmt.Fprintf(&list, "  r%d: {from: b%d, to: b%d, in: steel conduit 20, path: %s, cables: %s}\n", i, max(0, from), to, path, cables)
	}
	return "job: large\nplaces:\n" + places.String() + "runs:\n" + list.String()
}

// Large jobs stay legible, show failures first and say what they leave out.
func TestLargeJobs(t *testing.T) {
	for _, n := range []int{2, 60, 300, 3000} {
		for _, drawn := range []bool{true, false} {
			r := fill.Check(parseJob(t, largeJob(n, 7, drawn)))
			for _, p := range []Paper{A3, A4} {
				s := drawnOn(t, r, p, nil)
				name := fmt.Sprintf("%d runs, drawn %v, %s", n, drawn, p.Name)
				for _, f := range faults(s) {
					t.Errorf("%s: %s", name, f)
				}
				checkListed(t, name, s, n)
			}
		}
	}
}

// checkListed compares the runs in the panel with what it says it leaves out.
func checkListed(t *testing.T, name string, s *Sheet, n int) {
	t.Helper()
	texts := textsOf(s, "runs")
	var names []int
	for _, x := range texts {
		var i int
		if k, _ := fmt.Sscanf(x, "r%d", &i); k == 1 && x == fmt.Sprintf("r%d", i) {
			names = append(names, i)
		}
	}
	told := fmt.Sprintf("first %d of %d runs", len(names), n)
	if said := slices.ContainsFunc(texts, func(x string) bool { return strings.HasPrefix(x, told) }); said != (len(names) < n) {
		t.Errorf("%s: lists %d runs, says so: %v", name, len(names), said)
	}
	fails := 0
	for k, i := range names {
		if i%7 == 0 {
			fails++
			if fails != k+1 {
				t.Errorf("%s: r%d fails and stands after one that does not", name, i)
			}
		}
	}
	if want := min(n/7, len(names)); fails != want {
		t.Errorf("%s: %d failures listed, expected %d", name, fails, want)
	}
}

func BenchmarkDiagram(b *testing.B) {
	for _, n := range []int{10, 300, 20000} {
		for _, drawn := range []bool{true, false} {
			r := fill.Check(parseJob(b, largeJob(n, 7, drawn)))
			b.Run(fmt.Sprintf("runs=%d/drawn=%v", n, drawn), func(b *testing.B) {
				for b.Loop() {
					if _, err := Diagram(r, DrawingOptions{}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
