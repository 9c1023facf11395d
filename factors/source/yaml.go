package source

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Kinds of problem that any YAML file can have.
var (
	ErrSyntax    = errors.New("not YAML")
	ErrTooLarge  = errors.New("file too large")
	ErrAlias     = errors.New("alias or anchor")
	ErrDuplicate = errors.New("key given twice")
	ErrSecondDoc = errors.New("second document")
	ErrShape     = errors.New("wrong shape")
	ErrWord      = errors.New("unknown word")
	ErrTag       = errors.New("tag")
)

// Node is a YAML value with its place. Scalars are read as written: the
// library's own reading turns 010 into 8 and accepts .nan.
type Node = yaml.Node

// Kinds of Node.
const (
	Scalar   = yaml.ScalarNode
	Mapping  = yaml.MappingNode
	Sequence = yaml.SequenceNode
)

// Quoted is the Style of a Node between double quotes.
const Quoted = yaml.DoubleQuotedStyle

// At returns the place of a node.
func At(n *Node) Pos {
	if n == nil {
		return Pos{}
	}
	return Pos{int32(n.Line), int32(n.Column)}
}

// Reader reads one file and gathers what is wrong with it.
type Reader struct {
	File     *File
	Problems Problems

	last   Pos // where after looked last
	lastAt int // its byte in the text
}

// Add notes a problem that covers width characters from at.
func (r *Reader) Add(kind error, at Pos, width int, what, want string) *Problem {
	p := &Problem{File: r.File, At: at, Width: width, What: what, Want: want, Kind: kind}
	r.Problems = append(r.Problems, p)
	return p
}

// AddNode notes a problem with the whole of a scalar or key.
func (r *Reader) AddNode(kind error, n *Node, what, want string) *Problem {
	return r.Add(kind, At(n), width(n), what, want)
}

func width(n *Node) int {
	if n == nil || n.Kind != Scalar {
		return 1
	}
	w := utf8.RuneCountInString(n.Value)
	if n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0 {
		w += 2
	}
	return max(1, w)
}

// Parse reads text as a single YAML document without aliases, tags or keys
// given twice. The root is nil when the text is not YAML at all or is empty.
//
// Cost: linear in the text; a file of up to 2000 lines and 256 KiB with a
// syntax error is read some fifty times over to name the line.
func Parse(name string, text []byte) (*Reader, *Node) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	r := &Reader{File: NewFile(name, text)}
	if len(text) > MaxBytes {
		at, _ := r.File.lineAt(MaxBytes)
		r.Add(ErrTooLarge, Pos{at, 1}, 1, fmt.Sprintf("the file has %d bytes", len(text)), fmt.Sprintf("at most %d are read; the limit falls in this line", MaxBytes))
		return r, nil
	}
	if at := badByte(text); at >= 0 {
		if binary(text) {
			r.Add(ErrSyntax, Pos{}, 1, "the file is not text: a picture, a program or the like", "a job is a text file that starts with job: and a name")
			return r, nil
		}
		line, col := r.File.lineAt(at)
		r.Add(ErrSyntax, Pos{line, int32(col)}, 1, "the file is not UTF-8 text", "save it as UTF-8")
		return r, nil
	}
	if at := strayBreak(text); at >= 0 {
		line, col := r.File.lineAt(at)
		r.Add(ErrSyntax, Pos{line, int32(col)}, 1, "a line break of another system", "save the file with plain line ends")
		return r, nil
	}
	root, second, err := decodeLarge(text)
	if err != nil {
		r.syntax(text, err)
		return r, nil
	}
	if second != nil {
		r.Add(ErrSecondDoc, At(second), 3, "a second document starts here", "one job, one document: put it in a file of its own")
	}
	r.refuse(root)
	return r, root
}

// binary reports whether bytes that are no UTF-8 are no other text either: text
// has no zero bytes but in UTF-16, which starts with its mark.
func binary(text []byte) bool {
	if bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) {
		return false
	}
	return bytes.IndexByte(text, 0) >= 0
}

func badByte(text []byte) int {
	if utf8.Valid(text) {
		return -1
	}
	for at := 0; at < len(text); {
		c, n := utf8.DecodeRune(text[at:])
		if c == utf8.RuneError && n == 1 {
			return at
		}
		at += n
	}
	return -1
}

// strayBreak finds a line break that YAML counts and an editor may not: a
// carriage return by itself, or one of Unicode's own.
func strayBreak(text []byte) int {
	for at := 0; at < len(text); at++ {
		switch c := text[at]; {
		case c == '\r' && (at+1 == len(text) || text[at+1] != '\n'),
			c == 0xC2 && text[at+1] == 0x85,
			c == 0xE2 && text[at+1] == 0x80 && text[at+2]&^1 == 0xA8:
			return at
		}
	}
	return -1
}

// lineAt returns the line (from 1) and column of a byte offset.
func (f *File) lineAt(offset int) (line int32, col int) {
	lo, hi := 0, len(f.lines)
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; f.lines[mid] <= offset {
			lo = mid
		} else {
			hi = mid
		}
	}
	return int32(lo + 1), 1 + utf8.RuneCount(f.text[f.lines[lo]:offset])
}

// decodeLarge is decode, on two cores where the text is long enough to repay it.
func decodeLarge(text []byte) (root, second *Node, err error) {
	if len(text) >= splitFrom {
		if root, ok := decodeHalves(text); ok {
			return root, nil, nil
		}
	}
	return decode(text)
}

// decode returns the first document's root and the second document, if any.
func decode(text []byte) (root, second *Node, err error) {
	defer func() {
		// yaml.v3 panics on a few malformed inputs; for us that is a syntax error.
		if p := recover(); p != nil {
			err = fmt.Errorf("yaml: %v", p)
		}
	}()
	dec := yaml.NewDecoder(bytes.NewReader(text))
	var doc yaml.Node
	if err := dec.Decode(&doc); err != nil {
		if errors.Is(err, io.EOF) {
			return nil, nil, nil
		}
		return nil, nil, err
	}
	if len(doc.Content) > 0 {
		root = doc.Content[0]
	}
	var more yaml.Node
	switch err := dec.Decode(&more); {
	case errors.Is(err, io.EOF):
		return root, nil, nil
	case err != nil:
		return nil, nil, err
	}
	return root, &more, nil
}

// yamlLine finds the line in the library's complaint. It is compiled for the
// first complaint: most files have none.
var yamlLine = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`line (\d+): `) })

// syntax notes the library's complaint at the line after the longest prefix
// that still reads, which is nearer the slip than the line the library names.
func (r *Reader) syntax(text []byte, err error) {
	what := strings.TrimPrefix(err.Error(), "yaml: ")
	line := int32(1)
	if m := yamlLine().FindStringSubmatch(what); m != nil {
		n, _ := strconv.Atoi(m[1])
		line = int32(n)
		what = strings.Replace(what, m[0], "", 1)
	}
	good := int32(0)
	if len(r.File.lines) <= 2000 && len(text) <= 1<<18 {
		good = r.lastGood(text)
		line = good + 1
	}
	if o, ok := unclosed(text); ok && o.at.Line > good {
		what, want := o.complaint()
		r.Add(ErrSyntax, o.at, 1, what, want)
		return
	}
	line = min(line, int32(len(r.File.lines)))
	shown := r.File.Line(line)
	indent := shown[:len(shown)-len(strings.TrimLeft(shown, " \t"))]
	marked, _, _ := strings.Cut(strings.TrimSpace(shown), " #")
	what, want := plainly(what)
	if tab := strings.IndexByte(indent, '\t'); tab >= 0 {
		r.Add(ErrSyntax, Pos{line, int32(1 + tab)}, len(indent)-tab, "a tab sets this line in", "use spaces")
		return
	}
	r.Add(ErrSyntax, Pos{line, int32(1 + len(indent))}, max(1, utf8.RuneCountInString(strings.TrimSpace(marked))), what, want)
}

// plain says in plain words what the library's commonest complaints mean.
var plain = []struct{ theirs, what, want string }{
	{"unexpected end of stream", "a quote or a bracket opens here or above and does not close", "close it"},
	{"expected ',' or '}'", "a { is not closed, or a comma is missing", "write {key: value, key: value}"},
	{"expected ',' or ']'", "a [ is not closed, or a comma is missing", "write [one, two]"},
	{"expected key", "this line is not set in like its neighbours", "set in the keys of one thing by the same number of spaces"},
	{"expected '-' indicator", "a key stands among the entries of a list", "set the line in like its neighbours, and start it with - "},
	{"expected ':'", "a key without its colon", "write key: value"},
	{"mapping values are not allowed", "a colon too many, or a line set in too far", "put a text that has a colon in quotes"},
	{"cannot start any token", "a value starts with a sign that YAML keeps for itself", "put the value in quotes"},
	{"unknown anchor", "an alias of nothing", "write the value out"},
	{"control characters are not allowed", "a control character", "type the line afresh"},
}

func plainly(theirs string) (what, want string) {
	for _, p := range plain {
		if strings.Contains(theirs, p.theirs) {
			return p.what, p.want
		}
	}
	return theirs, "check the indent, the colons and the quotes here and just above"
}

// valueLines is how many lines a value written over several lines may have
// and still be looked past by lastGood.
const valueLines = 40

// lastGood returns how many leading lines read as YAML by themselves.
//
// It halves its way to a line that does not read. That may be the opening of a
// value over several lines which is in order once it has ended, so it looks
// for an end below and goes on from there.
func (r *Reader) lastGood(text []byte) int32 {
	reads := func(n int) bool {
		_, _, err := decode(text[:r.File.lines[n]])
		return err == nil
	}
	good, end := 0, len(r.File.lines)
	for range valueLines {
		for bad := end; bad-good > 1; {
			if mid := (good + bad) / 2; reads(mid) {
				good = mid
			} else {
				bad = mid
			}
		}
		past := good + 2
		for past < min(good+valueLines, end) && !reads(past) {
			past++
		}
		if past >= min(good+valueLines, end) {
			break
		}
		good = past
	}
	return int32(good)
}

// refuse walks the whole tree once and notes what YAML allows and we do not.
func (r *Reader) refuse(n *Node) {
	if n == nil {
		return
	}
	switch {
	case n.Kind == yaml.AliasNode:
		r.Add(ErrAlias, At(n), 1+len(n.Value), "an alias (*"+n.Value+") is not read here", "write the value out")
		return
	case n.Anchor != "":
		r.Add(ErrAlias, At(n), 1+len(n.Anchor), "an anchor (&"+n.Anchor+") is not read here", "write the value out")
	case n.Style&yaml.TaggedStyle != 0:
		r.Add(ErrTag, At(n), len(n.Tag), "a tag ("+n.Tag+") is not read here", "leave it out: units say what a value is")
	}
	if n.Kind == Mapping {
		r.refuseDuplicates(n)
	}
	for _, c := range n.Content {
		r.refuse(c)
	}
}

func (r *Reader) refuseDuplicates(n *Node) {
	if len(n.Content) < 4 {
		return
	}
	if len(n.Content) <= 32 {
		for i := 2; i < len(n.Content); i += 2 {
			for j := 0; j < i; j += 2 {
				if n.Content[j].Value == n.Content[i].Value && n.Content[i].Kind == Scalar && n.Content[j].Kind == Scalar {
					r.duplicate(n.Content[j], n.Content[i])
					break
				}
			}
		}
		return
	}
	first := make(map[string]*Node, len(n.Content)/2)
	for i := 0; i < len(n.Content); i += 2 {
		k := n.Content[i]
		if k.Kind != Scalar {
			continue
		}
		if f, seen := first[k.Value]; seen {
			r.duplicate(f, k)
			continue
		}
		first[k.Value] = k
	}
}

func (r *Reader) duplicate(first, again *Node) {
	p := r.AddNode(ErrDuplicate, again, again.Value+" is given twice", "one of the two must go")
	p.Also, p.AlsoS = At(first), "first given"
}
