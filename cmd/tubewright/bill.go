package main

import (
	"errors"
	"io"

	"github.com/spf13/cobra"

	"tubewright/render"
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
				return usageError{errors.New("either --csv or --json, not both")}
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
			return writeTo(c, out, write)
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "-", "file to write; - is standard output")
	c.Flags().BoolVar(&asCSV, "csv", false, "write CSV for a spreadsheet")
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return c
}
