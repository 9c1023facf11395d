package uk

import (
	"slices"
	"sync"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/units"
)

var (
	singles70     = table("4D1A")
	singles90     = table("4E1A")
	multicore70   = table("4D2A")
	flatTwin70    = table("4D5")
	ambient       = table("4B1")
	grouped       = table("4C1")
	insulated     = table("52.2")
	device        = table("device-factor")
	lightlyLoaded = table("lightly-loaded")
)

// Method is a reference method of installation.
type Method string

// The methods that conduit and trunking call for, and clipped direct.
const (
	MethodA Method = "A" // in conduit in a thermally insulating wall
	MethodB Method = "B" // in conduit on a wall, or in trunking
	MethodC Method = "C" // clipped direct
)

// key is the method as the table files write it. A switch, for joining the
// words would cost an allocation on every look-up.
func (m Method) key() factors.Key {
	switch m {
	case MethodA:
		return factors.Key{Word: "method A"}
	case MethodB:
		return factors.Key{Word: "method B"}
	case MethodC:
		return factors.Key{Word: "method C"}
	}
	return factors.Key{Word: "method " + string(m)}
}

// Rating returns It, what a cable carries alone at 30 °C, in amps.
//
//	c       a Single, solid or stranded, or a thermoplastic TwinEarth
//	m       method of installation
//	loaded  2, or 3 for a three-phase circuit; TwinEarth 2 only
//
// Sizes are exact. Flexible (class 5) singles carry less than the table and
// have no figure here.
//
// Source: BS 7671, Tables 4D1A and 4E1A (read); twin and earth 4D5, and 4D2A
// in conduit or trunking on a wall (partly memory; each cell says so).
func Rating(c factors.Cable, m Method, loaded int) (factors.Value, error) {
	switch {
	case c.Form == factors.TwinEarth:
		return ratingTwin(c, m, loaded)
	case c.Form != factors.Single:
		return factors.Value{}, notSingle(singles70(), c)
	}
	t := singles70()
	if c.Insulation == factors.Thermosetting {
		t = singles90()
	}
	if c.Strands == factors.Flexible {
		return factors.Value{}, madeUp(t, c.Strands)
	}
	return t.At(factors.Num(c.CSA), m.key(), factors.Num(loaded))
}

func ratingTwin(c factors.Cable, m Method, loaded int) (factors.Value, error) {
	t := flatTwin70()
	switch {
	case c.Insulation == factors.Thermosetting:
		return factors.Value{}, &factors.Miss{Table: t, Axis: factors.Axis{Name: "insulation"}, Asked: factors.Word(c.Insulation.String()),
			Known: []factors.Key{factors.Word("thermoplastic")}, Kind: factors.ErrNoRow}
	case loaded != 2:
		return factors.Value{}, &factors.Miss{Table: t, Axis: factors.Axis{Name: "loaded conductors"}, Asked: factors.Num(loaded),
			Known: []factors.Key{factors.Num(2)}, Kind: factors.ErrNoRow}
	case m == MethodB:
		return multicore70().At(factors.Num(c.CSA), m.key(), factors.Num(loaded))
	}
	return t.At(factors.Num(c.CSA), m.key())
}

// StandardSizes lists the cross-sections of fixed wiring, 1 to 300 mm².
//
// Source: rows of BS 7671, Table 4D1A (read).
func StandardSizes() []units.SquareMM { return slices.Clone(standardSizes()) }

var standardSizes = sync.OnceValue(func() []units.SquareMM { return sizes(singles70().Keys()) })

// Ambient returns Ca for the ambient temperature. Between two rows the hotter
// holds; below 25 °C the row of 25 °C does. At 65 °C for thermoplastic and
// 90 °C for thermosetting the table has ended.
//
// Source: BS 7671, Table 4B1 (read).
func Ambient(i factors.Insulation, t units.Celsius) (factors.Value, error) {
	return ambient().At(factors.Word(i.String()), factors.Num(t))
}

// Grouping returns Cg for circuits bunched in conduit or trunking. Between two
// columns the larger number holds; past 20 circuits the table has ended.
//
//	circuits  –  loaded circuits, >= 1, a three-phase circuit counting once
//
// Source: BS 7671, Table 4C1, enclosed (read; seven circuits from memory).
func Grouping(circuits int) (factors.Value, error) {
	return grouped().At(factors.Word(enclosed), factors.Num(circuits))
}

// clause cites a formula that stands in the text of a standard.
type clause string

func (c clause) String() string { return string(c) }

const mixedSizes = clause("BS 7671 App 4, mixed sizes in one enclosure")

// MixedSizes returns Cg = 1/√n for circuits of different sizes in one conduit
// or trunking and writes the sum into w.
//
//	circuits  –  loaded circuits, >= 1
//
// It is lower than Grouping from two circuits up, for Table 4C1 takes cables
// of one size.
//
// Source: BS 7671, Appendix 4, 2.3.3.1 (formula read, number memory).
func MixedSizes(w *sum.Work, circuits int) sum.Term {
	n := sum.Term{Symbol: "n", Value: float64(circuits), Cite: mixedSizes}
	return w.Let("Cg", "group of different cable sizes, n circuits", "", sum.Over(sum.N(1), sum.Root(sum.T(n))))
}

// Surrounded returns Ci for a length of cable wholly surrounded by thermal
// insulation.
//
//	length  mm  > 0; over 500 mm the last row holds
//
// Between two rows the longer holds. It is not for a method that allows for
// insulation already (A).
//
// Source: BS 7671, Table 52.2 (read; 50 and 400 mm from memory).
func Surrounded(length units.Millimetres) (factors.Value, error) {
	return insulated().At(factors.Num(min(length, 500)))
}

// DeviceFactor returns Cf: 0.725 for a semi-enclosed fuse to BS 3036, 1 for
// every other device.
//
// Source: BS 7671, Appendix 4, section 5 (read).
func DeviceFactor(standard string) (factors.Value, error) {
	if standard != "BS 3036" {
		standard = "other"
	}
	return device().At(factors.Word(standard))
}

// LightLoadShare returns the share of its grouped rating up to which a circuit
// is left out when the others are counted.
//
// Source: BS 7671, 523.5 and note to Table 4C1 (read).
func LightLoadShare() factors.Value { return must(lightlyLoaded().At(factors.Word("share"))) }

// must is for cells that our own files are known to have.
func must(v factors.Value, err error) factors.Value {
	if err != nil {
		panic(err) // a test asks for every one
	}
	return v
}
