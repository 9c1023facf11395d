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

// Source: BS 7671 Tables 4D1A (read in a one-page reprint) and 4E1A (read in
// two reprints), methods A, B and C with 2 and 3 loaded conductors.
func TestRatingCells(t *testing.T) {
	tests := []struct {
		insulation factors.Insulation
		csa        units.SquareMM
		want       [6]float64
	}{
		{factors.Thermoplastic, 1, [6]float64{11, 10.5, 13.5, 12, 15.5, 14}},
		{factors.Thermoplastic, 1.5, [6]float64{14.5, 13.5, 17.5, 15.5, 20, 18}},
		{factors.Thermoplastic, 2.5, [6]float64{20, 18, 24, 21, 27, 25}},
		{factors.Thermoplastic, 4, [6]float64{26, 24, 32, 28, 37, 33}},
		{factors.Thermoplastic, 6, [6]float64{34, 31, 41, 36, 47, 43}},
		{factors.Thermoplastic, 10, [6]float64{46, 42, 57, 50, 65, 59}},
		{factors.Thermoplastic, 16, [6]float64{61, 56, 76, 68, 87, 79}},
		{factors.Thermoplastic, 25, [6]float64{80, 73, 101, 89, 114, 104}},
		{factors.Thermoplastic, 35, [6]float64{99, 89, 125, 110, 141, 129}},
		{factors.Thermosetting, 1.5, [6]float64{19, 17, 23, 20, 25, 23}},
		{factors.Thermosetting, 2.5, [6]float64{26, 23, 31, 28, 34, 31}},
		{factors.Thermosetting, 4, [6]float64{35, 31, 42, 37, 46, 41}},
		{factors.Thermosetting, 16, [6]float64{81, 73, 100, 88, 109, 99}},
		{factors.Thermosetting, 95, [6]float64{241, 216, 306, 269, 355, 326}},
	}
	for _, tt := range tests {
		for i, m := range []uk.Method{uk.MethodA, uk.MethodB, uk.MethodC} {
			for j, loaded := range []int{2, 3} {
				c := factors.Cable{Form: factors.Single, CSA: tt.csa, Strands: factors.Stranded, Insulation: tt.insulation}
				v, err := uk.Rating(c, m, loaded)
				if got, want := num(t, v, err), tt.want[2*i+j]; got != want || v.Unit != "A" {
					t.Errorf("%v, method %s, %d loaded: %v, want %v", c, m, loaded, got, want)
				}
			}
		}
	}
}

// TestRatingClosedForm holds the method B column against 13.5 × S^0.625, the
// form of IEC 60364-5-52 Annex D for two loaded 70 °C copper conductors (from
// memory), which the table keeps to within 1 % up to 35 mm².
func TestRatingClosedForm(t *testing.T) {
	for _, S := range uk.StandardSizes() {
		if S < 1.5 || S > 35 {
			continue
		}
		v, err := uk.Rating(single(S, factors.Stranded), uk.MethodB, 2)
		if got, form := num(t, v, err), 13.5*math.Pow(float64(S), 0.625); math.Abs(got/form-1) > 0.01 {
			t.Errorf("%v mm²: %v A, form %.1f A", S, got, form)
		}
	}
}

// Source: BS 7671 Tables 4D5 and 4D2A as an electrician keeps them (1 and
// 1.5 mm² read; 2.5 mm² memory).
func TestRatingTwin(t *testing.T) {
	tests := []struct {
		csa  units.SquareMM
		m    uk.Method
		want float64
	}{{1, uk.MethodA, 11.5}, {1, uk.MethodB, 13}, {1, uk.MethodC, 16}, {1.5, uk.MethodA, 14.5}, {1.5, uk.MethodB, 16.5}, {1.5, uk.MethodC, 20}, {2.5, uk.MethodB, 23}}
	for _, tt := range tests {
		v, err := uk.Rating(factors.Cable{Form: factors.TwinEarth, CSA: tt.csa, Insulation: factors.Thermoplastic}, tt.m, 2)
		if got := num(t, v, err); got != tt.want {
			t.Errorf("%v mm², method %s: %v, want %v", tt.csa, tt.m, got, tt.want)
		}
	}
}

func TestRatingMisses(t *testing.T) {
	tests := []struct {
		cable  factors.Cable
		m      uk.Method
		loaded int
		want   string
	}{
		{single(3.5, factors.Stranded), uk.MethodB, 2, "BS 7671 4D1A has no size 3.5 mm²; it has 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300"},
		{single(4, factors.Stranded), "D", 2, "BS 7671 4D1A has no installation method D; it has method A, method B, method C"},
		{single(4, factors.Stranded), uk.MethodB, 4, "BS 7671 4D1A has no loaded conductors 4; it has 2, 3"},
		{single(4, factors.Flexible), uk.MethodB, 2, "BS 7671 4D1A has no conductor flexible; it has solid, stranded"},
		{factors.Cable{Form: factors.Round, OD: 6}, uk.MethodB, 2, "BS 7671 4D1A has no figure for a cable known by its diameter; it has singles"},
		{factors.Cable{Form: factors.TwinEarth, CSA: 4, Insulation: factors.Thermoplastic}, uk.MethodB, 3, "BS 7671 4D5 has no loaded conductors 3; it has 2"},
		{factors.Cable{Form: factors.TwinEarth, CSA: 4, Insulation: factors.Thermosetting}, uk.MethodB, 2, "BS 7671 4D5 has no insulation thermosetting; it has thermoplastic"},
	}
	for _, tt := range tests {
		_, err := uk.Rating(tt.cable, tt.m, tt.loaded)
		if err == nil || err.Error() != tt.want {
			t.Errorf("%v: %v\nwant %s", tt.cable, err, tt.want)
		}
	}
}

// TestAmbient holds BS 7671 Table 4B1 (read) against √((tp − ta) / (tp − 30)),
// its own origin, to two digits in every cell but those at 25 °C, where the
// table is more careful.
func TestAmbient(t *testing.T) {
	cells := 0
	for _, i := range []factors.Insulation{factors.Thermoplastic, factors.Thermosetting} {
		tp := float64(i.MaxTemp())
		for ta := 30.0; ta < tp; ta += 5 {
			v, err := uk.Ambient(i, units.Celsius(ta))
			if i == factors.Thermoplastic && ta == 65 {
				if !errors.Is(err, factors.ErrPastTable) {
					t.Errorf("65 °C thermoplastic: %v, %v", v.Num, err)
				}
				continue
			}
			cells++
			if got, form := num(t, v, err), math.Round(100*math.Sqrt((tp-ta)/(tp-30)))/100; got != form {
				t.Errorf("%v at %v °C: %v, formula %v", i, ta, got, form)
			}
		}
	}
	if cells != 7+12 {
		t.Errorf("%d cells compared", cells)
	}
	tests := []struct {
		i    factors.Insulation
		ta   units.Celsius
		want float64
	}{
		{factors.Thermoplastic, 25, 1.03}, {factors.Thermosetting, 25, 1.02}, {factors.Thermoplastic, 10, 1.03}, // below the table the first row holds
		{factors.Thermoplastic, 27, 1}, {factors.Thermoplastic, 31, 0.94}, {factors.Thermosetting, 52, 0.76},
	}
	for _, tt := range tests {
		v, err := uk.Ambient(tt.i, tt.ta)
		if got := num(t, v, err); got != tt.want {
			t.Errorf("%v at %v °C: %v, want %v", tt.i, tt.ta, got, tt.want)
		}
	}
}

// Source: BS 7671 Table 4C1, enclosed: 4, 8, 9, 12, 16 and 20 read in an
// institution's forum, 7 memory. Between columns the larger number holds.
func TestGrouping(t *testing.T) {
	want := map[int]float64{1: 1, 2: 0.80, 3: 0.70, 4: 0.65, 5: 0.60, 6: 0.57, 7: 0.54, 8: 0.52, 9: 0.50, 10: 0.45, 11: 0.45, 12: 0.45, 13: 0.41, 16: 0.41, 17: 0.38, 20: 0.38}
	for n, w := range want {
		v, err := uk.Grouping(n)
		if got := num(t, v, err); got != w {
			t.Errorf("%d circuits: %v, want %v", n, got, w)
		}
	}
	if _, err := uk.Grouping(21); !errors.Is(err, factors.ErrPastTable) {
		t.Errorf("21 circuits: %v", err)
	}
}

// TestMixedSizes: D. Locke, Guide to the Wiring Regulations (17th edition),
// p. 37 (read): F = 1/√n, lower than the table.
func TestMixedSizes(t *testing.T) {
	for n, printed := range map[int]float64{2: 0.707, 3: 0.577, 4: 0.5, 6: 0.408, 9: 0.333} {
		got := uk.MixedSizes(nil, n).Value
		if math.Abs(got-printed) > 0.0005 {
			t.Errorf("n = %d: %v, the book has %v", n, got, printed)
		}
		v, err := uk.Grouping(n)
		if got >= num(t, v, err) {
			t.Errorf("n = %d: %v is not below the table's %v", n, got, v.Num)
		}
	}
	w := &sum.Work{}
	uk.MixedSizes(w, 4)
	if got, want := w.Steps[0].String(), "Cg = 1 / √(n) = 1 / √(4) = 0.5   [BS 7671 App 4, mixed sizes in one enclosure]"; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}

// TestRingInTrunking: a forum's worked example (read whole): both legs of a
// ring of 2.5 mm² twin and earth in mini-trunking, 23 A × 0.8 = 18.4 A.
func TestRingInTrunking(t *testing.T) {
	It, err := uk.Rating(factors.Cable{Form: factors.TwinEarth, CSA: 2.5, Insulation: factors.Thermoplastic}, uk.MethodB, 2)
	num(t, It, err)
	Cg, err := uk.Grouping(2)
	if Iz := It.Num * num(t, Cg, err); math.Abs(Iz-18.4) > 1e-9 {
		t.Errorf("%v A, the example has 18.4 A", Iz)
	}
}

// Source: BS 7671 Table 52.2 (0.78, 0.63, 0.50 read; 0.88, 0.51 memory) and
// Appendix 4 for Cf (0.725 read).
func TestOtherFactors(t *testing.T) {
	for length, want := range map[units.Millimetres]float64{20: 0.88, 50: 0.88, 60: 0.78, 100: 0.78, 200: 0.63, 201: 0.51, 400: 0.51, 500: 0.50, 4000: 0.50} {
		v, err := uk.Surrounded(length)
		if got := num(t, v, err); got != want {
			t.Errorf("%v mm in insulation: %v, want %v", length, got, want)
		}
	}
	for device, want := range map[string]float64{"BS 3036": 0.725, "BS EN 60898": 1, "": 1} {
		v, err := uk.DeviceFactor(device)
		if got := num(t, v, err); got != want {
			t.Errorf("%s: %v, want %v", device, got, want)
		}
	}
	if got := uk.LightLoadShare().Num; got != 0.3 {
		t.Errorf("share %v", got)
	}
}

// TestVoltageDropFromResistance holds BS 7671 Tables 4D1B and 4E1B (read)
// against the resistances of BS EN 60228 (read): twice r20 × (230 + tp) / 250
// single-phase, √3 times three-phase. The tables print two or three digits and
// cut or round as they please, so 3 % and half a unit of the last digit are let
// pass; above 16 mm² skin effect joins in r, so the direct-current figure is
// compared instead.
func TestVoltageDropFromResistance(t *testing.T) {
	r20 := uk.Tables().Table("conductor-resistance-20C")
	for id, tp := range map[string]float64{"4D1B": 70, "4E1B": 90} {
		table := uk.Tables().Table(id)
		for _, size := range table.Keys() {
			r, err := r20.At(factors.Word("class 2"), size)
			one := num(t, r, err) * (230 + tp) / 250
			supplies := map[string]float64{"single-phase": 2, "three-phase": math.Sqrt(3)}
			if size.Num > 16 {
				supplies = map[string]float64{"dc": 2}
			}
			for supply, times := range supplies {
				v, err := table.At(size, factors.Word(supply), factors.Word("z"))
				if got := num(t, v, err); math.Abs(got-times*one) > 0.03*got+0.005 {
					t.Errorf("%s %v mm² %s: %v, from resistance %.3f", id, size, supply, got, times*one)
				}
			}
		}
	}
}

// TestZsFromRating holds Table 41.3 against 230 × 0.95 / Ia, Ia of 5, 10 and 20
// times the rating (rule and B32 read), within the 0.01 that publishers round
// and cut.
func TestZsFromRating(t *testing.T) {
	times := map[string]float64{"B": 5, "C": 10, "D": 20}
	table := uk.Tables().Table("zs-max-circuit-breakers")
	table.Cells(func(v factors.Value, keys []factors.Key) {
		if form := 230 * 0.95 / (times[keys[0].Word] * keys[1].Num); math.Abs(v.Num-form) > 0.01 {
			t.Errorf("%s%v: %v, from the rating %.4f", keys[0], keys[1], v.Num, form)
		}
	})
	v, err := table.At(factors.Word("B"), factors.Num(32))
	if got := num(t, v, err); got != 1.37 {
		t.Errorf("B32: %v, a page has 1.37", got)
	}
}

// TestR1R2IsASum holds the guide's Table I1 against the resistances of BS EN
// 60228, to the printed digit.
func TestR1R2IsASum(t *testing.T) {
	r20 := uk.Tables().Table("conductor-resistance-20C")
	uk.Tables().Table("r1-r2").Cells(func(v factors.Value, keys []factors.Key) {
		r1, err1 := r20.At(factors.Word("class 2"), keys[0])
		r2, err2 := r20.At(factors.Word("class 2"), keys[1])
		if total := num(t, r1, err1) + num(t, r2, err2); math.Abs(v.Num-total) > 0.0051 {
			t.Errorf("%v/%v: %v, sum %v", keys[0], keys[1], v.Num, total)
		}
	})
}
