package fill_test

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"tubewright/fill"
	"tubewright/route"

	"gopkg.in/yaml.v3"
)

// largeJob is a row of workshops along one chain of boxes: every circuit
// passes two to four neighbouring runs, so that groups stay within the table
// however long the row is.
func largeJob(circuits, runs int) []byte {
	var b strings.Builder
	b.WriteString("job: Row of workshops\nambient: 30 C\nsupply: {voltage: 230 V}\nplaces:\n")
	fmt.Fprintf(&b, "  shop %05d: {is: board, height: 1.5 m}\n", 0)
	for i := 1; i <= runs; i++ {
		fmt.Fprintf(&b, "  shop %05d: {is: box}\n", i)
	}
	b.WriteString("runs:\n")
	for i := range runs {
		in, way := "steel trunking 75x50", fmt.Sprintf("path: \"right %.1f, up 0.4, right 1.2\"", 2+float64(i%20)/10)
		if i%4 == 0 {
			in, way = "steel conduit 32", fmt.Sprintf("length: %.1f m, bends: %d", 2+float64(i%30)/10, i%3)
		}
		fmt.Fprintf(&b, "  run %05d: {from: shop %05d, to: shop %05d, in: %s, %s}\n", i, i, i+1, in, way)
	}
	b.WriteString("circuits:\n")
	kinds := []struct{ name, rest string }{
		{"sockets", "device: B20, cable: 6, arrangement: radial, demand: 16 A"},
		{"lights", "device: B6, cable: 1.5, arrangement: lighting, demand: 420 W"},
		{"heater", "device: C16, cable: 4, demand: 3 kW"},
		{"lathe", "device: C20, cable: 6, demand: {power: 3.2 kW, power factor: 0.8}"},
		{"door", "device: B6, cable: 2.5, demand: 1.2 A"},
	}
	for i := range circuits {
		k := kinds[i%len(kinds)]
		from := i * (runs - 3) / circuits
		fmt.Fprintf(&b, "  %s of %05d: {%s, runs: [run %05d", k.name, i, k.rest, from)
		for n := 1; n < 2+(i+1)%3; n++ {
			fmt.Fprintf(&b, ", run %05d", from+n)
		}
		b.WriteString("]}\n")
	}
	return []byte(b.String())
}

// BenchmarkCheckLarge measures, in one run and under one setting of the
// collector, the YAML library's decoding of a large job into nodes, and the
// reading and judging of that job. It reports their ratio.
func BenchmarkCheckLarge(b *testing.B) {
	for _, size := range []struct{ circuits, runs int }{{5000, 2000}, {50000, 20000}} {
		b.Run(fmt.Sprintf("%d circuits", size.circuits), func(b *testing.B) {
			defer debug.SetGCPercent(debug.SetGCPercent(400)) // as the program sets it, for both
			text := largeJob(size.circuits, size.runs)
			b.SetBytes(int64(len(text)))
			var decode, check time.Duration
			for b.Loop() {
				decode += timed(b, func() error {
					var n yaml.Node
					return yaml.Unmarshal(text, &n)
				})
				check += timed(b, func() error {
					j, err := route.Parse("large.yaml", text)
					if err == nil {
						_ = fill.Check(j)
					}
					return err
				})
			}
			b.ReportMetric(float64(check)/float64(decode), "check/decode")
			b.ReportMetric(float64(check.Microseconds())/float64(b.N)/1000, "check-ms")
			b.ReportMetric(float64(decode.Microseconds())/float64(b.N)/1000, "decode-ms")
		})
	}
}

func timed(b *testing.B, do func() error) time.Duration {
	b.Helper()
	runtime.GC()
	start := time.Now()
	if err := do(); err != nil {
		b.Fatal(err)
	}
	return time.Since(start)
}

// TestLargeJob: the benchmark's job is one that is read and judged in full.
func TestLargeJob(t *testing.T) {
	a := judged(t, string(largeJob(500, 200)))
	for i := range a.Findings {
		if f := &a.Findings[i]; f.Verdict == fill.Open {
			t.Errorf("%s of %s: %s", f.Check, f.Subject, f.Reason)
		}
	}
	if n := a.Count(); n[fill.Fail]*5 > n[fill.Pass] {
		t.Errorf("%v", n)
	}
	if n := len(largeJob(50000, 20000)); n < 8_000_000 || n > 10_000_000 {
		t.Errorf("%d bytes", n)
	}
}
