package fold_test

import (
	"math"
	"reflect"
	"slices"
	"testing"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// A waiver holds for its limit, with a reason, after the last reading; a hard one for the number that it repeats.
func TestWhenAWaiverHolds(t *testing.T) {
	for name, c := range map[string]struct {
		class          fold.Class
		at             fold.Seq
		limit          string
		number, reason string
		want           fold.Verdict
	}{
		"hard, its number":      {fold.Hard, 11, "a", "12", "seen", fold.Waived},
		"hard, another number":  {fold.Hard, 11, "a", "11", "seen", fold.Fail},
		"hard, no number":       {fold.Hard, 11, "a", "", "seen", fold.Fail},
		"soft, no number":       {fold.Soft, 11, "a", "", "seen", fold.Waived},
		"soft, a blank reason":  {fold.Soft, 11, "a", "12", " ", fold.Fail},
		"soft, read after it":   {fold.Soft, 9, "a", "12", "seen", fold.Fail},
		"soft, another limit":   {fold.Soft, 11, "b", "12", "seen", fold.Fail},
		"never, whatever stood": {fold.Never, 11, "a", "12", "seen", fold.Fail},
	} {
		cs := []fold.Check{{Limit: fold.Limit{ID: "a", Class: c.class}, Count: true, Got: 12, Verdict: fold.Fail}}
		fold.Waive(cs, &fold.Round{Last: 10, Waivers: []fold.Waiver{{Seq: c.at, Limit: c.limit, Number: c.number, Reason: c.reason}}})
		if cs[0].Verdict != c.want {
			t.Errorf("%s: %v, want %v", name, cs[0].Verdict, c.want)
		}
	}
}

// What is read elsewhere leaves a waiver as it is, where the check judges one field alone.
func TestWaiverOfOneField(t *testing.T) {
	for on, want := range map[string]fold.Verdict{"n": fold.Waived, "m": fold.Fail, "": fold.Fail} {
		r := fold.Trial(toyPlan(t), "t.bore", time.Time{}, nil, [2]string{"n", "12"}, [2]string{"x", "1"}, [2]string{"m", "1"}).Round // at 1, 2, 3
		r.Waivers = []fold.Waiver{{Seq: 2, Limit: "a", Reason: "seen"}}
		cs := []fold.Check{{Limit: fold.Limit{ID: "a"}, Got: 12, Verdict: fold.Fail, On: on}}
		if fold.Waive(cs, r); cs[0].Verdict != want {
			t.Errorf("of %q: %v, want %v", on, cs[0].Verdict, want)
		}
	}
}

// Work goes on with PASS and WAIVED and nothing else.
func TestWhatLetsWorkGoOn(t *testing.T) {
	for v := fold.NoVerdict; v <= fold.NotApplicable; v++ {
		if want := v == fold.Pass || v == fold.Waived; v.OK() != want {
			t.Errorf("%v lets the work go on: %t", v, v.OK())
		}
	}
	if v := fold.Worst([]fold.Check{{Verdict: fold.NotProven}, {Verdict: fold.Waived}}); v != fold.NotProven {
		t.Errorf("one not proven and one waived give %v", v)
	}
}

// A field is asked from its walk on: of a record of that very walk, not of one before it.
func TestFieldIsAskedFromItsWalkOn(t *testing.T) {
	walks := false
	k := &fold.Kind{Name: "since", Goal: "a", Line: []fold.Place{at("t.a", fold.Spec{Makes: []fold.FactID{"a"},
		Asks: func(fold.View) []fold.Ask {
			return []fold.Ask{{Field: "n", Kind: fold.Count}, {Field: "m", Kind: fold.Count, Since: fold.Since{Walk: 2, What: "an m"}}}
		},
		Judge: func(v fold.View) fold.Outcome {
			walks = v.Walks(2)
			return fold.Outcome{Facts: []fold.Known{{ID: "a"}}}
		}})}}
	for walk, asked := range map[string]bool{"1": false, "2": true, "3": true} {
		y := small(t, k, walk, "s")
		y.hand("t.a")
		st := y.l.State(y.p)
		if _, ok := st.Fact("a"); ok == asked || (len(st.Unasked) == 1) == asked {
			t.Errorf("walk %s, without m: a stands: %t, unasked %v", walk, ok, st.Unasked)
		}
		if asked && st.Cursor.Field != "m" {
			t.Errorf("walk %s asks for %q, want m", walk, st.Cursor.Field)
		}
		y.put(jobs.Event{Answer: "s/t.a/1/m", Value: "1"})
		y.holds("with m", standing{"a": true})
		if walks != asked {
			t.Errorf("walk %s is judged by walk 2: %t", walk, walks)
		}
	}
}

// A recheck that advises to look again leads on to measuring anew when that was followed once, not before:
// an earlier round that passed is no failure.
func TestLookAgainOnceThenMeasureAnew(t *testing.T) {
	y := newToy(t)
	sp, _ := y.p.Spec("seat-check")
	sp.Judge = func(v fold.View) fold.Outcome {
		o := upTo9(v)
		o.Next = []fold.Act{{Do: "again"}}
		return o
	}
	next := func() (out []string) {
		st := y.l.State(y.p)
		ss, _ := st.Step("seat-check")
		for _, a := range ss.Outcome.Next {
			out = append(out, a.Do)
		}
		return out
	}
	y.until("t.clamps")
	y.mishap("part-bumped")
	y.hand("seat-check")
	y.mishap("part-bumped")
	y.hand("seat-check")
	y.again("seat-check", 99)
	if got := next(); !slices.Equal(got, []string{"again"}) {
		t.Errorf("failed once, after one that passed: next %v", got)
	}
	y.hand("seat-check")
	y.again("seat-check", 99)
	if got := next(); !slices.Contains(got, "reopen") {
		t.Errorf("failed twice: next %v", got)
	}
}

// Of two steps that make a fact the one that makes least is taken.
func TestStepThatMakesLeastIsTaken(t *testing.T) {
	y := small(t, &fold.Kind{Name: "makers", Goal: "end", Line: []fold.Place{
		at("t.both", fold.Spec{Makes: []fold.FactID{"a", "b"}}), at("t.one", fold.Spec{Makes: []fold.FactID{"a"}}),
		at("t.end", fold.Spec{Needs: fold.Live("a"), Makes: []fold.FactID{"end"}})}}, "1", "s")
	if got := y.l.State(y.p).Left; !slices.Equal(got, []fold.StepID{"t.one", "t.end"}) {
		t.Errorf("left is %v", got)
	}
}

// What lies under the part is read with the part out: it comes out first, once.
func TestPartComesOutOnceForWhatItCovers(t *testing.T) {
	y := small(t, &fold.Kind{Name: "covered", Goal: "end", Out: &fold.Out{Step: "t.out", Sits: "seat", Mishap: "part-out"}, Line: []fold.Place{
		at("t.bore", fold.Spec{Makes: []fold.FactID{"bore"}, Bare: fold.PartMustBeOut}), at("t.seat", fold.Spec{Makes: []fold.FactID{"seat"}, Covers: true}),
		at("t.end", fold.Spec{Needs: fold.Live("bore", "seat"), Makes: []fold.FactID{"end"}})},
		Off: []fold.Place{at("t.out", fold.Spec{Raises: []fold.MishapID{"part-out"}, Recheck: &fold.Recheck{Before: "t.bore"}})}}, "1", "s")
	left := func(why string, want ...fold.StepID) {
		t.Helper()
		if got := y.l.State(y.p).Left; !slices.Equal(got, want) {
			t.Errorf("%s: left is %v, want %v", why, got, want)
		}
	}
	y.hand("t.bore")
	y.hand("t.seat")
	left("in its pocket", "t.end")
	y.mishap("spindle-crash")
	left("the bore is lost under it", "t.out", "t.bore", "t.seat", "t.end")
	y.hand("t.out")
	left("it is out", "t.bore", "t.seat", "t.end")
	y.hand("t.bore")
	y.hand("t.seat")
	left("in again", "t.end")
}

// A step that only asks whether a fact stands may not look at the fact.
func TestWhetherIsNoLook(t *testing.T) {
	y := small(t, &fold.Kind{Name: "whether", Goal: "x", Line: []fold.Place{at("t.bore", fold.Spec{Makes: []fold.FactID{"bore"}}),
		at("t.x", fold.Spec{Needs: fold.Whether("bore"), Makes: []fold.FactID{"x"}, Judge: func(v fold.View) fold.Outcome {
			v.Fact("bore")
			return fold.Outcome{}
		}})}}, "1", "s")
	y.hand("t.bore")
	y.hand("t.x")
	defer func() {
		if recover() == nil {
			t.Error("it looked at the bore and nobody said so")
		}
	}()
	y.l.State(y.p)
}

// The file of an inch job reads every limit as a length: a limit that is none is taken as written, a length as a length.
func TestLimitOfAnInchJob(t *testing.T) {
	j := *toyPlan(t).Job
	j.Unit, j.Limits = unit.Imperial, map[string]unit.Length{"square.skew": 0.002 * unit.Inch, "seat.rock": 0.002 * unit.Inch}
	j.Reasons = map[string]string{"square.skew": "as the test wants", "seat.rock": "as the test wants"}
	p, err := toys().Plan(&j, "s", nil)
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string]float64{"square.skew": 0.002, "seat.rock": 0.0508} {
		if got := p.Limit(id).Max; math.Abs(got-want) > 1e-12 {
			t.Errorf("%s is %g, want %g", id, got, want)
		}
	}
}

// A reading nearer to what was there before than it can be is as far out as one beyond its window.
func TestNoMovementIsFar(t *testing.T) {
	a := fold.Ask{Kind: fold.Reading, Unit: unit.KLength, Window: &fold.Window{Want: 10, Half: 1, Least: 0.1, Nearer: "nothing moved"}}
	for text, far := range map[string]bool{"10.05": true, "10": true, "10.1": false, "9.5": false, "11.5": true} {
		n, err := unit.Parse(text, a.Unit, unit.Metric)
		if err != nil {
			t.Fatal(err)
		}
		got, slips := toyPlan(t).Far(a, text, n.Value)
		if got != far {
			t.Errorf("%s is far: %t", text, got)
		}
		if near := math.Abs(n.Value-10) < 0.09; near && (len(slips) != 1 || slips[0].Words != "nothing moved") {
			t.Errorf("%s: slips %v", text, slips)
		}
	}
}

// Figures that are none stand for no name: a dash is not the name of a thing without figures.
func TestNoFiguresAreNoName(t *testing.T) {
	a := fold.Ask{Kind: fold.Text, Want: "LID"}
	if got := toys().Meant(a, "-"); got != "-" || toys().Wanted(a, "-").Verdict != fold.Fail {
		t.Errorf("a dash was taken as %q", got)
	}
}

// A release stands on what stood: what was checked again after a mishap is released again.
func TestReleaseAfterARecheckIsAnother(t *testing.T) {
	y := newToy(t)
	y.walk()
	y.mishap("part-bumped")
	for i := 0; i < 20 && !y.l.State(y.p).Ready; i++ {
		if st := y.l.State(y.p); st.Released || st.Cursor.Idle {
			t.Fatalf("released by the event of before: %+v", st.Cursor)
		}
		y.step(1)
	}
	if st := y.l.State(y.p); !st.Ready || st.Released {
		t.Errorf("ready %t, released %t", st.Ready, st.Released)
	}
	if got := y.walk(); !reflect.DeepEqual(got, []fold.StepID(nil)) {
		t.Errorf("walked %v", got)
	}
}

// A waiver is kept when another is put to the same round after it was looked at.
func TestWaiverOutlivesTheNext(t *testing.T) {
	y := newToy(t)
	y.until("t.floor")
	y.step(12)
	y.put(jobs.Event{Waive: "s/t.floor/1/n", Value: "12", Reason: "seen"})
	y.l.State(y.p)
	y.put(jobs.Event{Waive: "s/t.floor/1/other", Value: "3", Reason: "of another"})
	if st := y.l.State(y.p); len(st.Waivers) != 1 || st.Waivers[0].Limit != "n" {
		t.Errorf("waivers %+v", st.Waivers)
	}
}
