package fill_test

import (
	"strings"
	"testing"

	"tubewright/fill"
)

// TestUnassignedCables: cables that belong to no circuit may be more circuits of
// the group, so a rating that passes without them is open until the job says.
//
// Source: BS 7671, 523.5: all loaded circuits of a group count (read).
func TestUnassignedCables(t *testing.T) {
	for name, tt := range map[string]struct {
		run, device string
		want        fill.Verdict
	}{
		"nine cables of no circuit":         {`cables: "9 x 2.5"`, "B20", fill.Open},
		"said to be three":                  {`cables: "9 x 2.5", other circuits: 3`, "B20", fill.Fail}, // 24 × 0.65 = 15.6 A
		"said to be none":                   {`cables: "9 x 2.5", other circuits: 0`, "B20", fill.Pass},
		"a bonding conductor alone is none": {`cables: "1 x 10"`, "B20", fill.Pass},
		"a sheathed cable may be one":       {`cables: "1 x 2.5 twin and earth"`, "B20", fill.Open},
		"it fails without them":             {`cables: "9 x 2.5"`, "B32", fill.Fail},
		"no cables":                         {"bends: 0", "B20", fill.Pass},
	} {
		t.Run(name, func(t *testing.T) {
			f := judged(t, "job: x\nruns: {K1: {in: steel conduit 32, length: 2 m, "+tt.run+"}}\ncircuits: {c: {device: "+tt.device+", cable: 2.5, runs: [K1]}}\n").finding("rating", "circuit c")
			if f.Verdict != tt.want || tt.want == fill.Open && !strings.Contains(f.Reason, "run K1 belong to no circuit and are not in the group: say there how many circuits they are (other circuits: N") {
				t.Errorf("%v: %s", f.Verdict, f.Reason)
			}
		})
	}
}
