package route

// A tubeStep of a core's way leads through one pull. Its ends are numbered twice the
// pull, plus one for the last: the way comes in at enter and leaves at leave. No way
// passes a run twice, so it leads through a pull once.
type tubeStep struct {
	pull         int32
	enter, leave int32
	first, end   int32 // the passes of the way
}

// party is cores that lie side by side all their way, and the pulls it leads
// through.
type party struct {
	bundle
	steps []tubeStep
}

func (p *party) cores() int32 { return p.end - p.first }

func (p *party) singles() []int {
	out := make([]int, p.cores())
	for i := range out {
		out[i] = int(p.first) + i
	}
	return out
}

// parties lists the cores that pass conduit.
func (j *Job) parties() []party {
	w := &stepper{job: j, along: make([]bool, len(j.Runs))}
	for k := range j.Pulls {
		p := &j.Pulls[k]
		at, _ := j.ends(p)
		for _, r := range p.Runs {
			w.along[r] = j.Runs[r].From == at
			at = j.Runs[r].other(at)
		}
	}
	var out []party
	for i := 0; i < len(j.Singles); {
		p := party{bundle: j.bundleAt(i)}
		i = int(p.end)
		if p.steps = w.steps(j.Singles[p.first].Way); len(p.steps) > 0 {
			out = append(out, p)
		}
	}
	return out
}

// stepper takes ways apart into pulls.
type stepper struct {
	job   *Job
	along []bool // it leads from the pull's first end to the last
}

// steps takes a way apart. Trunking lies open: what is laid in it is no pull.
func (w *stepper) steps(way []Pass) (out []tubeStep) {
	for i, p := range way {
		k := int32(w.job.pullIndex[p.Run])
		if k < 0 {
			continue
		}
		s := tubeStep{pull: k, enter: 2 * k, leave: 2*k + 1, first: int32(i), end: int32(i + 1)}
		if p.Forward != w.along[p.Run] {
			s.enter, s.leave = s.leave, s.enter
		}
		if n := len(out); n > 0 && out[n-1].end == s.first && out[n-1].enter == s.enter {
			out[n-1].end = s.end
			continue
		}
		out = append(out, s)
	}
	return out
}
