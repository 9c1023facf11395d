package main

import (
	"io"

	"github.com/spf13/cobra"

	"tubewright/fill"
	"tubewright/render"
)

func singlesCommand() *cobra.Command {
	var asJSON bool
	var labels string
	c := &cobra.Command{
		Use:   "singles [JOB]",
		Short: "List which cores lie in every run, their ends and lengths, and how to draw them in",
		Long: `singles works out every core from the circuits' points, switches and lights: what
lies in each run, each core with its ends, runs and length with tails, totals by
size and colour, and the order to draw in. Where checks fail the list says so at
the top and names them; it is written all the same, and the exit code is 1.`,
		Example: `  tubewright singles job.yaml
  tubewright singles job.yaml --labels labels.csv
  tubewright singles --json job.yaml`,
		Args: atMost(1, "one job file"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := ownFile("labels", labels); err != nil {
				return err
			}
			j, err := readJob(c, args)
			if err != nil {
				return err
			}
			r := fill.Verdicts(j)
			if labels != "" {
				if err := writeTo(c, labels, func(w io.Writer) error { return render.WriteLabels(w, r) }); err != nil {
					return err
				}
			}
			write := render.WriteSingles
			if asJSON {
				write = render.WriteSinglesJSON
			}
			return verdict(write(c.OutOrStdout(), r), r.Verdict())
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	c.Flags().StringVar(&labels, "labels", "", "also write the label list to this CSV file")
	return c
}
