package fold_test

import (
	"testing"

	"fliptrue/steps/fold"
)

// A step opened again by choice is where the walk goes on, and what rests on it falls with its first reading.
func TestReopen(t *testing.T) {
	y := newToy(t)
	y.until("t.unstrap")
	st := y.l.State(y.p)
	es, err := st.Reopen("t.seat")
	if err != nil {
		t.Fatal(err)
	}
	y.put(es...)
	st = y.l.State(y.p)
	if st.Cursor.Step != "t.seat" || st.Cursor.Round != 2 {
		t.Fatalf("the walk goes on at %s round %d, want t.seat round 2", st.Cursor.Step, st.Cursor.Round)
	}
	if _, ok := st.Fact("screws"); !ok {
		t.Error("opening a round alone lost the screws")
	}
	y.step(1)
	st = y.l.State(y.p)
	if _, ok := st.Fact("screws"); ok {
		t.Error("the part was seated again and its screws still stand")
	}
	if _, ok := st.Fact("holes"); !ok {
		t.Error("holes do not stand on the seat, yet they fell")
	}
	y.walk()
}

// A recheck that passed and leaves a fact does not bring it back: it is to be made again.
func TestRecheckThatLeaves(t *testing.T) {
	y := newToy(t)
	y.until("t.seat")
	y.mishap("probe-changed")
	y.until("ball")
	y.step(7) // the toy's ball leaves the bore when it reads 7
	st := y.l.State(y.p)
	if _, ok := st.Fact("bore"); ok {
		t.Error("the bore came back although the calibration leaves it")
	}
	if _, ok := st.Fact("floor"); !ok {
		t.Error("the floor did not come back with the calibration")
	}
	if st.Cursor.Step != "t.bore" {
		t.Errorf("the walk goes on at %s, want t.bore", st.Cursor.Step)
	}
	y.walk()
}

// A recheck that compares with a fact that was never made can't be done: the fact is made again.
func TestRecheckWithoutItsComparison(t *testing.T) {
	p := toyPlan(t)
	y := &toy{t: t, p: p, l: toys().Log()}
	sp, _ := p.Spec("seat-check")
	sp.Recheck.Against = []fold.FactID{"clamps"}
	sp.Relate()
	y.put(fold.Begin("s", nil, ""))
	y.until("t.clamps")
	y.mishap("part-bumped")
	y.until("t.seat")
	y.walk()
}
