package fill

import (
	"fmt"
	"slices"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// trunkingSpace compares the sum of the trunking cable factors with the
// trunking factor. Both are areas, so a cable that is not tabulated counts
// with the area of its largest diameter, a flat one as a circle on its width.
func trunkingSpace(w *sum.Work, m *matter, r *route.Run, cables []cableCount, f Finding) Finding {
	f.Unit, f.Method = "mm²", "trunking factors"
	var total sum.Term
	var err error
	if total, err = sumOfFactors(w, cables, uk.TrunkingCableFactor); err != nil {
		f.Method = "space factor, internal area"
		total, err = sumOfAreas(w, cables, trunkingArea)
	}
	if err != nil {
		f.Verdict, f.Reason = Open, err.Error()
		w.Note(f.Reason)
		return f
	}
	total.Unit = "mm²"
	limit, err := trunkingLimit(w, r)
	f.Value = total.Value
	if err != nil {
		f.Verdict = Open
		f.Reason = fmt.Sprintf("no table has %s: give its factor, or its internal size (inside)", r.Enc)
		w.Note(f.Reason)
		return f
	}
	f.Limit = limit.Value
	if w.AtMost("fits when", total, limit) {
		f.Verdict = Pass
		return f
	}
	f.Verdict = Fail
	f.Instead = largerTrunkings(m, r, total.Value)
	f.Reason = instead(f.Instead, func() string { return severalTrunkings(m, r, cables, limit.Value) })
	w.Note(f.Reason)
	return f
}

// trunkingArea is a cable's factor where one is tabulated, else its area.
func trunkingArea(w *sum.Work, c factors.Cable) (sum.Term, error) {
	if v, err := uk.TrunkingCableFactor(c); err == nil {
		return v.Term("f(" + c.String() + ")"), nil
	}
	return area(w, c)
}

// area is that of a circle on the cable's largest diameter: π d²/4.
func area(w *sum.Work, c factors.Cable) (sum.Term, error) {
	d, err := uk.Diameter(c)
	if err != nil {
		return sum.Term{}, err
	}
	dt := sum.T(d.Term("d"))
	pi4 := sum.T(sum.Term{Symbol: "π/4", Value: 0.785398163397448})
	return w.Let("a("+c.String()+")", "area at the largest diameter", "mm²", sum.Times(pi4, sum.Square(dt))), nil
}

func sumOfAreas(w *sum.Work, cables []cableCount, one func(*sum.Work, factors.Cable) (sum.Term, error)) (sum.Term, error) {
	parts := make([]sum.Expr, 0, len(cables))
	for _, c := range cables {
		t, err := one(w, c.Cable)
		if err != nil {
			return sum.Term{}, err
		}
		t.Unit = ""
		parts = append(parts, sum.Times(sum.N(float64(c.Count)), sum.T(t)))
	}
	return w.Let("Σ", "sum of the cables' areas", "mm²", sum.Add(parts...)), nil
}

// trunkingLimit is the factor that the job states, the space factor of the
// internal size that it states, or the table's.
func trunkingLimit(w *sum.Work, r *route.Run) (sum.Term, error) {
	switch {
	case r.Stated.Factor.Said():
		return w.Given("trunking factor as stated"+from(r), sum.Term{Symbol: "trunking factor", Value: r.Stated.Factor.V, Unit: "mm²"}), nil
	case r.Stated.Inside.Known():
		share, err := uk.SpaceFactor(factors.Trunking)
		if err != nil {
			return sum.Term{}, err
		}
		wide := sum.T(sum.Term{Symbol: "W", Value: float64(r.Stated.Width), Unit: "mm"})
		high := sum.T(sum.Term{Symbol: "D", Value: float64(r.Stated.Height), Unit: "mm"})
		return w.Let("trunking factor", "share of the internal area, its size as stated"+from(r), "mm²", sum.Times(sum.T(share.Term("space factor")), wide, high)), nil
	}
	v, err := uk.TrunkingFactor(r.Enc)
	if err != nil {
		return sum.Term{}, err
	}
	t := v.Term("trunking factor")
	t.Unit = "mm²"
	return w.Given("what "+r.Enc.String()+" may hold", t), nil
}

func from(r *route.Run) string {
	if r.Stated.From == "" {
		return ""
	}
	return " (" + r.Stated.From + ")"
}

// largerTrunkings lists the trunkings that would hold the sum, by rising
// factor. Which is smallest depends on what is stocked, so a few are named.
func largerTrunkings(m *matter, r *route.Run, total float64) []string {
	var out []string
	for _, e := range uk.TrunkingSizes(r.Enc.Material) {
		v, err := uk.TrunkingFactor(e)
		if err != nil || !sum.AtMost(total, v.Num) || !stocked(m, e) {
			continue
		}
		if out = append(out, fmt.Sprintf("%s (%s)", e.SizeName(), sum.Figure(v.Num))); len(out) == 3 {
			break
		}
	}
	return out
}

// severalTrunkings says how many runs of the largest trunking hold the cables.
func severalTrunkings(m *matter, r *route.Run, cables []cableCount, most float64) string {
	name := r.Enc.String()
	for _, e := range uk.TrunkingSizes(r.Enc.Material) {
		if v, err := uk.TrunkingFactor(e); err == nil && v.Num > most && stocked(m, e) {
			name, most = e.String(), v.Num
		}
	}
	return "no trunking of the tables holds it in one run: " + severalRuns(name, most, cables, func(c factors.Cable) float64 {
		v, _ := trunkingArea(nil, c) // the sum of them has been made
		return v.Value
	})
}

func stocked(m *matter, e factors.Enclosure) bool {
	return len(m.Stock.Trunking) == 0 || slices.ContainsFunc(m.Stock.Trunking, func(s factors.Enclosure) bool {
		return s.Width == e.Width && s.Depth == e.Depth
	})
}

// conduitByArea judges a conduit with a cable that has no cable factor: the
// areas of all cables against a share of the bore. Sources differ on the share
// (35, 40 and 45 % are in print), so what fits is advice, not the table.
func conduitByArea(w *sum.Work, m *matter, r *route.Run, cables []cableCount, f Finding, why error) Finding {
	f.Unit, f.Method = "mm²", "space factor, internal area"
	w.Notef("%s, so the cables' areas are compared with a share of the bore", why)
	total, err := sumOfAreas(w, cables, area)
	if err != nil {
		f.Verdict, f.Reason = Open, err.Error()
		w.Note(f.Reason)
		return f
	}
	inside, err := uk.InsideArea(w, r.Enc)
	if err != nil {
		f.Value, f.Verdict, f.Reason = total.Value, Open, err.Error()
		w.Note(f.Reason)
		return f
	}
	share, err := conduitShare(w, m)
	if err != nil {
		f.Value, f.Verdict, f.Reason = total.Value, Open, err.Error()
		return f
	}
	limit := w.Let("room", "share of the bore that cables may take", "mm²", sum.Times(sum.T(share), sum.T(inside)))
	f.Value, f.Limit = total.Value, limit.Value
	percent := units.Format(share.Value * 100)
	if w.AtMost("fits when", total, limit) {
		f.Verdict = Advise
		f.Reason = "within " + percent + " % of the bore; no cable factor is tabulated, and sources differ on the share (35, 40 and 45 % are in print)"
		return f
	}
	f.Verdict = Fail
	f.Instead = largerThat(m, r, total.Value, func(e factors.Enclosure) (float64, error) {
		a, err := uk.InsideArea(nil, e)
		return share.Value * a.Value, err
	})
	f.Reason = "over " + percent + " % of the bore; sources differ on the share (35, 40 and 45 % are in print): " + instead(f.Instead, func() string {
		return severalRuns(r.Enc.String(), limit.Value, cables, func(c factors.Cable) float64 {
			v, _ := area(nil, c)
			return v.Value
		})
	})
	return f
}

func conduitShare(w *sum.Work, m *matter) (sum.Term, error) {
	if c := m.Choices.ConduitSpace; c.Said() {
		return w.Given("space factor that the job chooses", sum.Term{Symbol: "space factor", Value: c.V}), nil
	}
	v, err := uk.SpaceFactor(factors.Conduit)
	if err != nil {
		return sum.Term{}, err
	}
	return w.Given("space factor for conduit where no cable factor is tabulated", v.Term("space factor")), nil
}
