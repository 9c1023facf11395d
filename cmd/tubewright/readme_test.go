package main

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"tubewright/route"
)

// TestReadme runs every tubewright command of the README, in its order and in
// one folder, as a reader who works through it would.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	commands := shellCommands(string(text))
	if len(commands) == 0 {
		t.Fatal("the README shows no tubewright command")
	}
	dir := t.TempDir()
	if err := os.CopyFS(dir+"/jobs", os.DirFS("../../testdata/jobs")); err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS(dir+"/prices", os.DirFS("../../testdata/prices")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	for _, c := range commands {
		args, err := shellWords(c)
		if err != nil {
			t.Errorf("%s: %v", c, err)
			continue
		}
		var out, complaint bytes.Buffer
		code := run(args, strings.NewReader(""), &out, &complaint)
		if code > exitFail || out.Len()+complaint.Len() == 0 {
			t.Errorf("%s: exit code %d, %d bytes printed\n%s", c, code, out.Len(), &complaint)
		}
	}
}

// shellCommands lists the arguments of the tubewright commands in sh blocks.
func shellCommands(markdown string) []string {
	var commands []string
	inside := false
	for line := range strings.Lines(markdown) {
		line = strings.TrimSpace(line)
		if rest, fence := strings.CutPrefix(line, "```"); fence {
			inside = !inside && rest == "sh"
			continue
		}
		for _, program := range []string{"go run ./cmd/tubewright", "tubewright"} {
			if rest, ok := strings.CutPrefix(line, program); inside && ok && (rest == "" || rest[0] == ' ') {
				commands = append(commands, rest)
			}
		}
	}
	return commands
}

// shellWords splits a command line as a shell does, up to a comment. Anything
// else that a shell would act on, such as a pipe, is an error: the test would
// not run what the reader runs.
func shellWords(line string) ([]string, error) {
	words := []string{}
	var word strings.Builder
	var quote rune
	open := false
	for _, r := range line {
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote != 0:
			word.WriteRune(r)
		case r == '"' || r == '\'':
			quote, open = r, true
		case r == '#' && !open:
			return words, nil
		case strings.ContainsRune("|&;<>$`\\*?(){}", r):
			return nil, fmt.Errorf("%q: this test understands words and quotes alone", r)
		case r == ' ':
			if open {
				words = append(words, word.String())
			}
			word.Reset()
			open = false
		default:
			word.WriteRune(r)
			open = true
		}
	}
	if quote != 0 {
		return nil, fmt.Errorf("%q is not closed", quote)
	}
	if open {
		words = append(words, word.String())
	}
	return words, nil
}

func TestShellWords(t *testing.T) {
	for line, want := range map[string]string{
		` fit --in "steel conduit 20" '4 x 2.5'  # a comment`: "fit|--in|steel conduit 20|4 x 2.5",
		``:                   "",
		`a ""`:               "a|",
		`--of='run A' b#c`:   "--of=run A|b#c",
		`check job.yaml >x`:  "error",
		`check "job.yaml`:    "error",
		`bill job.yaml | wc`: "error",
	} {
		words, err := shellWords(line)
		got := strings.Join(words, "|")
		if err != nil {
			got = "error"
		}
		if got != want {
			t.Errorf("%s: got %s, expected %s", line, got, want)
		}
	}
}

// TestReadmeJobs reads every piece of a job that the README shows, each in a
// frame that holds what it names.
func TestReadmeJobs(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	pieces := fenced(string(text), "yaml")
	if len(pieces) < 4 {
		t.Fatalf("%d pieces", len(pieces))
	}
	var places string
	for _, p := range pieces {
		if strings.HasPrefix(p, "places:") {
			places = p
		}
	}
	for _, p := range pieces {
		job := "job: Frame\n" + p
		if !strings.HasPrefix(p, "places:") {
			job += places
		}
		if !strings.Contains(p, "runs:\n") {
			job += readmeRuns(places)
		}
		if _, err := route.Parse("README.md", []byte(job)); err != nil {
			t.Errorf("%v\nin\n%s", err, job)
		}
	}
}

// readmeRuns joins all places to one box, and two of them through a second.
func readmeRuns(places string) string {
	runs := "runs:\n  B: {from: s1, to: bx1, in: steel conduit 25, length: 1 m}\n  C: {from: bx1, to: s2, in: steel conduit 25, length: 1 m}\n"
	for line := range strings.Lines(places) {
		name, _, found := strings.Cut(strings.TrimSpace(line), ":")
		if found && !slices.Contains([]string{"places", "bx1", "s1", "s2"}, name) {
			runs += fmt.Sprintf("  to %s: {from: bx1, to: %s, in: steel conduit 25, length: 1 m}\n", name, name)
		}
	}
	return runs
}

// fenced lists what stands between fences of a language.
func fenced(markdown, language string) (out []string) {
	inside := false
	for line := range strings.Lines(markdown) {
		switch {
		case strings.TrimSpace(line) == "```"+language:
			inside = true
			out = append(out, "")
		case strings.HasPrefix(line, "```"):
			inside = false
		case inside:
			out[len(out)-1] += line
		}
	}
	return out
}
