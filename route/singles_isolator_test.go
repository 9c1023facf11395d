package route_test

import (
	"fmt"
	"strings"
	"testing"

	"tubewright/route"
)

// TestBehindIsolator: whatever the order, the loop and the joints, every live
// core that ends at a load behind an isolator comes from that isolator, the
// permanent line of a timed fan among them: with the isolator off the load is
// dead (common practice, no source).
func TestBehindIsolator(t *testing.T) {
	const job = `job: x
places: {b: {is: board}, bx: {is: box, joints: JOINTS}, s1: {is: socket}, s2: {is: socket}, is1: {is: isolator}, wh: {is: heater}, sw: {is: switch, gangs: 2}, l1: {is: light}, fi: {is: isolator}, fan: {is: timed fan}, em: {is: emergency light}}
runs:
  A: {from: b, to: bx, in: steel conduit 25, length: 3 m, bends: 0}
  B: {from: bx, to: s1, in: steel conduit 25, length: 2 m, bends: 0}
  C: {from: bx, to: wh, in: steel conduit 25, length: 1 m, bends: 0}
  D: {from: wh, to: is1, in: steel conduit 25, length: 4 m, bends: 0}
  E: {from: bx, to: s2, in: steel conduit 25, length: 5 m, bends: 0}
  F: {from: bx, to: sw, in: steel conduit 25, length: 1.5 m, bends: 0}
  G: {from: bx, to: l1, in: steel conduit 25, length: 2.5 m, bends: 0}
  H: {from: bx, to: fan, in: steel conduit 25, length: 0.7 m, bends: 0}
  I: {from: fan, to: fi, in: steel conduit 25, length: 3 m, bends: 0}
  J: {from: bx, to: em, in: steel conduit 25, length: 2.2 m, bends: 0}
circuits:
  p: {device: B16, cable: 2.5, points: [s1, is1, wh, s2], order: ORDER}
  l: {device: B6, cable: 1.5, arrangement: lighting, loop: LOOP, order: ORDER, groups: [{switches: [sw], lights: [l1, fi, fan]}, {switches: [sw], lights: [em]}]}
`
	for _, joints := range []string{"no", "yes"} {
		for _, order := range []string{"as listed", "shortest"} {
			for _, loop := range []string{"at switches", "at lights"} {
				t.Run(fmt.Sprint(joints, order, loop), func(t *testing.T) {
					text := strings.NewReplacer("JOINTS", joints, "ORDER", order, "LOOP", loop).Replace(job)
					j, err := route.Parse("x.yaml", []byte(text))
					if err != nil {
						t.Fatal(err)
					}
					ends := map[string]int{}
					for _, s := range j.Singles {
						if s.Function == route.CPC {
							continue
						}
						for _, two := range [][2]route.Terminal{{s.From, s.To}, {s.To, s.From}} {
							load, other := j.Places[two[0].Place].Name, j.Places[two[1].Place].Name
							isolator, ok := map[string]string{"wh": "is1", "fan": "fi"}[load]
							if !ok {
								continue
							}
							ends[load+" "+two[0].Pin.String()]++
							if other != isolator {
								t.Errorf("%s of %s comes from %s", s.Function, load, other)
							}
						}
					}
					for _, want := range []string{"wh L", "wh N", "fan L", "fan N", "fan SL"} {
						if ends[want] == 0 {
							t.Errorf("nothing at %s", want)
						}
					}
				})
			}
		}
	}
}
