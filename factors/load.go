package factors

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"path"
	"slices"
	"strings"
	"sync"

	"tubewright/factors/source"
	"tubewright/factors/units"
)

// Family is a rule family's folder of tables. A table is read when it is first
// asked for: reading all of them at the start would cost more than the rest of
// a small job.
type Family struct {
	Name string
	fsys fs.FS
	dir  string

	mu     sync.RWMutex
	tables map[string]*Table
}

// NewFamily serves the tables dir/ID.yaml of a file system.
func NewFamily(name string, fsys fs.FS, dir string) *Family {
	return &Family{Name: name, fsys: fsys, dir: dir, tables: map[string]*Table{}}
}

// Table returns the table of that name. It panics when the name or the file is
// wrong: both are our own mistake, and a test reads every table.
func (f *Family) Table(id string) *Table {
	f.mu.RLock()
	t := f.tables[id]
	f.mu.RUnlock()
	if t != nil {
		return t
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if t := f.tables[id]; t != nil {
		return t
	}
	file := path.Join(f.dir, id+".yaml")
	text, err := fs.ReadFile(f.fsys, file)
	if err == nil {
		t, err = ParseTable(file, text)
	}
	if err == nil && t.ID != id {
		err = fmt.Errorf("its id is %q", t.ID)
	}
	if err != nil {
		panic(fmt.Sprintf("table %s of %s: %v", id, f.Name, err))
	}
	f.tables[id] = t
	return t
}

// IDs lists the tables by name, in order.
func (f *Family) IDs() []string {
	entries, err := fs.ReadDir(f.fsys, f.dir)
	if err != nil {
		panic(err) // the folder is embedded
	}
	var ids []string
	for _, e := range entries {
		if id, ok := strings.CutSuffix(e.Name(), ".yaml"); ok {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return ids
}

// ErrTable is the kind of every problem with a table file's content.
var ErrTable = errors.New("table file")

// ParseTable reads one table file. The error is a source.Problems.
func ParseTable(name string, text []byte) (*Table, error) {
	r, root := source.Parse(name, text)
	l := &loader{Reader: r, t: &Table{}}
	switch {
	case len(r.Problems) > 0:
	case root == nil || root.Kind != source.Mapping:
		r.Add(ErrTable, source.Pos{Line: 1, Col: 1}, 1, "a table file is a list of keys", "start with id:")
	default:
		l.table(root)
	}
	return l.t, r.Problems.Err()
}

type loader struct {
	*source.Reader
	t       *Table
	columns []Key
	memory  []*pattern
}

// pattern marks cells that are known from memory only.
type pattern struct {
	keys []Key // the word * for any
	at   *source.Node
	used bool
}

func (l *loader) bad(n *source.Node, what, want string) { l.AddNode(ErrTable, n, what, want) }

var tableKeys = []string{"id", "title", "standard", "ref", "unit", "provenance", "detail", "sources", "checked", "notes", "axes", "columns", "memory", "rows"}

func (l *loader) table(root *source.Node) {
	var rows *source.Node
	for i := 0; i < len(root.Content); i += 2 {
		k, v := root.Content[i], root.Content[i+1]
		switch k.Value {
		case "id":
			l.t.ID = v.Value
		case "title":
			l.t.Title = v.Value
		case "standard":
			l.t.Standard = v.Value
		case "ref":
			l.t.Ref = v.Value
		case "unit":
			l.t.Unit = v.Value
		case "provenance":
			if l.t.Prov = provenanceWords[v.Value]; l.t.Prov == 0 {
				l.bad(v, "unknown provenance", "read, memory, common practice or derived")
			}
		case "detail":
			l.t.Detail = v.Value
		case "checked":
			l.t.Checked = v.Value
		case "sources":
			l.sources(v)
		case "notes":
			l.t.Notes = l.words(v)
		case "axes":
			l.axes(v)
		case "columns":
			l.columns = keysOf(l.words(v))
		case "memory":
			for _, c := range v.Content {
				l.memory = append(l.memory, &pattern{keys: keysOf(l.words(c)), at: c})
			}
		case "rows":
			rows = v
		default:
			l.bad(k, "unknown key "+k.Value, source.Suggest(k.Value, tableKeys))
		}
	}
	if rows == nil || len(l.t.Axes) == 0 {
		l.bad(root, "a table needs axes and rows", "")
		return
	}
	l.t.root = l.rows(rows, nil)
	for _, m := range l.memory {
		if !m.used {
			l.bad(m.at, "no cell matches this", "one key or * for each axis")
		}
	}
}

func (l *loader) words(n *source.Node) []string {
	if n.Kind != source.Sequence {
		l.bad(n, "expected a list", "[a, b]")
		return nil
	}
	var out []string
	for _, c := range n.Content {
		if c.Kind != source.Scalar {
			l.bad(c, "expected a word or number", "")
			continue
		}
		out = append(out, c.Value)
	}
	return out
}

func (l *loader) sources(n *source.Node) {
	for _, c := range n.Content {
		var s Source
		for i := 0; i+1 < len(c.Content); i += 2 {
			switch v := c.Content[i+1].Value; c.Content[i].Value {
			case "title":
				s.Title = v
			case "url":
				s.URL = v
			case "agrees":
				s.Agrees = v
			default:
				l.bad(c.Content[i], "unknown key", "title, url, agrees")
			}
		}
		if s.Title == "" {
			l.bad(c, "a source needs a title", "{title: …}")
		}
		l.t.Sources = append(l.t.Sources, s)
	}
}

func (l *loader) axes(n *source.Node) {
	for _, c := range n.Content {
		var a Axis
		for i := 0; i+1 < len(c.Content); i += 2 {
			v := c.Content[i+1]
			switch c.Content[i].Value {
			case "name":
				a.Name = v.Value
			case "unit":
				a.Unit = v.Value
			case "between":
				a.Between = betweenWords[v.Value]
			case "bands":
				a.Bands = v.Value == "true"
			default:
				l.bad(c.Content[i], "unknown key", "name, unit, between, bands")
			}
		}
		if a.Name == "" || a.Between == 0 {
			l.bad(c, "an axis needs a name and between", "exact, next larger, next smaller or linear")
		}
		l.t.Axes = append(l.t.Axes, a)
	}
}

// key reads a row's name: a number where it is one.
func key(s string) Key {
	if v, rest, err := units.Number(s); err == nil && rest == "" {
		return Key{Num: v}
	}
	return Key{Word: s}
}

func keysOf(words []string) []Key {
	keys := make([]Key, len(words))
	for i, w := range words {
		keys[i] = key(w)
	}
	return keys
}

// rows reads the table below the keys so far: a mapping, a list under the
// columns, or a cell.
func (l *loader) rows(n *source.Node, above []Key) node {
	switch {
	case len(above) == len(l.t.Axes):
		return l.cell(n, above)
	case n.Kind == source.Mapping && len(n.Content) > 0:
		out := node{value: math.NaN()}
		for i := 0; i < len(n.Content); i += 2 {
			if n.Content[i].Value == "" {
				l.bad(n.Content[i], "a row needs a name", "a number or a word")
				continue
			}
			k := key(n.Content[i].Value)
			out.keys = append(out.keys, k)
			out.kids = append(out.kids, l.rows(n.Content[i+1], append(slices.Clone(above), k)))
		}
		l.rising(n, out.keys)
		return out
	case n.Kind == source.Sequence && len(above) == len(l.t.Axes)-1:
		if len(n.Content) != len(l.columns) {
			l.bad(n, fmt.Sprintf("%d values for %d columns", len(n.Content), len(l.columns)), "one for each column")
			return node{value: math.NaN()}
		}
		out := node{value: math.NaN(), keys: l.columns}
		for i, c := range n.Content {
			out.kids = append(out.kids, l.rows(c, append(slices.Clone(above), l.columns[i])))
		}
		l.rising(n, out.keys)
		return out
	}
	l.bad(n, fmt.Sprintf("expected %s here", l.t.Axes[len(above)].Name), "")
	return node{value: math.NaN()}
}

// rising notes keys that a search would not find.
func (l *loader) rising(n *source.Node, keys []Key) {
	for i := 1; i < len(keys); i++ {
		k, last := keys[i], keys[i-1]
		mixed := (k.Word == "") != (last.Word == "")
		if mixed || k.Word == "" && k.Num <= last.Num || slices.Contains(keys[:i], k) {
			l.bad(n, fmt.Sprintf("%s follows %s", k, last), "numbers in rising order, or different words")
		}
	}
}

func (l *loader) cell(n *source.Node, keys []Key) node {
	if n.Kind == source.Scalar && (n.Value == "null" || n.Value == "~") {
		return node{value: math.NaN()}
	}
	v, rest, err := units.Number(n.Value)
	if n.Kind != source.Scalar || err != nil || rest != "" {
		l.bad(n, "expected a number", "null where the table has no figure")
		return node{value: math.NaN()}
	}
	prov := l.t.Prov
	for _, m := range l.memory {
		if m.covers(keys) {
			prov, m.used = Memory, true
		}
	}
	return node{value: v, cite: &Citation{l.t, keys, prov}}
}

// covers reports whether the pattern matches a cell.
func (m *pattern) covers(cell []Key) bool {
	if len(m.keys) != len(cell) {
		return false
	}
	for i, k := range m.keys {
		if k.Word != "*" && k != cell[i] {
			return false
		}
	}
	return true
}
