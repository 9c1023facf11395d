package route_test

import (
	"fmt"
	"math"
	"testing"

	"tubewright/route"
)

// pathJob is a board, a box 4 m away, and drops from it of 1, 2, 3 m; tails are
// 0.5 m at the board and 0.2 m at every accessory.
const pathJob = `job: paths
allow: {board tail: 0.5 m, accessory tail: 0.2 m}
places:
  board: {is: board}
  bx: {is: box}
  p: {is: %[1]s}
  q: {is: %[1]s}
  r: {is: %[1]s}
  sw1: {is: switch, gangs: 3}
  sw2: {is: switch, gangs: 3}
runs:
  A: {from: board, to: bx, in: steel conduit 32, length: 4 m}
  P: {from: bx, to: p, in: steel conduit 32, length: 1 m}
  Q: {from: bx, to: q, in: steel conduit 32, length: 2 m}
  R: {from: bx, to: r, in: steel conduit 32, length: 3 m}
  S: {from: bx, to: sw1, in: plastic conduit 32, length: 5 m}
  T: {from: bx, to: sw2, in: plastic conduit 32, length: 6 m}
circuits:
  x: {device: B16, cable: %[2]s, %[3]s}
`

func pathsOf(t *testing.T, kind, cable, circuit string) (*route.Job, map[string]route.PointPath) {
	t.Helper()
	j, err := route.Parse("paths.yaml", fmt.Appendf(nil, pathJob, kind, cable, circuit))
	if err != nil {
		t.Fatalf("%s: %v", circuit, err)
	}
	out := map[string]route.PointPath{}
	for _, p := range j.PointPaths(0) {
		name := "end"
		if p.Place >= 0 {
			name = j.Places[p.Place].Name
		}
		out[name] = p
	}
	return j, out
}

// TestPointPaths: lengths of core to each point, added up by hand from the runs
// and the tails.
func TestPointPaths(t *testing.T) {
	const board = 4 + 1 + 0.5 + 0.2 // to p
	tests := []struct {
		what, kind, circuit, point string
		want                       route.PointPath // lengths only
	}{
		{"radial", "socket", "points: [p, q]", "q", route.PointPath{Line: board + 3.4, Neutral: board + 3.4, CPC: board + 3.4}},
		{"ring", "socket", "arrangement: ring, points: [p, q]", "p",
			route.PointPath{Line: board, Neutral: board, CPC: board, LineBack: 3.4 + 6.7, NeutralBack: 3.4 + 6.7, CPCBack: 3.4 + 6.7}},
		{"spur off a ring", "socket", "arrangement: ring, points: [p, q], spurs: [{from: q, points: [r]}]", "r",
			route.PointPath{Line: board + 3.4 + 5.4, Neutral: board + 3.4 + 5.4, CPC: board + 3.4 + 5.4, LineBack: 6.7 + 5.4, NeutralBack: 6.7 + 5.4, CPCBack: 6.7 + 5.4,
				LineSpur: 5.4, NeutralSpur: 5.4, CPCSpur: 5.4}},
		{"twin and earth", "socket", "points: [p, q]", "q", route.PointPath{Line: board + 3.4, Neutral: board + 3.4, CPC: board + 3.4}},
		{"one-way: the line by the switch", "light", "arrangement: lighting, groups: [{switches: [sw1], lights: [p]}]", "p",
			route.PointPath{Line: 9.7 + 6.4, Neutral: board, CPC: board}},
		{"its switch", "light", "arrangement: lighting, groups: [{switches: [sw1], lights: [p]}]", "sw1",
			route.PointPath{Line: 9.7, CPC: board + 6.4}},
		{"two-way: strapper and switched line", "light", "arrangement: lighting, groups: [{switches: [sw1, sw2], lights: [p]}]", "p",
			route.PointPath{Line: 9.7 + 11.4 + 7.4, Neutral: board, CPC: board}},
		{"conversion: there and back to the first switch", "light", "arrangement: lighting, groups: [{switches: [sw1, sw2], lights: [p], method: conversion}]", "p",
			route.PointPath{Line: 9.7 + 2*11.4 + 6.4, Neutral: board, CPC: board}},
		{"second light of a group", "light", "arrangement: lighting, groups: [{switches: [sw1], lights: [p, q]}]", "q",
			route.PointPath{Line: 9.7 + 6.4 + 3.4, Neutral: board + 3.4, CPC: board + 3.4}},
		{"permanently on", "light", "arrangement: lighting, groups: [{lights: [p, q]}]", "q", route.PointPath{Line: board + 3.4, Neutral: board + 3.4, CPC: board + 3.4}},
		{"runs named", "socket", "runs: [A, Q, Q, R]", "r", route.PointPath{Line: 4.5 + 2.2 + 2.2 + 3.2, Neutral: 12.1, CPC: 12.1}},
		{"runs named once round", "socket", "arrangement: ring, runs: [A, P, P, A]", "end", route.PointPath{Line: 11.4 / 2, Neutral: 11.4 / 2, CPC: 11.4 / 2, LineBack: 11.4 / 2, NeutralBack: 11.4 / 2, CPCBack: 11.4 / 2}},
	}
	for _, tt := range tests {
		cable := "2.5"
		if tt.what == "twin and earth" {
			cable = "2.5 twin and earth"
		}
		_, paths := pathsOf(t, tt.kind, cable, tt.circuit)
		p, ok := paths[tt.point]
		if !ok {
			t.Errorf("%s: no %s among %v", tt.what, tt.point, paths)
			continue
		}
		for name, pair := range map[string][2]float64{
			"line": {p.Line, tt.want.Line}, "neutral": {p.Neutral, tt.want.Neutral}, "cpc": {p.CPC, tt.want.CPC},
			"line back": {p.LineBack, tt.want.LineBack}, "neutral back": {p.NeutralBack, tt.want.NeutralBack}, "cpc back": {p.CPCBack, tt.want.CPCBack},
			"line spur": {p.LineSpur, tt.want.LineSpur}, "neutral spur": {p.NeutralSpur, tt.want.NeutralSpur}, "cpc spur": {p.CPCSpur, tt.want.CPCSpur},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-9 {
				t.Errorf("%s: %s to %s %v m, want %v", tt.what, name, tt.point, pair[0], pair[1])
			}
		}
	}
}

// TestSharedPath: a shared cpc serves both circuits by its own tree, whichever
// of them it is listed under.
func TestSharedPath(t *testing.T) {
	j, _ := pathsOf(t, "socket", "2.5", "cpc: shared, points: [p]}\n  y: {device: B16, cable: 4, cpc: shared, points: [q]")
	for circuit, want := range []float64{5.7, 5.7 + 3.4} {
		paths := j.PointPaths(circuit)
		if len(paths) != 1 || math.Abs(paths[0].CPC-want) > 1e-9 {
			t.Errorf("circuit %d: %+v, want %v m of cpc", circuit, paths, want)
		}
		for _, i := range paths[0].CPCCores {
			if s := j.Singles[i]; s.Function != route.CPC || s.Cable.CSA != 4 {
				t.Errorf("circuit %d: core %+v", circuit, s)
			}
		}
	}
}

// TestSteelPath: steel conduit as cpc leads straight to the point and dips into
// no drop on the way; where plastic lies between, a core of copper bridges it.
func TestSteelPath(t *testing.T) {
	j, paths := pathsOf(t, "socket", "2.5", "cpc: conduit, points: [p, q]")
	q := paths["q"]
	if q.CPC != 0 || len(q.CPCCores) != 0 || runsOf(j, q.Steel) != "A Q " {
		t.Errorf("steel to q: %s, %v m of copper", runsOf(j, q.Steel), q.CPC)
	}
	j, paths = pathsOf(t, "light", "1.5", "cpc: conduit, arrangement: lighting, groups: [{switches: [sw1], lights: [p]}]")
	sw := paths["sw1"]
	if runsOf(j, sw.Steel) == "" && sw.CPC == 0 {
		t.Errorf("no cpc at the switch beyond plastic: %+v", sw)
	}
}

func runsOf(j *route.Job, passes []route.Pass) string {
	text := ""
	for _, p := range passes {
		text += j.Runs[p.Run].Name + " "
	}
	return text
}

// TestBorrowedPath: a light that borrows its neutral comes home by the lender's
// cores.
func TestBorrowedPath(t *testing.T) {
	_, paths := pathsOf(t, "light", "1.5", "arrangement: lighting, groups: [{switches: [sw1], lights: [q], neutral from: y}]}\n  y: {device: B6, cable: 1.5, arrangement: lighting, groups: [{lights: [p]}]")
	if got, want := paths["q"].Neutral, 5.7+3.4; math.Abs(got-want) > 1e-9 {
		t.Errorf("%v m of neutral, want %v", got, want)
	}
}

// TestLoopedLight: a line looped through a light by a longer way than its
// switched line is told apart.
func TestLoopedLight(t *testing.T) {
	_, paths := pathsOf(t, "light", "1.5", "arrangement: lighting, loop: at lights, groups: [{switches: [sw1], lights: [q]}, {switches: [sw1], lights: [p]}, {switches: [sw1], lights: [r]}]")
	r := paths["r"]
	// board to q 6.7, to sw1 7.4, and by the switched line to r 8.4; the loop q, p, r is shorter.
	if math.Abs(r.Line-(6.7+7.4+8.4)) > 1e-9 || r.Looped != 0 {
		t.Errorf("%+v", r)
	}
}
