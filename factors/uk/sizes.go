package uk

import (
	"tubewright/factors"
	"tubewright/factors/units"
)

var (
	drawInAngle = table("draw-in-angle")
	temperature = table("conduit-temperature")
	ringFinal   = table("ring-final")
)

// TwinEarthSizes lists the line conductors of flat twin and earth, in mm².
func TwinEarthSizes() []units.SquareMM { return sizes(flatTwin().Keys()) }

// DrawInDegrees returns the most that a pull may turn in all, in degrees, by
// the rule set of that name, 180 or 270. It panics on any other.
//
// Source: site specifications (read). Contract practice, not a regulation.
func DrawInDegrees(degrees int) factors.Value {
	return must(drawInAngle().At(factors.Num(degrees)))
}

// PlasticHighest returns the highest temperature for plastic conduit and
// trunking, in °C: of the air round it, or of a cable's surface in it.
//
// Source: BS EN 61386; makers (read).
func PlasticHighest() factors.Value { return must(temperature().At(factors.Word("highest"))) }

// PlasticLowest returns the lowest temperature of the air round plastic conduit
// and trunking, in °C.
//
// Source: BS EN 61386; makers (read).
func PlasticLowest() factors.Value { return must(temperature().At(factors.Word("lowest"))) }

// RingLeast returns what the cable of a ring final circuit on a 30 A or 32 A
// device must carry as installed, in amps.
//
// Source: BS 7671, 433.1.204 (memory).
func RingLeast() factors.Value { return must(ringFinal().At(factors.Word("least"))) }
