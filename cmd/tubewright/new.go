package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"tubewright/render"
	"tubewright/testdata/jobs"
)

func newCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "new FILE",
		Short:   "Write a commented job file to start from (- for standard output)",
		Example: "  tubewright new job.yaml",
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) != 1 {
				return usageError{errors.New("new takes one file to write, such as tubewright new job.yaml")}
			}
			write := func(w io.Writer) error {
				_, err := w.Write(jobs.Demo)
				return err
			}
			if args[0] == "-" {
				return write(c.OutOrStdout())
			}
			if _, err := os.Lstat(args[0]); !errors.Is(err, fs.ErrNotExist) {
				return usageError{fmt.Errorf("%s is there already; name a new file", args[0])}
			}
			if err := render.WriteFile(args[0], write); err != nil {
				return err
			}
			fmt.Fprintf(c.ErrOrStderr(), "wrote %s: change it, then tubewright check %s\n", args[0], args[0])
			return nil
		},
	}
}
