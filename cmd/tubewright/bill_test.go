package main

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestPricedGoldens keeps the priced bills of two demo jobs. Read them as an
// estimator would before writing them anew with -update: prices and times are
// invented.
func TestPricedGoldens(t *testing.T) {
	for _, name := range []string{"boatstore", "workshop"} {
		t.Run(name, func(t *testing.T) {
			var out, complaint bytes.Buffer
			args := []string{"bill", "../../testdata/jobs/" + name + ".yaml", "--prices", "../../testdata/prices/demo.csv", "--instead",
				"--labour-rate", "36", "--sundries", "4 %", "--overhead", "8 %", "--profit", "6 %", "--currency", "GBP"}
			if code := run(args, strings.NewReader(""), &out, &complaint); code != exitPass || complaint.Len() > 0 {
				t.Fatalf("exit code %d: %s", code, &complaint)
			}
			readable(t, out.String())
			path := "../../testdata/golden/" + name + ".priced.txt"
			if *update {
				if err := os.WriteFile(path, out.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), out.String()); diff != "" {
				t.Errorf("%s differs (-want +got); read it, then run with -update:\n%s", path, diff)
			}
		})
	}
}
