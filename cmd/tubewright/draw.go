package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"tubewright/fill"
	"tubewright/render"
)

// defaultDPI prints well on a site printer and stays small enough to send.
const defaultDPI = 200

func drawCommand() *cobra.Command {
	var out, paper string
	var dpi int
	c := &cobra.Command{
		Use:   "draw [JOB] -o FILE.png",
		Short: "Draw the job on one sheet",
		Long: `draw lays the runs out as they are walked, with places, cross-sections, the
verdict of each run, a title block and the bill where it fits.`,
		Example: `  tubewright draw job.yaml -o job.png
  tubewright draw job.yaml -o job.png --paper A4 --dpi 300`,
		Args: atMost(1, "one job file"),
		RunE: func(c *cobra.Command, args []string) error {
			if out == "" {
				return usageError{errors.New("draw needs -o and a file, such as -o job.png")}
			}
			j, err := readJob(c, args)
			if err != nil {
				return err
			}
			return writeDiagram(c, fill.Check(j), out, paper, dpi)
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "", "PNG file to write; - is standard output")
	c.Flags().StringVar(&paper, "paper", "A3", "A3 or A4, landscape")
	c.Flags().IntVar(&dpi, "dpi", defaultDPI, "dots per inch")
	return c
}

func writeDiagram(c *cobra.Command, r *fill.Report, path, paper string, dpi int) error {
	p, ok := render.PaperNamed(paper)
	switch {
	case !ok:
		return usageError{fmt.Errorf("no paper %q; A3 or A4", paper)}
	case dpi < render.MinDPI || dpi > render.MaxDPI:
		return usageError{fmt.Errorf("%d dots per inch; between %d and %d", dpi, render.MinDPI, render.MaxDPI)}
	}
	sheet, err := render.Diagram(r, render.DrawingOptions{Paper: p, Bill: render.BillRows(r.Job.Bill())})
	if err != nil {
		return err
	}
	return writePicture(c, path, sheet, dpi)
}
