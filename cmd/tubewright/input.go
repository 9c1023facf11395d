package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"tubewright/factors/source"
	"tubewright/route"
	"tubewright/testdata/jobs"
)

// demoName is how complaints name the embedded job.
const demoName = "boatstore.yaml"

// readJob reads the job that the arguments name: a file, - for standard input,
// or the embedded demo when there is none, which it says.
func readJob(c *cobra.Command, args []string) (*route.Job, error) {
	name, text, err := jobText(c, args)
	if err != nil {
		return nil, err
	}
	return route.Parse(name, text)
}

func jobText(c *cobra.Command, args []string) (string, []byte, error) {
	switch {
	case len(args) == 0:
		fmt.Fprintln(c.ErrOrStderr(), "no job file named: this is the built-in demo, an invented boat store (tubewright new FILE writes it out)")
		return demoName, jobs.Demo, nil
	case args[0] == "-":
		text, err := limited(c.InOrStdin())
		return "standard input", text, err
	}
	text, err := fileText(args[0])
	return args[0], text, err
}

// fileText reads a file; where there is none of that name, the error names those
// that may be meant.
func fileText(name string) ([]byte, error) {
	f, err := os.Open(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, usageError{fmt.Errorf("there is no file %s%s", name, besides(name))}
	case err != nil:
		return nil, usageError{err}
	}
	defer f.Close()
	text, err := limited(f)
	if err != nil {
		return nil, usageError{err}
	}
	return text, nil
}

// besides says which files of the kind that a name has are in its folder: the
// nearest, else all of them.
func besides(name string) string {
	dir, kind := filepath.Dir(name), filepath.Ext(name)
	entries, err := os.ReadDir(dir)
	if err != nil {
		return "; there is no folder " + dir
	}
	var known []string
	for _, e := range entries {
		if !e.IsDir() && (filepath.Ext(e.Name()) == kind || kind == "") {
			known = append(known, e.Name())
		}
	}
	if near := source.Nearest(filepath.Base(name), known); near != "" {
		return "; did you mean " + filepath.Join(dir, near) + "?"
	}
	if len(known) == 0 || kind == "" {
		return " in folder " + dir
	}
	return "; in folder " + dir + ": " + strings.TrimPrefix(source.Known(known), "known: ")
}

func isFile(name string) bool {
	info, err := os.Stat(name)
	return err == nil && !info.IsDir()
}

// limited reads one byte past the limit at most: enough for the parser to see
// that a file is too large.
func limited(r io.Reader) ([]byte, error) { return io.ReadAll(io.LimitReader(r, source.MaxBytes+1)) }

// colour reports whether output may be coloured: on a terminal, unless
// NO_COLOR is set or the terminal is dumb.
func colour(w io.Writer) bool {
	if os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb" {
		return false
	}
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
