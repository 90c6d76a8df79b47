package steps_test

import (
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
	"fliptrue/steps/side2"
)

// asked are the fields of a step for a view made by hand.
func asked(p *fold.Plan, step fold.StepID, facts []fold.Known, typed ...[2]string) (fields []string) {
	sp, _ := p.Spec(step)
	v := standing(p, step, facts, typed...)
	for _, a := range sp.Asks(v) {
		fields = append(fields, a.Field)
	}
	return fields
}

// What another job left active is read before anything is cut, in the unit of what can be left.
func TestLeftActive(t *testing.T) {
	w := atOffset(t, nil)
	st := w.types("offset", "G54", "-155.020", "-79.980", "-285.690", "0.03", "floor")
	o := outcomeOf(t, st, "offset")
	if o.Named != "rotation-left-active" || st.Cursor.Step != "offset" || o.Next[0].Do != "cancel" || verdictOf(t, o, "left.zero").Limit.Class != fold.Never {
		t.Errorf("0.03 deg left: %q %+v", o.Named, o.Next)
	}
	for _, c := range []struct{ rotation, delivers, label string }{
		{"none", "type-in", "rotation or shift left"}, {"G68", "type-in", "zero shift left"}, {"none", "g10", "rotation or shift left"},
		{"none", "g92", "rotation left"}, {"G68", "g92", ""}, {"none", "readout", ""},
	} {
		p := lidPlan(t, func(j *jobs.Job) { j.Machine.Rotation, j.Machine.Delivers = c.rotation, c.delivers })
		a, ok := checks.LeftAsk(p)
		if ok != (c.label != "") || !strings.HasPrefix(a.Label, c.label) {
			t.Errorf("rotation %s, %s: %v %q", c.rotation, c.delivers, ok, a.Label)
		}
	}
}

// With the mark elsewhere no hit is taken; the finders without a ball have no mark.
func TestMarkBeforeAnyHit(t *testing.T) {
	w := newWalker(t, lidPlan(t, nil))
	begin(w, 0)
	st := w.types("bore", "0", "away")
	if o := outcomeOf(t, st, "bore"); !st.Cursor.Decide || o.Named != "spindle-unmarked" || len(o.Next) != 2 || len(o.Facts) != 0 {
		t.Errorf("mark away: decide %v, %+v", st.Cursor.Decide, o)
	}
	w.put(jobs.Event{Answer: "side2/bore/1/mark", Value: "toward you"})
	if st = w.l.State(w.p); st.Cursor.Field != "hit1.x" {
		t.Errorf("after it was turned: %q", st.Cursor.Field)
	}
	p := lidPlan(t, func(j *jobs.Job) { j.Setups[0].Finds = "dial"; j.Machine.Probe = nil })
	if slices.Contains(asked(p, "bore", nil), "mark") {
		t.Error("a dial has no mark")
	}
}

// 40 ppm/K over 115 mm: 0.1 of 0.05 is 1.08 K (computed here). By the thermometer of the fixture, else by hand.
func TestPartAsWarmAsItsFixture(t *testing.T) {
	p := lidPlan(t, nil)
	near(t, "limit", side2.WarmthLimit(p), 0.005/(kit.Alpha(p, p.Job.Part.Material)*judge.Reach(p)), 1e-9)
	by := func(measured float64) []fold.Known {
		return []fold.Known{{ID: "identity", Value: []float64{20, 0.6, measured}}}
	}
	check := func(facts []fold.Known, typed string) (o fold.Outcome) {
		side2.WarmCheck(p, standing(p, "seat", facts, [2]string{"temp", typed}), &o)
		return o
	}
	if o := check(by(1), "20.9"); len(o.Next) != 0 || verdictOf(t, o, "seat.warmth").Verdict != fold.Pass {
		t.Errorf("0.9 K: %+v", o)
	}
	for _, typed := range []string{"35", "5"} {
		o := check(by(1), typed)
		// two minutes a mm of 16.02, by the logarithm of 15 over 1.08: 84 min, to the next 5 (computed here)
		if o.Named != "part-hot" || verdictOf(t, o, "seat.warmth").Verdict != fold.Fail || !strings.Contains(o.Next[0].Words, "about 85 min") {
			t.Errorf("%s: %q %+v", typed, o.Named, o.Next)
		}
	}
	a, ok := side2.WarmAsk(p, standing(p, "seat", by(0)))
	if !ok || a.Kind != fold.Choice || a.Want != side2.AsWarm {
		t.Errorf("without a thermometer: %+v", a)
	}
	if o := check(by(0), side2.Warmer); o.Named != "part-hot" || len(o.Next) == 0 {
		t.Errorf("warmer to the hand: %+v", o)
	}
	if o := check(by(0), side2.AsWarm); o.Named != "" || len(o.Next) != 0 {
		t.Errorf("as warm to the hand: %+v", o)
	}
	if _, ok := side2.WarmAsk(lidPlan(t, func(j *jobs.Job) { j.Allowance = 1 }), fold.View{}); ok {
		t.Error("an allowance of 1 mm is not spent by heat")
	}
}

// 38 over the floor, the part 16.02 high: 21.98 under the tip. 20 less is another convention, and
// nothing after it is asked.
func TestGapUnderTheTip(t *testing.T) {
	p := lidPlan(t, nil)
	facts := []fold.Known{{ID: "seat", Value: []float64{16.02, 0, 0}}}
	g, ok := checks.TipGap(p, 5, true, func(f fold.FactID) bool { return f != "screws" })
	if !ok {
		t.Fatal("nothing is looked at under the drill")
	}
	near(t, "gap", g.Want(standing(p, "drill", facts)), 38-16.02, 1e-9)
	for typed, good := range map[string]bool{"22": true, "19.5": true, "24.5": true, "2": false, "18.5": false, "42": false} {
		o := outcome(t, p, "drill", facts, [2]string{"pause", "2"}, [2]string{"tool", "5"}, [2]string{"gap", typed}, [2]string{"depth", "0.92"}, [2]string{"holes", "4"}, [2]string{"tight", "0"})
		c := verdictOf(t, o, "tip.gap")
		var declared []string
		for _, a := range o.Next {
			if a.Do == "declare" && a.Of == "tool-pulled" {
				declared = append(declared, a.Dir)
			}
		}
		if (c.Verdict == fold.Pass) != good || !good && (o.Named != "length-convention" || !slices.Equal(declared, []string{"3", "5"}) || len(o.Facts) > 0) {
			t.Errorf("%s: %v, named %q, declared %v", typed, c.Verdict, o.Named, declared)
		}
		failsHaveNext(t, "gap "+typed, o)
		if last := slices.DeleteFunc(asked(p, "drill", facts, [2]string{"gap", typed}), func(f string) bool { return f == "drill.read" }); (last[len(last)-1] == "gap") == good {
			t.Errorf("%s: asked are %v", typed, last)
		}
	}
	o := outcome(t, p, "skim", facts, [2]string{"pause", "3"}, [2]string{"gap", "0"}, [2]string{"lines", "4"}, [2]string{"soft", "0"})
	if o.Named != "length-convention" || len(o.Facts) > 0 || len(o.Next) != 2 {
		t.Errorf("skim: %+v", o)
	}
	// A raise left in from the air pass is found before anything is cut.
	o = outcome(t, p, "skim", facts, [2]string{"pause", "3"}, [2]string{"gap", "11"}, [2]string{"raised", "11"}, [2]string{"lines", "4"}, [2]string{"soft", "0"})
	if c := verdictOf(t, o, "raised.left"); c.Verdict != fold.Fail || c.Limit.Class != fold.Never || len(o.Facts) > 0 {
		t.Errorf("raised: %+v", o)
	}
	failsHaveNext(t, "raised", o)
	if last := asked(p, "skim", facts, [2]string{"pause", "3"}, [2]string{"gap", "11"}, [2]string{"raised", "11"}); last[len(last)-1] != "raised" {
		t.Errorf("asked with the raise still in: %v", last)
	}
	if _, ok := checks.TipGap(lidPlan(t, func(j *jobs.Job) { j.Machine.Delivers = "readout" }), 5, true, func(fold.FactID) bool { return true }); ok {
		t.Error("no control moves a tool by its length there")
	}
}

// Half the feed per tooth, or what a good collet holds; of drills a share of the diameter. One
// tooth, a tool that does not cut here and holes made elsewhere are not asked about.
func TestRunout(t *testing.T) {
	p := lidPlan(t, nil)
	for tool, want := range map[int]float64{3: 0.010, 5: 0.048} {
		l, ok := checks.RunoutLimit(p, tool)
		if !ok {
			t.Errorf("T%d is not asked about", tool)
		}
		near(t, l.ID, l.Max, want, 1e-9)
	}
	l, _ := checks.RunoutLimit(lidPlan(t, func(j *jobs.Job) { j.Setups[0].Cut.Fz = 0.05 }), 3)
	near(t, "fz 0.05", l.Max, 0.025, 1e-9)
	for _, c := range []struct {
		name string
		tool int
		edit func(*jobs.Job)
	}{
		{"one tooth", 3, func(j *jobs.Job) { t := j.Tools[3]; t.Teeth = 1; j.Tools[3] = t }},
		{"holes from side 1", 5, func(j *jobs.Job) { j.Setups[0].HoldDown = "S" }},
		{"another cutter", 3, func(j *jobs.Job) { j.Setups[0].Cut.Tool = 0 }},
		{"unknown", 7, nil},
	} {
		if _, ok := checks.RunoutLimit(lidPlan(t, c.edit), c.tool); ok {
			t.Errorf("%s: asked about", c.name)
		}
	}
	typed := [][2]string{{"runby", checks.ByDial}, {"t3.run", "0.034"}, {"t3", "76.118"}, {"t5.run", "0.020"}, {"t5", "88.42"}, {"tprobe", "98.234"}, {"tprobe.2", "98.234"}}
	o := outcome(t, p, "lengths", nil, typed...)
	if c := verdictOf(t, o, "runout.T3"); c.Verdict != fold.Fail || c.Limit.Class != fold.Soft || o.Named != "collet-runout" || !strings.Contains(c.Words, "0.017 mm thin") {
		t.Errorf("0.034: %q %+v", o.Named, c)
	}
	if c := verdictOf(t, o, "runout.T5"); c.Verdict != fold.Pass {
		t.Errorf("a drill by 0.020: %+v", c)
	}
	failsHaveNext(t, "runout", o)
	o = outcome(t, p, "lengths", nil, [2]string{"runby", checks.NotMeasured}, [2]string{"t3", "76.118"}, [2]string{"t5", "88.42"}, [2]string{"tprobe", "98.234"}, [2]string{"tprobe.2", "98.234"})
	if len(o.Checks) != 1 || !strings.Contains(strings.Join(o.Notes, " "), "Runout is not measured") {
		t.Errorf("not measured: %+v %v", o.Checks, o.Notes)
	}
	if f := asked(p, "lengths", nil, [2]string{"runby", checks.NotMeasured}); slices.Contains(f, "t3.run") {
		t.Errorf("asked are %v", f)
	}
}

// A hot part is not asked about any further: it does not go in. Once it lies in its pocket it is pushed again.
func TestHotPartStaysOut(t *testing.T) {
	p := lidPlan(t, nil)
	facts := []fold.Known{{ID: "identity", Value: []float64{20, 0.6, 1}}}
	hot := [][2]string{{"pause", "0"}, {"temp", "35"}}
	if f := asked(p, "seat", facts, hot...); f[len(f)-1] != "temp" {
		t.Errorf("asked are %v", f)
	}
	o := outcome(t, p, "seat", facts, hot...)
	if o.Named != "part-hot" || len(o.Facts) > 0 || len(o.Next) != 2 || o.Next[1].Of != "temp" {
		t.Errorf("hot: %+v", o)
	}
	if f := asked(p, "seat", facts, append(hot, [2]string{"up", "down on the floor"})...); f[len(f)-1] == "temp" {
		t.Errorf("with the part in asked are %v", f)
	}
}

// What passes and no interval counts is said: beyond a kelvin by thermometer, always by hand.
func TestWarmthThatPassesIsSaid(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Allowance = 0.2 })
	said := func(measured float64, temp string) string {
		o := outcome(t, p, "seat", []fold.Known{{ID: "identity", Value: []float64{20, 0.6, measured}}}, [2]string{"pause", "0"}, [2]string{"temp", temp})
		return strings.Join(o.Notes, " ")
	}
	if s := said(1, "20.9"); strings.Contains(s, "interval") {
		t.Error("within a kelvin:", s)
	}
	for _, s := range []string{said(1, "22.5"), said(0, side2.AsWarm)} {
		if !strings.Contains(s, "Not in any stated interval") {
			t.Errorf("said is %q", s)
		}
	}
}

// Of a tool gripped again after a bad runout no length of before stays.
func TestRunoutThenOldLength(t *testing.T) {
	p := lidPlan(t, nil)
	bad := [][2]string{{"runby", checks.ByDial}, {"t3.run", "0.034"}}
	if f := asked(p, "lengths", nil, bad...); f[len(f)-1] != "t3.run" {
		t.Errorf("after a bad runout asked are %v", f)
	}
	o := outcome(t, p, "lengths", nil, bad...)
	if o.Named != "collet-runout" || len(o.Next) != 2 || o.Next[1].Of != "t3.run" || len(o.Facts) > 0 {
		t.Errorf("bad runout: %+v", o)
	}
	o = outcome(t, p, "lengths", nil, [2]string{"runby", checks.ByDial}, [2]string{"t3", "76.118"}, [2]string{"t3.run", "0.005"}, [2]string{"t5.run", "0.005"}, [2]string{"t5", "88.42"}, [2]string{"tprobe", "98.234"}, [2]string{"tprobe.2", "98.234"})
	if c := verdictOf(t, o, "t3.after"); c.Verdict != fold.Fail || c.Limit.Class != fold.Never {
		t.Errorf("a length before its runout: %+v", c)
	}
	failsHaveNext(t, "old length", o)
}

// A runout that is waived goes on to the length, and stays waived until it is read again.
func TestWaivedRunout(t *testing.T) {
	w := newWalker(t, lidPlan(t, nil))
	var st fold.State
	put := func(f, v string) {
		e := jobs.Event{Read: "side2/lengths/1/" + f, Value: v}
		if f == "runby" {
			e = jobs.Event{Answer: e.Read, Value: v}
		}
		w.put(e)
		st = w.l.State(w.p)
	}
	w.types("mount", "toward you", "FX-3", "1", "1", "20.5")
	w.put(jobs.Event{Round: "side2/lengths/1"})
	put("runby", checks.ByDial)
	put("t3.run", "0.034")
	w.put(jobs.Event{Waive: "side2/lengths/1/runout.T3", Reason: "a roughing pass"})
	for _, v := range [][2]string{{"t3", "76.118"}, {"t5.run", "0.005"}, {"t5", "88.42"}, {"tprobe", "98.234"}, {"tprobe.2", "98.234"}} {
		put(v[0], v[1])
	}
	o := outcomeOf(t, st, "lengths")
	if c := verdictOf(t, o, "runout.T3"); c.Verdict != fold.Waived {
		t.Errorf("waived, then the lengths: %v", c.Verdict)
	}
	put("t3.run", "0.040")
	if c := verdictOf(t, outcomeOf(t, st, "lengths"), "runout.T3"); c.Verdict != fold.Fail {
		t.Errorf("read again: %v", c.Verdict)
	}
}

// The deck asks for what is left active as the offset does: on a control whose offset is a shift only for a rotation.
func TestDeckAsksWhatIsLeft(t *testing.T) {
	for _, c := range []struct{ rotation, delivers, field string }{
		{"none", "type-in", "rotation"}, {"G68", "type-in", "shift"}, {"none", "g92", "rotation"}, {"G68", "g92", ""}, {"none", "readout", ""},
	} {
		p := lidPlan(t, func(j *jobs.Job) { j.Machine.Rotation, j.Machine.Delivers = c.rotation, c.delivers })
		a, ok := side2.StillAsk(p)
		if ok != (c.field != "") || ok && (a.Field != c.field || !slices.Contains(asked(p, "deck", nil), c.field) || strings.Contains(a.Label, "shift") == (c.delivers == "g92")) {
			t.Errorf("%s, %s: %+v", c.rotation, c.delivers, a)
		}
	}
}

// A second bore that is read and lies under the part or a strap wants the part out as the first does.
func TestSecondBoreUnderThePart(t *testing.T) {
	for _, c := range []struct {
		read bool
		at   jobs.Point
		want fold.Bare
	}{{true, jobs.Point{X: 60, Y: 50}, fold.PartMustBeOut}, {false, jobs.Point{X: 60, Y: 50}, fold.PartMayStay}, {true, jobs.Point{X: 200, Y: 200}, fold.PartMayStay}} {
		p := lidPlan(t, func(j *jobs.Job) {
			j.Setups[0].Bore2 = c.read
			j.Fixture.AsMade.Bore2 = &jobs.Bore2{At: c.at}
		})
		if got := side2.BoreCovered(p); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// On the first side, too, no contact is taken with the mark elsewhere; an edge finder has no mark.
func TestMarkBeforeTheCorner(t *testing.T) {
	p := side1Plan(t, nil)
	facts := []fold.Known{{ID: "ball", Value: []float64{1, 1, 0.01, 0, 0.001, 30}}, {ID: "seat"}, {ID: "skew", Value: []float64{0}}}
	wrong := [][2]string{{"pause", "0"}, {"mark", "away"}}
	if f := asked(p, "corner", facts, wrong...); f[len(f)-1] != "mark" {
		t.Errorf("mark away, asked are %v", f)
	}
	if o := outcome(t, p, "corner", facts, wrong...); o.Named != "spindle-unmarked" || len(o.Facts) > 0 || len(o.Next) != 2 {
		t.Errorf("mark away: %+v", o)
	}
	if f := asked(p, "corner", facts, [2]string{"pause", "0"}, [2]string{"mark", "toward you"}); len(f) < 5 {
		t.Errorf("mark to the front, asked are %v", f)
	}
	finder := side1Plan(t, func(_ *jobs.Job, s *jobs.Setup) { s.Finds = "edge finder" })
	if slices.Contains(asked(finder, "corner", facts), "mark") {
		t.Error("an edge finder has no mark")
	}
}
