package uk_test

import (
	"math"
	"testing"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
)

// TestDiversity holds the allowances of IET On-Site Guide, Table A2, to
// published examples and to sums by hand.
func TestDiversity(t *testing.T) {
	tests := []struct {
		source, premises, use string
		currents              []float64
		sockets               int
		want                  float64
	}{
		{"cooker repair page 5, 70 A plate (read)", "household", "cooker", []float64{70}, 0, 28},
		{"the same with a socket (read)", "household", "cooker", []float64{70}, 1, 33},
		{"newsgroup, kitchen without a cooker circuit, 30 A (read)", "household", "cooker", []float64{30}, 0, 16},
		{"Linsley pp. 297-298, 12 kW with socket (read)", "household", "cooker", []float64{12000.0 / 230}, 1, 27.65},
		{"by hand: up to the first 10 A nothing is taken off", "household", "cooker", []float64{8}, 0, 8},
		{"by hand", "household", "heating", []float64{13, 9}, 0, 10 + 0.5*12},
		{"by hand", "household", "lighting", []float64{6, 4}, 0, 6.6},
		{"by hand: the largest circuit in full, 40 % of every other", "household", "sockets", []float64{32, 32, 20}, 0, 32 + 0.4*52},
		{"by hand: two showers in full, a quarter of the third", "household", "shower", []float64{40, 37, 30}, 0, 77 + 7.5},
		{"by hand", "shops and offices", "sockets", []float64{32, 32, 20}, 0, 32 + 0.5*52},
		{"by hand", "shops and offices", "motor", []float64{20, 10, 5}, 0, 20 + 8 + 3},
		{"by hand", "hotels", "stationary", []float64{20, 10, 5}, 0, 20 + 7.5 + 2},
		{"by hand", "household", "water heater", []float64{13, 13}, 0, 26},
	}
	for _, tt := range tests {
		terms := make([]sum.Term, len(tt.currents))
		for i, I := range tt.currents {
			terms[i] = amps("I", I)
		}
		got, err := uk.Diversity(nil, "I", tt.premises, tt.use, terms, tt.sockets)
		if err != nil || math.Abs(got.Value-tt.want) > 0.0051 {
			t.Errorf("%s, %s, %v: %.3f, want %v (%v): %s", tt.premises, tt.use, tt.currents, got.Value, tt.want, err, tt.source)
		}
	}
	if _, err := uk.Diversity(nil, "I", "household", "motor", []sum.Term{amps("I", 5)}, 0); err == nil {
		t.Error("a household's motors have an allowance")
	}
}
