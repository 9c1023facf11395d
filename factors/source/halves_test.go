package source

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// same reports the first difference between two trees, in what a reader sees.
func same(a, b *Node) string {
	switch {
	case (a == nil) != (b == nil):
		return "one is missing"
	case a == nil:
		return ""
	case a.Kind != b.Kind || a.Value != b.Value || a.Line != b.Line || a.Column != b.Column || a.Style != b.Style || a.Tag != b.Tag || a.Anchor != b.Anchor:
		return fmt.Sprintf("%q at %d:%d, not %q at %d:%d", a.Value, a.Line, a.Column, b.Value, b.Line, b.Column)
	case len(a.Content) != len(b.Content):
		return fmt.Sprintf("%d parts at %d:%d, not %d", len(a.Content), a.Line, a.Column, len(b.Content))
	}
	for i := range a.Content {
		if d := same(a.Content[i], b.Content[i]); d != "" {
			return d
		}
	}
	return ""
}

// A text read in halves reads as it does whole, or is not read in halves.
func checkHalves(t interface{ Fatalf(string, ...any) }, text []byte) bool {
	got, ok := decodeHalves(text)
	if !ok {
		return false
	}
	want, second, err := decode(text)
	if err != nil || second != nil {
		t.Fatalf("read in halves, but not whole (%v):\n%s", err, text)
	}
	if d := same(got, want); d != "" {
		t.Fatalf("%s in\n%s", d, text)
	}
	return true
}

func TestHalves(t *testing.T) {
	for _, c := range []struct {
		name, text string
		split      bool
	}{
		{"sections", "a: 1\nb:\n  x: 1\n  y: {p: 1,\n    q: 2}\n  z: 3\n  w: 4\nc:\n  v: 1\n", true},
		{"comments and empty lines", "b:\n  # first\n  x: 1\n\n  y: 2\n  # between\n  z: 3\n\nc: 5\n", true},
		{"brackets across the middle", "b: {\n  x: 1,\n  y: 2,\n  z: 3}\n", false},
		{"a quoted text across the middle", "b:\n  x: \"one\n  two\n  three\n  four: 5\"\n", false},
		{"a block of text", "b: |\n  x: 1\n  y: 2\n  z: 3\n  w: 4\n", false},
		{"a list", "b:\n  - x: 1\n  - y: 2\n  - z: 3\n  - w: 4\n", false},
		{"two documents", "b:\n  x: 1\n  y: 2\n---\nc:\n  z: 3\n  w: 4\n", false},
		{"an alias to the other half", "b:\n  x: &a 1\n  y: 2\n  z: 3\n  w: *a\n", false},
		{"carriage returns", "b:\r\n  x: 1\r\n  y: 2\r\n  z: 3\r\n", false},
		{"nothing to cut", "b: 1\nc: 2\nd: 3\n", false},
		{"empty", "", false},
	} {
		if got := checkHalves(t, []byte(c.text)); got != c.split {
			t.Errorf("%s: read in halves %v, want %v", c.name, got, c.split)
		}
	}
}

// Random texts of keys, values of every style and comments, some of them torn.
func TestHalvesProperty(t *testing.T) {
	value := rapid.SampledFrom([]string{" 1", " {a: 1, b: [2, 3]}", " \"x: y\"", " 'it''s'", "\n    deep: 1\n    more: {a: 1}", " |\n    text: 1\n    more", " >\n    folded",
		" [1,\n  2]", " \"torn\n  x: 1\"", " plain\n    goes: on", " # remark", "\n  - 1\n  - 2", " {torn: 1", " *a", " &a 1", " !!str 1"})
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		for s := range rapid.IntRange(1, 4).Draw(t, "sections") {
			fmt.Fprintf(&b, "s%d:\n", s)
			for k := range rapid.IntRange(1, 8).Draw(t, "keys") {
				fmt.Fprintf(&b, "  k%d:%s\n", k, value.Draw(t, "value"))
				if rapid.Bool().Draw(t, "remark") {
					b.WriteString(rapid.SampledFrom([]string{"\n", "# col 0\n", "  # deep\n"}).Draw(t, "between"))
				}
			}
		}
		checkHalves(t, []byte(b.String()))
	})
}

func FuzzHalves(f *testing.F) {
	f.Add("a: 1\nb:\n  x: 1\n  y: 2\n  z: 3\nc: 2\n")
	f.Add("b: |\n  x: 1\n  y: 2\n")
	f.Fuzz(func(t *testing.T, text string) { checkHalves(t, []byte(text)) })
}
