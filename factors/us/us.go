// Package us holds the few figures of the United States that a job may choose
// by name. Nothing of it is used where a job does not ask for it.
package us

import (
	"embed"
	"sync"

	"tubewright/factors"
	"tubewright/factors/units"
)

//go:embed data/*.yaml
var data embed.FS

// Tables returns the family's tables.
var Tables = sync.OnceValue(func() *factors.Family { return factors.NewFamily("us", data, "data") })

const metresPerFoot = 0.3048

// HighWork returns what is added to the hours of work from a ladder, in per
// cent of them.
//
//	height  m  of the work above the floor; read in feet, 12 ft to 20 ft
//
// Between two heights the higher row holds. Outside the table it returns a
// *factors.Miss.
//
// Source: Mike Holt business newsletter, letter 2290 (read). United States
// practice; not a UK figure.
func HighWork(height units.Metres) (factors.Value, error) {
	t := Tables().Table("high-work")
	feet := float64(height) / metresPerFoot
	if rows := t.Keys(); feet < rows[0].Num-1e-9 {
		return factors.Value{}, &factors.Miss{Table: t, Axis: t.Axes[0], Asked: factors.Num(feet), Known: rows, Kind: factors.ErrPastTable}
	}
	return t.At(factors.Num(feet - 1e-9))
}
