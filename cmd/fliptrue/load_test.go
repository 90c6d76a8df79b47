package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
)

// A record whose copy of the job is damaged is refused, not judged by the job on the disk.
func TestDamagedCopyOfTheJob(t *testing.T) {
	disk := jobs.Mem(nil)
	walk := func(args ...string) (exit, string) {
		var out, errs bytes.Buffer
		e := &env{in: strings.NewReader(""), out: &out, err: &errs, disk: disk, now: time.Now,
			getenv: func(string) string { return "" }, ownInterrupts: func() {}}
		code := run(e, args)
		return code, out.String() + errs.String()
	}
	if code, text := walk("practice", "--auto", "--out", "p"); code != exitOK {
		t.Fatal(text)
	}
	good, err := disk.Read("p/back.1.record.yaml", 1<<20)
	if err != nil {
		t.Fatal(err)
	}
	for _, to := range []string{`job.allowance: "NaN"`, `job.allowanze: "0.05"`} {
		bad := strings.Replace(string(good), `job.allowance: "0.05"`, to, 1)
		if bad == string(good) {
			t.Fatal("the record does not copy the allowance as this test knows it")
		}
		if err := disk.Remove("p/bad"); err != nil && to != `job.allowance: "NaN"` {
			t.Fatal(err)
		}
		if err := jobs.WriteFile(disk, "p/bad", []byte(bad)); err != nil {
			t.Fatal(err)
		}
		for _, command := range []string{"replay", "report"} {
			code, text := walk(command, "p/back.job.yaml", "p/bad")
			if code != exitInput || !strings.Contains(text, "job copied into it does not read") || !strings.Contains(text, "allowan") {
				t.Errorf("%s with %s: exit %d, %s", command, to, code, text)
			}
		}
	}
}
