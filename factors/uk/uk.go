// Package uk applies the tables used with BS 7671 in the United Kingdom: the
// conduit and trunking factors of the IET On-Site Guide, the ratings of
// Appendix 4, and the trade's own figures where no standard has one.
//
// Each function is one look-up or one formula. It returns the number with the
// cell it comes from, or a *factors.Miss where the table has no figure; nothing
// is guessed. A table is read when it is first asked for.
package uk

import (
	"embed"
	"sync"

	"tubewright/factors"
	"tubewright/factors/units"
)

// Edition says whose figures these are and what is known of later ones.
const Edition = "Figures of BS 7671:2018+A2:2022. BS 7671:2018+A4:2026 has been in force since April 2026; " +
	"no page read says that it changed these tables, and none lists every change. The code in force governs."

//go:embed data/*.yaml
var data embed.FS

// Tables returns the family's tables.
var Tables = sync.OnceValue(func() *factors.Family { return factors.NewFamily("uk", data, "data") })

// table returns a function that finds one table without the family's lock.
func table(id string) func() *factors.Table {
	return sync.OnceValue(func() *factors.Table { return Tables().Table(id) })
}

// Words of the table files.
const (
	enclosed   = "enclosed"
	horizontal = "horizontal"
	vertical   = "vertical"
)

func kindWord(k factors.Kind) string {
	if k == factors.Trunking {
		return "trunking"
	}
	return "conduit"
}

func materialWord(m factors.Material) string {
	if m == factors.Plastic {
		return "plastic"
	}
	return "steel"
}

// formKeys are the makes of cable that a table of singles has.
var formKeys = []factors.Key{factors.Word("singles")}

// notSingle is the miss of a table of singles asked for another cable.
func notSingle(t *factors.Table, c factors.Cable) *factors.Miss {
	asked := "a cable known by its diameter"
	if c.Form == factors.TwinEarth {
		asked = "flat twin and earth"
	}
	return &factors.Miss{Table: t, Axis: factors.Axis{Name: "figure for"}, Asked: factors.Word(asked), Known: formKeys, Kind: factors.ErrNoRow}
}

// madeUp is the miss of a table that has no figure for flexible conductors.
func madeUp(t *factors.Table, s factors.Strands) *factors.Miss {
	return &factors.Miss{Table: t, Axis: factors.Axis{Name: "conductor"}, Asked: factors.Word(s.String()),
		Known: []factors.Key{factors.Word("solid"), factors.Word("stranded")}, Kind: factors.ErrNoRow}
}

// sizes turns keys into cross-sections.
func sizes(keys []factors.Key) []units.SquareMM {
	out := make([]units.SquareMM, len(keys))
	for i, k := range keys {
		out[i] = units.SquareMM(k.Num)
	}
	return out
}
