package fill_test

import (
	"fmt"
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"
)

// roundByBoard has three steel runs in a loop, all passed by the line and the
// switched lines of one group: within them the neutral may go two ways. In the
// format %s is what the circuit says beside its group.
const roundByBoard = `
job: round by the board
places: {board: {is: board}, sw1: {is: switch}, l1: {is: light}, l2: {is: light}}
runs:
  A: {from: board, to: sw1, in: steel conduit 20, length: 3 m, bends: 0}
  B: {from: sw1, to: l1, in: steel conduit 20, length: 2 m, bends: 0}
  C: {from: board, to: l1, in: steel conduit 20, length: 2 m, bends: 0}
  D: {from: board, to: l2, in: steel conduit 20, length: 4 m, bends: 0}
circuits:
  lights: {device: B6, cable: 1.5, arrangement: lighting, %sgroups: [{switches: [sw1], lights: [l1, l2]}]}
`

// TestTogetherRemedy: what is offered where a circuit does not keep together,
// and that the job with it written in passes.
func TestTogetherRemedy(t *testing.T) {
	loops := func(circuit string) string { return fmt.Sprintf(loopedRuns, "steel conduit 20", "5 m", circuit) }
	twoLights := strings.Replace(oneLight, "lights: [l1]", "lights: [l1, l2]", 1)
	const kept = "    via: [{from: board, to: sw1, runs: [A, B]}, {from: l1, to: l2, runs: [E]}]\n"
	for _, tt := range []struct{ name, job, instead, mended string }{
		{"the neutral sent another way", loops(oneLight + byD), "no via in circuit lights", loops(oneLight)},
		{"one way of three", loops(twoLights + strings.Replace(kept, "}, {", "}, {from: board, to: l1, runs: [D]}, {", 1)),
			"via: [{from: board, to: sw1, runs: [A, B]}, {from: l1, to: l2, runs: [E]}] in circuit lights", loops(twoLights + kept)},
		{"a borrowed neutral", loops(strings.Replace(oneLight, "[l1]", "[l2], neutral from: sockets", 1)), "no neutral from in circuit lights",
			loops(strings.Replace(oneLight, "[l1]", "[l2]", 1))},
		{"a way to be named", fmt.Sprintf(roundByBoard, ""), "via: [{from: board, to: sw1, runs: [C, B]}] in circuit lights",
			fmt.Sprintf(roundByBoard, "via: [{from: board, to: sw1, runs: [C, B]}], ")},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := remedyOf(t, tt.job); !strings.HasPrefix(got, tt.instead+" (tried; ") {
				t.Errorf("%q, want %q", got, tt.instead)
			}
			if f := lastTogether(t, tt.job); f.Verdict != fill.Fail {
				t.Error("nothing to mend")
			}
			if f := lastTogether(t, tt.mended); f.Verdict != fill.Pass {
				t.Errorf("with %s: %s", tt.instead, f.Reason)
			}
		})
	}
}

// remedyOf is the remedy for a job's last circuit.
func remedyOf(t *testing.T, text string) string {
	t.Helper()
	j, err := route.Parse("job.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	r := fill.Check(j)
	r.Remedies()
	got := ""
	for _, f := range r.Findings {
		if f.Check == "together" {
			got = strings.Join(f.Instead, "; ")
		}
	}
	return got
}
