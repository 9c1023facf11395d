package route_test

import (
	"slices"
	"strings"
	"testing"

	"tubewright/factors"
	"tubewright/factors/units"
	"tubewright/route"
)

// billed is a bill as "item: net", in its order.
func billed(t *testing.T, job string) string {
	t.Helper()
	j, err := route.Parse("x.yaml", []byte(job))
	if err != nil {
		t.Fatalf("%s\n%v", job, err)
	}
	var lines []string
	for _, it := range j.Bill() {
		lines = append(lines, it.Name+" "+units.Format(it.Net))
	}
	return strings.Join(lines, "\n")
}

// TestExistingRuns: of a tube that is there nothing is bought, cut or set out;
// what the job's circuits put into it is. Counted by hand.
func TestExistingRuns(t *testing.T) {
	const places = `job: x
places: {board: {is: board, across: 0, height: 1 m}, s1: {is: socket}, bx: {is: box}, s2: {is: socket}}
`
	for name, tt := range map[string]struct{ job, want string }{
		"alone, with cables": {"job: x\nruns: {K: {in: plastic conduit 25, length: 8 m, bends: 2, existing: true, cables: 6 x 2.5}}", ""},
		"drawn, in places":   {places + "runs: {A: {from: board, to: s1, in: steel conduit 20, path: \"right 2, down 0.5\", existing: yes, cables: 3 x 4}}", ""},
		"trunking":           {places + "runs: {A: {from: board, to: bx, in: steel trunking 50x50, path: right 4, existing: yes}}", ""},
		// 8 m and tails of 0.6 and 0.15 m: 8.75 m of each core
		"a circuit in it": {places + "runs: {A: {from: board, to: s1, in: plastic conduit 20, length: 8 m, existing: yes, cables: 3 x 4, other circuits: 1}}\ncircuits: {c: {device: B16, cable: 2.5, points: [s1]}}",
			"socket-outlet, one-gang 1\n2.5 mm² stranded single, brown 8.75\n2.5 mm² stranded single, blue 8.75\n2.5 mm² stranded single, green-and-yellow 8.75"},
		// the box and socket of s1 stay; B needs its adaptors, the box of s2, and three
		// saddles: two spaces of at most 1.5 m in 2 m less 0.2 m at each end
		"a new run on from it": {places + "runs:\n  A: {from: board, to: s1, in: plastic conduit 20, length: 8 m, existing: yes}\n  B: {from: s1, to: s2, in: plastic conduit 20, length: 2 m}",
			"plastic conduit 20 mm 2\nsurface accessory box with knock-outs, one-gang, plastic 1\nadaptor with lock-ring, plastic conduit 20 mm 2\nsocket-outlet, one-gang 1\nscrew and plug 5\nspacer-bar saddle, plastic conduit 20 mm 3"},
	} {
		t.Run(name, func(t *testing.T) {
			got := strings.Split(billed(t, tt.job), "\n")
			want := strings.Split(tt.want, "\n")
			slices.Sort(got)
			slices.Sort(want)
			if !slices.Equal(got, want) {
				t.Errorf("billed\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
			}
		})
	}
}

// TestExistingIsNotCut: no list, no set-out, no substitution.
func TestExistingIsNotCut(t *testing.T) {
	j, err := route.Parse("x.yaml", []byte("job: x\nplaces: {a: {is: box}, b: {is: box}}\nruns:\n  A: {from: a, to: b, in: steel conduit 20, path: \"right 2, up 0.01\", existing: yes}\n  B: {in: steel conduit 20, path: right 1}"))
	if err != nil {
		t.Fatal(err)
	}
	lists, err := j.CutLists()
	if err != nil || len(lists) != 1 || len(lists[0].Pieces) != 1 || lists[0].Pieces[0].Run != 1 {
		t.Errorf("%v %+v", err, lists)
	}
	if s := j.SetOut(nil, 0); s.Made() || len(s.Lacks) > 0 || len(s.Pieces) > 0 {
		t.Errorf("%+v", s)
	}
	plastic, err := j.With(func(e factors.Enclosure) factors.Enclosure { e.Material = factors.Plastic; return e })
	if err != nil || plastic.Runs[0].Enc.Material != factors.Steel || plastic.Runs[1].Enc.Material != factors.Plastic {
		t.Errorf("%v", err)
	}
}
