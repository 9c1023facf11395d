package route

import (
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"
	"unicode/utf8"

	"tubewright/factors/source"
	"tubewright/factors/units"
)

// keys yields the keys of a mapping with their values. A key that is not known
// is reported and, where it is a slip for one that is not there, yielded as
// that one: one slip, one complaint.
func (p *parser) keys(n *source.Node, what string, known []string) iter.Seq2[string, *source.Node] {
	return func(yield func(string, *source.Node) bool) {
		if n.Kind != source.Mapping {
			p.AddNode(ErrValue, n, what+" is a list of keys", "write {key: value, …}")
			return
		}
		split := false
		for i := 0; i < len(n.Content); i += 2 {
			k, v := n.Content[i], n.Content[i+1]
			key := k.Value
			if k.Kind != source.Scalar || !slices.Contains(known, key) {
				var ok bool
				if joined := p.colon(k, v, known); joined != nil {
					key, v = k.Value[:len(k.Value)-len(joined.Value)-1], joined
				} else if key, ok = p.unknown(n, k, known, &split); !ok {
					continue
				}
			}
			if i+2 < len(n.Content) {
				v = p.decimal(v, n.Content[i+2])
			}
			if p.key = key; !yield(key, v) {
				return
			}
		}
	}
}

// unknown reports a key that is not known and returns the one that it is a
// slip for. Parts of one value that commas have split are reported once.
func (p *parser) unknown(n, k *source.Node, known []string, split *bool) (key string, ok bool) {
	switch {
	case k.Kind != source.Scalar:
		p.AddNode(ErrKey, k, "a key must be a word", "one of "+strings.Join(known, ", "))
		return "", false
	case p.joined == k:
		return "", false
	case isStep(k.Value):
		if !*split {
			p.AddNode(ErrKey, k, "a step of a path stands alone", "inside { } put the whole path in quotes: path: \"up 0.9, right 2.4\"")
		}
		*split = true
		return "", false
	case isCables(k.Value):
		if !*split {
			p.AddNode(ErrKey, k, "part of a list of cables stands alone", "inside { } put all cables in quotes: cables: \"6 x 2.5, 4 x 1.5\"")
		}
		*split = true
		return "", false
	}
	near := source.Nearest(k.Value, known)
	want := source.Known(known)
	if other := elsewhere(k.Value, near); other != "" {
		near, want = "", other+"; known here: "+strings.TrimPrefix(want, "known: ")
	}
	if near != "" {
		want = "did you mean " + near + "?" + allKeys(partOf(known))
	}
	p.AddNode(ErrKey, k, "unknown key "+k.Value, want)
	return near, near != "" && !hasKey(n, near)
}

// colon notices a colon without a space after it, or none, which makes key and
// value one word. It reports it and returns the value.
func (p *parser) colon(k, v *source.Node, known []string) *source.Node {
	if k.Kind != source.Scalar || v.Kind != source.Scalar || v.Value != "" {
		return nil
	}
	key, rest, found := strings.Cut(k.Value, ":")
	what := "a colon without a space after it"
	if !found {
		key, what = firstKey(k.Value, known), "no colon after the key"
		rest = strings.TrimPrefix(k.Value[len(key):], " ")
	}
	if !slices.Contains(known, key) || !found && isDigit(rest, 0) && isStep(k.Value) {
		return nil
	}
	value := *k
	value.Value, value.Column = rest, k.Column+utf8.RuneCountInString(key)+1
	p.Add(ErrKey, source.Pos{Line: int32(k.Line), Col: int32(value.Column - 1)}, 1, what, "write "+key+": "+rest)
	return &value
}

// firstKey returns the longest known key that a text starts with, as a word
// and before more.
func firstKey(text string, known []string) (key string) {
	for _, k := range known {
		if len(k) > len(key) && strings.HasPrefix(text, k+" ") {
			key = k
		}
	}
	return key
}

func isStep(key string) bool {
	first, _, _ := strings.Cut(key, " ")
	_, walked := directions[first]
	return walked || first == "set" || first == "double" || first == "bubble" || first == "angle"
}

func isCables(key string) bool {
	_, rest, err := units.Number(key)
	return err == nil && strings.HasPrefix(strings.TrimLeft(rest, " "), "x ")
}

// decimal notices a decimal comma inside { }: it splits 6,5 m into a value and
// a key. It reports the comma and returns the number meant.
func (p *parser) decimal(v, next *source.Node) *source.Node {
	if v.Kind != source.Scalar || v.Value == "" || v.Line != next.Line || !isDigit(next.Value, 0) || !isDigit(v.Value, len(v.Value)-1) {
		return v
	}
	comma := v.Column + utf8.RuneCountInString(v.Value)
	if next.Column != comma+1 || isCables(next.Value) {
		return v
	}
	joined := *v
	joined.Value += "." + next.Value
	p.joined = next
	p.Add(ErrValue, source.Pos{Line: int32(v.Line), Col: int32(comma)}, 1, "a comma inside a number", "write a point: "+joined.Value)
	return &joined
}

func isDigit(s string, i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }

// names reads a mapping of named things and keeps them in the order of the
// file. Names given twice are reported by the reader already.
func (p *parser) names(n *source.Node, what string, read func(k, v *source.Node)) {
	if n.Kind != source.Mapping {
		p.AddNode(ErrValue, n, what+" is a list of names", "write {name: {key: value, …}, …}")
		p.broken[what] = true
		return
	}
	seen := make(map[string]bool, len(n.Content)/2)
	for i := 0; i < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if seen[k.Value] {
			if p.twice == nil {
				p.twice = map[string][]*twin{}
			}
			p.twice[what] = append(p.twice[what], &twin{name: k.Value, at: source.At(k)})
		}
		seen[k.Value] = true
		switch {
		case k.Kind != source.Scalar:
			p.AddNode(ErrValue, k, "a name must be a word", "such as A or bx1")
			p.broken[what] = true
			continue
		case strings.TrimSpace(k.Value) == "" || utf8.RuneCountInString(k.Value) > mostName:
			p.AddNode(ErrValue, k, "a name must have 1 to 60 characters", "such as A or bx1")
		case v.Kind != source.Mapping:
			p.AddNode(ErrValue, v, k.Value+" needs its keys", "write "+k.Value+": {…}")
		default:
			read(k, v)
			continue
		}
		p.broken[what+" "+k.Value] = true
	}
}

// twin is a name given twice; meant is a name that nothing bears and that one of
// the two was to have.
type twin struct {
	name, meant string
	at          source.Pos
}

// known reports whether a name that nothing bears has its complaint already:
// its own lines could not be read, or all of its section could not.
func (p *parser) known(what, name string) bool { return p.broken[what] || p.broken[what+" "+name] }

// meant reports whether one of two equal names was to be this one, which nothing
// bears, and says so where the two are reported: one slip, one complaint.
func (p *parser) meant(what string, n *source.Node) bool {
	for _, t := range p.twice[what] {
		if !source.Renumbered(t.name, n.Value) && source.Nearest(n.Value, []string{t.name}) == "" || t.meant != "" && t.meant != n.Value {
			continue
		}
		for _, pr := range p.Problems {
			if t.meant == "" && pr.At == t.at && errors.Is(pr, source.ErrDuplicate) {
				pr.Want += fmt.Sprintf(", or be %s, which line %d asks for", n.Value, n.Line)
			}
		}
		t.meant = n.Value
		return true
	}
	return false
}

// mostHints is how many problems a file may have before names that nothing
// bears are reported without looking for the nearest.
const mostHints = 100

// noSuch reports a name that nothing bears.
func (p *parser) noSuch(n *source.Node, what, one string, names func() []string) {
	switch {
	case n.Kind != source.Scalar:
		p.AddNode(ErrValue, n, "expected the name of a "+one, "")
	case p.known(what, n.Value) || p.meant(what, n):
	case len(p.Problems) >= mostHints:
		p.AddNode(ErrReference, n, "no "+one+" is called "+n.Value, "")
	default:
		p.AddNode(ErrReference, n, "no "+one+" is called "+n.Value, source.Suggest(n.Value, eachOnce(names())))
	}
}

// eachOnce is a list without what stands in it again.
func eachOnce(names []string) (out []string) {
	seen := make(map[string]bool, len(names))
	for _, n := range names {
		if !seen[n] {
			out = append(out, n)
		}
		seen[n] = true
	}
	return out
}

// mostName is how long a name may be: it must fit on a drawing.
const mostName = 60
