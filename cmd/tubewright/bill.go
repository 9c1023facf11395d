package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"tubewright/render"
	"tubewright/route"
)

func billCommand() *cobra.Command {
	var out string
	var asCSV, asJSON bool
	c := &cobra.Command{
		Use:   "bill [JOB]",
		Short: "Count the material of a job",
		Long: `bill counts conduit and trunking in stock lengths, boxes, entries, saddles and
cable by size and colour, and says by which rule each item was counted.`,
		Example: `  tubewright bill job.yaml
  tubewright bill job.yaml --csv -o job.csv`,
		Args: atMost(1, "one job file"),
		RunE: func(c *cobra.Command, args []string) error {
			if asCSV && asJSON {
				return usageError{fmt.Errorf("one of --csv and --json")}
			}
			j, err := readJob(c, args)
			if err != nil {
				return err
			}
			write := func(w io.Writer) error { return render.WriteBill(w, j, j.Bill()) }
			switch {
			case asCSV:
				write = func(w io.Writer) error { return render.WriteBillCSV(w, j.Bill()) }
			case asJSON:
				write = func(w io.Writer) error { return render.WriteBillJSON(w, j.Name, j.Bill()) }
			}
			if out == "" {
				return write(c.OutOrStdout())
			}
			if err := render.WriteFile(out, write); err != nil {
				return err
			}
			fmt.Fprintln(c.ErrOrStderr(), "wrote "+out)
			return nil
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "", "file to write instead of standard output")
	c.Flags().BoolVar(&asCSV, "csv", false, "write CSV for a spreadsheet")
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return c
}

func writeBillFile(j *route.Job, path string) error {
	return render.WriteFile(path, func(w io.Writer) error { return render.WriteBillCSV(w, j.Bill()) })
}
