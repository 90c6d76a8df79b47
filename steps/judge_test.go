package steps_test

import (
	"math"
	"strings"
	"testing"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/side2"
)

// standing is a view by hand: facts that stand, and what was typed.
func standing(p *fold.Plan, step fold.StepID, facts []fold.Known, typed ...[2]string) fold.View {
	return fold.Trial(p, step, r0, facts, typed...)
}

func outcome(t *testing.T, p *fold.Plan, step fold.StepID, facts []fold.Known, typed ...[2]string) fold.Outcome {
	t.Helper()
	sp, ok := p.Spec(step)
	if !ok {
		t.Fatalf("no step %q", step)
	}
	return sp.Judge(standing(p, step, facts, typed...))
}

// verdictOf finds a check; it fails the test when there is none.
func verdictOf(t *testing.T, o fold.Outcome, limit string) fold.Check {
	t.Helper()
	for _, c := range o.Checks {
		if c.Limit.ID == limit {
			return c
		}
	}
	t.Fatalf("no check %q in %+v", limit, o.Checks)
	return fold.Check{}
}

// failsHaveNext checks the promise that no FAIL comes without a physical next act.
func failsHaveNext(t *testing.T, what string, o fold.Outcome) {
	t.Helper()
	for _, c := range o.Checks {
		if !c.Verdict.OK() {
			if len(o.Next) == 0 {
				t.Errorf("%s: %s %v and no next act", what, c.Limit.ID, c.Verdict)
			}
			for _, a := range o.Next {
				if a.Do == "" {
					t.Errorf("%s: an act without a verb: %+v", what, a)
				}
			}
			return
		}
	}
}

func floorFact() fold.Known { return fold.Known{ID: "floor", Value: []float64{-286, 0, 0, -274}} }

// seated types a seat round; z are the four corners' heights over a level top.
func seated(rock1, rock2 string, z [4]string) [][2]string {
	return [][2]string{{"pause", "0"}, {"up", "down on the floor"}, {"turned", side2.FlipWords["x"]}, {"edge", "away"}, {"rock1", rock1}, {"rock2", rock2},
		{"strips", "0"}, {"walls", "0"}, {"z1", z[0]}, {"z2", z[1]}, {"z3", z[2]}, {"z4", z[3]}}
}

// A chip under one corner: the part rests on it and on the ends of the other
// diagonal, a pure tilt. The diagonal that stays still carries it, at its higher end.
func TestSeatNamesTheChipCorner(t *testing.T) {
	p := lidPlan(t, nil)
	for _, c := range []struct {
		name         string
		rock1, rock2 string
		z            [4]string
		named, where string
		rock, lean   fold.Verdict
	}{
		{"level", "0.001", "0.002", [4]string{"-171.500", "-171.501", "-171.500", "-171.501"}, "", "", fold.Pass, fold.Pass},
		// chip at NEAR LEFT: diagonal 1 still, 2 rocks; it lies on FAR LEFT now, so NEAR RIGHT is as high
		{"near left", "0.001", "0.050", [4]string{"-171.460", "-171.460", "-171.500", "-171.500"}, "seated-on-chip", "NEAR LEFT", fold.Fail, fold.Fail},
		{"far right", "0.000", "0.050", [4]string{"-171.500", "-171.500", "-171.460", "-171.460"}, "seated-on-chip", "FAR RIGHT", fold.Fail, fold.Fail},
		{"near right", "0.050", "0.001", [4]string{"-171.500", "-171.460", "-171.460", "-171.500"}, "seated-on-chip", "NEAR RIGHT", fold.Fail, fold.Fail},
		{"far left", "0.050", "0.001", [4]string{"-171.460", "-171.500", "-171.500", "-171.460"}, "seated-on-chip", "FAR LEFT", fold.Fail, fold.Fail},
		// it does not rock: a chip under an edge
		{"left edge", "0.001", "0.001", [4]string{"-171.460", "-171.500", "-171.500", "-171.460"}, "seated-on-chip", "LEFT", fold.Pass, fold.Fail},
		{"far edge", "0.001", "0.001", [4]string{"-171.500", "-171.500", "-171.460", "-171.460"}, "seated-on-chip", "AWAY", fold.Pass, fold.Fail},
	} {
		o := outcome(t, p, "seat", []fold.Known{floorFact()}, seated(c.rock1, c.rock2, c.z)...)
		if v := verdictOf(t, o, "seat.rock").Verdict; v != c.rock {
			t.Errorf("%s: rock %v, want %v", c.name, v, c.rock)
		}
		if v := verdictOf(t, o, "seat.parallel").Verdict; v != c.lean {
			t.Errorf("%s: lean %v, want %v", c.name, v, c.lean)
		}
		if o.Named != c.named {
			t.Errorf("%s: named %q, want %q", c.name, o.Named, c.named)
		}
		if c.where != "" && (len(o.Next) == 0 || o.Next[0].Dir != c.where) {
			t.Errorf("%s: next %+v, want a wipe at %s", c.name, o.Next, c.where)
		}
		failsHaveNext(t, c.name, o)
	}
}

func TestSeatNamesAPartTheWrongWay(t *testing.T) {
	p := lidPlan(t, nil)
	level := [4]string{"-171.500", "-171.501", "-171.500", "-171.501"}
	for field, want := range map[string][2]string{"up": {"up", "wrong-side-up"}, "turned": {side2.FlipWords["y"], "flipped-wrong-axis"}, "edge": {"toward you", "part-rotated"},
		"walls": {"2", "clearance-not-pushed"}, "strips": {"1", "seated-on-chip"}} {
		typed := seated("0.001", "0.001", level)
		for i := range typed {
			if typed[i][0] == field {
				typed[i][1] = want[0]
			}
		}
		o := outcome(t, p, "seat", []fold.Known{floorFact()}, typed...)
		if o.Named != want[1] || len(o.Next) == 0 {
			t.Errorf("%s %q: named %q next %v, want %q and an act", field, want[0], o.Named, o.Next, want[1])
		}
	}
}

// The worked motion (arithmetic checked by hand): an X face at Y 27 moved by 0.0015, Y faces at X 7 and
// 77 by 0.0020 and 0.0090, s 0.0009 of 14 degrees of freedom. No witness moved by more
// than 0.0090, yet a corner did by 0.0097, within 0.002362: not proven against 0.010.
func TestMotionAtTheWorstFeature(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Part.Size, j.Part.Features = [3]float64{84, 54, 14}, nil })
	ds := []fit.Difference{{Axis: fit.AxisX, At: fit.Point{X: 0, Y: 27}, D: 0.0015, Q: 1}, {Axis: fit.AxisY, At: fit.Point{X: 7}, D: 0.0020, Q: 1}, {Axis: fit.AxisY, At: fit.Point{X: 77}, D: 0.0090, Q: 1}}
	m, err := fit.SolveMotion(ds, [3]float64{1, 1, 1}, budget.Spread{S: 0.0009, Dof: 14})
	if err != nil {
		t.Fatal(err)
	}
	name, axis, value, guard := side2.AtWorst(p, m, 0)
	if !strings.Contains(name, "right") || axis != 1 || math.Abs(value-0.0097) > 1e-9 || math.Abs(guard-0.002362) > 1e-6 {
		t.Errorf("worst %s axis %d %.6f ± %.6f, want a right corner, y, 0.009700 ± 0.002362", name, axis, value, guard)
	}
	l := p.Limit("shift.register")
	for _, c := range []struct {
		max     float64
		verdict fold.Verdict
		words   string
	}{{0.010, fold.NotProven, "Not proven"}, {0.013, fold.Pass, "Real but small"}, {0.007, fold.Fail, "Real and large"}, {0.002, fold.Fail, "Real and large"}} {
		l.Max = c.max
		k, words := side2.WeighMotion(p, l, m)
		if k.Verdict != c.verdict || !strings.HasPrefix(words, c.words) {
			t.Errorf("against %v: %v %q, want %v %q", c.max, k.Verdict, words, c.verdict, c.words)
		}
	}
	for i := range ds {
		ds[i].D /= 20
	}
	m, _ = fit.SolveMotion(ds, [3]float64{1, 1, 1}, budget.Spread{S: 0.0009, Dof: 14})
	l.Max = 0.010
	if k, words := side2.WeighMotion(p, l, m); k.Verdict != fold.Pass || !strings.HasPrefix(words, "Quiet") {
		t.Errorf("a twentieth of it: %v %q, want quiet", k.Verdict, words)
	}
	m, _ = fit.SolveMotion(ds, [3]float64{1, 1, 1}, budget.Spread{S: 0.009, Dof: 14})
	if k, words := side2.WeighMotion(p, l, m); k.Verdict != fold.NotProven || !strings.HasPrefix(words, "Too noisy") {
		t.Errorf("with ten times the scatter: %v %q, want too noisy", k.Verdict, words)
	}
}

// A set against its own baseline: what the probe's refit adds is in part and fixture
// alike and cancels; a part that moved shows.
func TestSetsCancelARefittedProbe(t *testing.T) {
	p := lidPlan(t, nil)
	at := func(dx, dy, dz, px, py, pz float64) []([2]string) {
		num := func(v float64) string { return strings.Replace(strings.TrimSpace(fmtMM(v)), " ", "", -1) }
		out := [][2]string{{"f0", num(-300 + dx)}, {"f180", num(-306 + dx)}, {"f90", num(-150 + dy)}, {"f270", num(-156 + dy)}, {"rim", num(-180 + dz)}, {"rim.2", num(-180 + dz)}}
		for _, s := range kit.Spots(p) {
			v := map[fit.Axis]float64{fit.AxisX: -250 + dx + px, fit.AxisY: -140 + dy + py, fit.AxisZ: -176 + dz + pz}[s.Axis]
			out = append(out, [2]string{s.Field, num(v)}, [2]string{s.Field + ".2", num(v + 0.001)})
		}
		return out
	}
	base := outcome(t, p, "baseline", nil, at(0, 0, 0, 0, 0, 0)...)
	if len(base.Facts) != 1 || len(base.Facts[0].Value) != 3+len(kit.Spots(p)) {
		t.Fatalf("baseline facts %+v", base.Facts)
	}
	o := outcome(t, p, "shift", base.Facts, at(0.007, -0.005, 0.03, 0, 0, 0)...)
	if c := verdictOf(t, o, "shift.register"); c.Verdict != fold.Pass || c.Got > 1e-9 || o.Named != "" {
		t.Errorf("a refitted probe alone: %v %.4f named %q, want 0 and PASS", c.Verdict, c.Got, o.Named)
	}
	o = outcome(t, p, "shift", base.Facts, at(0.007, -0.005, 0.03, 0.020, 0, 0)...)
	if c := verdictOf(t, o, "shift.register"); c.Verdict != fold.Fail || math.Abs(c.Got-0.020) > 1e-9 || o.Named != "shift-at-swap" {
		t.Errorf("a part moved by 0.020: %v %.4f named %q", c.Verdict, c.Got, o.Named)
	}
	failsHaveNext(t, "shift", o)
	o = outcome(t, p, "lift", base.Facts, at(0.007, -0.005, 0.03, 0, 0, 0.020)...)
	if c := verdictOf(t, o, "lift"); c.Verdict != fold.Fail || math.Abs(c.Got-0.020) > 0.001 || o.Named != "lifted-by-drilling" {
		t.Errorf("a part lifted by 0.020: %v %.4f named %q", c.Verdict, c.Got, o.Named)
	}
	o = outcome(t, p, "seat-check", base.Facts, at(0.007, -0.005, 0.03, 0, 0.030, 0)...)
	if c := verdictOf(t, o, "check.seat"); c.Verdict != fold.Fail || o.Named != "bumped-part" {
		t.Errorf("a part bumped by 0.030: %v named %q", c.Verdict, o.Named)
	}
	failsHaveNext(t, "seat check", o)
}

// Two repeats that can't decide ask for two more, and only for the part's witnesses.
func TestMoreRepeatsWhenNotProven(t *testing.T) {
	p := lidPlan(t, nil)
	spots := kit.Spots(p)
	base := fold.Known{ID: "baseline", Value: []float64{float64(len(spots)), 0.0005, 8}}
	typed := [][2]string{{"f0", "-300"}, {"f180", "-306"}, {"f90", "-150"}, {"f270", "-156"}, {"rim", "-180"}, {"rim.2", "-180"}}
	for _, s := range spots {
		v := map[fit.Axis]float64{fit.AxisX: -250, fit.AxisY: -140, fit.AxisZ: -176}[s.Axis]
		base.Value = append(base.Value, v-map[fit.Axis]float64{fit.AxisX: -303, fit.AxisY: -153, fit.AxisZ: -180}[s.Axis])
		if s.Axis == fit.AxisX {
			v += 0.009
		}
		typed = append(typed, [2]string{s.Field, fmtMM(v)}, [2]string{s.Field + ".2", fmtMM(v + 0.001)})
	}
	v := standing(p, "shift", []fold.Known{base}, typed...)
	sp, _ := p.Spec("shift")
	o := sp.Judge(v)
	if c := verdictOf(t, o, "shift.register"); c.Verdict != fold.NotProven {
		t.Fatalf("a move of 0.0095 against %v: %v ± %v %v, want NOT PROVEN", c.Limit.Max, c.Got, c.Guard, c.Verdict)
	}
	more := 0
	for _, a := range sp.Asks(v) {
		if a.Form == "more" {
			if !a.Optional || strings.HasPrefix(a.Field, "f") || strings.HasPrefix(a.Field, "rim") {
				t.Errorf("more asks for %s, optional %v", a.Field, a.Optional)
			}
			more++
		}
	}
	if more != 2*len(spots) {
		t.Errorf("%d more repeats asked, want %d", more, 2*len(spots))
	}
	if len(o.Next) == 0 || o.Next[0].Of != "more" {
		t.Errorf("next %+v, want more repeats", o.Next)
	}
	for _, s := range spots {
		x, _ := v.Num(s.Field, unit.KLength)
		typed = append(typed, [2]string{s.Field + ".3", fmtMM(x)}, [2]string{s.Field + ".4", fmtMM(x + 0.001)})
	}
	o = sp.Judge(standing(p, "shift", []fold.Known{base}, typed...))
	if c := verdictOf(t, o, "shift.register"); c.Verdict != fold.NotProven {
		t.Fatalf("four repeats: %v", c.Verdict)
	}
	if len(o.Next) == 0 || o.Next[0].Do != "reopen" || o.Next[0].Of != "seat" {
		t.Errorf("next after four repeats %+v, want the seat again", o.Next)
	}
}

// Numbers of the drill plan: 2.4 at 118 degrees goes 0.921033 below the seat; an 8 mm screw
// through 2.5 and a washer of 0.3 into a relief of 1 has 4.2 of thread (computed here).
func TestDrillAndScrewNumbers(t *testing.T) {
	p := lidPlan(t, nil)
	if d := desk.TipBelowSeat(jobs.Tool{Dia: 2.4, Point: 118}); math.Abs(d-0.921033) > 1e-6 {
		t.Errorf("tip %v below the seat, want 0.921033", d)
	}
	if e := side2.Engaged(p); math.Abs(e-4.2) > 1e-9 {
		t.Errorf("engaged %v, want 4.2", e)
	}
	q := lidPlan(t, func(j *jobs.Job) { j.Setups[0].Screws.Seat, j.Setups[0].Cut.Lowest = -5.5, -2.2 })
	if top, ok := desk.HeadTop(q, 0); !ok || math.Abs(top+3.2) > 1e-9 {
		t.Errorf("top of the head at %v, want -3.200", top)
	}
	o := outcome(t, q, "deck", nil, [2]string{"clamps", "0"}, [2]string{"bolts", "0"}, [2]string{"wrenches", "0"}, [2]string{"dials", "0"}, [2]string{"rotation", "0"})
	if c := verdictOf(t, o, "deck.head"); c.Verdict != fold.Pass || math.Abs(c.Got-0.850) > 1e-9 {
		t.Errorf("room over the heads %v %v, want 0.850", c.Got, c.Verdict)
	}
	if top, _ := desk.HeadTop(q, 2.9); math.Abs(top+2.6) > 1e-9 {
		t.Errorf("top of a head measured higher at %v, want -2.600", top)
	}
	q.Setup.Cut.Lowest = -2.6
	o = outcome(t, q, "deck", nil, [2]string{"clamps", "1"}, [2]string{"bolts", "0"}, [2]string{"wrenches", "0"}, [2]string{"dials", "0"}, [2]string{"rotation", "0.5"})
	if c := verdictOf(t, o, "deck.head"); c.Verdict != fold.Fail {
		t.Errorf("room %v passes", c.Got)
	}
	if c := verdictOf(t, o, "rotation.zero"); c.Verdict != fold.Fail {
		t.Error("an active rotation passes the deck")
	}
	failsHaveNext(t, "deck", o)
}

func TestStrapsOverAHollow(t *testing.T) {
	p := lidPlan(t, nil)
	on := [][2]string{{"drawn", "as drawn"}, {"solid", "2"}, {"on", "2"}, {"xy", "0.002"}, {"z", "0.001"}, {"torque", "1"}}
	o := outcome(t, p, "straps", nil, on...)
	if v := fold.Worst(o.Checks); v != fold.Pass {
		t.Fatalf("good straps: %v %+v", v, o.Checks)
	}
	on[4][1] = "-0.080"
	if o = outcome(t, p, "straps", nil, on...); o.Named != "strap-over-hollow" || verdictOf(t, o, "straps.bow").Verdict != fold.Fail {
		t.Errorf("a bow of 0.080: %+v", o)
	}
	failsHaveNext(t, "straps", o)
	hollow := lidPlan(t, func(j *jobs.Job) { j.Setups[0].Clamps[0].TipAt = &jobs.Point{X: 30, Y: 32} })
	on[4][1] = "0.001"
	o = outcome(t, hollow, "straps", nil, on...)
	if c := verdictOf(t, o, "straps.solid.left"); c.Verdict != fold.Fail || !strings.Contains(c.Words, "hollow") {
		t.Errorf("a tip in the middle of the pocket: %+v", c)
	}
	failsHaveNext(t, "straps", o)
}

// The ring example: 25.0006, spans 23.0182 and 23.0186 give radii 0.9912 and 0.9910 (arithmetic checked by hand).
func TestBallInTheRing(t *testing.T) {
	p := lidPlan(t, nil)
	typed := [][2]string{{"size", "25.0006"}}
	for _, o := range []struct {
		pre    string
		dx, dy float64
	}{{"a", 0, 0}, {"b", 0.006, 0.0004}} {
		typed = append(typed, [2]string{o.pre + ".x+", fmtMM(211.5074 + o.dx)}, [2]string{o.pre + ".x-", fmtMM(188.4892 + o.dx)},
			[2]string{o.pre + ".y+", fmtMM(111.5091 + o.dy)}, [2]string{o.pre + ".y-", fmtMM(88.4905 + o.dy)})
	}
	o := outcome(t, p, "ball", nil, typed...)
	if len(o.Facts) != 1 {
		t.Fatalf("%+v", o)
	}
	for i, want := range []float64{0.9912, 0.9910, -0.003, -0.0002} {
		if got := o.Facts[0].Value[i]; math.Abs(got-want) > 1e-9 {
			t.Errorf("ball component %d is %.7f, want %.4f", i, got, want)
		}
	}
	was := fold.Known{ID: "ball", Value: []float64{0.9912, 0.9910, -0.003, -0.0002, 0.001, 30}}
	if o = outcome(t, p, "ball-check", []fold.Known{was}, typed...); fold.Worst(o.Checks) != fold.Pass {
		t.Errorf("the same ball: %+v", o.Checks)
	}
	was.Value[0] = 0.9870
	if o = outcome(t, p, "ball-check", []fold.Known{was}, typed...); verdictOf(t, o, "check.ball").Verdict != fold.Fail {
		t.Errorf("a radius that changed by 0.0042 passes")
	}
	failsHaveNext(t, "ball check", o)
	typed[1][1], typed[2][1] = typed[2][1], typed[1][1]
	if o = outcome(t, p, "ball", nil, typed...); len(o.Facts) != 0 || len(o.Next) == 0 {
		t.Errorf("swapped hits are taken: %+v", o)
	}
}
