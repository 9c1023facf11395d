package source

import (
	"sort"
	"strconv"
	"strings"
	"unicode"
)

// Nearest returns the known word that looks most like word, or "" when none
// is close. Two swapped neighbours count as one slip, and hyphens, blanks and
// capitals as none: TNCS is TN-C-S, though TN-S is fewer letters away. The one
// known word that begins with what was typed wins: cooker is the cooker switch,
// though coupler is near; the last resort is a known word that begins it. A name of one letter, or another number of the same
// name, is no slip; a number with a digit struck twice is.
//
// Cost: one comparison for each known word, so it is called for words that
// are already known to be wrong.
func Nearest(word string, known []string) string {
	letters := len([]rune(word))
	best, bestSlips := "", min(1+letters/4, letters-1)
	sorted := append([]string(nil), known...)
	sort.Strings(sorted)
	if k := begun(word, sorted); k != "" {
		return k
	}
	for _, k := range sorted {
		if struckTwice(word, k) {
			return k
		}
		if Renumbered(word, k) {
			bestSlips = 0 // the name is right: only its number is not
		}
	}
	for _, k := range sorted {
		if Renumbered(word, k) {
			continue
		}
		n := Slips(strings.ToLower(word), strings.ToLower(k), bestSlips)
		if n > 1 && !sameStart(word, k) {
			n++ // load is not board
		}
		if n <= bestSlips && (best == "" || n < bestSlips) {
			best, bestSlips = k, n
		}
	}
	if best == "" {
		return headOf(word, sorted)
	}
	return best
}

// headOf returns the longest known word that begins this one and is half of it
// or more: out for output, socket for socket outlet.
func headOf(word string, known []string) (head string) {
	word = bare(word)
	for _, k := range known {
		if b := bare(k); len(b) >= leastBegun && 2*len(b) >= len(word) && len(k) > len(head) && strings.HasPrefix(word, b) && !Renumbered(word, b) {
			head = k
		}
	}
	return head
}

// sameStart reports whether two words begin with the same letter.
func sameStart(a, b string) bool {
	a, b = bare(a), bare(b)
	return a != "" && b != "" && a[0] == b[0]
}

// leastBegun is how many letters say which of the known words was begun.
const leastBegun = 3

// begun returns the known word that word is but for hyphens, blanks and
// capitals, or the one that begins with it, "" where there is none or more.
func begun(word string, known []string) string {
	word = bare(word)
	found, many := "", false
	for _, k := range known {
		switch b := bare(k); {
		case b == word:
			return k
		case strings.HasPrefix(b, word) && len(word) >= leastBegun && !Renumbered(word, b):
			found, many = k, found != ""
		}
	}
	if many {
		return ""
	}
	return found
}

// struckTwice reports whether a name is a known one with the last digit twice:
// s33 for s3.
func struckTwice(word, known string) bool {
	last := len(word) - 1
	return last > 1 && Renumbered(word, known) && word[last] == word[last-1] && word[:last] == known
}

// Renumbered reports whether two names differ in their number alone: s3 is no
// slip for s1.
func Renumbered(a, b string) bool {
	name := func(s string) string { return strings.Trim(s, "0123456789") }
	return name(a) == name(b) && name(a) != a && name(b) != b
}

// bare is a word without capitals, blanks and hyphens.
func bare(word string) string {
	return strings.Map(func(r rune) rune {
		if r == ' ' || r == '-' || r == '_' {
			return -1
		}
		return unicode.ToLower(r)
	}, word)
}

// Slips is the optimal string alignment distance: letters added, dropped,
// changed, or swapped with a neighbour. Past limit it may stop early.
func Slips(a, b string, limit int) int {
	s, t := []rune(a), []rune(b)
	if d := len(s) - len(t); d > limit || -d > limit {
		return limit + 1
	}
	before, prev, now := make([]int, len(t)+1), make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(s); i++ {
		now[0] = i
		for j := 1; j <= len(t); j++ {
			cost := 1
			if s[i-1] == t[j-1] {
				cost = 0
			}
			now[j] = min(prev[j]+1, now[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				now[j] = min(now[j], before[j-2]+1)
			}
		}
		before, prev, now = prev, now, before
	}
	return prev[len(t)]
}

// mostListed is how many words a hint lists: all that any part of a file may
// say, but not every name of a large job.
const mostListed = 40

// Suggest returns a hint that names the nearest known word, else lists what is
// known.
func Suggest(word string, known []string) string {
	if near := Nearest(word, known); near != "" {
		return "did you mean " + near + "?"
	}
	return Known(known)
}

// Known lists known words: all of them, or the first and how many more there
// are.
func Known(known []string) string {
	switch {
	case len(known) == 0:
		return ""
	case len(known) > mostListed:
		return "known: " + strings.Join(known[:mostListed], ", ") + " and " + strconv.Itoa(len(known)-mostListed) + " more"
	}
	return "known: " + strings.Join(known, ", ")
}
