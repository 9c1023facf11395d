package source

import (
	"bytes"
	"sync"
)

// splitFrom is the size from which a text is read in two halves at once.
const splitFrom = 1 << 18

// decodeHalves reads a large text on two cores: it cuts the block mapping that
// lies across the middle between two of its keys, reads both sides, and puts
// them together again. It answers only where the whole is certain to read the
// same: a cut inside a quoted text, a block of text or brackets leaves a side
// that does not read, and then the text is read as one.
//
// Cost: as reading the larger half.
func decodeHalves(text []byte) (*Node, bool) {
	c, ok := middle(text)
	if !ok {
		return nil, false
	}
	var parts [3]*Node
	var good [3]bool
	read := func(i int, part []byte) {
		root, second, err := decode(part)
		parts[i], good[i] = root, err == nil && second == nil
	}
	var wg sync.WaitGroup
	wg.Add(1)
	go func() {
		defer wg.Done()
		read(1, text[c.cut:c.end])
		read(2, text[c.end:])
		lines := bytes.Count(text[:c.cut], newline)
		shift(parts[1], lines)
		shift(parts[2], lines+bytes.Count(text[c.cut:c.end], newline))
	}()
	read(0, text[:c.cut])
	wg.Wait()
	root, rest, after := parts[0], parts[1], parts[2]
	if !good[0] || !good[1] || !good[2] || !isBlock(root) || !isBlock(rest) || after != nil && !isBlock(after) {
		return nil, false
	}
	last := root.Content[len(root.Content)-1]
	if !isBlock(last) || rest.Column != last.Column || after != nil && after.Column != root.Column {
		return nil, false
	}
	last.Content = append(last.Content, rest.Content...)
	if after != nil {
		root.Content = append(root.Content, after.Content...)
	}
	return root, true
}

var newline = []byte{'\n'}

// isBlock reports whether a node is a mapping with keys, written without
// brackets.
func isBlock(n *Node) bool {
	return n != nil && n.Kind == Mapping && len(n.Content) > 0 && n.Style == 0 && n.Anchor == ""
}

// shift moves a part's nodes down to their lines in the whole text.
func shift(n *Node, lines int) {
	if n == nil {
		return
	}
	n.Line += lines
	for _, c := range n.Content {
		shift(c, lines)
	}
}

// halves is where a text is cut: between two keys of one section, and where
// that section ends.
type halves struct{ cut, end int }

// odd are what makes the parts of a text depend on each other, or its lines
// hard to count.
var odd = [][]byte{[]byte("\n---"), []byte("\n..."), []byte("\n%"), []byte("\r"), []byte("\u0085"), []byte("\u2028"), []byte("\u2029"), []byte("\t")}

// middle looks for the cut nearest after the middle.
func middle(text []byte) (halves, bool) {
	if len(text) == 0 || text[0] == '-' || text[0] == '%' {
		return halves{}, false
	}
	for _, o := range odd {
		if bytes.Contains(text, o) {
			return halves{}, false
		}
	}
	head := len(text) / 2
	for head = lineStart(text, head); head > 0 && indent(text[head:]) != 0; {
		head = lineStart(text, head-1)
	}
	child := nextLine(text, head)
	for child < len(text) && indent(text[child:]) < 0 {
		child = nextLine(text, child)
	}
	deep := indent(text[min(child, len(text)):])
	if deep <= 0 {
		return halves{}, false
	}
	c := halves{cut: -1, end: len(text)}
	for at := nextLine(text, max(child, len(text)/2)); at < len(text); at = nextLine(text, at) {
		switch in := indent(text[at:]); {
		case in == 0:
			c.end = at
			return c, c.cut > 0
		case in == deep && c.cut < 0:
			c.cut = at
		}
	}
	return c, c.cut > 0
}

func lineStart(text []byte, at int) int { return bytes.LastIndexByte(text[:at], '\n') + 1 }

func nextLine(text []byte, at int) int {
	n := bytes.IndexByte(text[at:], '\n')
	if n < 0 {
		return len(text)
	}
	return at + n + 1
}

// indent is how many spaces a line starts with, -1 for a line that is empty or
// a comment.
func indent(line []byte) int {
	n := 0
	for n < len(line) && line[n] == ' ' {
		n++
	}
	if n == len(line) || line[n] == '\n' || line[n] == '#' {
		return -1
	}
	return n
}
