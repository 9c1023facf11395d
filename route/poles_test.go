package route_test

import (
	"maps"
	"strings"
	"testing"

	"tubewright/route"
)

// TestPoles: an isolator breaks every live conductor behind it, the permanent
// line of a timed fan among them; counted by hand from each circuit (common
// practice, no source).
func TestPoles(t *testing.T) {
	const fan = `job: x
places: {b: {is: board}, sw: {is: switch}, l1: {is: light}, fi: {is: isolator}, fan: {is: timed fan}, bx: {is: box}}
runs:
  A: {from: b, to: bx, in: steel conduit 25, length: 3 m, bends: 0}
  F: {from: bx, to: sw, in: steel conduit 25, length: 1.5 m, bends: 0}
  G: {from: bx, to: l1, in: steel conduit 25, length: 2.5 m, bends: 0}
  H: {from: bx, to: fi, in: steel conduit 25, length: 0.7 m, bends: 0}
  I: {from: fi, to: fan, in: steel conduit 25, length: 3 m, bends: 0}
circuits:
  l: {device: B6, cable: 1.5, arrangement: lighting, groups: [{switches: [sw], lights: [l1, fi, fan]}]}
`
	const heater = `job: x
places: {b: {is: board}, is1: {is: isolator}, wh: {is: heater}, s: {is: socket}}
runs:
  A: {from: b, to: is1, in: steel conduit 25, length: 3 m, bends: 0}
  B: {from: is1, to: wh, in: steel conduit 25, length: 1 m, bends: 0}
  C: {from: is1, to: s, in: steel conduit 25, length: 1 m, bends: 0}
circuits:
  p: {device: B16, cable: 2.5, arrangement: radial, points: [is1, wh], demand: 10 A}
`
	read := func(text string) *route.Job {
		j, err := route.Parse("x.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		return j
	}
	for name, c := range map[string]struct {
		job   *route.Job
		poles map[string]int
		bill  map[string]float64
	}{
		"three-phase":   {readJob(t, arrangements+"/three-phase.yaml"), map[string]int{"is1": 3, "is2": 4}, map[string]float64{"isolator, three-pole, with enclosure": 1, "isolator, four-pole, with enclosure": 1}},
		"cooker":        {readJob(t, arrangements+"/cooker.yaml"), map[string]int{"csw": 2}, map[string]float64{"cooker switch": 1}},
		"timed fan":     {read(fan), map[string]int{"fi": 3}, map[string]float64{"isolator, three-pole": 1}},
		"heater":        {read(heater), map[string]int{"is1": 2}, map[string]float64{"isolator, double-pole": 1}},
		"no load":       {read(strings.Replace(heater, "[is1, wh]", "[is1]", 1)), map[string]int{"is1": 2}, map[string]float64{"isolator, double-pole": 1}},
		"of no circuit": {read(strings.Replace(heater, "[is1, wh]", "[s]", 1)), map[string]int{"is1": 0}, map[string]float64{"isolator": 1}},
	} {
		t.Run(name, func(t *testing.T) {
			got := map[string]int{}
			for i := range c.job.Places {
				if k := c.job.Places[i].Kind; k == route.Isolator || k == route.CookerSwitch {
					got[c.job.Places[i].Name] = c.job.Poles(i)
				}
			}
			if !maps.Equal(got, c.poles) {
				t.Errorf("poles %v, want %v", got, c.poles)
			}
			bill := map[string]float64{}
			for _, it := range c.job.Bill() {
				if strings.HasPrefix(it.Name, "isolator") || it.Name == "cooker switch" {
					bill[it.Name] = it.Net
				}
			}
			if !maps.Equal(bill, c.bill) {
				t.Errorf("bill %v, want %v", bill, c.bill)
			}
		})
	}
}

// TestIsolatorEnclosures: an isolator of a three-phase circuit brings its
// enclosure, so that its two screws are counted and no box; a plate of two
// poles, or of three for a fan, stands on a one-gang box (common practice, no
// source).
func TestIsolatorEnclosures(t *testing.T) {
	const job = `job: x
supply: {phases: 3}
places: {b: {is: board}, is1: {is: isolator}, m: {is: motor}}
runs:
  A: {from: b, to: is1, in: WAY, length: 3 m, bends: 0}
  B: {from: is1, to: m, in: WAY, length: 1 m, bends: 0}
circuits:
  p: {device: C16, cable: 2.5, phases: PHASES, neutral: no, points: [is1, m], demand: 10 A}
`
	for name, c := range map[string]struct {
		way, phases string
		boxes       float64
		item        string
	}{
		"three poles in conduit":  {"steel conduit 25", "3", 0, "isolator, three-pole, with enclosure"},
		"three poles on trunking": {"steel trunking 50x50", "3", 0, "isolator, three-pole, with enclosure"},
		"two poles in conduit":    {"steel conduit 25", "1", 1, "isolator, double-pole"},
		"two poles on trunking":   {"steel trunking 50x50", "1", 1, "isolator, double-pole"},
	} {
		text := strings.NewReplacer("WAY", c.way, "PHASES", c.phases).Replace(job)
		if c.phases == "1" {
			text = strings.Replace(text, "neutral: no, ", "", 1)
		}
		j, err := route.Parse("x.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		boxes, named, screws, supports := 0.0, false, 0.0, 0.0
		for _, it := range j.Bill() {
			switch {
			case strings.Contains(it.Name, "accessory box"):
				boxes += it.Net
			case it.Name == c.item:
				named = true
			case it.Name == "screw and plug":
				screws = it.Net
			case strings.HasPrefix(it.Name, "trunking fixing"):
				supports += 2 * it.Net
			case strings.HasPrefix(it.Name, "spacer-bar saddle"):
				supports += it.Net
			}
		}
		own := 2.0
		if c.phases == "1" && strings.Contains(c.way, "trunking") {
			own = 0 // the box is fixed in or on the trunking
		}
		if boxes != c.boxes || !named || screws != supports+own {
			t.Errorf("%s: %v boxes, want %v; %s named %t; %v screws for %v of supports", name, boxes, c.boxes, c.item, named, screws, supports)
		}
	}
}

// A job counts ways pole by pole; boards of three phases are sold by three.
func TestThreePoleWays(t *testing.T) {
	for poles, want := range map[int]string{1: "1 way of three poles, for 1 pole", 2: "1 way of three poles, for 2 poles", 3: "1 way of three poles (3 poles)", 12: "4 ways of three poles (12 poles)", 13: "5 ways of three poles, for 13 poles"} {
		if got := route.ThreePoleWays(poles); got != want {
			t.Errorf("%d: %s", poles, got)
		}
	}
}
