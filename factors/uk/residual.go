package uk

import "tubewright/factors"

var (
	residualLimit   = table("residual-limit")
	residualSockets = table("residual-sockets")
)

// AdditionalProtection returns the residual current that additional protection
// asks for, in mA.
//
// Source: BS 7671, 415.1.1 (read).
func AdditionalProtection() factors.Value {
	return must(residualLimit().At(factors.Word("additional protection")))
}

// ResidualSockets returns the rating of socket-outlets up to which additional
// protection is asked for, in A.
//
// Source: BS 7671, 411.3.3 (read).
func ResidualSockets() factors.Value {
	return must(residualSockets().At(factors.Word("socket-outlets")))
}
