package route

// PlaceKind is what stands at a place.
type PlaceKind uint8

// The kinds of place, in the trade's words.
const (
	BoardPlace PlaceKind = iota + 1
	Box
	Socket
	Light
	EmergencyLight
	Switch
	Isolator
	CookerSwitch
	Heater
	Motor
	Fan
	TimedFan // takes a permanent line beside the switched one
	Equipment
	Outlet
	Entry // conduit leaves a trunking
	Coupler
	Elbow
	InspectionBend
	InspectionTee
)

// placeWords are the words of the job file, in the order of the constants.
var placeWords = []string{"", "board", "box", "socket", "light", "emergency light", "switch", "isolator",
	"cooker switch", "heater", "motor", "fan", "timed fan", "equipment", "outlet", "entry", "coupler", "elbow", "inspection bend", "inspection tee"}

func (k PlaceKind) String() string { return placeWords[k] }

// DrawIn reports whether cables can usually be drawn in at such a place: it
// has a lid or an accessory that comes off. Couplers and solid elbows have not.
func (k PlaceKind) DrawIn() bool { return k != Coupler && k != Elbow }

// Terminal reports whether cores end on terminals at such a place.
func (k PlaceKind) Terminal() bool {
	switch k {
	case Box, Entry, Coupler, Elbow, InspectionBend, InspectionTee:
		return false
	}
	return true
}

var (
	arrangementWords = []string{"radial", "ring", "lighting", "direct"}
	loopWords        = []string{"at switches", "at lights"}
	orderWords       = []string{"as listed", "shortest"}
	methodWords      = []string{"strappers", "conversion"}
	fixingWords      = []string{"on surface", "in masonry", "in insulated wall"}
	drawInWords      = []string{"guide", "180", "270"}
	overloadWords    = []string{"together", "not together"}
	mixedWords       = []string{"span", "table", "root"}
	supportWords     = []string{"guide", "maker", "specification"}
)

func (a Arrangement) String() string { return arrangementWords[a] }
func (f Fixing) String() string      { return fixingWords[f] }
func (d DrawInRule) String() string  { return drawInWords[d] }
func (m MixedRule) String() string   { return mixedWords[m] }
func (o Overload) String() string    { return overloadWords[o] }
func (s SupportRule) String() string { return supportWords[s] }

// Degrees is the most a pull may turn by the rule, 0 for the guide's.
func (d DrawInRule) Degrees() int {
	switch d {
	case DrawIn180:
		return 180
	case DrawIn270:
		return 270
	}
	return 0
}
