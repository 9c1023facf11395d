package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"tubewright/render"
)

// writeTo writes a file whole or not at all and says so; - is standard output.
func writeTo(c *cobra.Command, path string, write func(io.Writer) error) error {
	if path == "-" {
		return write(c.OutOrStdout())
	}
	if err := render.WriteFile(path, write); err != nil {
		return err
	}
	fmt.Fprintln(c.ErrOrStderr(), "wrote "+path)
	return nil
}

// ownFile complains about - where standard output has the report already.
func ownFile(flag, path string) error {
	if path == "-" {
		return usageError{fmt.Errorf("--%s needs a file of its own: standard output has the report", flag)}
	}
	return nil
}
