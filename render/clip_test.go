package render

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func shoelace(xy []float64) float64 {
	a := 0.0
	for i := 0; i < len(xy); i += 2 {
		j := (i + 2) % len(xy)
		a += xy[i]*xy[j+1] - xy[j]*xy[i+1]
	}
	return math.Abs(a) / 2
}

func TestCutPolygon(t *testing.T) {
	r := rect{0, 0, 10, 10}
	for _, c := range []struct {
		name string
		xy   []float64
		area float64
	}{
		{"inside", []float64{1, 1, 5, 1, 5, 5, 1, 5}, 16},
		{"half out", []float64{-5, 0, 5, 0, 5, 10, -5, 10}, 50},
		{"round it", []float64{-50, -50, 50, -50, 50, 50, -50, 50}, 100},
		{"a corner", []float64{8, 8, 14, 8, 8, 14}, 4},
		{"outside", []float64{20, 20, 30, 20, 30, 30}, 0},
	} {
		if got := shoelace(r.cutPolygon(c.xy)); math.Abs(got-c.area) > 1e-9 {
			t.Errorf("%s: area %g, expected %g", c.name, got, c.area)
		}
	}
}

func length(xy []float64) float64 {
	d := 0.0
	for i := 0; i+3 < len(xy); i += 2 {
		d += math.Hypot(xy[i+2]-xy[i], xy[i+3]-xy[i+1])
	}
	return d
}

func TestCutLine(t *testing.T) {
	r := rect{0, 0, 10, 10}
	for _, c := range []struct {
		name   string
		xy     []float64
		closed bool
		parts  int
		length float64
	}{
		{"inside", []float64{1, 1, 4, 5}, false, 1, 5},
		{"across", []float64{-1e6, 5, 1e6, 5}, false, 1, 10},
		{"out and in", []float64{5, 5, 15, 5, 15, 8, 5, 8}, false, 2, 10},
		{"loop round the corner", []float64{5, 5, 15, 5, 15, 15, 5, 15}, true, 2, 10},
		{"outside", []float64{20, 0, 20, 10}, false, 0, 0},
		{"past the corner", []float64{-3, 8, 3, 14}, false, 0, 0},
	} {
		parts := r.cutLine(c.xy, c.closed)
		got := 0.0
		for _, p := range parts {
			got += length(p)
		}
		if len(parts) != c.parts || math.Abs(got-c.length) > 1e-9 {
			t.Errorf("%s: %d parts of %g, expected %d of %g", c.name, len(parts), got, c.parts, c.length)
		}
	}
}

// What is cut lies inside and no longer than it was; what lay inside stays.
func TestCutStaysInside(t *testing.T) {
	wide := rect{-1e-6, -1e-6, 10 + 1e-6, 10 + 1e-6}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 8).Draw(t, "points")
		xy := rapid.SliceOfN(rapid.Float64Range(-30, 40), 2*n, 2*n).Draw(t, "polygon")
		r := rect{0, 0, 10, 10}
		if cut := r.cutPolygon(xy); !wide.holdsAll(cut) {
			t.Fatalf("polygon cut to %v", cut)
		}
		sum := 0.0
		for _, part := range r.cutLine(xy, false) {
			if !wide.holdsAll(part) {
				t.Fatalf("line cut to %v", part)
			}
			sum += length(part)
		}
		if sum > length(xy)+1e-6 {
			t.Fatalf("the line grew to %g", sum)
		}
	})
}
