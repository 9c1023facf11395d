package route_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tubewright/factors/sum"
	"tubewright/route"
)

// TestCaptive: a steel tube between two boxes that other runs hold has one
// running coupler, on a straight clear of bends and saddles; the bill counts
// the same one. Its long thread takes a coupler of two of the longest threads
// of BS 4568 (15 mm for 20 mm, read) and a locknut of 5 mm: 35 mm.
func TestCaptive(t *testing.T) {
	for _, path := range []string{"right 2", "right 0.4, up 2, left 0.5", "right 1, set 60 mm up, right 1", "right 9", "right 2, up 2, right 2"} {
		j := heldJob(t, "steel conduit 20", path, former80)
		s := j.SetOut(nil, 0)
		if len(s.Lacks) > 0 {
			t.Fatalf("%s: %+v", path, s.Lacks)
		}
		running, plain := 0.0, 0.0
		for i := range s.Pieces[:len(s.Pieces)-1] {
			switch p, next := s.Pieces[i], s.Pieces[i+1]; p.Ends[1] {
			case "coupler":
				plain++
			case "running coupler":
				running++
				if next.Ends[0] != "running coupler" || p.RunningMM != 35 || p.To != next.From {
					t.Errorf("%s: %+v then %+v", path, p, next)
				}
				clearOfAll(t, path, s, p.To)
			}
		}
		if running != 1 {
			t.Errorf("%s: %v running couplers in %+v", path, running, s.Pieces)
		}
		want := map[string]float64{"running coupler with locknut, steel conduit 20 mm": 1, "coupler, steel conduit 20 mm": plain}
		for _, it := range j.Bill() {
			share := 0.0 // of the run itself: the runs at its ends have couplers to enter by
			if k := slices.Index(it.Runs, j.Runs[0].Name); k >= 0 {
				share = it.Shares[k]
			}
			if n, ok := want[it.Name]; ok && share != n {
				t.Errorf("%s: bill has %v %s, the set-out %v", path, share, it.Name, n)
			}
		}
	}
}

// TestCaptiveSaddles: no saddle stands within what any joint takes: a running
// coupler its long thread before it and half of the coupler after it, a plain
// one half either way. Where a straight has no room the set-out says so.
func TestCaptiveSaddles(t *testing.T) {
	ran := 0
	rapid.Check(t, func(t *rapid.T) {
		legs := rapid.SampledFrom([]string{"right %d mm", "right %d mm, double set 40 mm, right %d mm", "right %d mm, set 40 mm out, right %d mm, set 40 mm in, right %d mm", "right %d mm, up %d mm", "right %d mm, up %d mm, left %d mm"}).Draw(t, "path")
		args := make([]any, strings.Count(legs, "%d"))
		for i := range args {
			args[i] = rapid.IntRange(150, 5000).Draw(t, "mm")
			if rapid.Bool().Draw(t, "short") {
				args[i] = rapid.IntRange(150, 500).Draw(t, "short mm")
			}
		}
		size := rapid.SampledFrom([]string{"20", "25", "32"}).Draw(t, "size")
		more := "tools: {formers: {20: 60 mm, 25: 80 mm, 32: 100 mm}, threads: {20: " + strconv.Itoa(rapid.IntRange(12, 18).Draw(t, "thread")) + " mm}}\n"
		s := heldJob(t, "steel conduit "+size, fmt.Sprintf(legs, args...), more).SetOut(nil, 0)
		if len(s.Lacks) > 0 {
			return
		}
		ran++
		for i, p := range s.Pieces {
			for _, d := range s.Saddles {
				if d.At < s.Ends[0].ThreadMM || d.At > s.LengthMM-s.Ends[1].ThreadMM {
					t.Fatalf("saddle at %v in a spout of %v", d.At, s.LengthMM)
				}
				before, after := s.ThreadMM, s.ThreadMM
				if p.RunningMM > 0 {
					before = p.RunningMM
				}
				if i < len(s.Pieces)-1 && d.At > p.To-before-s.ODMM/2 && d.At < p.To+after+s.ODMM/2 {
					t.Fatalf("saddle at %v, joint %q at %v", d.At, p.Ends[1], p.To)
				}
			}
		}
		if len(s.Saddles) == 0 && len(s.Advice) == 0 {
			t.Fatal("no saddle at all, and nothing said")
		}
	})
	if ran == 0 {
		t.Error("no run could be made")
	}
}

// TestCaptiveCases: a short captive run's saddle stands beside the running
// coupler; the thread that the job states runs through to the long thread.
// By hand, thread 14 mm: half of the coupler is the table's longest, 15 mm, and
// Y = 2 × 15 + 5 = 35, so that the coupler at 100 mm takes from 65 to 115; thread
// 18 mm: Y = 2 × 18 + 5 = 41.
func TestCaptiveCases(t *testing.T) {
	for thread, want := range map[string]float64{"14": 35, "18": 41} {
		s := heldJob(t, "steel conduit 20", "right 0.35, double set 40 mm, right 0.35", "tools: {formers: {20: 60 mm}, threads: {20: "+thread+" mm}, faces: {box: 30 mm}}\n").SetOut(nil, 0)
		if len(s.Pieces) != 2 || s.Pieces[0].RunningMM != want {
			t.Fatalf("thread %s mm: %+v", thread, s.Pieces)
		}
		if at := s.Saddles[0].At; len(s.Saddles) != 2 || at > 90-want && at < 125 { // and half of a saddle either side
			t.Errorf("thread %s mm: %+v", thread, s.Saddles)
		}
	}
}

// clearOfAll holds a running coupler to standing 50 mm clear of bends; one with
// a cut of its own stands clear of saddles too.
func clearOfAll(t *testing.T, path string, s route.SetOut, at float64) {
	t.Helper()
	for _, part := range s.Parts {
		if part.Kind == route.BendPart && at > part.From-50+1e-6 && at < part.To+50-1e-6 {
			t.Errorf("%s: running coupler at %v, a bend from %v to %v", path, at, part.From, part.To)
		}
	}
	for _, d := range s.Saddles {
		if len(s.Pieces) == 2 && math.Abs(d.At-at) < 40 {
			t.Errorf("%s: running coupler at %v, saddle at %v", path, at, d.At)
		}
	}
}

// TestNotCaptive: an end that can be turned, or an entry that is not screwed
// home, needs no running coupler; plastic never does.
func TestNotCaptive(t *testing.T) {
	for name, j := range map[string]*route.Job{
		"board and box":  oneRun(t, "steel conduit 20", "right 2", ""),
		"plastic":        heldJob(t, "plastic conduit 20", "right 2", ""),
		"adaptable box":  heldJob(t, "steel conduit 20", "right 2", "  E: {from: b, to: d, in: steel conduit 20, path: right 1}\n  F: {from: b, to: d, in: steel conduit 20, path: right 1}\n  G: {from: b, to: d, in: steel conduit 20, path: right 1}\n"),
		"female bushing": oneRun(t, "steel conduit 20", "right 2", "choices: {bushes: female}\n"),
	} {
		for _, p := range j.SetOut(nil, 0).Pieces {
			if slices.Contains(p.Ends[:], "running coupler") || p.RunningMM != 0 {
				t.Errorf("%s: %+v", name, p)
			}
		}
	}
}

// TestCaptiveThreadStated: the job states its running thread; too short a tube
// for one is said.
func TestCaptiveThreadStated(t *testing.T) {
	s := heldJob(t, "steel conduit 20", "right 2", "tools: {running threads: {20: 42 mm}}\n").SetOut(nil, 0)
	if len(s.Pieces) != 2 || s.Pieces[0].RunningMM != 42 {
		t.Errorf("%+v", s.Pieces)
	}
	s = heldJob(t, "steel conduit 20", "right 0.2", "").SetOut(nil, 0)
	if len(s.Lacks) != 1 || !strings.Contains(s.Lacks[0].What, "running coupler") || !strings.Contains(s.Lacks[0].Instead, "leave one box loose") || s.Lacks[0].Value >= s.Lacks[0].Limit {
		t.Errorf("%+v", s.Lacks)
	}
}

// TestEntries: how a tube enters a place, and how far its end stays off the
// centre, worked by hand from the tables: thread 13 mm, round box 32, accessory
// 37.5, adaptable box 50; a coupler on the face stands two threads, less the
// one that it takes; a female bush lets the thread pass the face.
func TestEntries(t *testing.T) {
	job := func(more string) string {
		return "job: e\nplaces: {a: {is: board}, b: {is: box}, s: {is: socket}}\n" + more +
			"runs:\n  A: {from: a, to: b, in: steel conduit 20, path: right 2}\n  B: {from: b, to: s, in: steel conduit 20, path: right 2}\n"
	}
	many := "  C: {from: b, to: s, in: steel conduit 20, length: 2 m}\n  D: {from: b, to: s, in: steel conduit 20, length: 2 m}\n  E: {from: b, to: s, in: steel conduit 20, length: 2 m}\n"
	for _, tt := range []struct {
		name, text string
		run, end   int
		entry      string
		off        float64
	}{
		{"board", job(""), 0, 0, "coupler and male bush", 13},
		{"round box", job(""), 0, 1, "spout", 32},
		{"socket", job(""), 1, 1, "coupler and male bush", 37.5 + 13},
		{"a reducer in the spout of the larger size: 32 + 16 − 13", strings.Replace(job(""), "b, in: steel conduit 20", "b, in: steel conduit 25", 1), 1, 0, "reducer", 35},
		{"no reducer for the larger", strings.Replace(job(""), "b, in: steel conduit 20", "b, in: steel conduit 25", 1), 0, 1, "spout", 32},
		{"a reducer, the thread stated", strings.Replace(job("tools: {threads: {25: 20 mm}}\n"), "b, in: steel conduit 20", "b, in: steel conduit 25", 1), 1, 0, "reducer", 32 + 20 - 13},
		{"a box of five conduits", job("") + many, 0, 1, "coupler and male bush", 50 + 13},
		{"female bush, board", job("choices: {bushes: female}\n"), 0, 0, "lock-rings and female bush", -13},
		{"female bush, socket", job("choices: {bushes: female}\n"), 1, 1, "lock-rings and female bush", 37.5 - 13},
		{"a face that the job states", job("tools: {faces: {box: 40 mm}}\n"), 0, 1, "spout", 40},
		{"a thread that the job states", job("tools: {threads: {20: 14 mm}}\n"), 0, 0, "coupler and male bush", 14},
		{"plastic", strings.ReplaceAll(job(""), "steel", "plastic"), 1, 1, "adaptor", 37.5 + 20},
		{"plastic, a socket that the job states", strings.ReplaceAll(job("tools: {threads: {plastic conduit 20: 25 mm}}\n"), "in: steel", "in: plastic"), 1, 1, "adaptor", 37.5 + 25},
	} {
		j, err := route.Parse("e.yaml", []byte(tt.text))
		if err != nil {
			t.Fatal(err)
		}
		w := &sum.Work{}
		e := j.SetOut(w, tt.run).Ends[tt.end]
		if e.Entry != tt.entry || math.Abs(e.SetbackMM()-tt.off) > 1e-9 {
			t.Errorf("%s: %+v, %v mm off the centre, want %s and %v", tt.name, e, e.SetbackMM(), tt.entry, tt.off)
		}
		text := ""
		for _, step := range w.Steps {
			text += step.String() + "\n"
		}
		if !strings.Contains(text, "common practice") && !strings.Contains(text, "as the job states") && !strings.Contains(text, "BS 4568") {
			t.Errorf("%s: no source in\n%s", tt.name, text)
		}
	}
}

// TestSetSums: lengths of a rolled set and of a bubble set stand as formulas
// with numbers. By hand, R = 80 mm: √(30² + 40²) = 50; Hc = 90 + 80(1/cos 22.5° −
// 1) = 96.59; D = 96.59 / sin 22.5° = 252.4; S = 252.4 − 15.91 − 33.14 = 203.4;
// M = 203.4 + 31.42 = 234.8.
func TestSetSums(t *testing.T) {
	for path, want := range map[string][]string{
		"right 2, set 30 mm up and 40 mm out, right 2": {"H = √(rise² + roll²) = √((30 mm)² + (40 mm)²) = 50 mm", "tan ρ = roll / rise = 40 mm / 30 mm = 1.333", "ρ = 53.13°"},
		"right 2, bubble set 90 mm up, right 2": {"Hc = H + R × (1 / cos 22.5° − 1) = 90 mm + 80 mm × (1 / 0.9239 − 1) = 96.59 mm",
			"D = Hc / sin 22.5° = 96.59 mm / 0.3827 = 252.4 mm", "S = D − T(22.5°) − T(45°) = 252.4 mm − 15.91 mm − 33.14 mm = 203.4 mm",
			"M = S + A(22.5°) = 203.4 mm + 31.42 mm = 234.8 mm", "M2 = S + A(45°)", "Hmin3(22.5°) = R × ((tan 11.25° + tan 22.5°) × sin 22.5° − (1 / cos 22.5° − 1))", "k = 2 × Hc × tan 11.25° − gb"},
		"right 2, double set 60 mm up at 30, right 2": {"2k = 2 × k"},
	} {
		w := &sum.Work{}
		oneRun(t, "steel conduit 20", path, former80).SetOut(w, 0)
		text := ""
		for _, step := range w.Steps {
			text += step.Line() + "\n"
		}
		for _, line := range want {
			if !strings.Contains(text, line) {
				t.Errorf("%s: no %q in\n%s", path, line, text)
			}
		}
	}
}

// TestShrink: what a set takes of the tube beyond the straight way is what the
// tube is longer by, whatever the set.
func TestShrink(t *testing.T) {
	plain := oneRun(t, "steel conduit 20", "right 4", former80).SetOut(nil, 0).LengthMM
	for _, set := range []string{"set 60 mm up", "set 60 mm up and 30 mm out at 37", "double set 70 mm up at 30", "bubble set 90 mm up", "bubble set 90 mm up at 30", "bubble set 60 mm up over 100 mm"} {
		s := oneRun(t, "steel conduit 20", "right 2, "+set+", right 2", former80).SetOut(nil, 0)
		near(t, set, s.LengthMM-plain, s.Sets[0].Marks.Shrink, 1e-6)
	}
}

// TestSettledAngle: a set whose path leaves the angle open has one angle, in
// the walk and in the set-out, and counts for drawing in with no less than the
// usual one.
func TestSettledAngle(t *testing.T) {
	for _, tt := range []struct {
		path, more     string
		angle, counted float64
	}{
		{"right 2, set 60 mm up, right 2", former80, 45, 90},
		{"right 2, set 40 mm up, right 2", former80, 30, 90},
		{"right 2, set 40 mm up at 30, right 2", former80, 30, 60},
		{"right 2, set 40 mm up, right 2", "tools: {formers: {20: 60 mm}}\n", 45, 90},
		{"right 2, set 40 mm up, right 2", "tools: {trial bend: {20: {cut: 500 mm, legs: [300 mm, 262 mm]}}}\n", 30, 90},
		{"right 2, bubble set 40 mm up, right 2", former80, 22.5, 90},
		{"right 2, bubble set 8 mm up, right 2", former80, 15, 90},
		{"right 2, set 1 mm up, right 2", former80, 5, 90},
	} {
		// The tools stand after the runs in one job, before them in the other.
		for _, text := range []string{"job: s\n%R%T", "job: s\n%T%R"} {
			run := "runs:\n  A: {in: steel conduit 20, path: \"" + tt.path + "\"}\n"
			j, err := route.Parse("s.yaml", []byte(strings.NewReplacer("%R", run, "%T", tt.more).Replace(text)))
			if err != nil {
				t.Fatal(err)
			}
			r := &j.Runs[0]
			s := j.SetOut(nil, 0)
			near(t, tt.path+": angle", float64(s.Sets[0].Angle), tt.angle, 1e-9)
			near(t, tt.path+": turned", r.Bends.Degrees, tt.counted, 1e-9)
			extra := s.Sets[0].DepthMM * math.Tan(tt.angle*math.Pi/360)
			if s.Sets[0].Bends > 2 {
				extra *= 2
			}
			near(t, tt.path+": way", float64(r.Length)*1000, 4000+extra, 1e-6)
		}
	}
}
