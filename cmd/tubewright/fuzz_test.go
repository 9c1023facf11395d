package main

import (
	"bytes"
	"strings"
	"testing"
)

// FuzzFit asks about any run in any words: an answer or a complaint comes back,
// never a panic, and never the exit code of a failing disk or program.
func FuzzFit(f *testing.F) {
	for _, seed := range [][5]string{
		{"steel conduit 20", "6", "2", "4 x 2.5, 2 x 1.5", ""},
		{"plastic conduit 25", "6 m", "0", "1 x 2.5 twin and earth", ""},
		{"steel trunking 50x50", "12", "", "20 x 2.5", "1200"},
		{"plastic trunking 60x60", "3 m", "0", "12 x 2.5, 3 x 6.1 mm", ""},
		{"steel conduit 63", "0.5", "1", "1 x 300", ""},
		{"conduit", "-1", "99999999999999999999", "0 x 0", "nan"},
		{"steel conduit 20", "1e308", "4", "999999999 x 240", ""},
		{"steel conduit 20", "10", "0", "3 x 4 thermosetting, 1 x 1 solid", ""},
		{"steel conduit 25", "6", "2", "2.5 ring with 1.5 cpc, 2 x 4 radials", ""},
		{"20 mm steel", "6", "2", "x ring with cpc, 2.5 rnig, 3 1.5, 201 x 2.5 rings", ""},
		{"{", "[", "&a", "*a", "!!x"},
		{"--in", "--", "-", "x", "×"},
		{"steel conduit 20\n", "6\x00", "\xff", "'", "\u2028"},
	} {
		f.Add(seed[0], seed[1], seed[2], seed[3], seed[4])
	}
	f.Fuzz(func(t *testing.T, in, length, bends, cables, factor string) {
		args := []string{"fit", "--in=" + in, "--length=" + length, "--bends=" + bends, "--factor=" + factor}
		for _, tail := range [][]string{{"--", cables}, {"--json", "--", cables}, {cables}} {
			var out, complaint bytes.Buffer
			code := run(append(args[:len(args):len(args)], tail...), strings.NewReader(""), &out, &complaint)
			switch {
			case code == exitInput && complaint.Len() == 0, code != exitInput && out.Len() == 0:
				t.Errorf("exit code %d without a word", code)
			case code != exitPass && code != exitFail && code != exitInput:
				t.Errorf("exit code %d: %s", code, &complaint)
			case tail[0] == "--json" && code != exitInput:
				if err := keepsContract("fit", out.Bytes()); err != nil {
					t.Error(err)
				}
			case tail[0] == "--json":
				if err := keepsContract("problems", out.Bytes()); err != nil {
					t.Error(err)
				}
			}
		}
	})
}
