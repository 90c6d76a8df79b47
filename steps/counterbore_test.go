package steps_test

import (
	"testing"

	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// The drill goes down into the counterbores of 9.5 by a rapid: where the job states them that
// is air, where it does not the stock stands there, and where they are narrower than the drill too.
func TestCounterboreOfTheJob(t *testing.T) {
	for _, c := range []struct {
		name   string
		bore   float64
		passes bool
	}{{"9.5 mm", 9.5, true}, {"not stated", 0, false}, {"narrower than the drill", 2, false}} {
		j, files := programsOf(t, "T", asShipped)
		j.Setups[0].Screws.Bore = c.bore
		p, err := steps.NewPlan(j, "side2", files)
		if err != nil {
			t.Fatal(err)
		}
		k := walkOf(t, p)
		st := k.State()
		if c.passes {
			if !st.Released {
				t.Errorf("%s: held at %s", c.name, st.Cursor.Step)
			}
			continue
		}
		if k.HeldAt == nil || *k.HeldAt != "program" {
			t.Errorf("%s: held at %v, want program", c.name, st.Cursor.Step)
			continue
		}
		ss, _ := st.Step("program")
		if got := checkOf(t, ss, "program.drill.rapid-in-part"); got.Verdict != fold.Fail {
			t.Errorf("%s: %v, want a rapid in the part", c.name, got)
		}
	}
}
