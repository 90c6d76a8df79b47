package steps_test

import (
	"strings"
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// A pivot end that reads 0.83 from the round before is doubted, not tapped after. Read again as it was, the walk
// goes on as if it had never been typed; read twice so, it is so.
func TestAContradictedPivotIsDoubtedBeforeATap(t *testing.T) {
	p := practicePlan(t, "T")
	for _, twice := range []bool{false, true} {
		k := bench.NewWalk(p, bench.NewWorld(p, 5, bench.Usual(p)), nil)
		if ok, err := k.Until(func(st *fold.State) bool {
			return st.Cursor.Step == "square" && st.Cursor.Round > 1 && st.Cursor.Field == "low"
		}); err != nil || !ok {
			t.Fatal(ok, err)
		}
		st := k.State()
		a, _ := st.Ask("low")
		good, err := k.Offer(st, a)
		if err != nil {
			t.Fatal(err)
		}
		wrong := fmtMM(num(t, good) + 0.83)
		put := func(field, value string) {
			es, err := k.State().Take("keyed", [2]string{field, value})
			if err == nil {
				err = k.Add(es...)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		put("low", wrong)
		a, _ = k.State().Ask("high")
		high, err := k.Offer(k.State(), a)
		if err != nil {
			t.Fatal(err)
		}
		put("high", high)
		ss, _ := k.State().Step("square")
		c := checkOf(t, ss, "square.pivot")
		if c.Verdict != fold.Fail || c.Got < 0.7 {
			t.Errorf("the pivot end moved by %.3f: %v", c.Got, c.Verdict)
		}
		for _, n := range ss.Outcome.Next {
			if n.Do == "tap" {
				t.Errorf("a tap is ordered: %s", n.Words)
			}
		}
		if twice {
			put("low", wrong)
			put("high", high)
			ss, _ = k.State().Step("square")
			if said := words(ss.Outcome); strings.Contains(said, "Read it again") || !strings.Contains(said, "moved by") {
				t.Errorf("read twice: %s", said)
			}
			continue
		}
		put("low", good)
		if _, err := k.Until(nil); err != nil || !k.State().Released {
			t.Fatalf("held at %v: %s %v", k.HeldAt, k.Words, err)
		}
	}
}
