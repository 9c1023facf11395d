package render

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"

	"github.com/google/go-cmp/cmp"
)

const arrangements = "../testdata/arrangements"

// TestSinglesText holds the printed list of a few arrangements; which cores lie
// in which run is counted by hand in route.
func TestSinglesText(t *testing.T) {
	for _, name := range []string{"intermediate", "ring-and-spur", "conversion", "three-phase", "shared-cpc", "joined"} {
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(filepath.Join(arrangements, name+".yaml"))
			if err != nil {
				t.Fatal(err)
			}
			j, err := route.Parse(name+".yaml", text)
			if err != nil {
				t.Fatal(err)
			}
			var got bytes.Buffer
			if err := WriteSingles(&got, fill.Verdicts(j)); err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(arrangements, name+".golden")
			if *update {
				if err := os.WriteFile(path, got.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got.String()); diff != "" {
				t.Errorf("%s differs (-want +got); read it, then run with -update:\n%s", path, diff)
			}
		})
	}
}

// TestLinesNumbered: the lines of a three-phase circuit are L1, L2 and L3
// wherever a core is named, and at a three-phase board a single-phase circuit
// ends on the line that the job gives it, or that of its way; elsewhere, and on
// a single-phase board, its line is L. A circuit that only names its runs ends on
// no terminal that the job knows.
func TestLinesNumbered(t *testing.T) {
	const job = `
job: lines
supply: {phases: %d}
board: {at: board, ways: 12}
places: {board: {is: board}, m1: {is: motor}, h1: {is: heater}, h2: {is: heater}, h3: {is: heater}}
runs:
  A: {from: board, to: m1, in: steel conduit 25, length: 3 m, bends: 0}
  B: {from: board, to: h1, in: steel conduit 25, length: 3 m, bends: 0}
  C: {from: board, to: h2, in: steel conduit 25, length: 3 m, bends: 0}
  D: {from: board, to: h3, in: steel conduit 25, length: 3 m, bends: 0}
circuits:
  one: {way: 5, device: B16, cable: 4, points: [h1]}
  two: {device: B16, cable: 4, points: [h2]%s}
  neither: {device: B16, cable: 4, points: [h3]}
`
	const motor = "  saw: {way: 1, device: B16, cable: 4, arrangement: direct, phases: 3, points: [m1]}\n  fan: {device: B16, cable: 4, phases: 3, runs: [A]}\n"
	for _, tt := range []struct {
		phases      int
		line, motor string
		want        string
	}{
		{1, "", "", "one L board L h1 L; two L board L h2 L; neither L board L h3 L"},
		{3, ", line: L3", motor, "one L board L2 h1 L; two L board L3 h2 L; neither L board L h3 L; saw L1 board L1 m1 L1; saw L2 board L2 m1 L2; saw L3 board L3 m1 L3; " +
			"fan L1 board m1; fan L2 board m1; fan L3 board m1"},
	} {
		j, err := route.Parse("lines.yaml", fmt.Appendf(nil, job+tt.motor, tt.phases, tt.line))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for i := range j.Singles {
			if s := &j.Singles[i]; s.Function == route.Line {
				got = append(got, strings.Join([]string{j.Circuits[s.Circuit].Name, s.Mark(), endName(j, s, false), endName(j, s, true)}, " "))
			}
		}
		if text := strings.Join(got, "; "); text != tt.want {
			t.Errorf("%d phases:\ngot  %s\nwant %s", tt.phases, text, tt.want)
		}
		for _, c := range sectionOf(j, 0, 30).spec.Cables {
			if c.Kind == CoreL1 && c.Letter != "L1" {
				t.Errorf("drawn beside L2 and L3 the brown core bears %q", c.Letter)
			}
		}
	}
}
