package fill_test

import (
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"
)

// TestArrangement: what a circuit's shape leaves wanting is advised, with the
// rule it goes by; the same circuit put right is not mentioned.
//
// Sources: BS 7671 Appendix 15 on unfused spurs (from memory); 543.2 on metal
// conduit as a protective conductor (from memory); the rest common practice,
// no source.
func TestArrangement(t *testing.T) {
	const head = `job: x
places: {b: {is: board}, s1: {is: socket}, s2: {is: socket}, s3: {is: socket}, s4: {is: socket}, ck: {is: cooker switch}, eq: {is: equipment}, sw: {is: switch, gangs: 2}, l1: {is: light}, l2: {is: light}}
runs:
  A: {from: b, to: s1, in: steel conduit 32, length: 2 m, bends: 0}
  B: {from: s1, to: s2, in: ENC, length: 2 m, bends: 0}
  C: {from: s2, to: s3, in: steel conduit 32, length: 2 m, bends: 0}
  D: {from: s3, to: s4, in: steel conduit 32, length: 2 m, bends: 0}
  E: {from: s1, to: ck, in: plastic conduit 25, length: 2 m, bends: 0}
  F: {from: ck, to: eq, in: plastic conduit 25, length: 2 m, bends: 0}
  G: {from: b, to: sw, in: plastic conduit 25, length: 2 m, bends: 0}
  H: {from: sw, to: l1, in: plastic conduit 25, length: 2 m, bends: 0}
  I: {from: l1, to: l2, in: plastic conduit 25, length: 2 m, bends: 0}
circuits:
`
	const (
		ring   = "  r: {device: B32, cable: 4, arrangement: ring, points: [s1, s2], spurs: [{from: s2, points: [s3]}, {from: s1, points: [s4]}]}\n"
		cooker = "  k: {device: B32, cable: 6, arrangement: direct, points: [ck, eq]}\n"
		lights = "  l: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw], lights: [l1]}, {switches: [sw], lights: [l2]}]}\n"
	)
	for _, c := range []struct{ name, enc, circuits, want string }{
		{"in order", "steel conduit 32", ring + cooker + lights, ""},
		{"two sockets on a spur", "steel conduit 32", "  r: {device: B32, cable: 4, arrangement: ring, points: [s1, s2], spurs: [{from: s2, points: [s3, s4]}]}\n" + cooker + lights,
			"arrangement circuit r: the spur from s2 feeds 2 points: one single or one twin socket, unless a fused connection unit comes first"},
		{"load before its isolator", "steel conduit 32", ring + lights + "  k: {device: B32, cable: 6, arrangement: direct, points: [eq, ck]}\n",
			"arrangement circuit k: ck comes after eq and isolates nothing: list it first"},
		{"steel in part", "steel conduit 32", ring + lights + "  k: {device: B32, cable: 6, cpc: conduit, arrangement: direct, points: [ck, eq]}\n",
			"arrangement circuit k: cpc: conduit, but runs E, F are not of steel: a cpc of 6 mm² is drawn in from terminal to terminal there; where steel begins again its box is tied to that terminal"},
		{"one run plastic", "plastic conduit 32", "  r: {device: B32, cable: 4, cpc: conduit, arrangement: ring, points: [s1, s2], spurs: [{from: s2, points: [s3]}, {from: s1, points: [s4]}]}\n" + cooker + lights,
			"arrangement circuit r: cpc: conduit, but run B is not of steel: a cpc of 4 mm² is drawn in from terminal to terminal there; where steel begins again its box is tied to that terminal"},
		{"no steel", "steel conduit 32", ring + cooker + strings.Replace(lights, "cable: 1.5", "cable: 1.5, cpc: conduit", 1),
			"arrangement circuit l: cpc: conduit, but none of its runs is of steel: a cpc of 1.5 mm² is drawn in throughout"},
		{"socket that nothing feeds", "steel conduit 32", "  r: {device: B32, cable: 4, arrangement: ring, points: [s1, s2], spurs: [{from: s2, points: [s3]}]}\n" + cooker + lights,
			"fed place s4: no circuit feeds it: add it to one, or leave it out"},
		{"a gang that works nothing", "steel conduit 32", ring + cooker + "  l: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw], lights: [l1, l2]}]}\n",
			"fed place sw: 1 of its 2 gangs is used: fewer gangs, or a blank"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, f := range findings(t, strings.ReplaceAll(head, "ENC", c.enc)+c.circuits) {
				if f.Check == "arrangement" || f.Check == "fed" {
					got = append(got, f.Check+" "+f.Subject+": "+f.Reason)
				}
			}
			if strings.Join(got, "\n") != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

// findings parses a job and judges it.
func findings(t *testing.T, text string) []fill.Finding {
	t.Helper()
	j, err := route.Parse("x.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return fill.Check(j).Findings
}

// TestPlatesAndFans: two lines on one plate, a timed fan that nothing starts,
// an isolator behind its load on a spur (common practice, no source).
func TestPlatesAndFans(t *testing.T) {
	const job = `job: x
supply: {phases: 3}
places: {b: {is: board}, sw: {is: switch, gangs: 2}, l1: {is: light}, l2: {is: light}, fan: {is: timed fan}, s1: {is: socket}, wh: {is: heater}, iso: {is: isolator}, lost: {is: light}}
runs:
  A: {from: b, to: sw, in: plastic conduit 25, length: 2 m, bends: 0}
  B: {from: sw, to: l1, in: plastic conduit 25, length: 2 m, bends: 0}
  C: {from: l1, to: l2, in: plastic conduit 25, length: 2 m, bends: 0}
  D: {from: l2, to: fan, in: plastic conduit 25, length: 2 m, bends: 0}
  E: {from: b, to: s1, in: plastic conduit 25, length: 2 m, bends: 0}
  F: {from: s1, to: wh, in: plastic conduit 25, length: 2 m, bends: 0}
  G: {from: wh, to: iso, in: plastic conduit 25, length: 2 m, bends: 0}
circuits:
  a: {device: B6, cable: 1.5, line: L1, arrangement: lighting, groups: [{switches: [sw], lights: [l1]}, {lights: [fan]}]}
  c: {device: B6, cable: 1.5, line: L2, arrangement: lighting, groups: [{switches: [sw], lights: [l2]}]}
  p: {device: B16, cable: 2.5, points: [s1], spurs: [{from: s1, points: [wh, iso]}]}
`
	want := []string{
		"arrangement circuit a: fan is a timed fan without a switch: it has no switched line to start it",
		"arrangement circuit p: iso comes after wh and isolates nothing: list it first",
		"fed place sw: circuits a, c on different lines meet on its plate: line voltage between gangs, all of them to be isolated; a barrier and a warning notice, or separate plates",
		"fed place lost: no run reaches it and no circuit feeds it: add both, or leave it out",
	}
	var got []string
	for _, f := range findings(t, job) {
		if f.Check == "arrangement" || f.Check == "fed" {
			got = append(got, f.Check+" "+f.Subject+": "+f.Reason)
		}
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got %q", got)
	}
}

// TestBoardShowsTheSingles: the earth bar has the cpc that singles lay in
// plastic although steel serves elsewhere, and a circuit that borrows its
// neutral has none there.
func TestBoardShowsTheSingles(t *testing.T) {
	j, err := route.Parse("x.yaml", []byte(`job: x
places: {b: {is: board}, s1: {is: socket}, s2: {is: socket}, l1: {is: light}, l2: {is: light}}
board: {at: b, ways: 4, main: {device: switch, rating: 100 A}}
runs:
  A: {from: b, to: s1, in: plastic conduit 25, length: 2 m, bends: 0}
  B: {from: s1, to: s2, in: steel conduit 25, length: 2 m, bends: 0}
  C: {from: b, to: l1, in: steel conduit 25, length: 2 m, bends: 0}
  D: {from: l1, to: l2, in: steel conduit 25, length: 2 m, bends: 0}
circuits:
  part: {way: 1, device: B16, cable: 2.5, cpc: conduit, points: [s1, s2]}
  down: {way: 2, device: B6, cable: 1.5, arrangement: lighting, groups: [{lights: [l1]}]}
  up:   {way: 3, device: B6, cable: 1.5, RCBO: {residual: 30 mA, type: A}, arrangement: lighting, groups: [{lights: [l2], neutral from: down}]}
`))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, bar := range fill.BoardOf(j).Bars() {
		for _, x := range bar.Terminals {
			got = append(got, x.Conductor)
		}
	}
	text := strings.Join(got, "; ")
	for _, want := range []string{"part", "up: no neutral of its own, another circuit's is used"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q among %s", want, text)
		}
	}
	if strings.Contains(text, "part: the steel") {
		t.Errorf("the cpc of part leaves the board in plastic: %s", text)
	}
}
