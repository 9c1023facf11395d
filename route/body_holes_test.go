package route_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"tubewright/route"
)

// holesOf are the pieces of a run's body with their holes, in mm from each
// piece's first end.
func holesOf(j *route.Job, run int) (out []string) {
	s := j.SetOut(nil, run)
	for i, p := range s.Pieces {
		text := fmt.Sprintf("%s %.0f", p.Name, p.Long())
		for _, r := range s.RunsIn(i) {
			text += " " + j.Runs[r].Name
		}
		for _, h := range s.HolesIn(i) {
			text += fmt.Sprintf(", %s %.0f %s %s", j.Runs[h.Run].Name, h.At, h.Way, h.On)
		}
		out = append(out, strings.TrimSpace(text))
	}
	return out
}

// TestHoles: where the holes of entries lie, by hand: the fitting of a corner
// takes 50 mm of either side. A joint of two lengths keeps 50 mm from the edge of
// a hole where no more lengths are needed for it.
func TestHoles(t *testing.T) {
	const trunks = "job: t\nplaces: {DB: {is: board}, e1: {is: entry}, e2: {is: entry}, e3: {is: entry}, s: {is: socket}, u: {is: socket}}\nruns:\n"
	run := func(name, from, to, in, path string) string {
		return fmt.Sprintf("  %s: {from: %s, to: %s, in: %s, path: %q}\n", name, from, to, in, path)
	}
	trunk := func(name, from, to, path string) string { return run(name, from, to, "steel trunking 50x50", path) }
	for name, c := range map[string]struct {
		runs   string
		want   []string
		advice string
	}{
		"on a straight": {trunk("T1", "DB", "e1", "right 1.5") + trunk("T2", "e2", "e1", "left 1.4") + run("A", "e1", "s", "steel conduit 20", "down 1") + run("B", "u", "e2", "steel conduit 25", "down 1"),
			[]string{"T1/1 2900 T1 T2, A 1500 down , B 2900 up"}, ""},
		"past a corner": {trunk("T1", "DB", "e1", "up 1, right 0.8") + trunk("T2", "e1", "e2", "right 1") + run("A", "e1", "s", "steel conduit 20", "down 1"),
			[]string{"T1/1 950 T1", "T1/2 1750 T1 T2, A 750 down"}, ""},
		"on the bend": {trunk("T1", "DB", "e1", "up 1") + trunk("T2", "e1", "e2", "right 1") + run("A", "e1", "s", "steel conduit 20", "left 1"),
			[]string{"T1/1 950 T1, A 950 left flat bend", "T1/2 950 T2"}, ""},
		"out of the end": {trunk("T1", "DB", "e1", "right 1") + run("A", "e1", "s", "steel conduit 20", "right 1"),
			[]string{"T1/1 1000 T1, A 1000 right stop end"}, ""},
		"near a joint": {trunk("T1", "DB", "e1", "right 3.02") + trunk("T2", "e1", "e2", "right 2") + run("A", "e1", "s", "steel conduit 20", "down 1"),
			[]string{"T1/1 2960 T1", "T1/2 2060 T1 T2, A 60 down"}, ""}, // 3020 − 10 − 50
		"near a joint that must stay": {trunk("T1", "DB", "e1", "right 3.02") + trunk("T2", "e1", "e2", "right 2.98") + run("A", "e1", "s", "steel conduit 20", "down 1"),
			[]string{"T1/1 3000 T1", "T1/2 3000 T1 T2, A 20 down"}, "3000 mm from the first end is 20 mm from the middle of the hole for run A at entry e1"},
		"in a tee": {trunk("T1", "DB", "e1", "right 1") + trunk("T2", "e1", "e2", "right 1") + trunk("T3", "e1", "e3", "down 1") + run("A", "e1", "s", "steel conduit 20", "up 1"),
			[]string{"T1/1 950 T1, A 950 up flat tee"}, ""},
	} {
		j, err := route.Parse("h.yaml", []byte(trunks+c.runs))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if diff := cmp.Diff(c.want, holesOf(j, 0)); diff != "" {
			t.Errorf("%s:\n%s", name, diff)
		}
		if said := strings.Join(j.SetOut(nil, 0).Advice, "; "); c.advice == "" && said != "" || !strings.Contains(said, c.advice) {
			t.Errorf("%s: advice %q, want %q", name, said, c.advice)
		}
	}
}

// TestAlongTrunking: a conduit that leaves an entry along a trunking there would
// run inside it; square to it, or out of its end, it may leave.
func TestAlongTrunking(t *testing.T) {
	for path, bad := range map[string]string{"left 0.5, down 1": "T1", "right 0.5, down 1": "T2", "down 1": "", "up 1": "", "out 1": "", "in 1": ""} {
		for _, home := range []bool{false, true} {
			a := fmt.Sprintf("{from: e1, to: s, in: steel conduit 20, path: %q}", path)
			if home {
				words := strings.Split(path, ", ")
				for i := range words {
					w, mm, _ := strings.Cut(words[i], " ")
					words[i] = turnsBack[w] + " " + mm
				}
				if len(words) == 2 {
					words[0], words[1] = words[1], words[0]
				}
				a = fmt.Sprintf("{from: s, to: e1, in: steel conduit 20, path: %q}", strings.Join(words, ", "))
			}
			j, err := route.Parse("a.yaml", []byte("job: t\nplaces: {DB: {is: board}, e1: {is: entry}, e2: {is: entry}, s: {is: socket}}\nruns:\n  T1: {from: DB, to: e1, in: steel trunking 50x50, path: right 1}\n  T2: {from: e1, to: e2, in: steel trunking 50x50, path: right 1}\n  A: "+a+"\n"))
			if err != nil {
				t.Fatal(err)
			}
			said := ""
			for _, l := range j.SetOut(nil, 2).Lacks {
				said += l.What + "; " + l.Instead
			}
			if bad == "" && said != "" || bad != "" && !(strings.Contains(said, "run A leaves entry e1 along trunking "+bad) && strings.Contains(said, "square to the trunking")) {
				t.Errorf("%s, home %t: %q", path, home, said)
			}
		}
	}
}

// TestLoopOfTrunking: a loop through entries is one body from the place where its
// first run starts, and joined there.
func TestLoopOfTrunking(t *testing.T) {
	for name, c := range map[string]struct {
		runs  []string
		bends float64
		order string
	}{
		"four":       {[]string{"e0 e1 right 2", "e1 e2 up 2", "e2 e3 left 2", "e3 e0 down 2"}, 4, "T0 T1 T2 T3"},
		"drawn home": {[]string{"e0 e1 right 2", "e2 e1 down 2", "e3 e2 right 2", "e3 e0 down 2"}, 4, "T0 T1 T2 T3"},
		"two":        {[]string{"e0 e1 right 2, up 2", "e0 e1 up 2, right 2"}, 4, "T0 T1"},
	} {
		job := "job: t\nplaces: {e0: {is: entry}, e1: {is: entry}, e2: {is: entry}, e3: {is: entry}}\nruns:\n"
		for i, r := range c.runs {
			f := strings.SplitN(r, " ", 3)
			job += fmt.Sprintf("  T%d: {from: %s, to: %s, in: steel trunking 50x50, path: %q}\n", i, f[0], f[1], f[2])
		}
		j, err := route.Parse("l.yaml", []byte(job))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		var order []string
		for _, b := range j.SetOut(nil, 1).Body {
			order = append(order, j.Runs[b.Run].Name)
		}
		want := map[string]float64{"metres": 8, "lengths": 4, "flat bend": c.bends, "coupler with earth link": 2 * c.bends, "lid fixing": 8, "trunking fixing point": 8, "screws": 16}
		if diff := cmp.Diff(want, trunkingBill(j)); diff != "" || strings.Join(order, " ") != c.order {
			t.Errorf("%s: %v\n%s", name, order, diff)
		}
	}
}
