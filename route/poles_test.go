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
		"three-phase":   {readJob(t, arrangements+"/three-phase.yaml"), map[string]int{"is1": 3, "is2": 4}, map[string]float64{"isolator, three-pole": 1, "isolator, four-pole": 1}},
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
