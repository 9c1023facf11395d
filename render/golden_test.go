package render

import (
	"flag"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var (
	update  = flag.Bool("update", false, "write the golden files anew")
	lookDir = flag.String("look", "", "folder to write pictures to, for the eye")
)

// golden compares a drawing's marks with testdata/name.marks, after checking
// what no drawing may have; with -look it writes the picture too.
func golden(t *testing.T, name string, s *Sheet) {
	t.Helper()
	if err := s.Check(); err != nil {
		t.Error(err)
	}
	for _, c := range s.Clashes() {
		t.Error(c)
	}
	if *lookDir != "" {
		err := WriteFile(filepath.Join(*lookDir, name+".png"), func(w io.Writer) error { return WritePNG(w, s, 200) })
		if err != nil {
			t.Error(err)
		}
	}
	path := filepath.Join("testdata", name+".marks")
	if *update {
		if err := os.WriteFile(path, []byte(s.Marks()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), s.Marks()); diff != "" {
		t.Errorf("%s differs (-want +got); look at it, then run with -update:\n%s", path, diff)
	}
}
