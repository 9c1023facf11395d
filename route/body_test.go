package route_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tubewright/route"
)

// trunkingBill is what a bill orders and counts of trunking; screws are those
// of its fixings.
func trunkingBill(j *route.Job) map[string]float64 {
	n := map[string]float64{}
	for _, it := range j.Bill() {
		switch {
		case strings.HasSuffix(it.Name, " with lid"):
			n["metres"] += it.Net
			n["lengths"] += it.Packs
		case it.Group == "trunking" || strings.HasPrefix(it.Name, "trunking fixing point"):
			name, _, _ := strings.Cut(it.Name, ", ")
			n[name] += it.Net
		case it.Name == "screw and plug":
			for k, r := range it.Runs {
				if r[0] == 'T' {
					n["screws"] += it.Shares[k]
				}
			}
		}
	}
	for name := range n {
		n[name] = math.Round(n[name]*1e3) / 1e3 // shares are rounded
	}
	return n
}

// TestEntriesPartNoLength: an entry is a hole in the side of a trunking. Counted
// by hand: of 3 m straight, one length, uncut; of 8 m with a corner and six
// entries, pieces of 1150, 3000, 3000 and 750 mm, so three lengths, two joints
// and the two sides of a bend, fixings on 1150 mm upright (two) and on 6750 mm
// level (four spaces of at most 1750 mm between the end ones).
func TestEntriesPartNoLength(t *testing.T) {
	for name, c := range map[string]struct {
		job  string
		want map[string]float64
	}{
		"straight": {`job: entry trap
supply: {voltage: 230 V}
places: {DB: {is: board}, e1: {is: entry}, e2: {is: entry}, s1: {is: socket}, s2: {is: socket}}
runs:
  T1: {from: DB, to: e1, in: steel trunking 50x50, path: right 1.5}
  T2: {from: e1, to: e2, in: steel trunking 50x50, path: right 1.5}
  A: {from: e1, to: s1, in: steel conduit 20, path: "down 0.5, left 0.5"}
  B: {from: e2, to: s2, in: steel conduit 20, path: "down 1.0"}
circuits:
  k: {device: B16, cable: 2.5, arrangement: radial, points: [s1, s2]}
`, map[string]float64{"metres": 3, "lengths": 1, "lid fixing": 2, "flanged connector": 1, "stop end": 1, "trunking fixing point": 3, "screws": 6}},
		"corner and six entries": {`job: wall of a workshop
places: {DB: {is: board}, e1: {is: entry}, e2: {is: entry}, e3: {is: entry}, e4: {is: entry}, e5: {is: entry}, e6: {is: entry}, s1: {is: socket}, s2: {is: socket}}
runs:
  T1: {from: DB, to: e1, in: steel trunking 50x50, path: "up 1.2, right 0.8"}
  T2: {from: e1, to: e2, in: steel trunking 50x50, path: right 1.0}
  T3: {from: e3, to: e2, in: steel trunking 50x50, path: left 1.3}
  T4: {from: e3, to: e4, in: steel trunking 50x50, path: right 1.1}
  T5: {from: e4, to: e5, in: steel trunking 50x50, path: right 1.2}
  T6: {from: e5, to: e6, in: steel trunking 50x50, path: right 1.4}
  A: {from: e2, to: s1, in: steel conduit 20, path: down 1.0}
  B: {from: e5, to: s2, in: steel conduit 25, path: down 1.0}
`, map[string]float64{"metres": 8, "lengths": 3, "coupler with earth link": 4, "lid fixing": 8, "flat bend": 1, "flanged connector": 1, "stop end": 1, "trunking fixing point": 7, "screws": 14}},
		"not drawn": {`job: q
places: {DB: {is: board}, e1: {is: entry}, e2: {is: entry}}
runs:
  T1: {from: DB, to: e1, in: plastic trunking 50x50, length: 1.4 m, bends: 1}
  T2: {from: e1, to: e2, in: plastic trunking 50x50, length: 1.5 m}
`, map[string]float64{"metres": 2.9, "lengths": 2, "coupler": 2, "lid fixing": 2, "bend (flat": 1, "flanged connector": 1, "stop end": 1, "trunking fixing point": 4, "screws": 8}},
		"three at an entry": {`job: t
places: {DB: {is: board}, e1: {is: entry}, e2: {is: entry}, e3: {is: entry}}
runs:
  T1: {from: DB, to: e1, in: steel trunking 50x50, path: right 1.0}
  T2: {from: e1, to: e2, in: steel trunking 50x50, path: right 1.0}
  T3: {from: e1, to: e3, in: steel trunking 50x50, path: up 1.0}
`, map[string]float64{"metres": 3, "lengths": 1, "coupler with earth link": 3, "flat tee": 1, "lid fixing": 6, "flanged connector": 1, "stop end": 2, "trunking fixing point": 6, "screws": 12}},
		"a box parts": {`job: t
places: {DB: {is: board}, b: {is: box}, e2: {is: entry}}
runs:
  T1: {from: DB, to: b, in: steel trunking 50x50, path: right 1.5}
  T2: {from: b, to: e2, in: steel trunking 50x50, path: right 1.4}
`, map[string]float64{"metres": 2.9, "lengths": 1, "coupler with earth link": 1, "lid fixing": 4, "flanged connector": 1, "stop end": 1, "trunking fixing point": 4, "screws": 8}},
	} {
		j, err := route.Parse("b.yaml", []byte(c.job))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if diff := cmp.Diff(c.want, trunkingBill(j)); diff != "" {
			t.Errorf("%s:\n%s", name, diff)
		}
	}
}

// TestSplitByEntries: entries at random points of a trunking change neither what
// is bought nor how it is cut, whichever way its parts are drawn. A loop of such
// parts ends.
func TestSplitByEntries(t *testing.T) {
	back := map[string]string{"right": "left", "left": "right", "up": "down", "down": "up"}
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.SampledFrom([]string{"steel trunking 50x50", "steel trunking 100x50", "plastic trunking 50x50, bends: formed"}).Draw(t, "in")
		word, split := "right", 0
		var whole, there, home []string
		var parts [2][][]string // the legs of each part, drawn there and home
		for i := range rapid.IntRange(1, 4).Draw(t, "legs") {
			mm := rapid.IntRange(700, 6500).Draw(t, "mm")
			whole = append(whole, fmt.Sprintf("%s %d mm", word, mm))
			for rapid.Bool().Draw(t, "entry") && mm > 600 {
				here := rapid.IntRange(250, mm-250).Draw(t, "at")
				there, home = append(there, fmt.Sprintf("%s %d mm", word, here)), append([]string{fmt.Sprintf("%s %d mm", back[word], here)}, home...)
				parts[0], parts[1] = append(parts[0], there), append(parts[1], home)
				there, home = nil, nil
				mm -= here
				split++
			}
			there, home = append(there, fmt.Sprintf("%s %d mm", word, mm)), append([]string{fmt.Sprintf("%s %d mm", back[word], mm)}, home...)
			if rapid.IntRange(0, 4).Draw(t, "at the corner") == 0 && i < 3 {
				parts[0], parts[1] = append(parts[0], there), append(parts[1], home)
				there, home = nil, nil
			}
			word = map[string]string{"right": rapid.SampledFrom([]string{"up", "down"}).Draw(t, "turn"), "up": "right", "down": "right"}[word]
		}
		if there != nil {
			parts[0], parts[1] = append(parts[0], there), append(parts[1], home)
		}
		n := len(parts[0])
		places, runs := []string{"e0: {is: board}"}, make([]string, n)
		for i := range n {
			places = append(places, fmt.Sprintf("e%d: {is: entry}", i+1))
			runs[i] = fmt.Sprintf("  T%d: {from: e%d, to: e%d, in: %s, path: %q}\n", i, i, i+1, in, strings.Join(parts[0][i], ", "))
			if i > 0 && rapid.Bool().Draw(t, "drawn home") {
				runs[i] = fmt.Sprintf("  T%d: {from: e%d, to: e%d, in: %s, path: %q}\n", i, i+1, i, in, strings.Join(parts[1][i], ", "))
			}
		}
		head := "job: t\nplaces: {" + strings.Join(places, ", ") + "}\nruns:\n"
		one, err := route.Parse("one.yaml", []byte(fmt.Sprintf("job: t\nplaces: {e0: {is: board}, e%d: {is: entry}}\nruns:\n  T0: {from: e0, to: e%d, in: %s, path: %q}\n", n, n, in, strings.Join(whole, ", "))))
		if err != nil {
			t.Fatal(err)
		}
		many, err := route.Parse("many.yaml", []byte(head+strings.Join(runs, "")))
		if err != nil {
			t.Fatalf("%v\n%s", err, head+strings.Join(runs, ""))
		}
		if diff := cmp.Diff(trunkingBill(one), trunkingBill(many)); diff != "" {
			t.Fatalf("%s\n%s%s", diff, head, strings.Join(runs, ""))
		}
		if diff := cmp.Diff(cutLengths(t, one), cutLengths(t, many)); diff != "" {
			t.Fatalf("%s\n%s%s", diff, head, strings.Join(runs, ""))
		}
	})
}

// cutLengths are the pieces on the cut lists of a job.
func cutLengths(t fataler, j *route.Job) (mm []int) {
	lists, err := j.CutLists()
	if err != nil {
		t.Fatalf("%v", err)
	}
	for _, l := range lists {
		for _, p := range l.Pieces {
			mm = append(mm, p.LongMM)
		}
	}
	return mm
}
