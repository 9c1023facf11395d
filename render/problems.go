package render

import (
	"io"

	"tubewright/factors/source"
)

type problemJSON struct {
	File   string    `json:"file"`
	Line   int32     `json:"line"`
	Column int32     `json:"column"`
	What   string    `json:"what"`
	Want   string    `json:"want"`
	Also   *alsoJSON `json:"also"`
}

type alsoJSON struct {
	Line   int32  `json:"line"`
	Column int32  `json:"column"`
	What   string `json:"what"`
}

// WriteProblemsJSON writes why input cannot be understood, in the order of the
// file. Line and column count from 1; they are 0 where a problem stands in no
// file but on the command line.
func WriteProblemsJSON(w io.Writer, problems source.Problems) error {
	out := make([]problemJSON, len(problems))
	for i, p := range problems {
		out[i] = problemJSON{File: p.File.Name, Line: p.At.Line, Column: p.At.Col, What: p.What, Want: p.Want}
		if p.File.Typed {
			out[i].Line, out[i].Column = 0, 0
		}
		if p.Also.Known() {
			out[i].Also = &alsoJSON{p.Also.Line, p.Also.Col, p.AlsoS}
		}
	}
	return writeJSON(w, struct {
		Problems []problemJSON `json:"problems"`
	}{out})
}
