package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"tubewright/render"
)

// neverDrawn are the runes in our source that no page and no sheet prints.
var neverDrawn = map[rune]string{
	'\ufeff': "opens a CSV file for spreadsheets, and may open a job file",
}

// TestEveryRuneInTheFont looks at all that can come to be printed: the string
// literals of our packages, the tables, and the demo jobs.
func TestEveryRuneInTheFont(t *testing.T) {
	literals := 0
	for _, dir := range []string{"cmd", "fill", "route", "render", "factors"} {
		eachFile(t, filepath.Join("../..", dir), ".go", func(path string) {
			if strings.HasSuffix(path, "_test.go") {
				return
			}
			files := token.NewFileSet()
			file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if l, ok := n.(*ast.BasicLit); ok && (l.Kind == token.STRING || l.Kind == token.CHAR) {
					literals++
					drawable(t, files.Position(l.Pos()).String(), text(t, l))
				}
				return true
			})
		})
	}
	if literals < 1000 {
		t.Errorf("only %d literals found", literals)
	}
	for _, dir := range []string{"../../factors", "../../testdata/jobs"} {
		eachFile(t, dir, ".yaml", func(path string) {
			content, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			drawable(t, path, string(content))
		})
	}
}

func eachFile(t *testing.T, dir, ext string, visit func(path string)) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && filepath.Ext(path) == ext {
			visit(path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func text(t *testing.T, l *ast.BasicLit) string {
	if l.Kind == token.CHAR {
		r, _, _, err := strconv.UnquoteChar(strings.TrimSuffix(l.Value[1:], "'"), '\'')
		if err != nil {
			t.Fatal(l.Value, err)
		}
		return string(r)
	}
	s, err := strconv.Unquote(l.Value)
	if err != nil {
		t.Fatal(l.Value, err)
	}
	return s
}

func drawable(t *testing.T, where, text string) {
	t.Helper()
	for _, r := range render.MissingRunes(text) {
		if _, ok := neverDrawn[r]; !ok && !unicode.IsControl(r) {
			t.Errorf("%s: the typeface lacks %q", where, r)
		}
	}
}
