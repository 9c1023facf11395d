// Package source keeps track of where words stand in a file, so that every
// complaint can name the file, the line and the column, show the line and
// point at the word.
//
// Table files and job files both come through here. A Problem is a value: the
// reader gathers all of them and the command prints them in the order of the
// file.
package source

import (
	"bytes"
	"errors"
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"
)

// MaxBytes is the largest file that is read at all.
const MaxBytes = 16 << 20

// Pos is a place in a file: line and column from 1, the column in characters.
// The zero Pos means "nowhere in the file".
type Pos struct{ Line, Col int32 }

// Known reports whether p names a place.
func (p Pos) Known() bool { return p.Line > 0 }

// Right returns the place n characters further along the line.
func (p Pos) Right(n int) Pos { return Pos{p.Line, p.Col + int32(n)} }

// Before reports whether p stands before q in the file.
func (p Pos) Before(q Pos) bool {
	return p.Line < q.Line || p.Line == q.Line && p.Col < q.Col
}

// File is a named text whose lines can be shown.
type File struct {
	Name  string
	Typed bool // a command line, whose lines have no numbers
	text  []byte
	lines []int // offset of each line's first byte
}

// NewFile indexes text under a name.
func NewFile(name string, text []byte) *File {
	f := &File{Name: name, text: text, lines: make([]int, 1, 1+bytes.Count(text, []byte{'\n'}))}
	for at := 0; ; {
		next := bytes.IndexByte(text[at:], '\n')
		if next < 0 {
			return f
		}
		at += next + 1
		f.lines = append(f.lines, at)
	}
}

// Text returns the whole text. It is not to be changed.
func (f *File) Text() []byte { return f.text }

// Line returns the text of line n (from 1) without its line end, "" where
// there is none.
func (f *File) Line(n int32) string {
	if n < 1 || int(n) > len(f.lines) {
		return ""
	}
	line := f.text[f.lines[n-1]:]
	if end := bytes.IndexByte(line, '\n'); end >= 0 {
		line = line[:end]
	}
	return strings.TrimSuffix(string(line), "\r")
}

// Problem is one reason why a file cannot be understood.
type Problem struct {
	File  *File
	At    Pos
	Width int    // characters to mark, at least one
	What  string // the fact, lower case, no full stop
	Want  string // what would be right; may be empty
	Also  Pos    // a second place, such as the first of two equal names
	AlsoS string // what stands there: "first given"
	Kind  error  // for errors.Is; may be nil
}

// Is lets errors.Is find the kind of a problem.
func (p *Problem) Is(kind error) bool { return p.Kind != nil && errors.Is(p.Kind, kind) }

// Error prints the problem on one to three lines:
//
//	boathouse.yaml:4:17: no cable factor for 3.5 mm²
//	    4 |     cables: 4 x 3.5
//	      |                 ^^^ sizes in the table: 1, 1.5, 2.5, …
func (p *Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File.Name)
	if p.At.Known() && !p.File.Typed {
		fmt.Fprintf(&b, ":%d:%d", p.At.Line, p.At.Col)
	}
	b.WriteString(": " + strings.Map(printable, p.What))
	if p.Also.Known() {
		fmt.Fprintf(&b, " (%s at line %d)", p.AlsoS, p.Also.Line)
	}
	line := p.File.Line(p.At.Line)
	if strings.TrimSpace(line) == "" {
		if p.Want != "" {
			b.WriteString("; " + strings.Map(printable, p.Want))
		}
		return b.String()
	}
	p.showLine(&b, line)
	return b.String()
}

// maxShown is how much of a long line is shown around the marked word.
const maxShown = 110

func (p *Problem) showLine(b *strings.Builder, line string) {
	runes := []rune(strings.ToValidUTF8(line, "\uFFFD"))
	col := min(max(0, int(p.At.Col)-1), len(runes))
	from := 0
	if len(runes) > maxShown && col > maxShown/2 {
		from = min(col-maxShown/2, len(runes)-maxShown)
	}
	to := min(len(runes), from+maxShown)
	shown := strings.Map(printable, string(runes[from:to]))
	lead, tail := "", ""
	if from > 0 {
		lead = "…"
	}
	if to < len(runes) {
		tail = "…"
	}
	number := fmt.Sprint(p.At.Line)
	if p.File.Typed {
		number = ""
	}
	fmt.Fprintf(b, "\n%5s | %s%s%s", number, lead, shown, tail)
	width := max(1, min(p.Width, to-col))
	at := utf8.RuneCountInString(lead) + col - from
	fmt.Fprintf(b, "\n      | %s%s", strings.Repeat(" ", at), strings.Repeat("^", width))
	p.showHint(b, at+width+1)
}

// maxHint is how long the lines of a hint are that has no room behind the mark.
const maxHint = 100

// showHint prints what would be right behind the mark where it fits, else
// beneath it.
func (p *Problem) showHint(b *strings.Builder, at int) {
	want := strings.Map(printable, p.Want)
	if want == "" {
		return
	}
	if at+utf8.RuneCountInString(want) <= maxShown {
		b.WriteString(" " + want)
		return
	}
	col := 0
	for _, word := range strings.Split(want, " ") {
		w := utf8.RuneCountInString(word)
		if col == 0 || col+1+w > maxHint {
			b.WriteString("\n      |   ")
			col = 2
		} else {
			b.WriteString(" ")
			col++
		}
		b.WriteString(word)
		col += w
	}
}

// printable shows a tab as one space, so that the caret stands under its word,
// and any other control character as a sign for it: what a file says must not
// steer the terminal that shows it.
func printable(r rune) rune {
	switch {
	case r == '\t':
		return ' '
	case r < ' ' || r >= 0x7f && r < 0xa0:
		return '\uFFFD'
	}
	return r
}

// Problems is what is wrong with one file, in the order of the file.
type Problems []*Problem

// mostPrinted is how many problems are printed; nobody reads on.
const mostPrinted = 200

// Error prints the problems, one after another, and how many more there are.
func (ps Problems) Error() string {
	texts := make([]string, 0, min(len(ps), mostPrinted+1))
	for i, p := range ps {
		if i == mostPrinted {
			texts = append(texts, fmt.Sprintf("%s: and %d more", p.File.Name, len(ps)-i))
			break
		}
		texts = append(texts, p.Error())
	}
	return strings.Join(texts, "\n")
}

// Unwrap lets errors.Is and errors.As look at every problem.
func (ps Problems) Unwrap() []error {
	errs := make([]error, len(ps))
	for i, p := range ps {
		errs[i] = p
	}
	return errs
}

// Err returns the problems in the order of the file, or nil when there are
// none.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	sort.SliceStable(ps, func(i, j int) bool { return ps[i].At.Before(ps[j].At) })
	return ps
}
