package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"tubewright/fill"
	"tubewright/render"
)

var errNoBoard = usageError{errors.New("the job does not describe its board; such as board: {ways: 6, main: {device: switch, rating: 100 A}}")}

func boardCommand() *cobra.Command {
	var out, paper string
	var asJSON bool
	var dpi int
	c := &cobra.Command{
		Use:   "board [JOB]",
		Short: "Schedule, checks, build checklist and torque list of the board",
		Long: `board lists the circuits by way, judges the order of the devices, the ways left
and the rating of the main switch, and writes the checklist to build the board
by, every clamp to be torqued, and the order of neutrals and cpcs on their bars.
A way is one pole wide: ways: 12 is a three-phase board of 4 ways of three poles.
With -o it also draws the board's front with its cover off.`,
		Example: `  tubewright board job.yaml
  tubewright board job.yaml -o board.png
  tubewright board --json job.yaml`,
		Args: atMost(1, "one job file"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := ownFile("output", out); err != nil {
				return err
			}
			j, err := readJob(c, args)
			if err != nil {
				return err
			}
			b := fill.BoardOf(j)
			if b == nil {
				return errNoBoard
			}
			r := render.BoardReport(fill.Check(j))
			if out != "" {
				if err := writeFront(c, b, r, out, paper, dpi); err != nil {
					return err
				}
			}
			write := render.WriteBoard
			if asJSON {
				write = render.WriteBoardJSON
			}
			return verdict(write(c.OutOrStdout(), b, r), r.Verdict())
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	c.Flags().StringVarP(&out, "output", "o", "", "also draw the front to this PNG file")
	c.Flags().StringVar(&paper, "paper", "A4", "A4 or A3, landscape")
	c.Flags().IntVar(&dpi, "dpi", defaultDPI, "dots per inch")
	return c
}

func writeFront(c *cobra.Command, b *fill.Board, r *fill.Report, path, paper string, dpi int) error {
	p, ok := render.PaperNamed(paper)
	switch {
	case !ok:
		return usageError{fmt.Errorf("no paper %q; A4 or A3", paper)}
	case dpi < render.MinDPI || dpi > render.MaxDPI:
		return usageError{fmt.Errorf("%d dots per inch; between %d and %d", dpi, render.MinDPI, render.MaxDPI)}
	}
	sheet, err := render.BoardFront(b, r, p)
	if err != nil {
		return err
	}
	return writePicture(c, path, sheet, dpi)
}
