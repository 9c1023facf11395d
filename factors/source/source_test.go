package source

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"
)

func TestProblem(t *testing.T) {
	file := NewFile("boathouse.yaml", []byte("supply: TN-S\nruns:\n\tA:\tcables: 4 x 3.5\r\n# ⌀ é\n"))
	tests := []struct {
		name string
		p    Problem
		want string
	}{
		{"word, caret and hint", Problem{File: file, At: Pos{1, 9}, Width: 4, What: "unknown earthing TN-S", Want: "did you mean TN-C-S?"},
			"boathouse.yaml:1:9: unknown earthing TN-S\n    1 | supply: TN-S\n      |         ^^^^ did you mean TN-C-S?"},
		{"a tab is one column", Problem{File: file, At: Pos{3, 13}, Width: 7, What: "no cable factor for 3.5 mm²"},
			"boathouse.yaml:3:13: no cable factor for 3.5 mm²\n    3 |  A: cables: 4 x 3.5\n      |             ^^^^^^^"},
		{"a wide mark stops at the end", Problem{File: file, At: Pos{4, 3}, Width: 50, What: "odd"},
			"boathouse.yaml:4:3: odd\n    4 | # ⌀ é\n      |   ^^^"},
		{"a second place", Problem{File: file, At: Pos{2, 1}, Width: 4, What: "runs is given twice", Also: Pos{1, 1}, AlsoS: "first given"},
			"boathouse.yaml:2:1: runs is given twice (first given at line 1)\n    2 | runs:\n      | ^^^^"},
		{"nowhere", Problem{File: file, What: "the file is empty", Want: "start with supply:"}, "boathouse.yaml: the file is empty; start with supply:"},
		{"past the end", Problem{File: file, At: Pos{9, 1}, What: "odd", Want: "more"}, "boathouse.yaml:9:1: odd; more"},
		{"no column", Problem{File: file, At: Pos{1, 0}, What: "odd"}, "boathouse.yaml:1:0: odd\n    1 | supply: TN-S\n      | ^"},
		{"past the line", Problem{File: file, At: Pos{1, 99}, Width: 3, What: "odd"}, "boathouse.yaml:1:99: odd\n    1 | supply: TN-S\n      |             ^"},
	}
	for _, tt := range tests {
		if got := tt.p.Error(); got != tt.want {
			t.Errorf("%s:\n%s\nwant\n%s", tt.name, got, tt.want)
		}
	}
}

// TestLongLine: of a long line the part round the word is shown, and the caret
// stays under the word.
func TestLongLine(t *testing.T) {
	line := strings.Repeat("é", 300) + "word" + strings.Repeat("ü", 300)
	p := Problem{File: NewFile("f", []byte(line)), At: Pos{1, 301}, Width: 4, What: "odd"}
	shown := strings.Split(p.Error(), "\n")
	word, caret := strings.Index(shown[1], "word"), strings.Index(shown[2], "^^^^")
	if word < 0 || caret < 0 || utf8.RuneCountInString(shown[1][:word]) != utf8.RuneCountInString(shown[2][:caret]) {
		t.Errorf("%s", p.Error())
	}
	if n := utf8.RuneCountInString(shown[1]); n > maxShown+12 {
		t.Errorf("%d characters shown", n)
	}
}

func TestLine(t *testing.T) {
	f := NewFile("f", []byte("one\r\ntwo\n\nfour"))
	for n, want := range map[int32]string{-1: "", 0: "", 1: "one", 2: "two", 3: "", 4: "four", 5: ""} {
		if got := f.Line(n); got != want {
			t.Errorf("line %d: %q, want %q", n, got, want)
		}
	}
}

func TestProblems(t *testing.T) {
	r := &Reader{File: NewFile("f", []byte("a\nb\nc\n"))}
	if r.Problems.Err() != nil {
		t.Error("no problems are an error")
	}
	r.Add(ErrWord, Pos{3, 1}, 1, "third", "")
	r.Add(ErrShape, Pos{1, 2}, 1, "second", "")
	r.Add(ErrShape, Pos{1, 1}, 1, "first", "")
	err := r.Problems.Err()
	if !errors.Is(err, ErrWord) || !errors.Is(err, ErrShape) || errors.Is(err, ErrTag) {
		t.Errorf("kinds of %v", err)
	}
	text := err.Error()
	if a, b, c := strings.Index(text, "first"), strings.Index(text, "second"), strings.Index(text, "third"); a < 0 || a > b || b > c {
		t.Errorf("out of order:\n%s", text)
	}
}

func TestNearest(t *testing.T) {
	known := []string{"conduit", "trunking", "cables", "circuit", "circuits", "to"}
	for word, want := range map[string]string{"condiut": "conduit", "Trunking": "trunking", "cable": "cables", "circiut": "circuit", "too": "to", "zebra": "", "": ""} {
		if got := Nearest(word, known); got != want {
			t.Errorf("%q: %q, want %q", word, got, want)
		}
	}
	// Two swapped neighbours are one slip; a letter changed is one too.
	for _, tt := range []struct {
		a, b string
		want int
	}{{"ab", "ba", 1}, {"abc", "abc", 0}, {"abc", "abd", 1}, {"abc", "ab", 1}, {"", "abc", 3}, {"ca", "abc", 3}} {
		if got := Slips(tt.a, tt.b, 9); got != tt.want {
			t.Errorf("%s to %s: %d, want %d", tt.a, tt.b, got, tt.want)
		}
	}
}

// What users typed, and what they had meant or not.
func TestNearestName(t *testing.T) {
	places := strings.Fields("board box1 s1 s2 s3 sw1 sw2 l1")
	kinds := []string{"board", "box", "socket", "light", "emergency light", "switch", "isolator", "cooker switch", "coupler", "inspection bend"}
	for _, tt := range []struct {
		word  string
		known []string
		want  string
	}{
		{"cooker", kinds, "cooker switch"},
		{"emergency", kinds, "emergency light"},
		{"load", kinds, ""},
		{"socket outlet", kinds, "socket"},
		{"boxing ring", kinds, ""},
		{"output", []string{"out", "json"}, "out"},
		{"s33", places, "s3"},
		{"s9", places, ""},
		{"sw9", places, ""},
		{"sww1", places, "sw1"},
		{"Box 1", places, "box1"},
		{"col", []string{"coupler", "cooker"}, ""},
	} {
		if got := Nearest(tt.word, tt.known); got != tt.want {
			t.Errorf("%q: %q, want %q", tt.word, got, tt.want)
		}
	}
}

// TestUnclosed finds the bracket or quote that has no other end.
func TestUnclosed(t *testing.T) {
	for text, want := range map[string]Pos{
		"a: 1\nb: [1, 2\nc: 3\n":                        {2, 4},
		"a: {b: [s1, s2, c: 3}\n":                       {1, 8},
		"a:\n  b: {c: [1, 2]\n  d: {e: 1}\n":            {2, 6},
		"a: [1,\n  2,\n  3\n":                           {1, 4},
		"a:\n  p: \"up 1, right 2\n  q: \"down 1\"\n":   {2, 6},
		"a: {p: \"up 1, right 2}\nb: {q: \"down 1\"}\n": {1, 8},
		"a: {b: 1]}\n":                                  {1, 9},
		"a: {b: [1]}}\nc: 2\n":                          {1, 12},
		"a: odd}}\nb: {c: odd}\nd: odd]\n":              {},
		"a: it's [fine\nb: # [\nc: [x]\nd: ['it''s', \"\\\"\"]\ne: [\n  1\n]\n- [y]\n": {},
	} {
		o, _ := unclosed([]byte(text))
		if o.at != want {
			t.Errorf("%q: at %v, want %v", text, o.at, want)
		}
	}
}

func TestSuggest(t *testing.T) {
	many := strings.Fields("a1 b2 c3 d4 e5 f6 g7 h8 i9 j10 k11 l12 m13")
	tests := []struct {
		word  string
		known []string
		want  string
	}{
		{"bord", []string{"board"}, "did you mean board?"},
		{"zebra", []string{"board", "box"}, "known: board, box"},
		{"zebra", many, "known: a1, b2, c3, d4, e5, f6, g7, h8, i9, j10, k11, l12, m13"},
		{"zebra", strings.Fields(strings.Repeat("a ", 42)), "known: " + strings.Repeat("a, ", 39) + "a and 2 more"},
		{"zebra", nil, ""},
	}
	for _, tt := range tests {
		if got := Suggest(tt.word, tt.known); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.word, got, tt.want)
		}
	}
}

func ExampleProblem() {
	r, root := Parse("boathouse.yaml", []byte("runs:\n  A: {from: board, too: bx1}\n"))
	run := root.Content[1].Content[1]
	r.AddNode(ErrWord, run.Content[2], "unknown word too", Suggest("too", []string{"from", "to", "in"}))
	fmt.Println(r.Problems.Err())
	// Output:
	// boathouse.yaml:2:20: unknown word too
	//     2 |   A: {from: board, too: bx1}
	//       |                    ^^^ did you mean to?
}
