package route

import "tubewright/factors/units"

// Poles is how many live conductors an isolator or cooker switch at a place
// has to break: those that leave its load side, of each circuit once; where
// nothing lies behind it, those that reach it. 0 where no circuit does.
//
// Cost: linear in the cores of the job.
func (j *Job) Poles(place int) int {
	type conductor struct {
		circuit, group int
		pin            Pin
	}
	reach, leave := map[conductor]bool{}, map[conductor]bool{}
	for i := range j.Singles {
		s := &j.Singles[i]
		for _, t := range []Terminal{s.From, s.To} {
			if t.Place != place || !s.Live() {
				continue
			}
			c := conductor{circuit: s.Circuit, pin: t.Pin}
			if t.Pin == PinSL || t.Pin == PinSLOut {
				c.group = s.Group
			}
			if t.Pin.isLoadSide() {
				leave[c] = true
			} else {
				reach[c] = true
			}
		}
	}
	if len(leave) > 0 {
		return len(leave)
	}
	return len(reach)
}

// enclosedIsolators marks the isolators that come in an enclosure of their own
// and stand on no accessory box: those of three or four poles on a three-phase
// circuit. A plate of three poles, for a fan with a permanent line, stands on a
// box (common practice, no source).
//
// Cost: linear in the cores of the job, and in those isolators.
func (j *Job) enclosedIsolators() []bool {
	out := make([]bool, len(j.Places))
	for i := range j.Singles {
		s := &j.Singles[i]
		for _, t := range []Terminal{s.From, s.To} {
			if t.Place >= 0 && !out[t.Place] && j.Places[t.Place].Kind == Isolator && j.Circuits[s.Circuit].Lines() == 3 {
				out[t.Place] = j.Poles(t.Place) >= 3
			}
		}
	}
	return out
}

// isLoadSide reports whether a pin is on the load side of an isolator.
func (p Pin) isLoadSide() bool {
	for _, out := range loadSide {
		if p == out {
			return true
		}
	}
	return false
}

var poleWords = [...]string{"", "single", "double", "three", "four"}

// poleText says by how many poles a plate is ordered: ", double-pole".
func (j *Job) poleText(place int) string {
	switch n := j.Poles(place); {
	case n == 0:
		return ""
	case n < len(poleWords):
		return ", " + poleWords[n] + "-pole"
	default:
		return ", " + units.Format(float64(n)) + "-pole"
	}
}
