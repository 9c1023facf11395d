package render

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"tubewright/factors/sum"
	"tubewright/route"
	"tubewright/route/cut"
)

// WriteCut prints every bar to cut, what is left of it, and how many lengths
// no plan can do without beside those used. left are reasons why runs are not
// in the lists in full.
func WriteCut(to io.Writer, j *route.Job, lists []route.CutList, left []string) error {
	w := bufio.NewWriter(to)
	heading(w, j.Name, j.Date)
	for k := range lists {
		if err := writeList(w, j, &lists[k]); err != nil {
			return err
		}
	}
	if up := existing(j); len(up) > 0 {
		_ = writeWrapped(w, "existing, not cut: ", "  ", strings.Join(up, ", "))
		fmt.Fprintln(w)
	}
	for _, l := range left {
		_ = writeWrapped(w, "NOT IN FULL: ", "  ", l) // the buffer keeps every error for Flush
	}
	if len(left) > 0 {
		fmt.Fprintln(w)
	}
	_ = writeWrapped(w, "", "  ", "Pieces are cut square in the order of each bar; their lengths are those before bending, as setout gives them. Saw cut and the shortest offcut kept are common practice until the job states them (tools: kerf, least offcut).")
	footer(w)
	return w.Flush()
}

func writeList(w io.Writer, j *route.Job, l *route.CutList) error {
	fmt.Fprintf(w, "%s\n", strings.ToUpper(l.Enclosure.String()))
	t := columns{head: []string{"bar", "mm", "pieces in mm", "left mm", "what is left"}, right: []bool{false, true, false, true}, most: []int{0, 0, 58}}
	for i, b := range l.Plan.Bars {
		t.add(barName(l, i), strconv.Itoa(b.Length), barPieces(l, b), strconv.Itoa(b.Left), leftName(l, i))
	}
	if err := t.write(w, "  "); err != nil {
		return err
	}
	for _, line := range listFacts(l) {
		_ = writeWrapped(w, "  ", "    ", line)
	}
	if note := billNote(j, l); note != "" {
		_ = writeWrapped(w, "  ", "    ", note)
	}
	work := &sum.Work{}
	l.WastePercent(work)
	for _, s := range work.Steps {
		_ = writeWrapped(w, "  ", "    ", s.Meaning+": "+s.Line())
	}
	fmt.Fprintln(w)
	return nil
}

// listFacts are the sentences under a list.
func listFacts(l *route.CutList) []string {
	p := &l.Plan
	word := "not proved the fewest"
	if p.Proved {
		word = "proved the fewest"
	}
	facts := []string{fmt.Sprintf("new lengths of %d mm: %d used; no plan does with fewer than %d: %s", l.Stock.Length, p.New, p.Bound, word)}
	if n := len(l.Stock.Offcuts); n > 0 {
		facts = append(facts, fmt.Sprintf("offcuts at hand, cut first: %d used of %d, %d mm of pieces from them: %s", len(p.Bars)-p.New, n, fromOffcuts(l), most(p)))
	}
	return append(facts, fmt.Sprintf("saw cut %d mm; offcuts from %d mm are kept", l.Stock.Kerf, l.Stock.Useful))
}

// most says whether as few new lengths can leave more to the offcuts; saw cuts
// count as cut from them.
func most(p *cut.Plan) string {
	if p.Most {
		return "proved the most, saw cuts counted, with so few new lengths"
	}
	return "not proved the most"
}

func fromOffcuts(l *route.CutList) (mm int) {
	for _, b := range l.Plan.Bars {
		for _, c := range b.Cuts {
			if b.FromOffcut() {
				mm += l.Pieces[c.Piece].LongMM
			}
		}
	}
	return mm
}

// byMetres are the runs of a list that the bill counts by their metres and the
// allowance for waste instead: where they are cut is not known until they are
// drawn and can be made.
func byMetres(j *route.Job, l *route.CutList) []string {
	out, last := []string{}, -1
	for _, p := range l.Pieces {
		if p.Run != last && !j.Cuttable(p.Run) {
			out = append(out, j.Runs[p.Run].Name)
		}
		last = p.Run
	}
	return out
}

// billNote says why the bill may order more lengths than a list uses.
func billNote(j *route.Job, l *route.CutList) string {
	runs := byMetres(j, l)
	if len(runs) == 0 {
		return ""
	}
	return fmt.Sprintf("order by the bill (command bill): it counts %s that %s not drawn, or cannot be made as drawn, by metres and the allowance for waste, and may order more lengths: %s", counted(len(runs), "run", "runs"), isAre(len(runs)), runList(runs))
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// barName numbers new lengths and offcuts.
func barName(l *route.CutList, i int) string {
	b := l.Plan.Bars[i]
	if b.FromOffcut() {
		return fmt.Sprintf("offcut %d", b.Offcut+1)
	}
	n := 0
	for _, other := range l.Plan.Bars[:i+1] {
		if !other.FromOffcut() {
			n++
		}
	}
	return fmt.Sprintf("length %d", n)
}

func barPieces(l *route.CutList, b cut.Bar) string {
	parts := make([]string, len(b.Cuts))
	for i, c := range b.Cuts {
		p := l.Pieces[c.Piece]
		parts[i] = fmt.Sprintf("%s %d", p.Piece.Name, p.LongMM)
	}
	return strings.Join(parts, ", ")
}

// leftName names what is kept for the next job.
func leftName(l *route.CutList, i int) string {
	switch b := l.Plan.Bars[i]; {
	case b.Keep:
		return fmt.Sprintf("keep: %s, %s m", l.Enclosure, strconv.FormatFloat(float64(b.Left)/1000, 'f', -1, 64))
	case b.Left == 0:
		return "–"
	}
	return "scrap"
}

// WriteCutCSV writes a line a piece in the order of cutting.
func WriteCutCSV(to io.Writer, lists []route.CutList) error {
	if _, err := io.WriteString(to, "\ufeff"); err != nil {
		return err
	}
	w := csv.NewWriter(to)
	w.UseCRLF = true
	rows := [][]string{{"enclosure", "bar", "bar mm", "piece", "cut mm", "starts at mm", "bar left mm", "left is"}}
	for k := range lists {
		l := &lists[k]
		for i, b := range l.Plan.Bars {
			for _, c := range b.Cuts {
				p := l.Pieces[c.Piece]
				rows = append(rows, []string{l.Enclosure.String(), barName(l, i), strconv.Itoa(b.Length), p.Piece.Name, strconv.Itoa(p.LongMM), strconv.Itoa(c.Start), strconv.Itoa(b.Left), leftName(l, i)})
			}
		}
	}
	for _, r := range rows {
		if err := w.Write(unformula(r)); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

type cutJSON struct {
	Job      string        `json:"job"`
	Lists    []cutListJSON `json:"lists"`
	Left     []string      `json:"not_in_full"`
	Cautions []string      `json:"cautions"`
}

type cutListJSON struct {
	Enclosure string    `json:"enclosure"`
	StockMM   int       `json:"stock_mm"`
	KerfMM    int       `json:"kerf_mm"`
	LeastMM   int       `json:"least_offcut_mm"`
	Lengths   int       `json:"lengths"`
	Bound     int       `json:"bound"`
	Proved    bool      `json:"proved"`
	Most      bool      `json:"offcuts_proved"` // no plan with so few new lengths cuts more from the offcuts
	Waste     *float64  `json:"waste_percent"`
	Bars      []barsCut `json:"bars"`
	ByMetres  []string  `json:"bill_counts_by_metres"` // runs whose lengths the bill counts with the allowance for waste
	Steps     []string  `json:"steps"`
}

type barsCut struct {
	Bar    string     `json:"bar"`
	MM     int        `json:"mm"`
	Pieces []pieceCut `json:"pieces"`
	LeftMM int        `json:"left_mm"`
	Keep   bool       `json:"keep"`
}

type pieceCut struct {
	Piece string `json:"piece"`
	CutMM int    `json:"cut_mm"`
	AtMM  int    `json:"starts_at_mm"`
}

// WriteCutJSON writes all that WriteCut prints.
func WriteCutJSON(w io.Writer, j *route.Job, lists []route.CutList, left []string) error {
	out := cutJSON{Job: j.Name, Lists: []cutListJSON{}, Left: append([]string{}, left...), Cautions: Cautions}
	for k := range lists {
		l := &lists[k]
		work := &sum.Work{}
		waste := l.WastePercent(work).Value
		one := cutListJSON{Enclosure: l.Enclosure.String(), StockMM: l.Stock.Length, KerfMM: l.Stock.Kerf, LeastMM: l.Stock.Useful, Lengths: l.Plan.New, Bound: l.Plan.Bound, Proved: l.Plan.Proved, Most: l.Plan.Most,
			Waste: number(math.Round(waste*1000) / 1000), Bars: []barsCut{}, ByMetres: byMetres(j, l), Steps: stepTexts(work.Steps)}
		for i, b := range l.Plan.Bars {
			bar := barsCut{Bar: barName(l, i), MM: b.Length, Pieces: []pieceCut{}, LeftMM: b.Left, Keep: b.Keep}
			for _, c := range b.Cuts {
				bar.Pieces = append(bar.Pieces, pieceCut{l.Pieces[c.Piece].Piece.Name, l.Pieces[c.Piece].LongMM, c.Start})
			}
			one.Bars = append(one.Bars, bar)
		}
		out.Lists = append(out.Lists, one)
	}
	return writeJSON(w, out)
}

// Unmade lists why runs cannot be made as they are drawn.
func Unmade(j *route.Job) []string {
	var out []string
	for i := range j.Runs {
		s := j.Shape(i)
		for _, l := range s.Lacks {
			out = append(out, "run "+j.Runs[i].Name+": "+lackText(l))
		}
	}
	return out
}
