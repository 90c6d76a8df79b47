package bench_test

import (
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// eachField walks a plan one field at a time and shows each, with what the bench reads there, before it is taken.
func eachField(t testing.TB, k *bench.Walk, see func(st *fold.State, a fold.Ask, text string)) {
	t.Helper()
	for range 2000 {
		st := k.State()
		if st.Released || k.HeldAt != nil {
			return
		}
		a, ok := st.Ask(st.Cursor.Field)
		if st.Cursor.Idle || st.Cursor.Decide || !ok {
			turns := 0
			if _, err := k.Until(func(*fold.State) bool { turns++; return turns > 1 }); err != nil {
				t.Fatal(err)
			}
			continue
		}
		text, err := k.Offer(st, a)
		if err != nil {
			t.Fatal(err)
		}
		see(st, a, text)
		es, err := st.Take("bench", [2]string{a.Field, text})
		if err != nil {
			t.Fatal(err)
		}
		if err := k.Add(es...); err != nil {
			t.Fatal(err)
		}
	}
	t.Errorf("it goes round in a circle at %+v", k.State().Cursor)
}
