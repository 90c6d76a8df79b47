package jobs

import (
	"strings"
	"testing"
)

// A reason is put beside its limit in whatever form that stands; nothing else in the file changes.
func TestWriteReason(t *testing.T) {
	for _, c := range []struct{ was, want string }{
		{"limits: {skew: 0.03, repeat: 0.004}  # mine", "limits: {skew: {value: 0.03, reason: old ways}, repeat: 0.004}  # mine"},
		{"limits:\n  floor.form: \"0.03mm\" # sawn", "limits:\n  floor.form: {value: \"0.03mm\", reason: old ways} # sawn"},
		{"limits: {skew: {value: 0.03}}", "limits: {skew: {reason: old ways, value: 0.03}}"},
		{"limits: {skew: {value: 0.03, reason: why}}", "limits: {skew: {value: 0.03, reason: old ways}}"},
	} {
		limit := "skew"
		if strings.Contains(c.was, "floor") {
			limit = "floor.form"
		}
		d := Mem(map[string]string{"a.job.yaml": "format: 1\n" + c.was + "\njob: x\n"})
		if err := WriteReason(d, "a.job.yaml", limit, "old ways"); err != nil {
			t.Errorf("%s: %v", c.was, err)
			continue
		}
		if got := d.Text("a.job.yaml"); got != "format: 1\n"+c.want+"\njob: x\n" {
			t.Errorf("%s: became\n%s", c.was, got)
		}
	}
	d := Mem(map[string]string{"a.job.yaml": "format: 1\nlimits: {skew: 0.03}\n"})
	if err := WriteReason(d, "a.job.yaml", "skew", `two: "words" #1`); err != nil {
		t.Fatal(err)
	}
	root, _ := parseTree("a.job.yaml", []byte(d.Text("a.job.yaml")))
	if why := child(child(child(root, "limits"), "skew"), "reason"); why == nil || why.Value != `two: "words" #1` {
		t.Errorf("read back: %s", d.Text("a.job.yaml"))
	}
	if err := WriteReason(d, "a.job.yaml", "twist", "x"); err == nil {
		t.Error("a limit that is not there took a reason")
	}
}
