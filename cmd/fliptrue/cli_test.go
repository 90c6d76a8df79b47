package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	debug.SetGCPercent(1200) // a test is short: memory is cheaper than time
	testscript.Main(m, map[string]func(){"fliptrue": main})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "value": value},
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

// value PATH WANT [TOLERANCE] looks into the JSON that was printed last: center.0 is the
// first number of center. Without a tolerance it compares the text.
func value(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 || len(args) > 3 {
		ts.Fatalf("usage: value PATH WANT [TOLERANCE]")
	}
	var at any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &at))
	for _, part := range strings.Split(args[0], ".") {
		switch x := at.(type) {
		case map[string]any:
			next, ok := x[part]
			if !ok {
				ts.Fatalf("%s: there is no %s", args[0], part)
			}
			at = next
		case []any:
			i, err := strconv.Atoi(part)
			if err != nil || i >= len(x) {
				ts.Fatalf("%s: there is no %s", args[0], part)
			}
			at = x[i]
		default:
			ts.Fatalf("%s: nothing is under %v", args[0], at)
		}
	}
	if len(args) == 2 {
		got := fmt.Sprint(at)
		if at == nil {
			got = "null"
		}
		if got != args[1] {
			ts.Fatalf("%s is %s, want %s", args[0], got, args[1])
		}
		return
	}
	want, err1 := strconv.ParseFloat(args[1], 64)
	tol, err2 := strconv.ParseFloat(args[2], 64)
	got, ok := at.(float64)
	if err1 != nil || err2 != nil || !ok || math.Abs(got-want) > tol {
		ts.Fatalf("%s is %v, want %s within %s", args[0], at, args[1], args[2])
	}
}
