package route

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"
	"time"

	"tubewright/factors/source"

	"gopkg.in/yaml.v3"
)

// gridJob is a grid of trunking with the board in its middle, and circuits of
// six places each within a few metres of one another: radials, rings, and
// lights with their switches.
func gridJob(across, down, circuits int) []byte {
	var b strings.Builder
	b.WriteString("job: Grid\nsupply: {phases: 3}\nplaces:\n")
	kinds := []string{"equipment", "switch, gangs: 12", "equipment"} // which several circuits may feed
	name := func(x, y int) string { return fmt.Sprintf("place %03d %03d", x, y) }
	board := (down/2)*across + across/2
	for i := range across * down {
		x, y := i%across, i/across
		kind := kinds[(x+y)%3]
		if i == board {
			kind = "board"
		}
		fmt.Fprintf(&b, "  %s: {is: %s}\n", name(x, y), kind)
	}
	b.WriteString("runs:\n")
	random := rand.New(rand.NewPCG(7, 7))
	run := func(x, y, u, v int) {
		if u < across && v < down {
			fmt.Fprintf(&b, "  run %03d %03d %03d %03d: {from: %s, to: %s, in: steel trunking 100x100, length: %d mm, bends: 0}\n", x, y, u, v, name(x, y), name(u, v), 2000+random.IntN(1000))
		}
	}
	for i := range across * down {
		x, y := i%across, i/across
		run(x, y, x+1, y)
		run(x, y, x, y+1)
	}
	b.WriteString("circuits:\n")
	for i := range circuits {
		x, y := random.IntN(across-6), random.IntN(down-6)
		near := func(kind, n int) []string {
			var out []string
			for _, k := range random.Perm(36) {
				u, v := x+k%6, y+k/6
				if len(out) < n && (u+v)%3 == kind && v*across+u != board {
					out = append(out, name(u, v))
				}
			}
			return out
		}
		fmt.Fprintf(&b, "  circuit %05d: {device: B16, cable: 2.5, ", i)
		if i%3 < 2 {
			fmt.Fprintf(&b, "arrangement: %s, points: [%s]}\n", []string{"radial", "ring"}[i%3], strings.Join(near(0, 6), ", "))
			continue
		}
		sw, li := near(1, 3), near(2, 3)
		fmt.Fprintf(&b, "arrangement: lighting, groups: [{switches: [%s], lights: [%s]}, {switches: [%s, %s], lights: [%s, %s]}]}\n", sw[0], li[0], sw[1], sw[2], li[1], li[2])
	}
	return []byte(b.String())
}

// BenchmarkDeriveGrid compares, in one run, the YAML library's decoding of a
// job into nodes with the derivation of its cores: wire finds every way and
// lays the cores, gather counts what lies in each run. Ten times the job should
// take ten times the time, and the way home, which grows with the grid.
func BenchmarkDeriveGrid(b *testing.B) {
	for _, size := range []struct{ across, down, circuits int }{{32, 32, 500}, {100, 100, 5000}} {
		text := gridJob(size.across, size.down, size.circuits)
		b.Run(fmt.Sprintf("%d circuits", size.circuits), func(b *testing.B) {
			j, err := Parse("grid.yaml", text)
			if err != nil {
				b.Fatal(err)
			}
			passes := 0
			for i := range j.Singles {
				passes += len(j.Singles[i].Way)
			}
			var decode, wire, gather time.Duration
			for b.Loop() {
				runtime.GC()
				start := time.Now()
				var n yaml.Node
				if err := yaml.Unmarshal(text, &n); err != nil {
					b.Fatal(err)
				}
				decode += time.Since(start)
				p := underived(j)
				runtime.GC()
				start = time.Now()
				p.wire()
				wire += time.Since(start)
				start = time.Now()
				p.job.gather()
				gather += time.Since(start)
			}
			b.ReportMetric(float64(wire)/float64(decode), "wire/decode")
			b.ReportMetric(float64(wire+gather)/float64(decode), "derive/decode")
			b.ReportMetric(float64(wire.Microseconds())/float64(b.N)/1000, "wire-ms")
			b.ReportMetric(float64(gather.Microseconds())/float64(b.N)/1000, "gather-ms")
			b.ReportMetric(float64(decode.Microseconds())/float64(b.N)/1000, "decode-ms")
			b.ReportMetric(float64(len(j.Runs)), "runs")
			b.ReportMetric(float64(len(j.Singles)), "cores")
			b.ReportMetric(float64(passes), "passages")
		})
	}
}

// underived takes back all that derive worked out.
func underived(j *Job) *parser {
	j.Singles, j.sharers = nil, nil
	for i := range j.Circuits {
		c := &j.Circuits[i]
		c.Runs = nil
		for k := range c.Groups {
			c.Groups[k].Gangs = nil
		}
	}
	for i := range j.Runs {
		j.Runs[i].Carries = nil
	}
	return &parser{Reader: &source.Reader{File: j.File}, job: j}
}
