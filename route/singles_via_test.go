package route_test

import (
	"math"
	"testing"

	"tubewright/route"
)

// TestOrderKeepsVia: the order of least cable reckons with the ways that the
// circuit names, and what it says it takes is what is drawn in.
func TestOrderKeepsVia(t *testing.T) {
	const head = `
job: two ways round
places: {board: {is: board}, s1: {is: socket}, s2: {is: socket}}
runs:
  A: {from: board, to: s1, in: steel conduit 20, length: 2 m, bends: 0}
  B: {from: s1, to: s2, in: steel conduit 20, length: 2 m, bends: 0}
  C: {from: s2, to: board, in: steel conduit 20, length: 5 m, bends: 0}
  D: {from: s1, to: s2, in: steel conduit 20, length: 9 m, bends: 0}
circuits:
`
	for _, tt := range []struct {
		name, circuit string
		listed, taken float64
	}{
		{"no way named", "points: [s2, s1]", 4 + 2, 2 + 2},
		{"the long way between them", "points: [s2, s1], via: [{from: s1, to: s2, runs: [D]}]", 4 + 9, 2 + 9},
		{"a ring, the long way between them", "arrangement: ring, points: [s1, s2], via: [{from: s2, to: s1, runs: [D]}]", 2 + 9 + 4, 2 + 9 + 4},
	} {
		t.Run(tt.name, func(t *testing.T) {
			j, err := route.Parse("x.yaml", []byte(head+"  c: {device: B16, cable: 2.5, order: shortest, "+tt.circuit+"}\n"))
			if err != nil {
				t.Fatal(err)
			}
			sv := j.Circuits[0].Saving
			if drawn := lineLength(j, 0); math.Abs(drawn-tt.taken) > 1e-6 || sv.Listed != tt.listed || sv.Shortest != tt.taken || !sv.Exact {
				t.Errorf("%v m drawn, want %v; %+v, want %v m as listed", drawn, tt.taken, sv, tt.listed)
			}
		})
	}
}
