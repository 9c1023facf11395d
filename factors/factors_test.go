package factors_test

import (
	"errors"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"tubewright/factors"
	"tubewright/factors/source"
)

// head is a table file up to its axes.
const head = `id: t
title: A table
standard: none
ref: T1
unit: A
provenance: read
sources: [{title: "a book", url: "x", agrees: "yes"}]
checked: 2026-11-25
notes: [one, two]
`

func parse(t *testing.T, text string) *factors.Table {
	t.Helper()
	table, err := factors.ParseTable("t.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return table
}

func TestParseTable(t *testing.T) {
	table := parse(t, head+`detail: all of it
axes:
  - {name: make, between: exact}
  - {name: length, unit: m, between: next larger}
  - {name: size, unit: mm, between: exact}
columns: [16, 20]
memory: [["*", 6, 20]]
rows:
  steel: {3: [1, 2], 6: [3, 4.5]}
  plastic: {3: [5, null]}
`)
	if table.ID != "t" || table.Ref != "T1" || table.Unit != "A" || table.Prov != factors.Read || table.Detail != "all of it" || table.Checked != "2026-11-25" ||
		len(table.Notes) != 2 || len(table.Sources) != 1 || table.Sources[0] != (factors.Source{Title: "a book", URL: "x", Agrees: "yes"}) {
		t.Errorf("%+v", table)
	}
	v, err := table.At(factors.Word("steel"), factors.Num(5), factors.Num(20))
	if err != nil || v.Num != 4.5 || v.Unit != "A" {
		t.Errorf("%+v, %v", v, err)
	}
	if got, want := v.Cite.String(), "T1: steel, 6 m, 20 mm (from memory)"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got, want := v.Cite.Full(), "none: steel, 6 m, 20 mm (from memory)"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if keys := table.Keys(factors.Word("steel")); len(keys) != 2 || keys[1] != factors.Num(6) {
		t.Errorf("%v", keys)
	}
	if keys := table.Keys(factors.Word("wood")); keys != nil {
		t.Errorf("%v", keys)
	}
	cells := 0
	table.Cells(func(factors.Value, []factors.Key) { cells++ })
	if cells != 5 {
		t.Errorf("%d cells, want the 5 that have figures", cells)
	}
}

func TestBetween(t *testing.T) {
	tests := []struct {
		between string
		asked   float64
		want    float64 // NaN: a miss
		miss    string
	}{
		{"exact", 20, 200, ""}, {"exact", 21, math.NaN(), "T1 has no size 21 mm; it has 10, 20, 40"},
		{"next larger", 21, 400, ""}, {"next larger", 5, 100, ""}, {"next larger", 41, math.NaN(), "T1 ends at size 40 mm; 41 mm is past it"},
		{"next smaller", 39, 200, ""}, {"next smaller", 99, 400, ""}, {"next smaller", 9, math.NaN(), "T1 starts at size 10 mm; 9 mm is past it"},
		{"linear", 25, 250, ""}, {"linear", 10, 100, ""}, {"linear", 41, math.NaN(), "T1 ends at size 40 mm; 41 mm is past it"}, {"linear", 9, math.NaN(), "T1 starts at size 10 mm; 9 mm is past it"},
		{"next larger", math.NaN(), math.NaN(), "T1 has no size NaN mm; it has 10, 20, 40"},
	}
	for _, tt := range tests {
		table := parse(t, head+"axes: [{name: size, unit: mm, between: "+tt.between+"}]\nrows: {10: 100, 20: 200, 40: 400}\n")
		if got := table.Axes[0].Between.String(); got != tt.between {
			t.Errorf("%s reads as %s", tt.between, got)
		}
		v, err := table.At(factors.Num(tt.asked))
		switch {
		case math.IsNaN(tt.want) && (err == nil || err.Error() != tt.miss):
			t.Errorf("%s %v: %v, %v; want %s", tt.between, tt.asked, v.Num, err, tt.miss)
		case !math.IsNaN(tt.want) && (err != nil || v.Num != tt.want):
			t.Errorf("%s %v: %v, %v; want %v", tt.between, tt.asked, v.Num, err, tt.want)
		}
	}
}

// TestInterpolate: in two directions a linear table is a plane here, and an
// empty cell makes a hole, not a guess.
func TestInterpolate(t *testing.T) {
	text := head + `axes: [{name: a, between: linear}, {name: b, between: linear}]
columns: [1, 3]
memory: [[4, "*"]]
rows: {0: [10, 30], 4: [50, 70], 8: [90, null]}
`
	table := parse(t, text)
	a, b := 1.0, 2.5
	v, err := table.At(factors.Num(a), factors.Num(b))
	if want := 10*a + 10*b; err != nil || math.Abs(v.Num-want) > 1e-12 || v.Cite.Prov != factors.Memory {
		t.Errorf("%v, %v; want %v, from memory", v.Num, err, want)
	}
	if got, want := v.Cite.String(), "T1: 1 a, 2.5 b (from memory)"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if v, err := table.At(factors.Num(6), factors.Num(2)); err == nil {
		t.Errorf("%v across an empty cell", v.Num)
	}
}

func TestMiss(t *testing.T) {
	table := parse(t, head+`axes: [{name: make, between: exact}, {name: circuits, between: next larger}]
rows: {steel: {1: 1, 2: null}}
`)
	tests := []struct {
		keys [2]factors.Key
		want string
		kind error
	}{
		{[2]factors.Key{factors.Word("wood"), factors.Num(1)}, "T1 has no make wood; it has steel", factors.ErrNoRow},
		{[2]factors.Key{factors.Word("steel"), factors.Num(3)}, "T1 ends at circuits 2; 3 is past it", factors.ErrPastTable},
		{[2]factors.Key{factors.Word("steel"), factors.Word("two")}, "T1 has no circuits two; it has 1, 2", factors.ErrNoRow},
		{[2]factors.Key{factors.Word("steel"), factors.Num(2)}, "T1 has no figure at circuits 2", factors.ErrNoRow},
		{[2]factors.Key{factors.Num(1), factors.Num(2)}, "T1 has no make 1; it has steel", factors.ErrNoRow},
	}
	for _, tt := range tests {
		_, err := table.At(tt.keys[0], tt.keys[1])
		var m *factors.Miss
		if !errors.As(err, &m) || !errors.Is(err, tt.kind) || err.Error() != tt.want || m.Table != table {
			t.Errorf("%v: %v; want %s", tt.keys, err, tt.want)
		}
	}
	v, err := table.At(factors.Word("steel"), factors.Num(1))
	if err != nil || v.Cite.String() != "T1: steel, 1 circuit" {
		t.Errorf("%v, %v", v.Cite, err)
	}
}

func TestAtNeedsEveryKey(t *testing.T) {
	table := parse(t, head+"axes: [{name: a, between: exact}]\nrows: {1: 1}\n")
	defer func() {
		if recover() == nil {
			t.Error("two keys for one axis")
		}
	}()
	_, _ = table.At(factors.Num(1), factors.Num(2))
}

// TestBrokenTables: each case is a slip in a table file and where it is shown.
func TestBrokenTables(t *testing.T) {
	axis := "axes: [{name: a, between: exact}]\n"
	two := "axes: [{name: a, between: exact}, {name: b, between: exact}]\ncolumns: [1, 2]\n"
	tests := []struct {
		name, text, want string
		line             int32
	}{
		{"empty", "", "a table file is a list of keys", 1},
		{"a list", "- 1\n", "a table file is a list of keys", 1},
		{"not YAML", "a: [\n", "", 1},
		{"unknown key", axis + "rowes: {1: 1}\nrows: {1: 1}\n", "unknown key rowes", 2},
		{"no axes", "rows: {1: 1}\n", "a table needs axes and rows", 1},
		{"no rows", axis, "a table needs axes and rows", 1},
		{"provenance", axis + "provenance: heard\nrows: {1: 1}\n", "unknown provenance", 2},
		{"axis without policy", "axes: [{name: a}]\nrows: {1: 1}\n", "an axis needs a name and between", 1},
		{"axis key", "axes: [{name: a, between: exact, size: 1}]\nrows: {1: 1}\n", "unknown key", 1},
		{"source key", axis + "sources: [{title: b, page: 1}]\nrows: {1: 1}\n", "unknown key", 2},
		{"source title", axis + "sources: [{url: b}]\nrows: {1: 1}\n", "a source needs a title", 2},
		{"notes", axis + "notes: one\nrows: {1: 1}\n", "expected a list", 2},
		{"notes deeper", axis + "notes: [[one]]\nrows: {1: 1}\n", "expected a word or number", 2},
		{"falling", axis + "rows: {2: 1, 1: 1}\n", "1 follows 2", 2},
		{"twice", axis + "rows: {1: 1, 1.0: 1}\n", "1 follows 1", 2},
		{"words and numbers", axis + "rows: {1: 1, b: 1}\n", "b follows 1", 2},
		{"columns twice", "axes: [{name: a, between: exact}]\ncolumns: [b, c, b]\nrows: [1, 2, 3]\n", "b follows c", 3},
		{"no name", axis + "rows: {'': 1}\n", "a row needs a name", 2},
		{"no figure", axis + "rows: {1: ten}\n", "expected a number", 2},
		{"comma", axis + "rows: {1: '2,5'}\n", "expected a number", 2},
		{"list for a cell", axis + "rows: {1: [1]}\n", "expected a number", 2},
		{"few values", two + "rows:\n  1: [1, 2]\n  2: [1]\n", "1 values for 2 columns", 5},
		{"cell too soon", two + "rows: {1: 1}\n", "expected b here", 3},
		{"empty rows", axis + "rows: {}\n", "expected a here", 2},
		{"memory of nothing", axis + "memory: [[3]]\nrows: {1: 1}\n", "no cell matches this", 2},
		{"memory of other axes", axis + "memory: [['*', '*']]\nrows: {1: 1}\n", "no cell matches this", 2},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := factors.ParseTable("t.yaml", []byte(tt.text))
			var all source.Problems
			if !errors.As(err, &all) {
				t.Fatalf("%v", err)
			}
			for _, p := range all {
				if strings.Contains(p.What, tt.want) && p.At.Line == tt.line {
					return
				}
			}
			t.Errorf("want %q at line %d:\n%v", tt.want, tt.line, err)
		})
	}
}

func TestFamily(t *testing.T) {
	files := fstest.MapFS{
		"data/t.yaml":     {Data: []byte(head + "axes: [{name: a, between: exact}]\nrows: {1: 1}\n")},
		"data/other.yaml": {Data: []byte(head + "axes: [{name: a, between: exact}]\nrows: {1: 1}\n")},
		"data/wrong.yaml": {Data: []byte("rows: [")},
		"data/notes.txt":  {Data: []byte("no table")},
	}
	f := factors.NewFamily("test", files, "data")
	if got := strings.Join(f.IDs(), " "); got != "other t wrong" {
		t.Errorf("tables %s", got)
	}
	if first := f.Table("t"); f.Table("t") != first {
		t.Error("read twice")
	}
	for id, want := range map[string]string{"other": `its id is "t"`, "wrong": "wrong.yaml:1", "none": "not exist"} {
		func() {
			defer func() {
				if p, _ := recover().(string); !strings.Contains(p, want) {
					t.Errorf("%s: %s", id, p)
				}
			}()
			f.Table(id)
		}()
	}
	if f.Table("t") == nil {
		t.Error("a broken table locks the family")
	}
}

// FuzzTable: no file panics, and what is read answers for every cell it has.
func FuzzTable(f *testing.F) {
	for _, s := range []string{
		head + "axes: [{name: a, between: linear}]\nrows: {1: 1, 2: null}\n",
		"axes: [{name: a, between: exact}, {name: b, unit: m, between: next larger}]\ncolumns: [1, 2]\nmemory: [['*', 2]]\nrows: {x: [1, 2], y: {3: 4}}\n",
		"axes: [[a]]\nrows: {1: 1}\n", "axes: a\nrows: [1]\n", "memory: [1]\naxes: [{}]\nrows: {1: {}}\n", "sources: {a: 1}\n", "rows: {? [1] : 1}\naxes: [{name: a, between: exact}]\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		table, err := factors.ParseTable("t.yaml", text)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an empty message")
			}
			return
		}
		table.Cells(func(v factors.Value, keys []factors.Key) {
			if got, err := table.At(keys...); err != nil || got != v {
				t.Fatalf("%q: %v reads %v, %v; the cell has %v", text, keys, got, err, v)
			}
			if v.Cite.String() == "" || math.IsNaN(v.Num) {
				t.Fatalf("%q: %v", text, v)
			}
		})
		odd := make([]factors.Key, len(table.Axes))
		for i := range odd {
			odd[i] = factors.Num(1.5 + float64(i))
		}
		if _, err := table.At(odd...); err != nil && err.Error() == "" {
			t.Fatal("an empty message")
		}
	})
}
