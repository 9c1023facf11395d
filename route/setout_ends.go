package route

import (
	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
)

// ends works out where the tube ends at its two places.
func (s *setOut) ends() {
	for i, place := range []int{s.run.From, s.run.To} {
		s.Ends[i] = TubeEnd{Place: place, Entry: "open end"}
		switch {
		case place < 0:
		case s.conduit():
			s.end(&s.Ends[i], &s.job.Places[place])
		default:
			s.trunkingEnd(&s.Ends[i], &s.job.Places[place])
		}
	}
}

// end is the end of a conduit at a place. A spout takes the thread; where there
// is none a coupler stands on the face and takes it; a plastic socket is taken
// to be as deep as the tube is wide (common practice, no source).
//
// Source: thread lengths of BS 4568 (read); faces as the table place-face says.
func (s *setOut) end(e *TubeEnd, pl *Place) {
	t := s.engaged()
	entry := "coupler and male bush"
	if s.run.Enc.Material == factors.Plastic {
		entry = "adaptor"
	}
	var face sum.Term
	kind := pl.Kind
	if kind.round() && !(&takeoff{job: s.job}).spouted(pl) {
		kind = Outlet // an adaptable box is entered as an accessory's box is
	}
	switch kind {
	case Box, Light, EmergencyLight:
		e.Entry = "spout"
		f := uk.PlaceFace("round box").Term("f")
		face = s.w.Let("F", pl.Name+": centre to the mouth of the spout", "mm", sum.Add(sum.T(f), sum.T(t)))
	case Coupler:
		e.Entry = "coupler"
		face = sum.Term{Symbol: "F", Value: t.Value, Unit: "mm"}
	case Elbow, InspectionBend:
		e.Entry = pl.Kind.String()
		face = s.w.Let("F", pl.Name+": corner to the mouth of the fitting", "mm", sum.Add(sum.T(s.reach()), sum.T(t)))
	case Socket, Switch, Isolator, CookerSwitch, Outlet:
		e.Entry = entry
		f := uk.PlaceFace("accessory").Term("f")
		face = s.w.Let("F", pl.Name+": centre to the mouth of the coupler on the face", "mm", sum.Add(sum.T(f), sum.Times(sum.N(2), sum.T(t))))
	default:
		e.Entry = entry
		face = s.w.Let("F", pl.Name+": where the conduit enters, to the mouth of the coupler on the face", "mm", sum.Times(sum.N(2), sum.T(t)))
	}
	if g, ok := s.job.Tools.Faces[pl.Kind.String()]; ok {
		face = s.w.Given(pl.Name+": centre to the mouth that the tube enters, as the job states", sum.Term{Symbol: "F", Value: float64(g.V), Unit: "mm"})
	}
	e.FaceMM, e.ThreadMM = face.Value, t.Value
	s.w.Let("E", pl.Name+": centre to the end of the tube", "mm", sum.Sub(sum.T(face), sum.T(t)))
}

// engaged is the tube that a spout, coupler or socket takes.
func (s *setOut) engaged() sum.Term {
	if s.run.Enc.Material == factors.Plastic {
		return s.w.Given("depth of a plastic socket, one diameter (common practice, no source)", sum.Term{Symbol: "t", Value: s.ODMM, Unit: "mm"})
	}
	least, _, err := uk.Thread(s.run.Enc.Size)
	if err != nil {
		return s.w.Given("thread; the table ends below this size, one half diameter taken (common practice, no source)", sum.Term{Symbol: "t", Value: s.ODMM / 2, Unit: "mm"})
	}
	return s.w.Given("thread, the least of its tolerance so that little stays exposed", least.Term("t"))
}

// reach is the corner of a made bend to the end of the tube in it: as the job
// states, or the radius (common practice, no source: measure the fitting).
func (s *setOut) reach() sum.Term {
	if !s.conduit() {
		return s.fittingReach()
	}
	if g, ok := bySize(s.job.Tools.Made, s.run.Enc); ok {
		return s.w.Given("made bend: corner to the end of the tube, as the job states", sum.Term{Symbol: "m", Value: float64(g.V), Unit: "mm"})
	}
	return s.w.Given("made bend: corner to the end of the tube, taken as the radius; measure the fitting", sum.Term{Symbol: "m", Value: s.R.Value, Unit: "mm"})
}
