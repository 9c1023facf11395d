package render

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// WriteFile writes a file whole or not at all: into a temporary file beside
// it, renamed when write has succeeded and removed when it has not. A file
// that was there before stays as it was on any error.
func WriteFile(path string, write func(io.Writer) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), ".tubewright-*")
	if err != nil {
		return fmt.Errorf("%s: %w", path, bareCause(err))
	}
	done := false
	defer func() {
		if !done {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if err := write(f); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	if err := f.Chmod(mode(path)); err != nil {
		return fmt.Errorf("%s: %w", path, bareCause(err))
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("%s: %w", path, bareCause(err))
	}
	if err := os.Rename(f.Name(), path); err != nil {
		return fmt.Errorf("%s: %w", path, bareCause(err))
	}
	done = true
	return nil
}

// mode keeps the permissions of a file already there; CreateTemp alone would
// leave a drawing that only its owner can read.
func mode(path string) os.FileMode {
	if info, err := os.Stat(path); err == nil {
		return info.Mode().Perm()
	}
	return 0o644
}

// bareCause drops the temporary file's name, which tells the reader nothing.
func bareCause(err error) error {
	var link *os.LinkError
	if errors.As(err, &link) {
		return link.Err
	}
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
