package fill_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"
)

func countCables(cores []route.Core) (n int) {
	for _, c := range cores {
		n += c.Count
	}
	return n
}

// text is a finding's working.
func text(f *fill.Finding) string {
	var b strings.Builder
	for _, s := range f.Steps() {
		b.WriteString(s.String() + "\n")
	}
	return b.String()
}

// TestTableEdges walks along the edges of the conduit tables.
//
// Source: IET On-Site Guide, Tables E1 to E4 (read): straight runs not over
// 3 m are short; between two lengths the longer row; no factor past 10 m, past
// 5 m with three bends, past 2.5 m with four.
func TestTableEdges(t *testing.T) {
	const past = math.MaxFloat64
	for _, tt := range []struct {
		run         string
		sum, factor float64 // past: the table has ended
		drawIn      fill.Verdict
	}{
		{"length: 3 m", 6 * 43, 460, fill.Pass},
		{"path: up 3", 6 * 43, 460, fill.Pass},
		{`path: "up 2.1, up 0.9"`, 6 * 43, 460, fill.Pass},
		{`path: "right 0.1, right 0.2, right 2.7"`, 6 * 43, 460, fill.Pass},
		{"length: 3000 mm", 6 * 43, 460, fill.Pass},
		{"length: 3.01 m", 6 * 30, 290, fill.Pass},
		{`path: "up 2.1, right 0.9"`, 6 * 30, 270, fill.Pass},
		{"length: 3 m, bends: 1", 6 * 30, 270, fill.Pass},
		{"length: 5.2 m, bends: 2", 6 * 30, 182, fill.Pass},
		{"length: 6 m, bends: 2", 6 * 30, 182, fill.Pass},
		{"length: 6.01 m, bends: 2", 6 * 30, 169, fill.Pass},
		{"length: 0.5 m, bends: 4", 6 * 30, 213, fill.Pass},
		{"length: 5 m, bends: 3", 6 * 30, 141, fill.Pass},
		{"length: 5.01 m, bends: 3", 6 * 30, past, fill.Fail},
		{"length: 6 m, bends: 3", 6 * 30, past, fill.Fail},
		{"length: 2.5 m, bends: 4", 6 * 30, 141, fill.Pass},
		{"length: 2.6 m, bends: 4", 6 * 30, past, fill.Fail},
		{"length: 1 m, bends: 5", 6 * 30, past, fill.Fail},
		{"length: 10 m", 6 * 30, 244, fill.Pass},
		{`path: "right 3.3, right 3.3, right 3.4"`, 6 * 30, 244, fill.Pass},
		{`path: "right 1.1, right 2.2, right 3.3, right 0.4, right 3"`, 6 * 30, 244, fill.Pass},
		{"length: 10.01 m", 6 * 30, past, fill.Fail},
	} {
		a := judged(t, "job: edges\nruns: {A: {in: steel conduit 20, "+tt.run+", cables: 6 x 2.5}}\n")
		f := a.finding("space", "run A")
		if f.Value != tt.sum || (tt.factor == past) != math.IsNaN(f.Limit) || tt.factor != past && f.Limit != tt.factor {
			t.Errorf("%s: %v against %v, want %v against %v", tt.run, f.Value, f.Limit, tt.sum, tt.factor)
		}
		if tt.factor == past && (f.Verdict != fill.Fail || !math.IsNaN(f.Margin()) || !strings.Contains(f.Reason, "whatever the tube") || len(f.Instead) == 0) {
			t.Errorf("%s: %v: %s", tt.run, f.Verdict, f.Reason)
		}
		if d := a.finding("draw-in", "run A"); d.Verdict != tt.drawIn {
			t.Errorf("%s: drawn in: %v: %s", tt.run, d.Verdict, d.Reason)
		}
	}
}

// TestBrimFull: cables whose factors add up to just the trunking's fit, however
// the sum comes out in binary, and one more cable does not.
//
// Source: IET On-Site Guide, Tables E5 and E6 (read).
func TestBrimFull(t *testing.T) {
	for size, cables := range map[string]string{"100x25": "10 x 1.5 solid, 55 x 4", "75x38": "2 x 1.5, 68 x 4", "100x38": "6 x 1.5 solid, 90 x 4", "50x50": "103 x 1.5, 12 x 2.5"} {
		job := "job: brim full\nruns: {A: {in: steel trunking " + size + ", length: 3 m, cables: \"" + cables + "%s\"}}\n"
		f := judged(t, fmt.Sprintf(job, "")).finding("space", "run A")
		if f.Verdict != fill.Pass || math.Abs(f.Margin()) > 1e-9 || !strings.Contains(text(f), "holds") || strings.Contains(text(f), "00000") {
			t.Errorf("%s in %s: %v\n%s", cables, size, f.Verdict, text(f))
		}
		if f := judged(t, fmt.Sprintf(job, ", 1 x 1.5 solid")).finding("space", "run A"); f.Verdict != fill.Fail {
			t.Errorf("%s and one more in %s: %v", cables, size, f.Verdict)
		}
	}
}

// TestTenMetres: legs that add up to 10 m make 10 m, whatever binary dust the
// sum leaves.
func TestTenMetres(t *testing.T) {
	for i := 1; i < 100; i++ {
		legs := fmt.Sprintf("right %.1f, right %.1f", float64(i)/10, float64(100-i)/10)
		thirds := fmt.Sprintf("right %.2f, right %.2f, right 3.33", float64(i)/100, 6.67-float64(i)/100)
		for _, path := range []string{legs, thirds} {
			a := judged(t, "job: ten\nruns: {A: {in: steel conduit 20, path: \""+path+"\", cables: 6 x 2.5}}\n")
			if s, d := a.finding("space", "run A"), a.finding("draw-in", "run A"); s.Limit != 244 || d.Verdict != fill.Pass {
				t.Errorf("%s: factor %v, drawn in: %v, %v m", path, s.Limit, d.Verdict, d.Value)
			}
		}
	}
}
