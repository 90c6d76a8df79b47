package jobs

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The YAML module is archived: one file imports it, so that another can take its place.
func TestYAMLInOnePlace(t *testing.T) {
	imports := regexp.MustCompile(`(?m)^\t(\w+ )?"[^"\s]*yaml[^"\s]*"$`)
	var found []string
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		b, err := os.ReadFile(path)
		if err == nil && imports.Match(b) {
			found = append(found, filepath.ToSlash(path))
		}
		return err
	})
	if err != nil || len(found) != 1 || found[0] != "../jobs/yaml.go" {
		t.Errorf("imported by %v, error %v", found, err)
	}
}

// Whatever values a record says that a setup was begun with: they are read or refused, and
// what is read flattens to the same values.
func FuzzBegun(f *testing.F) {
	j, faults := ReadJob(OS(), "testdata/lid.job.yaml")
	if len(faults) > 0 {
		f.Fatal(faults)
	}
	flat := Flatten(j)
	f.Add("job.allowance", "NaN", "taken.bore", `{"value":[1]}`)
	f.Add("job.setups.side2.screws.at.0.1", "1e999", "taken.", "")
	f.Add("job.setups.#", "side2,side2", "job..", "#")
	f.Add("machine.travel.x.0", "-0", "fixture.support.0.0.0", "x")
	f.Fuzz(func(t *testing.T, k1, v1, k2, v2 string) {
		now := Update(flat, Event{Cards: map[string]string{k1: v1, k2: v2}})
		e := Event{At: noon, Begin: "side2", Cards: now}
		line, err := Encode(e)
		if err != nil {
			return
		}
		back, err := Decode(line)
		if err != nil || !same(back, e) {
			t.Fatalf("%q came back as %+v, %v", line, back, err)
		}
		j, faults := FromFlat(back.Cards)
		checkFaults(t, faults, len(line))
		if len(faults) > 0 {
			return
		}
		again, faults := FromFlat(Flatten(j))
		if len(faults) > 0 || !alike(again, j) {
			t.Fatalf("%q=%q %q=%q: became\n%+v\n%+v, %v", k1, v1, k2, v2, j, again, faults)
		}
	})
}
