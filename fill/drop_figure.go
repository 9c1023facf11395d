package fill

import (
	"errors"
	"math"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

// dropFigure is what a circuit's cable loses, in mV/A/m, for loads of that
// power factor, 0 where none is stated: then the whole of the table's figure is
// taken, as if it were all in phase with the load.
//
//	up to 16 mm²  cosφ × r
//	above         cosφ × r + sinφ × x
//
// with Ct on r where the job asks for the conductor's temperature.
//
// Source: BS 7671, Appendix 4, sections 6.1 and 6.2 (memory).
func dropFigure(w *sum.Work, m *matter, index int, cosphi float64) (sum.Term, error) {
	c := &m.Circuits[index]
	parts, err := uk.Drop(m.cableOf(index), c.Lines())
	if err != nil {
		return sum.Term{}, err
	}
	if cosphi == 0 && parts.Reactive {
		if m.Choices.DropHot.V {
			w.Note("above 16 mm² the correction for temperature needs the power factor of the load: left out")
		}
		return w.Given("voltage drop of the cable", parts.Z.Term("mV/A/m")), nil
	}
	if (cosphi == 0 || cosphi == 1) && !m.Choices.DropHot.V {
		return w.Given("voltage drop of the cable", parts.R.Term("mV/A/m")), nil
	}
	if !w.Keeps() && !parts.Reactive && !m.Choices.DropHot.V {
		return sum.Term{Symbol: "mV/A/m", Value: cosphi * parts.R.Num, Unit: parts.R.Unit}, nil
	}
	r := w.Given("voltage drop of the cable", parts.R.Term("r"))
	if m.Choices.DropHot.V {
		Ct, err := dropCorrection(w, m, index)
		if err != nil {
			return r, err
		}
		r = w.Let("Ct r", "at the conductors' temperature", r.Unit, sum.Times(sum.T(Ct), sum.T(r)))
	}
	if cosphi == 0 || cosphi == 1 {
		r.Symbol = "mV/A/m"
		return r, nil
	}
	var x sum.Term
	if parts.Reactive {
		x = w.Given("its reactive part", parts.X.Term("x"))
	}
	return uk.DropAtFactor(w, r, x, cosphi), nil
}

var errFuseCt = errors.New("no correction for temperature is published for circuits on semi-enclosed fuses: choices: {drop at temperature: no}")

// dropCorrection is Ct on the stretch where the conductors run hottest, with
// the whole design current.
func dropCorrection(w *sum.Work, m *matter, index int) (sum.Term, error) {
	c := &m.Circuits[index]
	if c.Device.V.Standard == "BS 3036" {
		return sum.Term{}, errFuseCt
	}
	Ib := designCurrent(nil, m, c)
	worst, most := -1, math.Inf(-1)
	for _, g := range c.Runs {
		Ct, err := stretchCt(nil, m, index, g.V, Ib)
		if err != nil {
			return sum.Term{}, err
		}
		if Ct.Value > most {
			worst, most = g.V, Ct.Value
		}
	}
	if worst < 0 {
		return sum.Term{}, errors.New("the circuit passes no run")
	}
	w.Notef("the conductors run hottest in run %s", m.Runs[worst].Name)
	return stretchCt(w, m, index, worst, Ib)
}

func stretchCt(w *sum.Work, m *matter, index, run int, Ib sum.Term) (sum.Term, error) {
	c, cable := &m.Circuits[index], m.cableOf(index)
	It, err := uk.Rating(cable, method(&m.Runs[run]), c.Loaded())
	if err != nil {
		return sum.Term{}, err
	}
	Ca, err := uk.Ambient(cable.Insulation, max(30, m.AmbientOf(run)))
	if err != nil {
		return sum.Term{}, err
	}
	g := m.group(run)
	Cg, err := g.bears(index).factor(w)
	if err != nil {
		return sum.Term{}, err
	}
	w.Given("what the cable carries alone", It.Term("It"))
	return uk.DropCorrection(w, cable.Insulation.MaxTemp(), Ca.Term("Ca"), Cg, Ib, It.Term("It")), nil
}

// largerSize names the smallest size of the same make, larger than the
// circuit's, with which the job passes a trial; "" when none does.
func largerSize(m *matter, index int, passes func(*matter) bool) string {
	c := &m.Circuits[index]
	if c.Cable.V.Form != factors.Single || m.swapped >= 0 {
		return ""
	}
	for _, size := range uk.StandardSizes() {
		if size <= c.Cable.V.CSA {
			continue
		}
		cable := c.Cable.V
		if cable.CSA = size; size >= 4 && cable.Strands == factors.Solid {
			cable.Strands = factors.Stranded
		}
		if passes(&matter{Job: m.Job, swapped: index, cable: cable}) {
			return units.Format(float64(size)) + " mm²"
		}
	}
	return ""
}
