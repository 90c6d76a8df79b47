package bench

import (
	"slices"
	"testing"

	"fliptrue/steps/fold"
)

// The way back counts what each step really takes, and after a crash of the spindle it
// holds the tram, which the fixture's direction waits for.
func TestWayBackCountsWhatItTakes(t *testing.T) {
	p := lid(t, nil)
	k := NewWalk(p, NewWorld(p, 1, Usual(p)), nil)
	if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "baseline" }); !ok || err != nil {
		t.Fatal(ok, err)
	}
	if err := k.Declare("spindle-crash", ""); err != nil {
		t.Fatal(err)
	}
	st := k.State()
	said := map[fold.StepID]int{}
	for _, b := range st.Way {
		said[b.Step] = b.Readings
	}
	if said["tram"] == 0 || slices.Index(st.Left, "tram") > slices.Index(st.Left, "square") || !slices.Contains(st.Left, "tram") {
		t.Errorf("no tram before the square: %v", st.Left)
	}
	if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "baseline" }); err != nil {
		t.Fatal(err)
	}
	for _, id := range []fold.StepID{"square", "bore", "floor", "offset", "seat"} {
		ss, _ := k.State().Step(id)
		n := 0
		for _, a := range ss.Asks {
			if !a.Optional {
				n++
			}
		}
		if said[id] == 0 || said[id] < n-2 { // of the square the jog test of the run before may serve
			t.Errorf("%s: said %d readings, asked %d", id, said[id], n)
		}
	}
}
