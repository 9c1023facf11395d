package route

import (
	"math"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
)

// face is the side of a place that a tube enters, before what stands on it is
// added, and what it is measured from. A length that the job states means the
// same and takes the place of the table's.
//
// Source: table place-face; of a trunking half of its nominal size (geometry).
func (s *setOut) face(pl *Place) (f sum.Term, from string) {
	from = "centre"
	if g, ok := s.job.Tools.Faces[pl.Kind.String()]; ok {
		return s.w.Given(pl.Name+": centre to the face, as the job states", sum.Term{Symbol: s.endSymbol("f"), Value: float64(g.V), Unit: "mm"}), from
	}
	nought := sum.Term{Symbol: s.endSymbol("f"), Unit: "mm"}
	given := func(place string) sum.Term {
		return s.w.Given(pl.Name+": centre to the face", uk.PlaceFace(place).Term(s.endSymbol("f")))
	}
	switch {
	case pl.Kind == Coupler:
		return nought, "middle of the coupler"
	case pl.Kind == Elbow || pl.Kind == InspectionBend || pl.Kind == InspectionTee:
		return s.reach(), "corner"
	case s.job.spouted(pl):
		return given("round box"), from
	case pl.Kind.round():
		return given("adaptable box"), from
	case pl.Kind.surface() && boxGangs(pl) == "two-gang" && s.leavesAside(pl):
		return given("side of a two-gang accessory"), from
	case pl.Kind.surface():
		return given("accessory"), from
	case pl.Kind == Entry:
		return s.trunkingFace(pl)
	}
	edge := "point where the path meets the edge of the " + pl.Kind.String()
	return s.w.Given(pl.Name+": the path is taken to start and end at the edge", nought), edge
}

// leavesAside reports whether the run leaves a place to the left or right.
func (s *setOut) leavesAside(pl *Place) bool {
	out, drawn := s.job.leaves(pl, s.Run)
	return drawn && math.Abs(out.X) > math.Abs(out.Y) && math.Abs(out.X) > math.Abs(out.Z)
}

// trunkingFace is the side of the trunking that a conduit leaves: half of the
// width to an edge, half of the depth to lid or back. Out of the end of a
// trunking it leaves where the trunking ends.
func (s *setOut) trunkingFace(pl *Place) (f sum.Term, from string) {
	f, from = sum.Term{Symbol: s.endSymbol("f"), Unit: "mm"}, "point where the path meets the trunking"
	out, ok := s.job.leaves(pl, s.Run)
	if !ok {
		return f, from
	}
	side := ""
	for _, r := range pl.Runs {
		along, drawn := s.job.leaves(pl, r)
		if s.job.isConduit(r) || !drawn || math.Abs(along.Dot(out)) > nearly {
			continue
		}
		half, which := float64(s.job.Runs[r].Enc.Width)/2, "width"
		if math.Abs(s.job.lidAt(pl, r).Dot(out)) > nearly {
			half, which = float64(s.job.Runs[r].Enc.Depth)/2, "depth"
		}
		if half > f.Value {
			f.Value, side = half, "half of the "+which+" of "+s.job.Runs[r].Enc.String()
		}
	}
	if side == "" {
		return f, from
	}
	return s.w.Given(pl.Name+": centre line of the trunking to the side that the conduit leaves by, "+side, f), "centre line of the trunking"
}

// lids finds where the lid points as a drawn body comes to each of its runs: it
// follows the trunking's bends from its first end.
func (j *Job) lids(body []BodyRun) {
	if !j.Runs[body[0].Run].Drawn {
		return
	}
	was := body[0].legs(j)[0].Dir
	if d := mergedLegs(body[0].legs(j)); len(d) > 0 {
		was = d[0].Dir
	}
	lid := lidSide(was)
	for i := range body {
		body[i].was, body[i].lid = was, lid
		was, lid = j.lidAfter(body[i])
	}
}

// lidAfter is the way of a run where its body leaves it, and where the lid
// points there.
func (j *Job) lidAfter(b BodyRun) (was, lid Point) {
	was, lid = b.was, b.lid
	for _, l := range mergedLegs(b.legs(j)) {
		if l.Dir != was {
			_, lid = trunkingBend(was, l.Dir, lid)
		}
		was = l.Dir
	}
	return was, lid
}

// lidAt is where the lid of a trunking points at one of its places.
func (j *Job) lidAt(pl *Place, run int) Point {
	b := j.body(run)[j.inBody[run].at]
	if from, _ := b.ends(j); &j.Places[from] == pl {
		return b.lid
	}
	_, lid := j.lidAfter(b)
	return lid
}
