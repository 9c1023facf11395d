package route

import (
	"fmt"
	"strings"
)

// QuickAsk is one run as an installer asks about it, without a job file.
type QuickAsk struct {
	In, Length, Bends, Cables string
	Conductor                 string // "solid" or "stranded"; "" for the default
	Factor, Inside            string // for trunking that no table has
}

// QuickJob is the job file of one run. A complaint about it shows the line as
// the installer wrote it.
func QuickJob(q QuickAsk) []byte {
	var b strings.Builder
	b.WriteString("job: command line\n")
	if q.Conductor != "" {
		fmt.Fprintf(&b, "choices: {conductor: %s}\n", scalar(q.Conductor))
	}
	b.WriteString("runs:\n  asked:\n")
	for _, kv := range [][2]string{{"in", q.In}, {"length", q.Length}, {"bends", q.Bends}, {"factor", q.Factor}, {"inside", q.Inside}, {"cables", q.Cables}} {
		if kv[1] != "" {
			fmt.Fprintf(&b, "    %s: %s\n", kv[0], scalar(kv[1]))
		}
	}
	return []byte(b.String())
}

// scalar writes text so that YAML reads it back unchanged: plain where that is
// certain, quoted where it is not.
func scalar(s string) string {
	plain := s != "" && strings.TrimSpace(s) == s
	for _, r := range s {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', strings.ContainsRune(" .,²Ω°×%", r):
		default:
			plain = false
		}
	}
	if plain {
		return s
	}
	clean := strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
	return "'" + strings.ReplaceAll(clean, "'", "''") + "'"
}
