package uk

import (
	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/units"
)

var (
	cmin         = table("cmin")
	tripMultiple = table("trip-multiple")
	zsBreaker    = table("zs-max-circuit-breakers")
	zsBreaker5s  = table("zs-max-circuit-breakers-D-5s")
	zsFuse       = table("zs-max-fuses")
	zsTest       = table("zs-test-share")
	zsResidual   = table("zs-max-rcd")
	times        = table("disconnection-times")
	timesScope   = table("disconnection-scope")
	touch        = table("touch-voltage")
	electrode    = table("electrode")
	energyClass  = table("energy-class-3")
)

// Cmin returns the least factor on the nominal voltage.
//
// Source: BS 7671, 411.4.4 (read).
func Cmin() factors.Value { return must(cmin().At(factors.Word("Cmin"))) }

// Trip returns what multiple of its rating makes a circuit-breaker trip within
// the time: at once for all times below 5 s.
//
//	kind  "B", "C" or "D"
//	time  s, of BS 7671, 411.3.2
//
// Source: BS EN 60898-1 (memory; type B read).
func Trip(kind string, time float64) (factors.Value, error) {
	return tripMultiple().At(factors.Word(kind), factors.Num(timeColumn(time)))
}

// timeColumn is the time that the tables have: 0.4 s serves what is faster, as
// the devices that it is asked for act within 0.1 s.
func timeColumn(time float64) float64 {
	if time >= 5 {
		return 5
	}
	return 0.4
}

// BreakerZs returns the largest earth fault loop impedance of a circuit-breaker
// as the table prints it for 230 V, in ohms. Ratings that are sold and not
// tabulated have no figure.
//
// Source: BS 7671, Table 41.3 (see the table's own remarks).
func BreakerZs(kind string, rating units.Amps, time float64) (factors.Value, error) {
	if kind == "D" && timeColumn(time) == 5 {
		return zsBreaker5s().At(factors.Word(kind), factors.Num(rating))
	}
	return zsBreaker().At(factors.Word(kind), factors.Num(rating))
}

// FuseZs returns the largest earth fault loop impedance of a fuse at 230 V, in
// ohms. The table has 0.4 s and 5 s and nothing between or below.
//
// Source: BS 7671, Tables 41.2 and 41.4 (memory).
func FuseZs(standard string, rating units.Amps, time float64) (factors.Value, error) {
	return zsFuse().At(factors.Word(standard), factors.Num(rating), factors.Num(time))
}

// ResidualZs returns the largest earth fault loop impedance where a residual
// device disconnects, as the table prints it, in ohms.
//
//	residual  A
//
// Source: BS 7671, Table 41.5 (1667 Ω at 30 mA read; the rest 50 V / IΔn).
func ResidualZs(residual units.Amps) (factors.Value, error) {
	return zsResidual().At(factors.Num(float64(residual) * 1000))
}

// TestShare returns the share of the tabulated impedance that a measurement at
// room temperature is held to, and the one that tables printed for 10 °C have.
//
// Source: IET On-Site Guide, Appendix B (0.8 read; the other memory).
func TestShare() (rule, printed factors.Value) {
	return must(zsTest().At(factors.Word("share"))), must(zsTest().At(factors.Word("printed for 10 °C")))
}

// WithoutCmin returns the largest loop impedance by the editions before 2015,
// which took the nominal voltage whole: U0 / Ia.
//
// Source: BS 7671:2008 (7.67, 2.87, 1.44 for B6, B16, B32 read).
func WithoutCmin(w *sum.Work, U0, Ia sum.Term) sum.Term {
	return w.Let("Zs before 2015", "what editions without Cmin print", "Ω", sum.Over(sum.T(U0), sum.T(Ia)))
}

// DisconnectionTime returns the longest time to disconnection, in seconds, for
// supplies of over 120 V and up to 230 V to earth.
//
//	tt       whether the supply's earthing is TT, else TN
//	rating   A, of the circuit's device
//	sockets  whether the circuit feeds socket-outlets, else fixed equipment
//
// The shorter time holds for circuits up to 63 A with socket-outlets and up to
// 32 A with fixed equipment only, the longer for all others.
//
// Source: BS 7671, 411.3.2.2 to 411.3.2.4 and Table 41.1 (read).
func DisconnectionTime(tt bool, rating units.Amps, sockets bool) (time, scope factors.Value) {
	system, what, circuit := "TN", "fixed equipment only", "final"
	if tt {
		system = "TT"
	}
	if sockets {
		what = "with sockets"
	}
	scope = must(timesScope().At(factors.Word(what)))
	if float64(rating) > scope.Num {
		circuit = "distribution"
	}
	return must(times().At(factors.Word(system), factors.Word(circuit))), scope
}

// TouchVoltage returns the voltage that Zs × IΔn may reach, in volts.
//
// Source: BS 7671, 411.5.3 (read as 1667 Ω at 30 mA).
func TouchVoltage() factors.Value { return must(touch().At(factors.Word("touch"))) }

// ElectrodeStable returns the resistance above which an earth electrode may not
// be stable, in ohms.
//
// Source: BS 7671, 411.5.3, note (read).
func ElectrodeStable() factors.Value { return must(electrode().At(factors.Word("stable"))) }

// ClassEnergy returns what a circuit-breaker of energy limiting class 3 lets
// through up to 6 kA, in A²s. Over 32 A and for type D there is no figure.
//
// Source: BS EN 60898-1 (memory).
func ClassEnergy(kind string, rating units.Amps) (factors.Value, error) {
	return energyClass().At(factors.Word(kind), factors.Num(rating))
}
