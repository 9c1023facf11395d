package render

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"tubewright/route"

	"github.com/google/go-cmp/cmp"
)

const arrangements = "../testdata/arrangements"

// TestSinglesText holds the printed list of a few arrangements; which cores lie
// in which run is counted by hand in route.
func TestSinglesText(t *testing.T) {
	for _, name := range []string{"intermediate", "ring-and-spur", "conversion", "three-phase", "shared-cpc"} {
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(filepath.Join(arrangements, name+".yaml"))
			if err != nil {
				t.Fatal(err)
			}
			j, err := route.Parse(name+".yaml", text)
			if err != nil {
				t.Fatal(err)
			}
			var got bytes.Buffer
			if err := WriteSingles(&got, j); err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(arrangements, name+".golden")
			if *update {
				if err := os.WriteFile(path, got.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got.String()); diff != "" {
				t.Errorf("%s differs (-want +got); read it, then run with -update:\n%s", path, diff)
			}
		})
	}
}
