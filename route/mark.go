package route

import (
	"slices"
	"strconv"
)

// Mark is what the core's ends are labelled with, so that no two that could be
// mixed up at a place or in a run read alike: L, N, SL2; L-1 and L-2 are the two
// ends of a ring at the board, S1 and S2 the strappers from the first switch of a
// group, S3 and S4 those on from an intermediate, /2 their lighting group; N-1,
// N-2, N-3 are numbered along the circuit as they are laid, on from a ring's
// ends, where two of them lie in one run.
func (s *Single) Mark() string {
	m := s.kindMark()
	if s.Number > 0 {
		return m + "-" + strconv.Itoa(s.Number)
	}
	return m
}

func (s *Single) kindMark() string {
	m := functionMarks[s.Function]
	switch {
	case s.Function == StrapperOne || s.Function == StrapperTwo:
		m = "S" + strconv.Itoa(2*max(1, s.Leg)-1+int(s.Function-StrapperOne))
	case s.Phase > 0:
		m += strconv.Itoa(s.Phase)
	case s.Function == SwitchedLine:
		return m + strconv.Itoa(s.Group)
	}
	if s.Leg > 0 && s.Function <= CPC {
		return m + "-" + strconv.Itoa(s.Leg)
	}
	if s.Group > 0 && (s.Function > CPC || s.Function == Line) {
		return m + "/" + strconv.Itoa(s.Group)
	}
	return m
}

var functionMarks = [...]string{"", "L", "N", "E", "SL", "", "", "L", "C"}

// likeness is what cores that are labelled alike have in common.
type likeness struct {
	f                 Function
	group, leg, phase int
}

func (s *Single) likeness() likeness {
	l := likeness{s.Function, s.Group, s.Leg, s.Phase}
	switch s.Function {
	case PermanentLine:
		l.f = Line
	case Neutral, CPC:
		l.group = 0 // not on the label
	}
	return l
}

// number numbers the cores of a circuit that are labelled alike where two of
// them lie in one run.
//
// Cost: linear in the passages of cores through runs, and for each circuit in
// its cores times its labels.
func (j *Job) number() {
	met, meeting := make([]int32, len(j.Runs)), int32(0)
	var alike []likeness
	var of []int32 // by core of the circuit
	for c := range j.Circuits {
		cores := j.Singles[j.Circuits[c].Singles[0]:j.Circuits[c].Singles[1]]
		alike, of = alike[:0], of[:0]
		for i := range cores {
			l := cores[i].likeness()
			k := slices.Index(alike, l)
			if k < 0 {
				k, alike = len(alike), append(alike, l)
			}
			of = append(of, int32(k))
		}
		for k, l := range alike {
			meeting++
			if l.f == Unnamed || !meet(cores, of, int32(k), met, meeting) {
				continue
			}
			n := 0
			if l.f <= CPC && j.Circuits[c].Arrangement.V == Ring && !j.Circuits[c].Named {
				n = 2 // after its ends
			}
			for i := range cores {
				if of[i] == int32(k) {
					n++
					cores[i].Number = n
				}
			}
		}
	}
}

// meet reports whether two of the cores of one label pass one run.
func meet(cores []Single, of []int32, label int32, met []int32, meeting int32) bool {
	for i := range cores {
		if of[i] != label {
			continue
		}
		for _, p := range cores[i].Way {
			if met[p.Run] == meeting {
				return true
			}
			met[p.Run] = meeting
		}
	}
	return false
}
