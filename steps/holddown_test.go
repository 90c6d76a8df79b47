package steps_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
)

var deckCounts = [][2]string{{"clamps", "0"}, {"bolts", "0"}, {"wrenches", "0"}, {"dials", "0"}, {"rotation", "0"}}

var screwsTyped = [][2]string{{"pause", "8"}, {"round1.z", "0"}, {"round2.z", "0.001"}, {"round3.z", "0.001"}, {"set", "torque driver"}, {"torque", "29mNm"}, {"soft", "0"}, {"loose", "0"}, {"in", "4"}, {"head", "2.3"}}

// screwsBut is screwsTyped with other values at some fields; those it has not come at the end.
func screwsBut(others ...[2]string) [][2]string {
	typed := slices.Clone(screwsTyped)
	for _, o := range others {
		if i := slices.IndexFunc(typed, func(t [2]string) bool { return t[0] == o[0] }); i >= 0 {
			typed[i] = o
		} else {
			typed = append(typed, o)
		}
	}
	return typed
}

func cutOf(ap float64) func(*jobs.Job) {
	return func(j *jobs.Job) { j.Setups[0].Cut.Ap = ap }
}

func hasCheck(o fold.Outcome, id string) bool {
	for _, c := range o.Checks {
		if c.Limit.ID == id {
			return true
		}
	}
	return false
}

func noted(o fold.Outcome, words string) bool {
	return strings.Contains(strings.Join(o.Notes, "\n"), words)
}

// The ceiling of the lid at the low end of its ranges, slip and turning together, computed apart from
// this program: 0.251866 mm, governed by one screw lost; at the favourable end 0.824237. 0.2 is planned and
// holds, 0.3 does not, though neither slip alone nor turning alone (0.361019) would show it; 3 throws the part.
func TestCeilingOfTheLid(t *testing.T) {
	for _, c := range []struct {
		ap                  float64
		register, retention fold.Verdict
	}{{0.2, fold.Pass, fold.Pass}, {0.2518, fold.Pass, fold.Pass}, {0.3, fold.NotProven, fold.Pass}, {0.361, fold.NotProven, fold.Pass}, {0.82, fold.NotProven, fold.Pass}, {0.83, fold.Fail, fold.Pass}, {3, fold.Fail, fold.NotProven}, {4, fold.Fail, fold.Fail}} {
		p := lidPlan(t, cutOf(c.ap))
		o := outcome(t, p, "deck", nil, deckCounts...)
		r, s := verdictOf(t, o, "hold.register"), verdictOf(t, o, "hold.retention")
		if math.Abs(r.Limit.Max-0.251866) > 1e-6 {
			t.Fatalf("ceiling %v", r.Limit.Max)
		}
		if r.Verdict != c.register || s.Verdict != c.retention {
			t.Errorf("ap %v: register %v, retention %v, want %v, %v", c.ap, r.Verdict, s.Verdict, c.register, c.retention)
		}
		if r.Limit.Class != fold.Hard || s.Limit.Class != fold.Never {
			t.Errorf("classes %v %v", r.Limit.Class, s.Limit.Class)
		}
		failsHaveNext(t, "deck", o)
		if c.register != fold.Pass && (!strings.Contains(o.Next[0].Words, "Do not cut at") || !noted(o, "in this order: 1 ")) {
			t.Errorf("ap %v: no advice in order: %q %q", c.ap, o.Next[0].Words, o.Notes)
		}
		if !noted(o, "factor 2") || !noted(o, "may be wrong by a factor of 2") || !noted(o, "names no class") {
			t.Errorf("what could not be sourced is not said: %q", o.Notes)
		}
		row := false
		for _, l := range o.Lines {
			row = row || l.Label == "deepest cut that holds" && l.Big
		}
		if !row {
			t.Errorf("the deepest cut is not beside the planned one: %+v", o.Lines)
		}
	}
}

// Retention stands in the way before anything is drilled, and again at the release.
func TestRetentionIsNeverWaived(t *testing.T) {
	p := lidPlan(t, cutOf(4))
	o := outcome(t, p, "straps", nil, strapsOn...)
	c := verdictOf(t, o, "hold.retention")
	if c.Verdict != fold.Fail || c.Limit.Class != fold.Never {
		t.Errorf("before drilling: %+v", c)
	}
	failsHaveNext(t, "straps", o)
}

// A record of the first two walks keeps what it was judged by: each by itself.
func TestCeilingOfEarlierWalks(t *testing.T) {
	h := desk.Hold(lidPlan(t, nil), desk.AsFound{Earlier: true})
	if d := float64(h.Ends.Deepest()); math.Abs(d-0.361019) > 1e-6 {
		t.Errorf("ceiling %v", d)
	}
}

// What nobody computed is not proven, from the straps on and at the desk, and no reason mends that; it says what to give.
func TestHoldDownNotComputed(t *testing.T) {
	for name, edit := range map[string]func(*jobs.Job){
		"materials.epoxy-cast.kc": func(j *jobs.Job) { j.Part.Material = "epoxy-cast" },
		"give cut:":               func(j *jobs.Job) { j.Setups[0].Cut.Tool = 0 },
		"tools.3.teeth":           func(j *jobs.Job) { x := j.Tools[3]; x.Teeth = 0; j.Tools[3] = x },
		"unknown thread":          func(j *jobs.Job) { j.Setups[0].Screws.Thread = "BA2" },
	} {
		p := lidPlan(t, edit)
		for step, typed := range map[fold.StepID][][2]string{"straps": strapsOn, "threads": {{"good", "4"}, {"turns", "13"}, {"shards", "0"}}, "screws": screwsTyped, "deck": deckCounts} {
			o := outcome(t, p, step, nil, typed...)
			c := verdictOf(t, o, "hold.retention")
			if c.Verdict != fold.NotProven || c.Limit.Class != fold.Never || !strings.Contains(c.Words, "Retention not computed: ") || !strings.Contains(c.Words, name) {
				t.Errorf("%s at %s: %+v", name, step, c)
			}
			failsHaveNext(t, name, o)
		}
		if d := desk.AtDesk(p); d.Verdict() != fold.NotProven || !strings.Contains(strings.Join(d.Findings, "\n"), name) {
			t.Errorf("%s at the desk: %v %q", name, d.Verdict(), d.Findings)
		}
	}
}

var strapsOn = [][2]string{{"drawn", "as drawn"}, {"solid", "2"}, {"on", "2"}, {"xy", "0.002"}, {"z", "0.001"}, {"torque", "1"}}

// A hole is for good: what the desk knows of the cut stops the walk at the straps, not when the table is cleared.
func TestDeskStopsBeforeDrilling(t *testing.T) {
	thin := func(j *jobs.Job) {
		x := j.Tools[3]
		x.Dia, x.Flute, x.Neck, x.NeckDia, x.Shank, x.Stickout = 3, 4, 20, 0.2, 6, 40
		j.Tools[3] = x
	}
	for _, c := range []struct {
		limit string
		edit  func(*jobs.Job)
		want  fold.Verdict
	}{
		{"hold.register", cutOf(0.3), fold.NotProven},
		{"hold.register", cutOf(0.83), fold.Fail},
		{"hold.retention", cutOf(3), fold.NotProven},
		{"reach.3", func(j *jobs.Job) { x := j.Tools[3]; x.Flute = 0.1; j.Tools[3] = x }, fold.Fail},
		{"break.3", thin, fold.Fail},
		{"deck.head", func(j *jobs.Job) { j.Setups[0].Cut.Lowest = 5 }, fold.Fail},
	} {
		p := lidPlan(t, c.edit)
		o := outcome(t, p, "straps", nil, strapsOn...)
		if k := verdictOf(t, o, c.limit); k.Verdict != c.want {
			t.Errorf("%s before drilling: %+v", c.limit, k)
		}
		failsHaveNext(t, c.limit, o)
		if !strings.Contains(o.Next[0].Words, "Do not drill") {
			t.Errorf("%s: %q", c.limit, o.Next[0].Words)
		}
	}
	if o := outcome(t, lidPlan(t, nil), "straps", nil, strapsOn...); fold.Worst(o.Checks) != fold.Pass {
		t.Errorf("a sound job: %+v", o.Checks)
	}
}

// Neck and shank count: the cutter breaks at its neck at 28.1 N, where the flutes alone would bear 339.3.
func TestNeckAndShankBearTheCut(t *testing.T) {
	for _, c := range []struct {
		dia, flute, neck, neckDia, shank, stickout float64
		most                                       float64
		where                                      string
	}{{3, 4, 20, 1.9, 6, 40, 28.1, "at the top of the neck"}, {6, 10, 0, 0, 6, 60, 353.4, "at the holder"}} {
		p := lidPlan(t, func(j *jobs.Job) {
			x := j.Tools[3]
			x.Dia, x.Flute, x.Neck, x.NeckDia, x.Shank, x.Stickout = c.dia, c.flute, c.neck, c.neckDia, c.shank, c.stickout
			j.Tools[3] = x
		})
		k := verdictOf(t, outcome(t, p, "deck", nil, deckCounts...), "break.3")
		if math.Abs(k.Limit.Max-c.most) > 0.05 {
			t.Errorf("breaks at %v N, want %v", k.Limit.Max, c.most)
		}
		heavy := lidPlan(t, func(j *jobs.Job) { // until it breaks
			x := j.Tools[3]
			x.Dia, x.Flute, x.Neck, x.NeckDia, x.Shank, x.Stickout = c.dia, c.flute, c.neck, c.neckDia, c.shank, c.stickout
			j.Tools[3] = x
			j.Setups[0].Cut.Ap = 1.01 * j.Setups[0].Cut.Ap * k.Limit.Max / k.Got
		})
		if k = verdictOf(t, outcome(t, heavy, "deck", nil, deckCounts...), "break.3"); k.Verdict != fold.Fail || !strings.Contains(k.Words, c.where) {
			t.Errorf("%+v", k)
		}
	}
}

// The job's own numbers stand in place of the shipped ones.
func TestOwnNumbersReplaceTheTable(t *testing.T) {
	own := lidPlan(t, func(j *jobs.Job) {
		j.Materials = map[string]jobs.Material{"walnut-stabilised": {Crush: [2]float64{10, 10}, Mu: [2]float64{0.2, 0.2}, Source: "scrap, tested"}}
		j.Fixture.Threads.StripTorque = 126
	})
	low, high := desk.Hold(lidPlan(t, nil), desk.AsFound{}), desk.Hold(own, desk.AsFound{})
	if high.Why != "" || !(high.Ends.Deepest() > 2*low.Ends.Deepest()) {
		t.Errorf("%v %v %q", low.Ends.Deepest(), high.Ends.Deepest(), high.Why)
	}
	if o := outcome(t, own, "deck", nil, deckCounts...); !noted(o, "scrap, tested") || !noted(o, "Given by the shop") {
		t.Errorf("sources %q", o.Notes)
	}
	if high.Set.Torque > 126.0/4+1e-9 {
		t.Errorf("torque %v of a thread that stripped at 126", high.Set.Torque)
	}
}

// A soft screw counts 0: the hold-down is computed anew for the others, at its worst.
func TestSoftScrewsCountNothing(t *testing.T) {
	p := lidPlan(t, nil)
	last := desk.Hold(p, desk.AsFound{}).Ends.Deepest()
	for n := 1; n <= 2; n++ {
		h := desk.Hold(p, desk.AsFound{Soft: n})
		if h.Why != "" || len(h.C.Holding.Screws) != 4-n || !(h.Ends.Deepest() < last) {
			t.Errorf("%d soft: %d screws, %v after %v, %q", n, len(h.C.Holding.Screws), h.Ends.Deepest(), last, h.Why)
		}
		last = h.Ends.Deepest()
	}
	if h := desk.Hold(p, desk.AsFound{Soft: 4}); h.Why == "" {
		t.Error("no screw holds, and it is computed")
	}
	o := outcome(t, p, "screws", nil, screwsBut([2]string{"soft", "1"})...)
	if c := verdictOf(t, o, "hold.register"); o.Named != "soft-thread" || !strings.Contains(c.Limit.Why, "1 counted 0") {
		t.Errorf("%q %+v", o.Named, c)
	}
}

// A torque and the level pull that makes it; no angle, which sets no preload unless a thread was stripped. In the job's units.
func TestHowToTighten(t *testing.T) {
	p := lidPlan(t, nil)
	o := outcome(t, p, "screws", nil, screwsTyped...)
	text := map[string]string{}
	for _, r := range o.Lines {
		text[r.Label] = r.Text
	}
	// 29.06 mN m on 40 mm: 0.73 N, 74 g.
	if text["level pull on a key of 40 mm"] != "0.73 N (74 g)" || text["rounds by torque"] != "12 mN·m, 20 mN·m, 29 mN·m" || text["weakest"] != "the part under the washer" {
		t.Errorf("%v", text)
	}
	if _, angle := text["turn past snug"]; angle {
		t.Errorf("an angle without a stripped thread: %v", text)
	}
	sp, _ := p.Spec("screws")
	v := standing(p, "screws", nil)
	asks := sp.Wanted(v)
	if w := asks[1].Do[0].Words; !strings.Contains(w, "Then to 40 %: 12 mN·m, a level pull of 0.29 N (30 g) on 40 mm.") || !strings.Contains(w, "Order 1-3-2-4") {
		t.Errorf("first round: %q", w)
	}
	for _, m := range []string{"M2", "M6"} { // nowhere a turn, of any screw
		q := lidPlan(t, func(j *jobs.Job) {
			if s := &j.Setups[0].Screws; m == "M6" {
				s.Thread, s.Length, s.Washer, j.Fixture.Threads.Depth = m, 24, 12, 30
			}
		})
		sp, _ := q.Spec("screws")
		pg := fmt.Sprint(sp.Page(standing(q, "screws", nil)), sp.Wanted(standing(q, "screws", nil)), desk.AtDesk(q))
		if h := desk.Hold(q, desk.AsFound{}); h.Why != "" || strings.Contains(pg, "quarter turn") || strings.Contains(pg, "deg past snug") || strings.Contains(pg, "90 deg") {
			t.Errorf("%s: %q %s", m, h.Why, pg)
		}
	}
	inch := lidPlan(t, func(j *jobs.Job) {
		j.Unit = unit.Imperial
		s := &j.Setups[0].Screws
		s.Thread, s.Length, s.Washer, s.Through = "4-40", 8.5, 6.5, 2.5
	})
	h := desk.Hold(inch, desk.AsFound{})
	if h.Why != "" || !rowText(h.PreloadRows(inch), "rounds by torque", "in-oz") || !rowText(h.PreloadRows(inch), "level pull on a key of 1.5 in", " oz)") {
		t.Errorf("inch screws: %q %+v", h.Why, h.PreloadRows(inch))
	}
}

// A thread that stripped at 200 degrees gives an angle, scaled by force against the strong end of what it may
// bear: 58.1195 of 505.891 N, 23 degrees; not the 50 of a quarter of the turn, which would crush the wood.
func TestAngleFromAStrippedThread(t *testing.T) {
	p := lidPlan(t, nil)
	threads := []fold.Known{{ID: "threads", Value: []float64{4, 4, 5.2, 200 * math.Pi / 180}}}
	o := outcome(t, p, "screws", threads, screwsTyped...)
	if !rowText(o.Lines, "turn past snug", "23 deg; it sets 29 N to 58 N") || !rowText(o.Lines, "torque", "29 mN·m") {
		t.Errorf("%+v", o.Lines)
	}
	for _, c := range []struct {
		turn  string
		limit string
		want  fold.Verdict
		class fold.Class
	}{{"23deg", "screws.turn", fold.Pass, fold.Hard}, {"50deg", "screws.turn", fold.Fail, fold.Hard}, {"8deg", "screws.turn", fold.Fail, fold.Hard}, {"160deg", "screws.strip", fold.Fail, fold.Never}} {
		o = outcome(t, p, "screws", threads, screwsBut([2]string{"set", "turn past snug"}, [2]string{"torque", ""}, [2]string{"turn", c.turn})...)
		if k := verdictOf(t, o, c.limit); k.Verdict != c.want || k.Limit.Class != c.class {
			t.Errorf("%s: %+v", c.turn, k)
		}
		failsHaveNext(t, c.turn, o)
	}
	// Where the thread may be three times stronger than thought, torque and angle are too far apart: it is said.
	wide := lidPlan(t, func(j *jobs.Job) {
		j.Fixture.Threads.StripAngle = 200
		j.Materials = map[string]jobs.Material{"acrylic-cast": {Tau: [2]float64{17.5, 52.5}, Source: "scrap"}}
	})
	if said := strings.Join(desk.AtDesk(wide).Sources, "\n"); !strings.Contains(said, "Torque and angle differ by up to a factor of 3.0") {
		t.Errorf("%q", said)
	}
	if said := strings.Join(desk.AtDesk(p).Sources, "\n"); strings.Contains(said, "Torque and angle differ") {
		t.Errorf("%q", said)
	}
	// By that turn a weak thread gets half of the working preload: what holds is computed for that.
	o = outcome(t, p, "screws", threads, screwsBut([2]string{"set", "turn past snug"}, [2]string{"torque", ""}, [2]string{"turn", "23deg"})...)
	if c := verdictOf(t, o, "hold.register"); c.Verdict != fold.NotProven || math.Abs(c.Limit.Max-0.251866/2) > 2e-3 {
		t.Errorf("half a preload: %+v", c)
	}
}

// Torque or pull, or it is not known: neither a feeling nor a turn without a stripped thread holds a part, and no
// reason mends that. A zero is no answer.
func TestScrewsSetByNothingKnown(t *testing.T) {
	p := lidPlan(t, nil)
	for how, words := range map[string]string{"by feel": "A feeling is no preload", "turn past snug": "No thread was stripped"} {
		o := outcome(t, p, "screws", nil, screwsBut([2]string{"set", how}, [2]string{"torque", ""}, [2]string{"turn", "90deg"})...)
		c := verdictOf(t, o, "screws.set")
		if c.Verdict != fold.Fail || c.Limit.Class != fold.Never || !strings.Contains(c.Words, words) || !strings.Contains(c.Words, "a level pull of 0.73 N (74 g)") {
			t.Errorf("%s: %+v", how, c)
		}
		failsHaveNext(t, how, o)
	}
	o := outcome(t, p, "screws", nil, screwsBut([2]string{"torque", "0"})...)
	if c := verdictOf(t, o, "screws.torque"); c.Verdict != fold.Fail {
		t.Errorf("no torque at all: %+v", c)
	}
	sp, _ := p.Spec("screws")
	for how, field := range map[string]string{"torque driver": "torque", "level pull on the key": "pull", "turn past snug": "", "by feel": ""} {
		asked := ""
		for _, a := range sp.Wanted(standing(p, "screws", nil, [2]string{"set", how}, [2]string{"arm", "40"})) {
			if a.Field == "torque" || a.Field == "pull" || a.Field == "turn" {
				asked += a.Field
			}
		}
		if asked != field {
			t.Errorf("%s asks for %q", how, asked)
		}
	}
	// A pull on an arm is a torque: 0.73 N on 40 mm is 29 mN m, on 80 twice that.
	for arm, want := range map[string]fold.Verdict{"40": fold.Pass, "80": fold.Fail} {
		o := outcome(t, p, "screws", nil, screwsBut([2]string{"set", "level pull on the key"}, [2]string{"torque", ""}, [2]string{"arm", arm}, [2]string{"pull", "0.73N"})...)
		if c := verdictOf(t, o, "screws.torque"); c.Verdict != want {
			t.Errorf("arm of %s: %+v", arm, c)
		}
	}
}

// Less torque than the working one holds as much less: the ceiling falls with it, here and at the deck.
func TestLessTorqueHoldsLess(t *testing.T) {
	p := lidPlan(t, nil)
	o := outcome(t, p, "screws", nil, screwsBut([2]string{"torque", "20mNm"})...)
	c := verdictOf(t, o, "hold.register")
	if c.Verdict != fold.NotProven || math.Abs(c.Limit.Max-0.251866*20/29.0597) > 1e-4 {
		t.Errorf("20 of 29 mN m: %+v", c)
	}
	d := outcome(t, p, "deck", []fold.Known{o.Facts[0]}, deckCounts...)
	if k := verdictOf(t, d, "hold.register"); k.Limit.Max != c.Limit.Max {
		t.Errorf("%v at the screws, %v at the deck", c.Limit.Max, k.Limit.Max)
	}
}

// Twice the working torque is too much; ten times of it may strip a thread, and no reason mends that.
func TestTooMuchTorque(t *testing.T) {
	p := lidPlan(t, nil)
	o := outcome(t, p, "screws", nil, screwsBut([2]string{"torque", "60mNm"})...)
	if c := verdictOf(t, o, "screws.torque"); c.Verdict != fold.Fail || !strings.Contains(c.Words, "the part under the washer") {
		t.Errorf("%+v", c)
	}
	failsHaveNext(t, "screws", o)
	o = outcome(t, p, "screws", nil, screwsBut([2]string{"torque", "0.029mNm"})...) // of another unit
	if c := verdictOf(t, o, "screws.torque"); c.Verdict != fold.Fail || !strings.Contains(c.Words, "another unit") {
		t.Errorf("%+v", c)
	}
	failsHaveNext(t, "screws", o)
	o = outcome(t, p, "screws", nil, screwsBut([2]string{"torque", "290mNm"})...)
	if c := verdictOf(t, o, "screws.strip"); c.Verdict != fold.Fail || c.Limit.Class != fold.Never || !strings.Contains(c.Words, "counts 0") {
		t.Errorf("%+v", c)
	}
	if c := verdictOf(t, o, "hold.retention"); !strings.Contains(c.Limit.Why, "1 counted 0") || !rowText(o.Lines, "screws that count 0", "1") {
		t.Errorf("a screw in a thread that may be stripped is counted on: %+v", c)
	}
	failsHaveNext(t, "screws", o)
}

// One engagement on both pages: what the screw reaches, not how deep the thread is; a shorter screw is judged by itself.
func TestOneEngagement(t *testing.T) {
	p := lidPlan(t, nil)
	for _, c := range []struct {
		screw string
		le    float64
		want  fold.Verdict
	}{{"8", 4.2, fold.Pass}, {"7.5", 3.7, fold.Fail}} {
		o := outcome(t, p, "screws", []fold.Known{{ID: "threads", Value: []float64{4, 4, 5.2, 0}}}, screwsBut([2]string{"pause", c.screw})...)
		if k := verdictOf(t, o, "screws.engaged"); k.Verdict != c.want || math.Abs(k.Got-c.le) > 1e-9 {
			t.Errorf("screw of %s: %+v", c.screw, k)
		}
		failsHaveNext(t, "screws", o)
	}
	o := outcome(t, p, "threads", nil, [][2]string{{"good", "4"}, {"turns", "13"}, {"shards", "0"}}...)
	if k := verdictOf(t, o, "threads.engaged"); k.Verdict != fold.Pass || math.Abs(k.Got-4.2) > 1e-9 {
		t.Errorf("%+v", k)
	}
}

func rowText(rows []fold.Row, label, words string) bool {
	for _, r := range rows {
		if r.Label == label && strings.Contains(r.Text, words) {
			return true
		}
	}
	return false
}

// Less thread than planned carries less, and inserts are an input with their source.
func TestThreadsFoundShort(t *testing.T) {
	p := lidPlan(t, nil)
	full, short := desk.Hold(p, desk.AsFound{}), desk.Hold(p, desk.AsFound{Engaged: 2})
	if !(short.Ends.Low.Preload.Strip < full.Ends.Low.Preload.Strip) || short.Engage.Engaged != 2 {
		t.Errorf("%v of %v", short.Ends.Low.Preload.Strip, full.Ends.Low.Preload.Strip)
	}
	if more := desk.Hold(p, desk.AsFound{Engaged: 9}); more.Engage.Engaged != full.Engage.Engaged {
		t.Errorf("a screw of the job's length engages %v", more.Engage.Engaged)
	}
	ins := lidPlan(t, func(j *jobs.Job) {
		j.Fixture.Threads.Kind, j.Fixture.Threads.Pullout, j.Fixture.Threads.Source = "insert", 300, "three pulled out of scrap, least"
	})
	o := outcome(t, ins, "deck", nil, deckCounts...)
	if !noted(o, "three pulled out of scrap") || !noted(o, "No published table") || noted(o, "shear strength") {
		t.Errorf("%q", o.Notes)
	}
}

// Straps: a lever the wrong way round is named; a light torque does not hold the drill down;
// one strap resists no turning.
func TestStrapForces(t *testing.T) {
	on := [][2]string{{"drawn", "as drawn"}, {"solid", "2"}, {"on", "2"}, {"xy", "0.002"}, {"z", "0.001"}, {"torque", "1"}}
	rev := lidPlan(t, func(j *jobs.Job) { j.Setups[0].Clamps[0].Heel, j.Setups[0].Clamps[0].Tip = 20, 30 })
	o := outcome(t, rev, "straps", nil, on...)
	// M6, 1 N·m, K 0.2: 833 N in the bolt, 20/50 of it at the tip, 30/50 with the lever turned round.
	if c := verdictOf(t, o, "straps.lever.left"); o.Named != "strap-lever-reversed" || !strings.Contains(c.Words, "60 %") || !strings.Contains(c.Words, "500 N instead of 333 N") {
		t.Errorf("%q %+v", o.Named, c)
	}
	failsHaveNext(t, "straps", o)
	p := lidPlan(t, nil)
	on[5][1] = "0.03Nm"
	o = outcome(t, p, "straps", nil, on...)
	if c := verdictOf(t, o, "straps.lift"); c.Verdict == fold.Fail || c.Verdict == fold.Pass && c.Got > c.Limit.Max {
		t.Errorf("%+v", c)
	}
	on[5][1] = "0.02Nm"
	o = outcome(t, p, "straps", nil, on...)
	if c := verdictOf(t, o, "straps.lift"); c.Verdict == fold.Pass {
		t.Errorf("7 N of two straps holds a lift of %v", c.Got)
	}
	failsHaveNext(t, "straps", o)
	one := lidPlan(t, func(j *jobs.Job) { j.Setups[0].Clamps = j.Setups[0].Clamps[:1] })
	on[2][1], on[1][1], on[5][1] = "1", "1", "1"
	if c := verdictOf(t, outcome(t, one, "straps", nil, on...), "straps.turn"); c.Verdict != fold.Fail || c.Limit.Class != fold.Soft {
		t.Errorf("%+v", c)
	}
}

// A tip over the hollow says how far it would bow the part, where its stiffness is known.
func TestStrapBow(t *testing.T) {
	on := [][2]string{{"drawn", "as drawn"}, {"solid", "2"}, {"on", "2"}, {"xy", "0.002"}, {"z", "0.001"}, {"torque", "1"}}
	for material, words := range map[string]string{"walnut-stabilised": "no stiffness of walnut-stabilised is known", "maple-hard": "by far too much; where it is solid (16.000 mm), by "} {
		p := lidPlan(t, func(j *jobs.Job) {
			j.Part.Material = material
			j.Setups[0].Clamps[0].TipAt = &jobs.Point{X: 48, Y: 32}
		})
		if c := verdictOf(t, outcome(t, p, "straps", nil, on...), "straps.solid.left"); !strings.Contains(c.Words, words) || !strings.Contains(c.Words, "20.000 mm from solid") {
			t.Errorf("%s: %q", material, c.Words)
		}
	}
	// Where two regions of the card only abut, the tip stands as solid as anywhere.
	seam := lidPlan(t, func(j *jobs.Job) { j.Setups[0].Clamps[0].TipAt = &jobs.Point{X: 6, Y: 12} })
	if hasCheck(outcome(t, seam, "straps", nil, on...), "straps.solid.left") {
		t.Error("a tip on the seam of two regions stands over a hollow")
	}
}

// What the cut and the tool say changes the ceiling as it must: without inside corners the
// force is half, with straight flutes nothing lifts, a heavier chip lowers it.
func TestCeilingFollowsTheCut(t *testing.T) {
	deepest := func(edit func(*jobs.Job)) float64 {
		h := desk.Hold(lidPlan(t, edit), desk.AsFound{})
		if h.Why != "" {
			t.Fatal(h.Why)
		}
		return float64(h.Ends.Deepest())
	}
	usual := deepest(nil)
	if open := deepest(func(j *jobs.Job) { j.Setups[0].Cut.NoInsideCorners = true }); math.Abs(open-2*usual) > 1e-9 {
		t.Errorf("without inside corners %v, with %v", open, usual)
	}
	spiral := func(word string) float64 {
		return deepest(func(j *jobs.Job) { x := j.Tools[3]; x.Spiral = word; j.Tools[3] = x })
	}
	if s, d := spiral("straight"), spiral("down-cut"); !(usual < s && s <= d) || spiral("up-cut") != usual {
		t.Errorf("up-cut %v, straight %v, down-cut %v", usual, s, d)
	}
	if more := deepest(func(j *jobs.Job) { j.Setups[0].Cut.Fz = 0.04 }); !(more < usual) {
		t.Errorf("a heavier chip %v, usual %v", more, usual)
	}
	if wide := deepest(func(j *jobs.Job) { j.Setups[0].Screws.Washer = 0 }); !(wide < usual) {
		t.Errorf("without washers %v, with %v", wide, usual)
	}
	if six := deepest(func(j *jobs.Job) {
		j.Setups[0].Screws.At = append(j.Setups[0].Screws.At, jobs.Point{X: 48, Y: 6}, jobs.Point{X: 48, Y: 58})
	}); !(six > usual) {
		t.Errorf("six screws %v, four %v", six, usual)
	}
}
