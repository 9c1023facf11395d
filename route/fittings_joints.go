package route

import "fmt"

// connectors counts what joins cores where no accessory has a terminal for them:
// one for each conductor joined, for as many cores as meet there and the largest
// of them.
func (t *takeoff) connectors() {
	for _, m := range t.job.Connectors() {
		cables := m.Cables(t.job)
		big := cables[0]
		for _, c := range cables[1:] {
			if c.CSA > big.CSA {
				big = c
			}
		}
		t.add(groupBoxes, fmt.Sprintf("connector for %d cores of %s", len(cables), big), "each", ruleConnector, 1, m.runs(t.job)...)
	}
}

// runs lists the run in which each core comes to the meeting; a core that stays
// within a place comes in none.
func (m *Meeting) runs(j *Job) (out []int) {
	for _, k := range m.Cores {
		s := &j.Singles[k]
		switch n := len(s.Way); {
		case n == 0:
		case s.From.Place == m.Terminal.Place:
			out = append(out, s.Way[0].Run)
		default:
			out = append(out, s.Way[n-1].Run)
		}
	}
	return out
}
