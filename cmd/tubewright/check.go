package main

import (
	"errors"
	"io"

	"github.com/spf13/cobra"

	"tubewright/fill"
	"tubewright/render"
)

func checkCommand() *cobra.Command {
	var all, asJSON bool
	var diagram, bill string
	c := &cobra.Command{
		Use:   "check [JOB]",
		Short: "Judge a job: draw-in, space, temperature, rating",
		Long: `check reads a job file (- for standard input, the built-in demo when none is
named) and says of every run and circuit which check passes or fails, against
which limit. With --diagram and --bill it writes the drawing and the bill too.`,
		Example: `  tubewright check job.yaml
  tubewright check job.yaml --diagram job.png --bill job.csv
  tubewright check --json job.yaml`,
		Args: atMost(1, "one job file"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := errors.Join(ownFile("diagram", diagram), ownFile("bill", bill)); err != nil {
				return err
			}
			j, err := readJob(c, args)
			if err != nil {
				return err
			}
			r := fill.Check(j)
			r.Remedies()
			if err := alsoWrite(c, r, diagram, bill); err != nil {
				return err
			}
			if asJSON {
				err = render.WriteReportJSON(c.OutOrStdout(), r)
			} else {
				err = render.WriteReport(c.OutOrStdout(), r, render.ReportOptions{All: all, Colour: colour(c.OutOrStdout())})
			}
			return verdict(err, r.Verdict())
		},
	}
	c.Flags().BoolVar(&all, "all", false, "list every finding, however many pass")
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON, with the steps and sources of every finding")
	c.Flags().StringVar(&diagram, "diagram", "", "also write the diagram to this PNG file")
	c.Flags().StringVar(&bill, "bill", "", "also write the bill to this CSV file")
	return c
}

// verdict turns a printed verdict into the command's outcome.
func verdict(err error, v fill.Verdict) error {
	if err == nil && v == fill.Fail {
		return errFails
	}
	return err
}

// alsoWrite writes the diagram and the bill where their files are named.
func alsoWrite(c *cobra.Command, r *fill.Report, diagram, bill string) error {
	if diagram != "" {
		if err := writeDiagram(c, r, diagram, "A3", defaultDPI); err != nil {
			return err
		}
	}
	if bill != "" {
		return writeTo(c, bill, func(w io.Writer) error {
			return render.WriteBillCSV(w, render.PricedBill{Job: r.Job, Items: r.Job.Bill(), Report: r})
		})
	}
	return nil
}
