package render

// rect is an upright rectangle.
type rect struct{ x0, y0, x1, y1 float64 }

func (r rect) holds(x, y float64) bool { return x >= r.x0 && x <= r.x1 && y >= r.y0 && y <= r.y1 }

// near says whether the point lies within d of the rectangle.
func (r rect) near(x, y, d float64) bool {
	return x >= r.x0-d && x <= r.x1+d && y >= r.y0-d && y <= r.y1+d
}

func (r rect) holdsAll(xy []float64) bool {
	for i := 0; i < len(xy); i += 2 {
		if !r.holds(xy[i], xy[i+1]) {
			return false
		}
	}
	return true
}

// cutLine returns the parts of a polyline inside the rectangle; a line wholly
// inside comes back as it is.
func (r rect) cutLine(xy []float64, closed bool) [][]float64 {
	if r.holdsAll(xy) {
		return [][]float64{xy}
	}
	if closed {
		xy = append(append([]float64(nil), xy...), xy[0], xy[1])
	}
	var parts [][]float64
	var part []float64
	for i := 0; i+3 < len(xy); i += 2 {
		a, b, ok := r.cutSegment(xy[i], xy[i+1], xy[i+2], xy[i+3])
		if !ok {
			continue
		}
		if n := len(part); n == 0 || part[n-2] != a[0] || part[n-1] != a[1] {
			if n > 0 {
				parts = append(parts, part)
			}
			part = []float64{a[0], a[1]}
		}
		part = append(part, b[0], b[1])
	}
	if len(part) > 0 {
		parts = append(parts, part)
	}
	return parts
}

// cutSegment is Liang and Barsky's parametric cut (ACM Transactions on
// Graphics 3, 1984).
func (r rect) cutSegment(ax, ay, bx, by float64) (a, b [2]float64, ok bool) {
	dx, dy := bx-ax, by-ay
	t0, t1 := 0.0, 1.0
	for _, e := range [4][2]float64{{-dx, ax - r.x0}, {dx, r.x1 - ax}, {-dy, ay - r.y0}, {dy, r.y1 - ay}} {
		p, q := e[0], e[1]
		switch {
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	a, b = [2]float64{ax, ay}, [2]float64{bx, by}
	if t0 > 0 {
		a = [2]float64{ax + t0*dx, ay + t0*dy}
	}
	if t1 < 1 {
		b = [2]float64{ax + t1*dx, ay + t1*dy}
	}
	return a, b, true
}

// cutPolygon cuts a polygon to the rectangle, edge after edge (Sutherland and
// Hodgman, Communications of the ACM 17, 1974).
func (r rect) cutPolygon(xy []float64) []float64 {
	if r.holdsAll(xy) {
		return xy
	}
	for _, e := range [4]struct {
		axis        int
		bound, sign float64
	}{{0, r.x0, 1}, {0, r.x1, -1}, {1, r.y0, 1}, {1, r.y1, -1}} {
		xy = cutHalf(xy, e.axis, e.bound, e.sign)
	}
	return xy
}

// cutHalf keeps the part of a polygon where sign*(coordinate-bound) >= 0.
func cutHalf(xy []float64, axis int, bound, sign float64) []float64 {
	var out []float64
	n := len(xy)
	for i := 0; i < n; i += 2 {
		j := (i + 2) % n
		da, db := sign*(xy[i+axis]-bound), sign*(xy[j+axis]-bound)
		if da >= 0 {
			out = append(out, xy[i], xy[i+1])
		}
		if (da < 0) != (db < 0) {
			t := da / (da - db)
			cut := [2]float64{xy[i] + t*(xy[j]-xy[i]), xy[i+1] + t*(xy[j+1]-xy[i+1])}
			cut[axis] = bound
			out = append(out, cut[0], cut[1])
		}
	}
	return out
}
