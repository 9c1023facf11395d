package fill

import "tubewright/route"

// PointValues is what a meter should read at a point, and what a fault and the
// load do there. A value that the job does not give is NaN.
type PointValues struct {
	Place                        int     // -1 where a circuit's runs end at no place
	R1, R2, Rn, R1R2             float64 // ohm at 20 °C
	ZsCold, ZsHot, ZsMax, ZsTest float64 // ohm: at 20 °C, at working temperature, permitted, permitted of a cold measurement
	DropV, DropPct               float64 // from the origin
}

// Values works out every point of a circuit, in wiring order: one for a
// circuit that only names its runs.
func Values(j *route.Job, circuit int) []PointValues {
	m := newMatter(j)
	paths := j.PointPaths(circuit)
	most, test := none, none
	if limit, err := zsLimitOf(nil, m, circuit); err == nil {
		most, test = limit.Zs.Value, limit.Test.Value
	}
	external, zeErr := externalLoop(nil, m)
	drops := pointDrops(m, circuit, paths)
	out := make([]PointValues, len(paths))
	for i, p := range paths {
		v := PointValues{Place: p.Place, R1: none, R2: none, Rn: none, R1R2: none, ZsCold: none, ZsHot: none, ZsMax: most, ZsTest: test, DropV: drops[i].V, DropPct: drops[i].Pct}
		if r, err := pointResistance(nil, m, circuit, &paths[i]); err == nil {
			v.R1, v.R2, v.Rn, v.R1R2 = r.R1.Value, r.R2.Value, r.Rn.Value, r.R1.Value+r.R2.Value
			if zeErr == nil {
				v.ZsCold, v.ZsHot = loopOf(m, circuit, r, external)
			}
		}
		out[i] = v
	}
	return out
}

// RingEnds is what a ring's conductors read from end to end at 20 °C, in ohms.
// It reports false for other circuits and where the cpc is no ring of copper.
func RingEnds(j *route.Job, circuit int) (r1, rn, r2 float64, ok bool) {
	m := newMatter(j)
	var ends [3]float64
	for k, f := range []route.Function{route.Line, route.Neutral, route.CPC} {
		cores := j.RingCores(circuit, f)
		if cores == nil {
			return 0, 0, 0, false
		}
		ohm, err := coresOhm(m, circuit, f, cores)
		if err != nil {
			return 0, 0, 0, false
		}
		ends[k] = ohm
	}
	return ends[0], ends[1], ends[2], true
}
