package render

import (
	"fmt"
	"io"
	"strings"

	"tubewright/factors"
	"tubewright/factors/units"
	"tubewright/route"
)

// bodyText says which runs are one body of trunking, and where along it each
// lies; "" for a run that is one alone.
func bodyText(j *route.Job, s *route.SetOut) string {
	if len(s.Body) < 2 {
		return ""
	}
	known := s.Body[len(s.Body)-1].To > 0
	if s.Elsewhere() {
		text := "one body of trunking with run " + j.Runs[s.Body[0].Run].Name + ": its pieces and holes are set out under that"
		for _, b := range s.Body {
			if b.Run == s.Run && known {
				from, to := ownWay(b)
				text += fmt.Sprintf("; this run lies from %s to %s mm along it", whole(from), whole(to))
			}
		}
		return text
	}
	names := make([]string, len(s.Body))
	for i, b := range s.Body {
		names[i] = j.Runs[b.Run].Name
		if known {
			from, to := ownWay(b)
			names[i] += fmt.Sprintf(" %s to %s", whole(from), whole(to))
		}
	}
	text := "one body of trunking, entries are holes in its side: runs " + strings.Join(names, ", ")
	if known {
		text += " mm along it"
	}
	return text
}

// ownWay is where a run lies along its body, in the run's own direction.
func ownWay(b route.BodyRun) (from, to float64) {
	if b.Back {
		return b.To, b.From
	}
	return b.From, b.To
}

// pieceRuns says which runs of a body a piece lies in, and where in it it
// starts; "" for a run that is one alone.
func pieceRuns(j *route.Job, s *route.SetOut, piece int) string {
	if len(s.Body) < 2 {
		return ""
	}
	where := fmt.Sprintf("; starts %s mm along the trunking", whole(s.Pieces[piece].From))
	if in := runNames(j, s, piece); len(in) > 0 {
		where += ", in " + oneLine(strings.Join(in, " "))
	}
	return where
}

func runNames(j *route.Job, s *route.SetOut, piece int) []string {
	out := []string{}
	for _, r := range s.RunsIn(piece) {
		out = append(out, j.Runs[r].Name)
	}
	return out
}

// holeTable lists the holes of a piece from both its ends.
func holeTable(w io.Writer, j *route.Job, s *route.SetOut, piece int) error {
	holes := s.HolesIn(piece)
	if len(holes) == 0 {
		return nil
	}
	near, far := s.EndName(j, piece, 0), s.EndName(j, piece, 1)
	fmt.Fprintf(w, "    holes in mm from the %s end, to their middle\n", near)
	t := columns{head: []string{"entry", "conduit", "from " + near, "from " + far, "run", "leaves", "in"}, right: []bool{false, true, true, true}}
	for _, h := range holes {
		t.add(j.Places[h.Place].Name, units.Format(float64(h.Size)), whole(h.At), whole(s.Pieces[piece].Long()-h.At), j.Runs[h.Run].Name, leaves(h), holeIn(s, piece, h))
	}
	return t.write(w, "    ")
}

func leaves(h route.Hole) string {
	if h.Way == "" {
		return "–"
	}
	return h.Way
}

// holeIn says what a hole is cut in.
func holeIn(s *route.SetOut, piece int, h route.Hole) string {
	switch {
	case h.On != "":
		return h.On
	case onEnd(s, piece, h):
		return "the end of the piece"
	}
	return "the side"
}

// onEnd reports whether a hole's edge passes an end of its piece.
func onEnd(s *route.SetOut, piece int, h route.Hole) bool {
	half := float64(h.Size) / 2
	return h.At < half || s.Pieces[piece].Long()-h.At < half
}

// holeSteps say how the holes of a piece are cut. Common practice, no source,
// but for the figures.
func holeSteps(j *route.Job, s *route.SetOut, piece int) []string {
	var out []string
	for _, h := range s.HolesIn(piece) {
		what := units.Format(float64(h.Size)) + " mm conduit"
		of := fmt.Sprintf(" (entry %s, run %s", j.Places[h.Place].Name, j.Runs[h.Run].Name)
		if h.Way != "" {
			of += ", leaving " + h.Way
		}
		of += ")"
		joint := "bush"
		if j.Runs[h.Run].Enc.Material == factors.Plastic {
			joint = "fit the adaptor with its lock-ring"
		}
		switch {
		case h.On != "":
			out = append(out, fmt.Sprintf("the hole for %s%s is in the %s, not in this length: cut it there, deburr, %s", what, of, h.On, joint))
		case onEnd(s, piece, h):
			out = append(out, fmt.Sprintf("the hole for %s%s falls on the end of this length, at %s mm: carry the trunking on past it, or cut the hole back from the end, clear of what closes or joins it, and move the conduit as far; deburr, %s", what, of, whole(h.At), joint))
		default:
			out = append(out, fmt.Sprintf("cut hole for %s at %s mm%s, deburr, %s", what, whole(h.At), of, joint))
		}
	}
	return out
}

// holeText stands over a hole on the strip.
func (s strip) holeText(h route.Hole) string {
	at := whole(h.At)
	if onEnd(s.set, s.piece, h) {
		at = "end"
	}
	text := "hole " + units.Format(float64(h.Size)) + "  " + at + "  " + oneLine(s.job.Runs[h.Run].Name)
	if h.Way != "" {
		text += " " + h.Way
	}
	return text
}

// cutHoles are the holes of a piece that are cut in the length itself.
func (s strip) cutHoles() []route.Hole {
	var out []route.Hole
	for _, h := range s.set.HolesIn(s.piece) {
		if h.On == "" {
			out = append(out, h)
		}
	}
	return out
}

// holes draws each as wide as its conduit.
func (d *setOutSheet) holes(v *tubeView) {
	for _, h := range v.cutHoles() {
		r := min(max(0.6, float64(h.Size)/2*v.ratio), (v.bottom-v.top)/2-0.2)
		d.Disc(White, v.x(h.At), (v.top+v.bottom)/2, r)
		d.Arc(PenSymbol, v.x(h.At), (v.top+v.bottom)/2, r, 0, 360)
	}
}

type bodyJSON struct {
	First  string   `json:"begins_with_run"` // its pieces are listed there
	Runs   []string `json:"runs,omitempty"`  // in order, with the first of them
	FromMM *float64 `json:"from_mm"`         // along it, in the run's own direction; null where it is not known
	ToMM   *float64 `json:"to_mm"`
}

type holeJSON struct {
	Entry  string   `json:"entry"`
	Run    string   `json:"run"`
	Size   *float64 `json:"conduit_mm"`
	AtMM   *float64 `json:"at_mm"`
	Leaves string   `json:"leaves,omitempty"`
	In     string   `json:"in"`
}

// bodyOf is nothing for a run that is one alone.
func bodyOf(j *route.Job, s *route.SetOut) *bodyJSON {
	if len(s.Body) < 2 {
		return nil
	}
	out := &bodyJSON{First: j.Runs[s.Body[0].Run].Name}
	for _, b := range s.Body {
		if !s.Elsewhere() {
			out.Runs = append(out.Runs, j.Runs[b.Run].Name)
		}
		if b.Run == s.Run && s.Body[len(s.Body)-1].To > 0 {
			from, to := ownWay(b)
			out.FromMM, out.ToMM = number(from), number(to)
		}
	}
	return out
}

func holesJSON(j *route.Job, s *route.SetOut, piece int) []holeJSON {
	out := []holeJSON{}
	for _, h := range s.HolesIn(piece) {
		out = append(out, holeJSON{j.Places[h.Place].Name, j.Runs[h.Run].Name, number(float64(h.Size)), number(h.At), h.Way, holeIn(s, piece, h)})
	}
	return out
}
