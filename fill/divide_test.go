package fill_test

import (
	"fmt"
	"regexp"
	"strconv"
	"testing"

	"tubewright/fill"
	"tubewright/route"

	"pgregory.net/rapid"
)

func answered(t interface{ Fatalf(string, ...any) }, q route.QuickAsk) *fill.Answer {
	j, err := route.Quick(q)
	if err != nil {
		t.Fatalf("%+v\n%v", q, err)
	}
	return fill.Ask(j)
}

// TestDividedPull holds a pull past the table against the guide's cells.
//
// Source: IET On-Site Guide, Tables E3 (2.5: 30, 1.5: 22, 4: 43) and E4 (25 mm:
// 1 bend and 3 m 487; 32 mm: 2 bends and 4 m 692; 25 mm: 2 bends and 4 m 388,
// which is too little), read.
func TestDividedPull(t *testing.T) {
	a := answered(t, route.QuickAsk{In: "plastic conduit 25", Length: "8", Bends: "3", Cables: []string{"6 x 2.5, 4 x 1.5, 3 x 4"}})
	const want = "no factor here: with 3 bends the guide's table ends at 5 m, whatever the tube: " +
		"2 draw-in boxes, so that no part is longer than 2.667 m or has more than 1 bend (397 of 487); or " +
		"a draw-in box and plastic conduit 32, so that no part is longer than 4 m or has more than 2 bends (397 of 692)"
	if a.Space.Reason != want {
		t.Errorf("%s\nwant %s", a.Space.Reason, want)
	}
}

var (
	boxAdvice  = regexp.MustCompile(`^(a|\d+) draw-in box(?:es)?(?: and ((?:steel|plastic) conduit \d+))?, so that no part is longer than ([\d.]+) m(?: or has more than (\d+) bends?| and none has a bend)(?: \((\S+) of (\S+)\))?$`)
	tubeAdvice = regexp.MustCompile(`^((?:steel|plastic) conduit \d+) \((\S+)\)$`)
	runsAdvice = regexp.MustCompile(`divide the cables between (\d+) runs of ((?:steel|plastic) (?:conduit|trunking) [\dx]+), of`)
)

// TestAdviceHolds follows every advice about a run that does not hold its
// cables, and asks again.
func TestAdviceHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := route.QuickAsk{
			In:     rapid.SampledFrom([]string{"steel conduit 16", "steel conduit 20", "plastic conduit 25", "steel conduit 32", "plastic conduit 50", "steel trunking 50x50"}).Draw(t, "in"),
			Length: strconv.FormatFloat(float64(rapid.IntRange(1, 400).Draw(t, "decimetres"))/10, 'f', -1, 64),
			Bends:  strconv.Itoa(rapid.IntRange(0, 12).Draw(t, "bends")),
		}
		count, size := rapid.IntRange(1, 60).Draw(t, "count"), rapid.SampledFrom([]string{"1", "1.5", "2.5", "4", "10", "2.5 twin and earth"}).Draw(t, "size")
		q.Cables = []string{fmt.Sprintf("%d x %s", count, size)}
		f := answered(t, q).Space
		if f.Verdict != fill.Fail {
			return
		}
		for _, advice := range f.Instead {
			follow(t, q, advice)
		}
		if m := runsAdvice.FindStringSubmatch(f.Reason); m != nil {
			n, _ := strconv.Atoi(m[1])
			q.In, q.Cables = m[2], []string{fmt.Sprintf("%d x %s", (count+n-1)/n, size)}
			if a := answered(t, q); a.Space.Verdict == fill.Fail {
				t.Fatalf("%q, followed: %+v\n%s", f.Reason, q, a.Space.Reason)
			}
		}
	})
}

// follow asks for what the advice says, in every part that it allows.
func follow(t *rapid.T, q route.QuickAsk, advice string) {
	if m := tubeAdvice.FindStringSubmatch(advice); m != nil {
		q.In = m[1]
		passes(t, q, advice)
		return
	}
	m := boxAdvice.FindStringSubmatch(advice)
	if m == nil {
		if q.In == "steel trunking 50x50" {
			return // a size alone; its table is asked elsewhere
		}
		t.Fatalf("advice of another form: %q", advice)
	}
	boxes, _ := strconv.Atoi(m[1])
	boxes = max(1, boxes)
	length, _ := strconv.ParseFloat(m[3], 64)
	most, _ := strconv.Atoi(m[4])
	all, _ := strconv.ParseFloat(q.Length, 64)
	bends, _ := strconv.Atoi(q.Bends)
	if float64(boxes+1)*length < all-1e-9 || (boxes+1)*most < bends {
		t.Fatalf("%q does not cover %s m and %s bends", advice, q.Length, q.Bends)
	}
	if m[2] != "" {
		q.In = m[2]
	}
	for part := range most + 1 {
		q.Bends = strconv.Itoa(part)
		q.Length = m[3]
		passes(t, q, advice)
		q.Length = strconv.FormatFloat(length*rapid.Float64Range(0.05, 1).Draw(t, "shorter"), 'f', 4, 64)
		passes(t, q, advice)
	}
}

func passes(t *rapid.T, q route.QuickAsk, advice string) {
	if a := answered(t, q); a.Space.Verdict == fill.Fail {
		t.Fatalf("%q, followed: %+v\n%s", advice, q, a.Space.Reason)
	}
}

// TestDrawInAdviceHolds follows the advice of draw-in likewise.
func TestDrawInAdviceHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := func(length float64, bends int) *fill.Report {
			j, err := route.Parse("x", fmt.Appendf(nil, "job: x\nruns: {A: {in: steel conduit 20, length: %.3f m, bends: %d}}", length, bends))
			if err != nil {
				t.Fatalf("%v", err)
			}
			return fill.Check(j)
		}
		f := of(t, job(float64(rapid.IntRange(1, 600).Draw(t, "decimetres"))/10, rapid.IntRange(0, 20).Draw(t, "bends")), "draw-in", "run A")
		if f.Verdict != fill.Fail {
			return
		}
		m := regexp.MustCompile(`no part is longer than ([\d.]+) m(?: or has more than (\d+) bend)?`).FindStringSubmatch(f.Reason)
		if m == nil {
			t.Fatalf("no advice: %s", f.Reason)
		}
		length, _ := strconv.ParseFloat(m[1], 64)
		bends, _ := strconv.Atoi(m[2])
		if g := of(t, job(length, bends), "draw-in", "run A"); g.Verdict != fill.Pass {
			t.Fatalf("%s\nfollowed: %s", f.Reason, g.Reason)
		}
	})
}
