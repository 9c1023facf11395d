package route

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"tubewright/factors/source"
	"tubewright/factors/units"
)

// csvColumns are the columns that must be there.
var csvColumns = []string{"circuit", "point", "test", "value"}

// CSVExtra are columns of the printed sheet that a file of readings may keep;
// only the unit is read.
var CSVExtra = []string{"unit", "expected", "least", "most", "live", "formula", "source", "verdict", "means"}

// row is one line of a CSV file, cell by cell.
type row []*source.Node

// measuredCSV reads lines of circuit, point, test and value. A line without a
// value is a test not done yet.
func measuredCSV(j *Job, name string, text []byte) *measuring {
	if len(text) > source.MaxBytes || !utf8.Valid(text) {
		r, _ := source.Parse(name, text) // which says where
		return newMeasuring(j, r)
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	m := newMeasuring(j, &source.Reader{File: source.NewFile(name, text)})
	rows := m.rows(text)
	if len(rows) == 0 {
		if len(m.Problems) == 0 {
			m.Add(ErrJob, source.Pos{Line: 1, Col: 1}, 1, "the file is empty", "start with circuit,point,test,value")
		}
		return m
	}
	column, ok := m.header(rows[0])
	for _, r := range rows[1:] {
		if ok {
			m.line(r, column)
		}
	}
	return m
}

// rows splits the text into cells with their places.
func (m *measuring) rows(text []byte) []row {
	r := csv.NewReader(bytes.NewReader(text))
	r.FieldsPerRecord, r.Comment, r.TrimLeadingSpace = -1, '#', true
	var rows []row
	for {
		cells, err := r.Read()
		var bad *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			return rows
		case errors.As(err, &bad):
			m.badQuote(bad)
			continue
		}
		line := make(row, len(cells))
		for i, cell := range cells {
			at, col := r.FieldPos(i)
			line[i] = &source.Node{Kind: source.Scalar, Value: strings.TrimSpace(cell), Line: at, Column: int(m.column(at, col))}
		}
		rows = append(rows, line)
	}
}

// badQuote reports a quote that stands inside a cell, or opens one and is not
// closed.
func (m *measuring) badQuote(bad *csv.ParseError) {
	if bad.StartLine < bad.Line {
		col := 1 + strings.IndexByte(m.File.Line(int32(bad.StartLine)), '"')
		m.Add(source.ErrSyntax, source.Pos{Line: int32(bad.StartLine), Col: m.column(bad.StartLine, col)}, 1, "a quote that opens here or below is not closed", "close it in its own line")
		return
	}
	at := source.Pos{Line: int32(bad.Line), Col: m.column(bad.Line, bad.Column)}
	m.Add(source.ErrSyntax, at, 1, "a quote out of place", "put the whole cell in quotes and write a quote inside it twice")
}

// column turns a column in bytes into one in characters.
func (m *measuring) column(line, bytesCol int) int32 {
	text := m.File.Line(int32(line))
	return int32(1 + utf8.RuneCountInString(text[:max(0, min(len(text), bytesCol-1))]))
}

// header finds the columns by their names.
func (m *measuring) header(head row) (map[string]int, bool) {
	column, before := map[string]int{}, len(m.Problems)
	known := append(slices.Clone(csvColumns), CSVExtra...)
	for i, c := range head {
		_, again := column[c.Value]
		switch {
		case strings.Contains(c.Value, ";"):
			m.AddNode(source.ErrSyntax, c, "the cells are not separated by commas", "circuit,point,test,value")
			return nil, false
		case again:
			m.AddNode(source.ErrDuplicate, c, "column "+c.Value+" is given twice", "one of the two must go")
		case !slices.Contains(known, c.Value):
			m.AddNode(ErrKey, c, "unknown column "+c.Value, source.Suggest(c.Value, known))
		}
		column[c.Value] = i
	}
	whole := len(m.Problems) == before
	for _, name := range csvColumns {
		if _, found := column[name]; !found && whole {
			m.AddNode(ErrMissing, head[0], "no column "+name, "start with circuit,point,test,value")
		}
	}
	return column, len(m.Problems) == before
}

// line reads one reading.
func (m *measuring) line(r row, column map[string]int) {
	cell := func(name string) *source.Node {
		if i, found := column[name]; found && i < len(r) {
			return r[i]
		}
		return &source.Node{Kind: source.Scalar, Line: r[0].Line, Column: r[0].Column}
	}
	if extra := len(column); len(r) > extra {
		m.AddNode(ErrValue, r[extra], "more cells than columns", "put a cell with a comma in quotes, and write a decimal point")
		return
	}
	value := m.withUnit(cell("value"), cell("unit"))
	if value.Value == "" {
		return
	}
	circuit, point, test := cell("circuit"), cell("point"), cell("test")
	if circuit.Value == "" && test.Value == "ambient" {
		m.ambient(value)
		return
	}
	t := testNamed(test.Value)
	if t == 0 {
		m.AddNode(ErrKey, test, "unknown test "+test.Value, source.Suggest(test.Value, testWords[1:]))
		return
	}
	if reading, ok := m.where(t, circuit, point); ok && m.once(reading, test) {
		m.read(reading, value)
	}
}

// once reports a reading given in an earlier line.
func (m *measuring) once(r Reading, test *source.Node) bool {
	what := reading{r.Circuit, r.Point, r.Test}
	at, again := m.first[what]
	if again {
		p := m.AddNode(source.ErrDuplicate, test, test.Value+" is given twice", "one of the two must go")
		p.Also, p.AlsoS = at, "first given"
		return false
	}
	m.first[what] = source.At(test)
	return true
}

// where finds the circuit and the point that a line is of.
func (m *measuring) where(t Test, circuit, point *source.Node) (r Reading, ok bool) {
	r = Reading{Circuit: -1, Point: -1, Test: t}
	switch {
	case t.OfSupply() && (circuit.Value != "" || point.Value != ""):
		m.AddNode(ErrConflict, circuit, t.String()+" is measured at the origin", "leave circuit and point empty")
		return r, false
	case t.OfSupply():
		return r, true
	case circuit.Value == "":
		m.AddNode(ErrMissing, circuit, t.String()+" is of a circuit, and the line names none", "the name of the circuit")
		return r, false
	}
	if r.Circuit, ok = m.circuit(circuit); !ok {
		return r, false
	}
	switch {
	case t.OfPoint() && point.Value == "":
		m.AddNode(ErrMissing, circuit, t.String()+" is of a point, and the line names none", "the name of the point")
		return r, false
	case t.OfPoint():
		r.Point, ok = m.point(r.Circuit, point)
		return r, ok
	case point.Value != "":
		want := "leave the point empty"
		if t == CPCEnds {
			want += "; the cpc at a point is R2"
		}
		m.AddNode(ErrConflict, point, t.String()+" is of the circuit as a whole", want)
		return r, false
	}
	return r, true
}

// withUnit joins a bare number and the cell with its unit.
func (m *measuring) withUnit(value, unit *source.Node) *source.Node {
	if _, rest, err := units.Number(strings.TrimLeft(strings.TrimPrefix(value.Value, ">"), " ")); unit.Value == "" || err != nil || rest != "" {
		return value
	}
	joined := *value
	joined.Value += " " + unit.Value
	return &joined
}
