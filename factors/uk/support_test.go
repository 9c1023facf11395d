package uk_test

import (
	"fmt"
	"testing"

	"tubewright/factors"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

// supportCells is every figure of the support tables, in metres, lying and
// standing.
//
// Source: IET On-Site Guide Tables D3 (rigid insulating read in a maker's
// reprint, rigid metal and pliable memory) and D4 (read by size in a
// 16th-edition text, Table 4.13; the bands, insulating over 2500 mm² and the
// last row memory); makers' notes and specifications (read).
var supportCells = map[string][]string{
	"support-spacing-conduit": {
		"rigid metal 16 horizontal 0.75", "rigid metal 16 vertical 1", "rigid metal 25 horizontal 1.75", "rigid metal 25 vertical 2",
		"rigid metal 40 horizontal 2", "rigid metal 40 vertical 2.25", "rigid metal 63 horizontal 2.25", "rigid metal 63 vertical 2.5",
		"rigid insulating 16 horizontal 0.75", "rigid insulating 16 vertical 1", "rigid insulating 25 horizontal 1.5", "rigid insulating 25 vertical 1.75",
		"rigid insulating 40 horizontal 1.75", "rigid insulating 40 vertical 2", "rigid insulating 63 horizontal 2", "rigid insulating 63 vertical 2",
		"pliable 16 horizontal 0.3", "pliable 16 vertical 0.5", "pliable 25 horizontal 0.4", "pliable 25 vertical 0.6",
		"pliable 40 horizontal 0.6", "pliable 40 vertical 0.8", "pliable 63 horizontal 0.8", "pliable 63 vertical 1"},
	"support-spacing-trunking": {
		"metal 700 horizontal 0.75", "metal 700 vertical 1",
		"metal 1500 horizontal 1.25", "metal 1500 vertical 1.5", "metal 2500 horizontal 1.75", "metal 2500 vertical 2",
		"metal 5000 horizontal 3", "metal 5000 vertical 3", "metal 90000 horizontal 3", "metal 90000 vertical 3",
		"insulating 700 horizontal 0.5", "insulating 700 vertical 0.5",
		"insulating 1500 horizontal 0.5", "insulating 1500 vertical 0.5", "insulating 2500 horizontal 1.25", "insulating 2500 vertical 1.25",
		"insulating 5000 horizontal 1.5", "insulating 5000 vertical 2", "insulating 90000 horizontal 1.75", "insulating 90000 vertical 2"},
	"support-spacing-conduit-maker":  {"rigid insulating horizontal 0.9", "rigid insulating vertical 1.2"},
	"support-spacing-trunking-maker": {"insulating horizontal 0.5", "insulating vertical 0.5"},
	"support-spacing-specification":  {"rigid horizontal 1", "rigid vertical 1.2"},
	"saddle-from-box":                {"nearest 150", "specification 200", "farthest 225"},
}

// TestEverySupportCell: no cell of a support table differs, is missing or is
// not looked at here.
func TestEverySupportCell(t *testing.T) {
	for id, want := range supportCells {
		left := map[string]bool{}
		for _, w := range want {
			left[w] = true
		}
		uk.Tables().Table(id).Cells(func(v factors.Value, keys []factors.Key) {
			name := ""
			for _, k := range keys {
				name += k.String() + " "
			}
			name += fmt.Sprint(v.Num)
			if !left[name] {
				t.Errorf("%s has %q", id, name)
			}
			delete(left, name)
		})
		for w := range left {
			t.Errorf("%s lacks %q", id, w)
		}
	}
}

// TestSupportBands: each band of the tables ends where it is said to, read the
// way the program reads it: at its upper edge its own figure, past it the
// next one's.
func TestSupportBands(t *testing.T) {
	conduit := func(m factors.Material, size units.Millimetres) factors.Enclosure {
		return factors.Enclosure{Kind: factors.Conduit, Material: m, Size: size}
	}
	for _, tt := range []struct {
		e                    factors.Enclosure
		horizontal, vertical float64
	}{
		{conduit(factors.Steel, 16), 0.75, 1}, {conduit(factors.Steel, 20), 1.75, 2}, {conduit(factors.Steel, 25), 1.75, 2}, {conduit(factors.Steel, 32), 2, 2.25},
		{conduit(factors.Steel, 40), 2, 2.25}, {conduit(factors.Steel, 50), 2.25, 2.5}, {conduit(factors.Steel, 63), 2.25, 2.5},
		{conduit(factors.Plastic, 16), 0.75, 1}, {conduit(factors.Plastic, 20), 1.5, 1.75}, {conduit(factors.Plastic, 25), 1.5, 1.75}, {conduit(factors.Plastic, 32), 1.75, 2},
		{conduit(factors.Plastic, 40), 1.75, 2}, {conduit(factors.Plastic, 50), 2, 2}, {conduit(factors.Plastic, 63), 2, 2},
		{trunking(factors.Steel, 28, 25), 0.75, 1}, {trunking(factors.Steel, 60, 25), 1.25, 1.5}, {trunking(factors.Steel, 50, 50), 1.75, 2},
		{trunking(factors.Steel, 100, 50), 3, 3}, {trunking(factors.Steel, 100, 100), 3, 3},
		{trunking(factors.Plastic, 28, 25), 0.5, 0.5}, {trunking(factors.Plastic, 60, 25), 0.5, 0.5}, {trunking(factors.Plastic, 50, 50), 1.25, 1.25},
		{trunking(factors.Plastic, 100, 50), 1.5, 2}, {trunking(factors.Plastic, 100, 100), 1.75, 2},
	} {
		h, herr := uk.SupportSpacing(tt.e, true, false)
		v, verr := uk.SupportSpacing(tt.e, false, false)
		if got := [2]float64{num(t, h, herr), num(t, v, verr)}; got != [2]float64{tt.horizontal, tt.vertical} {
			t.Errorf("%v: %v, want %v and %v", tt.e, got, tt.horizontal, tt.vertical)
		}
	}
	for _, m := range []factors.Material{factors.Steel, factors.Plastic} {
		for _, lies := range []bool{true, false} {
			if v, err := uk.SupportSpacing(trunking(m, 20, 15), lies, false); err == nil {
				t.Errorf("%v, 300 mm² of trunking: %v m; the table starts above", m, v.Num)
			}
		}
	}
}
