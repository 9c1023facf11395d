package route_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tubewright/route"
)

const arrangements = "../testdata/arrangements"

// legs are the cores that the trade's wiring diagrams put in each run, counted
// by hand (common practice, no source). A net that dips down a drop and
// returns passes it twice: nothing is joined unless the job says so. The cpc
// goes to every place by the shortest tree with one core at the board.
var legs = map[string]string{
	"one-way":                 "A: L N E; B: L SL 2E; C: SL N E",
	"switch-first":            "A: L N E; B: L SL N E; C: L N E; D: SL N E",
	"line-looping-on":         "A: L N E; B: 2L SL E; C: SL 2N 3E; D: L N E; E: L SL E; F: SL N 2E",
	"three-gang":              "A: L N E; B: L 3SL 2E; C: 3SL N E; D: 2SL N E; E: SL N E",
	"several-lights":          "A: L N E; B: L SL 2E; C: SL N E; D: SL N E; E: SL N E",
	"two-way-lamp-beyond":     "A: L N E; B: L S1 S2 2E; C: S1 S2 N E; D: SL S1 S2 2E; E: SL N E",
	"two-way-lamp-between":    "A: L N E; B: L S1 S2 E; C: SL S1 S2 E",
	"intermediate":            "A: L N E; B: L S1 S2 2E; C: S1 S2 N E; D: 2S1 2S2 2E; E: S1 S2 N E; F: SL S1 S2 2E; G: SL N E",
	"two-intermediates":       "A: L N E; B: SL N 2E; C: L SL E; D: SL S1 S2 E; E: SL S1 S2 E; F: SL S1 S2 E",
	"three-intermediates":     "A: L N E; B: L S1 S2 2E; C: S1 S2 N E; D: 2S1 2S2 2E; E: S1 S2 N E; F: 2S1 2S2 2E; G: S1 S2 N E; H: 2S1 2S2 2E; J: S1 S2 N E; K: SL S1 S2 2E; M: SL N E",
	"conversion":              "A: L N E; B: 2L 2SL C 3E; C: SL N E; D: L SL C E; E: L SL C E",
	"conversion-joined":       "A: L N E; B: L SL C E; C: L SL C E; D: SL N E",
	"conversion-four":         "A: L N E; B: L SL S1 S2 C 2E; C: SL S1 S2 C N E; D: 2S1 2S2 3E; E: S1 S2 C E; F: 2S1 2S2 2E; G: S1 S2 C E; H: S1 S2 C E; J: ; K: SL N E",
	"contest-far-end":         "A: L N E; B: 2L S1 S2 2E; C: L S1 S2 N E; D: L 2SL S1 S2 2E; E: 2SL N E; F: SL N E",
	"contest-fed-end":         "A: L N E; B: L SL S1 S2 2E; C: SL S1 S2 N E; D: SL S1 S2 2E; E: 2SL N E; F: SL N E",
	"permanent-line":          "A: L N E; B: 3L 2SL 3E; C: L SL 2N E; D: L SL N E",
	"always-on":               "A: L N E; B: L 2N 3E; C: 2L SL E; D: SL N E",
	"only-always-on":          "A: L N E; B: L N E",
	"loop-at-lights":          "A: L N E; B: L SL E; C: L N E; D: L SL E",
	"loop-at-lights-two-way":  "A: L N E; B: L S1 S2 E; C: 2SL S1 S2 N E; D: SL S1 S2 E",
	"two-plates-two-circuits": "A: 2L 2N; B: L 2SL 2S1 2S2; C: L SL 2S1 2S2; D: SL 2N; E: SL N; F: SL N",
	"joined":                  "A: L N E; B: L 2SL E; C: SL N E; D: SL N E",
	"joined-radial":           "A: L N E; B: L N E; C: L N E; D: L N E; E: L N E",
	"radial":                  "A: L N E; B: 2L 2N 2E; C: L N E; D: 2L 2N 2E; E: L N E",
	"radial-in-line":          "A: L N E; B: L N E; C: L N E",
	"ring-one-tube":           "A: 2L 2N 2E; B: 2L 2N 2E; C: 2L 2N 2E; D: 2L 2N 2E",
	"ring-round":              "A: L N E; B: L N E; C: L N E; D: L N E; E: L N E",
	"ring-and-spur":           "A: 2L 2N 2E; B: 2L 2N 2E; C: 2L 2N 2E; D: L N E; E: L N E",
	"ring-two-tubes":          "A: L N E; B: L N E; C: 2L 2N 2E; D: L N E; E: 2L 2N 2E",
	"ring-of-one":             "A: L N E; B: L N E",
	"radial-and-spur":         "A: L N E; B: 3L 3N 3E; C: L N E; D: L N E; E: L N E",
	"cooker":                  "A: L N E; B: L N E",
	"direct":                  "A: L N E; B: L N E",
	"three-phase":             "A: L1 L2 L3 E; B: L1 L2 L3 E; C: L1 L2 L3 N E; D: L1 L2 L3 N E",
	"shared-cpc":              "A: 3L 3N E; B: L N 3E; C: L N E; D: L SL 2E; E: SL N E",
	"conduit-cpc":             "A: L N; B: L N E",
}

// TestArrangements holds every arrangement against the count by hand, run by
// run, as the job's cores have it and as its list of singles has it.
func TestArrangements(t *testing.T) {
	files, err := filepath.Glob(arrangements + "/*.yaml")
	if err != nil || len(files) != len(legs) {
		t.Fatalf("%d jobs, %d counted by hand, %v", len(files), len(legs), err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		t.Run(name, func(t *testing.T) {
			j := readJob(t, file)
			var got []string
			for i := range j.Runs {
				marks := map[string]int{}
				for _, s := range j.Singles {
					for _, p := range s.Way {
						if p.Run == i {
							marks[plainMark(&s)]++
						}
					}
				}
				all := 0
				for _, c := range j.Cores(i) {
					all += c.Count
				}
				text, n := markText(marks)
				if n != all {
					t.Errorf("run %s: %d singles pass, %d cores lie there", j.Runs[i].Name, n, all)
				}
				got = append(got, j.Runs[i].Name+": "+text)
			}
			if text := strings.Join(got, "; "); text != legs[name] {
				t.Errorf("got  %s\nwant %s", text, legs[name])
			}
		})
	}
}

func readJob(t testing.TB, file string) *route.Job {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	j, err := route.Parse(filepath.Base(file), text)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// plainMark is a core's mark without the number of its lighting group.
func plainMark(s *route.Single) string {
	switch s.Function {
	case route.SwitchedLine:
		return "SL"
	case route.StrapperOne:
		return "S1"
	case route.StrapperTwo:
		return "S2"
	}
	return strings.FieldsFunc(s.Mark(), func(r rune) bool { return r == '/' || r == '-' })[0]
}

// markOrder is the order in which the counts by hand are written.
var markOrder = []string{"L", "L1", "L2", "L3", "SL", "S1", "S2", "C", "N", "E"}

func markText(marks map[string]int) (string, int) {
	var parts []string
	all := 0
	for m, n := range marks {
		all += n
		if n == 1 {
			parts = append(parts, m)
		} else {
			parts = append(parts, fmt.Sprint(n, m))
		}
	}
	place := func(part string) int { return slices.Index(markOrder, strings.TrimLeft(part, "0123456789")) }
	slices.SortFunc(parts, func(a, b string) int { return place(a) - place(b) })
	return strings.Join(parts, " "), all
}
