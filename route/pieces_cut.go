package route

import (
	"math"
	"slices"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route/cut"
)

// CutList is how the pieces of one enclosure are cut from stock.
type CutList struct {
	Enclosure factors.Enclosure
	Pieces    []CutPiece
	Stock     cut.Stock
	Plan      cut.Plan
}

// CutPiece is one piece of a cut list.
type CutPiece struct {
	Run    int
	Piece  TubePiece
	LongMM int // to the nearest millimetre
}

// cutEffort keeps a cut list of hundreds of pieces to a second or two.
const cutEffort = 200_000_000

// CutLists cuts the pieces of every run, one list an enclosure in the order in
// which the job first names it. The error says which stock length or offcut
// cannot be used.
//
// Cost: the search for the fewest lengths is bounded; see package cut.
func (j *Job) CutLists() ([]CutList, error) { return j.cutLists(func(int) bool { return true }) }

// cutLists cuts the pieces of some of the runs.
func (j *Job) cutLists(of func(run int) bool) ([]CutList, error) {
	var out []CutList
	at := map[factors.Enclosure]int{}
	for i := range j.Runs {
		if !of(i) {
			continue
		}
		e := j.Runs[i].Enc
		k, ok := at[e]
		if !ok {
			k = len(out)
			at[e] = k
			out = append(out, CutList{Enclosure: e, Stock: j.cutStock(e)})
		}
		for _, p := range j.Shape(i).Pieces {
			long := int(math.Round(p.Long()))
			if long > out[k].Stock.Length || long < 1 {
				continue // the set-out has said that it cannot be made
			}
			out[k].Pieces = append(out[k].Pieces, CutPiece{i, p, long})
		}
	}
	for k := range out {
		l := &out[k]
		pieces := make([]cut.Piece, len(l.Pieces))
		for i, p := range l.Pieces {
			pieces[i] = cut.Piece{Name: p.Piece.Name, Length: p.LongMM, Count: 1}
		}
		var err error
		if l.Plan, err = cut.Solve(pieces, l.Stock); err != nil {
			return nil, err
		}
	}
	return slices.DeleteFunc(out, func(l CutList) bool { return len(l.Pieces) == 0 }), nil
}

// cutStock is what an enclosure is cut from, in whole millimetres: an offcut is
// taken a little short rather than long.
func (j *Job) cutStock(e factors.Enclosure) cut.Stock {
	mm := func(g Given[float64]) int { return int(math.Round(g.V)) }
	s := cut.Stock{Length: int(math.Floor(float64(j.StockLength(e).MM()) + 1e-6)), Effort: cutEffort,
		Kerf: mm(j.practice(j.Tools.Kerf, "kerf")), Useful: mm(j.practice(j.Tools.Keep, "least offcut"))}
	for _, o := range j.Stock.Offcuts[e.String()] {
		if long := int(math.Floor(float64(o.V.MM()) + 1e-6)); long > 0 {
			s.Offcuts = append(s.Offcuts, long)
		}
	}
	return s
}

func (j *Job) practice(g Given[units.Millimetres], what string) Given[float64] {
	if g.Said() {
		return Given[float64]{V: float64(g.V), At: g.At}
	}
	return Given[float64]{V: uk.SetOutPractice(what).Num}
}

// WastePercent is what is neither used nor worth keeping, in percent of the
// lengths and offcuts cut.
func (l *CutList) WastePercent(w *sum.Work) sum.Term {
	mm := func(symbol string, v int) sum.Expr {
		return sum.T(sum.Term{Symbol: symbol, Value: float64(v), Unit: "mm"})
	}
	lost := w.Let("W", "lost: sawdust, and leftovers too short to keep", "mm", sum.Sub(mm("cut up", l.Plan.Drawn), sum.Add(mm("pieces", l.Plan.Pieces), mm("kept", l.Plan.Kept))))
	if l.Plan.Drawn == 0 {
		return sum.Term{Symbol: "waste", Unit: "%"}
	}
	return w.Let("waste", "share lost", "%", sum.Over(sum.Times(sum.N(100), sum.T(lost)), mm("cut up", l.Plan.Drawn)))
}
