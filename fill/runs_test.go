package fill_test

import (
	"strings"
	"testing"

	"tubewright/fill"
)

// A rating fails where the group is too large, and nowhere else: two circuits
// at full load share the first run only, which the factor for a group of two
// (0.80, BS 7671 Table 4C1) takes below the device; in a run of its own the
// cable carries 24 A (Table 4D1A, column 4).
func TestRatingNamesTheRunsThatFail(t *testing.T) {
	j := mustParse(t, `job: a bench
places: {board: {is: board}, bx: {is: box}, s1: {is: socket}, s2: {is: socket}}
runs:
  A: {from: board, to: bx, in: plastic conduit 25, length: 3 m, bends: 0}
  B: {from: bx, to: s1, in: plastic conduit 20, length: 2 m, bends: 0}
  C: {from: bx, to: s2, in: plastic conduit 20, length: 2 m, bends: 0}
circuits:
  one: {device: B20, cable: 2.5, arrangement: radial, points: [s1], demand: 20 A}
  two: {device: B20, cable: 2.5, arrangement: radial, points: [s2], demand: 20 A}
`)
	checked := 0
	for _, f := range fill.Check(j).Findings {
		if f.Check != "rating" {
			continue
		}
		checked++
		if f.Verdict != fill.Fail || len(f.Runs) != 1 || j.Runs[f.Runs[0]].Name != "A" {
			t.Errorf("%s: %v in runs %v: %s", f.Subject, f.Verdict, f.Runs, f.Reason)
		}
	}
	if checked != 2 {
		t.Errorf("%d ratings", checked)
	}
}

// A switched line that goes to its light by a tube of its own leaves the three
// steel runs of the loop with a current that does not cancel (BS 7671,
// 521.5.1); the feed to the loop is none of them.
func TestTogetherNamesItsRuns(t *testing.T) {
	text := `job: a loop of tube
places: {board: {is: board}, bx: {is: box}, sw: {is: switch}, l1: {is: light}}
runs:
  A: {from: board, to: bx, in: steel conduit 20, length: 3 m, bends: 0}
  B: {from: bx, to: sw, in: steel conduit 20, length: 2 m, bends: 0}
  C: {from: bx, to: l1, in: steel conduit 20, length: 2 m, bends: 0}
  D: {from: sw, to: l1, in: steel conduit 20, length: 9 m, bends: 0}
circuits:
  lights:
    {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw], lights: [l1]}]VIA}
`
	for via, want := range map[string]string{"": "", ", via: [{from: sw, to: l1, runs: [D]}, {from: board, to: l1, runs: [A, C]}]": "BCD"} {
		j := mustParse(t, strings.Replace(text, "VIA", via, 1))
		f := lastTogether(t, strings.Replace(text, "VIA", via, 1))
		got := ""
		for _, run := range f.Runs {
			got += j.Runs[run].Name
		}
		if got != want || (f.Verdict == fill.Fail) != (want != "") {
			t.Errorf("%q: %v in runs %q, expected %q: %s", via, f.Verdict, got, want, f.Reason)
		}
	}
}
