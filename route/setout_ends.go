package route

import (
	"slices"
	"strconv"
	"strings"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
)

// ends works out where the tube ends at its two places.
func (s *setOut) ends() {
	if s.conduit() {
		w := s.w
		s.w = nil // each end writes it down
		s.ThreadMM = s.engaged().Value
		s.w = w
	}
	for i, place := range []int{s.run.From, s.run.To} {
		s.endNo = i
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

// end is the end of a conduit at a place. A spout takes the thread. Where there
// is none a coupler stands on the face and takes it, or an adaptor of plastic;
// where the job chooses female bushes the thread itself passes the face, between
// two lock-rings. Which boxes have spouts is the bill's own rule.
//
// Source: thread lengths of BS 4568 (read); faces and sockets as the tables
// place-face and entry-depth say.
func (s *setOut) end(e *TubeEnd, pl *Place) {
	o := s.worked(func() { s.measureEnd(e, pl) })
	e.Basis, e.Sum = o.Basis, o.Sum
}

// worked does something and keeps its sums and the tables behind them; without
// steps nothing.
func (s *setOut) worked(do func()) Worked {
	before := 0
	if s.w.Keeps() {
		before = len(s.w.Steps)
	}
	out := Worked{Basis: s.basis(do)}
	if !s.w.Keeps() {
		return out
	}
	var sums []string
	for _, step := range s.w.Steps[before:] {
		if step.Symbolic != "" && step.Symbolic != step.Numeric {
			sums = append(sums, step.Line())
		}
	}
	out.Sum = strings.Join(sums, "; ")
	return out
}

func (s *setOut) measureEnd(e *TubeEnd, pl *Place) {
	t := s.engaged()
	f, from := s.face(pl)
	entry, mouth, stands := s.entry(pl, t)
	face := s.w.Let(s.endSymbol("F"), pl.Name+": "+from+" to the "+mouth, "mm", sum.Add(append([]sum.Expr{sum.T(f)}, stands...)...))
	e.Entry, e.From, e.FaceMM, e.ThreadMM = entry, from, face.Value, t.Value
	s.setback[s.endNo] = s.w.Let(s.endSymbol("E"), pl.Name+": "+from+" to the end of the tube", "mm", sum.Sub(sum.T(face), sum.T(t)))
}

// endSymbol tells the lengths at the two ends apart: F1, F2.
func (s *setOut) endSymbol(symbol string) string {
	if !s.w.Keeps() {
		return symbol
	}
	return symbol + strconv.Itoa(s.endNo+1)
}

// basis does something and lists the tables that its steps look up, each once;
// without steps it lists none.
func (s *setOut) basis(do func()) string {
	if !s.w.Keeps() {
		do()
		return ""
	}
	before := len(s.w.Steps)
	do()
	var out []string
	for _, step := range s.w.Steps[before:] {
		for _, c := range step.Cites {
			if !slices.Contains(out, c.String()) {
				out = append(out, c.String())
			}
		}
	}
	if len(out) == 0 {
		return "as the job states"
	}
	return strings.Join(out, "; ")
}

// entry is how a tube enters a place, what its mouth is, and what stands on the
// face up to that mouth, which takes the thread t.
func (s *setOut) entry(pl *Place, t sum.Term) (name, mouth string, stands []sum.Expr) {
	spouts, smaller := s.reduced(pl)
	switch {
	case smaller:
		return "reducer", "mouth of the reducer in the spout", s.reducer(pl, spouts)
	case pl.Kind == Coupler || pl.Kind == Elbow || pl.Kind == InspectionBend || pl.Kind == InspectionTee:
		return pl.Kind.String(), "mouth of the fitting", []sum.Expr{sum.T(t)}
	case s.job.spouted(pl) && s.run.Enc.Material == factors.Plastic && s.job.metalBox(pl):
		return "adaptor", "mouth of the adaptor in the spout", []sum.Expr{sum.Times(sum.N(2), sum.T(t))}
	case s.job.spouted(pl):
		return "spout", "mouth of the spout", []sum.Expr{sum.T(t)}
	case s.run.Enc.Material == factors.Plastic:
		return "adaptor", "mouth of the adaptor on the face", []sum.Expr{sum.Times(sum.N(2), sum.T(t))}
	case s.job.Choices.Bushes.V == FemaleBush:
		return "lock-rings and female bush", "face that the thread passes", nil
	}
	return "coupler and male bush", "mouth of the coupler on the face", []sum.Expr{sum.Times(sum.N(2), sum.T(t))}
}

// engaged is the tube that a spout, coupler or socket takes.
func (s *setOut) engaged() sum.Term {
	if g, ok := bySize(s.job.Tools.Threads, s.run.Enc); ok {
		return s.w.Given("tube that a spout, coupler or socket takes, as the job states", sum.Term{Symbol: "t", Value: float64(g.V), Unit: "mm"})
	}
	OD := sum.Term{Symbol: "OD", Value: s.ODMM, Unit: "mm"}
	if s.run.Enc.Material == factors.Plastic {
		return s.w.Let("t", "depth of a plastic socket", "mm", sum.Times(sum.T(uk.EntryDepth("plastic socket").Term("d")), sum.T(OD)))
	}
	least, _, err := uk.Thread(s.run.Enc.Size)
	if err != nil {
		return s.w.Let("t", "thread, of a size that the table has not", "mm", sum.Times(sum.T(uk.EntryDepth("other thread").Term("d")), sum.T(OD)))
	}
	return s.w.Given("thread, the least of its tolerance so that little stays exposed", least.Term("t"))
}

// reach is the corner of a made bend to the end of the tube in it: as the job
// states, or the least centre-line radius that the guide lets a conduit be bent
// to (memory: measure the fitting).
func (s *setOut) reach() sum.Term {
	if !s.conduit() {
		return s.fittingReach()
	}
	if g, ok := bySize(s.job.Tools.Made, s.run.Enc); ok {
		return s.w.Given("made bend: corner to the end of the tube, as the job states", sum.Term{Symbol: "m", Value: float64(g.V), Unit: "mm"})
	}
	return s.w.Let("m", "made bend: corner to the end of the tube, taken as the least radius; measure the fitting", "mm", s.leastRadius())
}
