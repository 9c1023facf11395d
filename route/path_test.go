package route

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestRecount walks paths of right-angled legs and sets and counts them again
// from the text alone: a bend where the word changes, a set's tube from the
// length of its slope.
func TestRecount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var steps []string
		var at [3]float64
		length, bends, sets, degrees := 0.0, 0, 0, 0.0
		last := ""
		for range rapid.IntRange(1, 8).Draw(t, "legs") {
			word := rapid.SampledFrom(directionWords).Filter(func(w string) bool { return w != back[last] }).Draw(t, "direction")
			mm := rapid.IntRange(50, 4000).Draw(t, "mm")
			steps = append(steps, fmt.Sprintf("%s %d mm", word, mm))
			if last != "" && word != last {
				bends++
				degrees += 90
			}
			length += float64(mm) / 1000
			shift(&at, word, mm)
			last = word
			if !rapid.Bool().Draw(t, "set") {
				continue
			}
			aside := rapid.SampledFrom(directionWords).Filter(func(w string) bool { return w != word && w != back[word] }).Draw(t, "aside")
			depth, angle := rapid.IntRange(5, 200).Draw(t, "depth"), rapid.IntRange(10, 80).Draw(t, "angle")
			sets++
			// The slope is the hypotenuse; the leg has the side beside the angle already.
			slope := float64(depth) / math.Sin(float64(angle)*math.Pi/180)
			gain := (slope - slope*math.Cos(float64(angle)*math.Pi/180)) / 1000
			if rapid.Bool().Draw(t, "double") {
				steps = append(steps, fmt.Sprintf("double set %d mm %s at %d", depth, aside, angle))
				length, degrees = length+2*gain, degrees+4*float64(angle)
				continue
			}
			steps = append(steps, fmt.Sprintf("set %d mm %s at %d", depth, aside, angle))
			length, degrees = length+gain, degrees+2*float64(angle)
			shift(&at, aside, depth)
		}
		text := strings.Join(steps, ", ")
		legs, errs := parsePath(text)
		if len(errs) > 0 {
			t.Fatalf("%s: %v", text, errs)
		}
		corners, got, b := walk(legs)
		if math.Abs(float64(got)-length) > 1e-6 || b.Right != bends || b.Sets != sets || len(b.Other) > 0 || b.Count != bends+sets || math.Abs(b.Degrees-degrees) > 1e-6 {
			t.Fatalf("%s: %v m, %v (%d, %v°); counted again %v m, %d right angles, %d sets, %v°", text, got, b, b.Count, b.Degrees, length, bends, sets, degrees)
		}
		if end := corners[len(corners)-1]; end.Sub(Point{at[0], at[1], at[2]}).Len() > 1e-6 {
			t.Fatalf("%s: ends at %v, counted again %v", text, end, at)
		}
	})
}

var back = map[string]string{"up": "down", "down": "up", "left": "right", "right": "left", "in": "out", "out": "in"}

func shift(at *[3]float64, word string, mm int) {
	axis := map[string]int{"right": 0, "left": 0, "out": 1, "in": 1, "up": 2, "down": 2}[word]
	by := float64(mm) / 1000
	if word == "left" || word == "in" || word == "down" {
		by = -by
	}
	at[axis] += by
}

// TestAngles: other angles count in proportion, and a part of a bend is a
// whole one (our reading of the guide's right angles).
func TestAngles(t *testing.T) {
	for _, tt := range []struct {
		path    string
		degrees float64
		count   int
		said    string
	}{
		{"right 1, angle 45 up 1", 45, 1, "45°"},
		{"right 1, angle 45 up 1, right 1", 90, 1, "45° + 45°"},
		{"right 1, angle 30 up 1, right 1, angle 60 down 1", 120, 2, "30° + 30° + 60°"},
		{"right 1, angle 90 up 1", 90, 1, "1 right angle"},
		{"right 1, up 1, angle 45 right 1, right 1", 180, 2, "1 right angle + 45° + 45°"},
		{"right 1, angle 45 up 1, left 1", 180, 2, "45° + 135°"},
		{"right 1, right 2", 0, 0, "no bends"},
		{"right 1, set 20 mm, double set 30 mm up, right 1, up 1", 360, 3, "1 right angle + 1 set + 1 double set"},
	} {
		legs, errs := parsePath(tt.path)
		if len(errs) > 0 {
			t.Errorf("%s: %v", tt.path, errs)
			continue
		}
		if _, _, b := walk(legs); math.Abs(b.Degrees-tt.degrees) > 1e-6 || b.Count != tt.count || b.String() != tt.said {
			t.Errorf("%s: %v°, %d, %s; want %v°, %d, %s", tt.path, b.Degrees, b.Count, b, tt.degrees, tt.count, tt.said)
		}
	}
}
