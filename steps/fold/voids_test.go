package fold_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

type standing = map[fold.FactID]bool

// A mishap after the first reading voids, though the last one came later: what was read before it is half of the fact.
func TestMishapAfterTheFirstReadingVoids(t *testing.T) {
	for _, walk := range []string{"1", "2", "3", fmt.Sprint(fold.Walk)} {
		y := toyOf(t, jobs.Event{Begin: "s", Cards: map[string]string{"walk": walk}})
		y.until("t.clamps")
		y.mishap("part-bumped")
		y.again("t.seat", 2)
		y.holds("walk "+walk+": bumped between two readings of the seat", standing{"seat": false, "identity": true})
	}
}

// Only a recheck that was begun after the mishap lifts it: the first of its readings counts, not the last.
func TestRecheckIsBegunAfterTheMishap(t *testing.T) {
	y := newToy(t)
	y.until("t.clamps")
	y.mishap("part-bumped")
	y.hand("seat-check")
	y.holds("checked", standing{"seat": true})
	y.mishap("part-bumped")
	y.again("seat-check", 1)
	y.holds("the check of before read on", standing{"seat": false})
	y.hand("seat-check")
	y.holds("checked anew", standing{"seat": true})
}

// A recheck that held nothing against a limit says nothing of the fact.
func TestRecheckThatComparedNothingLiftsNothing(t *testing.T) {
	y := newToy(t)
	sp, _ := y.p.Spec("seat-check")
	sp.Judge = func(fold.View) fold.Outcome { return fold.Outcome{} }
	y.until("t.clamps")
	y.mishap("part-bumped")
	y.hand("seat-check")
	y.holds("a recheck without a check", standing{"seat": false})
}

// A recheck that failed after an earlier mishap is no bar after the next: then it has its say again.
func TestRecheckThatFailedBeforeIsDoneAgain(t *testing.T) {
	y := newToy(t)
	y.until("t.clamps")
	y.mishap("part-bumped")
	y.until("seat-check")
	y.step(99)
	if way := ids(y.l.State(y.p).Way); slices.Contains(way, "seat-check") || !slices.Contains(way, "t.seat") {
		t.Errorf("it failed: the way is %v, want the seat made again", way)
	}
	y.hand("t.seat")
	y.until("t.clamps")
	y.mishap("part-bumped")
	if way := ids(y.l.State(y.p).Way); !slices.Contains(way, "seat-check") || slices.Contains(way, "t.seat") {
		t.Errorf("bumped again: the way is %v, want the recheck", way)
	}
}

// What a recheck compares with may be in doubt, and comes back first; gone for good it can't be compared with.
func TestRecheckComparesWithWhatIsNotGone(t *testing.T) {
	for mishap, recheck := range map[fold.MishapID]bool{"part-bumped": true, "clamp-moved": false} { // clamps: R, V
		y := newToy(t)
		sp, _ := y.p.Spec("seat-check")
		sp.Recheck.Against = []fold.FactID{"clamps"}
		sp.Relate()
		y.until("t.drill")
		y.mishap(mishap)
		if way := ids(y.l.State(y.p).Way); slices.Contains(way, "seat-check") != recheck || slices.Contains(way, "t.seat") == recheck {
			t.Errorf("%s: the way is %v, by the recheck: %t", mishap, way, recheck)
		}
	}
}

// A round makes its fact with its last wanted reading, not with its first.
func TestFactStandsFromTheLastWantedReadingOn(t *testing.T) {
	k := &fold.Kind{Name: "two", Goal: "floor", Line: []fold.Place{
		at("t.bore", fold.Spec{Makes: []fold.FactID{"bore"}, Asks: counts("a", "b")}),
		at("t.floor", fold.Spec{Needs: fold.AsRead("bore"), Makes: []fold.FactID{"floor"}})}}
	for _, late := range []bool{true, false} {
		y := small(t, k, "1", "s")
		y.put(jobs.Event{Round: "s/t.bore/1"}, jobs.Event{Answer: "s/t.bore/1/a", Value: "1"})
		last := jobs.Event{Answer: "s/t.bore/1/b", Value: "1"}
		if late {
			y.hand("t.floor")
			y.put(last)
		} else {
			y.put(last)
			y.hand("t.floor")
		}
		y.holds("read before the bore was whole, or after", standing{"bore": true, "floor": !late})
	}
}

// What serves if it is there binds as it was: what was down and is down still changes nothing, what came back or fell since does.
func TestWhatServesIfThereBindsAsItWas(t *testing.T) {
	k := &fold.Kind{Name: "bound", Goal: "x", Line: []fold.Place{
		at("t.seat", fold.Spec{Makes: []fold.FactID{"seat"}}),
		at("t.x", fold.Spec{Needs: fold.LiveIfThere("seat"), Makes: []fold.FactID{"x"}})},
		Off: []fold.Place{at("seat-check", fold.Spec{Judge: upTo9, Recheck: &fold.Recheck{Before: "t.x", Lifts: []fold.FactID{"seat"}}})}}
	y := small(t, k, "1", "s")
	y.hand("t.seat")
	y.mishap("part-bumped")
	y.hand("t.x")
	y.holds("the seat was down then and is", standing{"seat": false, "x": true})
	y.hand("seat-check")
	y.holds("the seat came back since", standing{"seat": true, "x": false})
	y.hand("t.x")
	y.holds("read with the seat", standing{"x": true})
	y.mishap("part-bumped")
	y.holds("the seat fell since", standing{"x": false})
}

// What a step keeps for a day stands for that day and not a minute longer, by the record's own times.
func TestFactIsKeptAsLongAsItsStepSays(t *testing.T) {
	k := &fold.Kind{Name: "kept", Goal: "k", Line: []fold.Place{at("t.k", fold.Spec{Makes: []fold.FactID{"k"}, Keeps: 24 * time.Hour})}}
	p := small(t, k, "1", "s").p
	begun := time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC)
	for later, want := range map[time.Duration]bool{24 * time.Hour: true, 24*time.Hour + time.Minute: false} {
		es := []jobs.Event{{Begin: "s"}, {Round: "s/t.k/1"}, {Answer: "s/t.k/1/n", Value: "1"}, {Note: "back"}}
		for i := range es {
			es[i].At = begun
		}
		es[3].At = begun.Add(later)
		st := fold.Fold(p, es)
		if _, ok := st.Fact("k"); ok != want {
			t.Errorf("after %v it stands: %t", later, ok)
		}
	}
}

// Of two setups that hand one fact over the newer making counts, whatever their order in the job.
func TestNewerOfTwoHandedOver(t *testing.T) {
	j := &jobs.Job{Name: "toys", Setups: []jobs.Setup{{Name: "a", Kind: "giver"}, {Name: "c", Kind: "giver"}, {Name: "b", Kind: "taker"}}}
	p, err := toys().Plan(j, "b", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, order := range [][2]string{{"a", "c"}, {"c", "a"}} {
		es := []jobs.Event{{Begin: "a"}, {Begin: "c"}, {Begin: "b"}}
		for _, s := range order {
			es = append(es, jobs.Event{Round: s + "/t.give/1"}, jobs.Event{Answer: s + "/t.give/1/n", Value: "1"})
		}
		st := fold.Fold(p, es)
		if f, ok := st.Fact("part/toy"); !ok || f.First != 7 {
			t.Errorf("%v: the fact is of event %d, want the second making's, 7", order, f.First)
		}
	}
}

// A tool that broke under another setup has another length here too; what else broke there is not here.
func TestToolOfAnotherSetupIsItsLengthAlone(t *testing.T) {
	k := &fold.Kind{Name: "cut", Goal: "seat", Line: []fold.Place{
		at("t.length", fold.Spec{Makes: []fold.FactID{"length/3"}}), at("t.seat", fold.Spec{Makes: []fold.FactID{"seat"}})}}
	for where, want := range map[string]standing{"other": {"length/3": false, "seat": true}, "s": {"length/3": false, "seat": false}} {
		y := small(t, k, "3", "s", "other")
		y.hand("t.length")
		y.hand("t.seat")
		y.put(jobs.Event{Mishap: where + "/tool-broke", Value: "3"})
		y.holds("told under "+where, want)
	}
}

// The probe's own mishaps concern the probe's length, a tool's that tool's.
func TestLengthHitIsThatOfTheThing(t *testing.T) {
	p := toyPlan(t)
	for _, c := range []struct {
		mishap fold.MishapID
		tool   string
		hits   []fold.FactID
	}{{"probe-refitted", "", []fold.FactID{"length/probe"}}, {"probe-changed", "3", []fold.FactID{"length/probe"}},
		{"tool-pulled", "3", []fold.FactID{"length/3"}}, {"tool-pulled", "", []fold.FactID{"length/3", "length/5", "length/probe"}}} {
		m, _ := p.Mishap(c.mishap)
		var got []fold.FactID
		for _, f := range []fold.FactID{"length/3", "length/5", "length/probe"} {
			if m.Hits(f, c.tool) {
				got = append(got, f)
			}
		}
		if !reflect.DeepEqual(got, c.hits) {
			t.Errorf("%s of %q hits %v, want %v", c.mishap, c.tool, got, c.hits)
		}
	}
}

// Readings go to the newest round; one for an older round is refused and does not count.
func TestOlderRoundIsClosed(t *testing.T) {
	y := newToy(t)
	y.put(jobs.Event{Round: "s/t.mount/1"}, jobs.Event{Round: "s/t.mount/2"}, jobs.Event{Read: "s/t.mount/1/n", Value: "1"})
	st := y.l.State(y.p)
	if len(st.Troubles) != 1 || st.Troubles[0].Seq != 4 || !strings.Contains(st.Troubles[0].What, "closed") {
		t.Errorf("troubles %v", st.Troubles)
	}
	y.holds("read in a closed round", standing{"identity": false})
}

// What takes the probe out takes the ball from its first reading on, not only once it is done.
func TestWhatIsRaisedAtOnce(t *testing.T) {
	y := small(t, &fold.Kind{Name: "raises", Goal: "holes", Line: []fold.Place{
		at("t.ball", fold.Spec{Makes: []fold.FactID{"ball"}}),
		at("t.drill", fold.Spec{Makes: []fold.FactID{"holes"}, Raises: []fold.MishapID{"probe-refitted"}, Asks: counts("n", "m")})}}, "1", "s")
	y.hand("t.ball")
	y.holds("before the drill", standing{"ball": true})
	y.hand("t.drill")
	y.holds("half drilled", standing{"ball": false, "holes": false})
}

// A round that a mishap hit halfway is not read on: the walk opens a new one.
func TestHalfReadRoundIsNotReadOn(t *testing.T) {
	y := small(t, &fold.Kind{Name: "half", Goal: "seat", Line: []fold.Place{at("t.seat", fold.Spec{Makes: []fold.FactID{"seat"}, Asks: counts("a", "b", "c")})}}, "1", "s")
	y.put(jobs.Event{Round: "s/t.seat/1"}, jobs.Event{Answer: "s/t.seat/1/a", Value: "1"})
	y.mishap("part-bumped")
	y.put(jobs.Event{Answer: "s/t.seat/1/b", Value: "1"})
	if c := y.l.State(y.p).Cursor; c.Round != 2 || c.Open || c.Field != "a" {
		t.Errorf("goes on at round %d, field %s, want round 2 from its beginning", c.Round, c.Field)
	}
}

// A recheck may need the very fact that it brings back: that it is down is why it is done.
func TestRecheckNeedsWhatItLifts(t *testing.T) {
	y := small(t, &fold.Kind{Name: "lifts", Goal: "bore", Line: []fold.Place{at("t.bore", fold.Spec{Makes: []fold.FactID{"bore"}})},
		Off: []fold.Place{at("datum-check", fold.Spec{Needs: fold.AsRead("bore"), Judge: upTo9, Recheck: &fold.Recheck{Before: "t.bore", Lifts: []fold.FactID{"bore"}}})}}, "1", "s")
	y.hand("t.bore")
	y.mishap("part-bumped")
	y.holds("bumped", standing{"bore": false})
	y.hand("datum-check")
	y.holds("checked", standing{"bore": true})
	if st := y.l.State(y.p); len(st.Strays) > 0 {
		t.Errorf("strays %v", st.Strays)
	}
}

// A step is touched by a change of its key, of what lies below it and of the whole above it; a like name is another.
func TestWhichKeysTouch(t *testing.T) {
	for changed, want := range map[string]bool{"job.part.features": true, "job.part.features.bore.0": true, "job.part": true, "part.features": true,
		"job.part.featuresque": false, "job.part.size": false, "job.par": false} {
		if got := fold.Touched([]string{"part.features"}, []string{changed}) != ""; got != want {
			t.Errorf("%s touches: %t", changed, got)
		}
	}
}
