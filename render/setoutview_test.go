package render

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"tubewright/route"
)

// viewsOn are the views of a run's pieces.
func viewsOn(t *testing.T, path, more string) []bendView {
	t.Helper()
	j, err := route.Parse("v.yaml", []byte("job: v\nplaces: {a: {is: board}, b: {is: box}}\nruns:\n  A: {from: a, to: b, in: steel conduit 20, path: \""+path+"\"}\ntools: {formers: {20: 80 mm}}\n"+more))
	if err != nil {
		t.Fatal(err)
	}
	s := j.SetOut(nil, 0)
	var out []bendView
	for i := range s.Pieces {
		out = append(out, viewsOf(j, &s, i)...)
	}
	return out
}

// TestViewShapes: the shape that is drawn has the depth, angles and radius that
// the path asks for, measured on its outline: an end lies at the set's depth,
// the crown of a bubble set at its depth, a right angle stands upright.
func TestViewShapes(t *testing.T) {
	crown := func(b bentShape) float64 {
		high := 0.0
		for _, p := range b.along(0) {
			high = max(high, p.y)
		}
		return high
	}
	for _, tt := range []struct {
		path    string
		bends   int
		end, up float64 // y of the far end; highest of the centre line
	}{
		{"right 1, set 60 mm up at 45, right 1", 2, 60, 60},
		{"right 1, set 30 mm up and 40 mm out, right 1", 2, 50, 50},
		{"right 1, bubble set 90 mm up, right 1", 3, 0, 90},
		{"right 1, bubble set 60 mm up over 100 mm, right 1", 4, 0, 60},
		{"right 1, double set 70 mm up at 30, right 1", 4, 0, 70},
	} {
		views := viewsOn(t, tt.path, "")
		if len(views) != 1 || len(views[0].marks) != tt.bends {
			t.Fatalf("%s: %+v", tt.path, views)
		}
		b := bend(&views[0])
		if math.Abs(b.last().y-tt.end) > 1e-6 || math.Abs(crown(b)-tt.up) > 0.35 { // the crown lies between two points, 5° apart at most
			t.Errorf("%s: ends at %v, crown %v", tt.path, b.last(), crown(b))
		}
	}
	b := bend(&viewsOn(t, "right 1, up 1", "")[0])
	if d := b.last(); math.Abs(d.x-80) > 1e-6 || math.Abs(b.dirs[1]-math.Pi/2) > 1e-9 || math.Abs(b.first().y) > 1e-9 {
		t.Errorf("a right angle ends at %v towards %v", d, b.dirs[1])
	}
}

// TestViewToScale measures on the sheet: at 1:2 the dimension of a set of 60 mm
// is 30 mm long, and its figure is the depth.
func TestViewToScale(t *testing.T) {
	j, _ := setOutDemo(t, "job: v\nruns:\n  A: {in: steel conduit 20, path: \"right 1, set 60 mm up at 45, right 1\"}\ntools: {formers: {20: 80 mm}}\n")
	sheets, err := SetOutSheets(j, []int{0}, A3)
	if err != nil || len(sheets) != 1 {
		t.Fatal(err)
	}
	text := sheets[0].Marks()
	if !strings.Contains(text, `"A/1  bends 1 to 2: set of 60 mm  1:2"`) || !strings.Contains(text, `"H 60"`) {
		t.Fatalf("%s", text)
	}
	upright := regexp.MustCompile(`line 0.18 black solid ([0-9.]+),([0-9.]+) ([0-9.]+),([0-9.]+)\n`)
	found := false
	for _, m := range upright.FindAllStringSubmatch(text, -1) {
		var x0, y0, x1, y1 float64
		fmt.Sscan(strings.Join(m[1:], " "), &x0, &y0, &x1, &y1)
		found = found || x0 == x1 && math.Abs(math.Abs(y0-y1)-60.0/2) < 0.011
	}
	if !found {
		t.Errorf("no dimension of 30 mm in\n%s", text)
	}
}

// TestEveryBendHasAView: each bend of the practice job is in one view, with its
// number, angle and marks written at it, and each corner's legs are dimensioned.
func TestEveryBendHasAView(t *testing.T) {
	j, runs := setOutDemo(t, setOutJob)
	sheets, err := SetOutSheets(j, runs, A3)
	if err != nil {
		t.Fatal(err)
	}
	text := ""
	for _, s := range sheets {
		text += s.Marks()
	}
	for _, r := range runs {
		s := j.SetOut(nil, r)
		seen := map[int]int{}
		for i := range s.Pieces {
			for _, v := range viewsOf(j, &s, i) {
				for _, m := range v.marks {
					seen[m.Number]++
					for _, want := range []string{fmt.Sprintf("%d  %s", m.Number, angleText(m.Angle)), whole(m.Start) + " – " + whole(m.End)} {
						if !strings.Contains(text, fmt.Sprintf("text %q", want)) {
							t.Errorf("run %s: no %q", j.Runs[r].Name, want)
						}
					}
					for _, leg := range m.LegsMM {
						if !math.IsNaN(leg) && !strings.Contains(text, fmt.Sprintf("text %q", whole(leg))) {
							t.Errorf("run %s, bend %d: no leg of %s", j.Runs[r].Name, m.Number, whole(leg))
						}
					}
				}
			}
		}
		for _, b := range s.Bends {
			if seen[b.Number] != 1 {
				t.Errorf("run %s: bend %d in %d views", j.Runs[r].Name, b.Number, seen[b.Number])
			}
		}
	}
}

// TestSheetsCarryCautions: every set-out sheet has each caution in full.
func TestSheetsCarryCautions(t *testing.T) {
	j, runs := setOutDemo(t, setOutJob)
	for _, paper := range []Paper{A3, A4} {
		sheets, err := SetOutSheets(j, runs, paper)
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range sheets {
			words := ""
			for _, m := range s.List {
				if m, ok := m.(textMark); ok {
					words += m.S + " "
				}
			}
			for _, c := range Cautions {
				if !strings.Contains(words, c) {
					t.Errorf("sheet %d of %v: no %q", i+1, paper, c)
				}
			}
		}
	}
}

// TestLacksOnTheSheet: a run that cannot be made is named on the sheets with
// every reason and what would do, where its strip would be.
func TestLacksOnTheSheet(t *testing.T) {
	j, runs := setOutDemo(t, "job: v\nruns:\n  A: {in: steel conduit 20, path: \"right 2, set 40 mm at 45, right 2, up 0.1, right 1\"}\n  B: {in: steel conduit 20, path: right 1}\ntools: {formers: {20: 80 mm}}\n")
	sheets, err := SetOutSheets(j, runs, A4)
	if err != nil {
		t.Fatal(err)
	}
	words := ""
	for _, m := range sheets[0].List {
		if m, ok := m.(textMark); ok && m.Ink == Red {
			words += m.S + " "
		}
	}
	s := j.SetOut(nil, 0)
	if len(s.Lacks) < 2 {
		t.Fatalf("%+v", s.Lacks)
	}
	for _, l := range s.Lacks {
		if !strings.Contains(words, "Run A cannot be made: "+lackText(l)) {
			t.Errorf("no %q in %q", lackText(l), words)
		}
	}
	for _, sheet := range sheets {
		if c := sheet.Clashes(); len(c) > 0 {
			t.Error(c)
		}
	}
}

// TestViewsBesideTheirStrip: the views of a piece stand beside its strip where
// there is room, so that a sheet is not left half empty; a strip that takes the
// width has them under it. Either way each is drawn once.
func TestViewsBesideTheirStrip(t *testing.T) {
	for path, beside := range map[string]bool{"right 1, set 60 mm up at 45, right 1": true, "right 1.6, up 1.6": false} {
		j, runs := setOutDemo(t, "job: v\nruns:\n  A: {in: steel conduit 20, path: \""+path+"\"}\n")
		s := j.SetOut(nil, 0)
		blocks := pieceBlocks(strip{j, &s, 0}, A3.WidthMM-2*SheetMargin)
		if (len(blocks) == 1) != beside {
			t.Errorf("%s: %d blocks", path, len(blocks))
		}
		sheets, err := SetOutSheets(j, runs, A3)
		if err != nil || len(sheets) != 1 || len(sheets[0].Clashes()) > 0 || strings.Count(sheets[0].Marks(), `group views`) != 1 {
			t.Errorf("%s: %v, %d sheets", path, err, len(sheets))
		}
	}
}

// TestNoLabelOnADepthLine: the number and marks of a bend stand clear, by
// half a millimetre, of the lines that the depth of a set is dimensioned from.
func TestNoLabelOnADepthLine(t *testing.T) {
	j, runs := setOutDemo(t, "job: v\nplaces: {a: {is: board}, b: {is: switch}}\nruns:\n  A: {from: a, to: b, in: steel conduit 20, path: \"left 0.35, down 1.2, set 20 mm\"}\n  B: {in: steel conduit 20, path: \"right 1, bubble set 60 mm, right 1, double set 60 mm, right 1\"}\n")
	sheets, err := SetOutSheets(j, runs, A3)
	if err != nil {
		t.Fatal(err)
	}
	labels, lines := 0, 0
	for _, s := range sheets {
		for _, m := range s.List {
			text, ok := m.(textMark)
			if !ok || text.Angle != 0 || !strings.Contains(text.S, "°") && !strings.Contains(text.S, " – ") || text.AlignX != Centre {
				continue
			}
			labels++
			half := TextWidth(text.S, text.Height, text.Bold) / 2
			for _, n := range s.List {
				l, ok := n.(lineMark)
				if !ok || l.pen != PenDimension || len(l.xy) != 4 || l.xy[1] != l.xy[3] {
					continue
				}
				lines++
				if y := l.xy[1]; y < text.Y+0.5 && y > text.Y-text.Height-0.5 && min(l.xy[0], l.xy[2]) < text.X+half && max(l.xy[0], l.xy[2]) > text.X-half {
					t.Errorf("%q touches the line at %v", text.S, l.xy)
				}
			}
		}
	}
	if labels < 10 || lines == 0 {
		t.Errorf("%d labels, %d lines: the demo is too tame", labels, lines)
	}
}
