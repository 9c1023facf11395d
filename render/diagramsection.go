package render

import (
	"fmt"
	"math"

	"tubewright/factors"
	"tubewright/factors/uk"
	"tubewright/route"
)

// mostSectionCables is how many cables a cross-section shows: more take long
// to lay out and cannot be told apart.
const mostSectionCables = 80

// sectionOf is the cross-section of a run, to go into a square of that side.
// Where a published figure is missing it says so and is not drawn.
func sectionOf(j *route.Job, run int, boxMM float64) sectionView {
	r := &j.Runs[run]
	cores := j.Cores(run)
	v := sectionView{}
	wall, err := wallOf(r)
	if err != nil {
		v.note = "no published bore"
		return v
	}
	v.spec = SectionSpec{WidthMM: float64(r.Enc.Size), WallMM: wall}
	if r.Enc.Kind == factors.Trunking {
		v.spec.WidthMM, v.spec.HeightMM = float64(r.Enc.Width), float64(r.Enc.Depth)
		if r.Stated.Inside.Known() {
			v.spec.WidthMM, v.spec.HeightMM = float64(r.Stated.Width)+2*wall, float64(r.Stated.Height)+2*wall
		}
	}
	v.fit(boxMM)
	if n := coreCount(cores); n > mostSectionCables {
		v.note = fmt.Sprintf("%d cables, not drawn", n)
		return v
	}
	for _, c := range cores {
		k, err := sectionCable(j, c)
		if err != nil {
			v.note, v.spec.Cables = "no published diameter", nil
			return v
		}
		for range c.Count {
			v.spec.Cables = append(v.spec.Cables, k)
		}
	}
	return v
}

// statedWall is drawn where a job states the inside of a trunking; the figure
// is ours.
const statedWall = 1.2

// wallOf is the wall that is drawn: half of what the bore leaves of a tube;
// for trunking the wall that leaves the internal area, (W − 2t)(D − 2t) = A.
func wallOf(r *route.Run) (float64, error) {
	e := r.Enc
	if e.Kind == factors.Conduit {
		bore, err := uk.Bore(e)
		return (float64(e.Size) - bore.Num) / 2, err
	}
	if r.Stated.Inside.Known() || r.Stated.Factor.Said() {
		return statedWall, nil
	}
	A, err := uk.InsideArea(nil, e)
	if err != nil {
		return 0, err
	}
	W, D := float64(e.Width), float64(e.Depth)
	root := math.Sqrt(max(0, (W-D)*(W-D)+4*A.Value))
	return max(0.4, (W+D-root)/4), nil
}

// sectionKinds are the looks of single cores by colour.
var sectionKinds = [...]CableKind{route.NoColour: CoreOther, route.Brown: CoreL1, route.Black: CoreL2,
	route.Grey: CoreL3, route.Blue: CoreN, route.GreenYellow: CoreCPC}

// sectionLetters tell cores of one colour apart by what they do; the others
// take the letter of their colour.
var sectionLetters = map[route.Function]string{route.SwitchedLine: "SL", route.StrapperOne: "S1",
	route.StrapperTwo: "S2", route.Common: "C"}

func sectionCable(j *route.Job, c route.Core) (SectionCable, error) {
	d, err := uk.Diameter(c.Cable)
	if err != nil {
		return SectionCable{}, err
	}
	k := SectionCable{DiameterMM: d.Num}
	switch c.Cable.Form {
	case factors.Round:
		k.Kind = RoundSheathed
	case factors.TwinEarth:
		k.Kind = FlatTwin
		h, err := uk.Tables().Table("flat-twin-and-earth").At(factors.Num(c.Cable.CSA), factors.Word("thickness"))
		if err != nil {
			return k, err
		}
		k.HeightMM = h.Num
	default:
		k.Kind, k.Letter = sectionKinds[c.Colour], sectionLetters[c.Function]
		if k.Kind == CoreL1 && c.Circuit >= 0 && j.Circuits[c.Circuit].Lines() == 3 {
			k.Letter = "L1" // beside L2 and L3
		}
	}
	return k, nil
}
