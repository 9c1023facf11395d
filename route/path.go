package route

import (
	"fmt"
	"math"
	"strings"

	"tubewright/factors/source"
	"tubewright/factors/units"
)

// Point is a position in metres: X to the right along the wall, Y out of it,
// Z up.
type Point struct{ X, Y, Z float64 }

// Add returns p moved by d times s.
func (p Point) Add(d Point, s float64) Point { return Point{p.X + d.X*s, p.Y + d.Y*s, p.Z + d.Z*s} }

// Sub returns the way from q to p.
func (p Point) Sub(q Point) Point { return p.Add(q, -1) }

// Dot is the scalar product.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y + p.Z*q.Z }

// Len is the distance from the origin.
func (p Point) Len() float64 { return math.Sqrt(p.Dot(p)) }

// directions are the words a path is walked by.
var directions = map[string]Point{
	"right": {X: 1}, "left": {X: -1}, "up": {Z: 1}, "down": {Z: -1}, "out": {Y: 1}, "in": {Y: -1},
}

var directionWords = []string{"up", "down", "left", "right", "out", "in"}

// Leg is one straight piece of a run, or a set in it.
type Leg struct {
	Word   string       // as written: "up", "set"
	Dir    Point        // unit direction of a straight leg; of the shift for a set
	Length units.Metres // of a straight leg, corner to corner
	Set    units.Millimetres
	Angle  units.Degrees     // of a set's bends, or of an angled leg to the one before
	Stated bool              // the path states the angle of the set; else the former settles it
	Double bool              // away and back again
	Bubble bool              // away and back over an obstacle: Set is its depth
	Over   units.Millimetres // straight between away and back; a bubble set without it has three bends
}

// IsSet reports whether the leg is a set or double set.
func (l Leg) IsSet() bool { return l.Set > 0 }

// extra is the tube that a set needs beyond the leg it is in: depth × tan(θ/2),
// twice for a double set. Source: geometry.
func (l Leg) extra() units.Metres {
	once := float64(l.Set.Metres()) * math.Tan(float64(l.Angle)*math.Pi/360)
	if l.Double {
		once *= 2
	}
	return units.Metres(once)
}

// Bends is how far a run turns between its ends.
type Bends struct {
	Count   int     // as the guide's table counts: see BendCount
	Degrees float64 // the sum of all angles turned
	Right   int     // right angles
	Other   []units.Degrees
	Sets    int // sets, double sets and bubble sets
	Doubles int // of those, double sets
	Bubbles int // of those, bubble sets: over an obstacle
}

// BendCount is the number of bends for the guide's table: a right angle is
// one, a set or a double set is one (the guide's footnote, from memory), other
// angles count in proportion, and a part of a bend is a whole one.
func (b Bends) BendCount() int {
	n := float64(b.Right + b.Sets)
	for _, a := range b.Other {
		n += float64(a) / 90
	}
	return int(math.Ceil(n - 1e-9))
}

// String says how the bends were counted.
func (b Bends) String() string {
	var parts []string
	count := func(n int, one, many string) {
		if n == 1 {
			parts = append(parts, "1 "+one)
		} else if n > 1 {
			parts = append(parts, fmt.Sprintf("%d %s", n, many))
		}
	}
	count(b.Right, "right angle", "right angles")
	count(b.Sets-b.Doubles-b.Bubbles, "set", "sets")
	count(b.Doubles, "double set", "double sets")
	count(b.Bubbles, "bubble set", "bubble sets")
	for _, a := range b.Other {
		parts = append(parts, units.Format(float64(a))+"°")
	}
	if len(parts) == 0 {
		return "no bends"
	}
	return strings.Join(parts, " + ")
}

// pathError is a problem inside a path's text.
type pathError struct {
	offset, width int
	what, want    string
	after         bool // it is wrong after the steps before, not by itself
}

// parsePath reads "up 0.9, right 2.4, set 40 mm, angle 45 down 1.2".
// It reports every step that is wrong.
func parsePath(text string) ([]Leg, []pathError) {
	parts := strings.Split(text, ",")
	if len(parts) > mostParts {
		return nil, []pathError{{width: len(text), what: fmt.Sprintf("a path of %d steps", len(parts)), want: fmt.Sprintf("at most %d: a place among them divides it into two runs", mostParts)}}
	}
	var legs []Leg
	var errs []pathError
	for at, i := 0, 0; i < len(parts); i++ {
		part := parts[i]
		word := strings.TrimSpace(part)
		offset := at + strings.Index(part, word)
		at += len(part) + 1
		if i+1 < len(parts) && decimalTail(part, parts[i+1]) {
			errs = append(errs, pathError{offset: at - 1, width: 1, what: "a comma inside a number", want: "write a point: " + word + "." + parts[i+1]})
			word += "." + parts[i+1]
			at += len(parts[i+1]) + 1
			i++
		}
		leg, err := parseLeg(word, legs)
		if err == nil {
			err = follows(legs, leg, word)
			legs = append(legs, leg)
		}
		if err != nil && (len(errs) == 0 || !err.after) {
			err.offset += offset
			errs = append(errs, *err)
		}
	}
	if len(errs) == 0 && straightLegs(legs) == 0 {
		errs = append(errs, pathError{width: len(text), what: "the path has no leg", want: "such as up 0.9, right 2.4"})
	}
	return legs, errs
}

func straightLegs(legs []Leg) (n int) {
	for _, l := range legs {
		if !l.IsSet() {
			n++
		}
	}
	return n
}

// lastStraight returns the direction walked last.
func lastStraight(legs []Leg) (Point, bool) {
	for i := len(legs) - 1; i >= 0; i-- {
		if !legs[i].IsSet() {
			return legs[i].Dir, true
		}
	}
	return Point{}, false
}

func parseLeg(word string, before []Leg) (Leg, *pathError) {
	first, rest, _ := strings.Cut(word, " ")
	skip := len(word) - len(rest)
	switch first {
	case "set":
		return parseSet(rest, skip, "set")
	case "double", "bubble":
		second, tail, _ := strings.Cut(strings.TrimLeft(rest, " "), " ")
		if second != "set" {
			return Leg{}, &pathError{0, len(word), first + " what?", "write " + first + " set 40 mm", false}
		}
		return parseSet(tail, len(word)-len(tail), first+" set")
	case "angle":
		return parseAngle(rest, skip, before)
	case "":
		return Leg{}, &pathError{0, 1, "an empty step", "a direction and a length, such as up 0.9", false}
	}
	dir, ok := directions[first]
	if !ok {
		return Leg{}, &pathError{0, len(first), first + " is no direction", source.Suggest(first, append([]string{"set", "double set", "bubble set", "angle"}, directionWords...)), false}
	}
	length, err := legLength(rest, skip, len(word))
	if err != nil {
		return Leg{}, err
	}
	return Leg{Word: first, Dir: dir, Length: length}, nil
}

func legLength(text string, skip, all int) (units.Metres, *pathError) {
	if strings.TrimSpace(text) == "" {
		return 0, &pathError{0, all, "a direction without a length", "such as up 0.9", false}
	}
	length, err := units.ParseMetres(text)
	if err != nil {
		return 0, quantityError(err, skip)
	}
	if length <= 0 {
		return 0, &pathError{skip, max(1, len(text)), "a leg needs a length above 0", "such as up 0.9", false}
	}
	return length, nil
}

func quantityError(err error, skip int) *pathError {
	q := err.(*units.Error)
	return &pathError{skip + q.Offset, q.Len, q.What, q.Want, false}
}

// parseAngle reads what follows "angle": 45 up 1.2.
func parseAngle(text string, skip int, before []Leg) (Leg, *pathError) {
	const shape = "such as angle 45 up 1.2"
	text2 := strings.TrimLeft(text, " ")
	skip += len(text) - len(text2)
	number, rest, _ := strings.Cut(text2, " ")
	angle, err := units.ParseDegrees(strings.TrimSuffix(number, "°"))
	if err != nil {
		e := quantityError(err, skip)
		e.want = shape
		return Leg{}, e
	}
	word, length, _ := strings.Cut(strings.TrimLeft(rest, " "), " ")
	dir, ok := directions[word]
	if !ok {
		return Leg{}, &pathError{0, skip + len(text2), "an angle needs a direction and a length", shape, false}
	}
	was, any := lastStraight(before)
	switch {
	case !any:
		return Leg{}, &pathError{0, skip + len(text2), "an angle needs a leg before it to turn from", "walk a leg first", true}
	case angle <= 0 || angle > 90:
		return Leg{}, &pathError{skip, len(number), "an angle of " + number + " cannot be turned", "above 0 and up to 90 degrees", false}
	case math.Abs(was.Dot(dir)) > 1e-9:
		return Leg{}, &pathError{0, skip + len(text2), "the leg before does not turn towards " + word, "a direction square to it", true}
	}
	m, perr := legLength(length, len(text2)-len(length)+skip, skip+len(text2))
	if perr != nil {
		return Leg{}, perr
	}
	a := float64(angle) * math.Pi / 180
	turned := Point{}.Add(was, math.Cos(a)).Add(dir, math.Sin(a))
	return Leg{Word: "angle " + number + " " + word, Dir: turned, Length: m, Angle: angle}, nil
}

// follows reports what is wrong with a leg after those before it.
func follows(before []Leg, leg Leg, word string) *pathError {
	was, any := lastStraight(before)
	if !any {
		for _, set := range before {
			if math.Abs(set.Dir.Dot(leg.Dir)) > 1e-9 && !leg.IsSet() {
				return &pathError{0, len(word), "the set before shifts along this leg, not sideways", "name a direction square to the leg: set 40 mm up", true}
			}
		}
		return nil
	}
	if !leg.IsSet() && was.Dot(leg.Dir) < -1+1e-9 {
		return &pathError{0, len(word), "the path turns back on itself", "a leg goes on or turns aside", true}
	}
	if leg.IsSet() && math.Abs(was.Dot(leg.Dir)) > 1e-9 {
		return &pathError{0, len(word), "a set shifts sideways, not along the leg", "name a direction square to the leg: set 40 mm up", true}
	}
	return nil
}

// walk returns the corners of a path from the origin, the length along its
// centre line and the bends between its ends. A set belongs to the leg before
// it (the first set to the leg after it) and lengthens it by its shortening.
func walk(legs []Leg) (corners []Point, length units.Metres, b Bends) {
	at := Point{}
	corners = append(corners, at)
	var was Point
	moved := false
	for _, l := range legs {
		if l.IsSet() {
			b.set(l)
			if !l.Double {
				if moved {
					corners = append(corners, at)
				}
				at = at.Add(l.Dir, float64(l.Set.Metres()))
				if moved {
					corners = append(corners, at)
				}
			}
			length += l.extra()
			continue
		}
		if moved {
			b.turn(was, l.Dir)
			if was != l.Dir && corners[len(corners)-1] != at {
				corners = append(corners, at)
			}
		}
		at = at.Add(l.Dir, float64(l.Length))
		length += l.Length
		was, moved = l.Dir, true
	}
	corners = append(corners, at)
	b.Count = b.BendCount()
	return corners, length, b
}

// set counts a set and adds what it turns.
func (b *Bends) set(l Leg) {
	b.Sets++
	b.Degrees += 2 * float64(l.counted())
	switch {
	case !l.Double:
		return
	case l.Bubble:
		b.Bubbles++
	default:
		b.Doubles++
	}
	b.Degrees += 2 * float64(l.counted())
}

// turn adds the angle between two directions.
func (b *Bends) turn(from, to Point) {
	cos := max(-1, min(1, from.Dot(to)))
	deg := math.Acos(cos) * 180 / math.Pi
	switch {
	case deg < 1e-6:
		return
	case math.Abs(deg-90) < 1e-6:
		b.Right++
	default:
		b.Other = append(b.Other, units.Degrees(math.Round(deg*1e6)/1e6))
	}
	b.Degrees += math.Round(deg*1e6) / 1e6
}
