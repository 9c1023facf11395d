package source

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"
)

// TestParseProblems: each case is the smallest file that raises the kind.
func TestParseProblems(t *testing.T) {
	tests := []struct {
		name, text string
		kind       error
		at         Pos
		width      int
		what       string
	}{
		{"duplicate", "a: 1\nb: 2\na: 3\n", ErrDuplicate, Pos{3, 1}, 1, "a is given twice"},
		{"duplicate among many", manyKeys(40) + "k7: 1\n", ErrDuplicate, Pos{41, 1}, 2, "k7 is given twice"},
		{"duplicate deeper", "a: {b: 1, b: 2}\n", ErrDuplicate, Pos{1, 11}, 1, "b is given twice"},
		{"anchor", "a: &x 1\n", ErrAlias, Pos{1, 4}, 2, "an anchor (&x) is not read here"},
		{"alias", "a: &x 1\nb: *x\n", ErrAlias, Pos{2, 4}, 2, "an alias (*x) is not read here"},
		{"tag", "a: !!str 1\n", ErrTag, Pos{1, 4}, 5, "a tag (!!str) is not read here"},
		{"second document", "a: 1\n---\nb: 2\n", ErrSecondDoc, Pos{2, 1}, 3, "a second document starts here"},
		{"a picture", "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", ErrSyntax, Pos{}, 1, "the file is not text"},
		{"a program", "\x7fELF\x02\x01\x01\x00\xff", ErrSyntax, Pos{}, 1, "the file is not text"},
		{"UTF-16", "\xff\xfea\x00", ErrSyntax, Pos{1, 1}, 1, "the file is not UTF-8 text"},
		{"not UTF-8", "a: 1\nb: é\xff\n", ErrSyntax, Pos{2, 5}, 1, "the file is not UTF-8 text"},
		{"lone carriage return", "a: 1\rb: 2\n", ErrSyntax, Pos{1, 5}, 1, "a line break of another system"},
		{"break of Unicode", "a: 1\nb: x\u2028c: 2\n", ErrSyntax, Pos{2, 5}, 1, "a line break of another system"},
		{"tab to indent", "a:\n\tb: 1\n", ErrSyntax, Pos{2, 1}, 1, "a tab sets this line in"},
		{"list never closed", "a: 1\nb: [1, 2\nc: 3\n", ErrSyntax, Pos{2, 4}, 1, "a [ is not closed"},
		{"wrong indent", "a:\n    b: 1\n  c: 2\n", ErrSyntax, Pos{3, 3}, 4, "not set in like its neighbours"},
		{"colon in a word", "a: 1\nb: c: d\n", ErrSyntax, Pos{2, 1}, 7, "a colon too many"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r, _ := Parse("f.yaml", []byte(tt.text))
			for _, p := range r.Problems {
				if errors.Is(p, tt.kind) && p.At == tt.at && p.Width == tt.width && strings.Contains(p.What, tt.what) {
					return
				}
			}
			t.Errorf("want %v at %v, %d wide; got\n%v", tt.kind, tt.at, tt.width, r.Problems)
		})
	}
}

func manyKeys(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "k%d: %d\n", i, i)
	}
	return b.String()
}

func TestParseAllAtOnce(t *testing.T) {
	r, root := Parse("f.yaml", []byte("a: &x 1\nb: *x\nb: 2\nc: !t 3\n---\nd: 4\n"))
	if len(r.Problems) != 5 || root == nil {
		t.Errorf("%d problems of 5:\n%v", len(r.Problems), r.Problems)
	}
}

func TestParseGood(t *testing.T) {
	for _, text := range []string{"", "# only a comment\n", "\ufeff"} {
		if r, root := Parse("f.yaml", []byte(text)); root != nil || len(r.Problems) > 0 {
			t.Errorf("%q: %v, %v", text, root, r.Problems)
		}
	}
	r, root := Parse("f.yaml", []byte("\ufeffa: 010\nb: yes\n# note\nc: [1, 'two']\n"))
	if len(r.Problems) > 0 || root.Content[1].Value != "010" || root.Content[3].Value != "yes" {
		t.Errorf("scalars are not as written: %v", r.Problems)
	}
	if at := At(root.Content[5].Content[1]); at != (Pos{4, 8}) || At(nil).Known() {
		t.Errorf("'two' at %v", at)
	}
}

// TestInside finds a place within a scalar's text.
func TestInside(t *testing.T) {
	r, root := Parse("f.yaml", []byte("a: 6 mé x\nb: '6 m'\nc: |\n  6 m\nd: up 1,\n   down 2\n"))
	for i, want := range []Pos{{1, 9}, {2, 8}, {3, 4}, {6, 9}} {
		n := root.Content[2*i+1]
		offset := []int{6, 3, 2, 11}[i]
		if got := r.Inside(n, offset); got != want {
			t.Errorf("%q + %d: %v, want %v", n.Value, offset, got, want)
		}
	}
}

func TestParseTooLarge(t *testing.T) {
	text := []byte(strings.Repeat("# a line of comment, forty bytes long ..\n", MaxBytes/41+1))
	r, root := Parse("f.yaml", text)
	if root != nil || !errors.Is(r.Problems.Err(), ErrTooLarge) || r.Problems[0].At.Line != MaxBytes/41+1 {
		t.Errorf("%v", r.Problems)
	}
	if r, _ := Parse("f.yaml", text[:MaxBytes]); len(r.Problems) > 0 {
		t.Errorf("the largest file read: %v", r.Problems)
	}
}

// TestSyntaxLine: the line named is the one after the longest part that reads,
// past values over several lines, and it is found without reading a long file
// line by line.
func TestSyntaxLine(t *testing.T) {
	lines := strings.Split(manyKeys(1900), "\n")
	lines[500], lines[501], lines[502], lines[503] = "list: [1,", "  2,", "  3,", "  4]"
	lines[900], lines[901] = `text: "over two`, `  lines"`
	for _, wrong := range []int{1, 450, 504, 899, 902, 1400, 1898} {
		broken := append([]string(nil), lines...)
		broken[wrong] = "  bad: : ["
		r, _ := Parse("f.yaml", []byte(strings.Join(broken, "\n")))
		if len(r.Problems) != 1 || r.Problems[0].At.Line != int32(wrong+1) {
			t.Errorf("wrong in line %d: %v", wrong+1, r.Problems)
		}
	}
}

// FuzzParse: no text panics, and every problem and node stands in the file.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"a: 1\nb: [x, {c: d}]\n", "a: &x 1\nb: *x\n", "a: 1\n---\nb: 2\n", "\t", "a:\n\tb", "? [a]\n: b\n", "\"\\x00\": 1\n", "a: !!map\n", "- - -", "%YAML 1.2\n---\na", "a\r\nb: : \r", "<<: {a: 1}\n", "?"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		start := time.Now()
		r, root := Parse("f.yaml", text)
		for _, p := range r.Problems {
			if p.At.Line < 1 || int(p.At.Line) > len(r.File.lines) || p.What == "" || p.Width < 1 {
				t.Fatalf("%q: problem at %v, %d wide: %s", text, p.At, p.Width, p.What)
			}
		}
		if err := r.Problems.Err(); err != nil && err.Error() == "" {
			t.Fatalf("%q: an empty message", text)
		}
		walk(root, func(n *Node) {
			// The library puts the missing value of a lone ? below the last line.
			if at := r.Inside(n, len(n.Value)/2); int(at.Line) > len(r.File.lines)+1 {
				t.Fatalf("%q: %q at %v", text, n.Value, at)
			}
		})
		if d := time.Since(start); d > 5*time.Second {
			t.Fatalf("%d bytes took %v", len(text), d)
		}
	})
}

func walk(n *Node, visit func(*Node)) {
	if n == nil {
		return
	}
	visit(n)
	for _, c := range n.Content {
		walk(c, visit)
	}
}

func BenchmarkParse(b *testing.B) {
	text := []byte(manyKeys(200))
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if r, _ := Parse("f.yaml", text); len(r.Problems) > 0 {
			b.Fatal(r.Problems)
		}
	}
}
