package source

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// opened is a bracket or a quote that waits for its other end.
type opened struct {
	sign   rune
	at     Pos
	indent int // of the line it stands in
}

// closers are the signs that end what another opens.
var closers = map[rune]rune{'[': ']', '{': '}', '"': '"', '\'': '\''}

// brackets looks for the bracket or quote of a text that is not YAML which has
// no other end.
type brackets struct {
	open  []opened
	start bool // a value may start here: elsewhere a bracket is a letter like any other
	ended bool // the outermost bracket has just closed
}

// unclosed returns the first bracket or quote that is open where it cannot be:
// at the end, at another's end, or at a line set in no further than its own;
// or the first end of a bracket that nothing opens.
func unclosed(text []byte) (o opened, ok bool) {
	b := brackets{}
	line := int32(0)
	for one := range strings.Lines(string(text)) {
		line++
		one = strings.TrimRight(one, "\r\n")
		in := indent([]byte(one))
		if n := len(b.open); n > 0 && in >= 0 && in <= b.open[0].indent && !isEnd(one[in:], b.open) {
			return b.open[n-1], true
		}
		if o, bad := b.line(one, line, max(0, in)); bad {
			return o, true
		}
	}
	if n := len(b.open); n > 0 {
		return b.open[n-1], true
	}
	return opened{}, false
}

// isEnd reports whether a line starts with the end of what is open.
func isEnd(rest string, open []opened) bool {
	r, _ := utf8.DecodeRuneInString(rest)
	return r == closers[open[len(open)-1].sign]
}

// line reads one line and returns what another's end leaves open.
func (b *brackets) line(text string, line int32, in int) (left opened, bad bool) {
	b.start, b.ended = true, false
	runes := []rune(text)
	for i := 0; i < len(runes); i++ {
		r := runes[i]
		ended := b.ended
		b.ended = ended && r == ' '
		top := rune(0)
		if n := len(b.open); n > 0 {
			top = b.open[n-1].sign
		}
		switch {
		case top == '"' && r == '\\', top == '\'' && r == '\'' && i+1 < len(runes) && runes[i+1] == '\'':
			i++ // the next sign is a letter
		case top == '"' || top == '\'':
			if r == top {
				b.open = b.open[:len(b.open)-1]
				b.start = false
			}
		case r == '#' && (i == 0 || runes[i-1] == ' '):
			return opened{}, false
		case (r == '[' || r == '{') && (b.start || top != 0), (r == '"' || r == '\'') && b.start:
			b.open = append(b.open, opened{r, Pos{line, int32(i + 1)}, in})
			b.start = true
		case (r == ']' || r == '}') && (top != 0 || ended):
			switch {
			case !b.opens(r):
				return opened{r, Pos{line, int32(i + 1)}, in}, true
			case closers[top] != r:
				return b.open[len(b.open)-1], true
			}
			b.open = b.open[:len(b.open)-1]
			b.start, b.ended = false, len(b.open) == 0
		default:
			b.start = b.starts(runes, i, top != 0)
		}
	}
	return opened{}, false
}

// opens reports whether something open ends so.
func (b *brackets) opens(end rune) bool {
	return slices.ContainsFunc(b.open, func(o opened) bool { return closers[o.sign] == end })
}

// complaint says what is wrong with what unclosed returns.
func (o opened) complaint() (what, want string) {
	switch o.sign {
	case '"', '\'':
		return "a quote is not closed", "close it with " + string(o.sign)
	case ']', '}':
		return "a " + string(o.sign) + " that nothing opens", "leave it out, or open it before"
	}
	return "a " + string(o.sign) + " is not closed", "close it with " + string(closers[o.sign])
}

// starts reports whether a value may start behind the sign at i.
func (b *brackets) starts(runes []rune, i int, inside bool) bool {
	switch runes[i] {
	case ' ':
		return b.start
	case ',':
		return inside
	case ':', '-', '?':
		spaced := i+1 == len(runes) || runes[i+1] == ' '
		return spaced && (runes[i] == ':' || b.start)
	}
	return false
}
