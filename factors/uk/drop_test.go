package uk_test

import (
	"errors"
	"math"
	"testing"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

// Source: BS 7671 Tables 4D1B (read in a wholesaler's catalogue, p. 489) and
// 4E1B (read at a distributor), enclosed in conduit or trunking.
func TestDropCells(t *testing.T) {
	tests := []struct {
		csa           units.SquareMM
		insulation    factors.Insulation
		single, three float64
	}{
		{1, factors.Thermoplastic, 44, 38}, {1.5, factors.Thermoplastic, 29, 25}, {2.5, factors.Thermoplastic, 18, 15},
		{4, factors.Thermoplastic, 11, 9.5}, {6, factors.Thermoplastic, 7.3, 6.4}, {10, factors.Thermoplastic, 4.4, 3.8},
		{16, factors.Thermoplastic, 2.8, 2.4}, {25, factors.Thermoplastic, 1.80, 1.55}, {35, factors.Thermoplastic, 1.30, 1.10},
		{1, factors.Thermosetting, 46, 40}, {2.5, factors.Thermosetting, 19, 16}, {4, factors.Thermosetting, 12, 10},
		{6, factors.Thermosetting, 7.9, 6.8}, {16, factors.Thermosetting, 2.9, 2.5}, {25, factors.Thermosetting, 1.90, 1.65},
	}
	for _, tt := range tests {
		c := factors.Cable{Form: factors.Single, CSA: tt.csa, Strands: factors.Stranded, Insulation: tt.insulation}
		for lines, want := range map[int]float64{1: tt.single, 3: tt.three} {
			d, err := uk.Drop(c, lines)
			if err != nil || d.Z.Num != want || d.Reactive != (tt.csa > 16) {
				t.Errorf("%v, %d lines: %v, reactive %v, %v; want %v", c, lines, d.Z.Num, d.Reactive, err, want)
			}
		}
	}
}

// TestDropOfResistance: up to 16 mm² the single-phase column is twice and the
// three-phase column √3 times the resistance of BS EN 60228 at 70 °C, in two
// digits: √3 is in the column already and not in ohms a core.
func TestDropOfResistance(t *testing.T) {
	for _, S := range []units.SquareMM{1, 1.5, 2.5, 4, 6, 10, 16} {
		r, err := uk.Resistance(S, factors.Stranded)
		r70 := num(t, r, err) * (234.5 + 70) / 254.5
		for lines, times := range map[int]float64{1: 2, 3: math.Sqrt(3)} {
			d, err := uk.Drop(single(S, factors.Stranded), lines)
			if got := num(t, d.Z, err); math.Abs(got/(times*r70)-1) > 0.026 {
				t.Errorf("%v mm², %d lines: %v, by resistance %.3f", S, lines, got, times*r70)
			}
		}
	}
}

func TestDropMisses(t *testing.T) {
	for _, c := range []factors.Cable{
		single(4, factors.Flexible), single(3.5, factors.Stranded), {Form: factors.Round, OD: 6},
		{Form: factors.TwinEarth, CSA: 4, Insulation: factors.Thermoplastic},
	} {
		if _, err := uk.Drop(c, 3); !errors.Is(err, factors.ErrNoRow) {
			t.Errorf("%v on three phases: %v", c, err)
		}
	}
}

func amps(symbol string, v float64) sum.Term { return sum.Term{Symbol: symbol, Value: v, Unit: "A"} }

// Source: the formula of BS 7671, Appendix 4, 6.1 (memory), its values
// computed by hand: at full load 1, at half load 40 °C and 0.9, in a group
// 63.06 °C and 0.9769; never above 1.
func TestDropCorrection(t *testing.T) {
	one := sum.Term{Symbol: "Ca", Value: 1}
	tests := []struct{ Cg, Ib, It, want float64 }{
		{1, 24, 24, 1}, {1, 12, 24, 0.9}, {0.7, 13.5, 24, 0.9769}, {0.5, 24, 24, 1},
	}
	for _, tt := range tests {
		got := uk.DropCorrection(nil, 70, one, sum.Term{Symbol: "Cg", Value: tt.Cg}, amps("Ib", tt.Ib), amps("It", tt.It)).Value
		if math.Abs(got-tt.want) > 5e-5 {
			t.Errorf("Cg %v, Ib %v, It %v: %.4f, want %v", tt.Cg, tt.Ib, tt.It, got, tt.want)
		}
	}
}

// Source: the formula of BS 7671, Appendix 4, 6.2 (memory), computed by hand.
func TestDropAtFactor(t *testing.T) {
	r, x := sum.Term{Symbol: "r", Value: 1.75, Unit: "mV/A/m"}, sum.Term{Symbol: "x", Value: 0.29, Unit: "mV/A/m"}
	if got := uk.DropAtFactor(nil, r, x, 0.8).Value; math.Abs(got-1.574) > 5e-4 {
		t.Errorf("%v, want 1.574", got)
	}
	if got := uk.DropAtFactor(nil, r, sum.Term{}, 0.8).Value; math.Abs(got-1.4) > 1e-12 {
		t.Errorf("without a reactive part: %v, want 1.4", got)
	}
}

// Source: Basic Electrical Installation Work, p. 302 (read): 6.9 V and 11.5 V
// on 230 V; the private limits and the allowance from memory.
func TestDropLimits(t *testing.T) {
	tests := []struct {
		private, lighting bool
		pct               float64
	}{{false, true, 3}, {false, false, 5}, {true, true, 6}, {true, false, 8}}
	for _, tt := range tests {
		if got := uk.DropLimit(tt.private, tt.lighting).Num; got != tt.pct {
			t.Errorf("%+v: %v", tt, got)
		}
	}
	if each, most := uk.DropOver100(); each.Num != 0.005 || most.Num != 0.5 {
		t.Errorf("%v and %v", each.Num, most.Num)
	}
}
