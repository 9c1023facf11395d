package fill

import (
	"fmt"
	"strings"
	"testing"

	"tubewright/route"
)

// BenchmarkDropNamed judges one circuit that names its runs, which a large job
// does tens of thousands of times.
func BenchmarkDropNamed(b *testing.B) {
	m := newMatter(parsed(b, `job: one
runs:
  A: {in: steel conduit 20, length: 4 m}
circuits:
  lathe: {device: C20, cable: 6, demand: {power: 3.2 kW, power factor: 0.8}, runs: [A]}
`))
	m.loads = []float64{m.load(0)}
	b.ReportAllocs()
	for b.Loop() {
		drop(nil, m, 0)
	}
}

// BenchmarkDropPoints judges a lighting circuit of a hundred lights.
func BenchmarkDropPoints(b *testing.B) {
	var places, runs, lit strings.Builder
	for i := range 100 {
		fmt.Fprintf(&places, "  l%d: {is: light}\n", i)
		fmt.Fprintf(&runs, "  R%d: {from: %s, to: l%d, in: steel conduit 20, length: 3 m}\n", i, before(i), i)
		fmt.Fprintf(&lit, "l%d, ", i)
	}
	j := parsed(b, "job: many\nplaces:\n  board: {is: board}\n"+places.String()+"runs:\n"+runs.String()+
		"circuits:\n  lights: {device: B6, cable: 1.5, arrangement: lighting, groups: [{lights: ["+strings.TrimSuffix(lit.String(), ", ")+"]}]}\n")
	m := newMatter(j)
	b.ReportAllocs()
	for b.Loop() {
		drop(nil, m, 0)
	}
}

func before(i int) string {
	if i == 0 {
		return "board"
	}
	return fmt.Sprintf("l%d", i-1)
}

func parsed(t testing.TB, text string) *route.Job {
	t.Helper()
	j, err := route.Parse("job.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return j
}
