// Command tubewright plans runs of conduit and trunking: it checks that the
// cables fit, can be drawn in and may carry their load, draws the job, counts
// the material and shows the working.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"

	"github.com/spf13/cobra"

	"tubewright/factors/source"
)

// Exit codes.
const (
	exitPass  = 0 // everything passes, is advised on or open
	exitFail  = 1 // a check fails
	exitInput = 2 // the command line or the job file is wrong
	exitOther = 3 // the disk or the program fails
)

// gcPercent lets the heap grow fivefold between collections: a job is read once
// into a tree that lives until the program ends, and marking it again and again
// is a tenth of the time that a large job takes. GOGC in the environment wins.
const gcPercent = 400

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(gcPercent)
	}
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// errFails is returned by a command whose answer is that a check fails. The
// answer itself is printed already.
var errFails = errors.New("a check fails")

// usageError is a slip on the command line.
type usageError struct{ error }

// run executes one command and returns its exit code.
func run(args []string, in io.Reader, out, errOut io.Writer) int {
	root := rootCommand()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errOut)
	err := root.Execute()
	var problems source.Problems
	var usage usageError
	switch {
	case err == nil:
		return exitPass
	case errors.Is(err, errFails):
		return exitFail
	case errors.As(err, &problems):
		fmt.Fprintf(errOut, "%s\n%s\n", err, countProblems(len(problems)))
		return exitInput
	case errors.As(err, &usage):
		fmt.Fprintf(errOut, "tubewright: %s\n", err)
		return exitInput
	}
	fmt.Fprintf(errOut, "tubewright: %s\n", err)
	return exitOther
}

func countProblems(n int) string {
	if n == 1 {
		return "1 problem: nothing was checked"
	}
	return fmt.Sprintf("%d problems: nothing was checked", n)
}

func rootCommand() *cobra.Command {
	root := &cobra.Command{
		Use:   "tubewright",
		Short: "Plan conduit and trunking: what fits, what it may carry, what to buy, and how you know",
		Long: `tubewright reads a job file that describes runs of conduit and trunking, the
cables in them and the circuits they belong to. It says whether everything fits,
can be drawn in and may carry its load, names the table behind every figure,
draws the job on one sheet and counts the material.

Exit codes: 0 no check fails, 1 a check fails, 2 the input is wrong, 3 the disk
or the program fails.`,
		Example: `  tubewright fit --in "steel conduit 20" --length 6 --bends 2 "4 x 2.5, 2 x 1.5"
  tubewright new job.yaml
  tubewright check job.yaml
  tubewright draw job.yaml -o job.png`,
		SilenceUsage:      true,
		SilenceErrors:     true,
		Version:           version(),
		CompletionOptions: cobra.CompletionOptions{HiddenDefaultCmd: true},
		Args:              noCommand,
		RunE:              func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	root.SetFlagErrorFunc(flagError)
	root.AddCommand(checkCommand(), fitCommand(), drawCommand(), billCommand(), workCommand(), singlesCommand(), boardCommand(), setoutCommand(), cutCommand(), testsCommand(), tablesCommand(), newCommand(), versionCommand())
	root.SetHelpCommand(helpCommand())
	return root
}
