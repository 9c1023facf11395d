package render

// insteadSheet writes what the job would come to with other materials.
func (x *workbook) insteadSheet() {
	x.begin(sheetInstead, page{wide: true, widths: []float64{32, 14, 14, 14, 90}})
	x.row(1, 1, cells{
		"A": cell(styleHead, "with"),
		"B": cell(styleHead, "check"),
		"C": cell(styleHeadRight, "total"),
		"D": cell(styleHeadRight, "difference"),
		"E": cell(styleHeadAside, "changes"),
	})
	for i, in := range x.bill.Instead {
		row := i + 2
		line := cells{"A": cell(stylePlain, in.What), "E": cell(styleAside, changes(x.bill.Estimate, &in))}
		if in.Reason == "" {
			line["B"] = cell(stylePlain, VerdictWord(in.Verdict))
		}
		switch {
		case in.Estimate == nil:
		case in.Compared:
			line["C"] = cell(styleAmount, in.Estimate.Total)
			line["D"] = formula(styleAmount, in.Difference, "ROUND(C%d-%s!B14,2)", row, sheetSum)
		default:
			line["C"] = cell(styleAmount, notAllPriced)
		}
		x.row(row, 1, line)
	}
	if anyGaps(x.bill) {
		x.row(len(x.bill.Instead)+3, 1, cells{"A": cell(stylePlain, sameGaps)})
	}
	x.end()
}

// notesSheet writes the cautions and how the items were counted.
func (x *workbook) notesSheet() {
	const wide = 110 // characters
	x.begin(sheetNotes, page{widths: []float64{6, wide}})
	row := 0
	note := func(number any, text string) {
		row++
		x.row(row, len(wrap(text, wide-5, wide-5)), cells{"A": cell(styleWrapped, number), "B": cell(styleWrapped, text)})
	}
	for _, c := range Cautions {
		note(nil, c)
	}
	for _, n := range checkNotes(x.bill.Report, "bill") {
		note(nil, n)
	}
	for _, n := range unmadeNotes(x.bill.Job) {
		note(nil, "cannot be made as drawn: "+n)
	}
	if hand := handLine(x.bill.Items); hand != "" {
		note(nil, hand)
	}
	for _, what := range notCounted(x.bill.Job, x.bill.Items) {
		note(nil, "not counted: "+what)
	}
	note(nil, "Formulas are live. A price or time put in on the sheet Bill counts at once; a line without a price says so and is left out of the sums.")
	done, rules := 0, ruleNumbers(x.bill.Items)
	for _, it := range x.bill.Items {
		if n := rules[it.Rule]; n > done {
			note(n, it.Rule)
			done = n
		}
	}
	if x.bill.Estimate != nil {
		for _, name := range x.bill.Estimate.Unpriced {
			note(nil, noPrice+": "+name)
		}
	}
	x.end()
}
