package render

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"

	"pgregory.net/rapid"
)

// setOutJob has everything that a strip can show: a set, a rolled set, a bubble
// set of three bends, one of four, couplers clear of bends, made bends, an
// expansion coupler, trunking and a quick run.
const setOutJob = `job: Practice board of an evening class
drawn by: example
date: 25 November 2026
tools: {formers: {20: 80 mm}, trial bend: {25: {cut: 500 mm, legs: [300 mm, 255 mm]}}, kerf: 3 mm}
expansion: {lowest: 0 C, highest: 40 C, fitted at: 20 C}
stock: {offcuts: {steel conduit 20: [1.2 m, 0.8 m]}}
places:
  board: {is: board}
  bx1: {is: box}
  bx2: {is: box}
  s1: {is: socket}
  l1: {is: light}
  l2: {is: light}
runs:
  A: {from: board, to: bx1, in: steel conduit 20, path: "up 0.9, right 2, bubble set 90 mm, right 2.4"}
  B: {from: bx1, to: s1, in: steel conduit 25, path: "right 0.6, down 1.2, set 30 mm"}
  C: {from: bx1, to: bx2, in: steel conduit 20, path: "up 0.4, right 0.8, set 40 mm up and 30 mm out, right 0.7", bends: made}
  D: {from: bx2, to: l1, in: plastic conduit 20, path: right 7}
  E: {from: bx2, to: l2, in: steel conduit 20, path: "up 1, bubble set 60 mm over 120 mm, up 1"}
  T: {in: steel trunking 50x50, path: "right 2, up 1"}
  Q: {in: steel conduit 20, length: 3 m, bends: 2}
`

func setOutDemo(tb testing.TB, text string) (*route.Job, []int) {
	tb.Helper()
	j, err := route.Parse("job.yaml", []byte(text))
	if err != nil {
		tb.Fatal(err)
	}
	runs := make([]int, len(j.Runs))
	for i := range runs {
		runs[i] = i
	}
	return j, runs
}

func TestSetOutSheetsGolden(t *testing.T) {
	for _, name := range []string{"boatstore", "workshop", "clubhouse", "practice"} {
		text := []byte(setOutJob)
		if name != "practice" {
			var err error
			if text, err = os.ReadFile("../testdata/jobs/" + name + ".yaml"); err != nil {
				t.Fatal(err)
			}
		}
		j, runs := setOutDemo(t, string(text))
		for paperName, paper := range map[string]Paper{"A3": A3, "A4": A4} {
			sheets, err := SetOutSheets(j, runs, paper)
			if err != nil {
				t.Fatal(err)
			}
			for i, s := range sheets {
				for _, c := range s.Clashes() {
					t.Errorf("%s, %s, sheet %d: %s", name, paperName, i+1, c)
				}
				if paperName == "A3" {
					golden(t, fmt.Sprintf("setout-%s-%d", name, i+1), s)
				}
			}
		}
	}
}

// TestStripToScale measures what is drawn: at 1:5 a tube of 1620 mm is 324 mm
// long on the sheet.
func TestStripToScale(t *testing.T) {
	text, err := os.ReadFile("../testdata/jobs/boatstore.yaml")
	if err != nil {
		t.Fatal(err)
	}
	j, _ := setOutDemo(t, string(text))
	sheets, err := SetOutSheets(j, []int{0}, A3)
	if err != nil || len(sheets) != 1 {
		t.Fatal(err, len(sheets))
	}
	s := j.SetOut(nil, 0)
	want := s.LengthMM / 5
	for _, m := range sheets[0].List {
		if l, ok := m.(lineMark); ok && l.closed && l.pen == PenOutline {
			if got := l.xy[2] - l.xy[0]; got < want-1e-6 || got > want+1e-6 {
				t.Errorf("the tube is drawn %v mm long, want %v", got, want)
			}
			return
		}
	}
	t.Error("no tube")
}

// TestSetOutSheetsLegible: no text lies on another or runs off the sheet,
// whatever the path.
func TestSetOutSheetsLegible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := []string{"up", "right", "out"}
		var steps []string
		for range rapid.IntRange(1, 12).Draw(t, "legs") {
			word := rapid.SampledFrom(words).Draw(t, "direction")
			steps = append(steps, fmt.Sprintf("%s %d mm", word, rapid.IntRange(100, 3000).Draw(t, "mm")))
			aside := map[string]string{"up": "right", "right": "out", "out": "up"}[word]
			if set := rapid.SampledFrom([]string{"", "", "set %d mm %s", "double set %d mm %s at 30", "bubble set %d mm %s", "bubble set %d mm %s over 90 mm"}).Draw(t, "set"); set != "" {
				steps = append(steps, fmt.Sprintf(set, rapid.IntRange(10, 150).Draw(t, "depth"), aside))
			}
		}
		name := rapid.SampledFrom([]string{"A", strings.Repeat("W", 60)}).Draw(t, "name")
		text := fmt.Sprintf("job: %s\nplaces:\n  %[1]s: {is: board}\n  b: {is: box}\nruns:\n  %[1]s: {from: %[1]s, to: b, in: %s, path: %q}\n", name,
			rapid.SampledFrom([]string{"steel conduit 20", "plastic conduit 50", "steel trunking 50x50", "steel trunking 50x50, bends: formed"}).Draw(t, "in"), strings.Join(steps, ", "))
		j, err := route.Parse("p.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		sheets, err := SetOutSheets(j, []int{0}, rapid.SampledFrom([]Paper{A3, A4}).Draw(t, "paper"))
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range sheets {
			if c := s.Clashes(); len(c) > 0 {
				t.Fatalf("%s\n%v", text, c)
			}
		}
	})
}

// TestSetOutText reads the page as an apprentice would.
func TestSetOutText(t *testing.T) {
	j, runs := setOutDemo(t, setOutJob)
	var out bytes.Buffer
	if err := WriteSetOut(&out, j, runs, true); err != nil {
		t.Fatal(err)
	}
	page := strings.Join(strings.Fields(out.String()), " ")
	for _, want := range []string{
		"bubble set of 90 mm at 22.5°", "R = (B1 + B2 − (OD + c)) / (2 − π / 2)", "expansion coupler", "normal bend", "the way is not drawn",
		"turn the tube over", "plain multiplier", "saddles 1 to", "supports spaced by", "mark that on the tube", "thread 13 mm into the coupler and male bush",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
}

func TestSetOutJSON(t *testing.T) {
	j, runs := setOutDemo(t, setOutJob)
	var out bytes.Buffer
	if err := WriteSetOutJSON(&out, j, runs, fill.Pass); err != nil {
		t.Fatal(err)
	}
	var back setOutJSON
	if err := json.Unmarshal(out.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	if len(back.Runs) != len(runs) || len(back.Cautions) == 0 {
		t.Fatalf("%+v", back)
	}
	for i, r := range back.Runs {
		s := j.SetOut(nil, i)
		if len(r.Pieces) != len(s.Pieces) || len(r.Steps) == 0 || len(r.Lacks) != 0 {
			t.Errorf("%s: %+v", r.Run, r)
		}
		bends := 0
		for _, p := range r.Pieces {
			bends += len(p.Marks)
		}
		if bends != len(s.Bends) {
			t.Errorf("%s: %d marks, %d bends", r.Run, bends, len(s.Bends))
		}
	}
}

func TestCutText(t *testing.T) {
	j, _ := setOutDemo(t, setOutJob)
	lists, err := j.CutLists()
	if err != nil {
		t.Fatal(err)
	}
	var page, table, doc bytes.Buffer
	for _, err := range []error{WriteCut(&page, j, lists, nil), WriteCutCSV(&table, lists), WriteCutJSON(&doc, j, lists, nil)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, want := range []string{"offcut 2", "offcuts at hand, cut first: 2 used of 2", "saw cut 3 mm", "proved the fewest", "share lost: waste = 100 × W / cut up"} {
		if !strings.Contains(page.String(), want) {
			t.Errorf("no %q in\n%s", want, page.String())
		}
	}
	pieces := 0
	for i := range j.Runs {
		s := j.SetOut(nil, i)
		pieces += len(s.Pieces)
	}
	if n := strings.Count(table.String(), "\r\n") - 1; n != pieces {
		t.Errorf("%d lines for %d pieces", n, pieces)
	}
	var back cutJSON
	if err := json.Unmarshal(doc.Bytes(), &back); err != nil || len(back.Lists) != len(lists) {
		t.Errorf("%v, %+v", err, back)
	}
}

func BenchmarkSetOutSheets(b *testing.B) {
	j, runs := setOutDemo(b, setOutJob)
	for b.Loop() {
		if _, err := SetOutSheets(j, runs, A3); err != nil {
			b.Fatal(err)
		}
	}
}
