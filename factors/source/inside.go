package source

import (
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Inside returns the place of a byte offset in a scalar's text, also where the
// text goes on over several lines. In a text written with escapes it is the
// scalar's own place.
//
// Cost: linear in the offset and the scalar's column.
func (r *Reader) Inside(n *Node, offset int) Pos {
	at := At(n)
	if offset > len(n.Value) || n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		return at
	}
	raw := r.after(at)
	p := at
	if n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0 && len(raw) > 0 {
		raw, p = raw[1:], p.Right(1)
	}
	for i := 0; ; {
		want, width := utf8.DecodeRuneInString(n.Value[i:])
		got, step := utf8.DecodeRune(raw)
		switch {
		case i >= offset && (i == len(n.Value) || got == want):
			return p
		case got == want && want != '\n':
			i, p = i+width, p.Right(1)
		case got == '\n':
			// YAML folds the break and the indent after it into one space.
			if want == ' ' || want == '\n' {
				i += width
			}
			p = Pos{p.Line + 1, 1}
		case step > 0 && strings.ContainsRune(" \t\r", got):
			p = p.Right(1)
		default:
			return at
		}
		raw = raw[step:]
	}
}

// after returns the text that starts at a place. Places further along one line
// are found from the one before, so that a list in a long line is not walked
// from its start for each entry.
func (r *Reader) after(p Pos) []byte {
	if p.Line < 1 || int(p.Line) > len(r.File.lines) {
		return nil
	}
	if r.last.Line != p.Line || p.Before(r.last) {
		r.last, r.lastAt = Pos{p.Line, 1}, r.File.lines[p.Line-1]
	}
	for ; r.last.Col < p.Col; r.last.Col++ {
		_, n := utf8.DecodeRune(r.File.text[r.lastAt:])
		r.lastAt += n
	}
	return r.File.text[r.lastAt:]
}
