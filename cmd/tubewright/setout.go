package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"tubewright/factors/source"
	"tubewright/fill"
	"tubewright/render"
	"tubewright/route"
)

// setOutFlags are what the command is asked for.
type setOutFlags struct {
	out, paper    string
	dpi           int
	asJSON, steps bool
}

func setoutCommand() *cobra.Command {
	var f setOutFlags
	c := &cobra.Command{
		Use:   "setout [JOB] [RUN]",
		Short: "Mark out, bend and fix the tube of each run",
		Long: `setout lists the marks of every bend from a named end, how to bend the tube step
by step, the pieces with their threads, couplers clear of bends, and where the
saddles go; it says what the former cannot make. With -o it draws each piece as
a straight tube to scale with its marks; more sheets are numbered -2, -3 and on.`,
		Example: `  tubewright setout job.yaml
  tubewright setout job.yaml A -o A.png
  tubewright setout job.yaml --steps`,
		Args: atMost(2, "a job file and a run"),
		RunE: func(c *cobra.Command, args []string) error { return setOut(c, args, f) },
	}
	c.Flags().BoolVar(&f.asJSON, "json", false, "write JSON")
	c.Flags().BoolVar(&f.steps, "steps", false, "print how every length was worked out")
	c.Flags().StringVarP(&f.out, "output", "o", "", "also draw the tubes to this PNG file")
	c.Flags().StringVar(&f.paper, "paper", "A3", "A3 or A4, landscape")
	c.Flags().IntVar(&f.dpi, "dpi", defaultDPI, "dots per inch")
	return c
}

func setOut(c *cobra.Command, args []string, f setOutFlags) error {
	if err := ownFile("output", f.out); err != nil {
		return err
	}
	j, err := readJob(c, args[:min(1, len(args))])
	if err != nil {
		return err
	}
	runs, err := runsNamed(j, args)
	if err != nil {
		return err
	}
	worst := fill.Pass
	judged := map[int]bool{}
	for _, r := range runs {
		if r = j.SetOutUnder(r); !judged[r] {
			judged[r] = true
			worst = max(worst, fill.SetOutFinding(nil, j, r).Verdict)
		}
	}
	if f.out != "" {
		if err := writeSetOutSheets(c, j, runs, f); err != nil {
			return err
		}
	}
	if f.asJSON {
		err = render.WriteSetOutJSON(c.OutOrStdout(), j, runs, worst)
	} else {
		err = render.WriteSetOut(c.OutOrStdout(), j, runs, f.steps)
	}
	return verdict(err, worst)
}

// runsNamed is the run that the arguments name, or all of them.
func runsNamed(j *route.Job, args []string) ([]int, error) {
	var all []int
	var names []string
	for i := range j.Runs {
		if len(args) > 1 && j.Runs[i].Name == args[1] {
			return []int{i}, nil
		}
		all, names = append(all, i), append(names, j.Runs[i].Name)
	}
	if len(args) > 1 {
		return nil, usageError{fmt.Errorf("no run is called %s; %s", args[1], source.Suggest(args[1], names))}
	}
	return all, nil
}

func writeSetOutSheets(c *cobra.Command, j *route.Job, runs []int, f setOutFlags) error {
	p, ok := render.PaperNamed(f.paper)
	switch {
	case !ok:
		return usageError{fmt.Errorf("no paper %q; A3 or A4", f.paper)}
	case f.dpi < render.MinDPI || f.dpi > render.MaxDPI:
		return usageError{fmt.Errorf("%d dots per inch; between %d and %d", f.dpi, render.MinDPI, render.MaxDPI)}
	}
	sheets, err := render.SetOutSheets(j, runs, p)
	if err != nil {
		return err
	}
	ext := filepath.Ext(f.out)
	for i, s := range sheets {
		name := f.out
		if i > 0 {
			name = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(f.out, ext), i+1, ext)
		}
		if err := writePicture(c, name, s, f.dpi); err != nil {
			return err
		}
	}
	return nil
}
