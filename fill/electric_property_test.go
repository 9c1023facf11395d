package fill_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
	"tubewright/fill"
	"tubewright/route"
)

func valuesOf(t *rapid.T, text string) ([]fill.PointValues, *route.Job) {
	j, err := route.Parse("drawn.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return fill.Values(j, 0), j
}

const dust = 1e-9

// TestLargerCableHelps: a larger line conductor never raises the drop or the
// loop of any point, and never lowers what the cable may carry against what it
// must.
func TestLargerCableHelps(t *testing.T) {
	sizes := []string{"2.5", "4", "6", "10", "16", "25", "35"}
	rapid.Check(t, func(t *rapid.T) {
		text := powerJob(t, rapid.Bool().Draw(t, "ring"))
		k := rapid.IntRange(0, len(sizes)-2).Draw(t, "size")
		insulation := rapid.SampledFrom([]string{"", " thermosetting"}).Draw(t, "insulation")
		with := func(size string) string {
			return strings.Replace(text, "cable: 2.5\n", "cable: "+size+insulation+"\n", 1)
		}
		small, a := valuesOf(t, with(sizes[k]))
		large, b := valuesOf(t, with(sizes[rapid.IntRange(k+1, len(sizes)-1).Draw(t, "larger")]))
		for i := range small {
			if s, l := small[i], large[i]; l.DropV > s.DropV+dust || l.ZsHot > s.ZsHot+dust || l.ZsCold > s.ZsCold+dust {
				t.Fatalf("%+v\nlarger: %+v\n%s", s, l, text)
			}
		}
		x, y := of(t, fill.Check(a), "rating", circuitX), of(t, fill.Check(b), "rating", circuitX)
		if y.Limit/y.Value < x.Limit/x.Value-dust {
			t.Fatalf("rating %v/%v, larger %v/%v\n%s", x.Limit, x.Value, y.Limit, y.Value, text)
		}
	})
}

var runLength = regexp.MustCompile(`length: [0-9.]+ m`)

// TestLongerRunNeverHelps: lengthening a run never lowers the drop or the loop
// of a radial's points; on a ring, of whose points one draws a load, not the
// drop there. (With several loads on a ring a longer side may relieve a point.)
func TestLongerRunNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := rapid.Bool().Draw(t, "ring")
		text := powerJob(t, ring)
		if ring {
			text, _, _ = strings.Cut(text, "    loads:")
			text += fmt.Sprintf("    loads: {p%d: 10 A}\n", rapid.IntRange(0, strings.Count(text, "is: socket")-1).Draw(t, "loaded"))
		}
		which := rapid.IntRange(0, len(runLength.FindAllString(text, -1))-1).Draw(t, "run")
		more := rapid.IntRange(1, 200).Draw(t, "decimetres more")
		n := -1
		longer := runLength.ReplaceAllStringFunc(text, func(s string) string {
			if n++; n != which {
				return s
			}
			var metres float64
			fmt.Sscanf(s, "length: %f m", &metres)
			return fmt.Sprintf("length: %.1f m", metres+float64(more)/10)
		})
		before, j := valuesOf(t, text)
		after, _ := valuesOf(t, longer)
		for i := range before {
			_, loaded := j.Circuits[0].LoadAt(before[i].Place)
			worse := after[i].DropV < before[i].DropV-dust && (!ring || loaded)
			if worse || after[i].ZsHot < before[i].ZsHot-dust || after[i].R1R2 < before[i].R1R2-dust {
				t.Fatalf("%+v\nlonger: %+v\n%s", before[i], after[i], longer)
			}
		}
	})
}

// TestEveryFinding: with loads and a full supply every finding's working makes
// the same finding again, and each line of it recomputes to what it prints.
func TestEveryFinding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := powerJob(t, rapid.Bool().Draw(t, "ring"))
		text = strings.Replace(text, "Ze: 0.5 ohm}", "Ze: 0.5 ohm, fault: 2 kA, rating: 60 A, drop: 1 %}\nchoices: {diversity: household, drop at temperature: "+
			rapid.SampledFrom([]string{"yes", "no"}).Draw(t, "at temperature")+"}", 1)
		text = strings.Replace(text, "cpc: 1.5\n", "cpc: "+rapid.SampledFrom([]string{"1.5", "2.5", "conduit", "shared"}).Draw(t, "cpc")+"\n", 1)
		if strings.Contains(text, "arrangement: ring") {
			text = strings.Replace(text, "cpc: shared", "cpc: 1.5", 1) // refused
		}
		if rapid.Bool().Draw(t, "steel") {
			text = strings.ReplaceAll(text, "plastic", "steel")
		}
		_, j := valuesOf(t, text)
		r := fill.Check(j)
		checks := map[string]bool{}
		for i := range r.Findings {
			f := &r.Findings[i]
			checks[f.Check] = true
			again, steps := f.Again()
			if again.Verdict != f.Verdict || again.Reason != f.Reason || !same(again.Value, f.Value) || !same(again.Limit, f.Limit) {
				t.Fatalf("%s of %s: %+v\nwith working: %+v\n%s", f.Check, f.Subject, f, again, text)
			}
			for _, s := range steps {
				if s.Symbol != "" && !same(s.Expr.Eval(), s.Value) {
					t.Fatalf("%s: the sum gives %v, the line says %v", s.Line(), s.Expr.Eval(), s.Value)
				}
			}
		}
		for _, want := range []string{"drop", "fault", "demand", "adiabatic", "residual"} {
			if !checks[want] {
				t.Fatalf("no %s\n%s", want, text)
			}
		}
	})
}
