package main

import (
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
)

// A record written by hand may lack any line, or have two in the wrong order: it is judged
// or refused, and never stops the program. Every line is left out, of the second record every third;
// every fourth one is moved.
func TestRecordsWithALineMissingOrMoved(t *testing.T) {
	if testing.Short() {
		t.Skip("every combination, on one goroutine")
	}
	e := &env{disk: jobs.OS()}
	for _, name := range []string{"lid", "tray"} {
		j, err := e.readJob(filepath.Join(examples, name, name+".job.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		p, err := e.plan(j, "side2")
		if err != nil {
			t.Fatal(err)
		}
		es, _, faults := jobs.ReadRecord(e.disk, filepath.Join(examples, name, name+".1.record.yaml"))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		seen := map[string]bool{}
		try := func(what string, es []jobs.Event) {
			defer func() {
				if r := recover(); r != nil {
					where := ""
					for _, l := range strings.Split(string(debug.Stack()), "\n") {
						if strings.Contains(l, "/steps/") && strings.Contains(l, ".go:") {
							where = strings.TrimSpace(l)
							break
						}
					}
					if !seen[where] {
						seen[where] = true
						t.Errorf("%s: %s: %v at %s", name, what, r, where)
					}
				}
			}()
			foldRecord(p, es)
		}
		for i := range es {
			if name != "lid" && i%3 > 0 {
				continue
			}
			_, about := es[i].Verb()
			try("without "+about, slices.Delete(slices.Clone(es), i, i+1))
			if i > 0 && i%4 == 0 && name == "lid" {
				moved := slices.Clone(es)
				moved[i-1], moved[i] = moved[i], moved[i-1]
				try("with "+about+" one place up", moved)
			}
		}
	}
}
