package render

import (
	"encoding/csv"
	"io"
	"strings"

	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/route"
)

// csvHead are the columns that a file of readings has, then what the sheet says
// beside each.
var csvHead = []string{"circuit", "point", "test", "value", "unit", "expected", "least", "most", "live", "formula", "source"}

// WriteTestSheetCSV writes the sheet as a file of readings whose values are to
// be filled in.
func WriteTestSheetCSV(to io.Writer, t *fill.TestSheet) error {
	rows := [][]string{csvHead, ambientRow("", t)}
	for _, e := range allExpected(t) {
		rows = append(rows, expectedRow(t, &e, ""))
	}
	return writeCSV(to, rows)
}

// WriteComparisonCSV writes the readings with their verdicts, and the readings
// that are missing.
func WriteComparisonCSV(to io.Writer, c *fill.Comparisons) error {
	rows := [][]string{append(csvHead[:len(csvHead):len(csvHead)], "verdict", "means"), append(ambientRow(units.Format(float64(c.Sheet.Celsius)), c.Sheet), "", "")}
	for i := range c.Results {
		x := &c.Results[i]
		if x.Reading == nil {
			continue // a rule over several readings has no line of its own
		}
		means := strings.Join(x.Means, "; ")
		if x.Reason != "" {
			means = strings.TrimSuffix(x.Reason+": "+means, ": ")
		}
		rows = append(rows, append(expectedRow(c.Sheet, x.Expected, valueText(x)), VerdictWord(x.Verdict), means))
	}
	for i := range c.Missing {
		rows = append(rows, append(expectedRow(c.Sheet, &c.Missing[i], ""), "", ""))
	}
	return writeCSV(to, rows)
}

// valueText is a reading so that it can be read again with the unit beside it.
func valueText(x *fill.Comparison) string {
	switch text := readText(x); {
	case x.Reading.Over:
		return "> " + units.Format(x.Value)
	case text == "open" || x.Unit == "":
		return text
	}
	return units.Format(x.Value)
}

func ambientRow(value string, t *fill.TestSheet) []string {
	return []string{"", "", "ambient", value, "C", units.Format(float64(t.Celsius)), "", "", "no", "", ""}
}

func expectedRow(t *fill.TestSheet, e *fill.Expected, value string) []string {
	circuit, point := expectedNames(t, e)
	steps := e.Steps()
	expected := bareFigure(number(e.Value))
	if e.Prove != "" {
		expected = e.Prove
		if e.Test == route.Polarity {
			expected = "yes: " + e.Prove
		}
	}
	live := "no"
	if e.Test.Live() {
		live = "yes"
	}
	return []string{circuit, point, e.Test.String(), value, fileUnit(e.Test), expected, bareFigure(number(e.Least)), bareFigure(number(e.Most)), live, formulaText(e, steps), strings.Join(fill.Sources(steps), "; ")}
}

func writeCSV(to io.Writer, rows [][]string) error {
	if _, err := io.WriteString(to, "\ufeff"); err != nil {
		return err
	}
	w := csv.NewWriter(to)
	w.UseCRLF = true
	for _, r := range rows {
		if err := w.Write(unformula(r)); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}
