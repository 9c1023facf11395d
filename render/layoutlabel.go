package render

import (
	"fmt"
	"maps"
	"sort"
	"strings"
)

// label writes on the layout: what fails first, so that it finds room first.
// A run on which there is no room to mark how many cables it holds bears the
// figure in its tag, and what found no room at all comes earlier the next time:
// the whole is tried until nothing changes, and the try with the least missing
// stays.
func (g *layoutDrawing) label(order *labelOrder) {
	sheet, labeller, used := g.Sheet, g.l, *g.used
	order.changed = true
	const patience = 2 // tries in succession that better nothing
	var best labelTry
	for try, vain := 0, 0; order.changed && vain < patience; try++ {
		g.Sheet, g.l = NewSheet(sheet.Width, sheet.Height), labeller.clone()
		g.missing = missingLabels{}
		g.used.strokes, g.used.tagged = used.strokes, used.tagged
		order.changed = false
		g.labelOnce(order)
		if try == 0 || g.missing.count() < best.missing.count() {
			best, vain = labelTry{g.Sheet, g.missing, g.used.strokes, g.used.tagged}, 0
		} else {
			vain++
		}
	}
	best.sheet.Draw(sheet)
	g.Sheet, g.missing = sheet, best.missing
	g.used.strokes, g.used.tagged = best.strokes, best.tagged
}

// labelTry is all labels placed once.
type labelTry struct {
	sheet           *Sheet
	missing         missingLabels
	strokes, tagged bool
}

// labelOrder is what one try has learned for the next: runs that bear their
// figure in their tag, and runs and places that come before the others.
type labelOrder struct {
	inTag, runs, places map[int]bool
	changed             bool
}

func newLabelOrder() *labelOrder {
	return &labelOrder{inTag: map[int]bool{}, runs: map[int]bool{}, places: map[int]bool{}}
}

// learn adds to one of the order's sets.
func (o *labelOrder) learn(set map[int]bool, i int) {
	o.changed = o.changed || !set[i]
	set[i] = true
}

// labelOnce writes everything once: tags of runs that fail, then what found no
// room before, then the names of places and the tags of the other runs.
func (g *layoutDrawing) labelOnce(o *labelOrder) {
	early, tagged := maps.Clone(o.runs), map[int]bool{}
	tags := func(when func(i int, grave bool) bool) {
		for i := range g.p.runs {
			if _, done := tagged[i]; done || !when(i, g.facts[g.p.runs[i].run].grave()) {
				continue
			}
			if tagged[i] = g.tag(i, o.inTag[i]); !tagged[i] {
				g.missing.runs = append(g.missing.runs, g.runName(i))
				o.learn(o.runs, i)
			}
		}
	}
	tags(func(i int, grave bool) bool { return grave && early[i] })
	tags(func(_ int, grave bool) bool { return grave })
	tags(func(i int, _ bool) bool { return early[i] })
	g.names(o)
	tags(func(int, bool) bool { return true })
	for i := range g.p.runs {
		if o.inTag[i] && tagged[i] || g.strokes(i) || o.inTag[i] && g.figure(i) {
			continue
		}
		g.missing.counts = append(g.missing.counts, g.runName(i))
		o.learn(o.inTag, i)
	}
	for i := range g.p.runs {
		for _, s := range g.p.runs[i].sets {
			g.setLabel(s)
		}
	}
}

// names writes the names of places, those first that found no room before.
func (g *layoutDrawing) names(o *labelOrder) {
	early := maps.Clone(o.places)
	for _, first := range []bool{true, false} {
		for i := range g.p.places {
			if early[i] == first && !g.nameOf(i) {
				g.missing.places = append(g.missing.places, oneLine(g.job.Places[g.p.places[i].place].Name))
				o.learn(o.places, i)
			}
		}
	}
}

func (g *layoutDrawing) runName(i int) string { return oneLine(g.job.Runs[g.p.runs[i].run].Name) }

// missingLabels are what found no room on the layout.
type missingLabels struct{ runs, places, counts []string }

// count weighs a run's figure above names.
func (m *missingLabels) count() int { return len(m.runs) + len(m.places) + 4*len(m.counts) }

// lines say what is missing, in lines of that width, at most so many each.
func (m *missingLabels) lines(widthMM float64, most int) []string {
	var out []string
	for _, part := range []struct {
		what  string
		names []string
	}{{"the number of cables of run", m.counts}, {"the name of run", m.runs}, {"the name of place", m.places}} {
		if len(part.names) == 0 {
			continue
		}
		out = append(out, namesInLines("no room for "+part.what+" ", part.names, widthMM, most)...)
	}
	return out
}

// namesInLines lists names after an opening, as many as go into the lines; how
// many more there are is said.
func namesInLines(opening string, names []string, widthMM float64, most int) []string {
	with := func(n int) []string {
		text := opening + strings.Join(names[:n], ", ")
		if n < len(names) {
			text += fmt.Sprintf(" and %d more: see check JOB", len(names)-n)
		}
		return breakLines(text, widthMM, TextSmall, most+1)
	}
	if lines := with(len(names)); len(lines) <= most {
		return lines
	}
	tooMany := sort.Search(min(len(names), 100*most), func(n int) bool { return len(with(n)) > most })
	lines := with(max(0, tooMany-1))
	return lines[:min(most, len(lines))]
}

// nameOf writes a place's name beside its symbol.
func (g *layoutDrawing) nameOf(i int) bool {
	p, s := &g.p.places[i], &g.seated[i]
	pl := &g.job.Places[p.place]
	high := g.nameMM
	if s.symbol == nil {
		high = TextSmall
	}
	text := cutToFit(oneLine(pl.Name), mostNameMM, high, false)
	w, h := TextWidth(text, high, false)+0.6, high+0.6
	near := g.l.apartFirst(besideBox(s.box, w, h), i+1)
	box, leader, ok := g.l.put(labelled{near: near, wide: w, high: h, x: p.x, y: p.y})
	if !ok {
		return false
	}
	if leader != nil {
		if cut := shortened(leader, s.box.high()/2, 0); cut != nil {
			g.Line(PenDimension, false, cut...)
		}
	}
	g.Text(Text{S: text, X: (box.x0 + box.x1) / 2, Y: (box.y0 + box.y1) / 2, Height: high, AlignX: Centre, AlignY: Middle})
	return true
}

// besideBox lists boxes of a size close to a symbol's box: at its sides, above
// and below it, at its corners.
func besideBox(b rect, w, h float64) []rect {
	const gap = 0.4
	x, y := (b.x0+b.x1)/2, (b.y0+b.y1)/2
	across, down := b.wide()/2+w/2+gap, b.high()/2+h/2+gap
	half, aside := b.high()/2, w/2+0.8
	var out []rect
	for _, o := range [][2]float64{{across, 0}, {-across, 0}, {0, down}, {0, -down}, {across, -down}, {-across, -down}, {across, down}, {-across, down},
		{across, -half}, {across, half}, {-across, -half}, {-across, half},
		{aside, down}, {-aside, down}, {aside, -down}, {-aside, -down}} { // clear of a line through the middle
		out = append(out, centred(x+o[0], y+o[1], w, h))
	}
	return out
}

// setLabel says how deep a set is, where there is room beside it.
func (g *layoutDrawing) setLabel(s setMark) {
	w, h := TextWidth(s.text, TextSmall, false)+0.6, TextSmall+0.6
	for _, o := range [][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		box := centred(s.x+o[0]*(w/2+2.4), s.y+o[1]*(h/2+2.4), w, h)
		if g.l.fits(box) {
			g.l.takeWords(box)
			g.Text(Text{S: s.text, X: (box.x0 + box.x1) / 2, Y: (box.y0 + box.y1) / 2, Height: TextSmall, AlignX: Centre, AlignY: Middle})
			return
		}
	}
}
