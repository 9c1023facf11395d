package uk

import (
	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/units"
)

var (
	insulation        = table("insulation-resistance")
	insulationVoltage = table("insulation-test-voltage")
	residualTimes     = table("residual-times")
	ringBalance       = table("ring-balance")
	allowanceOhms     = table("test-allowance-ohms")
	allowanceShare    = table("test-allowance-share")
	allowanceKelvin   = table("test-allowance-kelvin")
)

// Insulation returns the least insulation resistance of a circuit, in MΩ, and
// the direct voltage it is tested with.
//
//	nominal  V, the highest between two conductors of the circuit
//
// Source: BS 7671, Table 64 (read).
func Insulation(nominal units.Volts) (least, test factors.Value) {
	row := factors.Word("up to 500 V")
	if nominal > 500 {
		row = factors.Word("over 500 V")
	}
	return must(insulation().At(row)), must(insulationVoltage().At(row))
}

// InsulationDoubt returns the insulation resistance below which a reading
// within the table is looked into all the same, in MΩ.
//
// Source: memory.
func InsulationDoubt() factors.Value { return must(insulation().At(factors.Word("look into below"))) }

// TripTime returns between which times a residual device trips at its rated
// residual current, in ms. A device that is not delayed has no least time.
//
// Source: BS EN 61008, BS EN 61009 (memory).
func TripTime(delayed bool) (least, most factors.Value) {
	if !delayed {
		return factors.Value{}, must(residualTimes().At(factors.Word("general, at rated"), factors.Word("most")))
	}
	row := factors.Word("delayed, at rated")
	return must(residualTimes().At(row, factors.Word("least"))), must(residualTimes().At(row, factors.Word("most")))
}

// FiveTimes returns the longest trip time at five times the rated residual
// current, in ms: good practice, no longer asked for.
//
// Source: textbook, of 30 mA devices (read).
func FiveTimes() factors.Value {
	return must(residualTimes().At(factors.Word("general, at five times"), factors.Word("most")))
}

// RingBalance returns how far line and neutral of a ring may differ end to
// end, and how far the readings at its points may, in ohms.
//
// Source: textbooks (line and neutral read; points memory).
func RingBalance() (ends, points factors.Value) {
	return must(ringBalance().At(factors.Word("line and neutral"))), must(ringBalance().At(factors.Word("points")))
}

// Allowance is what a reading may differ from the expected value by.
type Allowance struct {
	Share      factors.Value // of the value
	Continuity factors.Value // Ω, of a resistance measured dead
	Loop       factors.Value // Ω, of a loop measured live
	Kelvin     factors.Value // K, how well the conductors' temperature is known
}

// MeterAllowance returns the allowance where none is stated.
//
// Source: common practice, no source.
func MeterAllowance() Allowance {
	return Allowance{
		Share:      must(allowanceShare().At(factors.Word("reading"))),
		Continuity: must(allowanceOhms().At(factors.Word("continuity"))),
		Loop:       must(allowanceOhms().At(factors.Word("loop"))),
		Kelvin:     must(allowanceKelvin().At(factors.Word("conductors"))),
	}
}

// TestMultiplier returns what resistance at 20 °C is multiplied by for
// conductors at the temperature of the test. Between two tabulated temperatures
// and beyond the table's ends it is in proportion: the table is one formula,
// 1 + 0.004 (t − 20).
//
// Source: IET On-Site Guide, Table I2 (memory).
func TestMultiplier(w *sum.Work, t units.Celsius) sum.Term {
	const use = "test"
	if v, err := multiplier().At(factors.Word(use), factors.Num(t)); err == nil {
		return w.Given("conductors at the temperature of the test", v.Term("f"))
	}
	keys := multiplier().Keys(factors.Word(use))
	i := 1
	for i < len(keys)-1 && float64(t) > keys[i].Num {
		i++
	}
	a, b := must(multiplier().At(factors.Word(use), keys[i-1])), must(multiplier().At(factors.Word(use), keys[i]))
	celsius := func(symbol string, v float64) sum.Expr { return sum.T(sum.Term{Symbol: symbol, Value: v, Unit: "°C"}) }
	low := celsius("t1", keys[i-1].Num)
	slope := sum.Over(sum.Sub(sum.T(b.Term("f2")), sum.T(a.Term("f1"))), sum.Sub(celsius("t2", keys[i].Num), low))
	return w.Let("f", "conductors at the temperature of the test, in proportion", "", sum.Add(sum.T(a.Term("f1")), sum.Times(slope, sum.Sub(celsius("t", float64(t)), low))))
}

// TestTemperatures returns the temperatures for which the multiplier is
// tabulated, with the multipliers.
//
// Source: IET On-Site Guide, Table I2 (memory).
func TestTemperatures() (celsius []units.Celsius, times []factors.Value) {
	for _, k := range multiplier().Keys(factors.Word("test")) {
		celsius = append(celsius, units.Celsius(k.Num))
		times = append(times, must(multiplier().At(factors.Word("test"), k)))
	}
	return celsius, times
}

// ConductorSizes returns the sizes that have a resistance, in mm².
func ConductorSizes() []units.SquareMM { return sizes(resistance().Keys(factors.Word("class 2"))) }
