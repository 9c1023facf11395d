package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"tubewright/render"
)

func cutCommand() *cobra.Command {
	var table string
	var asJSON bool
	c := &cobra.Command{
		Use:   "cut [JOB]",
		Short: "Cut every piece from stock lengths and offcuts",
		Long: `cut splits the runs into pieces at couplers clear of bends, trunking at its
fittings, and cuts the pieces of each enclosure from new lengths and offcuts at
hand, saw cuts counted: with the fewest new lengths, then with the most cut from
the offcuts. Runs that are not drawn are cut as they are measured; the bill adds
its allowance for waste to them and says so here. It prints the number of lengths used beside the number that no plan
can do without, what is left of each bar and the waste. Stock lengths, saw cut,
offcuts and the size of fittings: keys stock and tools.`,
		Example: `  tubewright cut job.yaml
  tubewright cut job.yaml --csv cuts.csv`,
		Args: atMost(1, "one job file"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := ownFile("csv", table); err != nil {
				return err
			}
			j, err := readJob(c, args)
			if err != nil {
				return err
			}
			lists, err := j.CutLists()
			if err != nil {
				return usageError{fmt.Errorf("the stock cannot be cut: %w", err)}
			}
			left := render.Unmade(j)
			if table != "" {
				if err := writeTo(c, table, func(w io.Writer) error { return render.WriteCutCSV(w, lists) }); err != nil {
					return err
				}
			}
			if asJSON {
				err = render.WriteCutJSON(c.OutOrStdout(), j, lists, left)
			} else {
				err = render.WriteCut(c.OutOrStdout(), j, lists, left)
			}
			if err == nil && len(left) > 0 {
				err = errFails
			}
			return err
		},
	}
	c.Flags().StringVar(&table, "csv", "", "also write a line a piece to this CSV file")
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return c
}
