package route

import (
	"tubewright/factors/source"
	"tubewright/factors/units"
)

// Supply is what comes in at the origin.
type Supply struct {
	Voltage   Given[units.Volts]    // line to neutral, default 230 V
	Phases    Given[int]            // 1 or 3, default 1
	Earthing  Given[Earthing]       // not said: faults are left open
	Ze        Given[units.Ohms]     // earth fault loop outside the installation
	Fault     Given[units.Amps]     // prospective fault current at the origin
	Electrode Given[units.Ohms]     // TT: resistance of the electrode
	Drop      Given[float64]        // share of the voltage lost before the board
	Rating    Given[units.Amps]     // of the supply's fuse, for the board's demand
	Private   bool                  // a private supply has wider limits of drop
	Upstream  Given[UpstreamDevice] // what protects the board's main switch
}

// UpstreamDevice is the overload protection before the board.
type UpstreamDevice = Device

// Earthing is the type of supply earthing.
type Earthing uint8

// The types of earthing.
const (
	TNS Earthing = iota + 1
	TNCS
	TT
)

var earthingWords = []string{"", "TN-S", "TN-C-S", "TT"}

func (e Earthing) String() string { return earthingWords[e] }

// Board is the consumer unit or distribution board.
type Board struct {
	Place    int // index of its place, -1 when the job has none
	Ways     Given[int]
	Modules  Given[int] // width of the enclosure's rail, in modules of 17.5 mm
	Main     Given[MainSwitch]
	Sections []Section // split board: a residual device and its ways
	Torque   map[string]Given[float64]
}

// MainSwitch is the main switch, or the residual device of a section.
type MainSwitch struct {
	Device   string // "switch" or "RCCB"
	Rating   units.Amps
	Residual units.Amps // of an RCCB
	Type     ResidualType
	Delayed  bool
	Modules  int
	At       source.Pos
}

// Section is a part of a split board.
type Section struct {
	Main Given[MainSwitch]
	Ways []Given[int]
}

// Residual is the residual part of an RCBO.
type Residual struct {
	Current units.Amps
	Type    ResidualType
	Delayed bool
}

// ResidualType is the wave form that a residual device answers to.
type ResidualType uint8

// The types of residual device.
const (
	TypeAC ResidualType = iota + 1
	TypeA
	TypeF
	TypeB
)

var residualWords = []string{"", "AC", "A", "F", "B"}

func (t ResidualType) String() string { return residualWords[t] }

// Waveform is what the loads of a circuit may leak.
type Waveform uint8

// The leakage wave forms, each wanting at least one type of residual device.
const (
	PulsatingDC Waveform = iota // the usual: electronics; type A
	PlainAC                     // known to have no direct component; type AC
	MixedFrequencies
	SmoothDC
)

var waveformWords = []string{"pulsating DC", "plain AC", "mixed frequencies", "smooth DC"}

func (w Waveform) String() string { return waveformWords[w] }

// Location is a circumstance that asks for a 30 mA residual device.
type Location uint8

// The circumstances a circuit may state. Socket-outlets are known from the
// places.
const (
	BathRoom Location = iota + 1
	Outdoors
	Concealed // less than 50 mm deep without earthed covering
	HouseholdLight
)

var locationWords = []string{"", "bath or shower room", "outdoors", "concealed", "household lighting"}

func (l Location) String() string { return locationWords[l] }

// Use is the kind of load for the allowances of diversity.
type Use uint8

// The kinds of use.
const (
	UseOther Use = iota
	UseLighting
	UseHeating
	UseCooker
	UseMotor
	UseShower
	UseWaterHeater
	UseFloorWarming
	UseStorageHeating
	UseSockets // standard arrangement
	UseStationary
)

var useWords = []string{"other", "lighting", "heating", "cooker", "motor", "shower", "water heater", "floor warming", "storage heating", "sockets", "stationary"}

func (u Use) String() string { return useWords[u] }

// Premises is the column of the diversity table.
type Premises uint8

// The premises of the diversity table; none takes no allowance.
const (
	NoDiversity Premises = iota
	Household
	ShopsOffices
	Hotels
)

var premisesWords = []string{"none", "household", "shops and offices", "hotels"}

func (p Premises) String() string { return premisesWords[p] }

// Load is what one point of a circuit takes.
type Load struct {
	Place  int
	Demand Demand
	At     source.Pos
}

// Electrical is what a circuit says beyond its cores.
type Electrical struct {
	Loads     []Load
	Use       Given[Use]
	SocketIn  bool // a cooker control with a socket-outlet in it
	RCBO      Given[Residual]
	Leakage   Given[Waveform]
	Locations []Given[Location]
	Breaking  Given[units.Amps] // breaking capacity of the device
	LetThru   Given[float64]    // A²s that the device lets through, from its maker
	Fixed     Given[bool]       // fixed equipment only: longer disconnection over 32 A
	Line      Given[int]        // 1 to 3: the line of a three-phase board that a single-phase circuit is on
}

// LoadAt is what the circuit takes at a place, and whether the job says.
func (c *Circuit) LoadAt(place int) (Demand, bool) {
	for _, l := range c.Electrical.Loads {
		if l.Place == place {
			return l.Demand, true
		}
	}
	return Demand{}, false
}

// LineOf is the line of a three-phase board that a single-phase circuit is on,
// from 1: the one that the job names, else that of its way in turn (common
// practice, no source). It is 0 where the job gives neither, where the supply
// has one line, and for a circuit on all three.
func (j *Job) LineOf(circuit int) int {
	switch c := &j.Circuits[circuit]; {
	case j.Supply.Phases.V != 3 || c.Lines() == 3:
		return 0
	case c.Electrical.Line.Said():
		return c.Electrical.Line.V
	case c.Way.Said():
		return (c.Way.V-1)%3 + 1
	}
	return 0
}
