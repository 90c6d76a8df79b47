package zztry

import (
	"fmt"
	"math"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
)

func TestAuto(t *testing.T) {
	for _, hd := range []string{"T", "M", "S"} {
		j, err := builtin.Job(hd)
		if err != nil {
			t.Fatal(err)
		}
		p, err := steps.NewPlan(j, j.Setups[0].Name, nil)
		if err != nil {
			t.Fatal(err)
		}
		rel, in, n := 0, 0, 0
		big := 0.0
		held := map[string]int{}
		for s := uint64(1); s <= 200; s++ {
			r, err := bench.Auto(p, bench.Options{Seed: s, Cards: jobs.Flatten(j)})
			if err != nil {
				t.Fatal(hd, s, err)
			}
			if r.State == "released" {
				rel++
			} else {
				held[string(*r.HeldAt)]++
				if held[string(*r.HeldAt)] == 1 {
					ss, _ := r.Walk.State().Step(*r.HeldAt)
					fmt.Println(s, *r.HeldAt, ss.Verdict)
					for _, c := range ss.Outcome.Checks {
						fmt.Println("   ", c.Limit.ID, c.Got, c.Guard, c.Limit.Max, c.Verdict, c.Words)
					}
					fmt.Println(r.Walk.State().Troubles)
				}
			}
			for _, f := range r.Features {
				te := r.TrueError[f.Name]
				for _, d := range [][3]float64{{te.X, f.Error.X, f.U.X}, {te.Y, f.Error.Y, f.U.Y}} {
					n++
					big = math.Max(big, math.Abs(d[0]))
					if math.Abs(d[0]-d[1]) <= d[2] {
						in++
					}
				}
			}
		}
		fmt.Println(hd, "released", rel, "in U", in, "of", n, "largest", big, held)
	}
}
