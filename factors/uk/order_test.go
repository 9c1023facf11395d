package uk_test

import (
	"testing"

	"pgregory.net/rapid"
	"tubewright/factors"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

func drawSize(t *rapid.T) units.Millimetres {
	return rapid.SampledFrom(uk.ConduitSizes(factors.Steel)).Draw(t, "conduit mm")
}

func drawLength(t *rapid.T) units.Metres {
	return units.Metres(rapid.IntRange(1, 1100).Draw(t, "length cm")) / 100
}

// TestMoreNeverHoldsMore: a longer pull, a further bend or a smaller tube never
// has a larger factor, and never a factor where the shorter one has none. A
// short straight run is read from other tables, whose factors go with other
// cable factors, and is left out.
func TestMoreNeverHoldsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length, size := drawLength(t), drawSize(t)
		bends := rapid.IntRange(0, 5).Draw(t, "bends")
		if uk.ShortStraight(length, bends) {
			return
		}
		one, err := uk.ConduitFactor(nil, length, bends, size)
		more := units.Metres(rapid.IntRange(0, 300).Draw(t, "more cm")) / 100
		extra := rapid.IntRange(0, 2).Draw(t, "further bends")
		other, otherErr := uk.ConduitFactor(nil, length+more, bends+extra, size)
		switch {
		case err != nil && otherErr == nil:
			t.Fatalf("%v m, %d bends has no factor and the harder pull %v", length, bends, other.Value)
		case otherErr == nil && other.Value > one.Value:
			t.Fatalf("%v > %v", other.Value, one.Value)
		}
		smaller := drawSize(t)
		if tube, err := uk.ConduitFactor(nil, length, bends, smaller); err == nil && smaller < size && tube.Value >= one.Value {
			t.Fatalf("%v mm holds %v, %v mm %v", smaller, tube.Value, size, one.Value)
		}
	})
}

// TestDoubling: one more bend is the same as twice the length, wherever the
// table has both.
func TestDoubling(t *testing.T) {
	pairs := 0
	eachE4(func(length units.Metres, bends, column int, _ float64) {
		table := uk.Tables().Table("conduit-factor-long-or-bent")
		size := factors.Num(sizesE4[column])
		if _, tabulated := find(table.Keys(factors.Num(bends-1)), 2*length); bends == 0 || !tabulated {
			return
		}
		bent, _ := table.At(factors.Num(bends), factors.Num(length), size)
		long, _ := table.At(factors.Num(bends-1), factors.Num(2*length), size)
		pairs++
		if bent.Num != long.Num {
			t.Errorf("%d bends, %v m: %v; %d bends, %v m: %v", bends, length, bent.Num, bends-1, 2*length, long.Num)
		}
	})
	if pairs != 116 {
		t.Errorf("%d pairs compared", pairs)
	}
}

func find(keys []factors.Key, length units.Metres) (int, bool) {
	for i, k := range keys {
		if k.Num == float64(length) {
			return i, true
		}
	}
	return 0, false
}

// TestLargerCable: a larger conductor never has a smaller factor, diameter or
// rating, whatever its make.
func TestLargerCable(t *testing.T) {
	figures := map[string]func(factors.Cable) (factors.Value, error){
		"short factor":    func(c factors.Cable) (factors.Value, error) { return uk.CableFactor(c, true) },
		"long factor":     func(c factors.Cable) (factors.Value, error) { return uk.CableFactor(c, false) },
		"trunking factor": uk.TrunkingCableFactor,
		"diameter":        uk.Diameter,
		"rating, 2":       func(c factors.Cable) (factors.Value, error) { return uk.Rating(c, uk.MethodB, 2) },
		"rating, 3":       func(c factors.Cable) (factors.Value, error) { return uk.Rating(c, uk.MethodA, 3) },
	}
	for name, figure := range figures {
		for _, form := range []factors.Form{factors.Single, factors.TwinEarth} {
			for _, strands := range []factors.Strands{factors.Solid, factors.Stranded, factors.Flexible} {
				for _, insulation := range []factors.Insulation{factors.Thermoplastic, factors.Thermosetting} {
					last := 0.0
					for _, csa := range uk.StandardSizes() {
						v, err := figure(factors.Cable{Form: form, CSA: csa, Strands: strands, Insulation: insulation})
						if err != nil {
							continue
						}
						if v.Num < last {
							t.Errorf("%s of %v mm² %v %v: %v after %v", name, csa, strands, insulation, v.Num, last)
						}
						last = v.Num
					}
				}
			}
		}
	}
}

// TestTrunkingOrder: sizes come in rising factor order, and the wider or deeper
// of two never holds less.
func TestTrunkingOrder(t *testing.T) {
	for _, m := range []factors.Material{factors.Steel, factors.Plastic} {
		all := uk.TrunkingSizes(m)
		for i, a := range all {
			va, err := uk.TrunkingFactor(a)
			num(t, va, err)
			for j, b := range all {
				vb, err := uk.TrunkingFactor(b)
				num(t, vb, err)
				if i < j && va.Num > vb.Num || a.Width <= b.Width && a.Depth <= b.Depth && va.Num > vb.Num {
					t.Errorf("%v %v, %v %v", a, va.Num, b, vb.Num)
				}
			}
		}
	}
}

// TestMoreCircuitsCarryLess: Cg falls with the number of circuits and Ca with
// the temperature.
func TestMoreCircuitsCarryLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 19).Draw(t, "circuits")
		few, err1 := uk.Grouping(n)
		many, err2 := uk.Grouping(n + 1)
		if err1 != nil || err2 != nil || many.Num > few.Num {
			t.Fatalf("%d circuits %v, one more %v (%v, %v)", n, few.Num, many.Num, err1, err2)
		}
		cool := rapid.Float64Range(0, 60).Draw(t, "°C")
		warm := cool + rapid.Float64Range(0, 30).Draw(t, "°C more")
		for _, i := range []factors.Insulation{factors.Thermoplastic, factors.Thermosetting} {
			a, err := uk.Ambient(i, units.Celsius(cool))
			b, none := uk.Ambient(i, units.Celsius(warm))
			if err != nil || none == nil && b.Num > a.Num {
				t.Fatalf("%v: %v at %v, %v at %v (%v)", i, a.Num, cool, b.Num, warm, err)
			}
		}
	})
}
