package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// BenchmarkStart sets the time that a command takes, from the shell's view,
// against a program of Go that prints one word. An installer waits for the
// whole of it; of --help it is all start-up. The aim is at most 3 for --help,
// and is missed: 3.4 to 4.1. The library that writes the workbook costs it, in
// every command: a bare program that only imports it takes 3.4 times the bare
// one. 3 ms are its own package's initialisation (GODEBUG=inittrace=1; 21,000
// allocations), the rest what it links. Without it --help took 2.1. All our own
// packages initialise in 0.2 ms, and the help is written in 0.3 ms.
//
//	go test ./cmd/tubewright -run '^$' -bench Start
func BenchmarkStart(b *testing.B) {
	dir := b.TempDir()
	ours, bare := filepath.Join(dir, "tubewright"), filepath.Join(dir, "bare")
	source := filepath.Join(dir, "bare.go")
	if err := os.WriteFile(source, []byte("package main\n\nimport \"fmt\"\n\nfunc main() { fmt.Println(\"word\") }\n"), 0o644); err != nil {
		b.Fatal(err)
	}
	for target, from := range map[string]string{ours: ".", bare: source} {
		if text, err := exec.Command("go", "build", "-o", target, from).CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, text)
		}
	}
	for _, c := range []struct {
		name string
		args []string
	}{
		{"help", []string{"--help"}},
		{"fit", []string{"fit", "--in", "steel conduit 20", "--length", "6", "--bends", "2", "4 x 2.5, 2 x 1.5"}},
		{"check", []string{"check"}},
	} {
		b.Run(c.name, func(b *testing.B) {
			var took, plain []time.Duration
			for b.Loop() {
				// In turns, so that what else the machine does falls on both.
				plain = append(plain, wall(b, bare))
				took = append(took, wall(b, ours, c.args...))
			}
			b.ReportMetric(0, "ns/op") // of both together: means nothing
			b.ReportMetric(middle(took).Seconds()*1e3, "ms")
			b.ReportMetric(middle(plain).Seconds()*1e3, "ms/bare")
			b.ReportMetric(float64(middle(took))/float64(middle(plain)), "ratio")
		})
	}
}

func wall(b *testing.B, program string, args ...string) time.Duration {
	start := time.Now()
	if err := exec.Command(program, args...).Run(); err != nil {
		b.Fatal(err)
	}
	return time.Since(start)
}

func middle(times []time.Duration) time.Duration {
	slices.Sort(times)
	return times[len(times)/2]
}
