package bench

import (
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// A fixture that did move under a seated part: the recheck says by how much before anything
// is measured anew, and the part comes out before the floor is touched or the fixture tapped.
// The bench refuses both while it is in.
func TestPartComesOutBeforeTheFixtureIsProvenAnew(t *testing.T) {
	for _, c := range []struct {
		hold, at string
		move     xy
		turn     float64
		sink     float64
	}{
		{"T", "drill", xy{0.04, -0.03}, 0, 0}, {"T", "screws", xy{}, 0, 0.05}, {"T", "deck", xy{}, 1e-3, 0},
		{"M", "threads", xy{0.04, 0}, 0, 0}, {"M", "unstrap", xy{}, 0, 0.05}, {"M", "baseline", xy{}, 1e-3, 0},
		{"S", "screws", xy{0.04, 0}, 0, 0}, {"S", "deck", xy{}, 0, 0.05}, {"S", "reference", xy{}, 1e-3, 0},
	} {
		p := lid(t, func(j *jobs.Job) { j.Setups[0].HoldDown = c.hold })
		e := Effects{Readout: 0.001}
		w := NewWorld(p, 3, e)
		k := NewWalk(p, w, nil)
		if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == fold.StepID(c.at) }); !ok || err != nil {
			t.Fatal(c, ok, err, k.Words)
		}
		w.fixture = w.fixture.about(xy{}, c.turn, c.move)
		w.floor.h -= c.sink
		if err := k.Declare("part-bumped", ""); err != nil {
			t.Fatal(err)
		}
		told := ""
		k.Watch = func(st *fold.State) {
			if ss, _ := st.Step(st.Cursor.Step); ss.Off && told == "" {
				told = ss.Outcome.Learned
			}
		}
		if _, err := k.Until(nil); err != nil || !k.State().Released {
			t.Errorf("%v: held at %v: %s %v", c, k.HeldAt, k.Words, err)
		}
		if told == "" {
			t.Errorf("%v: nothing is told of the recheck that failed", c)
		}
		var order []string
		for _, e := range k.Events {
			if e.Round != "" {
				order = append(order, strings.Split(e.Round, "/")[1])
			}
		}
		seated, out, again := slices.Index(order, "seat"), slices.Index(order, "part-out"), len(order)
		for i, id := range order {
			if i > seated && (id == "square" || id == "floor") {
				again = min(again, i)
			}
		}
		if out < 0 || again == len(order) || out > again || !slices.Contains(order[out:], "seat") {
			t.Errorf("%v: no part out before square and floor, or not seated after: %v", c, order)
		}
	}
}

// What was probed before the probe was out is not held against a touch after it: a probe that
// went back longer is no fixture that sank.
func TestRefittedProbeIsNoMovedFloor(t *testing.T) {
	p := lid(t, nil)
	w := NewWorld(p, 3, Effects{Readout: 0.001})
	k := NewWalk(p, w, nil)
	inDrill := func(st *fold.State) bool { return st.Cursor.Step == "drill" && st.Cursor.Field == "depth" }
	if ok, err := k.Until(inDrill); !ok || err != nil {
		t.Fatal(ok, err, k.Words)
	}
	before, _ := k.State().Fact("offset")
	w.probe += 0.013
	if err := k.Declare("part-bumped", ""); err != nil {
		t.Fatal(err)
	}
	left := k.State().Left
	if i, j := slices.Index(left, "length-check"), slices.Index(left, "datum-check"); i < 0 || i > j {
		t.Errorf("the probe's length is not taken before the floor is judged: %v", left)
	}
	if ok, err := k.Until(inDrill); !ok || err != nil {
		t.Fatal(ok, err, k.HeldAt, k.Words)
	}
	after, ok := k.State().Fact("offset")
	if !ok || after.First != before.First {
		t.Errorf("the offset was made anew: %+v, before %+v", after, before)
	}
	for _, f := range k.Failed {
		if f.Step == "datum-check" {
			t.Errorf("a refitted probe fails the floor: %+v", f)
		}
	}
}

// After a crash the tram is swept: no tilts found before it are taken, and the step is not
// met before the sweep has its verdict.
func TestCrashWantsASweep(t *testing.T) {
	p := lid(t, nil)
	k := NewWalk(p, NewWorld(p, 3, Usual(p)), nil)
	if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "straps" }); !ok || err != nil {
		t.Fatal(ok, err)
	}
	if err := k.Declare("spindle-crash", ""); err != nil {
		t.Fatal(err)
	}
	if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "tram" }); !ok || err != nil {
		t.Fatal(ok, err)
	}
	met := 0
	if ok, err := k.Until(func(st *fold.State) bool {
		if ss, _ := st.Step("tram"); ss.Round != nil && ss.Round.First > 0 && !ss.Verdict.OK() {
			met++
			if st.Cursor.Step != "tram" {
				t.Fatalf("goes on at %s without a verdict of the sweep", st.Cursor.Step)
			}
		}
		return st.Cursor.Step == "square"
	}); !ok || err != nil {
		t.Fatal(ok, err, k.HeldAt, k.Words)
	}
	ss, _ := k.State().Step("tram")
	for _, f := range []string{"jog0", "r0", "r90", "r180", "r270", "close"} {
		if _, ok := ss.Round.Get(f); !ok {
			t.Errorf("the sweep took no %s", f)
		}
	}
	if _, ok := ss.Round.Get("way"); ok || met == 0 || len(ss.Outcome.Checks) == 0 {
		t.Errorf("asked the way %v, %d states in the sweep, %d checks", ok, met, len(ss.Outcome.Checks))
	}
	// The dial came out since: its jog test is taken anew, and what lay between is no tap.
	if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "bore" || st.Cursor.Step == "ball" }); !ok || err != nil {
		t.Fatal(ok, err, k.HeldAt, k.Words)
	}
	sq, _ := k.State().Step("square")
	for _, r := range sq.Rounds {
		if _, jogged := r.Get("jog0"); r.Opened > ss.Round.Last {
			if !jogged {
				t.Error("the fixture is squared with the dial's jog test of before the crash")
			}
			break
		}
	}
}

// Who says that the part was taken out and left it in is found out by the pocket.
func TestPartLeftInIsSeen(t *testing.T) {
	p := lid(t, nil)
	w := NewWorld(p, 3, Effects{Readout: 0.001})
	k := NewWalk(p, w, nil)
	if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "drill" }); !ok || err != nil {
		t.Fatal(ok, err)
	}
	if _, err := w.Read(fold.Ask{Kind: fold.Reading, What: fold.What{By: "probe", Of: "floor@40,20", Dir: "z-", Axis: "z"}}); err == nil {
		t.Error("the bench reads a floor that the part covers")
	}
	if err := w.Do(fold.Act{Do: "tap", Of: "fixture@right", Dir: "away", Amount: 0.01}); err == nil {
		t.Error("the bench taps with the part in")
	}
	if err := k.Declare("fixture-tapped", ""); err != nil {
		t.Fatal(err)
	}
	st := k.State()
	if st.Cursor.Step != "part-out" {
		t.Fatalf("goes on at %s", st.Cursor.Step)
	}
	es, err := st.Take("bench", [2]string{"left", "0"})
	if err != nil {
		t.Fatal(err)
	}
	if err := k.Add(es...); err != nil {
		t.Fatal(err)
	}
	a, _ := k.State().Ask("pocket")
	if got, err := w.Read(a); err != nil || got != "not bare" {
		t.Errorf("the pocket is seen %q, %v", got, err)
	}
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Errorf("held at %v: %s %v", k.HeldAt, k.Words, err)
	}
	if len(k.Failed) == 0 || k.Failed[0].Step != "part-out" {
		t.Errorf("a part left in passes: %+v", k.Failed)
	}
}
