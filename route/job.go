// Package route holds where everything runs: the job file's model and its
// parser, the walk of each run, the pulls between draw-in points, the cables
// in each run, and the quantities that follow. It never judges.
package route

import (
	"tubewright/factors"
	"tubewright/factors/source"
	"tubewright/factors/units"
)

// Given is a value that a job file may state. At is where; the zero At means
// that the file does not say and V is the default, if there is one.
type Given[T any] struct {
	V  T
	At source.Pos
}

// Said reports whether the job file states the value.
func (g Given[T]) Said() bool { return g.At.Known() }

// Job is one job file, understood.
type Job struct {
	File    *source.File
	Name    string
	Rules   string // rule family: "uk"
	Date    string // for the title block, as the user writes it
	DrawnBy string
	Client  string

	Ambient   Given[units.Celsius]     // default 30 °C
	Tolerance Given[units.Millimetres] // how near a path must close
	Supply    Supply
	Choices   Choices
	Stock     Stock
	Allow     Allowances
	Tools     Tools
	Swing     Swing
	Board     Board
	Terms     Terms

	Places   []Place
	Runs     []Run
	Circuits []Circuit
	Pulls    []Pull
	Singles  []Single // every core of every circuit, circuit by circuit

	pullIndex []int      // each run's pull, -1 for trunking
	sharers   []int      // circuits that share one protective conductor, the one that bears it first
	bundles   [][]bundle // what passes through each run

	bodies [][]BodyRun // of trunking, in the order in which the file comes to them
	inBody []bodyPart  // of each run
}

// Choices are points on which published practice differs. The job picks one;
// every finding says which was used.
type Choices struct {
	DrawIn       Given[DrawInRule]
	RingLegs     Given[int] // 1 or 2: how a ring with both legs in one run counts for grouping
	Overload     Given[Overload]
	Mixed        Given[MixedRule]
	ConduitSpace Given[float64] // share of the bore where no cable factor is tabulated; 0: the table's
	Strands      Given[factors.Strands]
	Insulation   Given[factors.Insulation]
	Support      Given[SupportRule]
	Diversity    Given[Premises]
	Saddles      Given[Saddle]
	Bushes       Given[Bush]
	DropHot      Given[bool] // correct the voltage drop for the conductor's temperature
}

// DrawInRule is a published limit on length and bends between draw-in points.
type DrawInRule uint8

// The rule sets a job may choose.
const (
	DrawInGuide DrawInRule = iota // the ends of the guide's own table
	DrawIn180                     // specifications: 180° in all
	DrawIn270                     // specifications: 270° in all
)

// Overload says whether the circuits of a group may be overloaded together.
type Overload uint8

// The statements a designer may make.
const (
	Together    Overload = iota // the careful default
	NotTogether                 // a statement the designer answers for
)

// MixedRule says which group factor holds for cables of different sizes.
type MixedRule uint8

// The rules for groups of different sizes.
const (
	MixedSpan  MixedRule = iota // 1/√n when the sizes span more than three adjacent standard sizes
	MixedTable                  // the table for equal sizes, always
	MixedRoot                   // 1/√n whenever sizes differ
)

// SupportRule is a published table of saddle spacing.
type SupportRule uint8

// The rule sets for saddle spacing.
const (
	SupportGuide SupportRule = iota
	SupportMaker
	SupportSpecification
)

// Stock is what the merchant has.
type Stock struct {
	Lengths  map[string]Given[units.Metres] // "steel conduit" and so on
	Trunking []factors.Enclosure            // the sizes stocked; empty: all tabulated
	Conduit  []units.Millimetres
	Reel     Given[units.Metres]              // default 100 m
	Offcuts  map[string][]Given[units.Metres] // by enclosure: "steel conduit 20"
}

// Allowances are added to what is measured.
type Allowances struct {
	BoardTail     Given[units.Metres] // per core, at the board
	AccessoryTail Given[units.Metres] // per core, at every other place it ends
	ConduitWaste  Given[float64]
	CableWaste    Given[float64]
}

// Place is a position: board, box, accessory or fitting.
type Place struct {
	Name   string
	At     source.Pos
	Kind   PlaceKind
	Gangs  int
	DrawIn bool // cables can be drawn in from here
	Joints bool // cores may be joined here
	Across Given[units.Metres]
	Height Given[units.Metres]
	Out    Given[units.Metres]
	Point  Point // where it is, when Placed
	Placed bool
	Runs   []int // the runs that end here, in the order of the file
}

// Run is one enclosure between two places.
type Run struct {
	Name     string
	At       source.Pos
	From, To int // places; -1 when the run stands alone
	FromAt   source.Pos
	Enc      factors.Enclosure
	EncAt    source.Pos
	Stated   StatedSize

	Length  units.Metres // draw-in length: along the centre line, corner to corner
	Drawn   bool         // a path was given
	Legs    []Leg
	Corners []Point // relative to the from place, first and last included
	Bends   Bends
	Made    Given[bool] // right angles are fittings, not formed in the tube

	Existing bool // the tube is up, with the listed cables in it: neither is bought, cut or set out

	Fixed      Given[Fixing]
	Ambient    Given[units.Celsius]     // the job's where not said
	Sun        Given[bool]              // lies in the sun; the job's where not said
	Surrounded Given[units.Millimetres] // length wholly in thermal insulation
	Listed     []Listed                 // cables given by hand
	Other      Given[int]               // loaded circuits besides the job's own
	Carries    []Carried                // the job's circuits that pass, in order
}

// StatedSize is what a job says of an enclosure that no table has.
type StatedSize struct {
	Factor        Given[float64] // trunking factor, mm²
	Width, Height units.Millimetres
	Inside        source.Pos // where Width and Height are given
	From          string     // whose figure it is
}

// Listed is a number of equal cables given by hand.
type Listed struct {
	Count int
	Cable factors.Cable
	Name  string // "data", where the job names them
	At    source.Pos

	OfCircuit bool // they are the cores of a circuit asked for by its words
}

// Carried is a circuit's passage through a run.
type Carried struct {
	Circuit int
	Passes  int // 2 when it lies there twice: both legs of a ring, or down and back
}

// Fixing is how a run is fixed, which decides the reference method.
type Fixing uint8

// The ways of fixing that the rating tables tell apart.
const (
	OnSurface       Fixing = iota // on a wall or ceiling
	InMasonry                     // cast or chased in
	InInsulatedWall               // in a thermally insulating wall
)

// Circuit is one final circuit.
type Circuit struct {
	Name        string
	At          source.Pos
	Way         Given[int]
	Device      Given[Device]
	Cable       Given[factors.Cable]
	CPC         Given[units.SquareMM]
	Arrangement Given[Arrangement]
	Demand      Given[Demand]
	Phases      Given[int]
	Neutral     bool // false only for a three-phase load without one
	CPCRule     CPCRule
	NoSteel     bool // the tube was to serve as cpc and is not of steel anywhere: it has a cpc of its own

	Points     []Given[int] // radial, ring, direct: in the order of the file or, once derived, as wired
	Spurs      []Spur
	Groups     []Group // lighting
	Loop       Loop
	Order      Order
	Via        []Via
	Saving     Saving       // what the shortest order saves
	Joined     []Joined     // what joints in boxes save
	Named      bool         // the job names the runs instead of the points
	Runs       []Given[int] // passed, in order; a run passed twice stands twice
	Electrical Electrical
	Singles    [2]int // first and one past the last of Job.Singles
}

// Spur is a branch off a point.
type Spur struct {
	From   Given[int]
	Points []Given[int]
}

// Group is the lights that work together and the switches that work them, in the
// order of the file or, once derived, as wired. A group without switches is
// permanently on.
type Group struct {
	Switches   []Given[int]
	Lights     []Given[int]
	Conversion bool          // two-way by the conversion method
	Neutral    Given[string] // circuit whose neutral is used instead, a fault to be found
	Gangs      []int         // of each switch: which gang of its place, from 1
}

// Via names the runs that a hop takes.
type Via struct {
	From, To int
	Runs     []Given[int]
	used     bool // a hop has taken it
}

// Saving compares the order that draws in the least cable with the order of the
// file: of points in metres along one core, of lighting in metres of all the
// circuit's own cores with their tails.
type Saving struct {
	Listed, Shortest float64
	Bound            float64 // no order is shorter; 0 where that is not proved
	Exact            bool    // no order is shorter than Shortest
	Tried            int     // orders of a lighting circuit's switches and first lights
}

// Joined is what joints in boxes save of one conductor against looping it from
// terminal to terminal, in metres with tails. Bound is for trees that join it
// in the boxes on the shortest ways between its terminals.
type Joined struct {
	Function             Function // Unnamed where all conductors of the circuit go side by side
	Group                int      // of a lighting circuit, else 0
	Looped, Least, Bound float64
	Exact                bool
}

// CPCRule says what serves as a circuit's protective conductor.
type CPCRule uint8

// The rules for protective conductors.
const (
	OwnCPC     CPCRule = iota // a green-and-yellow single of its own
	SharedCPC                 // one for all circuits that say so, sized for the largest
	ConduitCPC                // the steel conduit or trunking; a single where it is plastic
)

// Loop says where the line of a lighting circuit is looped.
type Loop uint8

// The ways to loop the line.
const (
	AtSwitches Loop = iota
	AtLights
)

// Order says in which order points are wired.
type Order uint8

// The orders of points.
const (
	AsListed Order = iota
	Shortest
)

// Lines is the number of line conductors: one, or three.
func (c *Circuit) Lines() int { return max(1, c.Phases.V) }

// LoadSaid reports whether the design current is stated, as a demand or load by
// load, and not the device's rating for want of one.
func (c *Circuit) LoadSaid() bool { return c.Demand.Said() || len(c.Electrical.Loads) > 0 }

// Loaded is the number of loaded conductors for the rating tables.
func (c *Circuit) Loaded() int {
	if c.Lines() == 3 {
		return 3
	}
	return 2
}

// Arrangement is the shape of a circuit.
type Arrangement uint8

// The shapes of circuit.
const (
	Radial Arrangement = iota
	Ring
	Lighting
	Direct
)

// Device is a protective device.
type Device struct {
	Standard string // "BS EN 60898", "BS 3036", …
	Type     string // "B", "C", "D"; "" for fuses
	Rating   units.Amps
}

// String names the device as the job file does.
func (d Device) String() string {
	if d.Type != "" {
		return d.Type + units.Format(float64(d.Rating))
	}
	return d.Standard + " " + units.Format(float64(d.Rating)) + " A"
}

// Demand is the load of a circuit: a current, or a power and power factor.
type Demand struct {
	Current units.Amps
	Power   units.Watts
	Factor  float64 // power factor; 0 means 1
}
