package uk_test

import (
	"errors"
	"slices"
	"testing"

	"tubewright/factors"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

// Source: contract specifications read in extract; the same lengths end IET
// On-Site Guide Table E4.
func TestDrawInLimit(t *testing.T) {
	for bends, want := range []float64{10, 10, 10, 5, 2.5} {
		v, err := uk.DrawInLimit(bends)
		if got := num(t, v, err); got != want {
			t.Errorf("%d bends: %v, want %v", bends, got, want)
		}
		// The same lengths are where the factors end.
		if _, err := uk.ConduitFactor(nil, units.Metres(want), bends, 20); err != nil {
			t.Errorf("no factor at the limit: %v", err)
		}
		if _, err := uk.ConduitFactor(nil, units.Metres(want+0.01), bends, 20); !errors.Is(err, factors.ErrPastTable) {
			t.Errorf("a factor past the limit of %v m with %d bends: %v", want, bends, err)
		}
	}
	if _, err := uk.DrawInLimit(5); !errors.Is(err, factors.ErrPastTable) {
		t.Errorf("five bends: %v", err)
	}
}

// Source: IET On-Site Guide Table D3, rigid insulating, read in a maker's
// technical page; metal from memory. Trunking: a 16th-edition text, Table 4.13
// (read). Closer spacings: makers' notes (read).
func TestSupportSpacing(t *testing.T) {
	plastic := func(size units.Millimetres) factors.Enclosure {
		return factors.Enclosure{Kind: factors.Conduit, Material: factors.Plastic, Size: size}
	}
	steel := func(size units.Millimetres) factors.Enclosure {
		return factors.Enclosure{Kind: factors.Conduit, Material: factors.Steel, Size: size}
	}
	tests := []struct {
		e                    factors.Enclosure
		maker                bool
		horizontal, vertical float64
	}{
		{plastic(16), false, 0.75, 1}, {plastic(20), false, 1.5, 1.75}, {plastic(25), false, 1.5, 1.75},
		{plastic(32), false, 1.75, 2}, {plastic(50), false, 2, 2}, {plastic(20), true, 0.9, 1.2},
		{steel(20), false, 1.75, 2}, {steel(32), false, 2, 2.25}, {steel(50), false, 2.25, 2.5}, {steel(20), true, 1.75, 2},
		{trunking(factors.Steel, 50, 50), false, 1.75, 2}, {trunking(factors.Steel, 100, 50), false, 3, 3}, {trunking(factors.Steel, 300, 300), false, 3, 3},
		{trunking(factors.Plastic, 25, 16), false, 0.5, 0.5}, {trunking(factors.Plastic, 50, 50), false, 1.25, 1.25}, {trunking(factors.Plastic, 18, 9), true, 0.5, 0.5},
	}
	for _, tt := range tests {
		h, herr := uk.SupportSpacing(tt.e, true, tt.maker)
		v, verr := uk.SupportSpacing(tt.e, false, tt.maker)
		if got := [2]float64{num(t, h, herr), num(t, v, verr)}; got != [2]float64{tt.horizontal, tt.vertical} {
			t.Errorf("%v: %v, want %v and %v", tt.e, got, tt.horizontal, tt.vertical)
		}
	}
	if v, err := uk.SupportSpacing(trunking(factors.Plastic, 18, 9), true, false); err == nil {
		t.Errorf("162 mm² of trunking: %v m; the guide starts over 300 mm²", v.Num)
	}
}

// Source: makers' catalogues (steel conduit, plastic conduit and steel trunking
// read; plastic trunking memory).
func TestStockLength(t *testing.T) {
	tests := []struct {
		k    factors.Kind
		m    factors.Material
		want float64
	}{{factors.Conduit, factors.Steel, 3.75}, {factors.Conduit, factors.Plastic, 3}, {factors.Trunking, factors.Steel, 3}, {factors.Trunking, factors.Plastic, 3}}
	for _, tt := range tests {
		if v := uk.StockLength(factors.Enclosure{Kind: tt.k, Material: tt.m}); v.Num != tt.want || v.Unit != "m" {
			t.Errorf("%v %v: %v %s, want %v m", tt.m, tt.k, v.Num, v.Unit, tt.want)
		}
	}
}

func TestSizes(t *testing.T) {
	lists := []struct {
		name string
		got  any
		ok   bool
	}{
		{"steel conduit", uk.ConduitSizes(factors.Steel), slices.Equal(uk.ConduitSizes(factors.Steel), []units.Millimetres{16, 20, 25, 32, 40, 50, 63})},
		{"plastic conduit", uk.ConduitSizes(factors.Plastic), slices.Equal(uk.ConduitSizes(factors.Plastic), []units.Millimetres{16, 20, 25, 32, 38, 40, 50, 63})},
		{"cables in conduit", uk.SizesWithFactor(factors.Conduit), slices.Equal(uk.SizesWithFactor(factors.Conduit), []units.SquareMM{1, 1.5, 2.5, 4, 6, 10, 16, 25})},
		{"twin and earth", uk.TwinEarthSizes(), slices.Equal(uk.TwinEarthSizes(), []units.SquareMM{1, 1.5, 2.5, 4, 6, 10, 16})},
		{"cables in trunking", uk.SizesWithFactor(factors.Trunking), slices.Equal(uk.SizesWithFactor(factors.Trunking), []units.SquareMM{1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240})},
		{"standard", uk.StandardSizes(), slices.Equal(uk.StandardSizes(), []units.SquareMM{1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300})},
	}
	for _, l := range lists {
		if !l.ok {
			t.Errorf("%s: %v", l.name, l.got)
		}
	}
	// A caller may sort or cut what it was given.
	uk.StandardSizes()[0] = 99
	uk.TrunkingSizes(factors.Steel)[0].Width = 99
	if uk.StandardSizes()[0] != 1 || uk.TrunkingSizes(factors.Steel)[0].Width == 99 {
		t.Error("the lists are shared with the caller")
	}
}

// Source: specifications read in extract; makers' and the product standard's
// 60 °C (read); BS 7671 433.1.204 (memory).
func TestLimits(t *testing.T) {
	for name, tt := range map[string]struct {
		v    factors.Value
		want float64
		unit string
	}{"half a turn": {uk.DrawInDegrees(180), 180, "°"}, "three quarters": {uk.DrawInDegrees(270), 270, "°"}, "plastic": {uk.PlasticHighest(), 60, "°C"}, "cold plastic": {uk.PlasticLowest(), -5, "°C"}, "ring": {uk.RingLeast(), 20, "A"}} {
		if tt.v.Num != tt.want || tt.v.Unit != tt.unit || tt.v.Cite == nil {
			t.Errorf("%s: %v %s, want %v %s", name, tt.v.Num, tt.v.Unit, tt.want, tt.unit)
		}
	}
}

// Source: BS 7671 Table 51 (read).
func TestColours(t *testing.T) {
	table := uk.Tables().Table("colours")
	for core, want := range map[string]string{"line": "brown", "neutral": "blue", "protective": "green-and-yellow", "L1": "brown", "L2": "black", "L3": "grey", "switched line": "brown", "functional earth": "cream"} {
		if got := table.Keys(factors.Word(core)); len(got) != 1 || got[0].Word != want {
			t.Errorf("%s: %v, want %s", core, got, want)
		}
	}
}
