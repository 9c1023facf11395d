package route

import (
	"fmt"
	"math"
	"strconv"

	"tubewright/factors/source"
)

// finish checks what only shows once the whole file is read, and works out
// what follows from it.
func (p *parser) finish() {
	j := p.job
	if j.Board.Place < 0 {
		for i := range j.Places {
			if j.Places[i].Kind == BoardPlace {
				j.Board.Place = i
				break
			}
		}
	}
	p.walkRuns()
	p.ways()
	p.splits()
	p.junctions()
	p.fedOnce()
	p.position()
	if len(p.Problems) == 0 {
		j.findBodies()
		p.derive()
		j.Pulls = pulls(j)
		j.pullIndex = make([]int, len(j.Runs))
		for i := range j.pullIndex {
			j.pullIndex[i] = -1
		}
		for k := range j.Pulls {
			for _, r := range j.Pulls[k].Runs {
				j.pullIndex[r] = k
			}
		}
	}
}

// ways reports a way that two circuits claim, or that the board has not. A
// three-phase device covers three ways, its own and the next two.
func (p *parser) ways() {
	first := map[int]*Circuit{}
	for i := range p.job.Circuits {
		c := &p.job.Circuits[i]
		if !c.Way.Said() {
			continue
		}
		width, last := len(strconv.Itoa(c.Way.V)), c.Way.V+c.Lines()-1
		switch ways := p.job.Board.Ways; {
		case ways.Said() && c.Way.V > ways.V:
			p.Add(ErrConflict, c.Way.At, width, fmt.Sprintf("the board has no way %d", c.Way.V), fmt.Sprintf("ways 1 to %d", ways.V))
			continue
		case ways.Said() && last > ways.V:
			p.Add(ErrConflict, c.Way.At, width, fmt.Sprintf("a three-phase device in way %d reaches to way %d, the board has %d", c.Way.V, last, ways.V), fmt.Sprintf("way %d or lower", ways.V-c.Lines()+1))
			continue
		}
		p.claim(c, first, width)
	}
}

// claim takes a circuit's ways and reports the first that is taken.
func (p *parser) claim(c *Circuit, first map[int]*Circuit, width int) {
	for n := c.Way.V; n < c.Way.V+c.Lines(); n++ {
		if f := first[n]; f != nil {
			want := "one circuit a way"
			if c.Lines() > 1 || f.Lines() > 1 {
				want += ", three ways for a three-phase device"
			}
			pr := p.Add(ErrConflict, c.Way.At, width, fmt.Sprintf("way %d is taken by circuit %s", n, f.Name), want)
			pr.Also, pr.AlsoS = f.Way.At, "first claimed"
			return
		}
	}
	for n := c.Way.V; n < c.Way.V+c.Lines(); n++ {
		first[n] = c
	}
}

// fedOnce reports a load that two circuits feed: they would be joined there.
//
// Source: BS 7671, 314.4 (each final circuit separate from every other; from
// memory). Switches, isolators and equipment may take more than one supply.
func (p *parser) fedOnce() {
	by := map[int]*Circuit{}
	for i := range p.job.Circuits {
		c := &p.job.Circuits[i]
		seen := map[int]bool{}
		for _, g := range c.Fed() {
			switch k := p.job.Places[g.V].Kind; k {
			case Socket, Light, EmergencyLight, Heater, Fan, TimedFan, CookerSwitch, Outlet:
			default:
				continue
			}
			name := p.job.Places[g.V].Name
			switch other := by[g.V]; {
			case seen[g.V]:
			case other != nil:
				pr := p.Add(ErrConflict, g.At, len([]rune(name)), fmt.Sprintf("%s is fed by circuit %s already", name, other.Name), "one circuit a point: two would be joined there")
				pr.Also, pr.AlsoS = other.At, "that circuit"
			default:
				by[g.V] = c
			}
			seen[g.V] = true
		}
	}
}

// Borrows reports whether all lights of a circuit come home by the neutrals of
// others.
func (c *Circuit) Borrows() bool {
	for _, g := range c.Groups {
		if !g.Neutral.Said() {
			return false
		}
	}
	return len(c.Groups) > 0
}

// Fed lists the points and lights of a circuit.
func (c *Circuit) Fed() []Given[int] {
	out := c.feeds()
	for _, g := range c.Groups {
		out = append(out, g.Lights...)
	}
	return out
}

// junctions reports fittings without a lid where more than two runs meet.
func (p *parser) junctions() {
	for i := range p.job.Places {
		pl := &p.job.Places[i]
		if !pl.DrawIn && len(pl.Runs) > 2 {
			p.Add(ErrDrawIn, pl.At, len([]rune(pl.Name)), fmt.Sprintf("%d runs meet at %s, where cables cannot be drawn in", len(pl.Runs), pl.Name), "a box there, or draw-in: yes")
		}
	}
}

// position walks the drawn runs from the places whose position is known and
// reports paths that do not close.
//
// Cost: linear in places and runs.
func (p *parser) position() {
	j := p.job
	var queue []int
	frames, frame := make([]int, len(j.Places)), 1 // 1: the positions that the job gives; else from where the walk started
	place := func(i int, at Point) {
		j.Places[i].Point, j.Places[i].Placed, frames[i] = at, true, frame
		queue = append(queue, i)
	}
	for i := range j.Places {
		if pl := &j.Places[i]; pl.Across.Said() && pl.Height.Said() {
			place(i, Point{float64(pl.Across.V), float64(pl.Out.V), float64(pl.Height.V)})
		}
	}
	visit := func(next int) {
		for ; next < len(queue); next++ {
			for _, r := range j.Places[queue[next]].Runs {
				p.step(queue[next], &j.Runs[r], place)
			}
		}
	}
	visit(0)
	start := func(i int) {
		pl := &j.Places[i]
		if !pl.Placed && p.hasDrawnRun(i) {
			n := len(queue)
			frame++
			place(i, Point{float64(pl.Across.V), float64(pl.Out.V), float64(pl.Height.V)})
			visit(n)
		}
	}
	if j.Board.Place >= 0 {
		start(j.Board.Place)
	}
	for i := range j.Places {
		start(i)
	}
	p.tooShort(frames)
}

// tooShort reports runs whose stated length is less than their two places are
// apart, where both positions are known from one another.
func (p *parser) tooShort(frames []int) {
	j := p.job
	for i := range j.Runs {
		r := &j.Runs[i]
		if r.Drawn || r.From < 0 || r.To < 0 || frames[r.From] == 0 || frames[r.From] != frames[r.To] {
			continue
		}
		from, to := &j.Places[r.From], &j.Places[r.To]
		apart := to.Point.Sub(from.Point).Len()
		if float64(r.Length) >= apart-float64(p.job.Tolerance.V)/1000-1e-9 {
			continue
		}
		p.Add(ErrClosure, r.At, len([]rune(r.Name)), fmt.Sprintf("run %s is %s m long, but %s and %s stand %.3f m apart", r.Name, trim(float64(r.Length)), from.Name, to.Name, apart),
			"the length along the run, or correct the paths or positions of its places")
	}
}

func (p *parser) hasDrawnRun(place int) bool {
	for _, r := range p.job.Places[place].Runs {
		if p.job.Runs[r].Drawn {
			return true
		}
	}
	return false
}

// step walks one drawn run from a placed end to the other.
func (p *parser) step(from int, r *Run, place func(int, Point)) {
	if !r.Drawn || r.From < 0 || r.To < 0 {
		return
	}
	way := r.Corners[len(r.Corners)-1]
	to := r.To
	if from == r.To {
		to, way = r.From, Point{}.Sub(way)
	}
	end := p.job.Places[from].Point.Add(way, 1)
	far := &p.job.Places[to]
	if far.Placed {
		if from == r.From {
			p.closes(r, far, end)
		}
		return
	}
	if gap := p.givenGap(far, end); gap != "" {
		p.Add(ErrClosure, r.At, len([]rune(r.Name)), "run "+r.Name+" leads to "+far.Name+" "+gap, "correct the path, or leave out the position")
	}
	place(to, end)
}

// closes reports a run whose path ends away from its place.
func (p *parser) closes(r *Run, far *Place, end Point) {
	miss := end.Sub(far.Point)
	if miss.Len()*1000 <= float64(p.job.Tolerance.V)+1e-6 {
		return
	}
	correct := "correct the path"
	if !far.Across.Said() || !far.Height.Said() {
		correct += ", or another of the runs that lead there"
	}
	p.Add(ErrClosure, r.At, len([]rune(r.Name)), fmt.Sprintf("run %s ends %.0f mm away from %s (%s)", r.Name, miss.Len()*1000, far.Name, describe(miss)),
		fmt.Sprintf("%s; %s mm are allowed (tolerance)", correct, trim(float64(p.job.Tolerance.V))))
}

// givenGap compares a walked end with the single coordinates a place gives.
func (p *parser) givenGap(pl *Place, end Point) string {
	tol := float64(p.job.Tolerance.V)/1000 + 1e-9
	for _, g := range []struct {
		name string
		said source.Pos
		v, w float64
	}{{"height", pl.Height.At, float64(pl.Height.V), end.Z}, {"across", pl.Across.At, float64(pl.Across.V), end.X}, {"out", pl.Out.At, float64(pl.Out.V), end.Y}} {
		if g.said.Known() && math.Abs(g.v-g.w) > tol {
			return fmt.Sprintf("at %s %.3f m, but the place says %.3f m", g.name, g.w, g.v)
		}
	}
	return ""
}

func describe(d Point) string {
	text := ""
	for _, a := range []struct {
		plus, minus string
		v           float64
	}{{"right", "left", d.X}, {"up", "down", d.Z}, {"out", "in", d.Y}} {
		mm := math.Round(a.v * 1000)
		if mm == 0 {
			continue
		}
		if text != "" {
			text += ", "
		}
		if mm > 0 {
			text += fmt.Sprintf("%.0f too far %s", mm, a.plus)
		} else {
			text += fmt.Sprintf("%.0f too far %s", -mm, a.minus)
		}
	}
	return text
}

func trim(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
