package source

import (
	"sort"
	"strings"
	"unicode"
)

// Nearest returns the known word that looks most like word, or "" when none
// is close. Two swapped neighbours count as one slip, and hyphens, blanks and
// capitals as none: TNCS is TN-C-S, though TN-S is fewer letters away. A name of
// one letter, or another number of the same name, is no slip.
//
// Cost: one comparison for each known word, so it is called for words that
// are already known to be wrong.
func Nearest(word string, known []string) string {
	letters := len([]rune(word))
	best, bestSlips := "", min(1+letters/3, letters-1)
	sorted := append([]string(nil), known...)
	sort.Strings(sorted)
	for _, k := range sorted {
		if bare(word) == bare(k) {
			return k
		}
	}
	for _, k := range sorted {
		if renumbered(word, k) {
			continue
		}
		if n := slips(strings.ToLower(word), strings.ToLower(k), bestSlips); n <= bestSlips && (best == "" || n < bestSlips) {
			best, bestSlips = k, n
		}
	}
	return best
}

// renumbered reports whether two names differ in their number alone: s3 is no
// slip for s1.
func renumbered(a, b string) bool {
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

// slips is the optimal string alignment distance: letters added, dropped,
// changed, or swapped with a neighbour. Past limit it may stop early.
func slips(a, b string, limit int) int {
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

// Suggest returns a hint that names the nearest known word, else lists what is
// known (at most a dozen words).
func Suggest(word string, known []string) string {
	if near := Nearest(word, known); near != "" {
		return "did you mean " + near + "?"
	}
	if len(known) == 0 {
		return ""
	}
	if len(known) > 12 {
		return "known: " + strings.Join(known[:12], ", ") + ", …"
	}
	return "known: " + strings.Join(known, ", ")
}
