package route

import (
	"fmt"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
)

// reduced is the size of a circular box's spouts where it is larger than the
// tube, so that a reducer stands in the spout, as in the bill.
func (s *setOut) reduced(pl *Place) (spouts factors.Enclosure, ok bool) {
	if !s.job.spouted(pl) {
		return spouts, false
	}
	for _, r := range pl.Runs {
		if e := s.job.Runs[r].Enc; e.Size > spouts.Size {
			spouts = e
		}
	}
	return spouts, spouts.Size > s.run.Enc.Size
}

// reducer is the way from the face to the mouth of a reducer: the spout takes
// its thread, which is that of the larger size, and its flange stands on the
// spout. How thick that is differs by maker: it is taken as nought, and said.
func (s *setOut) reducer(pl *Place, spouts factors.Enclosure) []sum.Expr {
	s.advise(fmt.Sprintf("at %s a reducer %s to %s mm stands in the spout, its flange taken as nought: measure it and cut the tube so much shorter at that end", pl.Name, spouts.SizeName(), s.run.Enc.SizeName()))
	return []sum.Expr{sum.T(s.spoutDepth(spouts))}
}

// spoutDepth is the tube that a spout of another size takes.
func (s *setOut) spoutDepth(e factors.Enclosure) sum.Term {
	if g, ok := bySize(s.job.Tools.Threads, e); ok {
		return s.w.Given("depth of the spout of "+e.SizeName()+" mm, as the job states", sum.Term{Symbol: "ts", Value: float64(g.V), Unit: "mm"})
	}
	if e.Material != factors.Plastic {
		if least, _, err := uk.Thread(e.Size); err == nil {
			return s.w.Given("depth of the spout of "+e.SizeName()+" mm: its least thread", least.Term("ts"))
		}
	}
	OD := sum.Term{Symbol: "ODs", Value: float64(e.Size), Unit: "mm"}
	if v, err := uk.OutsideDiameter(e); err == nil {
		OD = v.Term("ODs")
	}
	entry := "other thread"
	if e.Material == factors.Plastic {
		entry = "plastic socket"
	}
	return s.w.Let("ts", "depth of the spout of "+e.SizeName()+" mm", "mm", sum.Times(sum.T(uk.EntryDepth(entry).Term("d")), sum.T(OD)))
}
