package fill_test

import (
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"
)

// TestSetOut: what cannot be made fails the check and shows its sum; what can
// be made leaves no line. 2 × 80 × (1 − cos 45°) = 46.86 mm, by hand.
func TestSetOut(t *testing.T) {
	const job = "job: s\nruns:\n  A: {in: steel conduit 20, path: \"right 2, set 40 mm up at 45, right 2\"}\n  B: {in: steel conduit 20, path: \"right 2, set 47 mm up at 45, right 2\"}\n  C: {in: steel conduit 20, length: 3 m}\ntools: {formers: {20: 80 mm}}\n"
	j, err := route.Parse("s.yaml", []byte(job))
	if err != nil {
		t.Fatal(err)
	}
	var found []fill.Finding
	for _, f := range fill.Check(j).Findings {
		if f.Check == "set-out" {
			found = append(found, f)
		}
	}
	if len(found) != 1 || found[0].Subject != "run A" || found[0].Verdict != fill.Fail || found[0].Value != 40 || found[0].Limit < 46.85 || found[0].Limit > 46.87 || found[0].Margin() > -6.85 {
		t.Fatalf("%+v", found)
	}
	text := ""
	for _, s := range found[0].Steps() {
		text += s.Line() + "\n"
	}
	if !strings.Contains(text, "Hmin(45°) = 2 × R × (1 − cos 45°) = 2 × 80 mm × (1 − 0.7071) = 46.86 mm") || !strings.Contains(text, "set of 40 mm at 30°") {
		t.Errorf("%s", text)
	}
	if f := fill.SetOutFinding(nil, j, 1); f.Verdict != fill.Pass {
		t.Errorf("%+v", f)
	}
}

// TestDrawInOfOpenSets: two 20 mm sets that the former makes at 30° still count
// at 45° a bend where degrees are limited: 2 × 90° + 90° = 270°, by hand.
func TestDrawInOfOpenSets(t *testing.T) {
	const job = "job: s\nchoices: {draw-in: 180}\ntools: {formers: {20: 60 mm}}\nruns:\n  A: {in: steel conduit 20, path: \"right 2, set 20 mm out, up 2, set 20 mm out, up 2\"}\n"
	j, err := route.Parse("s.yaml", []byte(job))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fill.Check(j).Findings {
		if f.Check != "draw-in" {
			continue
		}
		text := ""
		for _, s := range f.Steps() {
			text += s.Line() + "\n"
		}
		if f.Verdict != fill.Fail || f.Value != 270 || !strings.Contains(text, "leaves its angle open turns 45°") {
			t.Errorf("%+v\n%s", f, text)
		}
		return
	}
	t.Error("no draw-in finding")
}
