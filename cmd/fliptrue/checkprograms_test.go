package main

import (
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
)

// A program that was posted for the other Z0 fails at the desk, where it is met before anything is mounted.
func TestCheckFailsAProgramPostedForTheOtherZ0(t *testing.T) {
	texts, err := builtin.Texts("T")
	if err != nil {
		t.Fatal(err)
	}
	if code, out, errs := said(jobs.Mem(texts), "check", builtin.JobFile); code != exitOK {
		t.Fatalf("as shipped: %d\n%s%s", code, out, errs)
	}
	was := texts[builtin.JobFile]
	texts[builtin.JobFile] = strings.Replace(was, "z0: floor", "z0: finished top", 1)
	if texts[builtin.JobFile] == was {
		t.Fatal("the job names no Z0")
	}
	for _, args := range [][]string{{"check", builtin.JobFile}, {"check", "--json", builtin.JobFile}} {
		code, out, _ := said(jobs.Mem(texts), args...)
		if code != exitNo || !strings.Contains(out, "posted for") || !strings.Contains(out, "post it again") {
			t.Errorf("%v: exit %d\n%s", args, code, out)
		}
	}
}
