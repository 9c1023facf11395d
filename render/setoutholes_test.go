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
	for _, want := range []string{"cut hole for 25 mm conduit at 1150 mm (entry e1, run A, leaving down), deburr, bush", "falls on the end of this length", "this run lies from 1900 to 3300 mm along it"} {
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
