package bench

import (
	"math"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// keyedAt is what was read back of the offset along an axis, first and last.
func keyedAt(t *testing.T, es []jobs.Event, axis string) (first, last float64) {
	t.Helper()
	n := 0
	for _, e := range es {
		if at := e.Answer; len(at) > 0 && stepOf(at) == "offset" && at[len(at)-len(axis)-1:] == "/"+axis {
			q, err := unit.Parse(e.Value, unit.KLength, unit.Metric)
			if err != nil {
				t.Fatal(err)
			}
			if last = q.Value; n == 0 {
				first = last
			}
			n++
		}
	}
	if n < 2 {
		t.Fatalf("offset %s was read back %d times", axis, n)
	}
	return first, last
}

func stepOf(at string) string {
	parts := strings.Split(at, "/")
	if len(parts) < 2 {
		return ""
	}
	return parts[1]
}

// A part that grew since side 1 stands to one side, and how far is known. The release says so; the offset keyed
// anew carries the middle of it, and what is then cut lies nearer to side 1.
func TestOffsetKeyedAnewCarriesTheMiddle(t *testing.T) {
	found := 0
	for seed := uint64(1); seed <= 8; seed++ {
		p := lid(t, func(j *jobs.Job) { j.Setups[0].HoldDown = "S" }).AtLevel(fold.Proven)
		r := auto(t, p, Options{Seed: seed})
		n := 0
		for _, f := range r.Walk.Failed {
			if f.Limit == "release.register" && f.Verdict == fold.NotProven {
				n++
			}
		}
		if n == 0 {
			continue
		}
		found++
		if n != 1 || r.State != "released" {
			t.Errorf("seed %d: %d times not proven, %s", seed, n, r.State)
			continue
		}
		x0, x1 := keyedAt(t, r.Walk.Events, "x")
		y0, y1 := keyedAt(t, r.Walk.Events, "y")
		before, after := 0.0, 0.0
		for _, e := range r.TrueError {
			after = math.Max(after, math.Max(math.Abs(e.X), math.Abs(e.Y)))
			before = math.Max(before, math.Max(math.Abs(e.X+x1-x0), math.Abs(e.Y+y1-y0)))
		}
		t.Logf("seed %d: shifted X %+.3f Y %+.3f, true mismatch %.3f -> %.3f", seed, x1-x0, y1-y0, before, after)
		if after >= before {
			t.Errorf("seed %d: shifted X %+.3f Y %+.3f, and the true mismatch went from %.4f to %.4f", seed, x1-x0, y1-y0, before, after)
		}
	}
	if found == 0 {
		t.Fatal("no seed had its offset keyed anew")
	}
}
