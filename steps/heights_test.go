package steps_test

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fliptrue/calc/budget"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/trial"
)

// lidWalked is the lid's first record: its plan, the facts that stand at its end, and what was typed in a round.
func lidWalked(t testing.TB, round string) (*fold.Plan, []fold.Known, [][2]string) {
	t.Helper()
	j := trial.Job(t, "testdata/lid/lid.job.yaml")
	p := trial.Plan(t, j, "side2", nil)
	es, _, faults := jobs.ReadRecord(jobs.OS(), "../testdata/lid/lid.1.record.yaml")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	var typed [][2]string
	for _, e := range es {
		if field, ok := strings.CutPrefix(e.Read+e.Answer, "side2/"+round+"/1/"); ok {
			typed = append(typed, [2]string{field, e.Value})
		}
	}
	begun := slices.IndexFunc(es, func(e jobs.Event) bool { return e.Round == "side2/"+round+"/1" })
	st := fold.Fold(p, es[:begun])
	var known []fold.Known
	for _, id := range []fold.FactID{"baseline", "bore", "offset", "ball", "floor", "length/probe", "seat", "identity"} {
		if f, ok := st.Fact(id); ok {
			known = append(known, f)
		}
	}
	if len(typed) == 0 || len(known) < 6 {
		t.Fatalf("%d values typed at %s, %d facts", len(typed), round, len(known))
	}
	return p, known, typed
}

// raised adds to the readings at some corners of the top, both touches.
func raised(t testing.TB, typed [][2]string, by float64, corners ...string) [][2]string {
	out := append([][2]string{}, typed...)
	for i, v := range out {
		field, _, _ := strings.Cut(v[0], ".")
		for _, c := range corners {
			if field == c {
				out[i][1] = fmtMM(num(t, v[1]) + by)
			}
		}
	}
	return out
}

// A part that rose or leans at the swap from straps to screws passed as long as it stayed
// in plan; 0.300 and 1.0, at one corner or all four, ended RELEASED.
func TestShiftJudgesHeightAndLean(t *testing.T) {
	p, known, typed := lidWalked(t, "shift")
	sound := outcome(t, p, "shift", known, typed...)
	for _, id := range []string{"shift.register", "shift.lift", "shift.lean"} {
		if c := verdictOf(t, sound, id); c.Verdict != fold.Pass {
			t.Errorf("as it was walked: %s is %v, %g of %g", id, c.Verdict, c.Got, c.Limit.Max)
		}
	}
	if o := outcome(t, p, "shift", known, raised(t, typed, 0.012, "z1", "z2", "z3", "z4")...); verdictOf(t, o, "shift.lift").Verdict != fold.Fail || verdictOf(t, o, "shift.lean").Verdict != fold.Pass {
		t.Errorf("raised everywhere by 0.012: %+v", o.Checks)
	}
	for _, by := range []float64{0.012, 0.300, 1.0, -0.300} {
		for _, at := range [][]string{{"z1"}, {"z2"}, {"z3"}, {"z4"}, {"z1", "z2"}, {"z1", "z2", "z3", "z4"}} {
			o := outcome(t, p, "shift", known, raised(t, typed, by, at...)...)
			lift := verdictOf(t, o, "shift.lift")
			if lift.Verdict != fold.Fail || lift.Limit.Class == fold.Soft || o.Named != "shift-at-swap" || len(o.Next) == 0 {
				t.Errorf("%v by %g: lift %v, named %q, next %v", at, by, lift.Verdict, o.Named, o.Next)
			}
			if lean := verdictOf(t, o, "shift.lean"); len(at) < 4 && lean.Verdict != fold.Fail {
				t.Errorf("%v by %g: lean %v %g", at, by, lean.Verdict, lean.Got)
			}
		}
	}
}

// A lean carries what stands high sideways: 0.300 at one corner of the lid is 0.150 from end to end along X
// between the touches, and over the part's thickness that much more of motion in plan.
func TestLeanEntersTheMotion(t *testing.T) {
	p, known, typed := lidWalked(t, "shift")
	was := verdictOf(t, outcome(t, p, "shift", known, typed...), "shift.register").Got
	is := verdictOf(t, outcome(t, p, "shift", known, raised(t, typed, 0.300, "z1")...), "shift.register")
	if is.Got < was+0.02 || is.Verdict != fold.Fail {
		t.Errorf("the motion at the worst feature is %.4f, without the lean %.4f: %v", is.Got, was, is.Verdict)
	}
}

// Strapped over a chip, or touched on one: baseline and shift test have it both and it cancels.
func TestBaselineAgainstSeat(t *testing.T) {
	p, known, typed := lidWalked(t, "baseline")
	if c := verdictOf(t, outcome(t, p, "baseline", known, typed...), "baseline.height"); c.Verdict != fold.Pass {
		t.Errorf("as it was walked: %v, %g of %g", c.Verdict, c.Got, c.Limit.Max)
	}
	for _, by := range []float64{0.05, 0.3, -0.3} {
		o := outcome(t, p, "baseline", known, raised(t, typed, by, "z1", "z2", "z3", "z4")...)
		if c := verdictOf(t, o, "baseline.height"); c.Verdict != fold.Fail || math.Abs(c.Got-math.Abs(by)) > 0.01 || len(o.Next) == 0 {
			t.Errorf("raised by %g: %v %g, next %v", by, c.Verdict, c.Got, o.Next)
		}
	}
}

// +0.4 on all four touches of the seat passed with a note at most.
func TestSeatAgainstThickness(t *testing.T) {
	p, known, typed := lidWalked(t, "seat")
	if c := verdictOf(t, outcome(t, p, "seat", known, typed...), "seat.height"); c.Verdict != fold.Pass || c.Limit.Max != 0.1 {
		t.Errorf("as it was walked: %v, %g of %g", c.Verdict, c.Got, c.Limit.Max)
	}
	for _, by := range []float64{0.15, 0.4, -0.4} {
		o := outcome(t, p, "seat", known, raised(t, typed, by, "z1", "z2", "z3", "z4")...)
		if c := verdictOf(t, o, "seat.height"); c.Verdict != fold.Fail || c.Limit.Class == fold.Soft || len(o.Next) == 0 {
			t.Errorf("+%g on all four: %v %g of %g", by, c.Verdict, c.Got, c.Limit.Max)
		}
	}
}

// Where one dial watches the screws (plan S) its height is read and judged, and the walk
// says that it tells nothing of a lean.
func TestDialShop(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Setups[0].HoldDown = "S" })
	typed := [][2]string{{"pause", "8"}, {"torque", "0"}, {"soft", "0"}, {"loose", "0"}, {"in", "4"}, {"head", "1"}, {"walls", "0"}}
	for _, f := range []string{"round1.x", "round1.y", "round2.x", "round2.y", "round3.x", "round3.y"} {
		typed = append(typed, [2]string{f, "0"})
	}
	for z, want := range map[string]fold.Verdict{"0.000": fold.Pass, "0.004": fold.Pass, "0.02": fold.Fail, "-0.3": fold.Fail} {
		o := outcome(t, p, "screws", nil, append(typed, [2]string{"round3.z", z})...)
		if c := verdictOf(t, o, "screws.lift"); c.Verdict != want {
			t.Errorf("%s: %v", z, c.Verdict)
		}
		if !strings.Contains(strings.Join(o.Notes, " "), "Lean") {
			t.Errorf("nothing is said of the lean: %q", o.Notes)
		}
	}
	// A record of an earlier walk is not asked.
	if _, ok := facts.Shift.Read(fold.Known{Value: []float64{0, 0, 0}}); !ok {
		t.Error("a shift of a dial shop does not read")
	}
	sp, _ := p.Spec("screws")
	found := false
	for _, a := range sp.Asks(standing(p, "screws", nil)) {
		if a.Field == "round3.z" {
			found = a.Since.Walk == 3 && a.What.Axis == "z"
		}
	}
	if !found {
		t.Error("the height after the last round is not asked since walk 3")
	}
}

func num(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// seatOfLid is the lid seated, 16.02 high.
var seatOfLid = fold.Known{ID: "seat", Value: []float64{16.02, 0, 0}}

// skimmed is a skim of the lid typed: the raise of 0.3 left in, the pass at 15.52, so that the face is cut at 15.82;
// rim 12.000 over the floor.
func skimmed(face, rim string, more ...[2]string) [][2]string {
	return append([][2]string{{"pause", "3"}, {"gap", "11"}, {"near", "9.98"}, {"raised", "0.3"}, {"lines", "4"}, {"soft", "0"},
		{"pass", "15.52"}, {"finished", "15.0"}, {"kept", "in its holder, length kept"}, {"face", face}, {"rim", rim}}, more...)
}

// The gap's limit was 3 mm, wider than the 2.247 that throws the part. By a block it is 0.3, of a drill 0.2.
func TestGapByABlock(t *testing.T) {
	p := lidPlan(t, nil)
	for _, c := range []struct {
		near        string
		skim, drill fold.Verdict
	}{{"9.98", fold.Pass, fold.Pass}, {"9.8", fold.Pass, fold.Pass}, {"9.75", fold.Pass, fold.Fail}, {"9.6", fold.Fail, fold.Fail}, {"8.98", fold.Fail, fold.Fail}, {"10.4", fold.Fail, fold.Fail}} {
		o := outcome(t, p, "skim", []fold.Known{seatOfLid}, [2]string{"pause", "3"}, [2]string{"gap", "11"}, [2]string{"near", c.near})
		if k := verdictOf(t, o, "tip.block"); k.Verdict != c.skim || k.Limit.Class != fold.Never || math.Abs(k.Limit.Max-0.3) > 1e-9 {
			t.Errorf("skim, %s: %v of %g", c.near, k.Verdict, k.Limit.Max)
		}
		d := outcome(t, p, "drill", []fold.Known{seatOfLid}, [2]string{"pause", "2"}, [2]string{"tool", "5"}, [2]string{"gap", "22"}, [2]string{"near", c.near})
		if k := verdictOf(t, d, "tip.block"); k.Verdict != c.drill {
			t.Errorf("drill, %s: %v of %g", c.near, k.Verdict, k.Limit.Max)
		}
		if c.drill == fold.Fail && (len(d.Facts) > 0 || len(d.Next) == 0) {
			t.Errorf("drill, %s: facts %v, next %v", c.near, d.Facts, d.Next)
		}
	}
	// A deep cut leaves less: half of what is left of the depth that throws the part.
	deep := lidPlan(t, cutOf(2.0))
	o := outcome(t, deep, "skim", []fold.Known{seatOfLid}, [2]string{"pause", "3"}, [2]string{"gap", "11"}, [2]string{"near", "9.98"})
	if k := verdictOf(t, o, "tip.block"); math.Abs(k.Limit.Max-(2.246977-2)/2) > 1e-3 {
		t.Errorf("at a cut of 2: limit %g", k.Limit.Max)
	}
}

// After the skim face and rim decide the height: face minus rim against 15.82 - 12.
func TestHeightOfTheSkim(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Fixture.AsMade.Rim = 12 })
	facts := []fold.Known{seatOfLid}
	for _, c := range []struct {
		name, face string
		want       fold.Verdict
		do         string
		by         float64
	}{{"right", "-171.940", fold.Pass, "", 0}, {"0.012 high", "-171.928", fold.Pass, "", 0},
		{"0.020 high", "-171.920", fold.NotProven, "again", 0}, {"0.1 high", "-171.840", fold.Fail, "key", -0.1}, {"0.1 low", "-172.040", fold.Fail, "key", 0.1},
		{"0.6 high", "-171.340", fold.Fail, "measure", 0}, {"0.9 low: under the finished face", "-172.840", fold.Fail, "stop", 0}} {
		o := outcome(t, p, "skim", facts, skimmed(c.face, "-175.760", [2]string{"lowered", "0"})...)
		k := verdictOf(t, o, "skim.height")
		if k.Verdict != c.want || math.Abs(k.Limit.Max-0.02) > 1e-12 {
			t.Errorf("%s: %v, %g ± %g of %g", c.name, k.Verdict, k.Got, k.Guard, k.Limit.Max)
		}
		if c.do == "" {
			if len(o.Next) > 0 || len(o.Facts) != 1 {
				t.Errorf("%s: next %v, facts %v", c.name, o.Next, o.Facts)
			}
			continue
		}
		if len(o.Next) == 0 || o.Next[0].Do != c.do || math.Abs(o.Next[0].Amount-c.by) > 1e-9 || len(o.Facts) > 0 {
			t.Errorf("%s: next %+v, facts %v", c.name, o.Next, o.Facts)
		}
	}
	// The raise comes out only once the height is proven, and is read back.
	last := func(typed [][2]string) string { a := asked(p, "skim", facts, typed...); return a[len(a)-1] }
	if got := last(skimmed("-171.940", "-175.760")); got != "lowered" {
		t.Errorf("last asked is %s, want the raise", got)
	}
	if got := last(skimmed("-171.840", "-175.760")); got != "rim" {
		t.Errorf("a height that fails: last asked is %s", got)
	}
	o := outcome(t, p, "skim", facts, skimmed("-171.940", "-175.760", [2]string{"lowered", "0.3"})...)
	if k := verdictOf(t, o, "raised.zero"); k.Verdict != fold.Fail {
		t.Errorf("the raise still in: %v", k.Verdict)
	}
	// A cutter that left its collet for the probe proves nothing of the next cut.
	typed := skimmed("-171.940", "-175.760")
	typed[8][1] = "it left its collet"
	if k := verdictOf(t, outcome(t, p, "skim", facts, typed...), "skim.height"); k.Verdict != fold.NotProven {
		t.Errorf("a cutter that left its collet: %v", k.Verdict)
	}
	// The allowance of the job is what counts.
	wide := lidPlan(t, func(j *jobs.Job) { j.Fixture.AsMade.Rim, j.Thickness = 12, 1 })
	if k := verdictOf(t, outcome(t, wide, "skim", facts, skimmed("-171.840", "-175.760")...), "skim.height"); k.Verdict != fold.Pass || math.Abs(k.Limit.Max-0.2) > 1e-12 {
		t.Errorf("0.1 high with an allowance of 1: %v of %g", k.Verdict, k.Limit.Max)
	}
}

// A height that is not proven is looked at again by face and rim alone. Each look that could not tell widens the guard of the next, as a
// new round would; a value that failed, such as a wrong key, is no look.
func TestEachLookAtTheSkimCounts(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Fixture.AsMade.Rim = 12 })
	look := func(again ...[2]string) (fold.Check, fold.Outcome) {
		o := outcome(t, p, "skim", []fold.Known{seatOfLid}, skimmed("-171.940", "-175.760", again...)...)
		return verdictOf(t, o, "skim.height"), o
	}
	face := func(at string) [2]string { return [2]string{"face", at} }
	rim := [2]string{"rim", "-175.760"}
	once, _ := look()
	if k, _ := look(face("-171.840"), face("-171.940")); k.Guard != once.Guard {
		t.Errorf("a wrong key: guard %g, without it %g", k.Guard, once.Guard)
	}
	open, o := look(face("-171.920"))
	if open.Verdict != fold.NotProven || open.Guard != once.Guard || len(o.Next) != 2 || o.Next[0].Of != "face" || o.Next[1].Of != "rim" {
		t.Fatalf("0.020 high: %v ± %g, next %+v", open.Verdict, open.Guard, o.Next)
	}
	twice, _ := look(face("-171.920"), face("-171.920"), rim)
	thrice, _ := look(face("-171.920"), face("-171.920"), rim, face("-171.921"), rim)
	if !(once.Guard < twice.Guard && twice.Guard < thrice.Guard) {
		t.Errorf("guards of the first three looks %g, %g, %g", once.Guard, twice.Guard, thrice.Guard)
	}
	if want := once.Guard * budget.Looks(budget.LookShare(1), 1) / budget.Looks(budget.LookShare(0), 1); math.Abs(twice.Guard-want) > 1e-9 {
		t.Errorf("guard of the second look %g, want %g", twice.Guard, want)
	}
}

// Without a probe the face is gauged from the rim, the cutter left in.
func TestDepthGauge(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Fixture.AsMade.Rim, j.Machine.Probe = 12, nil })
	typed := [][2]string{{"pause", "3"}, {"gap", "11"}, {"near", "9.98"}, {"raised", "0.3"}, {"lines", "4"}, {"soft", "0"}, {"pass", "15.52"}, {"finished", "15.0"}}
	for over, want := range map[string]fold.Verdict{"3.82": fold.Pass, "3.83": fold.Pass, "3.9": fold.Fail, "3.5": fold.Fail} {
		if k := verdictOf(t, outcome(t, p, "skim", []fold.Known{seatOfLid}, append(typed, [2]string{"over", over})...), "skim.height"); k.Verdict != want {
			t.Errorf("%s over the rim: %v, %g ± %g", over, k.Verdict, k.Got, k.Guard)
		}
	}
}

// What a lean takes sideways stands in the register too: the part's thickness times the lean, of either sign, and its doubt.
func TestLeanGoesIntoTheRelease(t *testing.T) {
	p, known, typed := lidWalked(t, "shift")
	value := func(typed [][2]string) (axis int, v, g float64, lean facts.ShiftFact) {
		o := outcome(t, p, "shift", known, typed...)
		lean, ok := facts.Shift.Read(o.Facts[0])
		if !ok {
			t.Fatal("no shift")
		}
		get := func(id fold.FactID) (fold.Known, bool) {
			for _, f := range append(o.Facts, known...) {
				if f.ID == id {
					return f, true
				}
			}
			return fold.Known{}, false
		}
		_, axis, v, g = kit.WorstFeature(kit.RegisterAs(p, get, true, 3))
		return axis, v, g, lean
	}
	level := append([][2]string{}, typed...)
	_, _, _, was := value(level)
	axis, v0, g0, _ := value(level)
	leaning := raised(t, typed, 0.004, "z1", "z2") // under the limit of 0.005: passes the shift test
	_, v1, g1, is := value(leaning)
	h := kit.Thickness(p)
	side := [2]float64{float64(is.SideX), float64(is.SideY)}
	before := [2]float64{float64(was.SideX), float64(was.SideY)}
	if want := math.Abs(side[axis]) - math.Abs(before[axis]); math.Abs(v1-v0-want) > 1e-9 || math.Abs(math.Hypot(side[0], side[1])-math.Hypot(before[0], before[1])) < 1e-5*h {
		t.Errorf("the lean %v (was %v) changes the worst by %.6f, want %.6f", side, before, v1-v0, want)
	}
	if g0 <= 0 || math.Abs(g1-g0) > 1e-6 || is.UX <= 0 || is.UY <= 0 {
		t.Errorf("guards %.6f and %.6f, u of the lean %v %v", g0, g1, is.UX, is.UY)
	}
}

// A chip under one corner is seen at that corner, not in the middle of the four.
func TestBaselineByTheCorner(t *testing.T) {
	p, known, typed := lidWalked(t, "baseline")
	for _, by := range []float64{0.03, -0.03} {
		for _, corner := range []string{"z1", "z2", "z3", "z4"} {
			o := outcome(t, p, "baseline", known, raised(t, typed, by, corner)...)
			if c := verdictOf(t, o, "baseline.height"); c.Verdict != fold.Fail || math.Abs(c.Got-math.Abs(by)) > 0.005 {
				t.Errorf("%s by %g: %v %.4f", corner, by, c.Verdict, c.Got)
			}
		}
	}
}
