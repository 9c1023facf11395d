package render

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tubewright/factors"
	"tubewright/route"
)

// Labels never overlap, never leave the area and never lie on a line.
func TestLabelsKeepClear(t *testing.T) {
	area := rect{0, 0, 120, 80}
	rapid.Check(t, func(t *rapid.T) {
		l := newLabeller(area)
		coord := rapid.Float64Range(0, 120)
		line := []float64{coord.Draw(t, "x0"), coord.Draw(t, "y0"), coord.Draw(t, "x1"), coord.Draw(t, "y1")}
		l.lines.takeLine(line, 0.5, 1)
		var boxes []rect
		for range rapid.IntRange(1, 60).Draw(t, "labels") {
			x, y := coord.Draw(t, "x"), rapid.Float64Range(0, 80).Draw(t, "y")
			w := rapid.Float64Range(2, 30).Draw(t, "wide")
			box, leader, ok := l.put(labelled{near: []rect{centred(x, y-3, w, 3), centred(x, y+3, w, 3)}, wide: w, high: 3, x: x, y: y, grave: rapid.Bool().Draw(t, "grave")})
			if !ok {
				continue
			}
			if !box.within(area) {
				t.Fatalf("%v leaves the area", box)
			}
			if _, _, hit := box.cutSegment(line[0], line[1], line[2], line[3]); hit {
				t.Fatalf("%v lies on the line", box)
			}
			for _, b := range boxes {
				if box.overlaps(b) {
					t.Fatalf("%v lies on %v", box, b)
				}
				if leader != nil {
					if _, _, hit := b.grown(-0.2).cutSegment(leader[0], leader[1], leader[2], leader[3]); hit && !b.grown(4).holds(x, y) {
						t.Fatalf("a leader crosses %v", b)
					}
				}
			}
			boxes = append(boxes, box)
		}
	})
}

// A tag beside its run is nearer to it than to any other.
func TestTagsAreNearestTheirOwn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := newLabeller(rect{0, 0, 100, 100})
		coord := rapid.Float64Range(5, 95)
		var runs [][]float64
		for i := range rapid.IntRange(2, 5).Draw(t, "runs") {
			xy := []float64{coord.Draw(t, "x0"), coord.Draw(t, "y0"), coord.Draw(t, "x1"), coord.Draw(t, "y1")}
			if rapid.Bool().Draw(t, "level") {
				xy[3] = xy[1]
			}
			runs = append(runs, xy)
			l.lines.takeLine(xy, W70+0.6, i+1)
		}
		for i, xy := range runs {
			for _, b := range l.ownFirst(besideRun(&pictureRun{xy: xy}, 9, 4, W70/2+tagGap), xy, i+1) {
				for k, other := range runs {
					if k == i {
						continue
					}
					if own, far := distance(b, xy), distance(b, other); far <= own {
						t.Fatalf("%v is %g from its run and %g from another", b, own, far)
					}
				}
			}
		}
	})
}

// distance is from a box to a line of two points, found by trying.
func distance(r rect, xy []float64) float64 {
	const steps = 300
	least := math.Inf(1)
	for k := range steps + 1 {
		t := float64(k) / steps
		x, y := xy[0]+t*(xy[2]-xy[0]), xy[1]+t*(xy[3]-xy[1])
		least = min(least, math.Hypot(x-min(r.x1, max(r.x0, x)), y-min(r.y1, max(r.y0, y))))
	}
	return least
}

func TestOneLine(t *testing.T) {
	if got := oneLine(" a\nb\tc\u2028d "); got != "a b c d" {
		t.Errorf("got %q", got)
	}
}

// What was cut goes into the width and is the start of what was there.
func TestCutToFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringN(0, 60, -1).Draw(t, "text")
		w := rapid.Float64Range(3, 60).Draw(t, "width")
		got := cutToFit(s, w, TextSmall, false)
		if TextWidth(got, TextSmall, false) > w+1e-9 {
			t.Fatalf("%q is %g wide", got, TextWidth(got, TextSmall, false))
		}
		if got != s && !strings.HasPrefix(s, strings.TrimSuffix(got, ellipsis)) {
			t.Fatalf("%q of %q", got, s)
		}
	})
}

// Lines go into the width, are no more than allowed, and lose no word unseen.
func TestBreakLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := strings.Join(rapid.SliceOfN(rapid.StringMatching(`[a-zé]{1,14}`), 0, 20).Draw(t, "words"), " ")
		w := rapid.Float64Range(8, 60).Draw(t, "width")
		most := rapid.IntRange(1, 6).Draw(t, "most")
		lines := breakLines(s, w, TextSmall, most)
		if len(lines) > most {
			t.Fatalf("%d lines, %d allowed", len(lines), most)
		}
		for _, l := range lines {
			if TextWidth(l, TextSmall, false) > w+1e-9 {
				t.Fatalf("%q is too wide", l)
			}
		}
		if all := strings.Join(lines, " "); all != s && !strings.Contains(all, ellipsis) {
			t.Fatalf("%q became %q", s, all)
		}
	})
}

func TestPercentOf(t *testing.T) {
	for _, c := range []struct {
		value, limit float64
		want         string
	}{{195, 286, "68 %"}, {270, 182, "148 %"}, {100.2, 100, "over 100 %"}, {286, 286, "100 %"}, {0, 286, "0 %"}, {99.9, 100, "100 %"}} {
		if got := percentOf(c.value, c.limit); got != c.want {
			t.Errorf("%g of %g: %s, expected %s", c.value, c.limit, got, c.want)
		}
	}
}

func TestCableList(t *testing.T) {
	single := factors.Cable{Form: factors.Single, CSA: 4, Strands: factors.Stranded}
	cores := []route.Core{
		{Function: route.Line, Cable: single, Count: 1}, {Function: route.Neutral, Cable: single, Count: 1},
		{Cable: factors.Cable{Form: factors.TwinEarth, CSA: 2.5}, Count: 2},
		{Cable: factors.Cable{Form: factors.Round, OD: 6.1}, Count: 1, Name: "data"}, {Function: route.CPC, Cable: single, Count: 1},
	}
	if got, want := cableList(cores), "3 x 4, 2 x 2.5 twin and earth, 1 x ⌀6.1 data"; got != want {
		t.Errorf("got %q, expected %q", got, want)
	}
	if got := coreCount(cores); got != 6 {
		t.Errorf("counted %d", got)
	}
}

// The wall drawn for trunking leaves the internal area of its factor: 0.45 of
// it is the factor of IET On-Site Guide, Table E6 (50x50: 1037, 100x50: 2091).
func TestSectionWall(t *testing.T) {
	for _, c := range []struct {
		in   string
		w, h float64
		want float64
	}{{"steel trunking 50x50", 50, 50, 1037}, {"steel trunking 100x50", 100, 50, 2091}, {"plastic trunking 40x25", 40, 25, 360}} {
		j := parseJob(t, "job: x\nruns: {A: {in: "+c.in+", length: 1 m, cables: 3 x 1.5}}\n")
		e := sectionOf(j, 0, 30).spec
		if got := 0.45 * (e.WidthMM - 2*e.WallMM) * (e.HeightMM - 2*e.WallMM); math.Abs(got-c.want) > 1 {
			t.Errorf("%s: %g, expected %g", c.in, got, c.want)
		}
	}
}
