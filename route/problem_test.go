package route_test

import (
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
	"testing"

	"tubewright/factors/source"
	"tubewright/route"
)

// kinds are the exported kinds by name; the test fails on one that is missing.
var kinds = map[string]error{
	"ErrJob": route.ErrJob, "ErrMissing": route.ErrMissing, "ErrKey": route.ErrKey, "ErrValue": route.ErrValue,
	"ErrReference": route.ErrReference, "ErrSize": route.ErrSize, "ErrConflict": route.ErrConflict,
	"ErrClosure": route.ErrClosure, "ErrReach": route.ErrReach, "ErrDrawIn": route.ErrDrawIn,
}

// TestKinds runs the job in the comment of each kind of problem. It raises
// that kind and no other.
func TestKinds(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "problem.go", nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		name := spec.Names[0].Name
		seen[name] = true
		t.Run(name, func(t *testing.T) { checkKind(t, kinds[name], jobIn(spec.Doc.Text())) })
		return false
	})
	for name := range kinds {
		if !seen[name] {
			t.Errorf("%s is not in problem.go", name)
		}
	}
}

// jobIn returns the indented lines of a comment.
func jobIn(doc string) string {
	var job strings.Builder
	for _, line := range strings.Split(doc, "\n") {
		if text, ok := strings.CutPrefix(line, "\t"); ok {
			job.WriteString(text + "\n")
		}
	}
	return job.String()
}

func checkKind(t *testing.T, kind error, job string) {
	if kind == nil || job == "" {
		t.Fatalf("kind %v, job %q", kind, job)
	}
	_, err := route.Parse("job.yaml", []byte(job))
	var problems source.Problems
	if !errors.As(err, &problems) {
		t.Fatalf("%sis read without a complaint", job)
	}
	for _, p := range problems {
		if !errors.Is(p, kind) {
			t.Errorf("%sraises another kind (%v) as well:\n%v", job, p.Kind, p)
		}
	}
	if !errors.Is(err, kind) || len(problems) != 1 {
		t.Errorf("%sraises\n%v", job, err)
	}
}
