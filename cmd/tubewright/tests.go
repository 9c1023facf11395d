package main

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"tubewright/fill"
	"tubewright/render"
	"tubewright/route"
)

func testsCommand() *cobra.Command {
	var measured, csv string
	var asJSON bool
	c := &cobra.Command{
		Use:   "tests [JOB]",
		Short: "The test sheet: readings to expect, or readings taken beside them",
		Long: `tests works out what the tests of the finished job should read, point by point,
and between which limits: continuity, ring, insulation, polarity, earth fault
loop, residual device; with gaps for the readings and the sequence of tests.
With --measured it sets a file of readings (YAML or CSV) beside them, says what
a deviation usually means, and leaves with exit code 1 when a reading is outside
a limit. --csv writes the sheet as a file of readings to be filled in.`,
		Example: `  tubewright tests job.yaml
  tubewright tests job.yaml --csv readings.csv
  tubewright tests job.yaml --measured readings.csv`,
		Args: atMost(1, "one job file"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := errors.Join(ownFile("csv", csv), ownStandardInput(args, measured)); err != nil {
				return err
			}
			j, err := readJob(c, args)
			switch {
			case err != nil:
				return err
			case j.Rules != "uk":
				return usageError{fmt.Errorf("the test sheet follows BS 7671, Part 6; the rules of this job are %s", j.Rules)}
			case measured != "":
				return compare(c, j, measured, csv, asJSON)
			}
			return sheet(c, j, csv, asJSON)
		},
	}
	c.Flags().StringVar(&measured, "measured", "", "file of readings, YAML or CSV; - is standard input")
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON, with the steps and sources of every value")
	c.Flags().StringVar(&csv, "csv", "", "also write the sheet, or the comparison, to this CSV file")
	return c
}

// ownStandardInput complains when job and readings would share standard input.
func ownStandardInput(args []string, measured string) error {
	if measured == "-" && len(args) > 0 && args[0] == "-" {
		return usageError{errors.New("the job comes from standard input already; name the file of readings")}
	}
	return nil
}

// sheetCelsius is the temperature of the printed sheet: that of the tables.
const sheetCelsius = 20

func sheet(c *cobra.Command, j *route.Job, csv string, asJSON bool) error {
	t := fill.NewTestSheet(j, sheetCelsius)
	if csv != "" {
		if err := writeTo(c, csv, func(w io.Writer) error { return render.WriteTestSheetCSV(w, t) }); err != nil {
			return err
		}
	}
	if asJSON {
		return render.WriteTestSheetJSON(c.OutOrStdout(), t)
	}
	return render.WriteTestSheet(c.OutOrStdout(), t)
}

func compare(c *cobra.Command, j *route.Job, measured, csv string, asJSON bool) error {
	name, text, err := readingsText(c, measured)
	if err != nil {
		return err
	}
	m, err := route.ParseMeasured(j, name, text)
	if err != nil {
		return err
	}
	r := fill.Compare(j, m)
	if csv != "" {
		if err := writeTo(c, csv, func(w io.Writer) error { return render.WriteComparisonCSV(w, r) }); err != nil {
			return err
		}
	}
	if asJSON {
		err = render.WriteComparisonJSON(c.OutOrStdout(), r)
	} else {
		err = render.WriteComparison(c.OutOrStdout(), r, colour(c.OutOrStdout()))
	}
	return verdict(err, r.Verdict())
}

func readingsText(c *cobra.Command, path string) (string, []byte, error) {
	if path == "-" {
		text, err := limited(c.InOrStdin())
		return "standard input", text, err
	}
	text, err := fileText(path)
	return path, text, err
}
