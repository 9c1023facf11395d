package route

import (
	"fmt"
	"math"
	"slices"

	"tubewright/factors"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
)

// SetOut is how the tube of one run is bent, cut and fixed. Lengths are in mm
// along the tube before it is bent, from its end at the from place.
type SetOut struct {
	Run      int
	RadiusMM float64 // of the centre line; 0 for trunking
	ODMM     float64
	WallMM   float64 // of steel conduit; 0 for others
	ThreadMM float64 // of conduit that a spout, coupler or socket takes
	Ends     [2]TubeEnd
	Parts    []TubePart // straights, bends and made bends in order
	Bends    []FormedBend
	Sets     []FormedSet
	CornerMM float64 // end to end of the tube, corner to corner
	GainMM   float64 // what the bends save; below nought for folded trunking
	LengthMM float64 // CornerMM − GainMM: the tube it takes, with the gaps of expansion couplers
	Pieces   []TubePiece
	Saddles  []SaddlePoint
	OffWall  []OffWall // saddles that want packing or brackets under them
	Spacing  string    // the tables that place the saddles; only where steps are kept
	Joints   []ExpansionJoint
	Opening  Worked    // of the expansion couplers; only where steps are kept
	Body     []BodyRun // of trunking: the runs that are one with it; all but the first have their pieces under that
	Holes    []Hole    // in trunking, for the conduits at its entries
	Lacks    []Lack    // why it cannot be made
	Advice   []string  // what of the figures given is doubted
}

// Made reports whether the run could be set out; its Lacks say why not.
func (s *SetOut) Made() bool { return len(s.Parts) > 0 }

// Elsewhere reports whether the run is one body of trunking with others and set
// out under the first of them.
func (s *SetOut) Elsewhere() bool { return len(s.Body) > 0 && s.Body[0].Run != s.Run }

// TubeEnd is where a tube ends at a place.
type TubeEnd struct {
	Place    int     // -1 for none
	From     string  // what FaceMM is measured from: "centre", "centre line of the trunking", …
	FaceMM   float64 // to the mouth that the tube enters
	ThreadMM float64 // of the tube within it: thread, or depth of a plastic socket
	Entry    string  // "spout", "coupler and male bush", …
	Basis    string  // where the two lengths come from; only where steps are kept
	Sum      string  // how they add up; only where steps are kept
}

// SetbackMM is where the path starts or ends to the end of the tube; below nought
// the tube reaches beyond it.
func (e TubeEnd) SetbackMM() float64 { return e.FaceMM - e.ThreadMM }

// Worked is how a figure comes about: its sums, and the tables that they look
// up.
type Worked struct{ Sum, Basis string }

// PartKind is what a stretch of tube is.
type PartKind uint8

// The parts of a tube.
const (
	StraightPart PartKind = iota + 1
	BendPart
	MadePart // a fitting between two tubes, or two lengths of trunking
)

// TubePart is a straight, a bend, or a made bend between two tubes.
type TubePart struct {
	Kind     PartKind
	From, To float64 // mm; equal for a made bend; the cut-out of folded trunking
	Dir      Point   // along the tube where it starts
	Toward   Point   // the side that it bends to, square to Dir
	Angle    units.Degrees
	ReachMM  float64 // made bend: corner to the end of the tube in it
	Fitting  string  // of a corner of trunking: flat bend
	set      int     // of a bend: index in SetOut.Sets, -1 for one of its own
	AcrossMM float64 // folded corner of trunking: from the face that folds to the one cut open
}

// Long is the length of tube in the part, in mm.
func (p TubePart) Long() float64 { return p.To - p.From }

// Lies reports whether the part is nearer the horizontal than the vertical.
func (p TubePart) Lies() bool { return math.Abs(p.Dir.Z) < math.Sqrt2/2 }

// FormedBend is one bend formed in the tube.
type FormedBend struct {
	Number             int // from 1 along the run
	Set                int // index in SetOut.Sets, -1 for a bend of its own
	Angle              units.Degrees
	Start, Centre, End float64       // mm
	Twist              units.Degrees // how the tube is turned for it since the bend before, clockwise seen along the tube from its first end; 180: over
	GainMM             float64
}

// Lack is a reason why a run cannot be made as it is drawn: the value falls
// short of the limit.
type Lack struct {
	What         string
	Value, Limit float64 // mm
	Instead      string  // what would do: only what does
	about        string  // the leg or set, for lacks that a remedy may lift; "" for others
}

// setOut is a SetOut in the making.
type setOut struct {
	SetOut
	job *Job
	run *Run
	w   *sum.Work

	R, straight, between sum.Term
	couplers             [][2]float64 // stretches of tube that they take, for saddles
	halfCouplerMM        float64      // of a running coupler
	trial                bool         // to count by, or whether a remedy works: no remedies of its own
	spare                []Run        // the job's runs, to try remedies on
	bendsSoFar           int          // formed bends numbered while the corners are laid
	starts               []float64    // of the straights, in mm along the centre line corner to corner
	working                           // how lengths come about; only where steps are kept
}

// SetOut works out bends, marks, pieces and saddles of a run. With a nil w no
// steps are kept. A run given by length and bends alone has one straight: its
// pieces can be cut, but nothing says where it bends. An existing run has none.
//
// Cost: linear in legs, pieces and saddles.
func (j *Job) SetOut(w *sum.Work, run int) SetOut { return j.setOut(w, run, false) }

// Shape is SetOut to count by: without steps, and of what cannot be made without
// what would do instead, which takes some thirty trials.
func (j *Job) Shape(run int) SetOut { return j.setOut(nil, run, true) }

func (j *Job) setOut(w *sum.Work, run int, trial bool) SetOut {
	if w.Keeps() {
		before := len(w.Steps)
		defer func() { w.Steps = append(w.Steps[:before], once(w.Steps[before:])...) }()
	}
	s := &setOut{SetOut: SetOut{Run: run}, job: j, run: &j.Runs[run], w: w, trial: trial}
	s.Ends = [2]TubeEnd{{Place: s.run.From}, {Place: s.run.To}}
	if s.run.Existing {
		return s.SetOut
	}
	s.R = s.former()
	s.RadiusMM = s.R.Value
	if !s.conduit() {
		if s.Body = j.body(run); s.Elsewhere() {
			w.Notef("one body of trunking with run %s, under which its pieces are set out", j.Runs[s.Body[0].Run].Name)
			return s.SetOut
		}
		s.Body, s.run = slices.Clone(s.Body), j.whole(s.Body)
	}
	s.straight = s.practice(j.Tools.Straight, "end straight", "s", "least straight at an end or coupler")
	s.between = sum.Term{Symbol: "b", Value: float64(j.Tools.Between.V), Unit: "mm"}
	if j.Tools.Between.Said() {
		w.Given("least straight between two bends, as the job states", s.between)
	}
	s.ends()
	s.lay()
	s.joints()
	s.split()
	s.freeCaptive()
	s.pieceSteps()
	if s.saddled() {
		s.Spacing = s.basis(s.saddles)
		s.standOff()
	}
	s.markSteps()
	s.remedies()
	return s.SetOut
}

// lay lays the run: bends and straights.
func (s *setOut) lay() {
	var ways []float64
	switch {
	case s.run.Drawn && s.conduit():
		s.fittingsTurn()
		s.bend(s.corners())
		return
	case s.run.Drawn:
		var c []corner
		c, ways = s.bodyCorners()
		s.bend(c)
	default:
		s.quick()
		way := 0.0
		for _, b := range s.Body {
			way += float64(s.job.Runs[b.Run].Length.MM())
			ways = append(ways, way)
		}
	}
	if !s.conduit() {
		s.inBody(ways)
	}
}

// practice is a length that the job states or the trade is used to.
func (s *setOut) practice(g Given[units.Millimetres], what, symbol, meaning string) sum.Term {
	t := uk.SetOutPractice(what).Term(symbol)
	if g.Said() {
		t = sum.Term{Symbol: symbol, Value: float64(g.V), Unit: "mm"}
	}
	return s.w.Given(meaning, t)
}

// conduit reports whether the run is a tube and not trunking.
func (s *setOut) conduit() bool { return s.run.Enc.Kind == factors.Conduit }

// bySize finds what a job states for an enclosure or for its size.
func bySize[T any](m map[string]T, e factors.Enclosure) (T, bool) {
	if v, ok := m[e.String()]; ok {
		return v, true
	}
	v, ok := m[e.SizeName()]
	return v, ok
}

// quick sets out a run whose way is not drawn.
func (s *setOut) quick() {
	s.CornerMM = float64(s.run.Length.MM()) - s.Ends[0].SetbackMM() - s.Ends[1].SetbackMM()
	if s.w.Keeps() {
		s.endToEnd(linear{}.plus(1, s.w.Given("length of the run", sum.Term{Symbol: "run", Value: float64(s.run.Length.MM()), Unit: "mm"})))
	}
	n := float64(s.run.Bends.Right)
	if n > 0 && s.conduit() {
		g := gain(s.w, s.R, 90)
		G := s.w.Let("Σg", "gain of all bends", "mm", sum.Times(sum.N(n), sum.T(g)))
		s.GainMM = G.Value
		s.whole = s.w.Let("c", "tube that the run takes", "mm", sum.Sub(sum.T(s.whole), sum.T(G)))
	}
	s.LengthMM = s.CornerMM - s.GainMM
	s.straights = []sum.Term{s.whole}
	s.Parts = []TubePart{{Kind: StraightPart, To: s.LengthMM, Dir: directions["right"]}}
	s.starts = []float64{s.Ends[0].SetbackMM()}
	if s.LengthMM <= 0 {
		s.lack(Lack{What: "length of tube", Value: s.LengthMM, Instead: "a longer run, or fewer bends"})
	}
}

// lack keeps a reason and writes down what falls short of what.
func (s *setOut) lack(l Lack) {
	s.Lacks = append(s.Lacks, l)
	if s.w.Keeps() {
		which := ""
		if n := len(s.Lacks); n > 1 {
			which = fmt.Sprintf(" (%d)", n)
		}
		v := s.w.Given(l.What, sum.Term{Symbol: "there is" + which, Value: l.Value, Unit: "mm"})
		s.w.AtMost(l.What, s.w.Given("at least needed", sum.Term{Symbol: "least" + which, Value: l.Limit, Unit: "mm"}), v)
	}
}
