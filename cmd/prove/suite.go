package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"time"
)

// sliced are the tests of which the suite keeps a fixed slice and WHOLE=1 goes through all.
var sliced = []struct{ pkg, test, slice string }{
	{"./steps", "TestEveryMishapAtEveryStepHasAWayBack", "each sixth pair of step and mishap, all of either in each plan"},
	{"./steps/bench", "TestWords", "a walk of each setting, wrong answers in some; each literal against words.golden"},
}

var ended = regexp.MustCompile(`(?m)^--- (PASS|FAIL): `)

// suite runs whole what the suite keeps a slice of.
func suite(ctx context.Context, o options) (*table, error) {
	t := &table{Title: "tests of which `go test ./...` keeps a slice, whole",
		Head: []string{"package", "test", "what the suite keeps", "s", "verdict"}}
	for _, s := range sliced {
		if o.only != "" && o.only != s.test {
			continue
		}
		c := exec.CommandContext(ctx, "go", "test", "-count=1", "-v", "-timeout", "20m", "-run", "^"+s.test+"$", s.pkg)
		c.Env = append(slices.DeleteFunc(os.Environ(), func(v string) bool { return strings.HasPrefix(v, "UPDATE=") }), "WHOLE=1")
		began := time.Now()
		out, err := c.CombinedOutput()
		m := ended.FindSubmatch(out)
		if m == nil {
			return nil, fmt.Errorf("%s of %s did not run: %w\n%s", s.test, s.pkg, err, out)
		}
		t.Cases++
		t.row(s.pkg, s.test, s.slice, time.Since(began).Seconds(), string(m[1]))
		if err != nil {
			t.miss("%s: %s", s.test, head(out, 30))
		}
	}
	return t, nil
}

// head are the first lines of an output.
func head(out []byte, most int) string {
	var b strings.Builder
	for s := bufio.NewScanner(bytes.NewReader(out)); most > 0 && s.Scan(); most-- {
		b.WriteString(s.Text() + "\n")
	}
	return b.String()
}
