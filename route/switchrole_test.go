package route_test

import (
	"path/filepath"
	"slices"
	"testing"

	"tubewright/route"
)

// The arrangements are those of the trade's wiring diagrams: a two-way circuit
// has two-way switches at its ends and intermediate ones between, whatever else
// shares their plates (IEC 60669-1 patterns 1, 6 and 7, from memory).
func TestSwitchRoles(t *testing.T) {
	const one, two, between = route.OneWay, route.TwoWay, route.Intermediate
	for _, c := range []struct {
		file  string
		roles map[string][]route.SwitchRole
	}{
		{"one-way", map[string][]route.SwitchRole{"sw1": {one}}},
		{"three-gang", map[string][]route.SwitchRole{"sw1": {one, one, one}}},
		{"contest-fed-end", map[string][]route.SwitchRole{"sw1": {two, one}, "sw2": {two}, "bx1": nil, "l1": nil}},
		{"conversion", map[string][]route.SwitchRole{"sw1": {two}, "sw2": {two}}},
		{"intermediate", map[string][]route.SwitchRole{"sw1": {two}, "sw2": {between}, "sw3": {two}}},
		{"two-intermediates", map[string][]route.SwitchRole{"sw1": {two}, "sw2": {between}, "sw3": {between}, "sw4": {two}}},
	} {
		j := readJob(t, filepath.Join("..", "testdata", "arrangements", c.file+".yaml"))
		for name, want := range c.roles {
			place := slices.IndexFunc(j.Places, func(p route.Place) bool { return p.Name == name })
			if place < 0 {
				t.Fatalf("%s: no place %s", c.file, name)
			}
			if got := j.SwitchRoles(place); !slices.Equal(got, want) {
				t.Errorf("%s: %s is %v, expected %v", c.file, name, got, want)
			}
		}
	}
}

func TestSpareGang(t *testing.T) {
	j, err := route.Parse("job.yaml", []byte("job: x\nplaces: {b: {is: board}, s: {is: switch, gangs: 2}}\nruns: {A: {from: b, to: s, in: steel conduit 20, length: 1 m, bends: 0}}\n"))
	if err != nil {
		t.Fatal(err)
	}
	if got := j.SwitchRoles(1); len(got) != 2 || got[0] != 0 || got[0].String() != "spare" {
		t.Errorf("got %v", got)
	}
}
