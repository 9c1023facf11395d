package sum

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// workOut does a printed line of working by the rules of arithmetic, knowing
// nothing of the expression it came from. It returns what it could not read.
func workOut(line string) (v float64, rest string, err error) {
	v, rest, err = product(line)
	for err == nil {
		var w float64
		if after, ok := strings.CutPrefix(rest, " + "); ok {
			w, rest, err = product(after)
			v += w
		} else if after, ok := strings.CutPrefix(rest, " − "); ok {
			w, rest, err = product(after)
			v -= w
		} else {
			return v, rest, nil
		}
	}
	return v, rest, err
}

func product(line string) (v float64, rest string, err error) {
	v, rest, err = power(line)
	for err == nil {
		var w float64
		if after, ok := strings.CutPrefix(rest, " × "); ok {
			w, rest, err = power(after)
			v *= w
		} else if after, ok := strings.CutPrefix(rest, " / "); ok {
			w, rest, err = power(after)
			v /= w
		} else {
			return v, rest, nil
		}
	}
	return v, rest, err
}

// power reads one operand and what is raised of it: as in any text, a minus
// before a number with ² is outside the square.
func power(line string) (v float64, rest string, err error) {
	inner, negative := strings.CutPrefix(line, "-")
	v, rest, err = operand(inner)
	for after, ok := strings.CutPrefix(rest, "²"); ok && err == nil; after, ok = strings.CutPrefix(rest, "²") {
		v, rest = v*v, after
	}
	if negative {
		v = -v
	}
	return v, rest, err
}

func operand(line string) (v float64, rest string, err error) {
	for word, choose := range map[string]func(a, b float64) float64{
		"largest of (":  func(a, b float64) float64 { return max(a, b) },
		"smallest of (": func(a, b float64) float64 { return min(a, b) },
	} {
		if after, ok := strings.CutPrefix(line, word); ok {
			v, rest, err = workOut(after)
			for after, ok := strings.CutPrefix(rest, ", "); ok && err == nil; after, ok = strings.CutPrefix(rest, ", ") {
				var w float64
				w, rest, err = workOut(after)
				v = choose(v, w)
			}
			return closed(v, rest, err)
		}
	}
	if after, ok := strings.CutPrefix(line, "√("); ok {
		v, rest, err = workOut(after)
		return closed(math.Sqrt(v), rest, err)
	}
	if after, ok := strings.CutPrefix(line, "("); ok {
		v, rest, err = workOut(after)
		return closed(v, rest, err)
	}
	end := 0
	for end < len(line) && strings.ContainsRune("0123456789.", rune(line[end])) {
		end++
	}
	v, err = strconv.ParseFloat(line[:end], 64)
	rest = line[end:]
	for _, unit := range []string{" A", " mm²", "°"} {
		if after, ok := strings.CutPrefix(rest, unit); ok {
			return v, after, err
		}
	}
	return v, rest, err
}

func closed(v float64, rest string, err error) (float64, string, error) {
	after, ok := strings.CutPrefix(rest, ")")
	if !ok && err == nil {
		err = fmt.Errorf("no ) at %q", rest)
	}
	return v, after, err
}
