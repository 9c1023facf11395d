package route

import "tubewright/factors"

// cutLengths is how many new lengths the cut list takes of each conduit whose
// runs are all drawn and can all be cut. Trunking is left out: its bends are
// fittings, which the cut list does not part it at.
func (j *Job) cutLengths() map[factors.Enclosure]int {
	whole := map[factors.Enclosure]bool{}
	any := false
	for i := range j.Runs {
		r := &j.Runs[i]
		was, met := whole[r.Enc]
		whole[r.Enc] = r.Enc.Kind == factors.Conduit && r.Drawn && (was || !met)
		any = any || whole[r.Enc]
	}
	if !any {
		return nil
	}
	lists, err := j.CutLists()
	if err != nil {
		return nil // command cut says why; the bill goes by the allowance
	}
	out := map[factors.Enclosure]int{}
	for i := range lists {
		if l := &lists[i]; whole[l.Enclosure] && j.cutWhole(l) {
			out[l.Enclosure] = l.Plan.New
		}
	}
	return out
}

// cutWhole reports whether a cut list has every run of its enclosure, none
// left out for a piece that cannot be made.
func (j *Job) cutWhole(l *CutList) bool {
	in := map[int]int{}
	for _, p := range l.Pieces {
		in[p.Run]++
	}
	for i := range j.Runs {
		if n := in[i]; j.Runs[i].Enc == l.Enclosure && (n == 0 || n != len(j.SetOut(nil, i).Pieces)) {
			return false
		}
	}
	return true
}

// lengthRule says how the lengths of an enclosure are found.
func (t *takeoff) lengthRule(e factors.Enclosure) string {
	if _, ok := t.cut[e]; ok {
		return ruleCutLength
	}
	return ruleLength
}
