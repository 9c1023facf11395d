package route_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"tubewright/factors"
	"tubewright/route"
)

// drawTree draws a job of boxes, accessories and steel conduits on a wall as a
// tree, with quick and drawn runs and a radial circuit through it.
func drawTree(t *rapid.T) string {
	var places, runs strings.Builder
	kinds := []string{"box", "box", "socket", "switch", "light"}
	places.WriteString("  p0: {is: board, height: 1.5 m}\n")
	var sockets []string
	n := rapid.IntRange(1, 9).Draw(t, "runs")
	free := map[string][]string{"p0": {"up", "down", "left", "right"}}
	opposite := map[string]string{"up": "down", "down": "up", "left": "right", "right": "left"}
	for i := 1; i <= n; i++ {
		from := fmt.Sprintf("p%d", rapid.IntRange(0, i-1).Draw(t, "from"))
		name := fmt.Sprintf("p%d", i)
		kind := rapid.SampledFrom(kinds).Draw(t, "kind")
		fmt.Fprintf(&places, "  %s: {is: %s}\n", name, kind)
		if kind == "socket" {
			sockets = append(sockets, name)
		}
		size := rapid.SampledFrom([]string{"20", "25"}).Draw(t, "size")
		material := rapid.SampledFrom([]string{"steel", "plastic"}).Draw(t, "material")
		way := fmt.Sprintf("length: %.2f m, bends: %d", float64(rapid.IntRange(40, 900).Draw(t, "cm"))/100, rapid.IntRange(0, 2).Draw(t, "bends"))
		if len(free[from]) > 0 && rapid.Bool().Draw(t, "drawn") {
			dir := free[from][0]
			free[from] = free[from][1:]
			way = fmt.Sprintf("path: %s %.2f", dir, float64(rapid.IntRange(40, 900).Draw(t, "cm"))/100)
			for _, d := range []string{"up", "down", "left", "right"} {
				if d != opposite[dir] {
					free[name] = append(free[name], d)
				}
			}
		}
		fmt.Fprintf(&runs, "  r%d: {from: %s, to: %s, in: %s conduit %s, %s, cables: 2 x 1.5}\n", i, from, name, material, size, way)
	}
	job := "job: drawn\nplaces:\n" + places.String() + "runs:\n" + runs.String()
	if len(sockets) > 0 {
		job += "circuits:\n  c: {device: B20, cable: 4, arrangement: radial, demand: 10 A, points: [" + strings.Join(sockets, ", ") + "]}\n"
	}
	return job
}

// recount counts a job's boxes, entries and metres again, from places and
// singles, by one slow loop an item.
func recount(j *route.Job) map[string]float64 {
	n := map[string]float64{}
	for i := range j.Runs {
		r := &j.Runs[i]
		n[r.Enc.String()+" mm"] += float64(r.Length)
		n["1.5 mm² stranded single, colour not given"] += 2 * float64(r.Length)
		joints := math.Ceil(float64(r.Length/j.StockLength(r.Enc))-1e-9) - 1
		if r.Drawn {
			joints = 0
			for _, p := range j.SetOut(nil, i).Pieces[1:] {
				if p.Ends[0] == "coupler" {
					joints++
				}
			}
		}
		n["coupler, "+r.Enc.String()+" mm"] += joints
	}
	for _, s := range j.Singles {
		n[s.Cable.String()+" single, "+s.Colour.String()] += float64(s.Length)
	}
	for i := range j.Places {
		recountPlace(j, i, n)
	}
	return n
}

func recountPlace(j *route.Job, place int, n map[string]float64) {
	var ends []int
	for r := range j.Runs {
		if j.Runs[r].From == place || j.Runs[r].To == place {
			ends = append(ends, r)
		}
	}
	kind := j.Places[place].Kind
	if len(ends) == 0 {
		return
	}
	switch kind {
	case route.Socket:
		n["socket-outlet, one-gang"]++
	case route.Switch:
		n["plate switch, one-gang"]++
	case route.Light:
		n["luminaire"]++
	}
	if box := kind == route.Box || kind == route.Light; box && round(j, place, ends) {
		n["circular boxes"]++
		steel := slices.ContainsFunc(ends, func(r int) bool { return j.Runs[r].Enc.Material == factors.Steel })
		for _, r := range ends {
			if e := j.Runs[r].Enc; steel && e.Material == factors.Plastic {
				n[fmt.Sprintf("adaptor with lock-ring, plastic conduit %g mm", float64(e.Size))]++
			}
		}
		return
	} else if box {
		n["adaptable boxes"]++
	} else if kind != route.BoardPlace {
		n["surface boxes"]++
	}
	for _, r := range ends {
		size := fmt.Sprintf("%g mm", float64(j.Runs[r].Enc.Size))
		if j.Runs[r].Enc.Material == factors.Plastic {
			n["adaptor with lock-ring, plastic conduit "+size]++
		} else {
			n["male brass bush "+size]++
			n["coupler, steel conduit "+size]++
		}
	}
}

// round: up to four entries; where all are drawn, no two one way, and with
// four two pairs that face. On a wall all lie in one plane.
func round(j *route.Job, place int, ends []int) bool {
	var dirs []route.Point
	for _, r := range ends {
		if run := &j.Runs[r]; run.Drawn {
			d := run.Corners[1].Sub(run.Corners[0])
			if run.From != place {
				d = run.Corners[len(run.Corners)-2].Sub(run.Corners[len(run.Corners)-1])
			}
			dirs = append(dirs, d)
		}
	}
	if len(ends) > 4 {
		return false
	}
	if len(dirs) < len(ends) || len(ends) == 1 {
		return true
	}
	for i, a := range dirs {
		for _, b := range dirs[:i] {
			if a.Dot(b)/(a.Len()*b.Len()) > 0.9 {
				return false
			}
		}
	}
	return true
}

// TestBillRecounted holds the bill of random jobs to the slow recount.
func TestBillRecounted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, err := route.Parse("drawn.yaml", []byte(drawTree(t)))
		if err != nil {
			t.Skip(err)
		}
		want := recount(j)
		got := map[string]float64{}
		for _, it := range j.Bill() {
			name := it.Name
			switch {
			case strings.Contains(name, " box, ") && it.Group == "boxes and fittings" && !strings.Contains(name, "surface"):
				name = "circular boxes"
			case strings.HasPrefix(name, "adaptable box"):
				name = "adaptable boxes"
			case strings.HasPrefix(name, "surface accessory box"):
				name = "surface boxes"
			}
			got[name] += it.Net
		}
		for name, n := range want {
			if math.Abs(got[name]-n) > 1e-5 {
				t.Errorf("%s: the bill has %v, recounted %v", name, got[name], n)
			}
		}
		for name := range got {
			if _, counted := want[name]; !counted && (strings.Contains(name, "bush") || strings.Contains(name, "single") || strings.Contains(name, "boxes")) {
				t.Errorf("%s: %v in the bill, recounted none", name, got[name])
			}
		}
	})
}

// The runs' shares of each item add up to it, and every item names its runs.
func TestBillShares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, err := route.Parse("drawn.yaml", []byte(drawTree(t)))
		if err != nil {
			t.Skip(err)
		}
		for _, it := range j.Bill() {
			sum := 0.0
			for _, s := range it.Shares {
				sum += s
			}
			if len(it.Runs) == 0 || len(it.Runs) != len(it.Shares) || math.Abs(sum-it.Net) > 1e-5 {
				t.Errorf("%s: %v of %v in %v", it.Name, it.Shares, it.Net, it.Runs)
			}
		}
	})
}

// Removing a quick run removes its shares and nothing else.
func TestBillWithoutARun(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 8).Draw(t, "runs")
		lines := make([]string, n)
		for i := range lines {
			enc := rapid.SampledFrom([]string{"steel conduit 20", "plastic conduit 25", "steel trunking 50x50", "plastic trunking 50x50"}).Draw(t, "in")
			lines[i] = fmt.Sprintf("  r%d: {in: %s, length: %d m, bends: %d, cables: %d x 2.5}", i, enc, rapid.IntRange(1, 30).Draw(t, "m"), rapid.IntRange(0, 3).Draw(t, "bends"), rapid.IntRange(1, 5).Draw(t, "cables"))
		}
		bill := func(lines []string) []route.Item {
			j, err := route.Parse("quick.yaml", []byte("job: quick\nruns:\n"+strings.Join(lines, "\n")))
			if err != nil {
				t.Fatal(err)
			}
			return j.Bill()
		}
		gone := rapid.IntRange(0, n-1).Draw(t, "removed")
		want := map[string]float64{}
		for _, it := range bill(lines) {
			for k, r := range it.Runs {
				if r != fmt.Sprintf("r%d", gone) {
					want[it.Group+"/"+it.Name] += it.Shares[k]
				}
			}
		}
		got := map[string]float64{}
		for _, it := range bill(slices.Delete(slices.Clone(lines), gone, gone+1)) {
			got[it.Group+"/"+it.Name] = it.Net
		}
		for _, name := range keysOf(got, want) {
			if math.Abs(got[name]-want[name]) > 1e-5 {
				t.Errorf("without r%d %s: %v, expected %v", gone, name, got[name], want[name])
			}
		}
	})
}

func keysOf(maps ...map[string]float64) []string {
	var out []string
	for _, m := range maps {
		for k := range m {
			out = append(out, k)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// TestFittings: what each arrangement needs, by hand. The names are the
// trade's; common practice, no source.
func TestFittings(t *testing.T) {
	const box = "places: {a: {is: box}, b: {is: socket}, c: {is: socket}, d: {is: socket}, e: {is: socket}}\nruns:\n"
	run := func(name, to, path string) string {
		return fmt.Sprintf("  %s: {from: a, to: %s, in: steel conduit 20, path: %q}\n", name, to, path)
	}
	for name, c := range map[string]struct {
		job  string
		want string
	}{
		"terminal": {box + run("B", "b", "up 1"), "terminal box, steel conduit 20 mm"},
		"through":  {box + run("B", "b", "up 1") + run("C", "c", "down 1"), "through box, steel conduit 20 mm"},
		"angle":    {box + run("B", "b", "up 1") + run("C", "c", "left 1"), "angle box, steel conduit 20 mm"},
		"tee":      {box + run("B", "b", "up 1") + run("C", "c", "left 1") + run("D", "d", "right 1"), "tee box, steel conduit 20 mm"},
		"Y": {box + run("B", "b", "up 1") +
			"  C: {from: c, to: a, in: steel conduit 20, path: \"right 1, angle 60 up 1\"}\n  D: {from: d, to: a, in: steel conduit 20, path: \"left 1, angle 60 up 1\"}\n", "Y box, steel conduit 20 mm"},
		"four-way":                 {box + run("B", "b", "up 1") + run("C", "c", "left 1") + run("D", "d", "right 1") + run("E", "e", "down 1"), "four-way box, steel conduit 20 mm"},
		"out of one plane":         {box + run("B", "b", "up 1") + run("C", "c", "left 1") + run("D", "d", "out 1"), "adaptable box with lid, steel"},
		"two side by side":         {box + run("B", "b", "up 1") + run("C", "c", "up 2"), "adaptable box with lid, steel"},
		"through the wall":         {box + run("B", "b", "in 1"), "back-outlet box, steel conduit 20 mm"},
		"trunking, towards":        {trunk("right 2, out 2"), "internal bend, steel trunking 50x50"},
		"trunking, away":           {trunk("right 2, in 2"), "external bend, steel trunking 50x50"},
		"trunking, in the plane":   {trunk("right 2, up 2"), "flat bend, steel trunking 50x50"},
		"trunking, round a pillar": {trunk("right 2, out 1, right 1"), "external bend, steel trunking 50x50"},
		"trunking, ceiling":        {trunk("up 2, out 2"), "internal bend, steel trunking 50x50"},
		"trunking, 45°":            {trunk("right 2, angle 45 up 1"), "flat bend 45°, steel trunking 50x50"},
		"female bush":              {"choices: {bushes: female}\n" + box + run("B", "b", "up 1"), "female brass bush 20 mm"},
		"strap saddle":             {"choices: {saddles: strap}\n" + box + run("B", "b", "up 1"), "2 strap saddle, steel conduit 20 mm"},
		"reducer":                  {strings.Replace(box, "}}\n", "}}\n", 1) + run("B", "b", "up 1") + strings.Replace(run("C", "c", "down 1"), "conduit 20", "conduit 25", 1), "reducer, steel conduit 25 to 20 mm"},
		"captive": {"places: {a: {is: box}, b: {is: box}, c: {is: socket}, d: {is: socket}}\nruns:\n" + run("A", "b", "right 2") + run("C", "c", "left 1") +
			"  D: {from: b, to: d, in: steel conduit 20, path: right 1}\n", "running coupler with locknut, steel conduit 20 mm"},
		"expansion":                 {"runs:\n  A: {in: plastic conduit 20, length: 13 m}\n", "2 expansion coupler, plastic conduit 20 mm"},
		"steel grows":               {"runs:\n  A: {in: steel conduit 20, length: 13 m}\n", "0 expansion coupler, steel conduit 20 mm"},
		"socket on trunking":        {"places: {a: {is: board}, s: {is: socket, gangs: 2}}\nruns: {A: {from: a, to: s, in: steel trunking 50x50, length: 3 m}}\n", "accessory box for trunking, two-gang, steel trunking 50x50"},
		"socket amid trunking":      {"places: {a: {is: board}, s: {is: socket}, t: {is: socket}}\nruns: {A: {from: a, to: s, in: plastic trunking 50x50, length: 3 m}, B: {from: s, to: t, in: plastic trunking 50x50, length: 3 m}}\n", "2 accessory box for trunking, one-gang, plastic trunking 50x50"},
		"socket on conduit as well": {"places: {a: {is: board}, s: {is: socket}}\nruns: {A: {from: a, to: s, in: steel trunking 50x50, length: 3 m}, B: {from: a, to: s, in: steel conduit 20, length: 3 m}}\n", "0 accessory box for trunking, one-gang, steel trunking 50x50"},
		"coupler of an entry":       {"places: {a: {is: board}, s: {is: socket}}\nruns: {B: {from: a, to: s, in: steel conduit 20, length: 4 m}}\n", "3 coupler, steel conduit 20 mm"},
		"earth tail":                {"places: {d: {is: board}, s: {is: socket}}\nruns:\n  A: {from: d, to: s, in: steel conduit 20, length: 2 m}\ncircuits:\n  c: {device: B20, cable: 4, cpc: conduit, arrangement: radial, points: [s], demand: 9 A}\n", "1 earth tail, box to accessory"},
		"own conductor":             {"places: {d: {is: board}, s: {is: socket}}\nruns:\n  A: {from: d, to: s, in: steel conduit 20, length: 2 m}\ncircuits:\n  c: {device: B20, cable: 4, arrangement: radial, points: [s], demand: 9 A}\n", "0 earth tail, box to accessory"},
		"made bends":                {"runs:\n  A: {in: steel conduit 20, bends: made, path: \"up 1, right 1\"}\n", "1 normal bend, steel conduit 20 mm"},
	} {
		t.Run(name, func(t *testing.T) {
			j, err := route.Parse("f.yaml", []byte("job: f\n"+c.job))
			if err != nil {
				t.Fatal(err)
			}
			got := map[string]float64{}
			for _, it := range j.Bill() {
				got[it.Name] = it.Net
			}
			want, n := c.want, 1.0
			if c.want != "" && c.want[0] <= '9' {
				fmt.Sscanf(c.want, "%g", &n)
				want = c.want[2:]
			}
			if c.want != "" && got[want] != n {
				t.Errorf("%v %s, expected %v:\n%s", got[want], want, n, cmp.Diff(nil, got))
			}
		})
	}
}

func trunk(path string) string {
	return fmt.Sprintf("runs:\n  A: {in: steel trunking 50x50, path: %q}\n", path)
}

// Every rule says where it comes from.
func TestRulesSayTheirSource(t *testing.T) {
	for _, name := range []string{"boatstore", "workshop", "clubhouse", "classroom", "existing"} {
		for _, it := range demoJob(t, "../testdata/jobs/"+name+".yaml").Bill() {
			if !slices.ContainsFunc([]string{"no source)", "read)", "memory)", "geometry)", "own word)", "arithmetic)", "(tables in command tables)", "(makers' notes, read)"}, func(s string) bool { return strings.Contains(it.Rule, s) }) {
				t.Errorf("%s: %s", it.Name, it.Rule)
			}
		}
	}
}

// A run that is not drawn has its supports by the rule set that the job
// chooses: 10 m of 20 mm plastic, ends of 225, 150 and 200 mm, spaces of 1.5,
// 0.9 and 1 m.
func TestSupportsByRuleSet(t *testing.T) {
	for rule, want := range map[string]float64{"guide": 8, "maker": 12, "specification": 11} {
		j, err := route.Parse("r.yaml", []byte("job: r\nchoices: {support: "+rule+"}\nruns: {A: {in: plastic conduit 20, length: 10 m}}\n"))
		if err != nil {
			t.Fatal(err)
		}
		for _, it := range j.Bill() {
			if strings.HasPrefix(it.Name, "spacer-bar saddle") && (it.Net != want || !strings.Contains(it.Rule, "of the "+rule)) {
				t.Errorf("%s: %v, counted %v (%s)", rule, it.Net, want, it.Rule)
			}
		}
	}
}

// TestPlatesByRole: a switch is ordered by what its gangs do: an intermediate
// is another plate than a two-way (common practice, no source).
func TestPlatesByRole(t *testing.T) {
	for file, want := range map[string]map[string]float64{
		"two-intermediates": {"plate switch, one-gang, two-way": 2, "plate switch, one-gang, intermediate": 2},
		"three-gang":        {"plate switch, three-gang, one-way": 1},
		"one-way":           {"plate switch, one-gang, one-way": 1},
		"conversion":        {"plate switch, one-gang, two-way": 2},
	} {
		got := map[string]float64{}
		for _, it := range readJob(t, arrangements+"/"+file+".yaml").Bill() {
			if strings.HasPrefix(it.Name, "plate switch") {
				got[it.Name] = it.Net
			}
		}
		if !maps.Equal(got, want) {
			t.Errorf("%s: %v, want %v", file, got, want)
		}
	}
}

// TestPlasticIntoSteelBox: a plastic tube has no thread for the spout of a steel
// box: an adaptor there, and one at the socket; whichever comes first, and where
// the plastic one is larger, the box is of steel.
func TestPlasticIntoSteelBox(t *testing.T) {
	for _, tt := range []struct{ a, b, box, adaptor string }{
		{"steel conduit 20", "plastic conduit 20", "through or angle box, steel conduit 20 mm", "adaptor with lock-ring, plastic conduit 20 mm"},
		{"steel conduit 20", "plastic conduit 25", "through or angle box, steel conduit 25 mm", "adaptor with lock-ring, plastic conduit 25 mm"},
	} {
		j, err := route.Parse("x.yaml", []byte(`
job: x
places: {board: {is: board}, bx: {is: box}, s1: {is: socket}}
runs:
  B: {from: bx, to: s1, in: `+tt.b+`, length: 2 m}
  A: {from: board, to: bx, in: `+tt.a+`, length: 3 m}
circuits: {rad: {device: B16, cable: 2.5, points: [s1]}}
`))
		if err != nil {
			t.Fatal(err)
		}
		got := map[string]float64{}
		for _, it := range j.Bill() {
			got[it.Name] = it.Net
		}
		if got[tt.box] != 1 || got[tt.adaptor] != 2 {
			t.Errorf("%s and %s: %v %s, %v %s", tt.a, tt.b, got[tt.box], tt.box, got[tt.adaptor], tt.adaptor)
		}
	}
}
