package render

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"
)

// Demonstration jobs, invented.
var demos = []string{"boatstore", "workshop", "classroom", "existing", "clubhouse"}

func parseJob(tb testing.TB, text string) *route.Job {
	tb.Helper()
	j, err := route.Parse("job.yaml", []byte(text))
	if err != nil {
		tb.Fatalf("%v\n%s", err, text)
	}
	return j
}

func demo(tb testing.TB, name string) *fill.Report {
	tb.Helper()
	text, err := os.ReadFile(filepath.Join("..", "testdata", "jobs", name+".yaml"))
	if err != nil {
		tb.Fatal(err)
	}
	return fill.Check(parseJob(tb, string(text)))
}

func drawnOn(tb testing.TB, r *fill.Report, p Paper, bill []BillRow) *Sheet {
	tb.Helper()
	s, err := Diagram(r, DrawingOptions{Paper: p, Bill: bill})
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

var someBill = []BillRow{{"steel conduit 20 mm", "6 × 3.75 m"}, {"through box", "1"}}

func TestDiagramGolden(t *testing.T) {
	for _, name := range []string{"boatstore", "workshop", "classroom", "existing"} {
		t.Run(name, func(t *testing.T) { golden(t, "diagram-"+name, drawnOn(t, demo(t, name), A3, someBill)) })
	}
	t.Run("A4", func(t *testing.T) { golden(t, "diagram-boatstore-a4", drawnOn(t, demo(t, "boatstore"), A4, nil)) })
}

// The demonstration jobs show what they are for.
func TestDemoVerdicts(t *testing.T) {
	for _, name := range []string{"boatstore", "workshop", "existing"} {
		if v := demo(t, name).Verdict(); v == fill.Fail || v == fill.Open {
			t.Errorf("%s: %v", name, v)
		}
	}
	fails := map[string]bool{}
	for _, f := range demo(t, "classroom").Findings {
		if f.Verdict == fill.Fail {
			fails[f.Check] = true
		}
	}
	for _, check := range []string{"space", "draw-in", "rating"} {
		if !fails[check] {
			t.Errorf("classroom: nothing fails %s", check)
		}
	}
}

// faults lists what no diagram may have: overlapping texts, text outside the
// frame, text below the least height, text on a run's line.
func faults(s *Sheet) []string {
	out := s.Clashes()
	frame := rect{SheetMargin, SheetMargin, s.Width - SheetMargin, s.Height - SheetMargin}
	var groups []string
	var runs [][]float64
	var texts []placedText
	layout := func() bool { return slices.Contains(groups, "layout") }
	for _, m := range s.List {
		switch m := m.(type) {
		case groupMark:
			groups = append(groups, m.name)
		case endMark:
			groups = groups[:len(groups)-1]
		case lineMark:
			if slices.Contains(groups, "run") && m.pen.WidthMM >= W35 {
				runs = append(runs, m.xy)
			}
		case textMark:
			p := place(m.Text)
			if !frame.holdsAll(p.corners[:]) {
				out = append(out, fmt.Sprintf("%q leaves the frame", m.S))
			}
			inSymbol := slices.Contains(groups, "symbol") || slices.Contains(groups, "section")
			if m.Height < TextSmall && !inSymbol {
				out = append(out, fmt.Sprintf("%q is %g mm high", m.S, m.Height))
			}
			if layout() && !inSymbol {
				texts = append(texts, p)
			}
		}
	}
	for _, xy := range runs {
		for _, p := range texts {
			if lineOver(xy, p) {
				out = append(out, fmt.Sprintf("a run passes through %q: %s against %s", p.s, points(xy), points(p.corners[:])))
			}
		}
	}
	return out
}

// lineOver reports whether a polyline passes through a text.
func lineOver(xy []float64, p placedText) bool {
	r := rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := 0; i < 8; i += 2 {
		r = rect{min(r.x0, p.corners[i]), min(r.y0, p.corners[i+1]), max(r.x1, p.corners[i]), max(r.y1, p.corners[i+1])}
	}
	r = r.grown(-0.05)
	for i := 0; i+3 < len(xy); i += 2 {
		if _, _, hit := r.cutSegment(xy[i], xy[i+1], xy[i+2], xy[i+3]); hit {
			return true
		}
	}
	return false
}

func TestDemosHaveNoFaults(t *testing.T) {
	long := make([]BillRow, 70)
	for i := range long {
		long[i] = BillRow{fmt.Sprintf("item %d of a bill that is longer than any sheet has room for", i), "12"}
	}
	for _, name := range demos {
		for _, p := range []Paper{A3, A4} {
			for _, bill := range [][]BillRow{nil, someBill, long} {
				for _, f := range faults(drawnOn(t, demo(t, name), p, bill)) {
					t.Errorf("%s, %s, %d items: %s", name, p.Name, len(bill), f)
				}
			}
		}
	}
}

// textsOf are the texts of a sheet within groups of a name.
func textsOf(s *Sheet, group string) []string {
	var out, groups []string
	for _, m := range s.List {
		switch m := m.(type) {
		case groupMark:
			groups = append(groups, m.name)
		case endMark:
			groups = groups[:len(groups)-1]
		case textMark:
			if group == "" || slices.Contains(groups, group) {
				out = append(out, m.S)
			}
		}
	}
	return out
}

// says looks for words on the sheet, across the lines of one paragraph too.
func says(s *Sheet, words string) bool {
	return strings.Contains(strings.Join(textsOf(s, ""), " "), words)
}

// Every sheet names the tool, the edition, the cautions, the counts; and never
// the words that promise.
func TestDiagramAlwaysSays(t *testing.T) {
	for _, name := range demos {
		for _, p := range []Paper{A3, A4} {
			s := drawnOn(t, demo(t, name), p, nil)
			for _, want := range []string{"tubewright", "BS 7671:2018+A2:2022", "prove dead", "competent person", "before energising", "local code in force", "1 of 1, " + p.Name} {
				if !says(s, want) {
					t.Errorf("%s, %s: nowhere %q", name, p.Name, want)
				}
			}
			if !says(s, Tally(demo(t, name))) {
				t.Errorf("%s, %s: no counts", name, p.Name)
			}
			for _, word := range []string{"safe", "compliant", "approved"} {
				if says(s, word) {
					t.Errorf("%s, %s: says %q", name, p.Name, word)
				}
			}
		}
	}
}

func TestBillIsWholeOrNamed(t *testing.T) {
	r := demo(t, "boatstore")
	if s := drawnOn(t, r, A3, someBill); !says(s, "through box") || says(s, "see bill JOB") {
		t.Error("a short bill is not on the sheet")
	}
	long := make([]BillRow, 200)
	for i := range long {
		long[i] = BillRow{fmt.Sprintf("item %d", i), "1"}
	}
	if s := drawnOn(t, r, A3, long); !says(s, "200 items: see bill JOB") || says(s, "item 0") {
		t.Error("a long bill is on the sheet in part")
	}
}

func TestPaper(t *testing.T) {
	for _, c := range []struct {
		name string
		want Paper
		ok   bool
	}{{"A3", A3, true}, {"a4", A4, true}, {"A5", Paper{}, false}} {
		if got, ok := PaperNamed(c.name); got != c.want || ok != c.ok {
			t.Errorf("%s: %v, %v", c.name, got, ok)
		}
	}
	if _, err := Diagram(demo(t, "existing"), DrawingOptions{Paper: Paper{"A4 upright", 210, 297}}); err == nil {
		t.Error("drew on a sheet that is too narrow")
	}
	s := drawnOn(t, demo(t, "existing"), Paper{}, nil)
	if s.Width != A3.WidthMM || s.Height != A3.HeightMM {
		t.Errorf("no paper gives %g x %g", s.Width, s.Height)
	}
}

func TestDiagramIsRepeatable(t *testing.T) {
	for _, name := range demos {
		if a, b := drawnOn(t, demo(t, name), A3, nil), drawnOn(t, demo(t, name), A3, nil); a.Marks() != b.Marks() {
			t.Errorf("%s differs from itself", name)
		}
	}
}

// Whatever does not pass is named on the sheet with its reason, be it of a
// run, a circuit or the board.
func TestEveryReasonIsOnTheSheet(t *testing.T) {
	for _, name := range demos {
		r := demo(t, name)
		s := drawnOn(t, r, A3, nil)
		for i := range r.Findings {
			f := &r.Findings[i]
			if f.Verdict == fill.Pass || f.Reason == "" || f.Check == "space" && math.IsNaN(f.Limit) {
				continue // past the table: the draw-in check says why
			}
			if start := strings.Join(strings.Fields(f.Reason)[:4], " "); !says(s, start) {
				t.Errorf("%s: nowhere %q", name, start)
			}
		}
	}
}
