package render

import (
	"strings"
	"unicode"
)

// ellipsis ends a text that was cut for room.
const ellipsis = "…"

// oneLine makes a text of one line: whatever controls or breaks becomes a space.
func oneLine(s string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) {
			return ' '
		}
		return r
	}, s))
}

// cutToFit returns the text, or as much of its start as goes into the width.
func cutToFit(s string, widthMM, heightMM float64, bold bool) string {
	if TextWidth(s, heightMM, bold) <= widthMM {
		return s
	}
	room := widthMM - TextWidth(ellipsis, heightMM, bold)
	end, used := 0, 0.0
	for i, r := range s {
		used += TextWidth(string(r), heightMM, bold)
		if used > room {
			break
		}
		end = i + len(string(r))
	}
	return strings.TrimRight(s[:end], " ") + ellipsis
}

// breakLines sets a text in lines no longer than the width, at most that many
// of them; what does not go in ends with an ellipsis.
func breakLines(s string, widthMM, heightMM float64, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		longer := word
		if line != "" {
			longer = line + " " + word
		}
		if line == "" || TextWidth(longer, heightMM, false) <= widthMM {
			line = longer
			continue
		}
		if len(lines)+1 == most {
			return append(lines, cutToFit(longer+" "+ellipsis, widthMM, heightMM, false))
		}
		lines = append(lines, cutToFit(line, widthMM, heightMM, false))
		line = word
	}
	if line != "" {
		lines = append(lines, cutToFit(line, widthMM, heightMM, false))
	}
	return lines
}

// shrinkToFit returns the largest of the heights at which the text goes into
// the width, the smallest when it goes in at none.
func shrinkToFit(s string, widthMM float64, bold bool, heights ...float64) float64 {
	for _, h := range heights {
		if TextWidth(s, h, bold) <= widthMM {
			return h
		}
	}
	return heights[len(heights)-1]
}
