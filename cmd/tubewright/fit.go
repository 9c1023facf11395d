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
	var run string
	var asJSON bool
	c := &cobra.Command{
		Use: `fit --in ENCLOSURE --length LENGTH [--bends N] [CABLES ...]
  tubewright fit JOB --run RUN [CABLES ...]`,
		Short: "Ask of one run, with or without a job file: do these cables fit, and how many more?",
		Long: `fit answers for one run between two draw-in points. The cables are written as
on a list: a count, x and a size in mm²; solid, stranded, thermosetting or "twin
and earth" may follow. Other cables have a diameter: 3 x ⌀6.1 mm. A whole circuit
is a size and radial (line, neutral and cpc) or ring (both legs): 2.5 ring, 2 x 4
radial, 2.5 ring with 1.5 cpc; the cpc is of the line's size where not said. What
would still go in is counted single by single and by whole circuits; without
cables it is what the run may hold.

With a job and --run the cables go in beside those that the run has there, and
through all of the pull that it is part of. Then the grouping is answered as well:
how many loaded circuits lie in the run now and then, and what each may carry.`,
		Example: `  tubewright fit --in "steel conduit 20" --length 6 --bends 2 "4 x 2.5, 2 x 1.5"
  tubewright fit --in "steel trunking 75x50" --length 12 "20 x 2.5, 2 x 2.5 twin and earth"
  tubewright fit --in "plastic trunking 60x60" --inside 57x57 --length 3 "12 x 2.5"
  tubewright fit job.yaml --run F "2.5 radial"`,
		RunE: func(c *cobra.Command, args []string) error {
			a, err := ask(c, q, run, args)
			if err != nil {
				return err
			}
			if asJSON {
				err = render.WriteFitJSON(c.OutOrStdout(), a)
			} else {
				err = render.WriteFit(c.OutOrStdout(), a)
			}
			return verdict(err, max(a.Space.Verdict, a.Group.Verdict()))
		},
	}
	c.Flags().StringVar(&q.In, "in", "", `enclosure: "steel conduit 20", "plastic conduit 25", "steel trunking 50x50"`)
	c.Flags().StringVar(&q.Length, "length", "", "length between draw-in points: 6, 6 m, 20 ft")
	c.Flags().StringVar(&q.Bends, "bends", "0", "right angles between draw-in points; a set or double set counts as one")
	c.Flags().StringVar(&q.Conductor, "conductor", "", "make-up of 1.5 and 2.5 mm² singles: stranded (default) or solid")
	c.Flags().StringVar(&q.Factor, "factor", "", "trunking factor in mm², from the maker, where no table has the size")
	c.Flags().StringVar(&q.Inside, "inside", "", "measured internal size of trunking, such as 57x57")
	c.Flags().StringVar(&run, "run", "", "a run of a job file: tube, length, bends and what lies in it are the job's")
	c.Flags().BoolVar(&asJSON, "json", false, "write JSON")
	return c
}

// ask answers of a run of a job, or of the run that the flags describe.
func ask(c *cobra.Command, q route.QuickAsk, run string, args []string) (*fill.Answer, error) {
	if slices.Contains(args, "x") || slices.Contains(args, "×") {
		return nil, usageError{errors.New(`cables with spaces stand in quotes: "4 x 2.5, 2 x 1.5"`)}
	}
	if c.Flags().Changed("run") {
		return askRun(c, run, args)
	}
	for _, f := range []string{"in", "length"} {
		if !c.Flags().Changed(f) {
			if len(args) > 0 && isFile(args[0]) {
				return nil, usageError{fmt.Errorf("which run of %s? such as tubewright fit %s --run A", args[0], args[0])}
			}
			return nil, usageError{fmt.Errorf("fit needs --%s; such as %s", f, c.Example[strings.Index(c.Example, "tubewright"):strings.Index(c.Example, "\n")])}
		}
	}
	if q.Factor != "" && q.Inside != "" {
		return nil, usageError{errors.New("either --factor or --inside, not both")}
	}
	q.Cables = args
	j, err := route.Quick(q)
	if err != nil {
		return nil, err
	}
	return fill.Ask(j), nil
}

// askRun puts more into a run of a job.
func askRun(c *cobra.Command, run string, args []string) (*fill.Answer, error) {
	for _, f := range []string{"in", "length", "bends", "conductor", "factor", "inside"} {
		if c.Flags().Changed(f) {
			return nil, usageError{fmt.Errorf("either --run or --%s: a run of a job has its own", f)}
		}
	}
	if len(args) == 0 {
		return nil, usageError{errors.New(`--run is a run of a job file: tubewright fit job.yaml --run A "2.5 radial"`)}
	}
	was, err := readJob(c, args[:1])
	if err != nil {
		return nil, err
	}
	named, err := runsNamed(was, []string{args[0], run})
	if err != nil {
		return nil, err
	}
	now, err := was.Add(named[0], args[1:])
	if err != nil {
		return nil, err
	}
	return fill.AskMore(was, now, named[0]), nil
}
