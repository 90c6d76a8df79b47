package fold_test

import (
	"fmt"
	"reflect"
	"sync"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// A toy setup: the same facts as a second side, each from one typed number, so
// that facts, voids and the way back are tested without any arithmetic.
func toyKind() *fold.Kind {
	k := &fold.Kind{Name: "toy", Goal: "release", After: "stops", Given: kit.GivenFacts}
	one := func(s *fold.Spec) func(*fold.Plan) *fold.Spec {
		return func(*fold.Plan) *fold.Spec {
			c := *s
			if s.Recheck != nil { // a test may change its own
				r := *s.Recheck
				c.Recheck = &r
			}
			c.Asks = func(v fold.View) []fold.Ask {
				var asks []fold.Ask
				for _, f := range c.Makes {
					asks = append(asks, fold.Ask{Field: f.Thing() + "n", Kind: fold.Count})
				}
				if len(asks) == 0 {
					asks = []fold.Ask{{Field: "n", Kind: fold.Count}}
				}
				return asks[:1]
			}
			c.Judge = func(v fold.View) fold.Outcome {
				o := fold.Outcome{Facts: fold.PlainFacts(&c)}
				if v.Int("n") == 7 {
					o.Leaves = []fold.FactID{"bore"}
				}
				k := fold.Check{Limit: fold.Limit{ID: "n", Max: 9, Class: fold.Hard}, Count: true, Got: float64(v.Int("n")), Verdict: fold.Pass}
				if v.Int("n") > 9 {
					k.Verdict = fold.Fail
				}
				o.Checks = []fold.Check{k}
				return o
			}
			return &c
		}
	}
	line := func(id fold.StepID, s *fold.Spec) { k.Line = append(k.Line, fold.Place{ID: id, Build: one(s)}) }
	off := func(id, at fold.StepID, s *fold.Spec) {
		if s.Recheck == nil {
			s.Recheck = &fold.Recheck{}
		}
		s.Recheck.Before = at
		k.Off = append(k.Off, fold.Place{ID: id, Build: one(s)})
	}
	line("t.mount", &fold.Spec{Makes: []fold.FactID{"identity"}})
	line("t.square", &fold.Spec{Needs: fold.Live("identity"), Makes: []fold.FactID{"skew"}})
	line("t.bore", &fold.Spec{Needs: fold.Needs(fold.Live("identity"), fold.AsRead("skew", "ball")), Makes: []fold.FactID{"bore"}, Keys: []string{"part.features"}})
	line("t.floor", &fold.Spec{Needs: fold.Needs(fold.Live("identity"), fold.AsRead("bore")), Makes: []fold.FactID{"floor"}})
	line("t.offset", &fold.Spec{Needs: fold.Live("skew", "bore", "floor"), Makes: []fold.FactID{"offset", "echo"}})
	line("t.seat", &fold.Spec{Needs: fold.Needs(fold.Live("identity"), fold.AsRead("floor")), Makes: []fold.FactID{"seat"}})
	line("t.clamps", &fold.Spec{Needs: fold.Live("seat"), Makes: []fold.FactID{"clamps"}})
	line("t.drill", &fold.Spec{Needs: fold.AsRead("echo", "clamps"), Makes: []fold.FactID{"holes"}, Raises: []fold.MishapID{"probe-refitted"}})
	line("t.screws", &fold.Spec{Needs: fold.Needs(fold.Live("seat"), fold.AsRead("holes", "clamps")), Makes: []fold.FactID{"screws"}})
	line("t.unstrap", &fold.Spec{Needs: fold.Live("screws"), Makes: []fold.FactID{"unstrapped"}, Raises: []fold.MishapID{"straps-off"}})
	line("t.release", &fold.Spec{Needs: fold.Live("offset", "echo", "seat", "holes", "screws", "unstrapped"), Makes: []fold.FactID{"release"}})
	line("t.stops", &fold.Spec{Needs: fold.Live("release"), Makes: []fold.FactID{"stops"}})
	off("ball", "t.bore", &fold.Spec{Makes: []fold.FactID{"ball"}, Recheck: &fold.Recheck{Lifts: []fold.FactID{"bore", "floor"}}})
	off("ball-check", "t.bore", &fold.Spec{Recheck: &fold.Recheck{Lifts: []fold.FactID{"ball"}}})
	off("datum-check", "t.bore", &fold.Spec{Needs: fold.AsRead("ball"), Recheck: &fold.Recheck{Lifts: []fold.FactID{"bore", "floor"}}})
	off("edge-check", "t.square", &fold.Spec{Recheck: &fold.Recheck{Lifts: []fold.FactID{"skew"}}})
	off("seat-check", "t.seat", &fold.Spec{Recheck: &fold.Recheck{Lifts: []fold.FactID{"seat"}}})
	off("clamp-check", "t.clamps", &fold.Spec{Recheck: &fold.Recheck{Lifts: []fold.FactID{"clamps"}}})
	off("hole-check", "t.drill", &fold.Spec{Recheck: &fold.Recheck{Lifts: []fold.FactID{"holes"}}})
	off("screw-check", "t.screws", &fold.Spec{Recheck: &fold.Recheck{Lifts: []fold.FactID{"screws"}}})
	off("reread", "t.offset", &fold.Spec{Needs: fold.Live("offset"), Makes: []fold.FactID{"echo"}})
	return k
}

// toys is the house with toy kinds only.
var toys = sync.OnceValue(func() *fold.House {
	return &fold.House{Kinds: []*fold.Kind{toyKind(), giverKind, takerKind}, Mishaps: facts.Mishaps, Cards: kit.Cards, Limits: judge.LimitRows, Next: facts.Mounting, OffsetWord: kit.OffsetWord}
})

func toyPlan(t *testing.T) *fold.Plan {
	t.Helper()
	j := &jobs.Job{Name: "toy", Allowance: 0.05, Setups: []jobs.Setup{{Name: "s", Kind: "toy", HoldDown: "T"}}, Machine: jobs.Machine{Probe: &jobs.Probe{Radius: 1, Repeat: 0.001, Dof: 30}}}
	p, err := toys().Plan(j, "s", nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// toy drives a toy record.
type toy struct {
	t  *testing.T
	p  *fold.Plan
	l  *fold.Log
	es []jobs.Event
}

func newToy(t *testing.T) *toy { return toyOf(t, fold.Begin("s", nil, "")) }

// toyOf is a toy record with its begin.
func toyOf(t *testing.T, begin jobs.Event) *toy {
	y := &toy{t: t, p: toyPlan(t), l: toys().Log()}
	y.put(begin)
	return y
}

func (y *toy) put(es ...jobs.Event) {
	for _, e := range es {
		e.At = time.Date(2026, 3, 1, 10, 0, len(y.es), 0, time.UTC)
		y.l.Apply(e)
		y.es = append(y.es, e)
	}
}

// step answers the current step with n.
func (y *toy) step(n int) fold.StepID {
	y.t.Helper()
	st := y.l.State(y.p)
	es, err := st.Take("keyed", [2]string{st.Cursor.Field, fmt.Sprint(n)})
	if err != nil {
		y.t.Fatal(err)
	}
	y.put(es...)
	return st.Cursor.Step
}

// until walks to the step, not through it.
func (y *toy) until(id fold.StepID) {
	y.t.Helper()
	for i := 0; i < 60; i++ {
		st := y.l.State(y.p)
		if st.Cursor.Step == id {
			return
		}
		if st.Ready || st.Cursor.Idle {
			y.t.Fatalf("walk ended before %s", id)
		}
		y.step(1)
	}
	y.t.Fatalf("no way to %s", id)
}

// walk goes on to the release and returns the steps walked.
func (y *toy) walk() []fold.StepID {
	y.t.Helper()
	var out []fold.StepID
	for i := 0; i < 60; i++ {
		st := y.l.State(y.p)
		if st.Ready {
			es, err := st.Release()
			if err != nil {
				y.t.Fatal(err)
			}
			y.put(es...)
			if st = y.l.State(y.p); !st.Released {
				y.t.Fatal("released, yet not released")
			}
			return out
		}
		out = append(out, y.step(1))
	}
	y.t.Fatalf("the walk does not end: %v", out)
	return nil
}

func (y *toy) mishap(id fold.MishapID) { y.put(jobs.Event{Mishap: "s/" + string(id)}) }

func ids(bs []fold.Back) []fold.StepID {
	var out []fold.StepID
	for _, b := range bs {
		out = append(out, b.Step)
	}
	return out
}

func TestWalkFromBeginToRelease(t *testing.T) {
	y := newToy(t)
	got := y.walk()
	want := []fold.StepID{"t.mount", "t.square", "t.bore", "t.floor", "t.offset", "t.seat", "t.clamps", "t.drill", "t.screws", "t.unstrap", "t.release"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("walked %v, want %v", got, want)
	}
	if st := y.l.State(y.p); st.Cursor.Step != "t.stops" {
		t.Errorf("after the release comes %q, want the stop points", st.Cursor.Step)
	}
}

func TestWayBack(t *testing.T) {
	for _, c := range []struct {
		at     fold.StepID
		mishap fold.MishapID
		want   []fold.StepID
	}{
		// a tap takes everything that stands on the fixture; the floor comes with the bore's recheck
		{"t.screws", "fixture-tapped", []fold.StepID{"t.square", "ball-check", "datum-check", "t.bore", "t.offset", "t.seat", "t.clamps", "hole-check"}},
		// a bump only asks for rechecks
		{"t.release", "part-bumped", []fold.StepID{"edge-check", "ball-check", "datum-check", "seat-check", "hole-check", "screw-check"}},
		{"t.drill", "clamp-moved", []fold.StepID{"seat-check", "t.clamps"}},
		// the ball comes back by its calibration, and with it what was read with it
		{"t.drill", "probe-changed", []fold.StepID{"ball"}},
		{"t.drill", "offset-edited", []fold.StepID{"reread"}},
		// the probe came out while drilling: nothing later needs it
		{"t.screws", "probe-refitted", nil},
		{"t.release", "program-reposted", nil},
		{"t.offset", "rehomed", []fold.StepID{"datum-check"}},
		{"t.release", "rehomed", []fold.StepID{"ball-check", "datum-check"}},
	} {
		y := newToy(t)
		y.until(c.at)
		y.mishap(c.mishap)
		st := y.l.State(y.p)
		if got := ids(st.Way); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s at %s: way back %v, want %v", c.mishap, c.at, got, c.want)
		}
		y.walk()
	}
}

func TestMishapAfterReleaseTakesItBack(t *testing.T) {
	y := newToy(t)
	y.walk()
	y.mishap("part-bumped")
	st := y.l.State(y.p)
	if st.Released || st.TakenBack == nil || st.TakenBack.Mishap != "part-bumped" {
		t.Fatalf("released %v, taken back %+v", st.Released, st.TakenBack)
	}
	y.walk()
}

func TestRereadVoidsWhatRestsOnIt(t *testing.T) {
	y := newToy(t)
	y.until("t.seat")
	y.put(jobs.Event{Read: "s/t.bore/1/n", Value: "2"})
	st := y.l.State(y.p)
	if _, ok := st.Fact("offset"); ok {
		t.Error("the offset stands on a bore that was read again")
	}
	if _, ok := st.Fact("bore"); !ok {
		t.Error("the bore itself fell")
	}
	if st.Cursor.Step != "t.offset" {
		t.Errorf("the walk goes on at %s, want t.offset", st.Cursor.Step)
	}
	ss, _ := st.Step("t.bore")
	if tk, _ := ss.Round.Get("n"); len(tk.Before) != 1 || tk.Before[0] != "1" {
		t.Errorf("the replaced reading is not visible: %+v", tk)
	}
}

func TestFailedRecheckMeansRemake(t *testing.T) {
	y := newToy(t)
	y.until("t.clamps")
	y.mishap("part-bumped")
	y.until("seat-check")
	y.step(99)
	st := y.l.State(y.p)
	ss, _ := st.Step("seat-check")
	next := ss.Outcome.Next
	if st.Cursor.Step != "seat-check" || !st.Cursor.Decide || ss.Verdict != fold.Fail || len(next) == 0 || next[len(next)-1].Do != "reopen" || next[len(next)-1].Of != "t.seat" {
		t.Fatalf("a failed recheck shows no verdict with the way on: %+v %v %+v", st.Cursor, ss.Verdict, next)
	}
	es, err := st.Reopen("t.seat")
	if err != nil {
		t.Fatal(err)
	}
	y.put(es...)
	if st := y.l.State(y.p); st.Cursor.Step != "t.seat" {
		t.Errorf("after a failed recheck the walk goes on at %s, want t.seat", st.Cursor.Step)
	}
	y.walk()
}

func TestJobChangeVoidsWhatWasMeasuredAgainstIt(t *testing.T) {
	y := newToy(t)
	y.until("t.seat")
	y.put(jobs.Event{Plan: "abc", Changed: []string{"job.part.features.hinge bore.0"}})
	st := y.l.State(y.p)
	if st.Cursor.Step != "t.bore" {
		t.Errorf("goes on at %s, want t.bore", st.Cursor.Step)
	}
	y.walk()
}

func TestWaiver(t *testing.T) {
	y := newToy(t)
	y.until("t.floor")
	y.step(12)
	st := y.l.State(y.p)
	if !st.Cursor.Decide {
		t.Fatal("a failed step does not ask for a decision")
	}
	if _, err := st.Waive("n", "11", "reason"); err == nil {
		t.Error("a hard limit was waived without its number")
	}
	es, err := st.Waive("n", "12", "it is only a test")
	if err != nil {
		t.Fatal(err)
	}
	y.put(es...)
	if st = y.l.State(y.p); len(st.Waivers) != 1 || st.Cursor.Step != "t.offset" {
		t.Fatalf("waivers %v, at %s", st.Waivers, st.Cursor.Step)
	}
	y.put(jobs.Event{Read: "s/t.floor/1/n", Value: "13"})
	if st = y.l.State(y.p); len(st.Waivers) != 0 || st.Cursor.Step != "t.floor" {
		t.Errorf("a new reading kept the waiver: %v at %s", st.Waivers, st.Cursor.Step)
	}
}

// A record holds the words of a choice; the screen may take its number.
func TestChoiceIsRecordedInWords(t *testing.T) {
	p := toyPlan(t)
	a := fold.Ask{Field: "side", Kind: fold.Choice, Options: []string{"left", "right"}}
	if err := p.Fits(a, "2"); err == nil {
		t.Error("a record may give a choice by number")
	}
	if err := p.Fits(a, " Right "); err != nil {
		t.Error(err)
	}
	if o, err := fold.Pick(a.Options, "2"); err != nil || o != "right" {
		t.Errorf("typed 2: %q, %v", o, err)
	}
}

// Any split of the events gives the same State.
func TestSplits(t *testing.T) {
	y := newToy(t)
	y.until("t.screws")
	y.mishap("fixture-tapped")
	y.until("t.unstrap")
	y.mishap("part-bumped")
	y.walk()
	y.mishap("left-alone")
	for k := 0; k <= len(y.es); k++ {
		l := toys().Log()
		for i, e := range y.es {
			if i == k || i%7 == k%7 {
				l.State(y.p)
			}
			l.Apply(e)
		}
		if got, want := l.State(y.p), fold.Fold(y.p, y.es); !reflect.DeepEqual(got, want) {
			t.Fatalf("split at %d gives another state", k)
		}
	}
}

func TestTroubles(t *testing.T) {
	for name, es := range map[string][]jobs.Event{
		"reading before its round": {{Begin: "s"}, {Read: "s/t.mount/1/n", Value: "1"}},
		"reading before begin":     {{Read: "s/t.mount/1/n", Value: "1"}},
		"round out of turn":        {{Begin: "s"}, {Round: "s/t.mount/2"}},
		"unknown step":             {{Begin: "s"}, {Round: "s/nope/1"}},
		"unknown mishap":           {{Begin: "s"}, {Mishap: "s/nope"}},
		"inner mishap declared":    {{Begin: "s"}, {Mishap: "s/straps-off"}},
		"begun twice":              {{Begin: "s"}, {Begin: "s"}},
		"no verb":                  {{}},
		"not a number":             {{Begin: "s"}, {Round: "s/t.mount/1"}, {Read: "s/t.mount/1/n", Value: "one"}},
		"short address":            {{Begin: "s"}, {Round: "s/t.mount/1"}, {Read: "s/t.mount", Value: "1"}},
	} {
		if st := fold.Fold(toyPlan(t), es); len(st.Troubles) == 0 || st.Troubles[0].Hint == "" {
			t.Errorf("%s: no trouble with a hint: %+v", name, st.Troubles)
		}
	}
}

func TestWhatNobodyAsksIsSaidAndNotUsed(t *testing.T) {
	y := newToy(t)
	y.until("t.seat")
	y.put(jobs.Event{Read: "s/t.floor/1/nn", Value: "3"}, jobs.Event{Waive: "s/t.floor/1/nolimit", Value: "3", Reason: "why not"})
	st := y.l.State(y.p)
	if len(st.Strays) != 2 || len(st.Troubles) != 0 {
		t.Errorf("strays %+v, troubles %+v", st.Strays, st.Troubles)
	}
	y.walk()
}

// What is read again by choice asks first for what it stands on, though that had served
// before and nothing else needs it any more: the drill took the probe out.
func TestReopenedStepStandsOnWhatItNeeds(t *testing.T) {
	y := newToy(t)
	y.until("t.screws")
	st := y.l.State(y.p)
	es, err := st.Reopen("t.bore")
	if err != nil {
		t.Fatal(err)
	}
	y.put(es...)
	if got := y.step(1); got != "ball-check" {
		t.Fatalf("a bore read again begins at %s, want ball-check", got)
	}
	if got := y.step(1); got != "t.bore" {
		t.Fatalf("after the ball comes %s, want t.bore", got)
	}
	y.walk()
}

// Each waiver keeps its own reason, whatever was waived after it.
func TestEachWaiverHasItsReason(t *testing.T) {
	y := newToy(t)
	y.until("t.floor")
	y.step(12)
	y.put(jobs.Event{Waive: "s/t.floor/1/n", Value: "12", Reason: "of the floor"}, jobs.Event{Waive: "s/t.floor/1/other", Value: "3", Reason: "of another"})
	if st := y.l.State(y.p); len(st.Waivers) != 1 || st.Waivers[0].Reason != "of the floor" {
		t.Errorf("waivers %+v", st.Waivers)
	}
}

// "T3" is tool 3; a tool that the job does not have may be any of them.
func TestMishapOfATool(t *testing.T) {
	h := *toys()
	h.Kinds = []*fold.Kind{{Name: "toy", Line: []fold.Place{{ID: "t.lengths", Build: func(*fold.Plan) *fold.Spec { return &fold.Spec{Makes: []fold.FactID{"length/3", "length/5"}} }}}}}
	p, err := h.Plan(&jobs.Job{Setups: []jobs.Setup{{Name: "s", Kind: "toy"}}}, "s", nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{"3": "3", "T3": "3", " t5 ": "5", "99": "", "": ""} {
		if got := p.Tool(name); got != want {
			t.Errorf("tool %q is taken as %q, want %q", name, got, want)
		}
	}
	m, _ := p.Mishap("tool-pulled")
	if !m.Hits("length/3", p.Tool("99")) || !m.Hits("length/5", p.Tool("99")) {
		t.Error("an unknown tool spares a length")
	}
}

// What may never be waived is not, whatever the record says.
func TestNeverIsNeverWaived(t *testing.T) {
	checks := []fold.Check{{Limit: fold.Limit{ID: "a", Class: fold.Never}, Verdict: fold.Fail}}
	fold.Waive(checks, &fold.Round{Waivers: []fold.Waiver{{Seq: 99, Limit: "a", Number: checks[0].Shown(), Reason: "it will do"}}})
	if checks[0].Verdict != fold.Fail {
		t.Error("what may never be waived was")
	}
}

func TestUnjudgedCheckDoesNotPass(t *testing.T) {
	if v := fold.Worst([]fold.Check{{Verdict: fold.Pass}, {}}); v.OK() {
		t.Errorf("a check without a verdict gives %v", v)
	}
}

// TestIf: what would be, if something happened, is what is once it did; asking changes nothing.
func TestIf(t *testing.T) {
	for _, h := range facts.Offered() {
		y := newToy(t)
		y.until("t.screws")
		before := y.l.State(y.p)
		es, err := before.Declare(h.ID, "")
		if err != nil {
			t.Fatal(err)
		}
		then := y.l.If(y.p, es...)
		if after := y.l.State(y.p); !reflect.DeepEqual(before.Facts, after.Facts) || y.l.Len() != len(y.es) {
			t.Fatalf("%s: asking changed the log", h.ID)
		}
		y.mishap(h.ID)
		if is := y.l.State(y.p); !reflect.DeepEqual(then.Facts, is.Facts) || !reflect.DeepEqual(then.Way, is.Way) {
			t.Errorf("%s: would be otherwise than it is", h.ID)
		}
	}
}
