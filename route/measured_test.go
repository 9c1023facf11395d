package route_test

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tubewright/factors/source"
	"tubewright/route"

	"github.com/google/go-cmp/cmp"
)

// clubhouse is the job that the readings of testdata/measured are of.
func clubhouse(t testing.TB) *route.Job {
	t.Helper()
	text, err := os.ReadFile("../testdata/jobs/clubhouse.yaml")
	if err != nil {
		t.Fatal(err)
	}
	j, err := route.Parse("clubhouse.yaml", text)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// TestBrokenMeasured reads files of readings with a slip or a few. The whole
// text of what is complained of is in the golden file beside each; a YAML file
// says so in each line that is wrong.
func TestBrokenMeasured(t *testing.T) {
	yaml, _ := filepath.Glob("../testdata/measured/broken/*.yaml")
	csv, _ := filepath.Glob("../testdata/measured/broken/*.csv")
	files := append(yaml, csv...)
	if len(yaml) < 15 || len(csv) < 5 {
		t.Fatalf("%d YAML and %d CSV files", len(yaml), len(csv))
	}
	j := clubhouse(t)
	for _, file := range files {
		name := filepath.Base(file)
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			m, err := route.ParseMeasured(j, name, text)
			var problems source.Problems
			if m != nil || !errors.As(err, &problems) {
				t.Fatalf("no complaint: %v", err)
			}
			checkMarks(t, text, problems, !strings.Contains(string(text), "# PROBLEM"))
			golden(t, file+".txt", problems.Error()+"\n")
		})
	}
}

// TestMeasured: the same readings in YAML and in CSV are the same.
func TestMeasured(t *testing.T) {
	j := clubhouse(t)
	yaml, err := route.ParseMeasured(j, "a.yaml", []byte(`measured: Rowing club clubhouse
ambient: 15 C
supply: {Ze: 280 mohm, fault: 1.5 kA}
circuits:
  kitchen ring:
    r1: open
    insulation: "> 200 Mohm"
    points: {s1: {R1+R2: 0.08 ohm, polarity: no}}
    residual: {trip: 24 ms, half: trips, five times: 0.011 s}
  lights: {points: {l1: {Zs: 0.5 Ω}}}
`))
	if err != nil {
		t.Fatal(err)
	}
	csv, err := route.ParseMeasured(j, "a.csv", []byte("\ufeffcircuit,point,test,value,unit,expected\r\n"+`,,ambient,15,C,20
,,Ze,280,mohm,
,,fault,1.5 kA,,
kitchen ring,,r1,open,ohm,
kitchen ring,,insulation,> 200,Mohm,
kitchen ring,s1,R1+R2,0.08,ohm,
kitchen ring,s1,polarity,no,,yes
kitchen ring,s2,polarity,,,yes
kitchen ring,,trip,24,ms,
kitchen ring,,half,trips,,
kitchen ring,,five times,0.011 s,ms,
"lights", l1 ,Zs,0.5 Ω,ohm,
`))
	if err != nil {
		t.Fatal(err)
	}
	ring := func(point int, test route.Test, v float64) route.Reading {
		return route.Reading{Circuit: 0, Point: point, Test: test, Value: v}
	}
	want := []route.Reading{
		{Circuit: -1, Point: -1, Test: route.External, Value: 0.28}, {Circuit: -1, Point: -1, Test: route.FaultAtOrigin, Value: 1500},
		ring(-1, route.LineEnds, math.Inf(1)), {Circuit: 0, Point: -1, Test: route.Insulation, Value: 200, Over: true},
		ring(0, route.LineCPC, 0.08), ring(0, route.Polarity, 0), ring(-1, route.Trip, 24), ring(-1, route.HalfTrip, 1), ring(-1, route.FiveTimes, 11),
		{Circuit: 2, Point: 1, Test: route.EarthLoop, Value: 0.5},
	}
	for name, m := range map[string]*route.Measured{"YAML": yaml, "CSV": csv} {
		got := append([]route.Reading{}, m.Readings...)
		for i := range got {
			if !got[i].At.Known() {
				t.Errorf("%s: reading %d has no place", name, i)
			}
			got[i].At = source.Pos{}
		}
		if diff := cmp.Diff(want, got); diff != "" || m.Ambient.V != 15 {
			t.Errorf("%s, at %v °C:\n%s", name, m.Ambient.V, diff)
		}
	}
}

// FuzzMeasuredYAML: no file of readings panics, and one that is read has
// readings that can be.
func FuzzMeasuredYAML(f *testing.F) { fuzzMeasured(f, "f.yaml", "*.yaml") }

// FuzzMeasuredCSV is the same of the other shape.
func FuzzMeasuredCSV(f *testing.F) { fuzzMeasured(f, "f.csv", "*.csv") }

func fuzzMeasured(f *testing.F, name, pattern string) {
	for _, dir := range []string{"../testdata/measured/", "../testdata/measured/broken/"} {
		files, err := filepath.Glob(dir + pattern)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	j := clubhouse(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		m, err := route.ParseMeasured(j, name, text)
		if err != nil {
			for _, p := range err.(source.Problems) {
				if p.What == "" || p.At.Line < 1 || p.At.Col < 1 || p.Error() == "" {
					t.Fatalf("%+v", p)
				}
			}
			return
		}
		seen := map[route.Reading]bool{}
		for _, r := range m.Readings {
			whole := r.Test.OfPoint() == (r.Point >= 0) && r.Test.OfSupply() == (r.Circuit < 0)
			if !whole || math.IsNaN(r.Value) || r.Value < 0 || r.Test == 0 || !r.At.Known() {
				t.Fatalf("%+v", r)
			}
			key := route.Reading{Circuit: r.Circuit, Point: r.Point, Test: r.Test}
			if seen[key] {
				t.Fatalf("twice: %+v", r)
			}
			seen[key] = true
		}
	})
}
