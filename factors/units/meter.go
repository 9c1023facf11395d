package units

// What instruments read, besides ohms.
type (
	Megohms      float64
	Milliseconds float64
)

var (
	insulation = dim{name: "a resistance of insulation", example: "200 Mohm",
		units: []unit{{"Mohm", 1}, {"MΩ", 1}, {"M\u2126", 1}, {"Gohm", 1000}, {"GΩ", 1000}, {"kohm", 1e-3}, {"kΩ", 1e-3}}, most: 1e7}
	interval = dim{name: "a time", example: "24 ms", units: []unit{{"ms", 1}, {"s", 1000}}, most: 60000}
)

// ParseMegohms reads a resistance of insulation, which needs its unit.
func ParseMegohms(s string) (Megohms, error) { v, err := insulation.parse(s); return Megohms(v), err }

// ParseMilliseconds reads a trip time, which needs its unit.
func ParseMilliseconds(s string) (Milliseconds, error) {
	v, err := interval.parse(s)
	return Milliseconds(v), err
}
