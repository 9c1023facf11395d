package route

import (
	"math"
	"slices"
)

// PlanFriction is the coefficient of friction that the choice of the feed end assumes. Only
// the comparison of the two ends rests on it.
const PlanFriction = 0.5

// ends are the places at the two ends of a pull.
func (j *Job) ends(p *Pull) (first, last int) {
	a := &j.Runs[p.Runs[0]]
	if len(p.Runs) == 1 {
		return a.From, a.To
	}
	shared := a.To
	if b := &j.Runs[p.Runs[1]]; b.From == a.From || b.To == a.From {
		shared = a.From
	}
	first, at := a.other(shared), shared
	for _, r := range p.Runs[1:] {
		at = j.Runs[r].other(at)
	}
	return first, at
}

// stretch is a straight piece of a pull, or an angle it turns by.
type stretch struct{ lengthM, degrees float64 }

// strain is the pull at the far end, in arbitrary units: each straight adds its
// length, each bend multiplies what is there by e to the friction times its
// angle.
//
// Source: the capstan equation.
func (j *Job) strain(p *Pull, backwards bool) float64 {
	var all []stretch
	at, _ := j.ends(p)
	for k, i := range p.Runs {
		r := &j.Runs[i]
		if k > 0 && j.Places[at].Kind == Elbow {
			all = append(all, stretch{degrees: 90})
		}
		own := r.stretches()
		if at == r.To && r.From != r.To {
			slices.Reverse(own)
		}
		at = r.other(at)
		all = append(all, own...)
	}
	if backwards {
		slices.Reverse(all)
	}
	pull := 0.0
	for _, x := range all {
		pull += x.lengthM
		pull *= math.Exp(PlanFriction * x.degrees * math.Pi / 180)
	}
	return pull
}

// stretches takes a run apart, from its From to its To. The bends of one that
// is not drawn are taken in its middle.
func (r *Run) stretches() []stretch {
	if !r.Drawn {
		half := stretch{lengthM: float64(r.Length) / 2}
		return []stretch{half, {degrees: r.Bends.Degrees}, half}
	}
	var out []stretch
	var was Point
	for _, l := range r.Legs {
		switch {
		case l.IsSet() && l.Double:
			out = append(out, stretch{degrees: 4 * float64(l.counted())})
		case l.IsSet():
			out = append(out, stretch{degrees: 2 * float64(l.counted())})
		default:
			if was != (Point{}) {
				out = append(out, stretch{degrees: math.Acos(max(-1, min(1, was.Dot(l.Dir)))) * 180 / math.Pi})
			}
			out = append(out, stretch{lengthM: float64(l.Length)})
			was = l.Dir
		}
	}
	return out
}
