package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"tubewright/render"
)

// printedJobs are the demo jobs, by name.
func printedJobs(t *testing.T) []string {
	files, err := filepath.Glob("../../testdata/jobs/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no demo jobs: %v", err)
	}
	return files
}

// TestGoldens compares what the demo jobs print with testdata/golden. Read a
// page as an electrician would before you write it anew with -update.
func TestGoldens(t *testing.T) {
	for _, job := range printedJobs(t) {
		name := strings.TrimSuffix(filepath.Base(job), ".yaml")
		for _, command := range commandsFor(t, job) {
			t.Run(name+"."+command, func(t *testing.T) {
				page := printed(t, command, job)
				readable(t, page)
				path := filepath.Join("../../testdata/golden", name+"."+command+".txt")
				if *update {
					if err := os.WriteFile(path, []byte(page), 0o644); err != nil {
						t.Fatal(err)
					}
				}
				want, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				if diff := cmp.Diff(string(want), page); diff != "" {
					t.Errorf("%s differs (-want +got); read it, then run with -update:\n%s", path, diff)
				}
			})
		}
	}
}

// commandsFor lists the commands that print a page of a job.
func commandsFor(t *testing.T, job string) []string {
	text, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	commands := []string{"check", "bill", "singles", "work", "setout", "cut"}
	if bytes.Contains(text, []byte("\nboard:")) {
		commands = append(commands, "board")
	}
	return commands
}

// printed is what a command prints of a job, the same each time.
func printed(t *testing.T, command, job string) string {
	var first string
	for range 2 {
		var out, complaint bytes.Buffer
		if code := run([]string{command, job}, strings.NewReader(""), &out, &complaint); code > exitFail || complaint.Len() > 0 {
			t.Fatalf("exit code %d: %s", code, &complaint)
		}
		if first == "" {
			first = out.String()
		}
		if out.String() != first {
			t.Fatal("two runs print two things")
		}
	}
	return first
}

// slips are what a careful reader would mark on a page.
var slips = map[string]*regexp.Regexp{
	"one of a thing, in the plural": regexp.MustCompile(`(^|[^\d.,/])1 (bends|sets|circuits|cables|runs|lengths|reels|boxes|parts|conductors|loads|ways|cores|legs)\b`),
	"space at the end of a line":    regexp.MustCompile(`(?m)[ \t]+$`),
	"three empty lines":             regexp.MustCompile(`\n\n\n\n`),
	"a tab":                         regexp.MustCompile(`\t`),
	"a number that is none":         regexp.MustCompile(`NaN|[+-]Inf|%!`),
	"a word twice":                  regexp.MustCompile(`\b(the the|of of|a a|is is|in in|to to)\b`),
	"figure and unit run together":  regexp.MustCompile(`\d(mm²|mm|kW)\b`),
}

// readable holds a page to what every page must have and must not have.
func readable(t *testing.T, page string) {
	for what, pattern := range slips {
		if at := pattern.FindString(page); at != "" {
			t.Errorf("%s: %q", what, at)
		}
	}
	plain := strings.Join(strings.Fields(page), " ")
	for _, caution := range render.Cautions {
		if !strings.Contains(plain, caution) {
			t.Errorf("the page lacks %q", caution)
		}
	}
	for line := range strings.Lines(page) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > pageWidth {
			t.Errorf("%d columns: %s", n, line)
		}
	}
	if missing := render.MissingRunes(strings.ReplaceAll(page, "\n", "")); missing != nil {
		t.Errorf("the typeface lacks %q", missing)
	}
}

// pageWidth is what a terminal and an upright page have room for.
const pageWidth = 100
