package steps_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// typed writes a number of a test as a person would type it.
func typed(v float64) string { return strconv.FormatFloat(v, 'f', 9, 64) }

// circle are hits on a circle about c, x and y in turn, starting at 0 degrees.
func circle(cx, cy, r float64, n int) []string {
	var out []string
	for i := 0; i < n; i++ {
		a := 2 * math.Pi * float64(i) / float64(n)
		out = append(out, typed(cx+r*math.Cos(a)), typed(cy+r*math.Sin(a)))
	}
	return out
}

// straight is a run of a dial along an edge of that slope of readings: jog test, both ends, bolts, stations, back.
func straight(p *fold.Plan, jogged, slope float64) []string {
	st := kit.Stations(p)
	out := []string{"0", typed(jogged), typed(slope * st[0]), typed(slope * st[len(st)-1])}
	for _, x := range st {
		out = append(out, typed(slope*x))
	}
	return append(out, typed(slope*st[0]))
}

// begin walks to the locating bore with the fixture turned by theta under a front edge whose dial reads true.
func begin(w *walker, theta float64) fold.State {
	w.t.Helper()
	w.types("mount", "toward you", "FX-3", "1", "1", "20.5")
	w.types("lengths", "2", "76.118", "88.420", "98.234", "98.234")
	return w.types("square", straight(w.p, 0.2, -math.Tan(theta))...)
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9f, want %.9f within %g", what, got, want, tol)
	}
}

func fact(t *testing.T, st fold.State, id fold.FactID) fold.Known {
	t.Helper()
	f, ok := st.Fact(id)
	if !ok {
		for _, s := range st.Steps {
			for _, c := range s.Outcome.Checks {
				t.Logf("%s %s %v %.6f ± %.6f of %.6f %s", s.ID, c.Limit.ID, c.Verdict, c.Got, c.Guard, c.Limit.Max, c.Words)
			}
		}
		t.Fatalf("no %s; asked is %s %s", id, st.Cursor.Step, st.Cursor.Field)
	}
	return f
}

func outcomeOf(t *testing.T, st fold.State, id fold.StepID) fold.Outcome {
	t.Helper()
	s, ok := st.Step(id)
	if !ok {
		t.Fatalf("no step %s", id)
	}
	return s.Outcome
}

func words(o fold.Outcome) string {
	var b strings.Builder
	for _, a := range o.Next {
		b.WriteString(a.Words + "\n")
	}
	for _, c := range o.Checks {
		b.WriteString(c.Words + "\n")
	}
	return b.String() + strings.Join(o.Notes, "\n") + o.Learned
}

// A run of seven stations 20 apart on a front edge, and what to do about it: published as
// a worked example of least squares on a dial (slope 0.155357e-3 of the readings; computed here).
func TestEdgeRunAndTapAdvice(t *testing.T) {
	readings := []string{"0", "+0.231", "30", "0", "0.019", "0", "0.003", "0.007", "0.009", "0.013", "0.015", "0.019", "0.001"}
	run := func(limit float64, twice bool) fold.State {
		w := newWalker(t, lidPlan(t, func(j *jobs.Job) {
			j.Fixture.AsMade.Edge.Length = 133.333 // seven stations 20 apart
			j.Machine.Dial.Graduation = 0.001
			j.Limits = map[string]unit.Length{"square.skew": unit.Length(limit)}
			j.Reasons = map[string]string{"square.skew": "as the test wants"}
		}))
		w.types("mount", "toward you", "FX-3", "1", "1", "20.5")
		w.types("lengths", "2", "76.118", "88.420", "98.234", "98.234")
		st := w.types("square", readings...)
		if twice {
			es, err := st.Again()
			if err != nil {
				t.Fatal(err)
			}
			w.put(es...)
			st = w.types("square", readings[3:]...)
		}
		return st
	}
	st := run(0.0002, false)
	f := fact(t, st, "skew")
	near(t, "theta", f.Value[0], -0.134508e-3, 1e-9)
	near(t, "u(theta)", math.Sqrt(f.Cov[0][0]), 15.6317e-6, 5e-9)
	near(t, "straightness", f.Value[1], 0.001144*0.865801/math.Cos(math.Pi/6), 2e-6)

	// Within the limit and not proven, nothing is tapped: it is read once more.
	o := outcomeOf(t, run(0.00014, false), "square")
	if fold.Worst(o.Checks) != fold.NotProven || len(o.Next) != 2 || o.Next[0].Do != "wipe" || o.Next[1].Do != "round" || !strings.Contains(words(o), "Don't tap") {
		t.Fatalf("not proven: %+v", o.Next)
	}

	// The same twice, it is there: the tap, the needle watched at the far end.
	o = outcomeOf(t, run(0.00014, true), "square")
	if len(o.Next) != 1 || o.Next[0].Of != "fixture@right" || o.Next[0].Dir != "away" {
		t.Fatalf("advice %+v", o.Next)
	}
	near(t, "tap", o.Next[0].Amount, 0.016141, 5e-7)
	near(t, "needle", o.Next[0].Needle.To, 0.019-0.016141/0.865801, 2e-6)
	for _, s := range []string{"LEFT end is the pivot", "RIGHT end AWAY by 0.016 mm", "Put the dial at the RIGHT end", "FALL by 0.019 to 0.000", "reads 1.16 times the move here"} {
		if !strings.Contains(o.Next[0].Words, s) {
			t.Errorf("%q is not in %q", s, o.Next[0].Words)
		}
	}
	if !strings.Contains(o.Learned, "RIGHT end is 0.016 mm TOWARD YOU") {
		t.Errorf("learned %q", o.Learned)
	}
}

// A station that stands out is read again before anything is tapped, with that station's field named; read twice so it stays,
// and nothing is tapped for what is not proven.
func TestNoTapByAnOutlier(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Machine.Dial.Graduation = 0.002 }).AtLevel(fold.FirstUse)
	if got := len(kit.Stations(p)); got != 3 {
		t.Skip("the lid's edge is read at", got)
	}
	w := newWalker(t, p)
	w.types("mount", "toward you", "FX-3", "1")
	w.types("lengths", "2", "76.118", "88.420", "98.234")
	st := w.types("square", "0", "+0.200", "0.002", "0.002", "0.042", "0.002", "0.000")
	o := outcomeOf(t, st, "square")
	if len(o.Next) != 2 || o.Next[1].Do != "again" || o.Next[1].Of != "s2" || o.Named != "nick" {
		t.Fatalf("a middle station off by 0.04: %+v %q", o.Next, o.Named)
	}
	es, err := st.Take("keyed", [2]string{"s2", "0.042"})
	if err != nil {
		t.Fatal(err)
	}
	w.put(es...)
	for _, n := range outcomeOf(t, w.l.State(p), "square").Next {
		if n.Do == "tap" {
			t.Errorf("read twice, not proven, and tapped: %+v", n)
		}
	}
}

// A dial that does not come back is never held against the slope found.
func TestClosing(t *testing.T) {
	p := lidPlan(t, nil)
	vals := straight(p, 0.2, 0)
	vals[len(vals)-1] = "0.003"
	w := newWalker(t, p)
	w.types("mount", "toward you", "FX-3", "1", "1", "20.5")
	w.types("lengths", "2", "76.118", "88.420", "98.234", "98.234")
	st := w.types("square", vals...)
	o := outcomeOf(t, st, "square")
	if len(o.Next) == 0 || o.Next[0].Do != "round" || !strings.Contains(words(o), "did not come back") {
		t.Errorf("a closing error of 0.003: %+v", o.Next)
	}
}

// Six ball centres in a bore of 8, hit 3 on a chip (computed here): leave-one-out names it.
func TestBadHitIsNamedAndTakenAgain(t *testing.T) {
	w := newWalker(t, lidPlan(t, nil))
	begin(w, 0)
	st := w.types("bore", "0", "toward you", "53.0220", "30.0070", "51.5160", "32.6120", "48.5375", "32.5609", "47.0035", "30.0070", "48.5070", "27.4003", "51.5160", "27.4020")
	o := outcomeOf(t, st, "bore")
	if o.Named != "chip-in-bore" || !strings.Contains(words(o), "Chip near 11 o'clock: hit 3 is 0.059 mm short") {
		t.Errorf("named %q: %s", o.Named, words(o))
	}
	if _, ok := st.Fact("bore"); ok {
		t.Error("the bore stands on a chip")
	}
	again := ""
	for _, a := range o.Next {
		if a.Do == "again" {
			again = a.Of
		}
	}
	if again != "hit3" {
		t.Fatalf("to be taken again: %q", again)
	}
	es, err := st.Take("keyed", [2]string{"hit3.x", "48.5077"}, [2]string{"hit3.y", "32.6122"})
	if err != nil {
		t.Fatal(err)
	}
	w.put(es...)
	f := fact(t, w.l.State(w.p), "bore")
	near(t, "X", f.Value[0], 50.012115, 2e-4)
	near(t, "Y", f.Value[1], 30.006528, 2e-4)
	near(t, "D", f.Value[2], 7.999598, 4e-4)
}

// Four hits show a bad one and can't say which: hits 1 and 3 look alike (computed here).
func TestFourHitsCannotName(t *testing.T) {
	w := newWalker(t, lidPlan(t, func(j *jobs.Job) { j.Setups[0].Hits = 4 }))
	begin(w, 0)
	o := outcomeOf(t, w.types("bore", "0", "toward you", "52.9610", "30.0070", "50.0120", "33.0160", "47.0030", "30.0070", "50.0120", "26.9980"), "bore")
	if !strings.Contains(words(o), "1 or 3, and it can't be said which") {
		t.Errorf("%s", words(o))
	}
	for _, a := range o.Next {
		if a.Do == "again" {
			t.Errorf("one hit is named to be taken again: %+v", a)
		}
	}
}

// Exactly one correction of a probed centre: today's eccentricity, and of the as-made bias the machine's part.
func TestOneProbeCorrection(t *testing.T) {
	w := newWalker(t, lidPlan(t, func(j *jobs.Job) {
		j.Machine.Probe.Eccentricity = [2]float64{0.0031, -0.0012}
		j.Fixture.AsMade.Bore.Bias, j.Fixture.AsMade.Bore.Eccentricity = [2]float64{-0.0040, 0.0010}, [2]float64{-0.0027, -0.0002}
	}))
	begin(w, 0)
	st := w.types("bore", append([]string{"0", "toward you"}, circle(-200, -100, 3.009, 6)...)...)
	f := fact(t, st, "bore")
	near(t, "X", f.Value[0], -200-0.0031-(-0.0040+0.0027), 1e-7)
	near(t, "Y", f.Value[1], -100+0.0012-(0.0010+0.0002), 1e-7)
	if !strings.Contains(words(outcomeOf(t, st, "bore")), "corrected once") {
		t.Error("the correction is not said")
	}
}

// Plane through five touches (computed here): tilts, height in the middle, and where it is high.
func TestFloor(t *testing.T) {
	w := newWalker(t, lidPlan(t, func(j *jobs.Job) {
		j.Fixture.Pocket.Outline = jobs.Outline{{X: -5, Y: -1.25}, {X: 95, Y: -1.25}, {X: 95, Y: 61.25}, {X: -5, Y: 61.25}}
		j.Allowance = 0.25
	}))
	begin(w, 0)
	w.types("bore", append([]string{"0", "toward you"}, circle(-200, -100, 3.009, 6)...)...)
	zs := []string{"-187.456", "-187.444", "-187.426", "-187.435", "-187.438", "-175.4", "-175.4"}
	f := fact(t, w.types("floor", zs...), "floor")
	near(t, "tilt X", f.Value[1], 0.131250e-3, 1e-9)
	near(t, "tilt Y", f.Value[2], 0.390000e-3, 1e-9)
	near(t, "Z", f.Value[0], -187.456+0.0162-98.234, 1e-9)

	w = newWalker(t, lidPlan(t, func(j *jobs.Job) {
		j.Fixture.Pocket.Outline = jobs.Outline{{X: -5, Y: -1.25}, {X: 95, Y: -1.25}, {X: 95, Y: 61.25}, {X: -5, Y: 61.25}}
	}))
	begin(w, 0)
	w.types("bore", append([]string{"0", "toward you"}, circle(-200, -100, 3.009, 6)...)...)
	st := w.types("floor", zs...)
	if _, ok := st.Fact("floor"); ok {
		t.Error("a floor that leans by 0.038 passed")
	}
	if o := outcomeOf(t, st, "floor"); !strings.Contains(words(o), "high at AWAY") || !strings.Contains(words(o), "NEAR LEFT 0.038, NEAR RIGHT 0.024, FAR RIGHT 0.000, FAR LEFT 0.013") {
		t.Errorf("%s", words(o))
	}

	// Probe 98.234 touching at -187.456 everywhere: the offset's Z is -285.690 (computed here).
	w = newWalker(t, lidPlan(t, nil))
	begin(w, 0)
	w.types("bore", append([]string{"0", "toward you"}, circle(-200, -100, 3.009, 6)...)...)
	near(t, "Z", fact(t, w.types("floor", "-187.456", "-187.456", "-187.456", "-187.456", "-187.456", "-175.456", "-175.456"), "floor").Value[0], -285.690, 1e-9)
}

const deg = math.Pi / 180

// turnedPlan is a part of 84 x 54 held at its part zero, bore to part zero (45, 20), no
// clearance, a fixture that grows by 70e-6 a kelvin more than the machine.
func turnedPlan(t *testing.T, edit func(*jobs.Job)) *fold.Plan {
	return lidPlan(t, func(j *jobs.Job) {
		j.Part.Size[0], j.Part.Size[1] = 84, 54
		j.Part.Features = nil // the four corners
		j.Setups[0].Against = []string{"left", "toward"}
		j.Fixture.AsMade.PartZero, j.Fixture.Pocket.Clearance = jobs.Point{X: 45, Y: 20}, 0
		j.Fixture.Alpha = 81.7e-6
		j.Machine.Readout = 1e-6
		j.Allowance = 0.25
		j.Limits = map[string]unit.Length{"square.skew": 0.002}
		j.Reasons = map[string]string{"square.skew": "as the test wants"}
		if edit != nil {
			edit(j)
		}
	})
}

// throughFloor walks to the offset: bore (-312.4450, -158.2210), skew +0.0500 deg, 4 K warmer.
func throughFloor(t *testing.T, p *fold.Plan) *walker {
	w := newWalker(t, p)
	w.types("mount", "toward you", "FX-3", "1", "1", "24.5")
	w.types("lengths", "2", "76.118", "88.420", "98.234", "98.234")
	w.types("square", straight(p, 0.2, -math.Tan(0.05*deg))...)
	w.types("bore", append([]string{"0", "toward you"}, circle(-312.4450, -158.2210, 3.009, 6)...)...)
	w.types("floor", "-187.456", "-187.456", "-187.456", "-187.456", "-187.456", "-175.456", "-175.456")
	return w
}

// O = B + R q v with the compromise about the middle of the part (computed here): all four
// corners are 0.043572 off, the middle none. Typed back are the published digits themselves.
func TestOffsetWithoutRotation(t *testing.T) {
	w := throughFloor(t, turnedPlan(t, nil))
	st := w.types("offset", "G54", "-267.473453", "-138.139485", "-285.690000", "0", "floor")
	f := fact(t, st, "offset")
	near(t, "X", f.Value[0], -267.473453, 1e-6)
	near(t, "Y", f.Value[1], -138.139485, 1e-6)
	near(t, "q", f.Value[8], 1.000280, 1e-12)
	for _, fe := range kit.RegisterOf(st.Plan(), st.Fact, false) {
		near(t, fe.Name, math.Hypot(fe.Error[0], fe.Error[1]), 0.043572, 1e-6)
	}
	// Where the part's feature stands minus where the tool cuts: turned counter-clockwise the
	// near right corner stands away of where it is cut.
	fs := kit.RegisterOf(st.Plan(), st.Fact, false)
	if fs[1].Name != "near right corner" || fs[1].Error[1] < 0.036 {
		t.Errorf("%s: %v", fs[1].Name, fs[1].Error)
	}
}

// A control that turns the program: the offset on the part zero, the rotation about it, no error left.
func TestOffsetWithRotation(t *testing.T) {
	w := throughFloor(t, turnedPlan(t, func(j *jobs.Job) { j.Machine.Rotation = "G68" }))
	st := w.types("offset", "G54", "-267.449875", "-138.176127", "-285.690000", "0.0500", "0", "floor")
	f := fact(t, st, "offset")
	near(t, "rotation", f.Value[3]/deg, 0.0500, 1e-7)
	for _, fe := range kit.RegisterOf(st.Plan(), st.Fact, false) {
		near(t, fe.Name, math.Hypot(fe.Error[0], fe.Error[1]), 0, 1e-6)
	}
}

// A pocket cut as part + 2 clearance about its middle moves a part pushed against two walls: once.
func TestPartAgainstItsWalls(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Fixture.Pocket.Clearance = 0.030 })
	v, note := kit.PartZero(p)
	near(t, "X", v.X, 44.970, 1e-12)
	near(t, "Y", v.Y, 20.030, 1e-12)
	if !strings.Contains(note, "LEFT and AWAY") {
		t.Errorf("it is not said: %q", note)
	}
}

// atOffset walks the plain lid to the offset: bore (-200, -100), nothing turned or grown.
func atOffset(t *testing.T, edit func(*jobs.Job)) *walker {
	w := newWalker(t, lidPlan(t, edit))
	begin(w, 0)
	w.types("bore", append([]string{"0", "toward you"}, circle(-200, -100, 3.009, 6)...)...)
	w.types("floor", "-187.456", "-187.456", "-187.456", "-187.456", "-187.456", "-175.456", "-175.456")
	return w
}

// What is read back is held against what was computed; the slip is named, the value is not.
func TestReadBackIsBlind(t *testing.T) {
	for _, c := range []struct{ x, y, z, slip string }{
		{"-155.200", "-79.980", "-285.690", "two digits swapped"},      // -155.020
		{"-1550.20", "-79.980", "-285.690", "the decimal point"},       // moved
		{"155.020", "-79.980", "-285.690", "the wrong sign"},           //
		{"-79.980", "-155.020", "-285.690", "number of the other axi"}, // exchanged
		{"-1555.020", "-79.980", "-285.690", "a digit doubled"},        //
		{"-155.020", "-79.980", "-285.691", ""},                        // a last digit: no known slip
	} {
		w := atOffset(t, nil)
		st := w.types("offset", "G54", c.x, c.y, c.z, "0", "floor")
		o := outcomeOf(t, st, "offset")
		if o.Named != "offset-slip" || !strings.Contains(words(o), c.slip) {
			t.Errorf("%v: named %q: %s", c, o.Named, words(o))
		}
		if _, ok := st.Fact("echo"); ok {
			t.Errorf("%v: the echo stands", c)
		}
		for _, k := range o.Checks {
			if strings.HasPrefix(k.Limit.ID, "echo.") && k.Verdict == fold.Fail && (strings.Contains(k.Words, "-155.020") || strings.Contains(k.Words, "-285.690")) && c.x != "-79.980" {
				t.Errorf("the value leaks: %q", k.Words)
			}
			if strings.HasPrefix(k.Limit.ID, "echo.") && k.Limit.Class != fold.Never {
				t.Errorf("%s can be waived", k.Limit.ID)
			}
		}
	}
	w := atOffset(t, nil)
	if st := w.types("offset", "G54", "-155.020", "-79.980", "-285.690", "0", "finished top"); st.Cursor.Step != "offset" {
		t.Error("the other Z0 word passed")
	}
	w = atOffset(t, nil)
	if st := w.types("offset", "G54", "-155.020", "-79.980", "-285.690", "0", "floor"); st.Cursor.Step == "offset" {
		t.Errorf("the true values did not pass: %s", words(outcomeOf(t, st, "offset")))
	}
}

// The line for manual entry is G10 L2 Pn with absolute origins: NISTIR 6556, 3.5.5 (verified copy).
func TestDelivery(t *testing.T) {
	say := func(edit func(*jobs.Job)) string {
		w := atOffset(t, edit)
		st := w.types("offset", "G54")
		a, ok := st.Ask("x")
		if !ok {
			t.Fatal("X is not asked")
		}
		return a.Do[0].Words
	}
	for _, c := range []struct {
		delivers, z0, want string
		unit               unit.System
	}{
		{"type-in", "floor", "Key into G54: X -155.020  Y -79.980  Z -285.690.", unit.Metric},
		{"g10", "floor", "G21 G90 G10 L2 P1 X-155.020 Y-79.980 Z-285.690.", unit.Metric},
		{"g92", "floor", "G92 X-44.980 Y-20.020. With the probe touching the floor: G92 Z0.000.", unit.Metric},
		{"g92", "finished top", "G92 Z-16.000.", unit.Metric},
		{"readout", "floor", "preset the readout to X -44.980, Y -20.020", unit.Metric},
	} {
		got := say(func(j *jobs.Job) { j.Machine.Delivers, j.Setups[0].Z0, j.Unit = c.delivers, c.z0, c.unit })
		if !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q in it", c.delivers, got, c.want)
		}
	}
}

// What a preset shows over the bore is -(bore to part zero), and that is what is read back.
func TestPresetIsReadBack(t *testing.T) {
	w := atOffset(t, func(j *jobs.Job) { j.Machine.Delivers, j.Machine.Offsets = "readout", 1 })
	st := w.types("offset", "G54", "-150.125", "-60.5", "-270", "-44.980", "-20.020", "0", "floor")
	fact(t, st, "echo")
	found := 0
	for _, l := range outcomeOf(t, st, "offset").Lines {
		if strings.HasPrefix(l.Label, "side 1's") {
			found++
		}
	}
	if found != 3 {
		t.Errorf("%d of side 1's values are kept in sight, want 3", found)
	}
}

// The lines of a feature 100 from the bore with a lever of 70, and the one decision: half-widths
// combined as JCGM 100:2008 and a numerical convolution have them (computed here; u, U and guard in mm).
func TestRegisterBudget(t *testing.T) {
	p := func(edit func(*jobs.Job)) *fold.Plan {
		return lidPlan(t, func(j *jobs.Job) {
			j.Part.Size = [3]float64{84, 54, 14}
			j.Part.Material = "boxwood-stabilised"
			j.Materials = map[string]jobs.Material{"boxwood-stabilised": {Alpha: [2]float64{kit.MachineAlpha, kit.MachineAlpha}}}
			j.Part.Given = nil
			j.Setups[0].Against = []string{"right", "away"}
			j.Part.Features = []jobs.Feature{kit.Feature("f", 30, 54)} // 54 from the wall, 70 across from the bore
			j.Fixture.AsMade.PartZero = jobs.Point{X: 16, Y: 16}       // 100 from bore to wall
			made := unit.Temperature(20)                               // known, so that 1 K counts and not the 5 K of a fixture nobody asked about
			j.Fixture.AsMade.Temperature = &made
			j.Fixture.Pocket.Clearance = 0
			j.Fixture.Alpha = 81.7e-6
			j.Machine.Backlash, j.Machine.Squareness, j.Machine.SquareMeasured = 0.005, 1e-4, true
			j.Machine.Tram = nil
			edit(j)
		})
	}
	get := func(p *fold.Plan) func(fold.FactID) (fold.Known, bool) {
		v, _ := kit.PartZero(p)
		f := fold.Known{ID: "offset", Dof: 30, Value: []float64{v.X, v.Y, 0, 0, 0, 0, v.X, v.Y, 1, 0, 0, 0, 0},
			Cov: [][]float64{{1.154701e-3 * 1.154701e-3, 0, 0, 0}, {0, 1.154701e-3 * 1.154701e-3, 0, 0}, {0, 0, 15.631660e-6 * 15.631660e-6, 0}, {0, 0, 0, 0}}}
		return onlyFact(f)
	}
	for _, c := range []struct {
		name      string
		floating  float64
		u, big, g float64
	}{
		{"against two walls", 0, 9.796e-3, 19.201e-3, 16.114e-3},
		{"floating, 0.030", 0.030, 19.688e-3, 35.928e-3, 31.597e-3},
		{"floating, 0.050", 0.050, 30.347e-3, 52.824e-3, 47.710e-3},
	} {
		q := p(func(j *jobs.Job) {
			if c.floating > 0 {
				j.Setups[0].Floating, j.Setups[0].Against = true, nil
				j.Fixture.Pocket.Clearance = c.floating
				j.Part.Features = []jobs.Feature{kit.Feature("f", 96, 54)} // it is held about its middle
				j.Fixture.AsMade.PartZero = jobs.Point{X: 58, Y: 16}
			}
		})
		fe := kit.RegisterAs(q, get(q), true, 2)[0] // as the second walk reckons
		u2 := 0.0
		for _, l := range fe.Lines[0] {
			u2 += l.Std() * l.Std()
		}
		near(t, c.name+": u", math.Sqrt(u2), c.u, 1e-6)
		near(t, c.name+": U", fe.U[0], c.big, 1e-6)
		near(t, c.name+": guard", fe.Guard[0], c.g, 1e-6)
		// Before the part is in only machine and fixture count: bore, machine, probe, skew, heat, squareness.
		near(t, c.name+": guard of the offset", kit.RegisterAs(q, get(q), false, 2)[0].Guard[0], 10.4e-3, 0.05e-3)
		if c.floating > 0 && fe.Largest[0] != "clearance" {
			t.Errorf("%s: the largest line is %s", c.name, fe.Largest[0])
		}
		// 0.1 mrad of skew left over a lever of 50 and a kink of 0.0023 are known: they add to the value.
		v := judge.Of(q.Limit("release.register"), 0.0073, fe.Guard[0])
		if want := map[float64]fold.Verdict{0: fold.Pass, 0.030: fold.Pass, 0.050: fold.NotProven}[c.floating]; v.Verdict != want {
			t.Errorf("%s: %v, want %v", c.name, v.Verdict, want)
		}
	}
}

// A rectangle or a normal line without a source is one that nobody can check.
func TestEveryLineHasASourceOrIsAssumed(t *testing.T) {
	w := atOffset(t, nil)
	st := w.types("offset", "G54", "-155.020", "-79.980", "-285.690", "0", "floor")
	known := "bore skew scale machine probe heat growth by one bore squareness side-1 pickup machine, side 1 cutter moisture part heat clearance wall contact shift test found at a recheck bore, skew and scale finder squareness and turn at the walls turn at the walls lead lead of side 1 humidity of the fixture probe's lobes width measured again"
	for _, fe := range steps.Register(&st) {
		for a := range fe.Lines {
			for _, l := range fe.Lines[a] {
				if !strings.Contains(known, l.Name) {
					t.Errorf("line %q is not one of the known", l.Name)
				}
				if !l.Assumed && l.Source == "" {
					t.Errorf("%s: line %q has neither a source nor is it said to be assumed", fe.Name, l.Name)
				}
			}
		}
	}
}

func onlyFact(f fold.Known) func(fold.FactID) (fold.Known, bool) {
	return func(id fold.FactID) (fold.Known, bool) {
		if id == f.ID {
			return f, true
		}
		return fold.Known{}, false
	}
}
