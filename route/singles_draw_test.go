package route_test

import (
	"fmt"
	"slices"
	"strings"

	"tubewright/route"

	"pgregory.net/rapid"
)

// A plan is a job as it is drawn at random, before it becomes a file.
type plan struct {
	places   []planPlace // the board first
	runs     []planRun
	circuits []planCircuit
}

type planPlace struct {
	name, kind string
	gangs      int
	joints     bool
}

type planRun struct {
	from, to int
	enc      string
	mm       int
}

type planCircuit struct {
	name, arrangement string
	points            []int
	spurs             []planSpur
	groups            []planGroup
	atLights          bool
	shortest          bool
	phases            int // 0: not said
	noNeutral         bool
	cpc               string
	size              string
	via               []planVia
}

type planSpur struct {
	from   int
	points []int
}

type planGroup struct {
	switches, lights []int
	conversion       bool
	lender           string
}

type planVia struct {
	from, to int
	runs     []int
}

// planRules are the limits within which a plan is drawn.
type planRules struct {
	loops    int      // most runs beyond a tree
	joints   bool     // boxes where cores may be joined
	circuits int      // most circuits
	enc      []string // enclosures
	cpc      []string // rules for the cpc
	shortest bool     // orders of least cable too
	lenders  bool     // borrowed neutrals
}

var (
	steelOnly = []string{"steel conduit 20"}
	mixedEnc  = []string{"steel conduit 20", "plastic conduit 20", "steel trunking 50x50"}
	ownCPC    = []string{""}
)

// drawPlan draws circuits, the places they need, and runs that join them all.
func drawPlan(t *rapid.T, rules planRules) *plan {
	p := &plan{places: []planPlace{{name: "board", kind: "board", gangs: 1}}}
	for i := range rapid.IntRange(1, rules.circuits).Draw(t, "circuits") {
		p.circuits = append(p.circuits, p.drawCircuit(t, i, rules))
	}
	for range rapid.IntRange(0, 4).Draw(t, "boxes") {
		p.add("box")
		p.places[len(p.places)-1].joints = rules.joints && rapid.IntRange(0, 3).Draw(t, "joints") > 0
	}
	order := rapid.Permutation(indices(1, len(p.places))).Draw(t, "order of building")
	built := []int{0}
	drops := rapid.Bool().Draw(t, "boxes with drops")
	if drops { // boxes first, then everything else off a box
		slices.SortStableFunc(order, func(a, b int) int { return strings.Compare(p.places[a].box(), p.places[b].box()) })
	}
	for _, at := range order {
		p.drawRun(t, rapid.SampledFrom(built).Draw(t, "built on"), at, rules)
		if !drops || p.places[at].kind == "box" {
			built = append(built, at)
		}
	}
	for range rapid.IntRange(0, rules.loops).Draw(t, "loops") {
		a := rapid.IntRange(0, len(p.places)-1).Draw(t, "loop from")
		b := rapid.IntRange(0, len(p.places)-2).Draw(t, "loop to")
		if b >= a {
			b++
		}
		p.drawRun(t, a, b, rules)
	}
	return p
}

// box sorts boxes before other places.
func (pl planPlace) box() string { return strings.TrimPrefix(pl.kind, "box") }

func indices(from, to int) []int {
	var out []int
	for i := from; i < to; i++ {
		out = append(out, i)
	}
	return out
}

func (p *plan) add(kind string) int {
	i := len(p.places)
	p.places = append(p.places, planPlace{name: fmt.Sprint(kind[:2], i), kind: kind, gangs: 1})
	return i
}

func (p *plan) addSome(t *rapid.T, label string, least, most int, kinds ...string) []int {
	var out []int
	for range rapid.IntRange(least, most).Draw(t, label) {
		out = append(out, p.add(rapid.SampledFrom(kinds).Draw(t, "kind")))
	}
	return out
}

func (p *plan) drawRun(t *rapid.T, a, b int, rules planRules) {
	if rapid.Bool().Draw(t, "turned") {
		a, b = b, a
	}
	p.runs = append(p.runs, planRun{a, b, rapid.SampledFrom(rules.enc).Draw(t, "enclosure"), rapid.IntRange(300, 6000).Draw(t, "mm")})
}

func (p *plan) drawCircuit(t *rapid.T, i int, rules planRules) planCircuit {
	c := planCircuit{name: fmt.Sprint("c", i+1), size: rapid.SampledFrom([]string{"1.5", "2.5", "4"}).Draw(t, "size")}
	c.arrangement = rapid.SampledFrom([]string{"lighting", "lighting", "radial", "ring", "direct"}).Draw(t, "arrangement")
	if c.cpc = rapid.SampledFrom(rules.cpc).Draw(t, "cpc"); c.cpc == "shared" && c.arrangement == "ring" {
		c.cpc = "" // the cpc of a ring is a ring of its own
	}
	c.shortest = rules.shortest && rapid.Bool().Draw(t, "shortest order")
	if c.arrangement == "lighting" {
		c.atLights = rapid.Bool().Draw(t, "loop at lights")
		for range rapid.IntRange(1, 3).Draw(t, "groups") {
			c.groups = append(c.groups, p.drawGroup(t, &c, rules))
		}
		return c
	}
	if c.arrangement == "direct" {
		if rapid.Bool().Draw(t, "isolator") {
			c.points = append(c.points, p.add("isolator"))
		}
		c.points = append(c.points, p.add("equipment"))
		if rapid.Bool().Draw(t, "three-phase") {
			c.phases, c.noNeutral = 3, rapid.Bool().Draw(t, "no neutral")
		}
		return c
	}
	c.points = p.addSome(t, "points", 1, 4, "socket", "heater", "outlet")
	fed := append([]int(nil), c.points...)
	for range rapid.IntRange(0, 2).Draw(t, "spurs") {
		s := planSpur{from: rapid.SampledFrom(fed).Draw(t, "spur from"), points: p.addSome(t, "spur points", 1, 2, "socket")}
		fed = append(fed, s.points...)
		c.spurs = append(c.spurs, s)
	}
	return c
}

// drawGroup draws a lighting group; a switch may be a further gang of one that
// the circuit has.
func (p *plan) drawGroup(t *rapid.T, c *planCircuit, rules planRules) planGroup {
	var g planGroup
	var old []int
	for _, o := range c.groups {
		old = append(old, o.switches...)
	}
	for range rapid.SampledFrom([]int{0, 1, 1, 2, 2, 3, 4}).Draw(t, "switches") {
		s := -1
		if len(old) > 0 && rapid.Bool().Draw(t, "another gang") {
			s = rapid.SampledFrom(old).Draw(t, "of")
		}
		if s < 0 || slices.Contains(g.switches, s) {
			s = p.add("switch")
		} else if slices.Contains(old, s) {
			p.places[s].gangs++
		}
		g.switches = append(g.switches, s)
	}
	g.conversion = len(g.switches) >= 2 && rapid.Bool().Draw(t, "conversion")
	g.lights = p.addSome(t, "lights", 1, 3, "light", "light", "emergency light", "timed fan", "fan")
	if rules.lenders {
		var names []string
		for _, o := range p.circuits {
			if !o.noNeutral && o.lends() {
				names = append(names, o.name)
			}
		}
		if len(names) > 0 && rapid.Bool().Draw(t, "borrows") {
			g.lender = rapid.SampledFrom(names).Draw(t, "lender")
		}
	}
	return g
}

// lends reports whether the circuit has a neutral of its own at some place.
func (c *planCircuit) lends() bool {
	if len(c.points) > 0 {
		return true
	}
	for _, g := range c.groups {
		if g.lender == "" {
			return true
		}
	}
	return false
}

// parse reads the plan as a job file.
func (p *plan) parse(t *rapid.T) *route.Job {
	text := p.text()
	j, err := route.Parse("drawn.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return j
}

func (p *plan) names(places []int) string {
	var out []string
	for _, i := range places {
		out = append(out, p.places[i].name)
	}
	return "[" + strings.Join(out, ", ") + "]"
}

func runName(i int) string { return fmt.Sprint("R", i) }

func (p *plan) text() string {
	w := &strings.Builder{}
	fmt.Fprint(w, "job: drawn\nsupply: {phases: 3}\nplaces:\n")
	for _, pl := range p.places {
		fmt.Fprintf(w, "  %s: {is: %s, gangs: %d%s}\n", pl.name, pl.kind, pl.gangs, map[bool]string{true: ", joints: yes"}[pl.joints])
	}
	fmt.Fprint(w, "runs:\n")
	for i, r := range p.runs {
		fmt.Fprintf(w, "  %s: {from: %s, to: %s, in: %s, length: %d mm, bends: 0}\n", runName(i), p.places[r.from].name, p.places[r.to].name, r.enc, r.mm)
	}
	fmt.Fprint(w, "circuits:\n")
	for i := range p.circuits {
		p.circuitText(w, &p.circuits[i])
	}
	return w.String()
}

func (p *plan) circuitText(w *strings.Builder, c *planCircuit) {
	fmt.Fprintf(w, "  %s:\n    device: B16\n    cable: %s\n    arrangement: %s\n", c.name, c.size, c.arrangement)
	for _, x := range []struct {
		said bool
		text string
	}{{c.cpc != "", "cpc: " + c.cpc}, {c.phases > 0, fmt.Sprint("phases: ", c.phases)}, {c.noNeutral, "neutral: no"},
		{c.atLights, "loop: at lights"}, {c.shortest, "order: shortest"}, {len(c.points) > 0, "points: " + p.names(c.points)}} {
		if x.said {
			fmt.Fprintf(w, "    %s\n", x.text)
		}
	}
	list := func(key string, n int, item func(int) string) {
		for i := range n {
			if i == 0 {
				fmt.Fprintf(w, "    %s:\n", key)
			}
			fmt.Fprintf(w, "      - {%s}\n", item(i))
		}
	}
	list("spurs", len(c.spurs), func(i int) string {
		return fmt.Sprintf("from: %s, points: %s", p.places[c.spurs[i].from].name, p.names(c.spurs[i].points))
	})
	list("groups", len(c.groups), func(i int) string {
		g := &c.groups[i]
		text := "lights: " + p.names(g.lights)
		if len(g.switches) > 0 {
			text += ", switches: " + p.names(g.switches)
		}
		if g.conversion {
			text += ", method: conversion"
		}
		if g.lender != "" {
			text += ", neutral from: " + g.lender
		}
		return text
	})
	list("via", len(c.via), func(i int) string {
		v := &c.via[i]
		var runs []string
		for _, r := range v.runs {
			runs = append(runs, runName(r))
		}
		return fmt.Sprintf("from: %s, to: %s, runs: [%s]", p.places[v.from].name, p.places[v.to].name, strings.Join(runs, ", "))
	})
}
