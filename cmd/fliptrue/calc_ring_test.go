package main

import (
	"strings"
	"testing"

	"fliptrue/jobs"
)

// Demonstration, computed elsewhere: a ring of mean radius 30, wall 2, height 12, of 2900 MPa goes out of round by 0.010 at
// 0.030 N by two points (shares 0.148779 and 0.136620), and at 0.117 N over 75 degrees either way.
func TestCalcRing(t *testing.T) {
	args := []string{"calc", "ring", "--radius", "30", "--wall", "2", "--height", "12", "--stiffness", "2900"}
	code, out, errs := said(jobs.Mem(nil), append(args, "--json")...)
	if code != exitOK || !strings.Contains(out, "-0.14877") || !strings.Contains(out, "0.13661") || !strings.Contains(out, "\"allowed\": 0.0301") || errs != "" {
		t.Errorf("exit %d: %s %s", code, out, errs)
	}
	code, out, _ = said(jobs.Mem(nil), append(args, "--wrap", "75", "--cut", "2.4N")...)
	if code != exitNo || !strings.Contains(out, "0.117 N") || !strings.Contains(out, "no handle is gentle enough") || !strings.Contains(out, "FAIL") {
		t.Errorf("exit %d: %s", code, out)
	}
	if code, out, _ = said(jobs.Mem(nil), append(args, "--wrap", "120")...); code == exitOK {
		t.Errorf("a wrap of 120 degrees: %s", out)
	}
}
