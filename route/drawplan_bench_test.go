package route

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// BenchmarkDrawIn plans a grid of conduit, whose every mesh is a circle that
// cores go round unbroken, so that it takes many rounds; and a tree of as many
// tubes, which takes one.
func BenchmarkDrawIn(b *testing.B) {
	grid := func(across, circuits int) []byte {
		return bytes.ReplaceAll(gridJob(across, across, circuits), []byte("steel trunking 100x100"), []byte("steel conduit 32"))
	}
	for _, c := range []struct {
		name string
		text []byte
	}{{"tree of 2000", treeJob(2000, 500)}, {"tree of 20000", treeJob(20000, 5000)}, {"grid of 2000", grid(32, 500)}, {"grid of 20000", grid(100, 5000)}} {
		b.Run(c.name, func(b *testing.B) {
			j, err := Parse("large.yaml", c.text)
			if err != nil {
				b.Fatal(err)
			}
			draws, over := 0, 0
			for b.Loop() {
				draws, over = 0, 0
				for _, d := range j.DrawIn() {
					draws++
					if d.Over {
						over++
					}
				}
			}
			passages := 0
			for i := range j.Singles {
				passages += len(j.Singles[i].Way)
			}
			b.ReportMetric(float64(draws), "draws")
			b.ReportMetric(float64(over), "over")
			b.ReportMetric(float64(len(j.Runs)), "runs")
			b.ReportMetric(float64(passages), "passages")
		})
	}
}

// treeJob is a tree of conduit, half of it boxes with the other half sockets,
// and radials of a few sockets near one another.
func treeJob(runs, circuits int) []byte {
	var w strings.Builder
	random := rand.New(rand.NewPCG(3, 3))
	w.WriteString("job: Tree\nplaces:\n  p0: {is: board}\n")
	for i := 1; i <= runs; i++ {
		fmt.Fprintf(&w, "  p%d: {is: %s}\n", i, []string{"box", "socket"}[i%2])
	}
	w.WriteString("runs:\n")
	for i := 1; i <= runs; i++ {
		up := max(0, i-1-random.IntN(80))
		fmt.Fprintf(&w, "  R%d: {from: p%d, to: p%d, in: plastic conduit 25, path: \"right %d mm, down %d mm\"}\n", i, up-up%2, i, 500+random.IntN(3000), 500+random.IntN(3000))
	}
	w.WriteString("circuits:\n")
	for i := range circuits {
		at := 2 * (runs / 2 * i / circuits)
		fmt.Fprintf(&w, "  c%d: {device: B16, cable: 2.5, points: [p%d, p%d]}\n", i, at+1, at+3)
	}
	return []byte(w.String())
}
