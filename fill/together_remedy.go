package fill

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"tubewright/factors/sum"
	"tubewright/route"
)

// The search for what keeps circuits together reads the job again for every
// trial; this bounds it.
const (
	mostMended = 4         // circuits of a report
	mostTrials = 24        // of a circuit
	mostRead   = 4_000_000 // bytes in all
)

// Remedies adds to circuits whose conductors do not keep together what would
// mend it, in the words of the job file. Whatever it offers has been tried: with
// it the job was read, its cores were laid and the check passed.
//
// Cost: up to 24 readings of the job for each of the first four such circuits.
func (r *Report) Remedies() {
	left := mostRead
	mended := 0
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Check != "together" || f.Verdict != Fail || mended == mostMended {
			continue
		}
		mended++
		m := &mending{job: r.Job, circuit: f.index, left: min(mostTrials, left/max(1, len(r.Job.File.Text())))}
		before := m.left
		text := m.find()
		left -= (before - m.left) * len(r.Job.File.Text())
		if text != "" {
			f.Instead = []string{text}
			f.Reason += "; instead: " + text
		} else {
			f.Reason += fmt.Sprintf("; of %s none keeps it together", counting(before-m.left, "other way"))
		}
	}
}

// mending searches for what keeps a circuit together.
type mending struct {
	job     *route.Job
	circuit int
	left    int  // trials
	own     bool // with the neutral of its own
}

// trial is a job as it would be, and what its circuit then lacks.
type trial struct {
	job    *route.Job
	vias   []route.Via
	lacks  *torn
	metres float64
}

func (t *trial) passes() bool { return t != nil && len(t.lacks.notes) == 0 }

// try reads the job again; nil where it cannot be had so.
func (m *mending) try(vias []route.Via) *trial {
	if m.left == 0 {
		return nil
	}
	m.left--
	o, err := m.job.WithCircuit(m.circuit, func(c *route.Circuit) {
		c.Via = slices.Clone(vias)
		for i := range c.Groups {
			if m.own {
				c.Groups[i].Neutral = route.Given[string]{}
			}
		}
	})
	if err != nil {
		return nil
	}
	t := &trial{job: o, vias: vias, lacks: tornApart(newMatter(o), m.circuit, o.Loops(m.circuit))}
	for i := range o.Singles {
		t.metres += float64(o.Singles[i].Length)
	}
	return t
}

// find is the remedy that changes the fewest ways, of these the one that draws in
// the least cable; empty where none was found.
func (m *mending) find() string {
	c := &m.job.Circuits[m.circuit]
	m.own = slices.ContainsFunc(c.Groups, func(g route.Group) bool { return g.Neutral.Said() })
	now := m.try(c.Via)
	if now == nil { // a way that only the borrowed neutral took
		now = m.try(nil)
	}
	switch {
	case now == nil:
		return ""
	case m.own && now.passes() && !m.harms(now):
		return m.text(now)
	}
	var best *trial
	for _, without := range append(slices.Sorted(maps.Keys(now.lacks.apart)), -1) {
		vias, ok := now.job.InTree(m.circuit, without)
		if !ok {
			continue
		}
		t := m.fewer(m.try(vias))
		if t.passes() && (best == nil || m.changes(t) < m.changes(best) || m.changes(t) == m.changes(best) && t.metres < best.metres) {
			best = t
		}
	}
	if best == nil || m.harms(best) {
		return ""
	}
	return m.text(best)
}

// harms reports whether a remedy parts a circuit that keeps together now: one
// that borrows this one's neutral, or shares its cpc.
func (m *mending) harms(t *trial) bool {
	now, then := newMatter(m.job), newMatter(t.job)
	for i := range m.job.Circuits {
		if together(nil, then, i).Verdict == Fail && together(nil, now, i).Verdict != Fail {
			return true
		}
	}
	return false
}

// changes is how many ways a trial names that the job does not, or leaves out.
func (m *mending) changes(t *trial) int {
	n := len(m.job.Circuits[m.circuit].Via)
	for i := range t.vias {
		if m.said(&t.vias[i]) {
			n--
		} else {
			n++
		}
	}
	return n
}

// said reports whether the job names a way.
func (m *mending) said(way *route.Via) bool {
	return slices.ContainsFunc(m.job.Circuits[m.circuit].Via, func(v route.Via) bool { return viaText(m.job, &v) == viaText(m.job, way) })
}

// fewer leaves out each way that a remedy names anew and does as well without.
func (m *mending) fewer(t *trial) *trial {
	if !t.passes() {
		return t
	}
	for i := len(t.vias) - 1; i >= 0; i-- {
		if m.said(&t.vias[i]) {
			continue
		}
		if less := m.try(slices.Delete(slices.Clone(t.vias), i, i+1)); less.passes() {
			t = less
		}
	}
	return t
}

// text says a remedy in the words of the job file.
func (m *mending) text(t *trial) string {
	var parts []string
	c := &m.job.Circuits[m.circuit]
	if m.own {
		parts = append(parts, "no neutral from in circuit "+c.Name)
	}
	now := make([]string, len(c.Via))
	for i := range c.Via {
		now[i] = viaText(m.job, &c.Via[i])
	}
	then := make([]string, len(t.vias))
	for i := range t.vias {
		then[i] = viaText(m.job, &t.vias[i])
	}
	switch {
	case slices.Equal(now, then):
	case len(then) == 0:
		parts = append(parts, "no via in circuit "+c.Name)
	default:
		parts = append(parts, "via: ["+strings.Join(then, ", ")+"] in circuit "+c.Name)
	}
	before := 0.0
	for i := range m.job.Singles {
		before += float64(m.job.Singles[i].Length)
	}
	return strings.Join(parts, " and ") + fmt.Sprintf(" (tried; %s m of cable instead of %s m in the job)", sum.Figure(t.metres), sum.Figure(before))
}

func viaText(j *route.Job, v *route.Via) string {
	runs := make([]string, len(v.Runs))
	for i, r := range v.Runs {
		runs[i] = written(j.Runs[r.V].Name)
	}
	return fmt.Sprintf("{from: %s, to: %s, runs: [%s]}", written(j.Places[v.From].Name), written(j.Places[v.To].Name), strings.Join(runs, ", "))
}

// written is a name as the job file has it, in quotes where YAML would read it
// otherwise.
func written(name string) string {
	if strings.ContainsAny(name, `,:[]{}#&*!|>'"%@\`+"`") || strings.TrimSpace(name) != name {
		return strconv.Quote(name)
	}
	return name
}
