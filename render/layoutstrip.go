package render

import "tubewright/route"

// Sizes of a layout that is not to scale: each run is a level strip of one
// length, and a thin upright line ties the strips that leave one place.
const (
	stripPitch = 9.5  // one strip to the next
	stripLeast = 6.5  // when many must go in
	stripMost  = 15.0 // when there is room
	stripShort = 24.0 // least length of a strip
	stripLong  = 70.0
	stripEdge  = 9.0 // room for symbols and names at the sides
)

// stripRow is one run of the layout before it has a size.
type stripRow struct {
	run       int
	near, far int // places, -1 where the run stands alone
	depth     int
	row       int
	showNear  bool // the near place is shown again here
	tieFrom   int  // row that the near place is tied to, -1 for none
}

// stripPicture lays runs out from the board or whatever they hang on, level by
// level to the right; runs that stand alone follow as strips of their own.
func stripPicture(j *route.Job, runs []int, area rect) *layoutPicture {
	p := &layoutPicture{scale: "NTS"}
	deepest := max(1, int((area.wide()-2*stripEdge)/stripShort))
	f := newForest(j, runs, deepest)
	depth := 1
	for _, r := range f.rows {
		depth = max(depth, r.depth+1)
	}
	inside := area.grown(-stripEdge)
	alone := f.alone == len(f.rows)
	pitch := stripPitch
	columns := max(1, int((inside.wide()+stripEdge*2)/(float64(depth)*stripShort+stripEdge*2)))
	if f.height*stripPitch > inside.high()*float64(columns) {
		pitch = stripLeast
	}
	perColumn := max(1, int(inside.high()/pitch)+1)
	if alone {
		columns, perColumn = stripColumns(f.height, area.wide(), perColumn)
	}
	columns = max(1, min(columns, (int(f.height)+perColumn-1)/perColumn))
	if rows := min(perColumn, int(f.height)); pitch == stripPitch {
		pitch = min(stripMost, inside.high()/float64(max(1, rows-1)))
		inside.y0 += (inside.high() - pitch*float64(rows-1)) / 2
	}
	columnWide := (inside.wide() + stripEdge*2) / float64(columns)
	step := min(stripLong, (columnWide-stripEdge*2)/float64(depth))
	if alone {
		inside.x0 += (columnWide - stripEdge*2 - step) / 2
	}
	l := stripLayer{p, inside, pitch, step, columnWide, perColumn, columns, map[[2]int]bool{}}
	for i, r := range f.rows {
		if r.row >= perColumn*columns {
			p.left = len(runs) - i
			break
		}
		l.lay(j, r)
	}
	return p
}

// stripColumns spreads strips that stand alone over the width, in columns of
// one height.
func stripColumns(rows, wideMM float64, most int) (columns, perColumn int) {
	columns = max(1, min(int(rows), int(wideMM/(stripLong+stripEdge))))
	perColumn = (int(rows) + columns - 1) / columns
	return columns, max(1, min(perColumn, most))
}

// stripHeight is how high the area for a strip layout would like to be.
func stripHeight(j *route.Job, runs []int, widthMM float64) float64 {
	deepest := max(1, int((widthMM-2*stripEdge)/stripShort))
	f := newForest(j, runs, deepest)
	rows := f.height
	if f.alone == len(f.rows) {
		_, n := stripColumns(rows, widthMM, int(rows))
		rows = float64(n)
	}
	return max(0, rows-1)*stripPitch + 2*stripEdge
}

// forest orders the runs as they branch from the board, or from the place
// named first where a group of runs does not hang on it.
type forest struct {
	job    *route.Job
	next   map[int][]int // runs at each place, in the order given
	done   map[int]bool
	shown  map[int]int // row at which a place is shown
	rows   []stripRow
	height float64
	most   int // levels in a row
	alone  int // runs with no places at their ends
	later  []int
}

func newForest(j *route.Job, runs []int, deepest int) *forest {
	f := &forest{job: j, next: map[int][]int{}, done: map[int]bool{}, shown: map[int]int{}, most: deepest}
	var alone []int
	for _, i := range runs {
		r := &j.Runs[i]
		if r.From < 0 || r.To < 0 {
			alone = append(alone, i)
			continue
		}
		f.next[r.From] = append(f.next[r.From], i)
		f.next[r.To] = append(f.next[r.To], i)
	}
	if j.Board.Place >= 0 {
		f.growAll(j.Board.Place)
	}
	for _, i := range runs {
		if j.Runs[i].From >= 0 && j.Runs[i].To >= 0 && !f.done[i] {
			f.growAll(j.Runs[i].From)
		}
	}
	f.alone = len(alone)
	for _, i := range alone {
		f.rows = append(f.rows, stripRow{run: i, near: -1, far: -1, row: int(f.height), tieFrom: -1})
		f.height++
	}
	return f
}

// growAll grows from a root and from whatever was put off meanwhile.
func (f *forest) growAll(root int) {
	for f.later = append(f.later, root); len(f.later) > 0; {
		place := f.later[0]
		f.later = f.later[1:]
		f.grow(place)
	}
}

// forestStep is a run still to be laid out, from the place it leaves.
type forestStep struct{ run, near, depth int }

// grow lays out what hangs on a place, without recursion: a chain of runs may
// be as long as the job. Where a chain is longer than the sheet is wide, what
// follows is laid out later, from its place shown again.
func (f *forest) grow(root int) {
	delete(f.shown, root)
	var stack []forestStep
	push := func(place, depth int) {
		rs := f.next[place]
		for k := len(rs) - 1; k >= 0; k-- {
			if !f.done[rs[k]] {
				stack = append(stack, forestStep{rs[k], place, depth})
			}
		}
	}
	push(root, 0)
	last, lastRow := -1, -1
	for len(stack) > 0 {
		s := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		switch {
		case f.done[s.run]:
			continue
		case s.depth >= f.most:
			f.later = append(f.later, s.near)
			continue
		}
		r := f.row(s, last, lastRow)
		last, lastRow = r.far, r.row
		if _, seen := f.shown[r.far]; seen {
			last = -1 // shown elsewhere: what leaves it is laid out there
		} else {
			f.shown[r.far] = r.row
			push(r.far, r.depth+1)
		}
		f.rows = append(f.rows, r)
	}
}

// row lays out one run: straight on from the run before where it goes on from
// its end, else in a row of its own, tied to the place that it leaves.
func (f *forest) row(s forestStep, last, lastRow int) stripRow {
	f.done[s.run] = true
	r := stripRow{run: s.run, near: s.near, far: f.job.Runs[s.run].From, depth: s.depth, tieFrom: -1}
	if r.far == s.near {
		r.far = f.job.Runs[s.run].To
	}
	at, seen := f.shown[s.near]
	if seen && s.near == last {
		r.row = lastRow
		return r
	}
	r.row = int(f.height)
	f.height++
	if seen {
		r.tieFrom = at
	} else {
		r.showNear = true
		f.shown[s.near] = r.row
	}
	return r
}

// stripLayer turns rows into lines on the sheet.
type stripLayer struct {
	p               *layoutPicture
	inside          rect
	pitch, step     float64
	columnWide      float64
	perColumn, many int
	nearShown       map[[2]int]bool // place and column
}

func (l *stripLayer) lay(j *route.Job, r stripRow) {
	column := r.row / l.perColumn
	x0 := l.inside.x0 + float64(column)*l.columnWide + float64(r.depth)*l.step
	y := l.inside.y0 + float64(r.row%l.perColumn)*l.pitch
	l.p.runs = append(l.p.runs, pictureRun{run: r.run, xy: []float64{x0, y, x0 + l.step, y}, halfMM: trunkingHalf(j.Runs[r.run].Enc, 0)})
	if r.near >= 0 {
		tied := r.tieFrom >= 0 && r.tieFrom/l.perColumn == column
		if tied {
			l.p.ties = append(l.p.ties, []float64{x0, l.inside.y0 + float64(r.tieFrom%l.perColumn)*l.pitch, x0, y})
		}
		if r.showNear || r.tieFrom >= 0 && !tied && !l.nearShown[[2]int{r.near, column}] {
			l.p.places = append(l.p.places, picturePlace{place: r.near, x: x0, y: y, freeDeg: 180, runs: 1})
			l.nearShown[[2]int{r.near, column}] = true
		} else if r.tieFrom >= 0 && !tied {
			l.p.ties = append(l.p.ties, []float64{x0, l.inside.y0, x0, y})
		}
	}
	if r.far >= 0 {
		p := picturePlace{place: r.far, x: x0 + l.step, y: y, runs: len(j.Places[r.far].Runs)}
		if p.runs > 1 {
			p.freeDeg = 90 // its symbol hangs below, clear of the next run
		}
		l.p.places = append(l.p.places, p)
	}
}
