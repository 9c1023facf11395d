package render

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tubewright/fill"
	"tubewright/route"
)

// Demonstration boards, invented: one RCCB, a split board, and RCBOs on three
// phases.
var boardDemos = map[string]string{"clubhouse": "jobs/clubhouse", "split": "boards/split", "rcbo": "boards/rcbo"}

func demoBoard(tb testing.TB, file string) (*fill.Board, *fill.Report) {
	tb.Helper()
	text, err := os.ReadFile(filepath.Join("..", "testdata", file+".yaml"))
	if err != nil {
		tb.Fatal(err)
	}
	j := parseJob(tb, string(text))
	return fill.BoardOf(j), BoardReport(fill.Check(j))
}

// TestBoardText compares the pages with testdata/golden/NAME.board.txt. Read a
// page as the one who builds the board would before writing it anew.
func TestBoardText(t *testing.T) {
	for name, file := range boardDemos {
		t.Run(name, func(t *testing.T) {
			b, r := demoBoard(t, file)
			var first, again bytes.Buffer
			for _, w := range []*bytes.Buffer{&first, &again} {
				if err := WriteBoard(w, b, r); err != nil {
					t.Fatal(err)
				}
			}
			if first.String() != again.String() {
				t.Error("the second page differs")
			}
			for _, l := range strings.Split(first.String(), "\n") {
				if utf8.RuneCountInString(l) > pageWidth {
					t.Errorf("a line of %d characters: %s", utf8.RuneCountInString(l), l)
				}
			}
			if m := MissingRunes(strings.ReplaceAll(first.String(), "\n", "")); len(m) > 0 {
				t.Errorf("the typeface lacks %q", m)
			}
			path := filepath.Join("..", "testdata", "golden", name+".board.txt")
			if *update {
				if err := os.WriteFile(path, first.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), first.String()); diff != "" {
				t.Errorf("%s differs (-want +got); read it, then run with -update:\n%s", path, diff)
			}
		})
	}
}

// TestBoardJSON finds in the JSON what the page prints.
func TestBoardJSON(t *testing.T) {
	for name, file := range boardDemos {
		b, r := demoBoard(t, file)
		var text bytes.Buffer
		if err := WriteBoardJSON(&text, b, r); err != nil {
			t.Fatal(err)
		}
		var got boardJSON
		if err := json.Unmarshal(text.Bytes(), &got); err != nil {
			t.Fatal(err)
		}
		if len(got.Schedule) != len(b.Schedule()) || len(got.Checklist) != len(b.Tasks()) || len(got.Torque) != len(b.Terminals()) ||
			len(got.Bars) != len(b.Bars()) || len(got.Findings) != len(r.Findings) || len(got.Cautions) != len(Cautions) {
			t.Errorf("%s: %s", name, &text)
		}
		if got.Left == nil || *got.Left != b.Left() || got.Used != b.Used {
			t.Errorf("%s: %d used, %v left", name, got.Used, got.Left)
		}
		for _, x := range got.Torque {
			if (x.TorqueNm == nil) != (x.Note == toEnter) {
				t.Errorf("%s: %+v", name, x)
			}
		}
	}
}

func TestBoardFrontGolden(t *testing.T) {
	for name, file := range boardDemos {
		t.Run(name, func(t *testing.T) {
			b, r := demoBoard(t, file)
			s, err := BoardFront(b, r, A4)
			if err != nil {
				t.Fatal(err)
			}
			golden(t, "board-"+name, s)
		})
	}
}

// TestFrontToScale measures what is drawn: at 1:1 the clubhouse's rail is
// eight modules of 17.5 mm long.
func TestFrontToScale(t *testing.T) {
	b, r := demoBoard(t, "jobs/clubhouse")
	s, err := BoardFront(b, r, A4)
	if err != nil {
		t.Fatal(err)
	}
	marks := s.Marks()
	for _, want := range []string{"8 modules × 17.5 mm = 140 mm", `"B32" `, "line busbar, cover on", `"blank"`} {
		if !strings.Contains(marks, want) {
			t.Errorf("no %s", want)
		}
	}
	lo, hi := s.Width, 0.0
	for _, m := range s.List {
		if text, ok := m.(textMark); ok && (text.S == "1" || text.S == "6") && text.Bold {
			lo, hi = min(lo, text.X), max(hi, text.X)
		}
	}
	if d := hi - lo; d < 87.49 || d > 87.51 {
		t.Errorf("way 1 to way 6 is %.2f mm, want 5 × 17.5", d)
	}
}

// randomBoard is a board of any kind with names short and long.
func randomBoard(t *rapid.T) string {
	phases := rapid.SampledFrom([]int{1, 3}).Draw(t, "phases")
	ways := rapid.IntRange(1, rapid.SampledFrom([]int{6, 24, 90}).Draw(t, "size")).Draw(t, "ways")
	main := rapid.SampledFrom([]string{"", ", main: {device: switch, rating: 100 A}", ", main: {device: RCCB, rating: 80 A, residual: 30 mA, type: A}",
		", main: {device: RCCB, rating: 100 A, residual: 300 mA, type: B, delayed: yes}"}).Draw(t, "main")
	split := ""
	if ways > 3 && rapid.Bool().Draw(t, "split") {
		cut := rapid.IntRange(1, ways-1).Draw(t, "cut")
		for _, part := range [][2]int{{1, cut}, {cut + 1, ways}} {
			var list []string
			for n := part[0]; n <= part[1]; n++ {
				list = append(list, fmt.Sprint(n))
			}
			split += fmt.Sprintf("    - {main: {device: RCCB, rating: 63 A, residual: 30 mA, type: A}, ways: [%s]}\n", strings.Join(list, ", "))
		}
		split = "  sections:\n" + split
	}
	extra := rapid.IntRange(0, 3).Draw(t, "spare modules")
	var circuits strings.Builder
	name := rapid.SampledFrom([]string{"a", "ring", "workshop sockets on the north wall", "Zähler größer als ²", "MMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMMM"})
	device := rapid.SampledFrom([]string{"B6", "C125", "BS 3036 30 A", "BS 88-2 100 A"})
	for n := 1; n <= ways; n++ {
		if rapid.IntRange(0, 3).Draw(t, "blank") == 0 {
			continue
		}
		more := rapid.SampledFrom([]string{"", ", RCBO: {residual: 30 mA, type: AC}", ", cpc: conduit", ", cpc: shared"}).Draw(t, "more")
		way := n
		if phases == 3 && n+2 <= ways && rapid.Bool().Draw(t, "three-phase") {
			more += ", phases: 3"
			n += 2
		}
		fmt.Fprintf(&circuits, "  c%d %s: {way: %d, device: %s, cable: 50%s, demand: 1 A, runs: [T]}\n", way, name.Draw(t, "name"), way, device.Draw(t, "device"), more)
	}
	if circuits.Len() == 0 {
		circuits.WriteString("  c: {device: B6, cable: 1.5, runs: [T]}\n")
	}
	return fmt.Sprintf("job: %s\nsupply: {phases: %d}\nplaces: {%q: {is: board}}\nboard:\n  ways: %d\n  modules: %d%s\n%sruns: {T: {in: steel trunking 150x150, length: 3 m}}\ncircuits:\n%s",
		name.Draw(t, "job"), phases, name.Draw(t, "board"), ways, ways+2+extra, strings.Replace(main, ", main", "\n  main", 1), split, circuits.String())
}

// TestBoardFrontLegible draws boards of any kind: no text lies on another or
// runs off the sheet, nothing reaches out of the frame.
func TestBoardFrontLegible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := randomBoard(t)
		j, err := route.Parse("board.yaml", []byte(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		paper := rapid.SampledFrom([]Paper{A4, A3}).Draw(t, "paper")
		s, err := BoardFront(fill.BoardOf(j), BoardReport(fill.Check(j)), paper)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		for _, c := range s.Clashes() {
			t.Errorf("%s\n%s", c, text)
		}
		frame := rect{SheetMargin - W70, SheetMargin - W70, s.Width - SheetMargin + W70, s.Height - SheetMargin + W70}
		for _, m := range s.List {
			switch m := m.(type) {
			case textMark:
				if p := place(m.Text); !frame.holdsAll(p.corners[:]) || m.Height < TextSmall {
					t.Errorf("out of the frame or small: %v\n%s", m, text)
				}
			case lineMark:
				if !frame.holdsAll(m.xy) {
					t.Errorf("out of the frame: %v\n%s", m, text)
				}
			}
		}
	})
}

// BenchmarkBoardFront draws the largest board.
func BenchmarkBoardFront(b *testing.B) {
	j := parseJob(b, "job: b\nboard: {ways: 200, main: {device: switch, rating: 100 A}}\nruns: {T: {in: steel conduit 20, length: 3 m}}\n")
	board, r := fill.BoardOf(j), BoardReport(fill.Check(j))
	for b.Loop() {
		if _, err := BoardFront(board, r, A4); err != nil {
			b.Fatal(err)
		}
	}
}
