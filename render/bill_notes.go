package render

import (
	"fmt"
	"io"
	"strings"

	"tubewright/route"
)

const countedByLength = "counted by its metres and the allowance for waste, joints by the stock length, supports leg by leg"

// unmadeNotes names the runs that cannot be made as drawn, why, and how their
// material was counted for all that.
func unmadeNotes(j *route.Job) []string {
	var out []string
	for i := range j.Runs {
		s := j.Shape(i)
		if len(s.Lacks) == 0 {
			continue
		}
		why := make([]string, len(s.Lacks))
		for k, l := range s.Lacks {
			why[k] = lackText(l)
		}
		how := countedByLength
		if j.Cuttable(i) {
			how = "counted by its pieces, which are on the cut list"
		}
		out = append(out, fmt.Sprintf("run %s: %s; %s", j.Runs[i].Name, strings.Join(why, "; "), how))
	}
	return out
}

// writeUnmade prints them above the items: what is counted rests on them.
func writeUnmade(w io.Writer, j *route.Job) {
	notes := unmadeNotes(j)
	if len(notes) == 0 {
		return
	}
	head := fmt.Sprintf("CANNOT BE MADE AS DRAWN: %s, each %s, unless another way is said; quantities may change with the drawing", counted(len(notes), "run", "runs"), countedByLength)
	_ = writeWrapped(w, "", "  ", head) // the buffer keeps every error for Flush
	for _, n := range notes {
		_ = writeWrapped(w, "  ", "    ", strings.TrimSuffix(n, "; "+countedByLength))
	}
	fmt.Fprintln(w)
}
