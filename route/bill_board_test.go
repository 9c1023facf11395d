package route_test

import (
	"testing"

	"tubewright/route"
)

// TestBoardOnTheBill: boards counted by hand from their files. A job that says
// nothing of its board has none to buy.
func TestBoardOnTheBill(t *testing.T) {
	for file, want := range map[string]map[string]float64{
		"boards/split": {"consumer unit enclosure, 9 ways, rail of 16 modules": 1, "main switch 100 A, 2 modules": 1, "RCCB 63 A, 30 mA, type A, 2 modules": 2,
			"circuit-breaker B6": 3, "circuit-breaker B32": 1, "circuit-breaker B16": 1, "circuit-breaker B20": 1,
			"blank, one module": 4, "busbar, line side, 4 ways": 2, "link, line side, one way": 1},
		"boards/rcbo": {"three-phase distribution board, 3 ways of three poles (9 poles)": 1, "main switch 63 A, 4 modules": 1, "RCBO B6, 30 mA, type A": 1,
			"RCBO B16, 30 mA, type A": 1, "RCBO C16, 30 mA, type F, three-pole": 1, "RCBO C20, 30 mA, type B": 1,
			"blank, one module": 3},
		"jobs/workshop": {"three-phase distribution board, 4 ways of three poles (12 poles)": 1, "main switch 63 A, 4 modules": 1, "RCBO B25, 30 mA, type A": 1, "circuit-breaker B16": 1, "circuit-breaker B6": 1,
			"circuit-breaker C16, three-pole": 1, "blank, one module": 6},
		"jobs/existing": {},
	} {
		got := map[string]float64{}
		for _, it := range demoJob(t, "../testdata/"+file+".yaml").Bill() {
			if it.Group == "board" {
				got[it.Name] = it.Net
				if it.Labour || it.Order == "–" || len(it.Runs) > 0 {
					t.Errorf("%s: %+v", file, it)
				}
			}
		}
		for _, name := range keysOf(got, want) {
			if got[name] != want[name] {
				t.Errorf("%s: %v %s, counted %v", file, got[name], name, want[name])
			}
		}
	}
	j, err := route.Parse("fuse.yaml", []byte("job: f\nboard: {ways: 1}\nruns: {A: {in: steel conduit 20, length: 2 m}}\ncircuits:\n  c: {way: 1, device: BS 3036 30 A, cable: 6, arrangement: direct, demand: 20 A, runs: [A]}\n"))
	if err != nil {
		t.Fatal(err)
	}
	fuses := 0.0
	for _, it := range j.Bill() {
		if it.Name == "fuse BS 3036 30 A" {
			fuses += it.Net
		}
	}
	if fuses != 1 {
		t.Errorf("%v fuses", fuses)
	}
}
