// Package trial is what tests of the rooms of steps share: the example jobs as plans, and a step judged by
// values that are typed.
//
// Non-goals: nothing but tests imports it, and it holds no number that a test compares with.
package trial

import (
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// Typed is a field and what is typed into it.
type Typed = [2]string

// When is the time of every trial.
var When = time.Unix(1772000000, 0)

// Job reads a job of the project by its path from the root.
func Job(t testing.TB, path string) *jobs.Job {
	t.Helper()
	root := "."
	for range 8 {
		if _, err := os.Stat(filepath.Join(root, "go.mod")); err == nil {
			break
		}
		root = filepath.Join("..", root)
	}
	j, faults := jobs.ReadJob(jobs.OS(), filepath.Join(root, filepath.FromSlash(path)))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return j
}

// Lid is the example job of the lid.
func Lid(t testing.TB) *jobs.Job {
	t.Helper()
	return Job(t, "jobs/testdata/lid.job.yaml")
}

// Plan is the plan of a job's setup, the first where none is named; edit may be nil.
func Plan(t testing.TB, j *jobs.Job, setup string, edit func(*jobs.Job)) *fold.Plan {
	t.Helper()
	if edit != nil {
		edit(j)
	}
	if setup == "" {
		setup = j.Setups[0].Name
	}
	p, err := steps.NewPlan(j, setup, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// FirstSide is a first side put before the lid's second.
func FirstSide(t testing.TB, edit func(*jobs.Job, *jobs.Setup)) *fold.Plan {
	t.Helper()
	s := jobs.Setup{Name: "side1", Kind: kit.FirstSide, Z0: "top skin", Offset: "G55", Finds: "probe", Hits: 6, Stations: 7, Zero: "corner",
		Vise: jobs.Vise{Jaw: "toward", JawTop: -11.5, Grip: 5, Stop: "left", Wall: 2, WallSpan: 40},
		Cut:  jobs.Cut{Tool: 3, Ae: 1, Ap: 0.5, Fz: 0.02, Lowest: -9}}
	j := Lid(t)
	if edit != nil {
		edit(j, &s)
	}
	j.Setups = append([]jobs.Setup{s}, j.Setups...)
	return Plan(t, j, s.Name, nil)
}

// Judged is what a step makes of typed values, standing on facts.
func Judged(t testing.TB, p *fold.Plan, id fold.StepID, facts []fold.Known, in ...Typed) fold.Outcome {
	t.Helper()
	sp, ok := p.Spec(id)
	if !ok {
		t.Fatalf("no step %s", id)
	}
	return sp.Judge(fold.Trial(p, id, When, facts, in...))
}

// Fact is one that an outcome makes, without a number where it makes none.
func Fact(o fold.Outcome, id fold.FactID) fold.Known {
	f, _ := o.Fact(id)
	return f
}

// Near prints a number beside the one wanted, and holds it to that.
func Near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	t.Logf("%-32s %14.8f %14.8f", what, want, got)
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s %.9f, want %.9f", what, got, want)
	}
}
