package fill_test

import (
	"fmt"
	"math"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"

	"pgregory.net/rapid"
)

func check(t *rapid.T, m *model) *fill.Report {
	j, err := route.Parse("drawn.yaml", []byte(m.yaml()))
	if err != nil {
		t.Fatalf("%s\n%v", m.yaml(), err)
	}
	return fill.Check(j)
}

// same reports whether two figures are one, apart from binary dust; two that
// are missing are.
func same(a, b float64) bool {
	return math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= 1e-9*max(1, math.Abs(a))
}

func of(t *rapid.T, r *fill.Report, check, subject string) *fill.Finding {
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Check == check && f.Subject == subject {
			return f
		}
	}
	t.Fatalf("no %s of %s", check, subject)
	return nil
}

// withoutSetOut leaves out where sets stand: reversed() moves a set within its
// leg. Package route reverses set-outs of its own.
func withoutSetOut(r *fill.Report) *fill.Report {
	out := &fill.Report{Job: r.Job}
	for _, f := range r.Findings {
		if f.Check != "set-out" {
			out.Findings = append(out.Findings, f)
		}
	}
	return out
}

// TestReversed: which end a run is written from changes no figure.
func TestReversed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		before := withoutSetOut(check(t, m))
		i := rapid.IntRange(0, len(m.runs)-1).Draw(t, "reversed")
		m.runs[i] = m.runs[i].reversed()
		after := withoutSetOut(check(t, m))
		if len(before.Findings) != len(after.Findings) {
			t.Fatalf("%d findings, then %d", len(before.Findings), len(after.Findings))
		}
		for i := range before.Findings {
			a := &before.Findings[i]
			// A pull may be named from its other end.
			b := &after.Findings[i]
			if a.Check != "draw-in" {
				b = of(t, after, a.Check, a.Subject)
			}
			if a.Verdict != b.Verdict || !same(a.Value, b.Value) || !same(a.Limit, b.Limit) {
				t.Fatalf("%s of %s: %v %v/%v, reversed %v %v/%v\n%s", a.Check, a.Subject, a.Verdict, a.Value, a.Limit, b.Verdict, b.Value, b.Limit, m.yaml())
			}
		}
	})
}

// TestOneMore: one cable more never fits better.
func TestOneMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		i := rapid.IntRange(0, len(m.runs)-1).Draw(t, "run")
		m.runs[i].cables = append(m.runs[i].cables, "1 x 1.5")
		a := of(t, check(t, m), "space", fmt.Sprintf("run R%d", i))
		m.runs[i].cables = append(m.runs[i].cables, "1 x "+rapid.SampledFrom(cables).Draw(t, "one more"))
		b := of(t, check(t, m), "space", fmt.Sprintf("run R%d", i))
		if !(b.Value > a.Value) || !same(a.Limit, b.Limit) || b.Margin() >= a.Margin() || b.Verdict < a.Verdict {
			t.Fatalf("%v %v/%v, with one more %v %v/%v\n%s", a.Verdict, a.Value, a.Limit, b.Verdict, b.Value, b.Limit, m.yaml())
		}
	})
}

// TestLargerConduit: a larger tube never holds less, and never changes what is
// to be drawn in.
func TestLargerConduit(t *testing.T) {
	sizes := []string{"16", "20", "25", "32", "40", "50", "63"}
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		i := rapid.IntRange(0, len(m.runs)-1).Draw(t, "run")
		m.runs[i].cables = append(m.runs[i].cables, "1 x 1.5")
		k := rapid.IntRange(0, len(sizes)-2).Draw(t, "size")
		m.runs[i].in = "steel conduit " + sizes[k]
		a := of(t, check(t, m), "space", fmt.Sprintf("run R%d", i))
		m.runs[i].in = "steel conduit " + sizes[rapid.IntRange(k+1, len(sizes)-1).Draw(t, "larger")]
		b := of(t, check(t, m), "space", fmt.Sprintf("run R%d", i))
		if a.Value != b.Value || math.IsNaN(a.Limit) != math.IsNaN(b.Limit) || b.Limit <= a.Limit || b.Verdict > a.Verdict {
			t.Fatalf("%v %v/%v, larger %v %v/%v\n%s", a.Verdict, a.Value, a.Limit, b.Verdict, b.Value, b.Limit, m.yaml())
		}
	})
}

// TestPulls: each conduit lies in one pull, and a draw-in point instead of a
// fitting without a lid never lengthens a part.
func TestPulls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		for i := range m.runs {
			m.runs[i].in = rapid.SampledFrom(enclosures[:5]).Draw(t, "conduit")
		}
		before := check(t, m).Job
		seen := map[int]int{}
		total := 0.0
		for k := range before.Pulls {
			for _, r := range before.Pulls[k].Runs {
				seen[r]++
			}
			total += float64(before.Pulls[k].Length)
		}
		sum := 0.0
		for i := range before.Runs {
			if seen[i] != 1 {
				t.Fatalf("run R%d lies in %d pulls\n%s", i, seen[i], m.yaml())
			}
			sum += float64(before.Runs[i].Length)
		}
		if !same(total, sum) {
			t.Fatalf("pulls of %v m in all, runs of %v m", total, sum)
		}
		for i, k := range m.kinds {
			if k == "coupler" || k == "elbow" {
				m.kinds[i] = "inspection bend"
				break
			}
		}
		after := check(t, m).Job
		for i := range after.Runs {
			a, b := before.PullOf(i), after.PullOf(i)
			if b.Length > a.Length+1e-9 || b.Bends > a.Bends || b.Degrees > a.Degrees+1e-9 {
				t.Fatalf("R%d: %v m and %d bends, divided %v m and %d bends\n%s", i, a.Length, a.Bends, b.Length, b.Bends, m.yaml())
			}
		}
	})
}

// TestOneMoreCircuit: a circuit more never leaves the others more to carry.
// Lightly loaded circuits are judged with all others, and once they are no
// longer light, with fewer; so demands are left out here.
func TestOneMoreCircuit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		m.circuits = append(m.circuits, m.drawCircuit(t))
		for i := range m.circuits {
			m.circuits[i].demand = ""
		}
		before := check(t, m)
		n := len(m.circuits)
		m.circuits = append(m.circuits, m.drawCircuit(t))
		after := check(t, m)
		for i := range n {
			a, b := of(t, before, "rating", fmt.Sprintf("circuit c%d", i)), of(t, after, "rating", fmt.Sprintf("circuit c%d", i))
			// The two ways of judging a group compare different currents, so the ratio counts.
			if b.Limit/b.Value > a.Limit/a.Value+1e-9 || b.Verdict < a.Verdict {
				t.Fatalf("c%d: %v %v/%v, with one more %v %v/%v\n%s", i, a.Verdict, a.Value, a.Limit, b.Verdict, b.Value, b.Limit, m.yaml())
			}
		}
	})
}

// TestWorking: the working of every finding makes the same finding, and every
// line of it recomputes to what it prints.
func TestWorking(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := check(t, drawModel(t))
		for i := range r.Findings {
			f := &r.Findings[i]
			again, steps := f.Again()
			if again.Verdict != f.Verdict || again.Reason != f.Reason || !same(again.Value, f.Value) || !same(again.Limit, f.Limit) || !reflect.DeepEqual(again.Instead, f.Instead) {
				t.Fatalf("%s of %s: %+v\nwith working: %+v", f.Check, f.Subject, f, again)
			}
			if len(steps) == 0 {
				t.Fatalf("%s of %s has no working", f.Check, f.Subject)
			}
			shown := math.IsNaN(f.Value) || f.Verdict == fill.Open
			for _, s := range steps {
				if s.Symbol != "" && !same(s.Expr.Eval(), s.Value) {
					t.Fatalf("%s: the sum gives %v, the line says %v", s.Line(), s.Expr.Eval(), s.Value)
				}
				shown = shown || s.Symbol != "" && same(s.Value, f.Value)
			}
			if !shown && f.Check != "draw-in" {
				t.Fatalf("%s of %s: no line shows %v:\n%s", f.Check, f.Subject, f.Value, text(f))
			}
		}
	})
}

// TestSameEveryTime: the report does not depend on how often, or on how many
// cores, it is made.
func TestSameEveryTime(t *testing.T) {
	large := largeJob(1500, 600)
	report := func(procs int) string {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(procs))
		j, err := route.Parse("large.yaml", large)
		if err != nil {
			t.Fatal(err)
		}
		r := fill.Check(j)
		var b strings.Builder
		for i := range r.Findings {
			f := &r.Findings[i]
			fmt.Fprintln(&b, f.Check, f.Subject, f.At, f.Verdict, f.Value, f.Limit, f.Unit, f.Reason, f.Instead)
			if i%97 == 0 {
				b.WriteString(text(f))
			}
		}
		return b.String()
	}
	one := report(1)
	for _, procs := range []int{1, 2, 2, 7} {
		if got := report(procs); got != one {
			t.Errorf("on %d cores the report differs", procs)
		}
	}
	if strings.Count(one, "\n") < 1500 {
		t.Errorf("only %d lines", strings.Count(one, "\n"))
	}
}
