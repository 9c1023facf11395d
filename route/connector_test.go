package route_test

import (
	"fmt"
	"strings"
	"testing"

	"tubewright/route"

	"pgregory.net/rapid"
)

// TestConnectors holds where cores are joined, and how many, against the count
// by hand (common practice, no source): in boxes for joints, and at a switched
// light that the line loops on from, which has a terminal for the switched
// line only.
func TestConnectors(t *testing.T) {
	for name, want := range map[string]string{
		"joined":         "bx1 N 3; bx1 E 4",
		"joined-radial":  "bx1 L 3; bx1 N 3; bx1 E 3; bx2 L 3; bx2 N 3; bx2 E 3",
		"loop-at-lights": "l1 L 3; l2 L 2",
		"permanent-line": "",
		"always-on":      "",
		"three-gang":     "",
		"shared-cpc":     "",
		"ring-and-spur":  "",
	} {
		j := readJob(t, arrangements+"/"+name+".yaml")
		if got := connectorText(j); got != want {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
}

// TestLineWhereTaken: the line loops to a light only on the way to a switch or
// lamp that it feeds. By hand, of two gangs on one plate, loop at lights: board
// to l1 and l1 to the plate, nothing on to l2 (and brown of the instructor's
// exercise 21.95 m); joined in the box it goes to the switch alone. A borrowed
// neutral goes into the lamp's terminal with the lender's.
func TestLineWhereTaken(t *testing.T) {
	const job = `
job: x
places: {board: {is: board}, bx: {is: box%s}, sw1: {is: switch, gangs: 2}, l1: {is: light}, l2: {is: light}}
runs:
  A: {from: board, to: bx, in: steel conduit 20, length: 3 m}
  B: {from: bx, to: sw1, in: steel conduit 20, length: 1 m}
  C: {from: bx, to: l1, in: steel conduit 20, length: 2 m}
  D: {from: bx, to: l2, in: steel conduit 20, length: 9 m}
circuits:
`
	const plate = "  c: {device: B6, cable: 1.5, arrangement: lighting, loop: at lights, groups: [{switches: [sw1], lights: [l1]}, {switches: [sw1], lights: [l2]}]}\n"
	const borrowed = "  c: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw1], lights: [l1]}]}\n" +
		"  d: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw1], lights: [l2], neutral from: c}]}\n"
	for _, tt := range []struct{ joints, circuits, line, joined string }{
		{"", plate, "board-l1 l1-sw1", "l1 L 2"},
		{", joints: yes", plate, "board-sw1", "bx N 3; bx E 4"},
		{"", borrowed, "board-sw1 board-sw1", ""},
	} {
		j, err := route.Parse("x.yaml", fmt.Appendf(nil, job+tt.circuits, tt.joints))
		if err != nil {
			t.Fatal(err)
		}
		var line []string
		for _, s := range j.Singles {
			if s.Function == route.Line {
				line = append(line, j.Places[s.From.Place].Name+"-"+j.Places[s.To.Place].Name)
			}
		}
		if got := strings.Join(line, " "); got != tt.line || connectorText(j) != tt.joined {
			t.Errorf("%s: line %q, joined %q; want %q, %q", tt.circuits, got, connectorText(j), tt.line, tt.joined)
		}
	}
}

func connectorText(j *route.Job) string {
	var out []string
	for _, m := range j.Connectors() {
		out = append(out, fmt.Sprint(j.Places[m.Terminal.Place].Name, " ", m.Terminal.Pin, " ", len(m.Cores)))
	}
	return strings.Join(out, "; ")
}

// TestNeutralJoinedBehindSwitch: a switch where cores may be joined has no
// terminal for a neutral; a socket has.
func TestNeutralJoinedBehindSwitch(t *testing.T) {
	j, err := route.Parse("x.yaml", []byte(`
job: x
places: {board: {is: board}, sw1: {is: switch, joints: yes}, l1: {is: light}, l2: {is: light}, s1: {is: socket}, s2: {is: socket}}
runs:
  A: {from: board, to: sw1, in: steel conduit 20, length: 9 m, bends: 0}
  B: {from: sw1, to: l1, in: steel conduit 20, length: 9 m, bends: 0}
  C: {from: sw1, to: l2, in: steel conduit 20, length: 9 m, bends: 0}
  D: {from: board, to: s1, in: steel conduit 20, length: 9 m, bends: 0}
  E: {from: s1, to: s2, in: steel conduit 20, length: 9 m, bends: 0}
circuits:
  c: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw1], lights: [l1, l2]}]}
  d: {device: B16, cable: 2.5, points: [s1, s2]}
`))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := connectorText(j), "sw1 N 3"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// TestIsolatorTakesPermanentLine: the isolator of a timed fan has a terminal for
// the permanent line beside that for the switched one.
func TestIsolatorTakesPermanentLine(t *testing.T) {
	j, err := route.Parse("x.yaml", []byte(`
job: x
places: {board: {is: board}, sw1: {is: switch}, is1: {is: isolator}, f1: {is: timed fan}}
runs:
  A: {from: board, to: sw1, in: steel conduit 20, length: 2 m, bends: 0}
  B: {from: sw1, to: is1, in: steel conduit 20, length: 2 m, bends: 0}
  C: {from: is1, to: f1, in: steel conduit 20, length: 1 m, bends: 0}
circuits:
  c: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw1], lights: [is1, f1]}]}
`))
	if err != nil {
		t.Fatal(err)
	}
	if got := connectorText(j); got != "" {
		t.Errorf("got %q, want none", got)
	}
}

// TestConnectorsWhereAllowed: cores are joined where the job allows it and at
// lights that the line loops on from, nowhere else; each core end is in one
// connector at most.
func TestConnectorsWhereAllowed(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, anyPlan)
		j := p.parse(t)
		ends := map[[2]any]bool{}
		for _, m := range j.Connectors() {
			found++
			pl, c := &j.Places[m.Terminal.Place], &j.Circuits[m.Circuit]
			if len(m.Cores) < 2 {
				t.Fatalf("a core ends alone at %s %v, and feeds nothing\n%s", pl.Name, m.Terminal, p.text())
			}
			if looped := c.Loop == route.AtLights && m.Terminal.Pin == route.PinL; !pl.Joints && !looped {
				t.Fatalf("%s: %v joined\n%s", pl.Name, m.Terminal, p.text())
			}
			for _, i := range m.Cores {
				s := &j.Singles[i]
				if ends[[2]any{i, m.Terminal}] || s.From.Place != m.Terminal.Place && s.To.Place != m.Terminal.Place {
					t.Fatalf("core %d does not end at %v\n%s", i, m.Terminal, p.text())
				}
				ends[[2]any{i, m.Terminal}] = true
			}
		}
	})
	if found == 0 {
		t.Error("nothing was joined: the draw is too tame")
	}
}
