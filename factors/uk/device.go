package uk

import (
	"tubewright/factors"
	"tubewright/factors/units"
)

var ratedCurrents = table("rated-currents")

// RatedCurrents lists the ratings that circuit-breakers have, in A, ascending.
//
// Source: BS EN 60898-1 (memory).
func RatedCurrents() []units.Amps {
	keys := ratedCurrents().Keys(factors.Word("circuit-breaker"))
	out := make([]units.Amps, len(keys))
	for i, k := range keys {
		out[i] = units.Amps(k.Num)
	}
	return out
}
