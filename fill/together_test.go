package fill_test

import (
	"fmt"
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"
)

// The places and runs of a light with its switch, and a second tube from the
// board to the light. In the formats %s is the short tube's enclosure, then
// the circuits.
const loopedRuns = `
job: two ways home
places:
  board: {is: board}
  bx1:   {is: box}
  bx2:   {is: box}
  sw1:   {is: switch}
  l1:    {is: light}
  l2:    {is: light}
  s1:    {is: socket}
runs:
  A: {from: board, to: bx1, in: steel conduit 20, length: 3 m, bends: 0}
  B: {from: bx1, to: sw1, in: steel conduit 20, length: 1 m, bends: 0}
  C: {from: bx1, to: l1, in: steel conduit 20, length: 3 m, bends: 0}
  D: {from: board, to: l1, in: %s, length: %s, bends: 0}
  E: {from: l1, to: l2, in: steel conduit 20, length: 2 m, bends: 0}
  F: {from: board, to: bx2, in: steel conduit 20, length: 2 m, bends: 0}
  G: {from: bx2, to: s1, in: steel conduit 20, length: 1 m, bends: 0}
  H: {from: bx2, to: l2, in: plastic conduit 20, length: 9 m, bends: 0}
circuits:
  sockets: {device: B20, cable: 4, points: [s1]}
%s`

const oneLight = `  lights:
    device: B6
    cable: 1.5
    arrangement: lighting
    groups: [{switches: [sw1], lights: [l1]}]
`

// byD sends the neutral another way than the line.
const byD = "    via: [{from: board, to: l1, runs: [D]}]\n"

// TestTogether: the cases an inspector looks for, each with the steel runs in
// which the circuit's currents do not cancel, and the loads with a borrowed
// neutral, counted by hand.
func TestTogether(t *testing.T) {
	for _, c := range []struct {
		name, job string
		faults    float64
		verdict   fill.Verdict
		reason    string
	}{
		{"all in one tube", fmt.Sprintf(loopedRuns, "steel conduit 20", "7 m", oneLight), 0, fill.Pass, ""},
		{"beside the line, past a shorter tube", fmt.Sprintf(loopedRuns, "steel conduit 20", "5 m", oneLight), 0, fill.Pass, ""},
		{"the neutral's short cut in steel", fmt.Sprintf(loopedRuns, "steel conduit 20", "5 m", oneLight+byD), 3, fill.Fail,
			"the line to l1 passes run A and does not come home through it"},
		{"the neutral's short cut in plastic", fmt.Sprintf(loopedRuns, "plastic conduit 20", "5 m", oneLight+byD), 2, fill.Fail,
			"the line to l1 passes run A and does not come home through it"},
		{"kept in one tube by via", fmt.Sprintf(loopedRuns, "steel conduit 20", "5 m", oneLight+"    via: [{from: board, to: l1, runs: [A, C]}]\n"), 0, fill.Pass, ""},
		{"the switched line sent round by via", fmt.Sprintf(loopedRuns, "steel conduit 20", "7 m", oneLight+"    via: [{from: sw1, to: l1, runs: [B, A, D]}, {from: board, to: l1, runs: [A, C]}]\n"), 3, fill.Fail,
			"the line to l1 passes run A out and back again, and its neutral comes home through it alone; and 2 more: work --of together"},
		{"borrowed in other tubes", fmt.Sprintf(loopedRuns, "steel conduit 20", "7 m", strings.Replace(oneLight, "[l1]", "[l2], neutral from: sockets", 1)), 6, fill.Fail,
			"the neutral of l2 is borrowed from circuit sockets, in whose neutral its current comes home through runs G, F"},
		{"borrowed in the same tube", sameTube, 1, fill.Fail,
			"the neutral of l2 is borrowed from circuit first, in whose neutral its current comes home through runs C, A"},
		{"borrowed, both neutrals joined in one box", joinedNeutrals, 3, fill.Fail,
			"the neutral of l2 is borrowed from circuit first, in whose neutral its current comes home through runs C, H"},
		{"a ring round the room", ringRound, 0, fill.Pass, ""},
		{"three-phase without a neutral", threePhase, 0, fill.Pass, ""},
		{"forty intermediates", intermediates(40), 0, fill.Pass, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := lastTogether(t, c.job)
			if f.Value != c.faults || f.Verdict != c.verdict || !strings.HasPrefix(f.Reason, c.reason) || (f.Reason == "") != (c.reason == "") {
				t.Errorf("%v, %v faults: %s", f.Verdict, f.Value, f.Reason)
			}
		})
	}
}

// lastTogether judges a job and returns the finding of its last circuit.
func lastTogether(t *testing.T, text string) fill.Finding {
	t.Helper()
	j, err := route.Parse("job.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	var last fill.Finding
	for _, f := range fill.Check(j).Findings {
		if f.Check == "together" {
			last = f
		}
	}
	return last
}

const sameTube = `
job: two circuits in one tube
places:
  board: {is: board}
  bx1: {is: box}
  sw1: {is: switch, gangs: 2}
  l1: {is: light}
  l2: {is: light}
runs:
  A: {from: board, to: bx1, in: steel conduit 20, length: 3 m, bends: 0}
  B: {from: bx1, to: sw1, in: steel conduit 20, length: 1 m, bends: 0}
  C: {from: bx1, to: l1, in: steel conduit 20, length: 2 m, bends: 0}
  D: {from: l1, to: l2, in: steel conduit 20, length: 2 m, bends: 0}
circuits:
  first: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw1], lights: [l1]}]}
  second: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw1], lights: [l2], neutral from: first}]}
`

// joinedNeutrals has a joint of each circuit's neutral in one box, and a tube
// from the board for each: were the joints one, the borrowed current would seem
// to come home by the second circuit's own neutral.
const joinedNeutrals = `
job: two joints in one box
places:
  board: {is: board}
  bx1: {is: box, joints: yes}
  sw1: {is: switch, gangs: 3}
  l1: {is: light}
  l2: {is: light}
  l3: {is: light}
  l4: {is: light}
  l5: {is: light}
runs:
  A: {from: board, to: bx1, in: steel conduit 25, length: 3 m, bends: 0}
  B: {from: bx1, to: sw1, in: steel conduit 20, length: 3 m, bends: 0}
  C: {from: bx1, to: l1, in: steel conduit 20, length: 4 m, bends: 0}
  D: {from: bx1, to: l2, in: steel conduit 20, length: 4 m, bends: 0}
  E: {from: bx1, to: l3, in: steel conduit 20, length: 4 m, bends: 0}
  F: {from: bx1, to: l4, in: steel conduit 20, length: 4 m, bends: 0}
  G: {from: bx1, to: l5, in: steel conduit 20, length: 4 m, bends: 0}
  H: {from: board, to: bx1, in: plastic conduit 20, length: 4 m, bends: 0}
circuits:
  first: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw1], lights: [l1, l5]}], via: [{from: board, to: bx1, runs: [H]}]}
  second: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw1], lights: [l3, l4]}, {switches: [sw1], lights: [l2], neutral from: first}]}
`

const ringRound = `
job: a ring round the room
places:
  board: {is: board}
  s1: {is: socket}
  s2: {is: socket}
  s3: {is: socket}
runs:
  A: {from: board, to: s1, in: steel conduit 20, length: 3 m, bends: 0}
  B: {from: s1, to: s2, in: steel conduit 20, length: 2 m, bends: 0}
  C: {from: s2, to: board, in: steel conduit 20, length: 4 m, bends: 0}
  D: {from: s2, to: s3, in: steel conduit 20, length: 1 m, bends: 0}
circuits:
  ring: {device: B32, cable: 2.5, arrangement: ring, points: [s1, s2], spurs: [{from: s2, points: [s3]}]}
`

const threePhase = `
job: a saw
supply: {phases: 3}
places:
  board: {is: board}
  is1: {is: isolator}
  saw: {is: motor}
runs:
  A: {from: board, to: is1, in: steel conduit 20, length: 3 m, bends: 0}
  B: {from: is1, to: saw, in: steel conduit 20, length: 2 m, bends: 0}
circuits:
  saw: {device: C16, cable: 4, arrangement: direct, phases: 3, neutral: no, points: [is1, saw]}
`

// intermediates is a corridor with two-way switches at its ends and n
// intermediates between. Its states are more than could be put through one by
// one.
func intermediates(n int) string {
	var places, runs strings.Builder
	names := make([]string, n+2)
	for i := range names {
		names[i] = fmt.Sprint("sw", i)
		fmt.Fprintf(&places, "  sw%d: {is: switch}\n", i)
		if i > 0 {
			fmt.Fprintf(&runs, "  R%d: {from: sw%d, to: sw%d, in: steel conduit 20, length: 2 m, bends: 0}\n", i, i-1, i)
		}
	}
	return "job: a corridor\nplaces:\n  board: {is: board}\n  l1: {is: light}\n" + places.String() +
		"runs:\n  A: {from: board, to: sw0, in: steel conduit 20, length: 2 m, bends: 0}\n  L: {from: sw0, to: l1, in: steel conduit 20, length: 2 m, bends: 0}\n" + runs.String() +
		"circuits:\n  lights: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [" + strings.Join(names, ", ") + "], lights: [l1]}]}\n"
}

// TestTogetherNamed: a circuit that names its runs says nothing of where its
// cores end, so there is nothing to judge.
func TestTogetherNamed(t *testing.T) {
	f := lastTogether(t, "job: x\nruns: {A: {in: steel conduit 20, length: 2 m, bends: 0}}\ncircuits: {c: {device: B6, cable: 1.5, runs: [A]}}\n")
	if f.Verdict != 0 {
		t.Errorf("%+v", f)
	}
}
