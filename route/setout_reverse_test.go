package route_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tubewright/route"

	"pgregory.net/rapid"
)

// TestSetOutReversed: the same tube drawn from its other end is bent at the
// same points, takes the same length and has the same reason why it cannot be
// made. Sets stand in a straight that goes on, or next to a place: there the
// text says the same from both ends.
func TestSetOutReversed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := []string{"up", "down", "left", "right", "in", "out"}
		var there, home []string
		last := ""
		legs := rapid.IntRange(1, 5).Draw(t, "legs")
		for i := range legs {
			word := rapid.SampledFrom(words).Filter(func(w string) bool { return w != turnsBack[last] && w != last }).Draw(t, "direction")
			last = word
			aside := rapid.SampledFrom(words).Filter(func(w string) bool { return w != word && w != turnsBack[word] }).Draw(t, "aside")
			depth, a, b := rapid.IntRange(20, 80).Draw(t, "depth"), rapid.IntRange(60, 500).Draw(t, "mm"), rapid.IntRange(60, 500).Draw(t, "mm on")
			switch kind := rapid.SampledFrom([]string{"plain", "set", "bubble", "end"}).Draw(t, "kind"); {
			case kind == "set":
				there = append(there, fmt.Sprintf("%s %d mm", word, a), fmt.Sprintf("set %d mm %s", depth, aside), fmt.Sprintf("%s %d mm", word, b))
				home = append(home, fmt.Sprintf("%s %d mm", turnsBack[word], a), fmt.Sprintf("set %d mm %s", depth, turnsBack[aside]), fmt.Sprintf("%s %d mm", turnsBack[word], b))
			case kind == "bubble":
				there = append(there, fmt.Sprintf("%s %d mm", word, a), fmt.Sprintf("bubble set %d mm %s", depth, aside), fmt.Sprintf("%s %d mm", word, b))
				home = append(home, fmt.Sprintf("%s %d mm", turnsBack[word], a), fmt.Sprintf("bubble set %d mm %s", depth, aside), fmt.Sprintf("%s %d mm", turnsBack[word], b))
			case kind == "end" && i == legs-1:
				there = append(there, fmt.Sprintf("%s %d mm", word, a+b), fmt.Sprintf("set %d mm %s", depth, aside))
				home = append(home, fmt.Sprintf("%s %d mm", turnsBack[word], a+b), fmt.Sprintf("set %d mm %s", depth, turnsBack[aside]))
			default:
				there = append(there, fmt.Sprintf("%s %d mm", word, a))
				home = append(home, fmt.Sprintf("%s %d mm", turnsBack[word], a))
			}
		}
		slices.Reverse(home)
		a := setOutOf(t, "a", "b", strings.Join(there, ", "))
		b := setOutOf(t, "b", "a", strings.Join(home, ", "))
		text := strings.Join(there, ", ") + " | " + strings.Join(home, ", ")
		if math.Abs(a.LengthMM-b.LengthMM) > 1e-6 || len(a.Bends) != len(b.Bends) || len(a.Saddles) != len(b.Saddles) || len(a.Lacks) != len(b.Lacks) {
			t.Fatalf("%s\n%+v\n%+v", text, a, b)
		}
		for i, x := range a.Bends {
			y := b.Bends[len(b.Bends)-1-i]
			if math.Abs(x.Start-(a.LengthMM-y.End)) > 1e-6 || math.Abs(float64(x.Angle-y.Angle)) > 1e-6 {
				t.Fatalf("%s: bend %+v, from the other end %+v of %v", text, x, y, a.LengthMM)
			}
		}
		if short(a) != short(b) {
			t.Fatalf("%s: %+v and %+v", text, a.Lacks, b.Lacks)
		}
	})
}

func setOutOf(t *rapid.T, from, to, path string) route.SetOut {
	text := fmt.Sprintf("job: r\nplaces:\n  a: {is: board}\n  b: {is: box}\nruns:\n  A: {from: %s, to: %s, in: steel conduit 20, path: %q}\n", from, to, path)
	j, err := route.Parse("reverse.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%s\n%v", text, err)
	}
	return j.SetOut(nil, 0)
}

// short is by how much the run falls short in all, to a thousandth of a mm.
func short(s route.SetOut) (um int) {
	for _, l := range s.Lacks {
		um += int(math.Round((l.Limit - l.Value) * 1000))
	}
	return um
}
