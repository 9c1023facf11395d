package render

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"tubewright/factors/units"
	"tubewright/route"
)

// WriteBill prints the bill as a table, group by group, with the rules by
// which the items were counted below it.
func WriteBill(to io.Writer, j *route.Job, items []route.Item) error {
	return WriteEstimate(to, PricedBill{Job: j, Items: items})
}

// billTable prints the items and the rules by which they were counted.
func billTable(w io.Writer, b *PricedBill) error {
	j, items := b.Job, b.Items
	heading(w, j.Name, j.Date)
	writeChecks(w, b.Report, "bill")
	writeUnmade(w, j)
	rules := []string{}
	number := ruleNumbers(items)
	t := columns{head: []string{"item", "net", "gross", "unit", "to order", "rule", "runs"}, right: []bool{false, true, true, false, false, true}, most: []int{38}, narrow: 9}
	group := ""
	for _, it := range items {
		if number[it.Rule] > len(rules) {
			rules = append(rules, it.Rule)
		}
		if it.Group != group {
			if group != "" {
				t.add("", "", "", "", "", "", "")
			}
			group = it.Group
			t.add(strings.ToUpper(group), "", "", "", "", "", "")
		}
		t.add("  "+it.Name, columnText(it, it.Net), columnText(it, it.Gross), it.Unit, it.Order, strconv.Itoa(number[it.Rule]), runList(it.Runs))
	}
	if err := t.write(w, ""); err != nil {
		return err
	}
	if len(items) == 0 {
		fmt.Fprintln(w, "nothing to buy")
	} else {
		fmt.Fprintf(w, "\nhow it was counted\n")
	}
	for i, r := range rules {
		_ = writeWrapped(w, fmt.Sprintf("%3d  ", i+1), "     ", r)
	}
	if lines := overLines(j, items); len(lines) > 0 {
		fmt.Fprintf(w, "\ngross over net\n")
		for _, line := range lines {
			_ = writeWrapped(w, "  ", "    ", line)
		}
	}
	fmt.Fprintln(w)
	if hand := handLine(items); hand != "" {
		_ = writeWrapped(w, "", "  ", hand)
	}
	_ = writeWrapped(w, "", "  ", "not counted: "+strings.Join(notCounted(j, items), "; "))
	return nil
}

// overLines say how much more is bought than what is measured, and of what is
// bought by the cut list, what is kept and what is lost.
func overLines(j *route.Job, items []route.Item) []string {
	var lines []string
	cable, other, cut := false, false, false
	for i := range items {
		switch it := &items[i]; {
		case it.Cut:
			cut = true
			lines = append(lines, cutLine(it))
		case it.Group == "cable":
			cable = true
		case it.Pack > 0:
			other = true
		}
	}
	if other {
		what := "conduit and trunking"
		if cut {
			what = "other " + what
		}
		lines = append(lines, what+": "+percent(j.Allow.ConduitWaste.V)+" %, the allowance for waste")
	}
	if cable {
		lines = append(lines, "cable: "+percent(j.Allow.CableWaste.V)+" %, the allowance for waste")
	}
	return lines
}

// cutLine says what becomes of the lengths of an item that the cut list counts.
func cutLine(it *route.Item) string {
	text := it.Name + ": less than net"
	if over, ok := it.OverNet(); ok {
		text = it.Name + ": " + units.Format(round3(over*100)) + " %, whole lengths by the cut list"
	}
	return fmt.Sprintf("%s; kept offcuts %s m; lost by cutting %s %% of what is cut up", text, units.Format(it.Kept), units.Format(round3(it.Lost*100)))
}

// handLine says what offcuts at hand cover: gross, which is bought, may be less
// than net by them.
func handLine(items []route.Item) string {
	var parts []string
	for _, it := range items {
		if it.AtHand > 0 {
			parts = append(parts, fmt.Sprintf("%s m of %s", units.Format(it.AtHand), it.Name))
		}
	}
	if parts == nil {
		return ""
	}
	return "offcuts at hand cut up first, not bought, so that gross may be less than net: " + strings.Join(parts, "; ")
}

// notCounted names what a bill leaves out.
func notCounted(j *route.Job, items []route.Item) []string {
	out := []string{
		"the loads themselves: heaters, motors, fans and other equipment",
		"flexible conduit and glands to machines",
		"supply tails, and main earthing and bonding conductors that no run holds",
		"sleeves through walls and their sealing",
		"sundries such as paint, solvent and labels, unless as a share of material",
		"time to inspect, test and certify",
	}
	if !slices.ContainsFunc(items, func(it route.Item) bool { return it.Group == "board" }) {
		out = slices.Insert(out, 0, "board and protective devices, which the job does not describe")
	} else if !j.Board.Main.Said() {
		out = slices.Insert(out, 0, "the board's main switch, which the job does not state (board: main)")
	}
	if off := offWallNote(j); off != "" {
		out = append(out, off)
	}
	if up := existingNote(j); up != "" {
		out = slices.Insert(out, 0, up)
	}
	return out
}

// offWallNote names the runs whose saddles stand off the wall, "" for none.
func offWallNote(j *route.Job) string {
	var runs []string
	for i := range j.Runs {
		if s := j.Shape(i); len(s.OffWall) > 0 {
			far := s.OffWall[0].MM
			for _, o := range s.OffWall {
				far = max(far, o.MM)
			}
			runs = append(runs, fmt.Sprintf("%s, up to %s mm", j.Runs[i].Name, units.Format(far)))
		}
	}
	if runs == nil {
		return ""
	}
	return "packing or brackets under saddles and boxes that stand off the wall (setout names them): run " + strings.Join(runs, "; run ")
}

// existingNote says what is there already, "" where nothing is.
func existingNote(j *route.Job) string {
	up := existing(j)
	if len(up) == 0 {
		return ""
	}
	return fmt.Sprintf("what is existing: tube, fittings and listed cables of %s %s (where a new run meets them, a circular box is counted anew for its spouts and another box stays; an accessory there is counted where a circuit of the job feeds it)",
		map[bool]string{true: "run", false: "runs"}[len(up) == 1], strings.Join(up, ", "))
}

// existing names the runs whose tube is up.
func existing(j *route.Job) (names []string) {
	for i := range j.Runs {
		if j.Runs[i].Existing {
			names = append(names, j.Runs[i].Name)
		}
	}
	return names
}

func percent(v float64) string { return units.Format(v * 100) }

// quantityText prints a quantity to a centimetre or a whole piece.
func quantityText(v float64) string { return units.Format(float64(int64(v*100+0.5)) / 100) }

// columnText prints an item's quantity so that metres stand point under point.
func columnText(it route.Item, v float64) string {
	if it.Unit == "m" {
		return strconv.FormatFloat(v, 'f', 2, 64)
	}
	return quantityText(v)
}

// runList names the runs of an item, the first few of them; JSON and CSV have
// them all.
func runList(runs []string) string {
	const most, shown = 6, 4
	if len(runs) > most {
		return fmt.Sprintf("%s … (%d runs)", strings.Join(runs[:shown], " "), len(runs))
	}
	return strings.Join(runs, " ")
}

// BillRows is what there is to buy, as it stands on a diagram.
func BillRows(items []route.Item) []BillRow {
	out := make([]BillRow, 0, len(items))
	for _, it := range items {
		if it.Labour {
			continue
		}
		row := BillRow{it.Name, it.Order}
		if it.Packs > 0 {
			row.Quantity = fmt.Sprintf("%.0f × %s m", it.Packs, units.Format(it.Pack))
		}
		out = append(out, row)
	}
	return out
}
