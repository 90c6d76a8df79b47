package builtin

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestJobReadsInEveryPlan(t *testing.T) {
	for _, plan := range strings.Split(HoldDowns, "") {
		j, err := Job(plan)
		if err != nil {
			t.Errorf("plan %s: %v", plan, err)
			continue
		}
		if len(j.Notes) > 0 {
			t.Errorf("plan %s: %v", plan, j.Notes)
		}
		s, ok := j.Setup("side2")
		if !ok || s.HoldDown != plan {
			t.Fatalf("plan %s: setup side2 is %+v", plan, s)
		}
		if straps := len(s.Clamps) > 0; straps == (plan == "S") {
			t.Errorf("plan %s has %d straps", plan, len(s.Clamps))
		}
		texts, _ := Texts(plan)
		for _, p := range s.Programs {
			if texts[p.File] == "" {
				t.Errorf("plan %s names %s, which is not among its files", plan, p.File)
			}
		}
	}
	for _, kind := range append(Kinds()[1:], Inch) {
		if j, err := Job(kind); err != nil || len(j.Notes) > 0 {
			t.Errorf("%s: %v %v", kind, err, j.Notes)
		}
	}
	if _, err := Job("X"); err == nil || !strings.Contains(err.Error(), "T, M and S") {
		t.Errorf("an unknown plan gives %v", err)
	}
}

// The examples are what practice writes out, each with the schema that it is held against in its first line.
func TestExamplesAreTheBuiltInJob(t *testing.T) {
	for plan, dir := range map[string]string{"T": "back", Inch: "back-inch"} {
		texts, err := Texts(plan)
		if err != nil {
			t.Fatal(err)
		}
		for name, text := range texts {
			b, err := os.ReadFile(filepath.Join("..", "..", "..", "testdata", dir, name))
			if err != nil {
				t.Error(err)
				continue
			}
			got := string(b)
			if schema, rest, _ := strings.Cut(got, "\n"); strings.HasPrefix(schema, "# yaml-language-server: ") {
				got = rest
			}
			if got != text {
				t.Errorf("testdata/%s/%s is another than the built-in one", dir, name)
			}
		}
	}
}
