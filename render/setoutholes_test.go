package render

import (
	"bytes"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"tubewright/fill"
)

// TestBodyOnceInJSON: the pieces of one body of trunking stand under its first
// run and nowhere else; the others say where along it they lie. Holes are those
// of the conduits that leave its entries, on the page, in JSON and on the strips.
func TestBodyOnceInJSON(t *testing.T) {
	text, err := os.ReadFile("../testdata/jobs/workshop.yaml")
	if err != nil {
		t.Fatal(err)
	}
	j, runs := setOutDemo(t, string(text))
	var doc, page bytes.Buffer
	if err := WriteSetOutJSON(&doc, j, runs, fill.Pass); err != nil {
		t.Fatal(err)
	}
	var back setOutJSON
	if err := json.Unmarshal(doc.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	// Along the trunking: 0.8 up, 0.7, 0.5, 1.4, 1.4 and 1.6 to the right; the
	// bend takes 100 mm.
	ends := map[string][2]float64{"T0": {0, 1400}, "T1": {1400, 1900}, "T2": {1900, 3300}, "T3": {3300, 4700}, "T4": {4700, 6300}}
	at := map[string]float64{"D": 1400, "A": 1900, "C": 3300, "E": 3300, "B": 4700, "G": 6300, "H": 6300}
	for _, r := range back.Runs {
		want, trunking := ends[r.Run]
		if !trunking {
			if r.Body != nil || len(r.Pieces) == 0 {
				t.Errorf("%s: %+v", r.Run, r)
			}
			continue
		}
		if r.Body == nil || r.Body.First != "T0" || *r.Body.FromMM != want[0] || *r.Body.ToMM != want[1] || (len(r.Pieces) > 0) != (r.Run == "T0") {
			t.Errorf("%s: %+v", r.Run, r.Body)
		}
		for _, p := range r.Pieces {
			for _, h := range p.Holes {
				if got := *p.StartMM + *h.AtMM; got != at[h.Run] {
					t.Errorf("hole for %s at %v, want %v", h.Run, got, at[h.Run])
				}
				delete(at, h.Run)
			}
		}
	}
	if len(at) > 0 {
		t.Errorf("no holes for %v", at)
	}
	if err := WriteSetOut(&page, j, runs, false); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"cut hole for 25 mm conduit at 1150 mm (entry e1, run A, leaving down), in the lower side, its middle 25 mm off the wall where the trunking lies on it (the middle of that side; common practice, no source); deburr, bush", "falls on the end of this length", "this run lies from 1900 to 3300 mm along it"} {
		if !strings.Contains(strings.Join(strings.Fields(page.String()), " "), want) {
			t.Errorf("no %q in\n%s", want, page.String())
		}
	}
	sheets, err := SetOutSheets(j, runs[:1], A3)
	if err != nil || len(sheets) != 1 {
		t.Fatal(len(sheets), err)
	}
	if n := strings.Count(sheets[0].Marks(), `text "hole `); n != 7 {
		t.Errorf("%d holes on the strips, not 7", n)
	}
}

// TestHoleByItsSide: a hole is a gap in the edge that the conduit leaves by, as
// the piece lies with its first end to the left, and a circle only in the face;
// it says the side in full, and how far off the wall its middle lies: half of 50.
func TestHoleByItsSide(t *testing.T) {
	for _, tt := range []struct {
		along, leaves, said string
		circle, top         bool
		off                 float64
	}{
		{"right", "down", "lower side", false, false, 25},
		{"right", "up", "upper side", false, true, 25},
		{"left", "down", "lower side", false, true, 25},
		{"up", "right", "right side", false, false, 25},
		{"up", "left", "left side", false, true, 25},
		{"down", "left", "left side", false, false, 25},
		{"right", "out", "face", true, false, 0},
		{"right", "in", "back", true, false, 0},
	} {
		j, runs := setOutDemo(t, "job: h\nplaces: {a: {is: board}, e: {is: entry}, z: {is: entry}, s: {is: socket}}\nruns:\n"+
			"  T1: {from: a, to: e, in: steel trunking 75x50, path: \""+tt.along+" 1.0\"}\n  T2: {from: e, to: z, in: steel trunking 75x50, path: \""+tt.along+" 1.0\"}\n  U1: {from: e, to: s, in: steel conduit 20, path: \""+tt.leaves+" 0.9\"}\n")
		so := j.SetOut(nil, 0)
		h := so.HolesIn(0)[0]
		if got := offWall(&so, 0, h); got != tt.off {
			t.Errorf("%s, leaving %s: %v mm off the wall, not %v", tt.along, tt.leaves, got, tt.off)
		}
		sheets, err := SetOutSheets(j, runs[:1], A3)
		if err != nil {
			t.Fatal(err)
		}
		marks := sheets[0].Marks()
		if !strings.Contains(marks, `text "hole 20  1000  U1, `+tt.said+`"`) || strings.Contains(marks, "disc white") != tt.circle {
			t.Errorf("%s, leaving %s:\n%s", tt.along, tt.leaves, marks)
		}
		v := &tubeView{strip: strip{j, &so, 0}, top: 1, bottom: 2}
		if _, side := v.edge(h); side < 0 != tt.top || (side == 0) != tt.circle {
			t.Errorf("%s, leaving %s: edge %v", tt.along, tt.leaves, side)
		}
	}
}
