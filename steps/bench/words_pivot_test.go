package bench_test

import (
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// pivot notes what is said of a pivot end that contradicts the round before, and of one that does so twice.
func (s *said) pivot(t *testing.T) {
	t.Helper()
	in := setting{tag: "T pivot"}
	p := shipped(t, "T", nil)
	k := bench.NewWalk(p, bench.NewWorld(p, 5, bench.Usual(p)), nil)
	if ok, err := k.Until(func(st *fold.State) bool {
		return st.Cursor.Step == "square" && st.Cursor.Round > 1 && st.Cursor.Field == "low"
	}); err != nil || !ok {
		t.Fatal(ok, err)
	}
	read := map[string]string{}
	for range 2 {
		for _, f := range []string{"low", "high"} {
			if read[f] == "" {
				a, _ := k.State().Ask(f)
				v, err := k.Offer(k.State(), a)
				if err != nil {
					t.Fatal(err)
				}
				n, err := unit.Parse(v, unit.KLength, unit.Metric)
				if err != nil {
					t.Fatal(err)
				}
				if read[f] = v; f == "low" {
					read[f] = unit.Format(n.Value+0.83, unit.KLength, unit.Metric, 0)
				}
			}
			es, err := k.State().Take("keyed", [2]string{f, read[f]})
			if err == nil {
				err = k.Add(es...)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		s.state(in, k.State(), "square")
	}
}
