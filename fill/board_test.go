package fill_test

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

// boardJob is a job of one roomy trunking, so that only the board is in doubt.
func boardJob(supply, board string, circuits ...string) string {
	return fmt.Sprintf("job: b\nsupply: {%s}\nboard: {%s}\nruns: {T: {in: steel trunking 100x100, length: 3 m}}\ncircuits:\n  %s\n",
		supply, board, strings.Join(circuits, "\n  "))
}

func circuit(name, way, device, more string) string {
	return fmt.Sprintf("%s: {way: %s, device: %s, cable: 10, demand: 2 A, runs: [T]%s}", name, way, device, more)
}

const (
	rccb     = "main: {device: RCCB, rating: 63 A, residual: 30 mA, type: A}"
	plain    = "main: {device: switch, rating: 63 A}"
	delayed  = "main: {device: RCCB, rating: 63 A, residual: 100 mA, type: A, delayed: yes}"
	rcbo     = ", RCBO: {residual: 30 mA, type: A}"
	sections = ", sections: [{" + rccb + ", ways: [1, 2]}, {" + rccb + ", ways: [3, 4]}]"
)

var boardCases = []struct {
	name           string
	supply, board  string
	circuits       []string
	check, subject string
	want           fill.Verdict // 0: no such finding
	value, limit   float64      // where limit is not 0
	reason         string
}{
	// Order of devices: common practice, no source.
	{"falling", "rating: 60 A", "ways: 3", []string{circuit("a", "1", "B32", ""), circuit("b", "2", "B20", ""), circuit("c", "3", "B6", "")},
		"board", "order of devices", fill.Pass, 0, 0, ""},
	{"equal", "rating: 60 A", "ways: 3", []string{circuit("a", "1", "B20", ""), circuit("b", "2", "C20", "")},
		"board", "order of devices", fill.Pass, 0, 0, ""},
	{"a blank between", "rating: 60 A", "ways: 3", []string{circuit("a", "1", "B6", ""), circuit("b", "3", "B20", "")},
		"board", "order of devices", fill.Advise, 0, 0, "B20 in way 3 stands farther out than B6 in way 1"},
	{"each section by itself", "rating: 60 A", "ways: 4, " + plain + sections, []string{circuit("a", "1", "B16", ""), circuit("b", "3", "B32", "")},
		"board", "order of devices", fill.Pass, 0, 0, ""},
	// A main switch at the origin: BS 7671 462.1.201 (from memory).
	{"no main switch", "rating: 60 A", "ways: 3", []string{circuit("a", "1", "B20", "")}, "main", "board", fill.Advise, 0, 0, "states no main switch"},
	{"no board, no main switch", "rating: 60 A", "", []string{circuit("a", "1", "B20", "")}, "main", "board", 0, 0, 0, ""},
	// Ways and modules: counting.
	{"ways left", "rating: 60 A", "ways: 3", []string{circuit("a", "2", "B6", "")}, "ways", "board", fill.Pass, 1, 3, ""},
	{"three-phase covers three", "phases: 3", "ways: 4", []string{circuit("a", "2", "C16", ", phases: 3")}, "ways", "board", fill.Pass, 3, 4, ""},
	{"no number of ways", "rating: 60 A", plain, []string{circuit("a", "2", "B6", "")}, "ways", "board", fill.Open, 0, 0, "does not say how many ways"},
	{"a circuit without a way", "rating: 60 A", "ways: 2", []string{circuit("a", "2", "B6", ""), "b: {device: B6, cable: 10, runs: [T]}"}, "ways", "board", fill.Open, 0, 0, "circuit b"},
	{"too many circuits", "rating: 60 A", "ways: 1", []string{circuit("a", "1", "B6", ""), "b: {device: B6, cable: 10, runs: [T]}"}, "ways", "board", fill.Fail, 2, 1, "circuit b need"},
	{"rail just long enough", "rating: 60 A", "ways: 4, modules: 10, " + plain + sections, nil, "ways", "board", fill.Pass, 0, 4, ""},
	{"rail one short", "rating: 60 A", "ways: 4, modules: 9, " + plain + sections, nil, "ways", "board", fill.Fail, 10, 9, "10 modules wide"},
	// Rating of the main switch: BS 7671 536.4 (from memory).
	{"protected from before", "device: BS 88-3 60 A", "ways: 3, " + rccb, []string{circuit("a", "1", "B40", ""), circuit("b", "2", "B40", "")}, "main", "board", fill.Pass, 60, 63, ""},
	{"protected from behind", "rating: 100 A", "ways: 3, " + rccb, []string{circuit("a", "1", "B40", ""), circuit("b", "2", "B20", "")}, "main", "board", fill.Pass, 60, 63, ""},
	{"exactly its rating", "rating: 63 A", "ways: 3, " + rccb, []string{circuit("a", "1", "B40", ""), circuit("b", "2", "B40", "")}, "main", "board", fill.Pass, 63, 63, ""},
	{"protected by nothing", "rating: 100 A", "ways: 3, " + rccb, []string{circuit("a", "1", "B40", ""), circuit("b", "2", "B40", "")}, "main", "board", fill.Fail, 80, 63, "nothing protects it"},
	{"the device before is the nearer one", "rating: 100 A, device: BS 88-3 63 A", "ways: 3, " + rccb, []string{circuit("a", "1", "B40", ""), circuit("b", "2", "B40", "")}, "main", "board", fill.Pass, 63, 63, ""},
	{"before not known", "voltage: 230 V", "ways: 3, " + rccb, []string{circuit("a", "1", "B40", ""), circuit("b", "2", "B40", "")}, "main", "board", fill.Open, 80, 63, "not known"},
	{"demand above the rating", "rating: 60 A", "ways: 3, " + rccb, []string{"a: {way: 1, device: B80, cable: 50, demand: 70 A, runs: [T]}"}, "main", "board", fill.Fail, 70, 63, "the demand of 70 A"},
	{"a section added up", "rating: 100 A", "ways: 4, main: {device: switch, rating: 100 A}" + sections, []string{circuit("a", "1", "B40", ""), circuit("b", "3", "B50", ""), circuit("c", "4", "B16", "")}, "main", "section 2", fill.Fail, 66, 63, "nothing protects it"},
	{"lines by turns", "phases: 3, rating: 100 A", "ways: 3, " + rccb, []string{circuit("a", "1", "B40", ""), circuit("b", "2", "B40", ""), circuit("c", "3", "B40", "")}, "main", "board", fill.Pass, 40, 63, ""},
	{"three-phase counts on each line", "phases: 3, rating: 100 A", "ways: 4, " + rccb, []string{circuit("a", "1", "C40", ", phases: 3"), circuit("b", "4", "B32", "")}, "main", "board", fill.Fail, 72, 63, ""},
	// Division: BS 7671 314.1 (from memory).
	{"one RCCB for all", "rating: 60 A", "ways: 3, " + rccb, []string{circuit("a", "1", "B6", ""), circuit("b", "2", "B6", "")}, "division", "board", fill.Advise, 2, 1, "puts out all 2 circuits"},
	{"one circuit alone", "rating: 60 A", "ways: 3, " + rccb, []string{circuit("a", "1", "B6", "")}, "division", "board", 0, 0, 0, ""},
	{"two sections", "rating: 60 A", "ways: 4, " + plain + sections, []string{circuit("a", "1", "B6", ""), circuit("b", "3", "B6", "")}, "division", "board", fill.Pass, 1, 1, ""},
	{"all in one section", "rating: 60 A", "ways: 4, " + plain + sections, []string{circuit("a", "1", "B6", ""), circuit("b", "2", "B6", "")}, "division", "board", fill.Advise, 2, 1, "RCCB of section 1"},
	{"RCBOs", "rating: 60 A", "ways: 4, " + plain, []string{circuit("a", "1", "B6", rcbo), circuit("b", "2", "B6", rcbo)}, "division", "board", fill.Pass, 1, 1, ""},
	{"RCBOs behind a delayed main", "rating: 60 A", "ways: 4, " + delayed, []string{circuit("a", "1", "B6", rcbo), circuit("b", "2", "B6", rcbo)}, "division", "board", fill.Pass, 1, 1, ""},
	{"RCBOs behind an undelayed main", "rating: 60 A", "ways: 4, " + rccb, []string{circuit("a", "1", "B6", rcbo), circuit("b", "2", "B6", rcbo)}, "division", "board", fill.Advise, 2, 1, "the main RCCB"},
	{"a delayed main and a way without", "rating: 60 A", "ways: 4, " + delayed, []string{circuit("a", "1", "B6", rcbo), circuit("b", "2", "B6", "")}, "division", "board", fill.Advise, 2, 1, "the main RCCB"},
	{"nothing residual", "rating: 60 A", "ways: 4, " + plain, []string{circuit("a", "1", "B6", ""), circuit("b", "2", "B6", "")}, "division", "board", 0, 0, 0, ""},
	// Torque: BS 7671 134.1.1 and 526.1; no figure of our own.
	{"no torque", "rating: 60 A", "ways: 2, " + plain, []string{circuit("a", "1", "B6", "")}, "torque", "board", fill.Open, 0, 0, "maker's figure to be entered for main switch, busbar, devices, neutral bar, earth bar"},
	{"one for all", "rating: 60 A", "ways: 2, torque: 2.8 N m, " + plain, []string{circuit("a", "1", "B6", "")}, "torque", "board", fill.Pass, 0, 0, ""},
	{"one missing", "rating: 60 A", "ways: 2, torque: {main switch: 3 N m, devices: 2 N m, busbar: 2 N m, neutral bar: 2 N m}, " + plain, []string{circuit("a", "1", "B6", "")}, "torque", "board", fill.Open, 0, 0, "entered for earth bar"},
	{"ways alone ask for no torque", "rating: 60 A", "ways: 2", []string{circuit("a", "1", "B6", "")}, "torque", "board", 0, 0, 0, ""},
}

func TestBoardChecks(t *testing.T) {
	for _, c := range boardCases {
		t.Run(c.check+" "+c.name, func(t *testing.T) {
			if c.circuits == nil {
				c.circuits = []string{circuit("a", "1", "B6", "")}
			}
			r := judged(t, boardJob(c.supply, c.board, c.circuits...))
			i := slices.IndexFunc(r.Findings, func(f fill.Finding) bool { return f.Check == c.check && f.Subject == c.subject })
			if c.want == 0 {
				if i >= 0 {
					t.Fatalf("found %+v", r.Findings[i])
				}
				return
			}
			if i < 0 {
				t.Fatal("no such finding")
			}
			f := &r.Findings[i]
			if f.Verdict != c.want || !strings.Contains(f.Reason, c.reason) {
				t.Errorf("%v %q, want %v %q", f.Verdict, f.Reason, c.want, c.reason)
			}
			if c.limit != 0 && c.value != 0 && (f.Value != c.value || f.Limit != c.limit) {
				t.Errorf("%v against %v, want %v against %v", f.Value, f.Limit, c.value, c.limit)
			}
			if len(f.Steps()) == 0 || len(fill.Sources(f.Steps())) == 0 {
				t.Error("no steps or no source")
			}
		})
	}
}

// TestBoardQuiet keeps the board's checks out of jobs that do not describe one.
func TestBoardQuiet(t *testing.T) {
	r := judged(t, "job: b\nplaces: {DB: {is: board}}\nboard: {at: DB}\nruns: {T: {in: steel conduit 20, length: 3 m}}\ncircuits: {a: {way: 1, device: B6, cable: 1.5, runs: [T]}}\n")
	for _, f := range r.Findings {
		switch f.Check {
		case "board", "ways", "main", "division", "torque":
			t.Errorf("%s %s", f.Check, f.Subject)
		}
	}
	if fill.BoardOf(r.Job) != nil {
		t.Error("a board was built up")
	}
}

func boardOf(t *testing.T, file string) *fill.Board {
	t.Helper()
	text, err := os.ReadFile("../testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	j, err := route.Parse(file, text)
	if err != nil {
		t.Fatal(err)
	}
	return fill.BoardOf(j)
}

// TestBars counts by hand what ends on the bars of the demonstration boards.
func TestBars(t *testing.T) {
	for file, want := range map[string][]string{
		"jobs/clubhouse.yaml": {"neutral bar: 1×2 2×1 3×1 4×0 5×0 6×0", "earth bar: 1×2 2×1 3×1 4×0 5×0 6×0"}, // the ring comes home
		"boards/split.yaml": {"neutral bar: 1×1", "neutral bar 1: 2×1 3×1 4×1 5×0", "neutral bar 2: 6×1 7×1 8×0 9×0",
			"earth bar: 1×1 2×1 3×1 4×1 5×0 6×1 7×1 8×0 9×0"},
		"boards/rcbo.yaml": {"neutral bar: 1×1 2×1 3×0 4×0 7×1 8×0 9×0", "earth bar: 1×1 2×1 3×0 4×1 7×0 8×0 9×0"}, // no neutral to the lathe; conduit to the charger
	} {
		var got []string
		for _, bar := range boardOf(t, file).Bars() {
			line := bar.Name + ":"
			for _, x := range bar.Terminals {
				line += fmt.Sprintf(" %d×%d", x.Number, x.Cores)
			}
			got = append(got, line)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s:\n%s\nwant\n%s", file, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}

// TestTerminals counts by hand: four clamps on a two-pole main switch or
// section device, eight on a four-pole one; busbar and outgoing clamp for each
// line of a device, one more for an RCBO's neutral; what ends on the bars; the
// bars' own feeds.
func TestTerminals(t *testing.T) {
	for file, want := range map[string]int{
		"jobs/clubhouse.yaml": 4 + 3 + 3 + (1 + 3) + (2 + 3),
		"boards/split.yaml":   3*4 + 6 + 6 + (3 + 6) + (2 + 6),
		"boards/rcbo.yaml":    8 + (3 + 3) + (3 + 3 + 3) + (1 + 3) + (2 + 3),
	} {
		if got := len(boardOf(t, file).Terminals()); got != want {
			t.Errorf("%s: %d terminals, want %d", file, got, want)
		}
	}
}

// TestTorqueHasNoDefault finds no figure in a list that the job gives none for.
func TestTorqueHasNoDefault(t *testing.T) {
	r := judged(t, boardJob("rating: 60 A", "ways: 3, "+rccb, circuit("a", "1", "B6", "")))
	for _, x := range fill.BoardOf(r.Job).Terminals() {
		if !math.IsNaN(x.TorqueNm) {
			t.Errorf("%s %s: %v N m", x.At, x.Clamp, x.TorqueNm)
		}
	}
}

// TestTasks holds the checklist to its order: isolation before all, live tests
// last and marked.
func TestTasks(t *testing.T) {
	for _, file := range []string{"jobs/clubhouse.yaml", "boards/split.yaml", "boards/rcbo.yaml"} {
		stage := fill.Stage(0)
		for i, task := range boardOf(t, file).Tasks() {
			if task.Number != i+1 || task.Stage < stage {
				t.Errorf("%s: %+v comes after %v", file, task, stage)
			}
			if i == 0 && task.Stage != fill.Isolating {
				t.Errorf("%s starts with %+v", file, task)
			}
			if live := strings.HasPrefix(task.Text, "LIVE"); live != (task.Stage == fill.LiveTests) {
				t.Errorf("%s: %+v", file, task)
			}
			stage = task.Stage
		}
		if stage != fill.LiveTests {
			t.Errorf("%s ends with %v", file, stage)
		}
	}
}

// TestBoardProperties: every way stands in one part; used and left add up; one
// more circuit leaves fewer ways; a larger main switch is never worse.
func TestBoardProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ways := rapid.IntRange(2, 20).Draw(t, "ways")
		taken := rapid.SliceOfNDistinct(rapid.IntRange(1, ways), 1, ways, rapid.ID[int]).Draw(t, "taken")
		rating := rapid.IntRange(20, 100).Draw(t, "main rating")
		supply := rapid.IntRange(20, 100).Draw(t, "supply rating")
		var circuits []string
		for i, w := range taken {
			device := rapid.SampledFrom([]string{"B6", "B16", "B32", "C20"}).Draw(t, "device")
			circuits = append(circuits, circuit(fmt.Sprintf("c%d", i), fmt.Sprint(w), device, ""))
		}
		report := func(rating, n int) (*fill.Board, *fill.Report) {
			main := fmt.Sprintf("main: {device: switch, rating: %d A}", rating)
			j, err := route.Parse("b.yaml", []byte(boardJob(fmt.Sprintf("rating: %d A", supply), fmt.Sprintf("ways: %d, %s", ways, main), circuits[:n]...)))
			if err != nil {
				t.Fatal(err)
			}
			return fill.BoardOf(j), fill.Check(j)
		}
		b, r := report(rating, len(taken))
		seen := 0
		for i := range b.Parts {
			seen += len(b.Parts[i].Ways)
		}
		if seen != ways || b.Used+b.Left() != ways || b.Used != len(taken) {
			t.Fatalf("%d ways, %d seen, %d used, %d left", ways, seen, b.Used, b.Left())
		}
		if before, _ := report(rating, max(1, len(taken)-1)); len(taken) > 1 && before.Left() != b.Left()+1 {
			t.Fatalf("%d left before, %d after", before.Left(), b.Left())
		}
		_, better := report(rating+10, len(taken))
		if verdictOf(r, "main") < verdictOf(better, "main") {
			t.Fatalf("%d A: %v, %d A: %v", rating, verdictOf(r, "main"), rating+10, verdictOf(better, "main"))
		}
	})
}

func verdictOf(r *fill.Report, check string) fill.Verdict {
	for i := range r.Findings {
		if r.Findings[i].Check == check {
			return r.Findings[i].Verdict
		}
	}
	return 0
}
