package fill_test

import "testing"

// A solid elbow between two runs is a right angle of the pull, whether the runs
// are drawn or not. Common practice, no source.
func TestElbowIsABend(t *testing.T) {
	const places = "job: x\nplaces: {a: {is: box}, e: {is: elbow}, b: {is: box}}\nruns:\n"
	for _, c := range []struct {
		name, runs string
		limit      float64 // 25 mm, IET On-Site Guide, Table E4 (read)
	}{
		{"quick, 4 m and one elbow", "  A: {from: a, to: e, in: steel conduit 25, length: 2 m, cables: 2 x 2.5}\n  B: {from: e, to: b, in: steel conduit 25, length: 2 m}\n", 463},
		{"drawn, the elbow turns them", "  A: {from: a, to: e, in: steel conduit 25, path: up 2, cables: 2 x 2.5}\n  B: {from: e, to: b, in: steel conduit 25, path: right 2}\n", 463},
		{"a bend and the elbow", "  A: {from: a, to: e, in: steel conduit 25, length: 2 m, bends: 1, cables: 2 x 2.5}\n  B: {from: b, to: e, in: steel conduit 25, length: 2 m}\n", 388},
	} {
		r := judged(t, places+c.runs)
		found := false
		for i := range r.Findings {
			if f := &r.Findings[i]; f.Check == "space" && f.Subject == "run A" {
				found = true
				if f.Limit != c.limit {
					t.Errorf("%s: conduit factor %g, want %g", c.name, f.Limit, c.limit)
				}
			}
		}
		if !found {
			t.Errorf("%s: no finding for run A", c.name)
		}
	}
}
