package route

// roundBox names the circular box that has a spout for each conduit of a
// place, "" where none has. Directions count where they are drawn; two
// entries whose directions are not known leave the choice open.
//
// Boxes have their spouts in one plane, one a direction (trade names; common
// practice, no source).
func (j *Job) roundBox(pl *Place) string {
	n := len(pl.Runs)
	if n > 4 {
		return ""
	}
	var dirs []Point
	for _, r := range pl.Runs {
		if d, ok := j.leaves(pl, r); ok {
			dirs = append(dirs, d)
		}
	}
	if n == 1 {
		if len(dirs) == 1 && dirs[0].Y < -0.9 {
			return "back-outlet box"
		}
		return "terminal box"
	}
	if len(dirs) < n {
		return [...]string{2: "through or angle box", 3: "tee box", 4: "four-way box"}[n]
	}
	opposite, same := pairs(dirs)
	switch {
	case same > 0 || !inOnePlane(dirs):
		return ""
	case n == 2 && opposite == 1:
		return "through box"
	case n == 2:
		return "angle box"
	case n == 3 && opposite == 1:
		return "tee box"
	case n == 3:
		return "Y box"
	case opposite == 2:
		return "four-way box"
	}
	return ""
}

// nearly is the cosine within which two directions count as one: 45°, half way
// to square.
const nearly = 0.7072

// pairs counts the directions that face each other and those that coincide.
func pairs(dirs []Point) (opposite, same int) {
	for i, a := range dirs {
		for _, b := range dirs[:i] {
			switch cos := a.Dot(b); {
			case cos < -nearly:
				opposite++
			case cos > nearly:
				same++
			}
		}
	}
	return opposite, same
}

// inOnePlane reports whether directions lie in one plane, to a few degrees.
func inOnePlane(dirs []Point) bool {
	var normal Point
	for i, a := range dirs {
		for _, b := range dirs[:i] {
			if n := a.Cross(b); n.Len() > normal.Len() {
				normal = n
			}
		}
	}
	for _, d := range dirs {
		if s := d.Dot(normal); s > 0.1 || s < -0.1 {
			return false
		}
	}
	return true
}

// Cross is the vector product.
func (p Point) Cross(q Point) Point {
	return Point{p.Y*q.Z - p.Z*q.Y, p.Z*q.X - p.X*q.Z, p.X*q.Y - p.Y*q.X}
}

// leaves is the direction in which a drawn run leaves a place.
func (j *Job) leaves(pl *Place, run int) (Point, bool) {
	r := &j.Runs[run]
	if !r.Drawn {
		return Point{}, false
	}
	straight := mergedLegs(r.Legs)
	if &j.Places[r.From] == pl {
		return straight[0].Dir, true
	}
	return Point{}.Sub(straight[len(straight)-1].Dir), true
}
