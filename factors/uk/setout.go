package uk

import (
	"tubewright/factors"
	"tubewright/factors/units"
)

var (
	steelConduit   = table("steel-conduit")
	bendRadius     = table("conduit-bend-radius")
	saddleFromBox  = table("saddle-from-box")
	specSupports   = table("support-spacing-specification")
	plasticGrowth  = table("pvc-expansion")
	steelGrowth    = table("steel-expansion")
	jointTravel    = table("pvc-expansion-coupler")
	sunRise        = table("sun-rise")
	springBack     = table("steel-spring-back")
	setOutPractice = table("set-out-practice")
	placeFace      = table("place-face")
	entryDepth     = table("entry-depth")
)

// Thread returns the least and the longest thread of a steel conduit, in mm.
//
// Source: BS 4568 (read in a maker's table).
func Thread(size units.Millimetres) (least, longest factors.Value, err error) {
	if least, err = steelConduit().At(factors.Num(size), factors.Word("least thread")); err != nil {
		return least, longest, err
	}
	longest, err = steelConduit().At(factors.Num(size), factors.Word("longest thread"))
	return least, longest, err
}

// OutsideDiameter returns the outside diameter of a conduit, in mm.
//
// Source: BS 4568, BS 4607 (mostly read; the cell says so).
func OutsideDiameter(e factors.Enclosure) (factors.Value, error) {
	t := steelConduit
	if e.Material == factors.Plastic {
		t = plasticConduit
	}
	return t().At(factors.Num(e.Size), factors.Word("outside"))
}

// Wall returns the wall of a heavy gauge steel conduit, in mm; plastic has no
// figure.
//
// Source: BS 4568 (read in a maker's table).
func Wall(e factors.Enclosure) (factors.Value, error) {
	t := steelConduit
	if e.Material == factors.Plastic {
		t = plasticConduit
	}
	return t().At(factors.Num(e.Size), factors.Word("wall"))
}

// LeastBendRadius returns the smallest inside radius of a bend, in outside
// diameters.
//
// Source: IET On-Site Guide (memory).
func LeastBendRadius() factors.Value { return must(bendRadius().At(factors.Word("inside"))) }

// SaddleFromBox returns how far from a box or bend the first saddle may be, in
// mm, by the rule "farthest", "nearest" or "specification". It panics on any
// other.
//
// Source: makers' installation notes and specifications (read).
func SaddleFromBox(rule string) factors.Value { return must(saddleFromBox().At(factors.Word(rule))) }

// SpecificationSpacing returns the distance between supports that
// specifications ask for, in metres, whatever the size.
//
// Source: specifications (read in extract). Contract practice.
func SpecificationSpacing(horizontal bool) factors.Value {
	return must(specSupports().At(factors.Word("rigid"), factors.Word(wayWord(horizontal))))
}

// PlasticExpansion returns the expansion of rigid plastic in mm per metre and
// kelvin: "larger", "smaller" or "third". It panics on any other.
//
// Source: makers (read).
func PlasticExpansion(figure string) factors.Value {
	return must(plasticGrowth().At(factors.Word(figure)))
}

// SteelExpansion returns the expansion of steel in mm per metre and kelvin.
func SteelExpansion() factors.Value { return must(steelGrowth().At(factors.Word("steel"))) }

// ExpansionCoupler returns the makers' farthest distance between expansion
// couplers and the free movement each way, in metres.
//
// Source: makers (read).
func ExpansionCoupler() (spacing, movement factors.Value) {
	return must(jointTravel().At(factors.Word("spacing"))), must(jointTravel().At(factors.Word("free movement")))
}

// ExpansionSocket returns the depth of the sliding socket of an expansion
// coupler, home to its shoulder, and that of its fixed end, in metres.
//
// Source: a maker (read).
func ExpansionSocket() (sliding, fixed factors.Value) {
	return must(jointTravel().At(factors.Word("sliding socket"))), must(jointTravel().At(factors.Word("fixed socket")))
}

// SunRise returns what direct sun adds to the temperature of plastic, in K.
//
// Source: a maker's guide (read).
func SunRise() factors.Value { return must(sunRise().At(factors.Word("surface in direct sun"))) }

// EntryDepth returns how much of a tube an entry takes, in outside diameters:
// "plastic socket" or "other thread". It panics on any other.
//
// Common practice, no source.
func EntryDepth(entry string) factors.Value { return must(entryDepth().At(factors.Word(entry))) }

// SteelInBending returns the "yield" stress or the "modulus" of mild steel, in
// MPa. It panics on any other.
//
// From memory.
func SteelInBending(property string) factors.Value {
	return must(springBack().At(factors.Word(property)))
}

// SetOutPractice returns a length of the workshop in mm: "kerf", "least
// offcut", "end straight", "least piece", "locknut", "saddle straight" or "hole
// from joint". It panics on any other.
//
// Common practice, no source.
func SetOutPractice(what string) factors.Value { return must(setOutPractice().At(factors.Word(what))) }

// PlaceFace returns the centre of a place to the face that a conduit enters,
// in mm: "round box", "accessory", "side of a two-gang accessory" or "adaptable
// box". It panics on any other.
func PlaceFace(place string) factors.Value { return must(placeFace().At(factors.Word(place))) }
