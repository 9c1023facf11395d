package route_test

import (
	"errors"
	"strings"
	"testing"

	"tubewright/route"
)

// TestCircuitsRefused: what cannot be wired is said once, where it stands.
func TestCircuitsRefused(t *testing.T) {
	const head = `job: x
supply: {phases: 3}
places: {board: {is: board}, bx1: {is: box}, sw1: {is: switch, gangs: 4}, l1: {is: light}, l2: {is: light}, l3: {is: light}, m1: {is: motor}}
runs:
  A: {from: board, to: sw1, in: steel conduit 20, length: 1 m, bends: 0}
  B: {from: sw1, to: l1, in: steel conduit 20, length: 1 m, bends: 0}
  C: {from: l1, to: m1, in: steel conduit 20, length: 1 m, bends: 0}
  D: {from: l1, to: l3, in: steel conduit 20, length: 1 m, bends: 0}
circuits:
`
	for _, c := range []struct {
		name, circuits string
		kind           error
		want           []string
	}{
		{"a light out of reach", "  c: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw1], lights: [l1]}, {switches: [sw1], lights: [l2]}]}\n", route.ErrReach,
			[]string{"10:123: no run reaches l2"}},
		{"a light out of reach, others in reach", "  c: {device: B6, cable: 1.5, points: [l2]}\n  d: {device: B6, cable: 1.5, points: [l1]}\n  e: {device: B6, cable: 1.5, points: [m1]}\n", route.ErrReach,
			[]string{"10:40: no run reaches l2"}},
		{"no neutral to borrow from a three-phase load", "  saw: {device: B16, cable: 4, phases: 3, neutral: no, points: [m1]}\n  c: {device: B6, cable: 1.5, arrangement: lighting, groups: [{lights: [l1], neutral from: saw}]}\n", route.ErrConflict,
			[]string{"11:92: circuit saw has no neutral to borrow"}},
		{"no neutral to borrow from one that names its runs", "  a: {device: B16, cable: 4, runs: [A]}\n  c: {device: B6, cable: 1.5, arrangement: lighting, groups: [{lights: [l1], neutral from: a}]}\n", route.ErrConflict,
			[]string{"11:92: circuit a has no neutral to borrow"}},
		{"no neutral to borrow from a borrower", "  a: {device: B16, cable: 4, points: [m1]}\n  b: {device: B6, cable: 1.5, arrangement: lighting, groups: [{lights: [l3], neutral from: a}]}\n  c: {device: B6, cable: 1.5, arrangement: lighting, groups: [{lights: [l1], neutral from: b}]}\n", route.ErrConflict,
			[]string{"12:92: circuit b has no neutral to borrow"}},
		{"its own neutral", "  c: {device: B6, cable: 1.5, arrangement: lighting, groups: [{lights: [l1], neutral from: c}]}\n", route.ErrReference,
			[]string{"10:92: no other circuit is called c"}},
		{"a light of two circuits", "  c: {device: B6, cable: 1.5, points: [l1, l3]}\n  d: {device: B6, cable: 1.5, arrangement: lighting, groups: [{lights: [l3]}]}\n", route.ErrConflict,
			[]string{"11:73: l3 is fed by circuit c already (that circuit at line 10)"}},
		{"a ring that shares its cpc", "  c: {device: B32, cable: 4, arrangement: ring, points: [l1, l3], cpc: shared}\n", route.ErrConflict,
			[]string{"10:72: the cpc of a ring is a ring of its own"}},
		{"three-phase lighting", "  c: {device: B6, cable: 1.5, arrangement: lighting, phases: 3, groups: [{lights: [l1]}]}\n", route.ErrConflict,
			[]string{"10:62: a lighting circuit is single-phase"}},
		{"a way that no core takes", "  c: {device: B6, cable: 1.5, points: [l1, l3], via: [{from: board, to: l3, runs: [A, B, D]}]}\n", route.ErrConflict,
			[]string{"10:84: no core of circuit c goes from board to l3"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := route.Parse("x.yaml", []byte(head+c.circuits))
			if !errors.Is(err, c.kind) {
				t.Fatalf("%v", err)
			}
			var got []string
			for _, line := range strings.Split(err.Error(), "\n") {
				if text, ok := strings.CutPrefix(line, "x.yaml:"); ok {
					got = append(got, text)
				}
			}
			if strings.Join(got, "\n") != strings.Join(c.want, "\n") {
				t.Errorf("got\n%v\nwant %q", err, c.want)
			}
		})
	}
}
