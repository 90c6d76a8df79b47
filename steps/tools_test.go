package steps_test

import (
	"math"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/side2"
)

// A dial swept in the bore: jog +0.100 gives +0.098; four readings; move and sweep again (computed here).
func TestSweptBore(t *testing.T) {
	w := newWalker(t, lidPlan(t, func(j *jobs.Job) { j.Setups[0].Finds = "dial" }))
	begin(w, 0)
	st := w.types("bore", "0", "-312.4330", "-158.2200", "0.014", "0.112", "0.001", "-0.010", "0.001")
	if st.Cursor.Field != "sx.2" {
		t.Fatalf("after a move of 0.012 asked is %q, want another sweep", st.Cursor.Field)
	}
	st = w.types("bore", "-312.4330", "-158.2200")
	_ = st
}

// The published sweep: readings +0.014, -0.010 along X, +0.003, +0.001 along Y from (-312.4330, -158.2200).
func TestSweptBoreNumbers(t *testing.T) {
	w := newWalker(t, lidPlan(t, func(j *jobs.Job) {
		j.Setups[0].Finds = "dial"
		j.Machine.Dial.Graduation = 0.02 // coarse enough that one sweep serves
		j.Limits = map[string]unit.Length{"square.skew": 0.001}
		j.Reasons = map[string]string{"square.skew": "as the test wants"}
	}))
	begin(w, 0)
	st := w.types("bore", "0", "-312.4330", "-158.2200", "0.014", "0.112", "0.003", "-0.010", "0.001")
	f := fact(t, st, "bore")
	near(t, "X", f.Value[0], -312.445245, 5e-7)
	near(t, "Y", f.Value[1], -158.221020, 5e-7)
	if f.Cov[0][0] < 0.01*0.01 {
		t.Errorf("u %.4f is below half a graduation", math.Sqrt(f.Cov[0][0]))
	}
	for _, l := range outcomeOf(t, st, "bore").Lines {
		if l.Label == "X against Y" {
			near(t, "redundancy", l.Value, 0, 1e-12)
		}
	}
}

// An oval or dirty bore shows as X against Y; a jog test without a needle is refused.
func TestSweepFaults(t *testing.T) {
	edit := func(j *jobs.Job) { j.Setups[0].Finds = "dial" }
	w := newWalker(t, lidPlan(t, edit))
	begin(w, 0)
	o := outcomeOf(t, w.types("bore", "0", "-312.4330", "-158.2200", "0", "0.098", "0.010", "0", "0.010"), "bore")
	if o.Named != "chip-in-bore" || !strings.Contains(words(o), "X and Y disagree by 0.020") {
		t.Errorf("%q: %s", o.Named, words(o))
	}
	w = newWalker(t, lidPlan(t, edit))
	begin(w, 0)
	o = outcomeOf(t, w.types("bore", "0", "-312.4330", "-158.2200", "0", "0", "0.010", "0", "0.010"), "bore")
	if !strings.Contains(words(o), "the needle did not move") {
		t.Errorf("%s", words(o))
	}
}

// Two faces 96 apart, kicked at -150.012 and -48.986: the middle -99.499, and a radius of
// 2.513 that shows a late kick of a finder of 5 (computed here).
func TestEdgeFinderOnASquare(t *testing.T) {
	for _, c := range []struct {
		repeat float64
		ok     bool
	}{{0.005, true}, {0.002, false}} {
		w := newWalker(t, lidPlan(t, func(j *jobs.Job) {
			j.Setups[0].Finds = "edge finder"
			j.Machine.Finder = &jobs.EdgeFinder{Dia: 5, Repeat: c.repeat}
			j.Fixture.AsMade.Bore = jobs.Bore{Kind: "square", Dia: 96}
			j.Allowance = 0.2
		}))
		begin(w, 0)
		st := w.types("bore", "0", "-48.986", "-150.012", "-60", "-161")
		f, ok := st.Fact("bore")
		if ok != c.ok {
			t.Fatalf("repeat %.3f: passed %v: %s", c.repeat, ok, words(outcomeOf(t, st, "bore")))
		}
		for _, l := range outcomeOf(t, st, "bore").Lines {
			if l.Label == "radius from X" {
				near(t, "radius", l.Value, 2.513, 1e-9)
			}
		}
		if ok {
			near(t, "X", f.Value[0], -99.499, 1e-9)
		} else if o := outcomeOf(t, st, "bore"); !strings.Contains(words(o), "late kick") || o.Named != "bad-hit" {
			t.Errorf("%s", words(o))
		}
	}
}

// Two pins 80.000 apart as made, found at (0, 0) and (79.998, 0.060): 0.042973 degrees (computed here).
func TestTwoPins(t *testing.T) {
	w := newWalker(t, lidPlan(t, func(j *jobs.Job) {
		j.Fixture.AsMade.Edge = nil
		j.Fixture.AsMade.Bore.Kind = "pin"
		j.Fixture.AsMade.Bore2 = &jobs.Bore2{At: jobs.Point{X: 80}}
		j.Limits = map[string]unit.Length{"square.skew": 0.002}
		j.Reasons = map[string]string{"square.skew": "as the test wants"}
		j.Allowance = 0.5
	}))
	w.types("mount", "toward you", "FX-3", "1", "1", "20.5")
	w.types("lengths", "2", "76.118", "88.420", "98.234", "98.234")
	w.types("square", "4.991", "-4.991", "5.051", "-4.931", "4.991", "-4.991", "5.051", "-4.931")
	hits := append([]string{"0", "toward you"}, circle(0, 0, 4.991, 6)...)
	st := w.types("bore", append(hits, circle(79.998, 0.060, 4.991, 4)...)...)
	f := fact(t, st, "bore")
	near(t, "skew, deg", f.Value[4]/deg, 0.042973, 1e-6)
	near(t, "scale", f.Value[3], math.Hypot(79.998, 0.060)/80, 1e-9)
	// The offset takes the direction from the whole pins, with what it shares with the place of the first.
	st = w.types("floor", "-187.456", "-187.456", "-187.456", "-187.456", "-187.456", "-175.456", "-175.456")
	off, _, ok := side2.ComputeOffset(w.p, st.Fact, 3)
	if !ok || off.Value[9] != f.Value[4] || off.Cov[1][2] == 0 {
		t.Errorf("skew of the offset %v, its covariance %v", off.Value[9], off.Cov)
	}
}

// A gauge pin leaves its play as a rectangle, and two times that differ by more are refused.
func TestGaugePin(t *testing.T) {
	edit := func(j *jobs.Job) { j.Setups[0].Finds = "pin"; j.Allowance = 0.1 }
	w := newWalker(t, lidPlan(t, edit))
	begin(w, 0)
	st := w.types("bore", "0", "7.990", "-200.001", "-100.002", "-200.004", "-100.000")
	f := fact(t, st, "bore")
	near(t, "X", f.Value[0], -200.0025, 1e-9)
	if u := math.Sqrt(f.Cov[0][0]); u < 0.010/2/math.Sqrt(3) {
		t.Errorf("u %.4f does not hold the play", u)
	}
	w = newWalker(t, lidPlan(t, edit))
	begin(w, 0)
	if st = w.types("bore", "0", "7.990", "-200.001", "-100.002", "-200.021", "-100.000"); len(outcomeOf(t, st, "bore").Next) == 0 {
		t.Error("two times 0.020 apart passed with a play of 0.010")
	}
	w = newWalker(t, lidPlan(t, edit))
	begin(w, 0)
	if o := outcomeOf(t, w.types("bore", "0", "8.010", "-200.001", "-100.002", "-200.001", "-100.000"), "bore"); !strings.Contains(words(o), "does not go into") {
		t.Errorf("%s", words(o))
	}
}

// Without a probe the floor stands on the first tool over a block, taken off once; a dial tells how far its corners stand over that.
func TestFloorOverABlock(t *testing.T) {
	w := newWalker(t, lidPlan(t, func(j *jobs.Job) { j.Setups[0].Finds = "dial"; j.Machine.Probe = nil }))
	w.types("mount", "toward you", "FX-3", "1", "1", "20.5")
	w.types("lengths", "2", "76.118", "88.420")
	w.types("square", straight(w.p, 0.2, 0)...)
	w.types("bore", "0", "-200", "-100", "0", "0.1", "0", "0", "0")
	st := w.types("floor", "10", "-199.572", "-187.572", "-187.572", "-0.001", "0.001", "0.001", "-0.001")
	f := fact(t, st, "floor")
	lo, hi := kit.OutlineBox(w.p.Job.Fixture.Pocket.Outline)
	near(t, "tilt along X", f.Value[1], 0.002/(0.8*(hi.X-lo.X)), 1e-6)
	near(t, "tilt along Y", f.Value[2], 0, 1e-9)
	near(t, "Z", f.Value[0], -199.572-76.118-10, 1e-9)
	near(t, "rim", f.Value[3], f.Value[0]+12, 1e-9)
	st = w.l.State(w.p)
	if es, err := st.Declare("tool-pulled", "3"); err == nil {
		w.put(es...)
	}
	if st = w.l.State(w.p); len(st.Left) == 0 || st.Left[0] != "length-check" && st.Left[0] != "lengths" {
		t.Errorf("after the tool was pulled: %v", st.Left)
	}
	if b, _ := facts.Floor.Read(f); b.Block != 10 {
		t.Errorf("the block %v is not kept", b.Block)
	}
}

// "Same room, together for over 2 h" stands for a thermometer: no difference, within 1 K.
func TestSameRoom(t *testing.T) {
	w := newWalker(t, lidPlan(t, nil))
	st := w.types("mount", "toward you", "FX-3", "2", "1")
	f := fact(t, st, "identity")
	near(t, "T", f.Value[0], 20.5, 0)
	near(t, "u", f.Value[1], 1/math.Sqrt(3), 1e-12)
}

// Two stations are a line of two dowels: the run closes, and says nothing of straightness.
func TestLineOfTwoDowels(t *testing.T) {
	w := newWalker(t, lidPlan(t, func(j *jobs.Job) { j.Setups[0].Stations = 2 }))
	begin(w, 0.02e-3)
	st := w.l.State(w.p)
	f := fact(t, st, "skew")
	near(t, "theta", f.Value[0], 0.02e-3, 1e-8)
	if st := kit.Stations(w.p); len(st) != 2 || st[0] != 0 || st[1] != 120 {
		t.Errorf("stations %v", st)
	}
}

// An inch shop sees inches: stations and jog are round, limits are tenths, slopes thou per
// inch, and a hard waiver repeats the number as shown.
func TestInchShop(t *testing.T) {
	in := float64(unit.Inch)
	p := lidPlan(t, func(j *jobs.Job) {
		j.Unit, j.Allowance = unit.Imperial, unit.Length(0.002*in)
		j.Machine.Readout, j.Machine.Dial.Graduation = 0.0001*in, 0.0001*in
		j.Machine.Delivers = "g10"
	})
	for _, s := range kit.Stations(p) {
		if n := s / (0.05 * in); math.Abs(n-math.Round(n)) > 1e-9 {
			t.Errorf("station at %.5f in", s/in)
		}
	}
	for _, q := range kit.FloorPlaces(p) {
		if n := q.X / (0.01 * in); math.Abs(n-math.Round(n)) > 1e-9 {
			t.Errorf("touch at %.5f in", q.X/in)
		}
	}
	near(t, "jog", kit.Jog(p), 0.005*in, 1e-12)
	for _, r := range p.LimitTable() {
		if strings.Contains(r.Text, "mm") || strings.ContainsAny(r.Text, "{}") {
			t.Errorf("%s: %q", r.Label, r.Text)
		}
	}
	for id, want := range map[string]float64{"length.repeat": 0.0002, "bore.size": 0.0003, "seat.rock": 0.0004, "drill.depth": 0.008, "repeat": 0.0002, "offset.register": 0.001} {
		near(t, id, p.Limit(id).Max/in, want, 1e-9)
	}
	w := newWalker(t, p)
	w.types("mount", "toward you", "FX-3", "1", "1", "20.5C")
	w.types("lengths", "2", "3", "3.5", "3.8675", "3.8677") // two tenths apart: on the limit
	st := w.l.State(p)
	a, _ := st.Ask("jog1")
	if st.Cursor.Step != "square" || a.Label == "" || a.What.Dir != "jog+0.1270" || !strings.Contains(a.Do[0].Words, "+0.0050") {
		t.Fatalf("%s %+v", st.Cursor.Step, a)
	}
	st = w.types("square", "0", "0.005", "0", "0.0040")
	o := outcomeOf(t, st, "square")
	if len(o.Next) == 0 || !strings.Contains(o.Next[0].Words, "0.0040 in") || strings.Contains(words(o), "mm") {
		t.Errorf("%s", words(o))
	}
	if !strings.Contains(p.Slope(1e-4), "thou per in") {
		t.Errorf("slope %q", p.Slope(1e-4))
	}
	c := fold.Check{Limit: p.Limit("offset.register"), Got: 0.0012 * in}
	if c.Shown() != "0.0012" {
		t.Errorf("shown %q", c.Shown())
	}
	// G10 words are in inches, with the readout's digits.
	f, _, _ := side2.ComputeOffset(p, func(id fold.FactID) (fold.Known, bool) {
		switch id {
		case "bore":
			return fold.Known{Value: []float64{-8 * in, -4 * in, 8}, Cov: [][]float64{{0, 0}, {0, 0}}}, true
		case "floor":
			return fold.Known{Value: []float64{-11 * in, 0, 0, 0, 0}}, true
		}
		return fold.Known{}, false
	}, 3)
	if d := checks.Delivery(p, fold.View{}, f); !strings.Contains(d, "type: G20 G90 G10 L2 P1 X-6.2291 Y-3.2118 Z-11.0000") {
		t.Errorf("%q", d)
	}
}

// A work coordinate typed where the machine's is asked is named, as are the slips of a key;
// the number itself is taken only as it is typed.
func TestSlipsAtTheBore(t *testing.T) {
	w := atOffset(t, nil)
	w.types("offset", "G54", "-155.020", "-79.980", "-285.690", "0", "floor")
	st := w.l.State(w.p)
	es, err := st.Reopen("bore")
	if err != nil {
		t.Fatal(err)
	}
	w.put(es...)
	w.put(jobs.Event{Answer: "side2/bore/2/pause", Value: "0"}, jobs.Event{Answer: "side2/bore/2/mark", Value: "toward you"}, jobs.Event{Read: "side2/bore/2/hit1.x", Value: "-196.991"}, jobs.Event{Read: "side2/bore/2/hit1.y", Value: "-100"})
	st = w.l.State(w.p)
	if st.Cursor.Field != "hit2.x" {
		t.Fatalf("asked is %s %s", st.Cursor.Step, st.Cursor.Field)
	}
	for _, c := range []struct{ typed, slip string }{
		{"-198.496", ""},
		{"-43.476", "work value where the machine"}, // -198.496 less the offset
		{"198.496", "wrong sign"},
		{"-1984.96", "decimal point"},
		{"-97.395", "other axis"},
		{"-189.496", "two digits swapped"},
		{"-7.8148", "inches typed as mm"},
		{"-196.991", "same as an earlier reading"},
	} {
		e, err := st.Understand("hit2.x", c.typed)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, s := range e.Slips {
			all = append(all, s.Words)
		}
		if e.Far != (c.slip != "") || !strings.Contains(strings.Join(all, "; "), c.slip) {
			t.Errorf("%s: far %v, slips %q, want %q", c.typed, e.Far, all, c.slip)
		}
	}
}

// No reason makes a tool shorter than it sticks out; one longer than most may be so, and that is waived. Without a tool table differences are typed.
func TestLengthsThatCanNotBe(t *testing.T) {
	p := lidPlan(t, nil)
	for _, c := range []struct{ typed, limit, words string }{
		{"4.1", "length.least.3", "T3: 4.100 is shorter than it sticks out, 20.000."},
		{"19.999", "length.least.3", "T3: 19.999 is shorter than it sticks out, 20.000."},
		{"-41", "length.least.3", "T3: -41.000 is no length from the spindle's gauge line to its tip."},
		{"0", "length.least.3", "T3: 0.000 is no length from the spindle's gauge line to its tip."},
		{"410", "length.most.3", "T3: 410.000 is longer than most tools reach, 200.000. If it is not from the spindle's gauge line to the tip, it goes too deep by the whole difference."},
		{"20", "", ""}, {"76.12", "", ""}, {"200", "", ""},
	} {
		o := outcome(t, p, "lengths", nil, [2]string{"runby", checks.NotMeasured}, [2]string{"t3", c.typed}, [2]string{"t5", "80"}, [2]string{"tprobe", "112"}, [2]string{"tprobe.2", "112"})
		if c.limit == "" {
			if fold.Worst(o.Checks) != fold.Pass {
				t.Errorf("%s: %+v", c.typed, o.Checks)
			}
			continue
		}
		k := verdictOf(t, o, c.limit)
		if k.Verdict != fold.Fail || (k.Limit.Class == fold.Never) != strings.HasPrefix(c.limit, "length.least") || k.Limit.Class == fold.Hard || k.Words != c.words || len(o.Next) != 2 || o.Next[1].Of != "t3" {
			t.Errorf("%s: %+v, next %+v", c.typed, k, o.Next)
		}
		failsHaveNext(t, c.typed, o)
	}
	wide := lidPlan(t, func(j *jobs.Job) {
		j.Limits = map[string]unit.Length{"length.most": 500}
		j.Reasons = map[string]string{"length.most": "as the test wants"}
	})
	if _, most := checks.Reaches(wide, "3"); most != 500 {
		t.Errorf("a job with long tools: %v", most)
	}
	readout := lidPlan(t, func(j *jobs.Job) { j.Machine.Delivers = "readout" })
	if o := outcome(t, readout, "lengths", nil, [2]string{"runby", checks.NotMeasured}, [2]string{"t3", "0"}, [2]string{"t5", "-12.4"}, [2]string{"tprobe", "12"}, [2]string{"tprobe.2", "12"}); fold.Worst(o.Checks) != fold.Pass {
		t.Errorf("differences of tools: %+v", o.Checks)
	}
}
