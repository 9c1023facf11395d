package route

import (
	"math"
	"strings"

	"tubewright/factors/units"
)

// defaultSetAngle is the angle of a set's bends where the path does not say.
// Common practice, no source.
const defaultSetAngle units.Degrees = 45

// defaultBubbleAngle is that of a bubble set's outer bends; the middle one of
// three turns twice as far.
const defaultBubbleAngle units.Degrees = 22.5

// usual is the angle of a set whose path leaves it open, if the former makes
// its depth at that.
func (l Leg) usual() units.Degrees {
	if l.Bubble {
		return defaultBubbleAngle
	}
	return defaultSetAngle
}

// counted is the angle that a bend of a set counts with when cables are drawn
// in: where the path leaves it open, not less than the usual one, so that a
// flatter set which the former asked for never makes a pull look easier.
func (l Leg) counted() units.Degrees {
	if l.Stated {
		return l.Angle
	}
	return max(l.Angle, l.usual())
}

// parseSet reads what follows "set": 40 mm, 40 mm up, 40 mm up and 30 mm out,
// 40 mm over 100 mm, 40 mm at 30; over and at in either order.
func parseSet(text string, skip int, word string) (Leg, *pathError) {
	leg := Leg{Word: word, Double: word != "set", Bubble: word == "bubble set"}
	leg.Angle = leg.usual()
	at, over := strings.Index(text, " at "), strings.Index(text, " over ")
	shift := text[:clauseEnd(text, 0, at, over)]
	if at >= 0 {
		said := text[at+4 : clauseEnd(text, at+4, over)]
		angle, err := units.ParseDegrees(said)
		if err != nil {
			return leg, quantityError(err, skip+at+4)
		}
		if angle < 5 || angle > 90 {
			return leg, &pathError{skip + at + 4, len(said), "no set is bent at that angle", "between 5 and 90 degrees, usually 30 or 45", false}
		}
		leg.Angle, leg.Stated = angle, true
	}
	if over >= 0 {
		var err *pathError
		if leg.Over, err = parseOver(text[over+6:clauseEnd(text, over+6, at)], skip+over+6, leg.Double); err != nil {
			return leg, err
		}
	}
	way, err := parseShifts(shift, skip)
	if err != nil {
		return leg, err
	}
	leg.Set, leg.Dir = units.Millimetres(round6(way.Len()*1000)), Point{}.Add(way, 1/way.Len())
	return leg, nil
}

// clauseEnd is the end of what starts at from: the first of the words that
// follow it, or the end of the text. A word that is not there is below nought.
func clauseEnd(text string, from int, words ...int) int {
	end := len(text)
	for _, w := range words {
		if w >= from {
			end = min(end, w)
		}
	}
	return end
}

// parseOver reads the straight between away and back.
func parseOver(text string, skip int, double bool) (units.Millimetres, *pathError) {
	mm, err := units.ParseMillimetres(text)
	switch {
	case err != nil:
		return 0, quantityError(err, skip)
	case !double:
		return 0, &pathError{skip, max(1, len(text)), "a set does not come back", "write double set or bubble set", false}
	case mm <= 0 || mm > 2000:
		return 0, &pathError{skip, max(1, len(text)), "the straight needs a length above 0 and under 2 m", "such as over 100 mm", false}
	}
	return mm, nil
}

// parseShifts reads one shift, or two square to each other: a rolled set.
func parseShifts(text string, skip int) (Point, *pathError) {
	var way Point
	parts := strings.SplitN(text, " and ", 2)
	for _, part := range parts {
		depth, dir, named := part, directions["out"], false
		if i := strings.LastIndex(strings.TrimRight(part, " "), " "); i >= 0 {
			if d, ok := directions[strings.TrimSpace(part[i+1:])]; ok {
				dir, depth, named = d, part[:i], true
			}
		}
		mm, err := units.ParseMillimetres(depth)
		switch {
		case err != nil:
			return way, quantityError(err, skip)
		case mm <= 0 || mm > 2000:
			return way, &pathError{skip, max(1, len(depth)), "a set needs a depth above 0 and under 2 m", "such as set 40 mm", false}
		case len(parts) > 1 && (!named || math.Abs(way.Dot(dir)) > 1e-9):
			return way, &pathError{skip, max(1, len(part)), "a rolled set shifts two ways square to each other", "such as set 40 mm up and 30 mm out", false}
		}
		way = way.Add(dir, float64(mm.Metres()))
		skip += len(part) + len(" and ")
	}
	return way, nil
}
