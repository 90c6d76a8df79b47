package main

import (
	"os"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"fliptrue": main})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// exits CODE COMMAND... runs a command and wants that very exit code; its output is
// then matched by stdout and stderr as after exec.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND ARGS...")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if err != nil {
		code, ok := err.(interface{ ExitCode() int })
		if !ok {
			ts.Fatalf("%s: %v", args[1], err)
		}
		got = strconv.Itoa(code.ExitCode())
	}
	if got != args[0] {
		ts.Fatalf("exit code is %s, want %s", got, args[0])
	}
}
