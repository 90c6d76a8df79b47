package bench

import (
	"fmt"
	"regexp"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

var figures = regexp.MustCompile(`[0-9.+-]+`)

// At every step of every plan, each answer is made wrong and each reading pushed out of its
// window, one at a time: what then does not pass never carries the sentence of what passes.
func TestNoFailCarriesASuccess(t *testing.T) {
	if testing.Short() {
		t.Skip("whole walks: without -short")
	}
	plans := map[string]*fold.Plan{"first side": side1(t, nil)}
	for _, h := range []string{"T", "S"} {
		plans[h] = lid(t, func(j *jobs.Job) { j.Setups[0].HoldDown = h })
	}
	for name, p := range plans {
		k := NewWalk(p, NewWorld(p, 3, Usual(p)), nil)
		if _, err := k.Until(nil); err != nil {
			t.Fatal(err)
		}
		end := k.State()
		failed := map[fold.StepID]bool{}
		for _, ss := range end.Steps {
			if !ss.Verdict.OK() || ss.Round == nil {
				continue
			}
			pass := figures.ReplaceAllString(ss.Outcome.Learned, "#")
			for _, a := range ss.Asks {
				wrong := "7"
				switch {
				case a.Kind == fold.Choice:
					for _, o := range a.Options {
						if o != a.Want {
							wrong = o
						}
					}
				case a.Kind == fold.Text:
					wrong = "another"
				case a.Kind == fold.Count && a.Want == "":
					continue
				case a.Window != nil:
					v := a.Window.Want + 1.5*a.Window.Half
					wrong = unit.Format(v, a.Unit, unit.Metric, 0)
				}
				at := fmt.Sprintf("%s/%s/%d/%s", p.Setup.Name, ss.ID, ss.Round.No, a.Field)
				st := fold.Fold(p, append(k.Events[:len(k.Events):len(k.Events)], jobs.Event{Answer: at, Value: wrong, At: end.LastAt}))
				now, ok := st.Step(ss.ID)
				if !ok || now.Verdict != fold.Fail && now.Verdict != fold.NotProven {
					continue
				}
				failed[ss.ID] = true
				if l := figures.ReplaceAllString(now.Outcome.Learned, "#"); l == pass || l == "" {
					t.Errorf("%s: %s = %q is %v and says %q", name, at, wrong, now.Verdict, now.Outcome.Learned)
				}
			}
		}
		t.Logf("%s: failing outcomes at %d of %d steps", name, len(failed), len(end.Steps))
		if len(failed) < len(end.Steps)/2 {
			t.Errorf("%s: only %d of %d steps can fail", name, len(failed), len(end.Steps))
		}
	}
}
