package route_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tubewright/factors/sum"
	"tubewright/route"
)

// stepsOf sets a run out with steps, by symbol. One symbol has one value in a
// run, and none is worked out of itself.
func stepsOf(t fataler, j *route.Job) (route.SetOut, map[string]sum.Step) {
	t.Helper()
	w := &sum.Work{}
	s := j.SetOut(w, 0)
	out := map[string]sum.Step{}
	for _, step := range w.Steps {
		if step.Symbol == "" {
			continue
		}
		if before, seen := out[step.Symbol]; seen {
			t.Fatalf("twice:\n%s\n%s", before, step)
		}
		for _, term := range strings.FieldsFunc(step.Symbolic, func(r rune) bool { return strings.ContainsRune("+−×/", r) }) {
			if strings.Trim(term, " ()") == step.Symbol {
				t.Fatalf("worked out of itself: %s", step)
			}
		}
		out[step.Symbol] = step
	}
	return s, out
}

// TestStepsAreTheFigures: on random paths every figure that the set-out prints is
// a formula of its working which comes to that figure: straights, length, gain,
// pieces, marks and saddles.
func TestStepsAreTheFigures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		path, _ := randomPath(t)
		if rapid.Bool().Draw(t, "set first") {
			path = "set 70 mm out, " + strings.TrimPrefix(path, "nothing")
			if first := strings.Fields(path)[4]; first == "in" || first == "out" {
				path = strings.Replace(path, "set 70 mm out", "set 70 mm up", 1)
			}
		}
		in := rapid.SampledFrom([]string{"steel conduit 20", "steel conduit 25", "plastic conduit 20", "steel conduit 20, bends: made", "steel trunking 50x50, bends: formed", "steel trunking 100x50"}).Draw(t, "in")
		job := rapid.SampledFrom([]func(fataler, string, string, string) *route.Job{oneRun, heldJob}).Draw(t, "job")
		between := rapid.SampledFrom([]string{"", ", between bends: 30 mm"}).Draw(t, "between")
		swing := rapid.SampledFrom([]string{"", "expansion: {lowest: 0 C, highest: 30 C, fitted at: 10 C, sun: yes}\n"}).Draw(t, "swing")
		s, steps := stepsOf(t, job(t, in, path, "tools: {formers: {20: 80 mm}"+between+"}\n"+swing))
		if len(s.Lacks) > 0 {
			return
		}
		holds := func(symbol string, want float64) {
			step, ok := steps[symbol]
			if !ok || math.Abs(step.Value-want) > 1e-4 { // shifts of a rolled set are kept to a millionth
				t.Fatalf("%s in %s: %s is %v: %s", path, in, symbol, want, step)
			}
		}
		formula := func(symbol string, want float64) {
			drawn := s.RadiusMM == 0 && (symbol == "L" || symbol[0] == 'S') // way and straights of trunking are taken from its drawing
			if holds(symbol, want); steps[symbol].Symbolic == "" && !drawn {
				t.Fatalf("%s in %s: no formula for %s", path, in, symbol)
			}
		}
		formula("L", s.CornerMM)
		if len(s.Bends) > 0 {
			formula("c", s.LengthMM)
			formula("Σg", s.GainMM)
		}
		n := 0
		for _, p := range s.Parts {
			if p.Kind != route.StraightPart {
				continue
			}
			if n++; p.Long() > 1e-6 {
				formula(fmt.Sprint("S", n), p.Long())
			}
		}
		saddle, folds := 0, 0
		for i, p := range s.Pieces {
			formula(fmt.Sprint("cut ", i+1), p.Long())
			for _, notch := range s.Notches(i) {
				folds++
				formula(fmt.Sprint("line ", folds), p.From+notch.At)
			}
			for _, m := range s.Marks(i) {
				for name, v := range map[string]float64{"start ": m.Start, "centre ": m.Centre, "end ": m.End, "far ": m.Far, "apart ": m.Apart, "back ": m.BackMM} {
					if !math.IsNaN(v) {
						formula(fmt.Sprint(name, m.Number), v)
					}
				}
			}
			for _, at := range s.SaddlesOn(i) {
				saddle++
				formula(fmt.Sprint("saddle ", saddle), at)
			}
		}
	})
}

// TestStepsByHand: the straights and the length of a right angle and of a double
// set in the middle, thread 14 mm, worked by hand: 600 − 30 − 60 = 510;
// 600 + 1000 − 30 − 54 = 1516; 350 − (2 × 40 + 2 × 24.85) / 2 − 30 − 24.85 = 230.3;
// 700 − 60 + 2 × 40 × tan 22.5° = 673.1.
func TestStepsByHand(t *testing.T) {
	const tools = "tools: {formers: {20: 60 mm}, threads: {20: 14 mm}, faces: {box: 30 mm, switch: 40 mm}}\n"
	j, err := route.Parse("c.yaml", []byte("job: c\n"+tools+"places: {a: {is: box}, b: {is: switch}}\nruns: {A: {from: a, to: b, in: steel conduit 20, path: \"left 0.6, down 1\"}}\n"))
	if err != nil {
		t.Fatal(err)
	}
	_, corner := stepsOf(t, j)
	_, double := stepsOf(t, heldJob(t, "steel conduit 20", "right 0.35, double set 40 mm, right 0.35", tools))
	for _, c := range []struct {
		steps map[string]sum.Step
		line  string
		value float64
	}{
		{corner, "S1 = l1 − E1 − T(90°) = 600 mm − 30 mm − 60 mm = 510 mm", 510},
		{corner, "start 1 = S1 = 510 mm", 510},
		{corner, "L = l1 + l2 − E1 − E2 = 600 mm + 1000 mm − 30 mm − 54 mm = 1516 mm", 1516},
		{double, "S1 = l1 − X / 2 − E1 − T(45°) = 350 mm − 129.7 mm / 2 − 30 mm − 24.85 mm = 230.3 mm", 230.3},
		{double, "saddle 1 = v1 − r1 = 135 mm − 100 mm = 35 mm", 35},
	} {
		symbol, _, _ := strings.Cut(c.line, " = ")
		if got := c.steps[symbol]; got.Line() != c.line {
			t.Errorf("%s, want %s", got.Line(), c.line)
		}
		near(t, c.line, c.steps[symbol].Value, c.value, 0.05)
	}
	near(t, "L of the double set", double["L"].Value, 673.1, 0.05)
}
