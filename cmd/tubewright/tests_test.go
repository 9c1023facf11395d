package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const clubhouseJob = "../../testdata/jobs/clubhouse.yaml"

// TestTestSheets compares the test sheet of each demo job, and each file of
// readings beside it, with testdata/measured/golden. Read a page as an
// electrician would before you write it anew with -update.
func TestTestSheets(t *testing.T) {
	pages := map[string][]string{}
	for _, job := range printedJobs(t) {
		pages[strings.TrimSuffix(filepath.Base(job), ".yaml")] = []string{"tests", job}
	}
	readings, err := filepath.Glob("../../testdata/measured/*.yaml")
	if err != nil || len(readings) == 0 {
		t.Fatalf("no readings: %v", err)
	}
	for _, file := range readings {
		pages[strings.TrimSuffix(filepath.Base(file), ".yaml")+".readings"] = []string{"tests", clubhouseJob, "--measured", file}
	}
	for name, args := range pages {
		t.Run(name, func(t *testing.T) {
			page := printedBy(t, args)
			readable(t, page)
			if strings.Contains(strings.ToLower(page), "safe") {
				t.Error("the page says that something is safe")
			}
			path := filepath.Join("../../testdata/measured/golden", name+".txt")
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

// printedBy is what a command line prints, the same each time.
func printedBy(t *testing.T, args []string) string {
	t.Helper()
	var pages [2]bytes.Buffer
	for i := range pages {
		var complaint bytes.Buffer
		if code := run(args, strings.NewReader(""), &pages[i], &complaint); code > exitFail || complaint.Len() > 0 {
			t.Fatalf("%v: exit code %d: %s", args, code, &complaint)
		}
	}
	if pages[0].String() != pages[1].String() {
		t.Fatal("two runs print two things")
	}
	return pages[0].String()
}

// TestFilledSheet fills in the CSV of every demo job's sheet with what it
// expects and reads it again: nothing fails, every line is compared, and the
// comparison's own CSV reads as the same readings.
func TestFilledSheet(t *testing.T) {
	for _, job := range printedJobs(t) {
		dir := t.TempDir()
		blank, filled, again := filepath.Join(dir, "blank.csv"), filepath.Join(dir, "filled.csv"), filepath.Join(dir, "again.csv")
		var out, complaint bytes.Buffer
		if code := run([]string{"tests", job, "--csv", blank}, nil, &out, &complaint); code != exitPass {
			t.Fatalf("%s: exit code %d: %s", job, code, &complaint)
		}
		lines := fillIn(t, blank, filled)
		if lines == 0 {
			continue // a job without circuits has nothing to fill in
		}
		first := comparisonOf(t, "tests", job, "--measured", filled, "--csv", again, "--json")
		second := comparisonOf(t, "tests", job, "--measured", again, "--json")
		if first.Verdict == "fail" || len(first.Missing) > 0 {
			t.Errorf("%s: %s, %d missing", job, first.Verdict, len(first.Missing))
		}
		if first.of() < lines || !slices.Equal(first.reads(), second.reads()) {
			t.Errorf("%s: %d lines, %v\nand again %v", job, lines, first.reads(), second.reads())
		}
	}
}

// fillIn writes a value into every line of a sheet that has one to expect, and
// returns how many it filled.
func fillIn(t *testing.T, from, to string) int {
	t.Helper()
	text, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	var out []string
	for i, line := range strings.Split(strings.TrimSuffix(string(text), "\r\n"), "\r\n") {
		cells := strings.SplitN(line, ",", 8) // none of the first seven has a comma in the demo jobs
		value := map[string]string{"insulation": "> 200", "polarity": "yes", "half": "no trip", "trip": "200", "five times": "35", "Ze": cells[5], "fault": cells[5]}[cells[2]]
		if value == "" && cells[4] == "ohm" {
			value = cells[5]
			if cells[2] == "Zs" && value == "" { // the job does not say what lies outside
				value = "0.5"
			}
		}
		if i > 0 && value != "" {
			cells[3] = value
			n++
		}
		out = append(out, strings.Join(cells, ","))
	}
	if err := os.WriteFile(to, []byte(strings.Join(out, "\r\n")), 0o644); err != nil {
		t.Fatal(err)
	}
	return n
}

// testsContract is the shape of a comparison that is promised.
type testsContract struct {
	Job, Verdict string
	Celsius      *float64
	Results      []struct {
		Check, Subject, Verdict, Unit, Read, Reason string
		Value, Expected, Low, High, Limit           *float64
		Means, Sources, Steps                       []string
	}
	Missing  []sheetReading
	Cautions []string
}

// sheetReading is one reading of the sheet as it is promised.
type sheetReading struct {
	Circuit, Point        *string
	Test, Unit            string
	Live                  *bool
	Expected, Least, Most *float64
	Prove, Why            string
	Sources, Steps        []string
}

func (c *testsContract) of() int { return len(c.Results) }

func (c *testsContract) reads() (out []string) {
	for _, r := range c.Results {
		out = append(out, r.Check+" "+r.Subject+" "+r.Read+" "+r.Verdict)
	}
	return out
}

func comparisonOf(t *testing.T, args ...string) testsContract {
	t.Helper()
	var out, complaint bytes.Buffer
	if code := run(args, nil, &out, &complaint); code > exitFail {
		t.Fatalf("%v: exit code %d: %s", args, code, &complaint)
	}
	v, err := testsKeep(out.Bytes())
	if err != nil {
		t.Errorf("%v: %v", args, err)
	}
	return v
}

// testsKeep checks what is promised of a comparison.
func testsKeep(text []byte) (v testsContract, err error) {
	if v, err = read[testsContract](text); err != nil {
		return v, err
	}
	err = errors.Join(asks("job, verdict, celsius", v.Job != "" && v.Verdict != "" && v.Celsius != nil), asks("cautions", len(v.Cautions) > 0))
	worst := "pass"
	for _, r := range v.Results {
		name := r.Check + ", " + r.Subject + ": "
		err = errors.Join(err, asks(name+"check, subject, verdict, read", r.Check != "" && r.Subject != "" && slices.Contains(verdictWords, r.Verdict) && r.Read != ""),
			asks(name+"steps", len(r.Steps) > 0),
			asks(name+"a reason where it does not pass", r.Verdict == "pass" || r.Reason != ""),
			asks(name+"what passes has an expected value or a limit or is a word", r.Verdict != "pass" || r.Expected != nil || r.Limit != nil || r.Unit == ""))
		worst = gravest(worst, r.Verdict)
	}
	return v, errors.Join(err, asks("verdict is the gravest result", v.Verdict == worst))
}

// TestSheetJSON: every reading has its steps, and every number a source.
func TestSheetJSON(t *testing.T) {
	for _, job := range printedJobs(t) {
		var v struct {
			Job      string
			Sequence []struct {
				Number int
				Text   string
				Live   *bool
			}
			Readings []sheetReading
			Cautions []string
		}
		if err := json.Unmarshal([]byte(printedBy(t, []string{"tests", "--json", job})), &v); err != nil {
			t.Fatal(err)
		}
		live := false
		for i, s := range v.Sequence {
			if s.Number != i+1 || s.Live == nil || live && !*s.Live {
				t.Errorf("%s: dead tests come first: %+v", job, s)
			}
			live = *s.Live
		}
		for _, r := range v.Readings {
			origin := r.Circuit == nil
			if r.Test == "" || r.Live == nil || len(r.Steps) == 0 || (r.Expected != nil || r.Most != nil) && len(r.Sources) == 0 && !origin {
				t.Errorf("%s: %+v", job, r)
			}
			if r.Expected == nil && r.Least == nil && r.Most == nil && r.Prove == "" && r.Why == "" {
				t.Errorf("%s: nothing about %+v", job, r)
			}
		}
		if !live || len(v.Cautions) == 0 {
			t.Errorf("%s: no live test, or no cautions", job)
		}
	}
}
