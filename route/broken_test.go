package route_test

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"tubewright/factors/source"
	"tubewright/route"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files")

const broken = "../testdata/broken"

// unmarked are files in which no comment can stand where the complaint is.
var unmarked = []string{"control-character", "empty", "not-utf8", "old-line-ends", "only-a-comment", "unclosed-quote"}

// TestBroken reads jobs with a slip or a few. The whole text of what is
// complained of is in the golden file beside each; in the job itself every
// line that is wrong says so, and a complaint anywhere else fails.
func TestBroken(t *testing.T) {
	for _, file := range brokenFiles(t) {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		t.Run(name, func(t *testing.T) {
			text, problems := readBroken(t, file)
			checkMarks(t, text, problems, slices.Contains(unmarked, name))
			golden(t, filepath.Join(broken, name+".txt"), problems.Error()+"\n")
		})
	}
}

func brokenFiles(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(broken + "/*.yaml")
	if err != nil || len(files) < 45 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	return files
}

func readBroken(t *testing.T, file string) ([]byte, source.Problems) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	job, err := route.Parse(filepath.Base(file), text)
	var problems source.Problems
	if job != nil || !errors.As(err, &problems) {
		t.Fatalf("no complaint: %v", err)
	}
	return text, problems
}

var (
	markLine = regexp.MustCompile(`# PROBLEM ((?:"(?:[^"\\]|\\.)*" ?)+)`)
	markPart = regexp.MustCompile(`"((?:[^"\\]|\\.)*)"`)
)

// checkMarks holds the complaints against the marks: each part of a mark is in
// a complaint of its line, and each complaint has a part of the mark.
func checkMarks(t *testing.T, text []byte, problems source.Problems, bare bool) {
	t.Helper()
	parts := map[int32][]string{}
	for i, line := range strings.Split(string(text), "\n") {
		if m := markLine.FindStringSubmatch(line); m != nil {
			for _, p := range markPart.FindAllStringSubmatch(m[1], -1) {
				parts[int32(i+1)] = append(parts[int32(i+1)], strings.ReplaceAll(p[1], `\"`, `"`))
			}
		}
	}
	if bare != (len(parts) == 0) {
		t.Errorf("marks: %v", parts)
	}
	said := map[int32][]string{}
	for _, p := range problems {
		text := p.What + "; " + p.Want + "; " + p.AlsoS
		said[p.At.Line] = append(said[p.At.Line], text)
		if !bare && !slices.ContainsFunc(parts[p.At.Line], func(part string) bool { return strings.Contains(text, part) }) {
			t.Errorf("unmarked: %v", p)
		}
	}
	for line, marks := range parts {
		for _, part := range marks {
			if !slices.ContainsFunc(said[line], func(s string) bool { return strings.Contains(s, part) }) {
				t.Errorf("line %d does not complain of %q; it says %q", line, part, said[line])
			}
		}
	}
}

func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", file, diff)
	}
}

var hint = regexp.MustCompile(`^did you mean ([^?]+)\?( \(all: tubewright keys .+\))?$`)

// TestHints applies what each complaint suggests and reads the job again: the
// complaint must be gone.
func TestHints(t *testing.T) {
	applied := 0
	for _, file := range brokenFiles(t) {
		text, problems := readBroken(t, file)
		for _, p := range problems {
			m := hint.FindStringSubmatch(p.Want)
			if m == nil {
				continue
			}
			applied++
			mended := replace(t, text, p, m[1])
			_, err := route.Parse(p.File.Name, mended)
			var rest source.Problems
			errors.As(err, &rest)
			if len(rest) >= len(problems) || slices.ContainsFunc(rest, func(q *source.Problem) bool { return q.At == p.At }) {
				t.Errorf("%v\nstays when it is followed:\n%v", p, rest)
			}
		}
	}
	if applied < 25 {
		t.Errorf("only %d hints were applied", applied)
	}
}

// replace puts word in the place that the problem marks.
func replace(t *testing.T, text []byte, p *source.Problem, word string) []byte {
	t.Helper()
	lines := strings.SplitAfter(string(text), "\n")
	line := []rune(lines[p.At.Line-1])
	from := int(p.At.Col) - 1
	if from+p.Width > len(line) {
		t.Fatalf("%v: marks past the line", p)
	}
	lines[p.At.Line-1] = string(line[:from]) + word + string(line[from+p.Width:])
	return []byte(strings.Join(lines, ""))
}

// TestManyProblems: all problems are there to be looked at, two hundred are
// printed, and the rest are counted.
func TestManyProblems(t *testing.T) {
	job := "job: x\nruns:\n" + strings.Repeat("  A: {in: steel conduit 20, length: 1 mm, colour: red}\n", 300)
	_, err := route.Parse("x.yaml", []byte(job))
	var problems source.Problems
	if !errors.As(err, &problems) || len(problems) != 300+299 {
		t.Fatalf("%d problems", len(problems))
	}
	text := err.Error()
	if n := strings.Count(text, "\nx.yaml:"); n != 200 || !strings.HasSuffix(text, "\nx.yaml: and 399 more") {
		t.Errorf("%d shown: …%s", n+1, text[len(text)-60:])
	}
	if err == nil || errors.Is(err, route.ErrReach) || !errors.Is(err, route.ErrKey) || !errors.Is(err, source.ErrDuplicate) {
		t.Errorf("the kinds are lost")
	}
}
