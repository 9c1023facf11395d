package uk

import (
	"tubewright/factors"
)

var (
	drawIn               = table("draw-in-limits")
	conduitSupports      = table("support-spacing-conduit")
	conduitSupportsMaker = table("support-spacing-conduit-maker")
	trunkSupports        = table("support-spacing-trunking")
	trunkSupportsMaker   = table("support-spacing-trunking-maker")
	stock                = table("stock-lengths")
)

// DrawInLimit returns the longest pull between draw-in points, in metres, by
// the rule set "guide": 10 m with up to two bends, 5 m with three, 2.5 m with
// four. With more bends the rule set has ended.
//
//	bends  –  right angles, >= 0
//
// Source: site specifications, and the end of IET On-Site Guide Table E4
// (read). It is contract practice, not a regulation.
func DrawInLimit(bends int) (factors.Value, error) {
	return drawIn().At(factors.Word("guide"), factors.Num(bends))
}

// SupportSpacing returns the largest distance between supports, in metres.
//
//	horizontal  whether the run lies rather than climbs
//	maker       a plastic maker's closer spacing where there is one; steel has
//	            none and takes the guide's
//
// Conduit is read by size, trunking by its nominal cross-section; up to 300
// mm² of trunking the guide has no figure.
//
// Source: IET On-Site Guide, Tables D3 and D4 (partly memory; each cell says
// so); makers' notes (read).
func SupportSpacing(e factors.Enclosure, horizontal, maker bool) (factors.Value, error) {
	way := factors.Word(wayWord(horizontal))
	plastic := e.Material == factors.Plastic
	if e.Kind == factors.Trunking {
		material := factors.Word("metal")
		if plastic {
			material = factors.Word("insulating")
		}
		if plastic && maker {
			return trunkSupportsMaker().At(material, way)
		}
		return trunkSupports().At(material, factors.Num(e.Width*e.Depth), way)
	}
	material := factors.Word("rigid metal")
	if plastic {
		material = factors.Word("rigid insulating")
	}
	if plastic && maker {
		return conduitSupportsMaker().At(material, way)
	}
	return conduitSupports().At(material, factors.Num(e.Size), way)
}

func wayWord(lies bool) string {
	if lies {
		return horizontal
	}
	return vertical
}

// StockLength returns the length an enclosure is sold in, in metres.
//
// Source: makers' lists (read; plastic trunking from memory).
func StockLength(e factors.Enclosure) factors.Value {
	return must(stock().At(factors.Word(materialWord(e.Material)), factors.Word(kindWord(e.Kind))))
}
