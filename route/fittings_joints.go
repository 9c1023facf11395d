package route

import (
	"fmt"

	"tubewright/factors"
)

// coreJoint is one joint of cores in a box.
type coreJoint struct {
	cables []factors.Cable
	runs   []int
}

// connectors counts what joins cores in boxes: one for each conductor joined, for
// as many cores as meet there and the largest of them.
func (t *takeoff) connectors() {
	type key struct {
		circuit int
		at      Terminal
	}
	joints := map[key]*coreJoint{}
	var order []*coreJoint
	for i := range t.job.Singles {
		s := &t.job.Singles[i]
		for far, at := range []Terminal{s.From, s.To} {
			if at.Place < 0 || len(s.Way) == 0 || t.job.Places[at.Place].Kind.Terminal() {
				continue
			}
			k := key{s.Circuit, at}
			if joints[k] == nil {
				joints[k] = &coreJoint{}
				order = append(order, joints[k])
			}
			joints[k].cables = append(joints[k].cables, s.Cable)
			joints[k].runs = append(joints[k].runs, s.Way[far*(len(s.Way)-1)].Run)
		}
	}
	for _, n := range order {
		big := n.cables[0]
		for _, c := range n.cables[1:] {
			if c.CSA > big.CSA {
				big = c
			}
		}
		t.add(groupBoxes, fmt.Sprintf("connector for %d cores of %s", len(n.cables), big), "each", ruleConnector, 1, n.runs...)
	}
}
