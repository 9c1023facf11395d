package render

import (
	"io"
	"math"

	"tubewright/factors/sum"
	"tubewright/fill"
	"tubewright/route"
)

type setOutJSON struct {
	Job      string       `json:"job"`
	Verdict  string       `json:"verdict"`
	Runs     []setRunJSON `json:"runs"`
	Notes    []string     `json:"notes"`
	Cautions []string     `json:"cautions"`
}

type setRunJSON struct {
	Run       string      `json:"run"`
	Enclosure string      `json:"enclosure"`
	From      string      `json:"from,omitempty"`
	To        string      `json:"to,omitempty"`
	Drawn     bool        `json:"drawn"`
	Existing  bool        `json:"existing,omitempty"`
	RadiusMM  *float64    `json:"radius_mm"`
	CornersMM *float64    `json:"corner_to_corner_mm"`
	GainMM    *float64    `json:"gain_mm"`
	TubeMM    *float64    `json:"tube_mm"`
	Body      *bodyJSON   `json:"body_of_trunking"` // null for a run that is one alone
	Ends      []endJSON   `json:"ends"`
	Pieces    []pieceJSON `json:"pieces"`
	Sets      []setJSON   `json:"sets"`
	Expansion []jointJSON `json:"expansion_couplers"`
	Lacks     []lackJSON  `json:"cannot_be_made"`
	Advice    []string    `json:"advice"`
	Steps     []string    `json:"steps"`
	Sources   []string    `json:"sources"`
}

type endJSON struct {
	Entry    string   `json:"entry"`
	From     string   `json:"measured_from,omitempty"`
	FaceMM   *float64 `json:"centre_to_mouth_mm"`
	ThreadMM *float64 `json:"thread_mm"`
	Basis    string   `json:"basis"`
}

type pieceJSON struct {
	Piece   string     `json:"piece"`
	CutMM   *float64   `json:"cut_mm"`
	Ends    [2]string  `json:"ends"`
	Running *float64   `json:"running_thread_mm"` // at the far end; 0 for none
	From    string     `json:"measured_from"`
	StartMM *float64   `json:"starts_at_mm"` // along the run or body
	Runs    []string   `json:"runs"`         // of a body that it lies in
	Marks   []markJSON `json:"marks"`
	Holes   []holeJSON `json:"holes"`
	Saddles []*float64 `json:"saddles_mm"`
	Work    []string   `json:"work"`
}

type markJSON struct {
	Bend     int      `json:"bend"`
	Of       string   `json:"of"`
	Degrees  *float64 `json:"degrees"`
	StartMM  *float64 `json:"start_mm"`
	CentreMM *float64 `json:"centre_mm"`
	EndMM    *float64 `json:"end_mm"`
	ApartMM  *float64 `json:"apart_mm"` // null for the first of a piece
	Turn     *float64 `json:"turn_degrees"`
	BackMM   *float64 `json:"back_of_bend_mm"` // null unless it is the first and a right angle
}

type setJSON struct {
	Set     string   `json:"set"`
	DepthMM *float64 `json:"depth_mm"`
	Degrees *float64 `json:"degrees"`
	Open    bool     `json:"angle_left_open"`
	Flatter bool     `json:"flatter_than_usual"`
	RiseMM  *float64 `json:"rise_mm"` // of a rolled set; 0 for others
	RollMM  *float64 `json:"roll_mm"`
	ApartMM *float64 `json:"starts_apart_mm"`
	RuleMM  *float64 `json:"plain_multiplier_mm"`
}

type jointJSON struct {
	AtMM      *float64 `json:"at_mm"`
	OpeningMM *float64 `json:"opening_mm"`
	MarkMM    *float64 `json:"mark_mm"`  // from the end of the piece after it
	FixedMM   *float64 `json:"fixed_mm"` // of the piece before it
	Working   string   `json:"working"`
	Basis     string   `json:"basis"`
}

type lackJSON struct {
	What    string   `json:"what"`
	ThereMM *float64 `json:"there_is_mm"`
	LeastMM *float64 `json:"least_mm"`
	Instead string   `json:"instead"`
}

// WriteSetOutJSON writes all that WriteSetOut prints, with every step.
func WriteSetOutJSON(w io.Writer, j *route.Job, runs []int, verdict fill.Verdict) error {
	out := setOutJSON{Job: j.Name, Verdict: verdict.String(), Runs: []setRunJSON{}, Cautions: Cautions}
	turn := false
	for _, r := range runs {
		work := &sum.Work{}
		s := j.SetOut(work, r)
		turn = turn || turns(&s)
		one := runJSON(j, &s)
		one.Steps, one.Sources = stepTexts(work.Steps), fill.Sources(work.Steps)
		out.Runs = append(out.Runs, one)
	}
	out.Notes = notesOf(turn)
	return writeJSON(w, out)
}

func runJSON(j *route.Job, s *route.SetOut) setRunJSON {
	r := &j.Runs[s.Run]
	one := setRunJSON{Run: r.Name, Body: bodyOf(j, s), Enclosure: r.Enc.String(), Drawn: r.Drawn, Existing: r.Existing, RadiusMM: number(s.RadiusMM), CornersMM: number(s.CornerMM), GainMM: number(s.GainMM), TubeMM: number(s.PiecesMM()),
		Ends: []endJSON{}, Pieces: []pieceJSON{}, Sets: []setJSON{}, Expansion: []jointJSON{}, Lacks: []lackJSON{}, Advice: append([]string{}, s.Advice...)}
	if r.From >= 0 {
		one.From, one.To = j.Places[r.From].Name, j.Places[r.To].Name
	}
	for _, e := range s.Ends {
		if e.Entry == "" {
			continue // they are those of its body
		}
		one.Ends = append(one.Ends, endJSON{e.Entry, e.From, number(e.FaceMM), number(e.ThreadMM), e.Basis})
	}
	for i := range s.Pieces {
		one.Pieces = append(one.Pieces, onePieceJSON(j, s, i))
	}
	for _, f := range s.Sets {
		one.Sets = append(one.Sets, setJSON{f.Word, number(f.DepthMM), number(float64(f.Angle)), f.Open, f.Flatter, number(f.RiseMM), number(f.RollMM), number(f.Marks.Between), number(f.Marks.Multiplier)})
	}
	for _, e := range s.Joints {
		one.Expansion = append(one.Expansion, jointJSON{number(e.At), number(e.OpeningMM), number(e.MarkMM), number(e.FixedMM), s.Opening.Sum, s.Opening.Basis})
	}
	for _, l := range s.Lacks {
		one.Lacks = append(one.Lacks, lackJSON{l.What, number(l.Value), number(l.Limit), l.Instead})
	}
	return one
}

func onePieceJSON(j *route.Job, s *route.SetOut, i int) pieceJSON {
	p := &s.Pieces[i]
	out := pieceJSON{Piece: p.Name, CutMM: number(p.Long()), Ends: p.Ends, Running: number(p.RunningMM), From: s.EndName(j, i, 0), StartMM: number(p.From), Runs: runNames(j, s, i), Marks: []markJSON{}, Holes: holesJSON(j, s, i), Saddles: []*float64{}, Work: []string{}}
	if len(s.Lacks) == 0 {
		out.Work = bendingSteps(j, s, i)
	}
	for _, m := range s.Marks(i) {
		one := markJSON{m.Number, bendOf(s, m), number(float64(m.Angle)), number(m.Start), number(m.Centre), number(m.End), number(m.Apart), number(float64(m.Turn)), number(m.BackMM)}
		if math.IsNaN(m.Apart) {
			one.Turn = nil
		}
		out.Marks = append(out.Marks, one)
	}
	for _, at := range s.SaddlesOn(i) {
		out.Saddles = append(out.Saddles, number(at))
	}
	return out
}
