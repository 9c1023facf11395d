package render

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
)

func TestWriteFile(t *testing.T) {
	broken := errors.New("pen dry")
	for _, c := range []struct {
		name, before, want string
		write              func(io.Writer) error
		err                error
	}{
		{"new", "", "marks", func(w io.Writer) error { _, err := io.WriteString(w, "marks"); return err }, nil},
		{"over an old one", "old, and longer", "marks", func(w io.Writer) error { _, err := io.WriteString(w, "marks"); return err }, nil},
		{"half written", "", "", func(w io.Writer) error { io.WriteString(w, "ma"); return broken }, broken},
		{"half written over an old one", "old", "old", func(w io.Writer) error { io.WriteString(w, "ma"); return broken }, broken},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "a.txt")
			if c.before != "" {
				if err := os.WriteFile(path, []byte(c.before), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			if err := WriteFile(path, c.write); !errors.Is(err, c.err) {
				t.Fatalf("got %v", err)
			}
			files, _ := os.ReadDir(dir)
			if c.want == "" {
				if len(files) != 0 {
					t.Fatalf("left %v", files)
				}
				return
			}
			got, err := os.ReadFile(path)
			if string(got) != c.want || err != nil || len(files) != 1 {
				t.Fatalf("%q, %v, %v", got, err, files)
			}
			info, _ := os.Stat(path)
			want := os.FileMode(0o644)
			if c.before != "" {
				want = 0o600
			}
			if info.Mode().Perm() != want {
				t.Errorf("mode %v, expected %v", info.Mode(), want)
			}
		})
	}
}

func TestWriteFileNamesTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "no such folder", "a.png")
	err := WriteFile(path, func(io.Writer) error { return nil })
	if !errors.Is(err, os.ErrNotExist) || err.Error() != path+": no such file or directory" {
		t.Errorf("got %v", err)
	}
}

// A panic in write leaves no file either.
func TestWriteFilePanic(t *testing.T) {
	dir := t.TempDir()
	func() {
		defer func() { _ = recover() }()
		_ = WriteFile(filepath.Join(dir, "a"), func(io.Writer) error { panic("our mistake") })
	}()
	if files, _ := os.ReadDir(dir); len(files) != 0 {
		t.Errorf("left %v", files)
	}
}
