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
	return sideOf(h)
}

// sideOf names the side of the trunking that a hole is in.
func sideOf(h route.Hole) string {
	switch h.Way {
	case "up":
		return "the upper side"
	case "down":
		return "the lower side"
	case "left", "right":
		return "the " + h.Way + " side"
	case "out":
		return "the face off the wall"
	case "in":
		return "the back, on the wall"
	}
	return "the side"
}

// dirAt is which way a piece goes at a hole.
func dirAt(s *route.SetOut, piece int, h route.Hole) (dir route.Point) {
	for _, p := range s.Parts {
		if p.Kind == route.StraightPart && p.From <= s.Pieces[piece].From+h.At+1e-6 {
			dir = p.Dir
		}
	}
	return dir
}

// offWall is how far off the wall the middle of a hole lies; 0 where that is not
// for the hole to say.
func offWall(s *route.SetOut, piece int, h route.Hole) float64 {
	if h.On != "" || onEnd(s, piece, h) {
		return 0
	}
	return h.OffMM
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
			where := "in " + sideOf(h)
			if off := offWall(s, piece, h); off > 0 {
				where += fmt.Sprintf(", its middle %s mm off the wall where the trunking lies on it (the middle of that side; common practice, no source)", units.Format(off))
			}
			out = append(out, fmt.Sprintf("cut hole for %s at %s mm%s, %s; deburr, %s", what, whole(h.At), of, where, joint))
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
		side := strings.TrimPrefix(sideOf(h), "the ")
		side, _, _ = strings.Cut(side, ",")
		text += ", " + strings.TrimSuffix(side, " off the wall")
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

// holes draws each as wide as its conduit: a circle where it is in the face that
// is seen, or in the back, or its side is not known; else a gap in the edge that
// it is behind.
func (d *setOutSheet) holes(v *tubeView) {
	for _, h := range v.cutHoles() {
		r := min(max(0.6, float64(h.Size)/2*v.ratio), (v.bottom-v.top)/2-0.2)
		x := v.x(h.At)
		y, side := v.edge(h)
		if side == 0 {
			d.Disc(White, x, (v.top+v.bottom)/2, r)
			d.Arc(PenSymbol, x, (v.top+v.bottom)/2, r, 0, 360)
			continue
		}
		d.Fill(White, x-r, y-0.5, x+r, y-0.5, x+r, y+0.5, x-r, y+0.5)
		for _, at := range []float64{x - r, x + r} {
			d.Line(PenSymbol, false, at, y-side*1, at, y+side*1)
		}
		d.Line(PenCentre, false, x, y-side*1.6, x, y+side*2.2)
	}
}

// edge is the edge of the tube as drawn that a hole lies behind, and which way
// out of it is: 0 for a hole that is not in an edge. The piece lies with its first
// end to the left, seen as one who faces the wall sees it turned so.
func (v *tubeView) edge(h route.Hole) (y, side float64) {
	dir := dirAt(v.set, v.piece, h)
	up := h.Way == "up" && dir.X > 0.01 || h.Way == "down" && dir.X < -0.01 || h.Way == "right" && dir.Z < -0.01 || h.Way == "left" && dir.Z > 0.01
	down := h.Way == "down" && dir.X > 0.01 || h.Way == "up" && dir.X < -0.01 || h.Way == "left" && dir.Z < -0.01 || h.Way == "right" && dir.Z > 0.01
	switch {
	case up:
		return v.top, -1
	case down:
		return v.bottom, 1
	}
	return 0, 0
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
	Off    *float64 `json:"off_wall_mm"` // of its middle, where the trunking lies on the wall; null where its side does not stand on it
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
		hole := holeJSON{Entry: j.Places[h.Place].Name, Run: j.Runs[h.Run].Name, Size: number(float64(h.Size)), AtMM: number(h.At), Leaves: h.Way, In: holeIn(s, piece, h)}
		if off := offWall(s, piece, h); off > 0 {
			hole.Off = number(off)
		}
		out = append(out, hole)
	}
	return out
}
