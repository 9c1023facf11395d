package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

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

// writePicture writes a sheet as PNG, to a file that says so.
func writePicture(c *cobra.Command, path string, sheet *render.Sheet, dpi int) error {
	if e := filepath.Ext(path); e != "" && !strings.EqualFold(e, ".png") {
		return usageError{fmt.Errorf("a picture is written as PNG: %s.png, not %s", strings.TrimSuffix(path, e), path)}
	}
	return writeTo(c, path, func(w io.Writer) error { return render.WritePNG(w, sheet, dpi) })
}

// ownFile complains about - where standard output has the report already.
func ownFile(flag, path string) error {
	if path == "-" {
		return usageError{fmt.Errorf("--%s needs a file of its own: standard output has the report", flag)}
	}
	return nil
}
