package fill

import (
	"runtime"
	"sync"

	"tubewright/factors"
	"tubewright/route"
)

// checks are the checks in the order of a report, and how many subjects each
// has. A finding without a verdict is left out: there was nothing to judge.
var checks = []struct {
	rule     rule
	subjects func(*route.Job) int
}{
	{drawIn, func(j *route.Job) int { return len(j.Pulls) }},
	{space, func(j *route.Job) int { return len(j.Runs) }},
	{temperature, plastics},
	{rating, func(j *route.Job) int { return len(j.Circuits) }},
	{together, derived},
	{arrangement, derived},
	{unfed, unfedPlaces},
	{demand, demands},
	{drop, circuits},
	{fault, faults},
	{adiabatic, adiabatics},
	{breaking, breakings},
	{residualRule, residuals},
	{boardOrder, boards},
	{boardWays, boards},
	{boardMain, mains},
	{division, boards},
	{torque, boards},
	{setOut, func(j *route.Job) int { return len(j.Runs) }},
}

// plastics is how many runs there are to judge by temperature: none in a job
// that is all of steel.
func plastics(j *route.Job) int {
	for i := range j.Runs {
		if j.Runs[i].Enc.Material == factors.Plastic {
			return len(j.Runs)
		}
	}
	return 0
}

// derived is how many circuits there are whose cores may lie apart: none where
// all of them name their runs.
func derived(j *route.Job) int {
	for i := range j.Circuits {
		if !j.Circuits[i].Named {
			return len(j.Circuits)
		}
	}
	return 0
}

// Check judges the whole job.
//
// Cost: linear in runs, circuits and the passages of circuits through runs.
// The subjects of a check are shared out over the machine's cores; the order
// of the findings does not depend on it.
func Check(j *route.Job) *Report { return check(newMatter(j)) }

// Verdicts judges the whole job without looking for what would mend a set-out:
// that takes longer than all else where many runs cannot be made. The verdicts
// are those of Check.
func Verdicts(j *route.Job) *Report {
	m := newMatter(j)
	m.brief = true
	return check(m)
}

func check(m *matter) *Report {
	j := m.Job
	total := 0
	for _, c := range checks {
		total += c.subjects(j)
	}
	found := make([]Finding, 0, total)
	loads := make([]float64, len(j.Circuits))
	share(len(loads), func(i int) { loads[i] = m.load(i) })
	m.loads = loads
	groups := make([]group, len(j.Runs))
	share(len(j.Runs), func(i int) { groups[i] = grouping(m, i) })
	m.groups = groups
	if unfedPlaces(j) > 0 {
		m.used = gangsUsed(j)
	}
	for _, c := range checks {
		n := c.subjects(j)
		at := len(found)
		found = found[:at+n]
		share(n, func(i int) { found[at+i] = judge(m, c.rule, i) })
	}
	kept := found[:0]
	for i := range found {
		if found[i].Verdict != 0 {
			kept = append(kept, found[i])
		}
	}
	return &Report{Job: j, Findings: kept}
}

// share calls do for 0 … n−1, over the cores when there is enough to do.
func share(n int, do func(int)) {
	workers := runtime.GOMAXPROCS(0)
	if n < 512 || workers < 2 {
		for i := range n {
			do(i)
		}
		return
	}
	var wg sync.WaitGroup
	for k := range workers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := k * n / workers; i < (k+1)*n/workers; i++ {
				do(i)
			}
		}()
	}
	wg.Wait()
}
