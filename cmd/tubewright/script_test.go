package main

import (
	"errors"
	"flag"
	"os"
	"os/exec"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "write the golden files anew")

func TestMain(m *testing.M) { testscript.Main(m, map[string]func(){"tubewright": main}) }

// TestScripts runs each script of testdata/script against the program itself,
// in a folder of its own that holds the demo jobs.
//
//	code N COMMAND …       the command leaves with exit code N
//	contract KIND FILE     the JSON has the shape that is promised for KIND
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Setup: func(e *testscript.Env) error {
			e.Setenv("TERM", "xterm")
			return os.CopyFS(e.WorkDir+"/jobs", os.DirFS("../../testdata/jobs"))
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"code": codeCommand, "contract": contractCommand},
	})
}

func codeCommand(ts *testscript.TestScript, negated bool, args []string) {
	want, err := strconv.Atoi(args[0])
	if err != nil || negated || len(args) < 2 {
		ts.Fatalf("usage: code N COMMAND …")
	}
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, expected %d", got, want)
	}
}

func contractCommand(ts *testscript.TestScript, negated bool, args []string) {
	if len(args) != 2 || negated {
		ts.Fatalf("usage: contract KIND FILE")
	}
	if err := keepsContract(args[0], []byte(ts.ReadFile(args[1]))); err != nil {
		ts.Fatalf("%v", err)
	}
}
