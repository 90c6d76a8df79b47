package rescue_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
	"fliptrue/steps/trial"
)

// The examples are records of parts that let go, one in mm and one in inches, beside the job files that they were begun from:
// each says of itself what it means. UPDATE=1 walks them anew.
func TestExamples(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "rescue")
	for _, x := range []struct{ job, record string }{{"back", "back.1.record.yaml"}, {"tray", "tray.1.record.yaml"}} {
		path := filepath.Join(dir, x.record)
		if os.Getenv("UPDATE") != "" {
			writeExample(t, x.job, path)
		}
		es, _, faults := jobs.ReadRecord(jobs.OS(), path)
		if faults.Err() != nil {
			t.Fatal(faults)
		}
		last, n := "", 0
		var flat map[string]string
		for i, e := range es {
			if e.Begin != "" {
				last, n, flat = e.Begin, i, e.Cards
			}
		}
		j, bad := jobs.FromFlat(flat)
		if bad.Err() != nil {
			t.Fatal(bad)
		}
		p := trial.Plan(t, j, last, nil)
		st := fold.Fold(p, es)
		if len(st.Troubles) > 0 || !st.Released || p.Setup.From != "side2" || !strings.HasSuffix(es[n-1].Mishap, "/part-moved-in-cut") {
			t.Errorf("%s: %s released %v, %v", x.record, last, st.Released, st.Troubles)
		}
		if sys := map[string]string{"back": "mm", "tray": "in"}[x.job]; j.Unit.String() != sys {
			t.Errorf("%s is in %s", x.record, j.Unit)
		}
	}
}

func writeExample(t *testing.T, job, path string) {
	t.Helper()
	p := planOf(t, "T", nil)
	if job == "tray" {
		p = trayPlan(t)
	}
	p = p.AtLevel(3)
	var r *bench.Result
	for seed := uint64(1); seed < 40; seed++ { // the first bench that shows a whole one
		var err error
		if r, err = bench.Auto(p, bench.Options{Seed: seed, LetsGo: true, Cards: jobs.Flatten(p.Job)}); err != nil {
			t.Fatalf("%s: %v", job, err)
		}
		if r.State == "released" {
			break
		}
		t.Logf("%s, seed %d: %s at %v: %s", job, seed, r.State, *r.HeldAt, r.Walk.Words)
	}
	os.MkdirAll(filepath.Dir(path), 0o755)
	os.Remove(path)
	rec, _, _, err := jobs.OpenRecord(jobs.OS(), path, "bench")
	if err != nil {
		t.Fatal(err)
	}
	defer os.Remove(filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".lock"))
	defer rec.Close()
	if err := rec.Append(r.Walk.Events...); err != nil {
		t.Fatal(err)
	}
}

func trayPlan(t *testing.T) *fold.Plan {
	t.Helper()
	dir := filepath.Join("..", "..", "testdata", "tray")
	j, faults := jobs.ReadJob(jobs.OS(), filepath.Join(dir, "tray.job.yaml"))
	if faults.Err() != nil {
		t.Fatal(faults)
	}
	programs := map[string]fold.ProgramFile{}
	s, _ := j.Setup("side2")
	for _, g := range s.Programs {
		b, err := os.ReadFile(filepath.Join(dir, g.File))
		if err != nil {
			t.Fatal(err)
		}
		programs[g.Role] = fold.ProgramFile{Name: g.File, Hash: "fedcba9876543210", Data: b}
	}
	p, err := steps.NewPlan(j, "side2", programs)
	if err != nil {
		t.Fatal(err)
	}
	return p
}
