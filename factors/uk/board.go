package uk

import "tubewright/factors"

var boardModule = table("board-module")

// Module returns the width of one module along a board's rail and the height
// of a device's body, in millimetres.
//
// Source: common practice, no source.
func Module() (width, height factors.Value) {
	return must(boardModule().At(factors.Word("width"))), must(boardModule().At(factors.Word("height")))
}
