// Package factors holds what the published tables say. A table is a data file;
// a look-up returns the number and where it stands, never one alone.
package factors

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"tubewright/factors/units"
)

// Between says what to do with a value between two rows.
type Between uint8

// The policies, as table files write them.
const (
	Exact       Between = iota + 1 // "exact": only tabulated values
	NextLarger                     // "next larger": the row above holds
	NextSmaller                    // "next smaller": the row below holds
	Linear                         // "linear": in proportion between the two rows
)

var betweenWords = map[string]Between{"exact": Exact, "next larger": NextLarger, "next smaller": NextSmaller, "linear": Linear}

func (b Between) String() string {
	for w, v := range betweenWords {
		if v == b {
			return w
		}
	}
	return "not said"
}

// Provenance says how we know a figure.
type Provenance uint8

// The ways of knowing, as table files write them.
const (
	Read           Provenance = iota + 1 // seen in a published page named as a source
	Memory                               // known, but not seen again
	CommonPractice                       // common practice, no source
	Derived                              // worked out here from figures that are cited
)

var provenanceWords = map[string]Provenance{"read": Read, "memory": Memory, "common practice": CommonPractice, "derived": Derived}

func (p Provenance) String() string {
	for w, v := range provenanceWords {
		if v == p {
			return w
		}
	}
	return "not said"
}

// Source is a page that a table was read from or checked against.
type Source struct{ Title, URL, Agrees string }

// Axis is one of the things a table is looked up by.
type Axis struct {
	Name    string // "length"
	Unit    string // "m"; "" where the key is a count or a word
	Between Between
	Bands   bool // a row is for all above the row before: over 16 to 25 mm
}

// Key is a row's or column's name: a number or a word.
type Key struct {
	Num  float64
	Word string
}

// Num is the key of a number.
func Num[T ~float64 | ~int](v T) Key { return Key{Num: float64(v)} }

// Word is the key of a word.
func Word(s string) Key { return Key{Word: s} }

func (k Key) String() string {
	if k.Word != "" {
		return k.Word
	}
	return units.Format(k.Num)
}

// Table is one published table.
type Table struct {
	ID, Title string
	Standard  string // where it is published, in full
	Ref       string // the same, short enough for brackets
	Unit      string // of the values, "1" for a pure number
	Prov      Provenance
	Detail    string // how far the provenance goes
	Sources   []Source
	Checked   string // the day somebody last compared it
	Notes     []string
	Axes      []Axis

	root node
}

// node is the table below one key: more keys, or a cell at the end.
type node struct {
	keys  []Key // numbers in rising order, words as the file has them
	kids  []node
	value float64 // NaN where the table has no figure
	cite  *Citation
}

// Value is a number from a table and where it stands there.
type Value struct {
	Num  float64
	Unit string
	Cite *Citation
}

// Citation names a cell.
type Citation struct {
	Table *Table
	Keys  []Key
	Prov  Provenance
}

// String is the short form for brackets beside a sum: OSG E4: 2 bends, 6 m,
// 25 mm. A figure that rests on memory says so.
func (c *Citation) String() string { return c.Table.Ref + ": " + c.cell() + c.remark() }

// Full names the standard as well.
func (c *Citation) Full() string { return c.Table.Standard + ": " + c.cell() + c.remark() }

func (c *Citation) remark() string {
	switch c.Prov {
	case Memory:
		return " (from memory)"
	case CommonPractice:
		return " (common practice, no source)"
	case Derived:
		return " (derived here)"
	}
	return ""
}

func (c *Citation) cell() string {
	parts := make([]string, len(c.Keys))
	for i, k := range c.Keys {
		switch a := c.Table.Axes[i]; {
		case k.Word != "":
			parts[i] = k.Word
		case a.Bands:
			parts[i] = c.Table.band(c.Keys[:i], k) + " " + a.Unit
		case a.Unit != "":
			parts[i] = k.String() + " " + a.Unit
		case k.Num == 1:
			parts[i] = "1 " + strings.TrimSuffix(a.Name, "s")
		default:
			parts[i] = k.String() + " " + a.Name
		}
	}
	return strings.Join(parts, ", ")
}

// band is what a row is for, under the keys before it: up to 16, over 16 to 25.
func (t *Table) band(before []Key, k Key) string {
	n := &t.root
	for _, b := range before {
		i, _ := n.search(b)
		n = &n.kids[i]
	}
	if i, _ := n.search(k); i > 0 {
		return "over " + n.keys[i-1].String() + " to " + k.String()
	}
	return "up to " + k.String()
}

// Why a table gives no figure.
var (
	ErrNoRow     = errors.New("not in the table")
	ErrPastTable = errors.New("past the end of the table")
)

// Miss says at which axis a look-up failed and what the table has there: no
// keys where it has the row and leaves the cell empty.
type Miss struct {
	Table *Table
	Axis  Axis
	Asked Key
	Known []Key
	Kind  error // ErrNoRow or ErrPastTable
}

func (m *Miss) Error() string {
	what := m.Asked.String()
	if m.Axis.Unit != "" {
		what += " " + m.Axis.Unit
	}
	switch {
	case len(m.Known) == 0:
		return fmt.Sprintf("%s has no figure at %s %s", m.Table.Ref, m.Axis.Name, what)
	case m.Kind == ErrPastTable:
		word, end := "ends", m.Known[len(m.Known)-1]
		if m.Asked.Num < m.Known[0].Num {
			word, end = "starts", m.Known[0]
		}
		return fmt.Sprintf("%s %s at %s %s; %s is past it", m.Table.Ref, word, m.Axis.Name, strings.TrimSpace(end.String()+" "+m.Axis.Unit), what)
	}
	return fmt.Sprintf("%s has no %s %s; it has %s", m.Table.Ref, m.Axis.Name, what, m.KnownList())
}

// KnownList lists the table's keys at the axis that failed.
func (m *Miss) KnownList() string {
	names := make([]string, len(m.Known))
	for i, k := range m.Known {
		names[i] = k.String()
	}
	return strings.Join(names, ", ")
}

// Is lets errors.Is tell a missing row from the table's end.
func (m *Miss) Is(kind error) bool { return m.Kind == kind }

// At looks a value up, one key for each axis in order. It returns a *Miss
// when the table has no figure.
//
// Cost: a binary search an axis.
func (t *Table) At(keys ...Key) (Value, error) {
	if len(keys) != len(t.Axes) {
		panic(fmt.Sprintf("table %s has %d axes, asked with %d keys", t.ID, len(t.Axes), len(keys)))
	}
	return t.find(&t.root, 0, keys)
}

func (t *Table) find(n *node, depth int, keys []Key) (Value, error) {
	for ; depth < len(keys); depth++ {
		i, exact := n.search(keys[depth])
		if exact {
			n = &n.kids[i]
			continue
		}
		axis := t.Axes[depth]
		if axis.Between == Linear && i > 0 && i < len(n.keys) {
			return t.interpolate(n, i, depth, keys)
		}
		switch {
		case keys[depth].Word != "" || axis.Between == Exact || math.IsNaN(keys[depth].Num):
			return Value{}, t.miss(n, depth, keys[depth], ErrNoRow)
		case axis.Between == NextSmaller && i > 0:
			i--
		case axis.Between == NextLarger && i < len(n.keys):
		default:
			return Value{}, t.miss(n, depth, keys[depth], ErrPastTable)
		}
		n = &n.kids[i]
	}
	if math.IsNaN(n.value) {
		return Value{}, &Miss{Table: t, Axis: t.Axes[depth-1], Asked: keys[depth-1], Kind: ErrNoRow}
	}
	return Value{n.value, t.Unit, n.cite}, nil
}

func (t *Table) miss(n *node, depth int, asked Key, kind error) *Miss {
	return &Miss{Table: t, Axis: t.Axes[depth], Asked: asked, Known: n.keys, Kind: kind}
}

func (t *Table) interpolate(n *node, i, depth int, keys []Key) (Value, error) {
	low, err := t.find(&n.kids[i-1], depth+1, keys)
	if err != nil {
		return Value{}, err
	}
	high, err := t.find(&n.kids[i], depth+1, keys)
	if err != nil {
		return Value{}, err
	}
	a, b := n.keys[i-1].Num, n.keys[i].Num
	share := (keys[depth].Num - a) / (b - a)
	prov := max(low.Cite.Prov, high.Cite.Prov)
	// A copy, so that the keys of an ordinary look-up need not leave the stack.
	return Value{low.Num + share*(high.Num-low.Num), t.Unit, &Citation{t, slices.Clone(keys), prov}}, nil
}

// search returns where k stands or would stand among the node's keys.
func (n *node) search(k Key) (int, bool) {
	if k.Word != "" {
		for i := range n.keys {
			if n.keys[i].Word == k.Word {
				return i, true
			}
		}
		return 0, false
	}
	lo, hi := 0, len(n.keys)
	for lo < hi {
		if mid := (lo + hi) / 2; n.keys[mid].Num < k.Num {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo, lo < len(n.keys) && n.keys[lo].Word == "" && n.keys[lo].Num == k.Num
}

// Keys lists what the table has at the axis after the given keys; nil when
// those lead nowhere.
func (t *Table) Keys(before ...Key) []Key {
	n := &t.root
	for _, k := range before {
		i, ok := n.search(k)
		if !ok {
			return nil
		}
		n = &n.kids[i]
	}
	return n.keys
}

// Cells visits every figure in the order of the file.
func (t *Table) Cells(visit func(v Value, keys []Key)) { t.root.cells(t, visit) }

func (n *node) cells(t *Table, visit func(Value, []Key)) {
	if n.cite != nil {
		visit(Value{n.value, t.Unit, n.cite}, n.cite.Keys)
	}
	for i := range n.kids {
		n.kids[i].cells(t, visit)
	}
}
