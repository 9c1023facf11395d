package render

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// pageWidth is the width of printed text in characters.
const pageWidth = 100

// unitWords, squared or not, stay on the line of the figure before them.
var unitWords = []string{"mm", "m", "A", "kA", "mA", "V", "W", "kW", "°C", "%", "Ω", "mV/A/m"}

// wrap breaks text into lines: the first of at most first characters, those
// that follow of at most rest. A longer word has a line of its own.
func wrap(text string, first, rest int) []string {
	var lines []string
	line, n, width := "", 0, first
	for _, word := range words(text) {
		size := utf8.RuneCountInString(word)
		if n > 0 && n+1+size > width {
			lines = append(lines, line)
			line, n, width = "", 0, rest
		}
		if n > 0 {
			line += " "
			n++
		}
		line += word
		n += size
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// words splits text at its spaces, but for those between a figure and its unit
// and round the × behind a count.
func words(text string) []string {
	var out []string
	for _, f := range strings.Fields(text) {
		if n := len(out); n > 0 && staysWith(out[n-1], f) {
			out[n-1] += " " + f
			continue
		}
		out = append(out, f)
	}
	return out
}

func staysWith(before, word string) bool {
	if strings.HasSuffix(before, " ×") {
		return true
	}
	return endsInDigit(before) && (word == "×" || slices.Contains(unitWords, strings.TrimRight(word, ",;:.)]²")))
}

func endsInDigit(s string) bool {
	last := s[len(s)-1]
	return last >= '0' && last <= '9'
}

// writeWrapped prints text over as many lines as the page width asks for, the
// first behind one lead, the rest behind another.
func writeWrapped(w io.Writer, first, next, text string) error {
	for i, l := range wrap(text, pageWidth-utf8.RuneCountInString(first), pageWidth-utf8.RuneCountInString(next)) {
		lead := next
		if i == 0 {
			lead = first
		}
		if _, err := fmt.Fprintln(w, lead+l); err != nil {
			return err
		}
	}
	return nil
}
