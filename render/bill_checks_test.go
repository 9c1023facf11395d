package render_test

import (
	"bytes"
	"encoding/json"
	"io"
	"slices"
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/render"
	"tubewright/route"
)

const failingJob = `job: f
runs:
  A: {in: steel conduit 20, length: 6 m, bends: 2, cables: 10 x 6}
  B: {in: steel conduit 20, length: 3 m, bends: 0}
  C: {in: steel conduit 25, length: 3 m}
circuits:
  kiln: {device: B63, cable: 2.5, runs: [B]}
`

// TestChecksOnEveryOutput: a bill of a job that fails its checks says so above
// its items, with the names, whatever it is written as; and of a job that
// passes says nothing of the kind.
func TestChecksOnEveryOutput(t *testing.T) {
	failing, passing := priced(t, failingJob, ""), priced(t, strings.NewReplacer("10 x 6", "2 x 1.5", "B63", "B6", "length: 3 m}", "length: 3 m, cables: 2 x 1.5}").Replace(failingJob), "")
	failing.Report, passing.Report = fill.Verdicts(failing.Job), fill.Verdicts(passing.Job)
	wants := []string{"2 checks FAIL: this bill is for a job that does not pass", "space, run A", "rating, circuit kiln",
		"1 check is OPEN, so that a size on this bill is not settled", "space, run C"}
	for name, write := range map[string]func(io.Writer, render.PricedBill) error{
		"text": render.WriteEstimate, "CSV": render.WriteBillCSV, "JSON": render.WriteBillJSON,
	} {
		var buf, clean bytes.Buffer
		if err := write(&buf, failing); err != nil {
			t.Fatal(err)
		}
		if err := write(&clean, passing); err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(buf.String()), " ")
		top := text[:max(0, strings.Index(text, "steel conduit 20"))]
		for _, want := range wants {
			if !strings.Contains(top, want) {
				t.Errorf("%s: %q does not stand above the items:\n%s", name, want, buf.String())
			}
			if strings.Contains(clean.String(), want) {
				t.Errorf("%s: a job that passes has %q", name, want)
			}
		}
		if name == "JSON" {
			var got struct {
				Verdict string
				Fails   []string `json:"checks_failed"`
				Open    []string `json:"checks_open"`
			}
			if err := json.Unmarshal(buf.Bytes(), &got); err != nil || got.Verdict != "fail" || !slices.Equal(got.Fails, []string{"space, run A", "rating, circuit kiln"}) || !slices.Equal(got.Open, []string{"space, run C"}) {
				t.Errorf("JSON: %+v, %v", got, err)
			}
		}
	}
	head, _, _ := strings.Cut(sheetText(t, failing, "Bill"), "item|")
	if !strings.Contains(head, "2 checks FAIL") || !strings.Contains(head, "1 check is OPEN") || strings.Contains(sheetText(t, passing, "Bill"), "FAIL") {
		t.Errorf("the head of the workbook's bill is %s", head)
	}
	if notes := sheetText(t, failing, "Notes"); !strings.Contains(notes, "space, run A; rating, circuit kiln") || !strings.Contains(notes, "space, run C") {
		t.Errorf("the workbook's notes name no check:\n%s", notes)
	}
}

// TestVerdictsAreThoseOfCheck: what does not look for remedies judges alike.
func TestVerdictsAreThoseOfCheck(t *testing.T) {
	for _, text := range []string{failingJob, unmadeJob} {
		j, err := route.Parse("j.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		want, got := fill.Check(j), fill.Verdicts(j)
		if len(got.Findings) != len(want.Findings) || want.Verdict() != fill.Fail {
			t.Fatalf("%d findings, want %d", len(got.Findings), len(want.Findings))
		}
		for i := range got.Findings {
			a, b := &want.Findings[i], &got.Findings[i]
			if a.Check != b.Check || a.Subject != b.Subject || a.Verdict != b.Verdict {
				t.Errorf("%s, %s: %v, want %v", a.Check, a.Subject, b.Verdict, a.Verdict)
			}
			if len(b.Steps()) != len(a.Steps()) {
				t.Errorf("%s, %s: the working differs", a.Check, a.Subject)
			}
		}
	}
}
