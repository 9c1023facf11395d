package fill_test

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"
)

// model is a job that properties are tried on: a tree of places, a run to each
// from an earlier one, and circuits from some place back to the first.
type model struct {
	kinds    []string // of each place
	runs     []runModel
	circuits []circuitModel
	choices  string
}

type runModel struct {
	from, to int
	in       string
	way      []stepModel // drawn, or
	length   float64     // m, and
	bends    int
	cables   []string
	other    int
	ambient  int
	lined    int // mm in thermal insulation
}

// stepModel is a step of a path: a leg, or a set when depth is not 0.
type stepModel struct {
	dir    string
	length float64 // m
	depth  int     // mm
	angle  int
	double bool
}

type circuitModel struct {
	device, cable, demand string
	runs                  []int
}

var (
	enclosures = []string{"steel conduit 16", "steel conduit 20", "steel conduit 25", "steel conduit 32", "plastic conduit 20", "steel trunking 50x50", "steel trunking 75x50", "plastic trunking 40x40"}
	devices    = []string{"B6", "B10", "C16", "B20", "B32", "BS 3036 15 A", "BS 88-2 20 A"}
	cables     = []string{"1.5", "2.5", "4", "6", "10", "2.5 thermosetting", "2.5 solid"}
	opposite   = map[string]string{"up": "down", "down": "up", "left": "right", "right": "left", "in": "out", "out": "in"}
	directions = []string{"up", "down", "left", "right", "in", "out"}
)

func drawModel(t *rapid.T) *model {
	m := &model{kinds: []string{"board"}}
	m.choices = fmt.Sprintf("choices: {draw-in: %s, mixed sizes: %s, overload: %s, ring legs: %s}\n",
		rapid.SampledFrom([]string{"guide", "180", "270"}).Draw(t, "draw-in rule"),
		rapid.SampledFrom([]string{"span", "table", "root"}).Draw(t, "mixed sizes"),
		rapid.SampledFrom([]string{"together", "not together"}).Draw(t, "overload"),
		rapid.SampledFrom([]string{"one", "two"}).Draw(t, "ring legs"))
	degree := make([]int, rapid.IntRange(2, 6).Draw(t, "places"))
	for i := 1; i < len(degree); i++ {
		from := rapid.IntRange(0, i-1).Draw(t, "from")
		m.runs = append(m.runs, drawRun(t, from, i))
		degree[from]++
		degree[i]++
	}
	for i := 1; i < len(degree); i++ {
		kind := "box"
		if degree[i] == 2 {
			kind = rapid.SampledFrom([]string{"box", "coupler", "elbow"}).Draw(t, "kind")
		}
		m.kinds = append(m.kinds, kind)
	}
	for range rapid.IntRange(0, 4).Draw(t, "circuits") {
		m.circuits = append(m.circuits, m.drawCircuit(t))
	}
	return m
}

func drawRun(t *rapid.T, from, to int) runModel {
	r := runModel{from: from, to: to, in: rapid.SampledFrom(enclosures).Draw(t, "in")}
	if rapid.Bool().Draw(t, "drawn") {
		r.way = drawWay(t)
	} else {
		r.length = float64(rapid.IntRange(1, 120).Draw(t, "decimetres")) / 10
		r.bends = rapid.IntRange(0, 4).Draw(t, "bends")
	}
	for range rapid.IntRange(0, 2).Draw(t, "kinds of cable") {
		r.cables = append(r.cables, fmt.Sprintf("%d x %s", rapid.IntRange(1, 12).Draw(t, "count"), rapid.SampledFrom(cables).Draw(t, "cable")))
	}
	r.other = rapid.IntRange(0, 5).Draw(t, "other circuits")
	r.ambient = rapid.SampledFrom([]int{20, 30, 35, 45}).Draw(t, "ambient")
	r.lined = rapid.SampledFrom([]int{0, 0, 50, 400}).Draw(t, "insulation")
	return r
}

// drawWay draws a path that never turns back on itself; a set follows a leg
// and is shifted square to it.
func drawWay(t *rapid.T) []stepModel {
	var way []stepModel
	last := ""
	for range rapid.IntRange(1, 5).Draw(t, "legs") {
		dir := rapid.SampledFrom(directions).Filter(func(d string) bool { return d != opposite[last] }).Draw(t, "direction")
		way = append(way, stepModel{dir: dir, length: float64(rapid.IntRange(1, 40).Draw(t, "decimetres")) / 10})
		if rapid.IntRange(0, 3).Draw(t, "set after it") == 0 {
			aside := rapid.SampledFrom(directions).Filter(func(d string) bool { return d != dir && d != opposite[dir] }).Draw(t, "aside")
			way = append(way, stepModel{dir: aside, depth: rapid.IntRange(10, 80).Draw(t, "depth"),
				angle: rapid.SampledFrom([]int{30, 45, 60}).Draw(t, "angle"), double: rapid.Bool().Draw(t, "double")})
		}
		last = dir
	}
	return way
}

// drawCircuit draws a circuit that passes every run from a place to the first.
func (m *model) drawCircuit(t *rapid.T) circuitModel {
	c := circuitModel{device: rapid.SampledFrom(devices).Draw(t, "device"), cable: rapid.SampledFrom(cables).Draw(t, "cable"),
		demand: rapid.SampledFrom([]string{"", "1 A", "4 A", "1.2 kW"}).Draw(t, "demand")}
	twice := rapid.Bool().Draw(t, "down and back")
	for at := rapid.IntRange(1, len(m.kinds)-1).Draw(t, "end"); at != 0; {
		r := at - 1 // the run that leads to it
		c.runs = append(c.runs, r)
		if twice {
			c.runs = append(c.runs, r)
		}
		at = m.runs[r].from
	}
	return c
}

// yaml writes the model as a job file.
func (m *model) yaml() string {
	var b strings.Builder
	b.WriteString("job: drawn by chance\n" + m.choices + "places:\n")
	for i, k := range m.kinds {
		fmt.Fprintf(&b, "  p%d: {is: %s}\n", i, k)
	}
	b.WriteString("runs:\n")
	for i := range m.runs {
		fmt.Fprintf(&b, "  R%d: {%s}\n", i, m.runs[i].yaml())
	}
	if len(m.circuits) > 0 {
		b.WriteString("circuits:\n")
	}
	for i, c := range m.circuits {
		names := make([]string, len(c.runs))
		for k, r := range c.runs {
			names[k] = fmt.Sprintf("R%d", r)
		}
		demand := ""
		if c.demand != "" {
			demand = "demand: " + c.demand + ", "
		}
		fmt.Fprintf(&b, "  c%d: {device: %s, cable: %s, %sruns: [%s]}\n", i, c.device, c.cable, demand, strings.Join(names, ", "))
	}
	return b.String()
}

func (r *runModel) yaml() string {
	text := fmt.Sprintf("from: p%d, to: p%d, in: %s, ", r.from, r.to, r.in)
	if len(r.way) > 0 {
		text += "path: \"" + path(r.way) + "\""
	} else {
		text += fmt.Sprintf("length: %v m, bends: %d", r.length, r.bends)
	}
	if len(r.cables) > 0 {
		text += ", cables: \"" + strings.Join(r.cables, ", ") + "\""
	}
	if r.lined > 0 {
		text += fmt.Sprintf(", insulation: %d mm", r.lined)
	}
	return text + fmt.Sprintf(", other circuits: %d, ambient: %d C", r.other, r.ambient)
}

func path(way []stepModel) string {
	steps := make([]string, len(way))
	for i, s := range way {
		switch {
		case s.depth == 0:
			steps[i] = fmt.Sprintf("%s %v", s.dir, s.length)
		case s.double:
			steps[i] = fmt.Sprintf("double set %d mm %s at %d", s.depth, s.dir, s.angle)
		default:
			steps[i] = fmt.Sprintf("set %d mm %s at %d", s.depth, s.dir, s.angle)
		}
	}
	return strings.Join(steps, ", ")
}

// reversed is the same run walked from its other end. A set stays in its leg.
func (r runModel) reversed() runModel {
	r.from, r.to = r.to, r.from
	var way []stepModel
	for end := len(r.way); end > 0; {
		leg := end - 1
		for r.way[leg].depth > 0 {
			leg--
		}
		for _, s := range r.way[leg:end] {
			s.dir = opposite[s.dir]
			way = append(way, s)
		}
		end = leg
	}
	r.way = way
	return r
}
