package factors

import (
	"tubewright/factors/sum"
	"tubewright/factors/units"
)

// Form is the make of a cable.
type Form uint8

// The makes a job may draw in.
const (
	Single    Form = iota + 1 // non-sheathed single-core
	TwinEarth                 // flat twin with cpc
	Round                     // known by its diameter alone
)

// Strands is how a conductor is made up.
type Strands uint8

// The make-ups the tables know.
const (
	Solid    Strands = iota + 1
	Stranded         // class 2
	Flexible         // class 5
)

// Insulation is what a core is covered with.
type Insulation uint8

// The insulations the tables know.
const (
	Thermoplastic Insulation = iota + 1 // 70 °C
	Thermosetting                       // 90 °C
)

var (
	strandWords     = [...]string{"", "solid", "stranded", "flexible"}
	insulationWords = [...]string{"", "thermoplastic", "thermosetting"}
)

func (s Strands) String() string    { return strandWords[s] }
func (i Insulation) String() string { return insulationWords[i] }

// MaxTemp is the conductor temperature the insulation is rated for.
func (i Insulation) MaxTemp() units.Celsius {
	if i == Thermosetting {
		return 90
	}
	return 70
}

// Cable is one kind of cable; cables of one kind compare equal.
type Cable struct {
	Form       Form
	CSA        units.SquareMM    // of each line conductor; 0 for Round
	Strands    Strands           // of a Single
	Insulation Insulation        // of a Single or TwinEarth
	OD         units.Millimetres // of a Round cable, as given
}

// String names the cable as on a list: 2.5 mm² stranded thermosetting.
func (c Cable) String() string {
	switch c.Form {
	case Round:
		return "cable ⌀" + units.Format(float64(c.OD)) + " mm"
	case TwinEarth:
		return units.Format(float64(c.CSA)) + " mm² twin and earth"
	}
	s := units.Format(float64(c.CSA)) + " mm² " + c.Strands.String()
	if c.Insulation == Thermosetting {
		s += " thermosetting"
	}
	return s
}

// Kind is whether an enclosure is a tube or has a lid.
type Kind uint8

// The enclosures of the trade.
const (
	Conduit Kind = iota + 1
	Trunking
)

// Material is what an enclosure is made of.
type Material uint8

// The materials of the trade.
const (
	Steel Material = iota + 1
	Plastic
)

// Enclosure is one size of conduit or trunking. Enclosures of one size compare
// equal.
type Enclosure struct {
	Kind     Kind
	Material Material
	Size     units.Millimetres // conduit: nominal outside diameter
	Width    units.Millimetres // trunking: nominal, the larger first
	Depth    units.Millimetres
}

// Ferromagnetic reports whether the enclosure is of steel.
func (e Enclosure) Ferromagnetic() bool { return e.Material == Steel }

// SizeName is the size as the trade writes it: 20, 50x38.
func (e Enclosure) SizeName() string {
	if e.Kind == Trunking {
		return units.Format(float64(e.Width)) + "x" + units.Format(float64(e.Depth))
	}
	return units.Format(float64(e.Size))
}

// String names the enclosure as a job file does: steel conduit 20.
func (e Enclosure) String() string {
	material, kind := "steel", "conduit"
	if e.Material == Plastic {
		material = "plastic"
	}
	if e.Kind == Trunking {
		kind = "trunking"
	}
	return material + " " + kind + " " + e.SizeName()
}

// Term gives the value a symbol for use in a sum.
func (v Value) Term(symbol string) sum.Term {
	unit := v.Unit
	if unit == "1" {
		unit = ""
	}
	t := sum.Term{Symbol: symbol, Value: v.Num, Unit: unit}
	if v.Cite != nil {
		t.Cite = v.Cite
	}
	return t
}
