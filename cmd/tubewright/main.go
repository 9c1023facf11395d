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
	"tubewright/render"
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
		return refuse(args, out, errOut, problems)
	case errors.As(err, &usage):
		fmt.Fprintf(errOut, "tubewright: %s\n", err)
		return refuse(args, out, errOut, source.Problems{{File: source.NewFile("command line", nil), What: err.Error()}})
	}
	fmt.Fprintf(errOut, "tubewright: %s\n", err)
	return exitOther
}

// refuse writes what is wrong with the input as JSON too where that is asked
// for, and returns the exit code.
func refuse(args []string, out, errOut io.Writer, problems source.Problems) int {
	if !asksJSON(args) {
		return exitInput
	}
	if err := render.WriteProblemsJSON(out, problems); err != nil {
		fmt.Fprintf(errOut, "tubewright: %s\n", err)
		return exitOther
	}
	return exitInput
}

// asksJSON looks for the flag itself: a slip before it may have kept it from
// being read.
func asksJSON(args []string) bool {
	for _, a := range args {
		switch a {
		case "--":
			return false
		case "--json", "--json=true":
			return true
		}
	}
	return false
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
or the program fails. What is wrong with the input goes to standard error; with
--json it is written to standard output too, as {"problems": [{"file", "line",
"column", "what", "want", "also"}]}: want is what would be right, also a second
place or null, line and column are 0 for a slip on the command line.`,
		Example: `  tubewright fit --in "steel conduit 20" --length 6 --bends 2 "4 x 2.5, 2 x 1.5"
  tubewright new job.yaml
  tubewright keys circuit
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
	root.AddCommand(checkCommand(), fitCommand(), drawCommand(), billCommand(), workCommand(), singlesCommand(), boardCommand(), setoutCommand(), cutCommand(), testsCommand(), tablesCommand(), keysCommand(), newCommand(), versionCommand())
	root.SetHelpCommand(helpCommand())
	return root
}
