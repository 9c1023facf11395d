package route_test

import (
	"strings"
	"testing"

	"tubewright/route"

	"pgregory.net/rapid"
)

// TestMarksApart: no two cores of a circuit bear one label in a run, and a core
// is numbered only where another of its kind would lie beside it with the same.
func TestMarksApart(t *testing.T) {
	numbered := 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, anyPlan)
		j := p.parse(t)
		for c := range j.Circuits {
			alike := map[string]bool{} // plain labels that meet in a run
			for run := range j.Runs {
				seen, plain := map[string]bool{}, map[string]bool{}
				for _, s := range j.Singles[j.Circuits[c].Singles[0]:j.Circuits[c].Singles[1]] {
					if s.Function == route.Unnamed || !passes(&s, run) {
						continue
					}
					bare := s
					bare.Number = 0
					if seen[s.Mark()] {
						t.Fatalf("%s twice in %s\n%s", s.Mark(), j.Runs[run].Name, p.text())
					}
					alike[bare.Mark()] = alike[bare.Mark()] || plain[bare.Mark()]
					seen[s.Mark()], plain[bare.Mark()] = true, true
				}
			}
			for _, s := range j.Singles[j.Circuits[c].Singles[0]:j.Circuits[c].Singles[1]] {
				bare := s
				bare.Number = 0
				if (s.Number > 0) != alike[bare.Mark()] {
					t.Fatalf("%s of %s is numbered, %v\n%s", s.Mark(), j.Circuits[c].Name, s.Number > 0, p.text())
				}
				numbered += s.Number
			}
		}
	})
	if numbered == 0 {
		t.Error("no two of a kind in one run: the draw is too tame")
	}
}

func passes(s *route.Single, run int) bool {
	for _, p := range s.Way {
		if p.Run == run {
			return true
		}
	}
	return false
}

// TestMarksByHand: in the conversion the switched line to the second switch lies
// beside that to the light; a ring's ends keep 1 and 2, and where its other cores
// lie two in a drop they go on from 3.
func TestMarksByHand(t *testing.T) {
	const ring = `
job: ring
places: {board: {is: board}, bx: {is: box}, s1: {is: socket}, s2: {is: socket}, s3: {is: socket}}
runs:
  A: {from: board, to: bx, in: steel conduit 25, length: 3 m}
  B: {from: bx, to: s1, in: steel conduit 25, length: 1 m}
  C: {from: bx, to: s2, in: steel conduit 25, length: 1 m}
  D: {from: bx, to: s3, in: steel conduit 25, length: 1 m}
circuits: {power: {device: B32, cable: 2.5, cpc: conduit, arrangement: ring, points: [s1, s2, s3]}}
`
	j, err := route.Parse("ring.yaml", []byte(ring))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := marks(j), "L-1 N-1 L-3 N-3 L-4 N-4 L-2 N-2"; got != want {
		t.Errorf("ring: got %s, want %s", got, want)
	}
	if got, want := marks(readJob(t, arrangements+"/conversion.yaml")), "L L/1 SL1-1 C/1 SL1-2 N E-1 E-2 E-3"; got != want {
		t.Errorf("conversion: got %s, want %s", got, want)
	}
}

func marks(j *route.Job) string {
	var out []string
	for i := range j.Singles {
		out = append(out, j.Singles[i].Mark())
	}
	return strings.Join(out, " ")
}
