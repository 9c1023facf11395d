package fill

import (
	"fmt"
	"slices"

	"tubewright/factors/sum"
	"tubewright/route"
)

// dropped works out the drop at the points of one circuit from where its loads
// are. Each load's current is followed by itself along the cores that it takes
// to the point in question; the drops add up.
type dropped struct {
	m     *matter
	index int
	paths []route.PointPath
	loads []placedLoad
	how   string // how the loads were placed, where the job does not say
	ring  []int  // cores once round a ring: of the line
	ringN []int  // and of the neutral
}

// placedLoad is a current drawn at a point.
type placedLoad struct {
	path   int
	I      sum.Term
	factor float64  // power factor, 0 where not stated
	figure sum.Term // mV/A/m for that power factor
}

func newDropped(m *matter, index int, paths []route.PointPath) (*dropped, error) {
	d := &dropped{m: m, index: index, paths: paths}
	d.ring, d.ringN = m.RingCores(index, route.Line), m.RingCores(index, route.Neutral)
	d.place()
	for i := range d.loads {
		figure, err := dropFigure(nil, m, index, d.loads[i].factor)
		if err != nil {
			return nil, err
		}
		d.loads[i].figure = figure
	}
	return d, nil
}

// place puts the design current where the job says that it is drawn; where it
// does not, shared equally by the lights, or all of it at the point where it
// loses most.
func (d *dropped) place() {
	c := &d.m.Circuits[d.index]
	Ib := designCurrent(nil, d.m, c)
	if len(c.Electrical.Loads) > 0 {
		d.stated(c, Ib)
		return
	}
	if lit := d.lit(c); len(lit) > 0 {
		d.how = fmt.Sprintf("the job does not say where the %s A are drawn: shared equally by %d lights", sum.Figure(Ib.Value), len(lit))
		for _, i := range lit {
			d.add(i, Ib.Value/float64(len(lit)), c.Demand.V.Factor)
		}
		return
	}
	if far := d.farthest(); far >= 0 {
		d.how = fmt.Sprintf("the job does not say where the %s A are drawn: all of it at %s, the farthest point", sum.Figure(Ib.Value), pointName(d.m, d.index, &d.paths[far]))
		d.add(far, Ib.Value, c.Demand.V.Factor)
	}
}

func (d *dropped) add(path int, amps, factor float64) {
	name := d.m.Places[d.paths[path].Place].Name
	d.loads = append(d.loads, placedLoad{path: path, I: sum.Term{Symbol: "I(" + name + ")", Value: amps, Unit: "A"}, factor: factor})
}

// stated places the loads of the job. Where it states a design current too,
// that governs: what the loads do not take is drawn at the farthest point, and
// where they take more they are all cut down alike.
func (d *dropped) stated(c *route.Circuit, Ib sum.Term) {
	total := 0.0
	for _, l := range c.Electrical.Loads {
		i := slices.IndexFunc(d.paths, func(p route.PointPath) bool { return p.Place == l.Place })
		if i < 0 {
			continue
		}
		I := loadCurrent(nil, d.m, c, l).Value
		total += I
		d.add(i, I, l.Demand.Factor)
	}
	if !c.Demand.Said() || total == 0 {
		return
	}
	rest := Ib.Value - total
	switch far := d.farthest(); {
	case rest > 1e-9*Ib.Value && far >= 0:
		d.how = fmt.Sprintf("the loads take %s A of the design current; the other %s A are taken at the farthest point", sum.Figure(total), sum.Figure(rest))
		d.add(far, rest, c.Demand.V.Factor)
	case rest < -1e-9*Ib.Value:
		d.how = fmt.Sprintf("the loads together take %s A, the stated design current is %s A: each counts in proportion", sum.Figure(total), sum.Figure(Ib.Value))
		for i := range d.loads {
			d.loads[i].I.Value *= Ib.Value / total
		}
	}
}

// lit lists the paths to a lighting circuit's lights.
func (d *dropped) lit(c *route.Circuit) []int {
	var out []int
	for i, p := range d.paths {
		for _, g := range c.Groups {
			if slices.ContainsFunc(g.Lights, func(l route.Given[int]) bool { return l.V == p.Place }) {
				out = append(out, i)
				break
			}
		}
	}
	return out
}

// farthest is the point where a single load would lose most, -1 without one.
func (d *dropped) farthest() int {
	far, most := -1, -1.0
	for i := range d.paths {
		if l := d.metres(i, i); l > most && !d.switchOnly(i) {
			far, most = i, l
		}
	}
	return far
}

// switchOnly reports a place that draws no current.
func (d *dropped) switchOnly(path int) bool {
	return d.m.Places[d.paths[path].Place].Kind == route.Switch
}

// metres is the length of circuit in which the current of a load at one point
// lowers the voltage at another: the line and the neutral that they share,
// each counting half. Three-phase loads leave the neutral alone.
func (d *dropped) metres(load, point int) float64 {
	line := d.shared(route.Line, load, point)
	if d.m.Circuits[d.index].Lines() == 3 {
		return line
	}
	return (line + d.shared(route.Neutral, load, point)) / 2
}

// shared is the length of a conductor that two points have in common. On a
// ring the current divides by the lengths of the two ways: what counts for
// points at x and y of a ring of length L is min(x, y) × (L − max(x, y)) / L.
func (d *dropped) shared(f route.Function, a, b int) float64 {
	p, q, ring := d.side(f, a), d.side(f, b), d.ring
	if f == route.Neutral {
		ring = d.ringN
	}
	if len(ring) == 0 || p.back == 0 || q.back == 0 {
		return d.common(p.cores, q.cores)
	}
	x, y, round := p.one-p.spur, q.one-q.spur, p.one+p.back-2*p.spur
	length := min(x, y) * (round - max(x, y)) / round
	beyond := func(w coreWay) []int {
		k := slices.IndexFunc(w.cores, func(i int) bool { return !slices.Contains(ring, i) })
		if k < 0 {
			return nil
		}
		return w.cores[k:]
	}
	return length + d.common(beyond(p), beyond(q))
}

// common is the length of the cores that two ways share from their start.
func (d *dropped) common(a, b []int) float64 {
	length := 0.0
	for k := 0; k < len(a) && k < len(b) && a[k] == b[k]; k++ {
		length += float64(d.m.Singles[a[k]].Length)
	}
	return length
}

func (d *dropped) side(f route.Function, path int) coreWay {
	p := &d.paths[path]
	if f == route.Neutral {
		return coreWay{f, "", p.Neutral, p.NeutralBack, p.NeutralSpur, p.NeutralCores}
	}
	return coreWay{f, "", p.Line, p.LineBack, p.LineSpur, p.LineCores}
}

// worst is the point that uses most of its limit, -1 without points.
func (d *dropped) worst() int {
	c := &d.m.Circuits[d.index]
	U := nominalBetween(nil, d.m, c)
	worst, most := -1, -1.0
	for i := range d.paths {
		if d.switchOnly(i) {
			continue
		}
		limit := dropLimit(nil, d.m, c, U, max(d.paths[i].Line, d.paths[i].LineBack))
		if use := (d.at(i) + d.m.Supply.Drop.V*U.Value) / limit.Value; use > most {
			worst, most = i, use
		}
	}
	return worst
}

// at is the drop at a point, in volts.
func (d *dropped) at(point int) float64 {
	total := 0.0
	for i := range d.loads {
		l := &d.loads[i]
		total += l.figure.Value * l.I.Value * d.metres(l.path, point) / 1000
	}
	return total
}
