package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tubewright/fill"
	"tubewright/render"
	"tubewright/route"
)

func fitCommand() *cobra.Command {
	var q route.QuickAsk
	var asJSON bool
	c := &cobra.Command{
		Use:   "fit --in ENCLOSURE --length LENGTH [--bends N] [CABLES ...]",
		Short: "Ask of one run, without a job file: do these cables fit, and how many more?",
		Long: `fit answers for one run between two draw-in points. The cables are written as
on a list: a count, x and a size in mm²; solid, stranded, thermosetting or "twin
and earth" may follow. Other cables have a diameter: 3 x ⌀6.1 mm. What would
still go in is counted single by single and by whole circuits; without cables it
is what the run may hold.`,
		Example: `  tubewright fit --in "steel conduit 20" --length 6 --bends 2 "4 x 2.5, 2 x 1.5"
  tubewright fit --in "steel trunking 75x50" --length 12 "20 x 2.5, 2 x 2.5 twin and earth"
  tubewright fit --in "plastic trunking 60x60" --inside 57x57 --length 3 "12 x 2.5"`,
		RunE: func(c *cobra.Command, args []string) error {
			for _, f := range []string{"in", "length"} {
				if !c.Flags().Changed(f) {
					return usageError{fmt.Errorf("fit needs --%s; such as %s", f, c.Example[strings.Index(c.Example, "tubewright"):strings.Index(c.Example, "\n")])}
				}
			}
			if slices.Contains(args, "x") || slices.Contains(args, "×") {
				return usageError{errors.New(`cables with spaces stand in quotes: "4 x 2.5, 2 x 1.5"`)}
			}
			if q.Factor != "" && q.Inside != "" {
				return usageError{errors.New("either --factor or --inside, not both")}
			}
			q.Cables = strings.Join(args, ", ")
			j, err := route.Parse("command line", route.QuickJob(q))
			if err != nil {
				return err
			}
			f, more := fill.Fit(j), fill.MoreOf(j, 0)
			if asJSON {
				err = render.WriteFitJSON(c.OutOrStdout(), &f, more)
			} else {
				err = render.WriteFit(c.OutOrStdout(), &f, more)
			}
			return verdict(err, f.Verdict)
		},
	}
	c.Flags().StringVar(&q.In, "in", "", `enclosure: "steel conduit 20", "plastic conduit 25", "steel trunking 50x50"`)
	c.Flags().StringVar(&q.Length, "length", "", "length between draw-in points: 6, 6 m, 20 ft")
	c.Flags().StringVar(&q.Bends, "bends", "0", "right angles between draw-in points; a set or double set counts as one")
	c.Flags().StringVar(&q.Conductor, "conductor", "", "make-up of 1.5 and 2.5 mm² singles: stranded (default) or solid")
	c.Flags().StringVar(&q.Factor, "factor", "", "trunking factor in mm², from the maker, where no table has the size")
	c.Flags().StringVar(&q.Inside, "inside", "", "measured internal size of trunking, such as 57x57")
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return c
}
