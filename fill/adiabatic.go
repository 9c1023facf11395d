package fill

import (
	"fmt"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// adiabatic judges whether line and cpc withstand the heat of a fault until the
// device has cleared it: k²S² against the energy let through. A circuit-breaker
// clears within 0.1 s, where its maker's let-through energy is needed; without
// it the answer is open, or advice by the limits of energy class 3. The cpc may
// be large enough by selection instead.
//
// Source: BS 7671, 434.5.2, 543.1.3, 543.1.4 and Table 54.7.
func adiabatic(w *sum.Work, m *matter, index int) Finding {
	c := &m.Circuits[index]
	f := Finding{Check: "adiabatic", Subject: "circuit " + c.Name, At: c.At, Value: none, Limit: none, Unit: "A²s"}
	parts, err := withstands(w, m, index)
	if err != nil {
		return open(w, f, err)
	}
	alongRun(w, m, index)
	covered(w, m, c, &parts[0])
	weakest, ok := weakestOf(parts)
	f.Limit = weakest.energy.Value
	switch {
	case !ok:
		f.Verdict = Advise
		f.Reason = "not by energy: the device protects the line against overload and can break the fault current (435.1, from memory), and the cpc is large enough by selection (Table 54.7)"
		w.Note(f.Reason)
		return f
	case c.Electrical.LetThru.Said():
		E := w.Given("let-through energy of the device, from its maker as the job gives it", sum.Term{Symbol: "I²t", Value: c.Electrical.LetThru.V, Unit: "A²s"})
		return judgeEnergy(w, f, E, weakest)
	case c.Device.V.Type != "":
		return classEnergy(w, m, f, c, weakest)
	}
	return fuseEnergy(w, m, index, f, parts)
}

// covered notes a line conductor whose device protects it against overload too
// and can break the fault current: the standard takes it as withstanding the
// fault. Where the let-through energy is given, that decides.
//
// Source: BS 7671, 435.1 (from memory).
func covered(w *sum.Work, m *matter, c *route.Circuit, line *withstand) {
	if c.Electrical.LetThru.Said() || !c.Electrical.Breaking.Said() || !m.Supply.Fault.Said() {
		return
	}
	Ipf := sum.Term{Symbol: "Ipf", Value: float64(m.Supply.Fault.V), Unit: "A"}
	Icn := sum.Term{Symbol: "Icn", Value: float64(c.Electrical.Breaking.V), Unit: "A"}
	w.Note("a device that protects the line against overload and can break the fault current is taken to protect it against the fault", ruleText("BS 7671 435.1: from memory"))
	line.selected = w.AtMost("breaking capacity", Ipf, Icn)
}

// weakestOf is the conductor that withstands least of those that the energy
// decides about; of all where it decides about none, and false.
func weakestOf(parts []withstand) (withstand, bool) {
	least := -1
	for i, p := range parts {
		if !p.selected && (least < 0 || p.energy.Value < parts[least].energy.Value) {
			least = i
		}
	}
	if least < 0 {
		return parts[0], false
	}
	return parts[least], true
}

// adiabatics counts the circuits to judge: all where the job gives the fault
// current at the origin, else those whose let-through energy it gives.
func adiabatics(j *route.Job) int {
	if j.Supply.Fault.Said() {
		return len(j.Circuits)
	}
	for i := range j.Circuits {
		if j.Circuits[i].Electrical.LetThru.Said() {
			return len(j.Circuits)
		}
	}
	return 0
}

// withstand is the energy that a conductor takes.
type withstand struct {
	name     string
	k, S     sum.Term
	energy   sum.Term // k²S²
	selected bool     // large enough by selection, so not by this sum
}

// withstands lists the line conductor and the protective conductor.
func withstands(w *sum.Work, m *matter, index int) ([]withstand, error) {
	c, cable := &m.Circuits[index], m.cableOf(index)
	if cable.CSA == 0 {
		return nil, errRound
	}
	line := withstand{name: "line", k: uk.LineK(cable.Insulation).Term("k"), S: sum.Term{Symbol: "S", Value: float64(cable.CSA), Unit: "mm²"}}
	line.energy = withstood(w, line)
	paths := m.PointPaths(index)
	copper, steel := false, false
	for i := range paths {
		copper, steel = copper || len(paths[i].CPCCores) > 0, steel || len(paths[i].Steel) > 0
	}
	out := []withstand{line}
	if copper {
		size, err := cpcSize(m, index, paths)
		if err != nil {
			return nil, err
		}
		cpc := withstand{name: "cpc", k: uk.BunchedK(cable.Insulation).Term("k"), S: sum.Term{Symbol: "S", Value: float64(size), Unit: "mm²"}}
		cpc.energy = withstood(w, cpc)
		cpc.selected = w.AtMost("cpc by selection", uk.SelectedCPC(w, cable.CSA), cpc.S)
		out = append(out, cpc)
	}
	if steel {
		tube, err := thinnestSteel(m, c, paths, cable)
		if err != nil {
			return nil, err
		}
		tube.energy = withstood(w, tube)
		out = append(out, tube)
	}
	return out, nil
}

func withstood(w *sum.Work, x withstand) sum.Term {
	if w.Keeps() {
		w.Given("the "+x.name+", k", x.k)
		w.Given("its cross-section", x.S)
	}
	return w.Let("k²S²", "energy that the "+x.name+" withstands", "A²s", sum.Times(sum.Square(sum.T(x.k)), sum.Square(sum.T(x.S))))
}

// cpcSize is the smallest copper cpc on the way to any point.
func cpcSize(m *matter, index int, paths []route.PointPath) (units.SquareMM, error) {
	least := units.SquareMM(0)
	for i := range paths {
		for _, k := range paths[i].CPCCores {
			size := m.Singles[k].Cable.CSA
			if m.Singles[k].Function == route.Unnamed {
				v, err := uk.TwinEarthCPC(m.cableOf(index).CSA)
				if err != nil {
					return 0, err
				}
				size = units.SquareMM(v.Num)
			}
			if least == 0 || size < least {
				least = size
			}
		}
	}
	return least, nil
}

// judgeEnergy compares the energy let through with what the weakest conductor
// withstands.
func judgeEnergy(w *sum.Work, f Finding, E sum.Term, weakest withstand) Finding {
	f.Value = E.Value
	if w.AtMost(weakest.name+" against the let-through energy", E, weakest.energy) {
		f.Verdict = Pass
		return f
	}
	f.Verdict = Fail
	f.Reason = fmt.Sprintf("the device lets through %s A²s, more than the %s of %s mm² withstands", sum.Figure(E.Value), weakest.name, sum.Figure(weakest.S.Value))
	w.Note(f.Reason)
	return f
}

// classEnergy judges a circuit-breaker whose maker's figure the job does not
// give: by the limits of energy class 3, which is advice, else not at all.
func classEnergy(w *sum.Work, m *matter, f Finding, c *route.Circuit, weakest withstand) Finding {
	f.Verdict = Open
	ask := "let-through: … A²s, from the maker's curve at the fault current"
	f.Reason = "it clears within 0.1 s, where the device's own let-through energy counts: give " + ask
	v, err := uk.ClassEnergy(c.Device.V.Type, c.Device.V.Rating)
	fault := sum.Term{Symbol: "Ipf", Value: float64(m.Supply.Fault.V), Unit: "A"}
	if err != nil || !m.Supply.Fault.Said() || fault.Value > 6000 {
		w.Note(f.Reason)
		return f
	}
	E := w.Given("energy class 3, type "+c.Device.V.Type+", up to 6 kA", v.Term("I²t"))
	f.Value = E.Value
	f.Method = "energy class 3"
	if w.AtMost(weakest.name+" against energy class 3", E, weakest.energy) {
		f.Verdict = Advise
		f.Reason = "within the limits of energy class 3 (from memory), if the device is of that class: see its marking, or give " + ask
	} else {
		f.Reason += fmt.Sprintf("; the limit of energy class 3 would be more than the %s mm² of the %s withstand", sum.Figure(weakest.S.Value), weakest.name)
	}
	w.Note(f.Reason)
	return f
}

// fuseEnergy judges a fuse at the far end, where the current is least: the time
// that the loop is held to bounds the energy. Near the origin the maker's curve
// is needed.
func fuseEnergy(w *sum.Work, m *matter, index int, f Finding, parts []withstand) Finding {
	f.Verdict = Open
	f.Reason = "near the origin a fuse clears within 0.1 s, where its own let-through energy counts: give let-through, from the maker's curve at the fault current"
	If, err := farFault(w, m, index)
	if err != nil {
		w.Note(f.Reason)
		return f
	}
	t, err := DisconnectionTime(w, m.Job, index)
	if err != nil {
		w.Note(f.Reason)
		return f
	}
	for _, p := range parts {
		S := uk.Adiabatic(w, If, t, p.k)
		if !w.AtMost(p.name+" at the far end, were the longest time taken", S, p.S) && !p.selected {
			f.Reason = fmt.Sprintf("at the far end %s mm² of %s is less than S for the longest time permitted: give let-through, from the fuse's curve", sum.Figure(p.S.Value), p.name)
		}
	}
	w.Note(f.Reason)
	return f
}
