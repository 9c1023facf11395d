package fill_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"tubewright/factors/source"
	"tubewright/fill"
	"tubewright/route"
)

// FuzzJob: no text panics, every complaint stands in the file or nowhere, and
// a job that is read is judged, with its working, without a panic.
func FuzzJob(f *testing.F) {
	for _, dir := range []string{"jobs", "broken"} {
		files, err := filepath.Glob("../testdata/" + dir + "/*.yaml")
		if err != nil || len(files) == 0 {
			f.Fatalf("%s: %v", dir, err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		job, err := route.Parse("job.yaml", text)
		var problems source.Problems
		if (job == nil) == (err == nil) || err != nil && !errors.As(err, &problems) {
			t.Fatalf("job %v, error %v", job, err)
		}
		if err == nil {
			report := fill.Check(job)
			for i := range report.Findings {
				report.Findings[i].Steps()
			}
		}
		lines := strings.Split(strings.TrimPrefix(string(text), "\ufeff"), "\n")
		for _, p := range problems {
			if !p.At.Known() {
				continue
			}
			if int(p.At.Line) > len(lines) || p.At.Col < 1 || int(p.At.Col) > utf8.RuneCountInString(lines[p.At.Line-1])+1 || p.What == "" || p.Width < 1 {
				t.Fatalf("at %v, %d wide, of %d lines: %s", p.At, p.Width, len(lines), p.What)
			}
		}
		if err != nil && !utf8.ValidString(err.Error()) {
			t.Fatalf("not UTF-8: %q", err)
		}
	})
}
