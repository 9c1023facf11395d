package cut

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// problem is one published or made cut list and its proved optimum.
type problem struct {
	name    string
	stock   Stock
	pieces  []Piece
	optimum int
}

// Sources: see testdata/LICENSE-ORLIB. The optima of binpack1, binpack3 and
// the triplets are those of Delorme, Iori and Martello, BPPLIB (2018); the
// numbers in the files' headers are older and two are not optimal.
func problems(t testing.TB, set string) []problem {
	t.Helper()
	switch set {
	case "triplets":
		return triplets(t)
	case "kerf":
		return kerfProblems(t)
	}
	return binpack(t, set+".txt")
}

func binpack(t testing.TB, file string) []problem {
	best := optima(t)
	w := open(t, file)
	var ps []problem
	for range w.int() {
		p := problem{name: w.word()}
		p.stock.Length = w.int()
		n := w.int()
		w.word()
		p.pieces = w.pieces(n)
		p.optimum = best[p.name]
		ps = append(ps, p)
	}
	return ps
}

func triplets(t testing.TB) []problem {
	best := optima(t)
	var ps []problem
	for i := range 10 {
		p := problem{name: fmt.Sprintf("t120_%02d", i)}
		w := open(t, p.name+".txt")
		n := w.int()
		p.stock.Length = w.int()
		p.pieces = w.pieces(n)
		p.optimum = best[p.name]
		ps = append(ps, p)
	}
	return ps
}

// kerfProblems have their optimum in the file, each equal to a lower bound.
func kerfProblems(t testing.TB) []problem {
	w := open(t, "kerf.txt")
	var ps []problem
	for range w.int() {
		p := problem{name: w.word()}
		p.stock.Length, p.stock.Kerf = w.int(), w.int()
		n := w.int()
		p.optimum = w.int()
		p.pieces = w.pieces(n)
		ps = append(ps, p)
	}
	return ps
}

func optima(t testing.TB) map[string]int {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", "optima-binpacking.csv"))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(b))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	best := map[string]int{}
	for _, r := range rows[1:] {
		if best[r[0]], err = strconv.Atoi(r[1]); err != nil {
			t.Fatal(err)
		}
	}
	return best
}

type words struct {
	t  testing.TB
	in *bufio.Scanner
}

func open(t testing.TB, file string) words {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", file))
	if err != nil {
		t.Fatal(err)
	}
	in := bufio.NewScanner(strings.NewReader(string(b)))
	in.Split(bufio.ScanWords)
	return words{t, in}
}

func (w words) word() string {
	w.t.Helper()
	if !w.in.Scan() {
		w.t.Fatal(io.ErrUnexpectedEOF)
	}
	return w.in.Text()
}

func (w words) int() int {
	w.t.Helper()
	n, err := strconv.Atoi(w.word())
	if err != nil {
		w.t.Fatal(err)
	}
	return n
}

func (w words) pieces(n int) []Piece {
	var ps []Piece
	for i := range n {
		ps = append(ps, Piece{Name: strconv.Itoa(i + 1), Length: w.int(), Count: 1})
	}
	return ps
}
