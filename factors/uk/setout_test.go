package uk_test

import (
	"testing"

	"tubewright/factors"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

// Source: BS 4568 as a maker's table prints it (read): thread lengths.
func TestThread(t *testing.T) {
	for size, want := range map[units.Millimetres][2]float64{16: {11.5, 13.5}, 20: {13, 15}, 25: {16, 18}, 32: {18, 20}, 40: {19, 22}, 50: {19, 22}} {
		least, longest, err := uk.Thread(size)
		if err != nil || least.Num != want[0] || longest.Num != want[1] || least.Unit != "mm" {
			t.Errorf("%v: %v, %v, %v", size, least, longest, err)
		}
	}
	if _, _, err := uk.Thread(63); err == nil {
		t.Error("the table ends at 50 mm")
	}
}

func TestOutsideDiameter(t *testing.T) {
	for _, m := range []factors.Material{factors.Steel, factors.Plastic} {
		for _, size := range []units.Millimetres{16, 20, 25, 32} {
			v, err := uk.OutsideDiameter(factors.Enclosure{Kind: factors.Conduit, Material: m, Size: size})
			if err != nil || v.Num != float64(size) {
				t.Errorf("%v %v: %v, %v", m, size, v.Num, err)
			}
			wall, err := uk.Wall(factors.Enclosure{Kind: factors.Conduit, Material: m, Size: size})
			if want := map[units.Millimetres]float64{16: 1.4, 20: 1.6, 25: 1.6, 32: 1.6}[size]; (err == nil) != (m == factors.Steel) || err == nil && wall.Num != want {
				t.Errorf("%v %v: wall %v, %v", m, size, wall.Num, err)
			}
		}
	}
}

// Source: makers' pages (read): 5.25 mm and 5 mm for 3 m and 25 K; a US maker's
// 3.38e-5 per °F; specifications in extract.
func TestSetOutFigures(t *testing.T) {
	spacing, movement := uk.ExpansionCoupler()
	for name, tt := range map[string]struct {
		v    factors.Value
		want float64
		unit string
	}{
		"larger": {uk.PlasticExpansion("larger"), 5.25 / 3 / 25, "mm"}, "smaller": {uk.PlasticExpansion("smaller"), 0.067, "mm"}, "third": {uk.PlasticExpansion("third"), 0.0608, "mm"},
		"steel": {uk.SteelExpansion(), 0.0117, "mm"}, "spacing": {spacing, 6, "m"}, "movement": {movement, 0.025, "m"}, "sun": {uk.SunRise(), 16.7, "K"},
		"lying": {uk.SpecificationSpacing(true), 1, "m"}, "standing": {uk.SpecificationSpacing(false), 1.2, "m"},
		"maker's end": {uk.SaddleFromBox("farthest"), 225, "mm"}, "another's": {uk.SaddleFromBox("nearest"), 150, "mm"}, "specified": {uk.SaddleFromBox("specification"), 200, "mm"},
		"radius": {uk.LeastBendRadius(), 2.5, "1"}, "kerf": {uk.SetOutPractice("kerf"), 2, "mm"}, "box": {uk.PlaceFace("accessory"), 75.0 / 2, "mm"}, "twin box": {uk.PlaceFace("side of a two-gang accessory"), 135.0 / 2, "mm"},
		"adaptable box": {uk.PlaceFace("adaptable box"), 100.0 / 2, "mm"}, "locknut": {uk.SetOutPractice("locknut"), 5, "mm"}, "socket": {uk.EntryDepth("plastic socket"), 1, "1"},
		"yield": {uk.SteelInBending("yield"), 300, "MPa"}, "modulus": {uk.SteelInBending("modulus"), 205000, "MPa"},
	} {
		if d := tt.v.Num - tt.want; d > 1e-9 || d < -1e-9 || tt.v.Unit != tt.unit || tt.v.Cite == nil {
			t.Errorf("%s: %v %s, want %v %s", name, tt.v.Num, tt.v.Unit, tt.want, tt.unit)
		}
	}
}
