package steps_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// nextWalk begins the next part at the same world with what the last record hands over.
func nextWalk(t *testing.T, p *fold.Plan, w *bench.World) *bench.Walk {
	t.Helper()
	k := bench.NewWalk(p, w, nil)
	if _, err := k.Until(nil); err != nil {
		t.Fatal(err)
	}
	cards, err := k.State().Taken()
	if err != nil {
		t.Fatal(err)
	}
	return bench.NewWalk(p, w, cards)
}

func walked(k *bench.Walk) (out []fold.StepID) {
	for _, ss := range k.State().Steps {
		if len(ss.Rounds) > 0 {
			out = append(out, ss.ID)
		}
	}
	return
}

// The next blank starts at one short recheck and the seat; nothing of the mounting is read again.
func TestNextBlank(t *testing.T) {
	for _, hd := range []string{"T", "M", "S"} {
		p := practicePlan(t, hd)
		w := bench.NewWorld(p, 5, bench.Usual(p))
		k := nextWalk(t, p, w)
		st := k.State()
		if st.Cursor.Step != "next" {
			t.Fatalf("%s: the next part begins at %s", hd, st.Cursor.Step)
		}
		for _, f := range []fold.FactID{"bore", "floor", "offset", "echo"} {
			if _, ok := st.Fact(f); ok {
				t.Errorf("%s: %s is current before it was proven", hd, f)
			}
		}
		if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step != "next" }); err != nil || !ok {
			t.Fatalf("%s: %v, held %v %s", hd, err, k.HeldAt, k.Words)
		}
		st = k.State()
		if st.Cursor.Step != "seat" {
			t.Fatalf("%s: after next comes %s, want seat", hd, st.Cursor.Step)
		}
		for _, f := range []fold.FactID{"identity", "skew", "bore", "floor", "offset", "echo", "program/top"} {
			if _, ok := st.Fact(f); !ok {
				t.Errorf("%s: %s does not stand after next", hd, f)
			}
		}
		if _, err := k.Until(nil); err != nil {
			t.Fatal(err)
		}
		if !k.State().Released {
			t.Errorf("%s: the next part is held at %v: %s", hd, k.HeldAt, k.Words)
		}
		for _, id := range walked(k) {
			if id == "mount" || id == "square" || id == "bore" || id == "floor" || id == "offset" {
				t.Errorf("%s: %s was done again", hd, id)
			}
		}
	}
}

// What stands between the parts is seen: a fixture that moved is not taken over.
func TestNextBlankOnAFixtureThatMoved(t *testing.T) {
	p := practicePlan(t, "T")
	w := bench.NewWorld(p, 5, bench.Usual(p))
	k := nextWalk(t, p, w)
	for _, a := range []fold.Act{{Do: "remove", Of: "part"}, {Do: "tap", Of: "fixture", Dir: "away", Amount: 0.05}} {
		if err := w.Do(a); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := k.Until(nil); err != nil {
		t.Fatal(err)
	}
	if !k.State().Released {
		t.Fatalf("held at %v: %s", k.HeldAt, k.Words)
	}
	if got := walked(k); len(got) < 10 || got[1] != "mount" {
		t.Errorf("walked %v, want all from mount on", got)
	}
}

// A mishap in the next record voids what was taken over as it would its own.
func TestNextBlankThenAMishap(t *testing.T) {
	p := practicePlan(t, "T")
	w := bench.NewWorld(p, 5, bench.Effects{})
	k := nextWalk(t, p, w)
	if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "straps" }); err != nil {
		t.Fatal(err)
	}
	if err := k.Declare("fixture-tapped", ""); err != nil {
		t.Fatal(err)
	}
	if _, ok := k.State().Fact("offset"); ok {
		t.Error("the offset taken over stands on a fixture that was tapped")
	}
	if left := k.State().Left; left[0] != "part-out" || left[1] != "square" {
		t.Errorf("goes on at %v, want the part out and square", left)
	}
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Errorf("held at %v: %s %v", k.HeldAt, k.Words, err)
	}
}

func TestTakenWantsARelease(t *testing.T) {
	p := practicePlan(t, "T")
	k := bench.NewWalk(p, bench.NewWorld(p, 5, bench.Effects{}), nil)
	if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "shift" }); err != nil {
		t.Fatal(err)
	}
	if _, err := k.State().Taken(); err == nil || !strings.Contains(err.Error(), "not released") {
		t.Errorf("an unfinished part hands over: %v", err)
	}
}

// A fixture that turned about its bore while the part before was prised out is not taken over: by the far end of it, 0.010 and more.
func TestNextBlankOnAFixtureThatTurned(t *testing.T) {
	for _, c := range []struct {
		mrad  float64
		taken bool
	}{{0, true}, {0.02, true}, {0.3, false}, {0.5, false}, {1, false}, {2, false}} {
		p := practicePlan(t, "T")
		w := bench.NewWorld(p, 5, bench.Effects{})
		k := nextWalk(t, p, w)
		if c.mrad != 0 {
			w.TurnAboutBore(c.mrad * 1e-3)
		}
		if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step != "next" || st.Cursor.Decide }); err != nil {
			t.Fatal(err)
		}
		st := k.State()
		if taken := st.Cursor.Step == "seat"; taken != c.taken {
			t.Errorf("turned by %g mrad: taken over %v, stands at %+v", c.mrad, taken, st.Cursor)
		}
	}
}

// A rotation ends with the program of the part before: it is keyed in again, and all words of the offset are read back.
func TestNextBlankKeysTheRotationAgain(t *testing.T) {
	j := *practicePlan(t, "T").Job
	j.Machine.Rotation = "G68"
	p, err := steps.NewPlan(&j, "side2", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, obeys := range []bool{true, false} {
		k := nextWalk(t, p, bench.NewWorld(p, 5, bench.Usual(p)))
		if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step != "next" }); err != nil {
			t.Fatal(err)
		}
		st := k.State()
		if _, stands := st.Fact("echo"); stands || st.Cursor.Step != "reread" {
			t.Fatalf("after next the control counts as read (%v), stands at %+v", stands, st.Cursor)
		}
		for _, f := range []fold.FactID{"bore", "floor", "offset"} {
			if _, ok := st.Fact(f); !ok {
				t.Errorf("%s does not stand after next", f)
			}
		}
		var keyed bool
		for _, f := range st.Cursor.Form {
			a, _ := st.Ask(f)
			for _, d := range a.Do {
				keyed = keyed || d.Do == "key" && d.Dir == "rotation" && math.Abs(d.Amount) > 1e-5
			}
		}
		if !keyed || !slices.Contains(st.Cursor.Form, "x") || !slices.Contains(st.Cursor.Form, "z") || !slices.Contains(st.Cursor.Form, "rotation") {
			t.Errorf("asked are %v, the rotation keyed %v", st.Cursor.Form, keyed)
		}
		if !obeys { // the person reads the page as the program left it
			for _, f := range st.Cursor.Form {
				a, _ := st.Ask(f)
				v := "0"
				if a.Window != nil && f != "rotation" {
					v = strconv.FormatFloat(a.Window.Want, 'f', 3, 64)
				} else if f == "z0" {
					v = a.Want
				}
				es, err := st.Take("keyed", [2]string{f, v})
				if err != nil {
					t.Fatal(f, err)
				}
				if err := k.Add(es...); err != nil {
					t.Fatal(err)
				}
				st = k.State()
			}
			if ss, _ := st.Step("reread"); ss.Verdict != fold.Fail {
				t.Errorf("with the rotation at zero: %v", ss.Verdict)
			}
			continue
		}
		if _, err := k.Until(nil); err != nil || !k.State().Released {
			t.Fatalf("held at %v: %s %v", k.HeldAt, k.Words, err)
		}
		for _, id := range walked(k) {
			if id == "mount" || id == "square" || id == "bore" || id == "floor" || id == "offset" {
				t.Errorf("%s was done again", id)
			}
		}
	}
}

// Where a witness cut may have shifted the offset for one part, its page is read again for the next.
func TestNextBlankAfterAWitnessCut(t *testing.T) {
	for _, cuts := range []bool{false, true} {
		p := practicePlan(t, "S")
		if cuts {
			p.Setup.Cut.Witness = 0.4
		}
		p = p.AtLevel(fold.Irreplaceable)
		k := nextWalk(t, p, bench.NewWorld(p, 5, bench.Effects{}))
		if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "seat" }); err != nil {
			t.Fatal(err)
		}
		if again := slices.Contains(walked(k), "reread"); again != cuts {
			t.Errorf("witness cut %v: the page was read again: %v, of %v", cuts, again, walked(k))
		}
	}
}
