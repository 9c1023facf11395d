package route

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tubewright/factors/source"
)

// frameJob holds one of each part at the place marked PART; other lines are
// what the part needs beside it.
const frameJob = `job: Frame
places:
  board: {is: board}
  s1: {is: socket}
  s2: {is: socket}
  s3: {is: socket}
  s4: {is: socket}
  sw1: {is: switch}
  sw2: {is: switch}
  l1: {is: light}
  em1: {is: emergency light}
  fan: {is: timed fan}
runs:
  B1: {from: board, to: s1, in: steel conduit 20, length: 2 m}
  S1: {from: s1, to: sw1, in: steel conduit 20, length: 2 m}
  S2: {from: sw1, to: s2, in: steel conduit 20, length: 2 m}
  S3: {from: s2, to: s3, in: steel conduit 20, length: 2 m}
  S4: {from: s3, to: s4, in: steel conduit 20, length: 2 m}
  L1: {from: sw1, to: l1, in: steel conduit 20, length: 2 m}
  L2: {from: l1, to: em1, in: steel conduit 20, length: 2 m}
  L3: {from: em1, to: sw2, in: steel conduit 20, length: 2 m}
circuits:
  frame: {device: B6, cable: 1.5, points: [s4]}
`

// frames say where a part stands and what its keys need beside them, %s being
// the keys of the example.
var frames = map[string]struct{ at, beside string }{
	"place":       {"places: {x: {%s}}", "is: box"},
	"run":         {"runs: {x: {%s}}", "in: steel conduit 20, length: 1 m"},
	"circuit":     {"circuits: {x: {%s}}", "device: B16, cable: 2.5, arrangement: radial, points: [s1, s2]"},
	"spur":        {"circuits: {x: {device: B16, cable: 2.5, points: [s1, s2], spurs: [{%s}]}}", "from: s2, points: [s3]"},
	"group":       {"circuits: {x: {device: B6, cable: 1.5, arrangement: lighting, groups: [{%s}]}}", "lights: [l1]"},
	"via":         {"circuits: {x: {device: B16, cable: 2.5, points: [s1, s2], via: [{%s}]}}", "from: s1, to: s2, runs: [S1, S2]"},
	"demand":      {"circuits: {x: {device: B16, cable: 2.5, points: [s1], demand: {%s}}}", "power: 1 kW"},
	"RCBO":        {"circuits: {x: {device: B16, cable: 2.5, points: [s1], RCBO: {%s}}}", "residual: 30 mA, type: A"},
	"board":       {"board: {%s}", "at: board"},
	"main switch": {"board: {main: {%s}}", "rating: 80 A"},
	"section":     {"board: {sections: [{%s}]}", "main: {rating: 63 A}, ways: [1]"},
	"torque":      {"board: {torque: {%s}}", ""},
	"supply":      {"supply: {%s}", ""},
	"choices":     {"choices: {%s}", ""},
	"stock":       {"stock: {%s}", ""},
	"allow":       {"allow: {%s}", ""},
	"tools":       {"tools: {%s}", ""},
	"trial bend":  {"tools: {trial bend: {20: {%s}}}", "cut: 500 mm, legs: [300 mm, 262 mm]"},
	"expansion":   {"expansion: {%s}", ""},
	"estimate":    {"estimate: {%s}", ""},
	"high work":   {"estimate: {high work: {%s}}", "height: 4.5 m, runs: [B1]"},
	"job":         {"%s", ""},
}

// besideKey is what one key needs in the place of what its part needs.
var besideKey = map[string]string{
	"circuit runs":   "device: B16, cable: 2.5",
	"circuit groups": lightingBeside, "circuit loop": lightingBeside + ", groups: [{switches: [sw1], lights: [l1]}]",
	"run from": "in: steel conduit 20, length: 1 m, to: s3", "run to": "in: steel conduit 20, length: 1 m, from: s1",
	"run path": "in: steel conduit 20", "demand current": "",
}

const lightingBeside = "device: B6, cable: 1.5, arrangement: lighting"

// around puts the keys of an example into a job.
func around(part, key, example string) string {
	f := frames[part]
	beside, own := besideKey[part+" "+key]
	if !own {
		beside = f.beside
	}
	keys := append(topKeys(beside), topKeys(example)...)
	merged := map[string]string{}
	for _, k := range keys {
		merged[k[0]] = k[1]
	}
	var flow []string
	for _, k := range keys {
		if v, left := merged[k[0]]; left {
			flow = append(flow, k[0]+": "+v)
			delete(merged, k[0])
		}
	}
	sections := map[string]string{}
	for line := range strings.Lines(fmt.Sprintf(f.at, strings.Join(flow, ", "))) {
		section, rest, _ := strings.Cut(line, ": ")
		sections[section] = strings.TrimSpace(rest)
	}
	return insert(sections)
}

// insert puts sections into the frame: as one more of its names, or in the
// place of its own.
func insert(sections map[string]string) string {
	var out []string
	for line := range strings.Lines(frameJob) {
		section, _, _ := strings.Cut(strings.TrimSpace(line), ":")
		body, given := sections[section]
		switch {
		case given && strings.HasPrefix(body, "{x: "):
			out = append(out, line, "  "+body[1:len(body)-1]+"\n")
			delete(sections, section)
		default:
			out = append(out, line)
		}
	}
	for section, body := range sections {
		out = append(out, section+": "+body+"\n")
	}
	text := strings.Join(out, "")
	if strings.Contains(text, "phases: 3") || strings.Contains(text, "line: L") {
		text += "supply: {phases: 3}\n"
	}
	return text
}

// topKeys splits a flow of keys at its own commas.
func topKeys(flow string) (out [][2]string) {
	depth, quoted, from := 0, false, 0
	for i, r := range flow + "," {
		switch {
		case r == '"':
			quoted = !quoted
		case quoted:
		case r == '{' || r == '[':
			depth++
		case r == '}' || r == ']':
			depth--
		case r == ',' && depth == 0 && i > from:
			k, v, _ := strings.Cut(strings.TrimSpace(flow[from:i]), ": ")
			out = append(out, [2]string{k, v})
			from = i + 1
		}
	}
	return out
}

// TestKeyExamples reads every example of the list in a part such as it belongs
// to: nothing is complained of.
func TestKeyExamples(t *testing.T) {
	for _, part := range KeyParts() {
		for _, k := range part.Keys {
			if k.Takes == "" || k.Means == "" || part.Where == "" {
				t.Errorf("%s %s: says too little", part.Name, k.Key)
			}
			if keys := topKeys(k.Example); !slices.ContainsFunc(keys, func(kv [2]string) bool { return kv[0] == k.Key }) {
				t.Errorf("%s %s: the example %q has no such key", part.Name, k.Key, k.Example)
			}
			text := around(part.Name, k.Key, k.Example)
			if part.Name == "job" {
				text = alone(k.Key, k.Example)
			}
			if _, err := Parse("x.yaml", []byte(text)); err != nil {
				t.Errorf("%s %s: %v\nin\n%s", part.Name, k.Key, err, text)
			}
		}
	}
}

// alone is a small job with one section of the example's.
func alone(key, example string) string {
	const small = "job: x\nplaces: {board: {is: board}}\nruns: {A: {in: steel conduit 20, length: 1 m}}\n"
	text := example + "\n"
	for line := range strings.Lines(small) {
		if !strings.HasPrefix(line, key+":") {
			text += line
		}
	}
	return text
}

// TestKeyListWhole holds the list to the parser: in each part the parser's own
// list of what is known is the list's, in its order or another.
func TestKeyListWhole(t *testing.T) {
	for _, part := range KeyParts() {
		text := around(part.Name, "", "zzzzzzzz: 1")
		_, err := Parse("x.yaml", []byte(text))
		var problems source.Problems
		errors.As(err, &problems)
		i := slices.IndexFunc(problems, func(p *source.Problem) bool { return p.What == "unknown key zzzzzzzz" })
		if i < 0 {
			t.Errorf("%s: no complaint, but %v\nin\n%s", part.Name, err, text)
			continue
		}
		known := strings.Split(strings.TrimPrefix(problems[i].Want, "known: "), ", ")
		listed := part.names()
		slices.Sort(known)
		slices.Sort(listed)
		if !slices.Equal(known, listed) {
			t.Errorf("%s: the parser knows %q, the list has %q", part.Name, known, listed)
		}
	}
}

// TestKeyPartsWhole: no part of the parser is without its list. Faces are named
// by kinds of place, which is has.
func TestKeyPartsWhole(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	calls := 0
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		calls += bytes.Count(text, []byte("range p.keys("))
	}
	if want := len(KeyParts()) + 1; calls != want {
		t.Errorf("the parser reads %d kinds of part, the list has %d and faces", calls, want-1)
	}
}

// The kinds of place are all named where is is explained.
func TestKeyPlaceKinds(t *testing.T) {
	for _, part := range KeyParts() {
		for _, k := range part.Keys {
			if part.Name == "place" && k.Key == "is" && k.Takes != strings.Join(placeWords[1:], ", ") {
				t.Errorf("is takes %q", k.Takes)
			}
		}
	}
}
