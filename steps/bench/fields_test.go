package bench_test

import (
	"fmt"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// Where a number is asked, something is expected: what is known by then says where it can lie, and a slip of the keys stands out.
//
//	UPDATE=1 go test -run TestEveryNumberIsExpected ./steps/bench
//
// words-firsts.golden has the fields that only the machine's travel bounds, or nothing: the first number on an axis. It may only shrink.
func TestEveryNumberIsExpected(t *testing.T) {
	var open []string
	seen := map[string]bool{}
	fields, slips, caught := 0, 0, 0
	for _, w := range expectedWalks(t) {
		k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 21, bench.Usual(w.plan)), nil)
		if w.letsGo {
			if _, err := k.Until(nil); err != nil {
				t.Fatal(err)
			}
			if err := k.LetGo(); err != nil {
				t.Fatal(err)
			}
		}
		eachField(t, k, func(st *fold.State, a fold.Ask, text string) {
			if a.Kind != fold.Reading {
				return
			}
			key := fmt.Sprintf("%s: %s/%s", w.tag, st.Cursor.Step, a.Field)
			if fields++; (a.Window == nil || a.Window.Why == "the machine's travel") && !seen[key] {
				seen[key] = true
				open = append(open, key)
			}
			if e, err := st.Understand(a.Field, text); err != nil || e.Far {
				t.Errorf("%s: the sound reading %s is doubted: %v, expected %+v", key, text, err, a.Window)
			}
			if bad, ok := tensUp(text, a.Unit, st.Plan().Job.Unit); ok {
				slips++
				if e, err := st.Understand(a.Field, bad); err != nil || e.Far {
					caught++
				}
			}
		})
	}
	only(t, "firsts", "fields with no expectation but the machine's travel", open)
	t.Logf("%d fields; of %d lengths with a slip of 1 mm or 0.1 in %d are doubted", fields, slips, caught)
	if caught*100 < slips*doubtedShare {
		t.Errorf("of %d lengths with a digit one key away %d are doubted: at least %d of 100 were", slips, caught, doubtedShare)
	}
}

// doubtedShare of a hundred is what was measured; it may only grow.
const doubtedShare = 79

// tensUp is a length with the digit one key away that makes it 1 mm more, or 0.1 in.
func tensUp(text string, k unit.Kind, sys unit.System) (string, bool) {
	if k != unit.KLength {
		return "", false
	}
	n, err := unit.Parse(text, k, sys)
	if err != nil {
		return "", false
	}
	if sys == unit.Imperial {
		return fmt.Sprintf("%.4f", n.Value/float64(unit.Inch)+0.1), true
	}
	return fmt.Sprintf("%.3f", n.Value+1), true
}

// expecting is a plan whose fields are looked at, or those of the rescue after it.
type expecting struct {
	walked
	letsGo bool
}

// expectedWalks are all that are walked by the words, and parts that let go.
func expectedWalks(t *testing.T) (out []expecting) {
	t.Helper()
	for _, w := range settings(t) {
		if w.much > 0 {
			out = append(out, expecting{walked: w})
		}
	}
	for _, w := range []walked{{setting: setting{tag: "rescue T"}, plan: shipped(t, "T", nil)}, {setting: setting{tag: "rescue S"}, plan: shipped(t, "S", nil)},
		{setting: setting{tag: "rescue turned"}, plan: shipped(t, "T", func(j *jobs.Job, _ map[string]string) { j.Machine.Rotation = "G68" })},
		{setting: setting{tag: "rescue inch", inch: true}, plan: shipped(t, "inch", nil)}} {
		out = append(out, expecting{w, true})
	}
	return out
}
