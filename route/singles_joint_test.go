package route_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"tubewright/route"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// withoutJoints is the plan with no place for joints.
func (p *plan) withoutJoints() *plan {
	q := *p
	q.places = slices.Clone(p.places)
	for i := range q.places {
		q.places[i].joints = false
	}
	return &q
}

// TestJoints: where cores may be joined they end on terminals or in such a box
// and nowhere else, a joint joins at least three cores, each net is still one
// tree, and where runs form one no circuit takes more cable than it does looped
// through. In a loop of runs the joined line may leave its neutral and cpc other
// runs to keep to.
func TestJoints(t *testing.T) {
	joined := 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, planRules{joints: true, loops: 1, circuits: 2, enc: mixedEnc, cpc: []string{"", "shared"}})
		j, looped := p.parse(t), p.withoutJoints().parse(t)
		ends := map[[2]any]int{} // cores at each joint of each circuit
		for _, s := range j.Singles {
			for _, at := range []route.Terminal{s.From, s.To} {
				if j.Places[at.Place].Kind.Terminal() {
					continue
				}
				if !j.Places[at.Place].Joints {
					t.Fatalf("a core ends in %s", j.Places[at.Place].Name)
				}
				ends[[2]any{s.Circuit, at}]++
			}
		}
		connectors := map[int]int{} // by cores
		for _, it := range j.Bill() {
			n := 0
			if _, err := fmt.Sscanf(it.Name, "connector for %d cores of", &n); err == nil {
				connectors[n] += int(it.Net)
			}
		}
		for _, m := range j.Connectors() { // at lights and switches: TestConnectors
			if j.Places[m.Terminal.Place].Kind.Terminal() {
				connectors[len(m.Cores)]--
			}
		}
		for at, n := range ends {
			joined++
			connectors[n]--
			if n < 3 {
				t.Fatalf("%d cores joined at %v\n%s", n, at, p.text())
			}
		}
		for n, left := range connectors {
			if left != 0 {
				t.Fatalf("the bill has %d connectors for %d cores more than there are joints\n%s", left, n, p.text())
			}
		}
		for c := range j.Circuits {
			if a, b := metres(j, c), metres(looped, c); a > b+1e-6 && len(p.runs) < len(p.places) {
				t.Fatalf("%s: %v m joined, %v m looped\n%s", j.Circuits[c].Name, a, b, p.text())
			}
			checkTrees(t, j, c, p.text())
		}
	})
	if joined == 0 {
		t.Error("nothing was joined: the draw is too tame")
	}
}

func metres(j *route.Job, circuit int) float64 {
	sum := 0.0
	for _, s := range j.Singles {
		if s.Circuit == circuit {
			sum += float64(s.Length)
		}
	}
	return sum
}

// checkTrees: a circuit's cores close no ring, unless it is one.
func checkTrees(t *rapid.T, j *route.Job, circuit int, text string) {
	if j.Circuits[circuit].Arrangement.V == route.Ring {
		return
	}
	root := map[route.Terminal]route.Terminal{}
	find := func(at route.Terminal) route.Terminal {
		for {
			up, ok := root[at]
			if !ok {
				return at
			}
			at = up
		}
	}
	for _, s := range j.Singles {
		if s.Circuit != circuit {
			continue
		}
		a, b := find(s.From), find(s.To)
		if a == b {
			t.Fatalf("%s: %s closes a ring\n%s", j.Circuits[circuit].Name, s.Mark(), text)
		}
		root[a] = b
	}
}

// TestDropJoined: a drop off a box for joints carries one cpc, and one core of
// each net that the accessory takes.
func TestDropJoined(t *testing.T) {
	j := readJob(t, arrangements+"/joined.yaml")
	for run := range j.Runs {
		for _, c := range j.Cores(run) {
			if c.Count > 1 && c.Function != route.SwitchedLine {
				t.Errorf("run %s: %d of %s", j.Runs[run].Name, c.Count, c.Function)
			}
		}
	}
}

// TestJointNotWorthIt: where a drop is so short that the tails of a joint take
// more cable than down and back, the cores loop through.
func TestJointNotWorthIt(t *testing.T) {
	text := `job: x
places: {board: {is: board}, bx1: {is: box, joints: yes}, s1: {is: socket}, s2: {is: socket}}
runs:
  A: {from: board, to: bx1, in: steel conduit 20, length: 2 m, bends: 0}
  B: {from: bx1, to: s1, in: steel conduit 20, length: 0.1 m, bends: 0}
  C: {from: bx1, to: s2, in: steel conduit 20, length: 3 m, bends: 0}
circuits: {c: {device: B16, cable: 2.5, points: [s1, s2]}}
`
	j, err := route.Parse("x.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range j.Cores(1) {
		if c.Count != 2 {
			t.Errorf("%d of %s in the drop", c.Count, c.Function)
		}
	}
}

// TestPermanentLineJoined: the core to the permanent terminal of an emergency
// light is its permanent line, joined in a box or looped.
func TestPermanentLineJoined(t *testing.T) {
	const job = `
job: x
places: {board: {is: board}, bx: {is: box%s}, sw1: {is: switch}, e1: {is: emergency light}}
runs:
  A: {from: board, to: bx, in: steel conduit 20, length: 3 m, bends: 0}
  B: {from: bx, to: sw1, in: steel conduit 20, length: 3 m, bends: 0}
  C: {from: bx, to: e1, in: steel conduit 20, length: 3 m, bends: 0}
circuits:
  c: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw1], lights: [e1]}]}
`
	for _, joints := range []string{"", ", joints: yes"} {
		j, err := route.Parse("x.yaml", fmt.Appendf(nil, job, joints))
		if err != nil {
			t.Fatal(err)
		}
		k := slices.IndexFunc(j.Singles, func(s route.Single) bool {
			return j.Places[s.To.Place].Name == "e1" && s.To.Pin == route.PinL
		})
		if k < 0 || j.Singles[k].Function != route.PermanentLine {
			t.Errorf("box%s: core %d does %v", joints, k, j.Singles)
		}
	}
}

// TestConnectorsBilled: by hand, the radial has line, neutral and cpc joined three ways
// in each of its two boxes; of the lights' conductors the neutral is joined
// three ways in the box, from the board and to both lights, and the cpc four
// ways, to the switch as well; the lines go through unbroken.
func TestConnectorsBilled(t *testing.T) {
	for file, want := range map[string]map[string]float64{
		"joined-radial": {"connector for 3 cores of 4 mm² stranded": 6},
		"joined":        {"connector for 3 cores of 1.5 mm² stranded": 1, "connector for 4 cores of 1.5 mm² stranded": 1},
		"one-way":       {},
	} {
		got := map[string]float64{}
		for _, it := range readJob(t, arrangements+"/"+file+".yaml").Bill() {
			if strings.HasPrefix(it.Name, "connector") {
				got[it.Name] = it.Net
			}
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: %s", file, diff)
		}
	}
}

// TestConversionJoined: the line of both switches of the conversion method, and
// of lights with a permanent line, is one tree, and so is the switched line to
// the second switch and the lights. By hand, with tails of 0.60 and 0.15 m: the
// line from the board and to two switches 3.75 + 4.30 + 2.30 m against 7.75 +
// 6.30 looped, the switched line 4.30 + 2.30 + 2.80 against 6.30 + 6.80. Steel
// that serves as cpc is no core, joined or looped. Of the second job the line is
// 3.75 + 1.30 + 2.30 + 4.80 + 2.30 m, looped 4.75 + 3.30 + 5.80 + 2.30.
func TestConversionJoined(t *testing.T) {
	text, err := os.ReadFile(arrangements + "/conversion-joined.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const permanent = `
job: x
places: {board: {is: board}, jb: {is: box, joints: yes}, sw1: {is: switch}, sw2: {is: switch}, l1: {is: light}, em1: {is: emergency light}, fan: {is: timed fan}}
runs:
  A: {from: board, to: jb, in: steel conduit 20, length: 3 m}
  B: {from: jb, to: sw1, in: steel conduit 20, length: 1 m}
  C: {from: jb, to: sw2, in: steel conduit 20, length: 2 m}
  D: {from: jb, to: l1, in: steel conduit 20, length: 2.5 m}
  E: {from: l1, to: em1, in: steel conduit 20, length: 2 m}
  F: {from: em1, to: fan, in: steel conduit 20, length: 2 m}
circuits:
  c: {device: B6, cable: 1.5, cpc: conduit, arrangement: lighting, groups: [{switches: [sw1, sw2], lights: [l1, em1, fan], method: conversion}]}
`
	for text, want := range map[string]string{
		strings.Replace(string(text), "cable: 1.5", "cable: 1.5\n    cpc: conduit", 1): "line 10.35 14.05, switched line 9.40 13.10",
		permanent: "line 14.45 16.15, switched line 11.00 11.70",
	} {
		j, err := route.Parse("x.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, n := range j.Circuits[0].Joined {
			got = append(got, fmt.Sprintf("%s %.2f %.2f", n.Function, n.Least, n.Looped))
		}
		if got := strings.Join(got, ", "); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

// TestConversionCores: by hand all brown of the conversion from four places is
// 67.85 m, the commons 14.70 of it.
func TestConversionCores(t *testing.T) {
	j := readJob(t, arrangements+"/conversion-four.yaml")
	brown := 0.0
	for i := range j.Singles {
		if j.Singles[i].Colour == route.Brown {
			brown += float64(j.Singles[i].Length)
		}
	}
	if math.Abs(brown-67.85) > 1e-6 {
		t.Errorf("brown %v m", brown)
	}
}
