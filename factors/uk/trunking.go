package uk

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"tubewright/factors"
	"tubewright/factors/units"
)

var (
	cableTrunking      = table("cable-factor-trunking")
	cableTrunkingLarge = table("cable-factor-trunking-large")
	cableTrunkingSmall = table("cable-factor-trunking-1mm")
	steelTrunking      = table("trunking-factor")
	plasticTrunking    = table("mini-trunking-factor")
)

// TrunkingCableFactor returns the factor of one single in trunking, in mm².
//
//	c  a Single, solid or stranded. Sizes are exact.
//
// Beyond the guide's 1.5 to 25 mm² it reads the makers' sheets, and for 1 mm²
// thermoplastic the area at the largest diameter, cited as derived.
//
// Source: IET On-Site Guide, Table E5 (read); makers' sheets by the same rule
// (read); BS EN 50525 for 1 mm² (read).
func TrunkingCableFactor(c factors.Cable) (factors.Value, error) {
	t := cableTrunking()
	switch {
	case c.Form != factors.Single:
		return factors.Value{}, notSingle(t, c)
	case c.Strands == factors.Flexible:
		return factors.Value{}, madeUp(t, c.Strands)
	}
	insulation, strands := factors.Word(c.Insulation.String()), factors.Word(c.Strands.String())
	v, err := t.At(insulation, strands, factors.Num(c.CSA))
	if err == nil {
		return v, nil
	}
	for _, other := range [...]*factors.Table{cableTrunkingLarge(), cableTrunkingSmall()} {
		if v, none := other.At(insulation, strands, factors.Num(c.CSA)); none == nil {
			return v, nil
		}
	}
	var m *factors.Miss
	if errors.As(err, &m) && m.Axis.Name == "size" {
		m.Known = slices.Concat(cableTrunkingSmall().Keys(insulation, strands), m.Known, cableTrunkingLarge().Keys(insulation, strands))
	}
	return v, err
}

// TrunkingFactor returns what a trunking may hold, in mm², to compare with the
// sum of its cable factors. Sizes are exact.
//
// Source: steel, IET On-Site Guide, Table E6 (read; each size from memory says
// so); plastic, one maker's range (read).
func TrunkingFactor(e factors.Enclosure) (factors.Value, error) {
	t := trunkingTable(e.Material)
	if e.Kind != factors.Trunking {
		return factors.Value{}, &factors.Miss{Table: t, Axis: t.Axes[0], Asked: factors.Word(e.String()), Known: t.Keys(), Kind: factors.ErrNoRow}
	}
	return t.At(factors.Word(e.SizeName()))
}

func trunkingTable(m factors.Material) *factors.Table {
	if m == factors.Plastic {
		return plasticTrunking()
	}
	return steelTrunking()
}

var steelSizes = sync.OnceValue(func() []factors.Enclosure { return trunkingSizes(factors.Steel) })
var plasticSizes = sync.OnceValue(func() []factors.Enclosure { return trunkingSizes(factors.Plastic) })

// TrunkingSizes lists every trunking of a material that has a factor, the
// smallest factor first.
func TrunkingSizes(m factors.Material) []factors.Enclosure {
	if m == factors.Plastic {
		return slices.Clone(plasticSizes())
	}
	return slices.Clone(steelSizes())
}

func trunkingSizes(m factors.Material) []factors.Enclosure {
	type sized struct {
		e      factors.Enclosure
		factor float64
	}
	var all []sized
	trunkingTable(m).Cells(func(v factors.Value, keys []factors.Key) {
		width, depth, _ := strings.Cut(keys[0].Word, "x")
		W, werr := units.ParseMillimetres(width)
		D, derr := units.ParseMillimetres(depth)
		if werr != nil || derr != nil {
			panic(fmt.Sprintf("table %s: size %s", v.Cite.Table.ID, keys[0])) // our own file; a test reads every size
		}
		all = append(all, sized{factors.Enclosure{Kind: factors.Trunking, Material: m, Width: W, Depth: D}, v.Num})
	})
	slices.SortStableFunc(all, func(a, b sized) int { return int(a.factor) - int(b.factor) })
	out := make([]factors.Enclosure, len(all))
	for i, s := range all {
		out[i] = s.e
	}
	return out
}

var trunkingCables = sync.OnceValue(func() []units.SquareMM {
	insulation, strands := factors.Word("thermoplastic"), factors.Word("stranded")
	var all []units.SquareMM
	for _, t := range [...]*factors.Table{cableTrunkingSmall(), cableTrunking(), cableTrunkingLarge()} {
		all = append(all, sizes(t.Keys(insulation, strands))...)
	}
	return all
})
