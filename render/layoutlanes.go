package render

import "math"

// Runs that lie on each other on the sheet, because they lie side by side on
// the wall or because the drawing is small, are spread into lanes.
const (
	laneMM      = 2.0 // from one lane to the next
	laneClear   = 1.4 // nearer than that, two lines are one to the eye
	laneOverlap = 0.4 // as long as that, they lie side by side
	laneShort   = 2.0 // pieces shorter than that stay where they are
	mostLanes   = 9
	farthestMM  = 8.0 // that a piece is moved aside
)

// lane is a straight piece of a run that is already laid down: its direction,
// its distance from the origin and where it begins and ends along itself.
type lane struct{ off, from, to float64 }

// lanes holds them by direction and distance.
type lanes map[[2]int][]lane

// axis describes a piece by its direction in degrees from 0 to 180 and its
// unit normal.
func axis(ax, ay, bx, by float64) (deg int, ux, uy float64) {
	d := math.Hypot(bx-ax, by-ay)
	ux, uy = (bx-ax)/d, (by-ay)/d
	if ux < -1e-9 || math.Abs(ux) <= 1e-9 && uy < 0 {
		ux, uy = -ux, -uy
	}
	return int(math.Round(math.Atan2(uy, ux)*180/math.Pi)) % 180, ux, uy
}

func (l lanes) clear(deg int, p lane) bool {
	bin := int(math.Floor(p.off / laneMM))
	for b := bin - 1; b <= bin+1; b++ {
		for _, q := range l[[2]int{deg, b}] {
			if math.Abs(q.off-p.off) < laneClear && min(q.to, p.to)-max(q.from, p.from) > laneOverlap {
				return false
			}
		}
	}
	return true
}

func (l lanes) lay(deg int, p lane) {
	key := [2]int{deg, int(math.Floor(p.off / laneMM))}
	l[key] = append(l[key], p)
}

// spreadLanes moves each piece of each run aside to the first free lane.
//
// Cost: near linear in runs.
func spreadLanes(runs []pictureRun) {
	laid := lanes{}
	for i := range runs {
		runs[i].xy = laid.spread(runs[i].xy, runs[i].halfMM)
	}
}

// shiftedPiece is a piece of a run moved aside.
type shiftedPiece struct{ ax, ay, bx, by float64 }

func (l lanes) spread(xy []float64, halfMM float64) []float64 {
	var pieces []shiftedPiece
	for i := 0; i+3 < len(xy); i += 2 {
		p := shiftedPiece{xy[i], xy[i+1], xy[i+2], xy[i+3]}
		if math.Hypot(p.bx-p.ax, p.by-p.ay) >= laneShort {
			p = l.place(p, halfMM)
		}
		pieces = append(pieces, p)
	}
	out := []float64{xy[0], xy[1], pieces[0].ax, pieces[0].ay}
	for k := 1; k < len(pieces); k++ {
		out = append(out, corner(pieces[k-1], pieces[k])...)
	}
	last := pieces[len(pieces)-1]
	return withoutRepeats(append(out, last.bx, last.by, xy[len(xy)-2], xy[len(xy)-1]))
}

// withoutRepeats leaves out points that lie on the one before.
func withoutRepeats(xy []float64) []float64 {
	out := xy[:2:2]
	for i := 2; i+1 < len(xy); i += 2 {
		if n := len(out); math.Hypot(xy[i]-out[n-2], xy[i+1]-out[n-1]) > 1e-6 || len(out) == 2 && i+3 >= len(xy) {
			out = append(out, xy[i], xy[i+1])
		}
	}
	return out
}

// place moves a piece to the nearest lane that is clear: 0, +1, -1, +2 …
func (l lanes) place(p shiftedPiece, halfMM float64) shiftedPiece {
	deg, ux, uy := axis(p.ax, p.ay, p.bx, p.by)
	nx, ny := -uy, ux
	step := max(laneMM, 2*halfMM+1)
	a, b := ux*p.ax+uy*p.ay, ux*p.bx+uy*p.by
	at := lane{nx*p.ax + ny*p.ay, min(a, b), max(a, b)}
	middle := at.off
	for k := range mostLanes {
		d := float64((k+1)/2) * step
		if k%2 == 0 {
			d = -d
		}
		if math.Abs(d) > farthestMM {
			break
		}
		at.off = middle + d
		if l.clear(deg, at) {
			l.lay(deg, at)
			return shiftedPiece{p.ax + nx*d, p.ay + ny*d, p.bx + nx*d, p.by + ny*d}
		}
	}
	return p
}

// corner joins two pieces: where their lines cross, or by a step from the end
// of one to the start of the other where they are all but parallel.
func corner(p, q shiftedPiece) []float64 {
	if math.Hypot(p.bx-q.ax, p.by-q.ay) < 1e-9 {
		return []float64{p.bx, p.by}
	}
	dx, dy, ex, ey := p.bx-p.ax, p.by-p.ay, q.bx-q.ax, q.by-q.ay
	cross := dx*ey - dy*ex
	if math.Abs(cross) < 0.05*math.Hypot(dx, dy)*math.Hypot(ex, ey) {
		return []float64{p.bx, p.by, q.ax, q.ay}
	}
	t := ((q.ax-p.ax)*ey - (q.ay-p.ay)*ex) / cross
	x, y := p.ax+t*dx, p.ay+t*dy
	if math.Hypot(x-p.bx, y-p.by) > 2*farthestMM {
		return []float64{p.bx, p.by, q.ax, q.ay}
	}
	return []float64{x, y}
}
