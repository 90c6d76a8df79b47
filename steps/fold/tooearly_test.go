package fold_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// hand adds a round of a step with one reading, as a record written by hand has it: asked for or not.
func (y *toy) hand(step fold.StepID) fold.Seq {
	no := len(y.l.Rounds("s", step)) + 1
	y.put(jobs.Event{Round: fmt.Sprintf("s/%s/%d", step, no)}, jobs.Event{Read: fmt.Sprintf("s/%s/%d/n", step, no), Value: "1"})
	return y.l.N()
}

// A bore that was read while the ball was void makes no bore. It says which reading came
// too early, what was down and what to do; the bore is asked for again, the ball first.
func TestReadingsTakenTooEarlyDoNotCount(t *testing.T) {
	y := newToy(t)
	y.until("t.bore")
	y.mishap("probe-changed")
	at := y.hand("t.bore")
	st := y.l.State(y.p)
	if f, ok := st.Fact("bore"); ok {
		t.Fatalf("the bore stands: %+v", f)
	}
	ss, _ := st.Step("t.bore")
	if ss.Verdict != fold.Void || ss.Cause == nil || ss.Cause.Seq != at || ss.Cause.Fact != "ball" || ss.Cause.Mishap != "probe-changed" {
		t.Errorf("t.bore is %v, %+v", ss.Verdict, ss.Cause)
	}
	if len(st.Strays) != 1 || st.Strays[0].Seq != at {
		t.Fatalf("strays %+v", st.Strays)
	}
	for _, w := range []string{"s/t.bore/1/n", "ball", "event 6", "probe bumped", "Do ball first", "again in a new round"} {
		if !strings.Contains(st.Strays[0].What, w) {
			t.Errorf("%q is not in: %s", w, st.Strays[0].What)
		}
	}
	if len(st.Troubles) > 0 {
		t.Errorf("it is no fault of the record: %v", st.Troubles)
	}
	if got := y.step(1); got != "ball" {
		t.Errorf("first comes %s, want ball", got)
	}
	if st := y.l.State(y.p); st.Cursor.Step != "t.bore" || st.Cursor.Round != 2 {
		t.Errorf("then comes %+v, want round 2 of t.bore", st.Cursor)
	}
	// a mishap after the reading costs nothing: as read
	y.step(1)
	y.mishap("probe-changed")
	y.put(jobs.Event{Round: "s/ball/2"}, jobs.Event{Read: "s/ball/2/n", Value: "1"})
	if st := y.l.State(y.p); len(st.Strays) != 0 {
		t.Errorf("strays %+v", st.Strays)
	} else if _, ok := st.Fact("bore"); !ok {
		t.Error("a bore read in time fell with the ball")
	}
	y.walk()
}

// A fact that was never there, and a recheck that was done too early.
func TestTooEarlyInOtherOrders(t *testing.T) {
	y := newToy(t)
	y.until("t.bore")
	y.hand("t.floor")
	st := y.l.State(y.p)
	if _, ok := st.Fact("floor"); ok || len(st.Strays) != 1 || !strings.Contains(st.Strays[0].What, "bore, on which it stands, was not there yet") || !strings.Contains(st.Strays[0].What, "Do t.bore first") {
		t.Errorf("floor before bore: %+v", st.Strays)
	}
	y.walk()

	y = newToy(t)
	y.until("t.seat")
	y.mishap("part-bumped")
	y.mishap("probe-changed")
	y.hand("datum-check")
	st = y.l.State(y.p)
	if _, ok := st.Fact("bore"); ok {
		t.Error("a recheck with a void ball lifted the bore")
	}
	if len(st.Strays) != 1 {
		t.Errorf("strays %+v", st.Strays)
	}
	y.walk()
}

// With the steps of the walk in any order by hand, and mishaps between them, what counts
// was read while all it stands on stood, as the record up to there alone tells it; the walk
// goes on from there to the release, and any split of the events gives the same state.
func TestWhatCountsStoodOnWhatStood(t *testing.T) {
	early := 0
	for seed := 1; seed <= 60; seed++ {
		y := newToy(t)
		r := uint32(seed)
		rnd := func(n int) int { r = r*1664525 + 1013904223; return int(r>>16) % n }
		specs := slices.Clone(y.p.Line)
		specs = append(specs, y.p.Off...)
		for i := 0; i < 30; i++ {
			switch rnd(6) {
			case 0:
				y.mishap(facts.Offered()[rnd(len(facts.Offered()))].ID)
			case 1:
				y.hand(specs[rnd(len(specs))].ID)
			case 2: // 12 fails, and takes an older reading with it
				if sp := specs[rnd(len(specs))]; len(y.l.Rounds("s", sp.ID)) > 0 {
					y.put(jobs.Event{Read: fmt.Sprintf("s/%s/%d/n", sp.ID, len(y.l.Rounds("s", sp.ID))), Value: []string{"1", "12"}[rnd(2)]})
				}
			default:
				if st := y.l.State(y.p); !st.Ready && !st.Cursor.Idle && !st.Cursor.Decide {
					y.step(1)
				}
			}
		}
		st := y.l.State(y.p)
		for _, ss := range st.Steps {
			if ss.Round == nil || ss.Round.First == 0 {
				continue
			}
			sp, _ := y.p.Spec(ss.ID)
			before := fold.Fold(y.p, y.es[:ss.Round.First-1])
			down := fold.FactID("")
			for _, f := range sp.Stands() {
				if _, ok := before.Fact(f); !ok && !slices.Contains(sp.Makes, f) && !slices.Contains(sp.Lifts(), f) {
					down = f
				}
			}
			said := slices.ContainsFunc(st.Strays, func(s fold.Stray) bool { return s.Seq == ss.Round.First })
			first := ss.Round.First // what was read again or waived since may have made it good
			if said && down == "" || !said && down != "" && !y.l.TouchedBefore(first-1, first-1) {
				t.Errorf("seed %d: %s, read at event %d, down was %q; strays %v", seed, ss.ID, ss.Round.First, down, st.Strays)
			}
			for _, f := range sp.Makes {
				if made, ok := st.Fact(f); ok && made.First == first && said {
					t.Errorf("seed %d: %s of %s counts, read at event %d while %s was down", seed, f, ss.ID, ss.Round.First, down)
				}
			}
			if down != "" {
				early++
			}
		}
		for k := 0; k < len(y.es); k += 5 {
			l := toys().Log()
			for i, e := range y.es {
				if i == k || i%7 == k%7 {
					l.State(y.p)
				}
				l.Apply(e)
			}
			if !reflect.DeepEqual(l.State(y.p), st) {
				t.Fatalf("seed %d: split at %d gives another state", seed, k)
			}
		}
		if st.Cursor.Decide {
			y.put(jobs.Event{Read: fmt.Sprintf("s/%s/%d/n", st.Cursor.Step, st.Cursor.Round), Value: "1"})
		}
		if !st.Released {
			y.walk()
		}
	}
	if early < 20 {
		t.Errorf("only %d rounds were too early", early)
	}
	t.Logf("%d rounds were too early", early)
}

// Whatever is changed behind (a field read again in a round that others followed, a limit
// waived, a key of the job), a log that is looked at after every event says what one says that
// is looked at once.
func TestEveryLookSaysWhatAFoldSays(t *testing.T) {
	behind := 0
	for seed := 1; seed <= 25; seed++ {
		y := newToy(t)
		r := uint32(seed) * 7919
		rnd := func(n int) int { r = r*1664525 + 1013904223; return int(r>>16) % n }
		specs := append(slices.Clone(y.p.Line), y.p.Off...)
		for i := 0; i < 60; i++ {
			sp := specs[rnd(len(specs))]
			rs := y.l.Rounds("s", sp.ID)
			switch c := rnd(10); {
			case c == 0:
				y.mishap(facts.Offered()[rnd(len(facts.Offered()))].ID)
			case c == 1:
				y.hand(sp.ID)
			case c == 2:
				y.put(jobs.Event{Plan: "x", Changed: []string{"job.part.features.hinge bore.0"}})
			case c <= 5 && len(rs) > 0: // 12 fails, 7 leaves the bore
				y.put(jobs.Event{Read: fmt.Sprintf("s/%s/%d/n", sp.ID, len(rs)), Value: []string{"1", "7", "12"}[rnd(3)]})
				behind++
				if rnd(2) == 0 {
					y.put(jobs.Event{Waive: fmt.Sprintf("s/%s/%d/n", sp.ID, len(rs)), Value: "12", Reason: "a test"})
				}
			default:
				if st := y.l.State(y.p); !st.Ready && !st.Cursor.Idle && !st.Cursor.Decide {
					y.step(1)
				}
			}
			if got, want := y.l.State(y.p), fold.Fold(y.p, y.es); !reflect.DeepEqual(got, want) {
				t.Fatalf("seed %d: after event %d (%+v) a log that was looked at says another thing", seed, len(y.es), y.es[len(y.es)-1])
			}
		}
	}
	if behind < 100 {
		t.Errorf("only %d were changed behind", behind)
	}
}

// A fact that comes back with what it stands on is down by the mishap that took that, not by
// an older one that was lifted.
func TestComesBackWithBlamesItsMishap(t *testing.T) {
	y := newToy(t)
	y.until("t.seat")
	y.mishap("rehomed")
	y.until("t.seat")
	y.mishap("part-bumped")
	at := y.l.N()
	for _, f := range y.l.State(y.p).Facts {
		if f.ID == "offset" && (f.Void == nil || f.Void.Mishap != "part-bumped" || f.Void.Seq != at) {
			t.Errorf("the offset is void by %+v, want part-bumped at event %d", f.Void, at)
		}
	}
	y.walk()
}

// What was cut stands on how things stood when it was cut: a bore that is read again later and
// does not pass then takes the offset, not the holes, and nothing is said to have been too early.
func TestReadAgainLaterCostsNothingAsRead(t *testing.T) {
	y := newToy(t)
	y.until("t.screws")
	y.put(jobs.Event{Read: "s/t.bore/1/n", Value: "12"})
	for _, lookedAt := range []bool{false, true} {
		st := fold.Fold(y.p, y.es)
		if lookedAt {
			st = y.l.State(y.p)
		}
		for f, want := range map[fold.FactID]bool{"bore": false, "offset": false, "holes": true, "floor": true, "seat": true} {
			if _, ok := st.Fact(f); ok != want {
				t.Errorf("%s stands: %v, want %v", f, ok, want)
			}
		}
		if len(st.Strays) > 0 {
			t.Errorf("strays %v", st.Strays)
		}
		if !slices.Contains(st.Left, "t.bore") {
			t.Errorf("left is %v", st.Left)
		}
	}
	y.put(jobs.Event{Read: "s/t.bore/1/n", Value: "2"})
	y.walk()
}
