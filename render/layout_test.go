package render

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"tubewright/route"
)

func parseText(text string) (*route.Job, error) { return route.Parse("job.yaml", []byte(text)) }

func allRuns(j *route.Job) []int {
	out := make([]int, len(j.Runs))
	for i := range out {
		out[i] = i
	}
	return out
}

// On the sheet, places lie apart as they do on the wall, at the scale stated.
func TestElevationIsToScale(t *testing.T) {
	r := demo(t, "boatstore")
	p := wallPicture(r.Job, allRuns(r.Job), rect{0, 0, 300, 200})
	var scale float64
	if _, err := fmt.Sscanf(p.scale, "1:%g", &scale); err != nil {
		t.Fatalf("scale %q", p.scale)
	}
	for _, a := range p.places {
		for _, b := range p.places {
			pa, pb := r.Job.Places[a.place].Point, r.Job.Places[b.place].Point
			if d := math.Abs((b.x-a.x)*scale - (pb.X-pa.X)*1000); d > 0.01 {
				t.Errorf("%d to %d: across by %g mm too far", a.place, b.place, d)
			}
			if d := math.Abs((a.y-b.y)*scale - (pb.Z-pa.Z)*1000); d > 0.01 {
				t.Errorf("%d to %d: up by %g mm too far", a.place, b.place, d)
			}
		}
	}
}

// Cabinet axonometry after ISO 5456-3 (from memory): the axes in the picture
// plane keep their length and stand square, the third is halved and at 45°.
func TestCabinet(t *testing.T) {
	x0, y0 := cabinet(route.Point{X: 3, Y: 2, Z: 1})
	for _, c := range []struct {
		d           route.Point
		long, angle float64 // clockwise from the right, on the page
	}{{route.Point{X: 1}, 1, 0}, {route.Point{Z: 1}, 1, -90}, {route.Point{Y: 1}, 0.5, 135}} {
		x, y := cabinet(route.Point{X: 3, Y: 2, Z: 1}.Add(c.d, 1))
		if long := math.Hypot(x-x0, y-y0); math.Abs(long-c.long) > 1e-9 {
			t.Errorf("%v: %g long, expected %g", c.d, long, c.long)
		}
		if a := math.Atan2(y-y0, x-x0) * 180 / math.Pi; math.Abs(a-c.angle) > 1e-9 {
			t.Errorf("%v: at %g°, expected %g°", c.d, a, c.angle)
		}
	}
}

// Every place on the wall is measured from the datum along the floor, also where
// the datum stands beside all runs: on the drawing when it is near, off it when
// it is far. By hand: the box at 1 m, the switch 0.6 m to its left.
func TestDistancesFromTheDatum(t *testing.T) {
	for across, want := range map[string]struct {
		ticks  string
		datum  bool
		headed string
	}{
		"1 m": {"[0 400 1000]", true, "heights above the finished floor and distances from the datum in mm"},
		"9 m": {"[8400 9000]", false, "heights above the finished floor and distances from the datum, which is off the sheet, in mm"},
	} {
		j := parseJob(t, "job: d\nplaces: {a: {is: box, height: 1.5 m, across: "+across+"}, b: {is: switch}}\nruns: {A: {from: a, to: b, in: steel conduit 20, path: \"left 0.6, down 1\"}}\n")
		p := wallPicture(j, allRuns(j), rect{0, 0, 300, 200})
		var got []string
		for _, d := range p.axes[0].distance {
			got = append(got, d.text)
			if d.at < 0 || d.at > 300 {
				t.Errorf("across %s: %s off the sheet at %v", across, d.text, d.at)
			}
		}
		if fmt.Sprint(got) != want.ticks || math.IsNaN(p.axes[0].datumX) == want.datum || axesNote(p.axes) != want.headed {
			t.Errorf("across %s: %v, datum at %v, %q", across, got, p.axes[0].datumX, axesNote(p.axes))
		}
	}
}

// The scale is the largest of the list at which the runs go in.
func TestScaleFor(t *testing.T) {
	for _, c := range []struct {
		w, h float64
		want int
	}{{1, 0.5, 5}, {1.0001, 0, 10}, {0, 2, 20}, {5, 2.5, 25}, {10, 0, 50}, {200, 0, 1000}, {9999, 0, 50000}, {99999, 0, 0}} {
		if got := scaleFor(c.w, c.h, 200, 100); got != c.want {
			t.Errorf("%g x %g m: 1:%d, expected 1:%d", c.w, c.h, got, c.want)
		}
	}
}

// A long low wall is folded: every run is drawn whole, at a larger scale than
// in one line, and the place between two lengths is shown in both.
func TestLongWallIsFolded(t *testing.T) {
	j := parseJob(t, largeJob(40, 7, true))
	area := rect{0, 0, 290, 170}
	p := wallPicture(j, allRuns(j), area)
	w := newWall(j, allRuns(j), elevation)
	one := w.fold(allRuns(j), elevation, area.grown(-wallMargin), 1)
	var scale float64
	if _, err := fmt.Sscanf(p.scale, "1:%g", &scale); err != nil || scale >= float64(one.scale) {
		t.Fatalf("folded 1:%g, in one line 1:%d", scale, one.scale)
	}
	shown := map[int]int{}
	for _, pl := range p.places {
		shown[pl.place]++
	}
	twice := 0
	for place := range j.Places {
		switch shown[place] {
		case 0:
			t.Errorf("%s is not shown", j.Places[place].Name)
		case 2:
			twice++
		}
	}
	if folds := len(p.axes); len(p.runs) != 40 || folds < 2 || twice != folds-1 {
		t.Errorf("%d runs, %d lengths, %d places shown twice", len(p.runs), folds, twice)
	}
	for _, r := range p.runs {
		run := &j.Runs[r.run]
		n := len(r.xy)
		if d := math.Hypot(r.xy[n-2]-r.xy[0], r.xy[n-1]-r.xy[1]) * scale / 1000; math.Abs(d-float64(run.Length)) > 1e-6 {
			t.Errorf("%s is %g m on the sheet, %g m in the job", run.Name, d, run.Length)
		}
	}
}

// Two runs along one way are drawn side by side, and each still ends at its places.
func TestLanes(t *testing.T) {
	const n = 4
	var runs []pictureRun
	for i := range n {
		runs = append(runs, pictureRun{run: i, xy: []float64{10, 10, 60, 10, 60, 40 + 5*float64(i)}})
	}
	spreadLanes(runs)
	for i := range runs {
		xy := runs[i].xy
		if xy[0] != 10 || xy[1] != 10 || xy[len(xy)-2] != 60 || xy[len(xy)-1] != 40+5*float64(i) {
			t.Errorf("run %d ends elsewhere: %v", i, xy)
		}
		for k := range i {
			a, b := stretches(runs[i].xy)[0], stretches(runs[k].xy)[0]
			if d := math.Abs(a.ay - b.ay); d < laneClear {
				t.Errorf("runs %d and %d are %g mm apart", i, k, d)
			}
		}
	}
}

// Parts whose position along the wall nobody gave do not lie on each other.
func TestPartsAreSetApart(t *testing.T) {
	j := parseJob(t, `job: two parts
places: {a: {is: board}, b: {is: box}, c: {is: box}, d: {is: box}}
runs:
  A: {from: a, to: b, in: steel conduit 20, path: right 2}
  B: {from: c, to: d, in: steel conduit 20, path: right 2}
`)
	for _, area := range []rect{{0, 0, 300, 60}, {0, 0, 100, 200}} {
		p := wallPicture(j, allRuns(j), area)
		if a, b := p.places[1], p.places[2]; b.x <= a.x && b.y <= a.y {
			t.Errorf("the second part starts at %g, %g, the first ends at %g, %g", b.x, b.y, a.x, a.y)
		}
	}
}

// A layout that is not to scale shows every run, each at its own height or
// going on from the one before, tied to where it leaves.
func TestStripsShowEveryRun(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "runs")
		text := "job: x\nplaces: {p0: {is: board}"
		runs := ""
		for i := 1; i <= n; i++ {
			text += fmt.Sprintf(", p%d: {is: box}", i)
			runs += fmt.Sprintf("  r%d: {from: p%d, to: p%d, in: steel conduit 20, length: 2 m}\n", i, rapid.IntRange(0, i-1).Draw(t, "from"), i)
		}
		j, err := parseText(text + "}\nruns:\n" + runs)
		if err != nil {
			t.Fatal(err)
		}
		p := stripPicture(j, allRuns(j), rect{0, 0, 290, 180})
		if len(p.runs) != n || p.left != 0 {
			t.Fatalf("%d of %d runs, %d left", len(p.runs), n, p.left)
		}
		for i := range p.runs {
			for k := range i {
				a, b := p.runs[i].xy, p.runs[k].xy
				if a[1] == b[1] && a[0] < b[2]-1e-9 && b[0] < a[2]-1e-9 {
					t.Fatalf("runs %d and %d lie on each other", p.runs[i].run, p.runs[k].run)
				}
			}
		}
	})
}

// What a layout says about a set is what the path says.
func TestSetsAreMarked(t *testing.T) {
	j := parseJob(t, `job: sets
places: {a: {is: board}, b: {is: box}}
runs: {A: {from: a, to: b, in: steel conduit 20, path: "right 2, set 40 mm, up 1, double set 25 mm"}}
`)
	p := wallPicture(j, []int{0}, rect{0, 0, 300, 200})
	if s := p.runs[0].sets; len(s) != 2 || s[0].text != "set 40" || s[1].text != "double set 25" || s[0].kind != plainSet || s[1].kind != doubleSet {
		t.Errorf("got %v", s)
	}
}

func TestTicksKeepApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := map[int]float64{}
		for range rapid.IntRange(1, 30).Draw(t, "figures") {
			at[rapid.IntRange(0, 9999).Draw(t, "mm")] = rapid.Float64Range(10, 190).Draw(t, "at")
		}
		got := ticks(at, 5, 195)
		if len(got) != len(at) {
			t.Fatalf("%d of %d", len(got), len(at))
		}
		for i, k := range got {
			if k.shown < 5-1e-9 || k.shown > 195+1e-9 || i > 0 && k.shown < got[i-1].shown+2.6-1e-9 {
				t.Fatalf("figure %d at %g", i, k.shown)
			}
		}
	})
	full := map[int]float64{}
	for i := range 100 {
		full[i+1] = float64(i)
	}
	if ticks(full, 0, 100) != nil {
		t.Error("a list that does not go in was begun")
	}
}
