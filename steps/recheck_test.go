package steps_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// after is a recheck's view after mishaps.
func after(p *fold.Plan, step fold.StepID, was []fold.Known, mishaps []fold.MishapID, typed ...[2]string) fold.View {
	v := standing(p, step, was, typed...)
	for i, id := range mishaps {
		v.Pending = append(v.Pending, fold.Happened{Seq: fold.Seq(i + 1), ID: id})
	}
	return v
}

func mounting() []fold.Known {
	return []fold.Known{{ID: "ball", Value: []float64{0.991, 0.991, 0, 0, 0.001, 30}}, {ID: "length/probe", Value: []float64{98.234}, Cov: [][]float64{{1e-6}}},
		{ID: "length/3", Value: []float64{76.118}, Cov: [][]float64{{1e-6}}}, {ID: "length/5", Value: []float64{88.420}, Cov: [][]float64{{1e-6}}},
		{ID: "bore", Value: []float64{-312.445, -158.221, 8}, Cov: [][]float64{{1e-6, 0}, {0, 1e-6}}}, floorFact(), {ID: "skew", Value: []float64{0.0001, 0.002}, Cov: [][]float64{{1e-10}}}}
}

// quartersAt types four hits in a bore of 8 with a ball of 0.991, moved from -312.445, -158.221.
func quartersAt(dx, dy float64) [][2]string {
	const r = 4 - 0.991
	x, y := -312.445+dx, -158.221+dy
	return [][2]string{{"f0", fmtMM(x + r)}, {"f180", fmtMM(x - r)}, {"f90", fmtMM(y + r)}, {"f270", fmtMM(y - r)}}
}

// rimAt types both points of the rim, each moved.
func rimAt(a, b float64) [][2]string {
	return [][2]string{{"rim1", fmtMM(-274 + 98.234 + a)}, {"rim2", fmtMM(-274 + 98.234 + b)}}
}

func TestDatumCheck(t *testing.T) {
	p := lidPlan(t, nil)
	sp, _ := p.Spec("datum-check")
	for _, c := range []struct {
		name     string
		mishaps  []fold.MishapID
		dx, dy   float64
		rim      [2]float64
		verdict  fold.Verdict
		newHome  bool
		boreDue  bool
		floorDue bool
	}{
		{"left alone, as before", []fold.MishapID{"left-alone"}, 0.004, 0, [2]float64{0.001, 0}, fold.Pass, false, true, true},
		{"left alone, at 0.008", []fold.MishapID{"left-alone"}, 0.008, 0, [2]float64{0, 0}, fold.Pass, false, true, true},
		{"bumped, at 0.008", []fold.MishapID{"part-bumped"}, 0.008, 0, [2]float64{0, 0}, fold.Fail, false, true, true},
		{"bumped, at 0.004", []fold.MishapID{"part-bumped"}, 0.004, 0, [2]float64{0, 0}, fold.Pass, false, true, true},
		{"homed, as before", []fold.MishapID{"rehomed"}, 0.003, 0.002, [2]float64{0.002, 0.002}, fold.Pass, false, true, true},
		{"homed elsewhere", []fold.MishapID{"rehomed"}, 0.030, -0.020, [2]float64{0.050, 0.050}, fold.Pass, true, true, true},
		{"power lost, homed elsewhere", []fold.MishapID{"power-lost"}, 0, 0, [2]float64{0.050, 0.050}, fold.Pass, true, true, true},
		{"homed and bumped: it can't be told which", []fold.MishapID{"rehomed", "part-bumped"}, 0.030, -0.020, [2]float64{0.050, 0.050}, fold.Fail, false, true, true},
		{"homed, the rim tilted", []fold.MishapID{"rehomed"}, 0.030, 0, [2]float64{0.050, 0.020}, fold.Fail, true, true, true},
		{"tapped: the rim alone, each within 0.005", []fold.MishapID{"fixture-tapped"}, 0, 0, [2]float64{0.004, -0.004}, fold.Pass, false, false, true},
		{"tapped: one rim point out", []fold.MishapID{"fixture-tapped"}, 0, 0, [2]float64{0.004, 0.007}, fold.Fail, false, false, true},
	} {
		var typed [][2]string
		if c.boreDue {
			typed = append(typed, quartersAt(c.dx, c.dy)...)
		}
		typed = append(typed, rimAt(c.rim[0], c.rim[1])...)
		v := after(p, "datum-check", mounting(), c.mishaps, typed...)
		var bore, rim int
		for _, a := range sp.Asks(v) {
			if strings.HasPrefix(a.Field, "f") {
				bore++
			}
			if strings.HasPrefix(a.Field, "rim") {
				rim++
			}
		}
		if (bore > 0) != c.boreDue || (rim > 0) != c.floorDue {
			t.Errorf("%s: asks for %d hits and %d touches", c.name, bore, rim)
		}
		o := sp.Judge(v)
		if got := fold.Worst(o.Checks); got != c.verdict {
			t.Errorf("%s: %v, want %v: %+v", c.name, got, c.verdict, o.Checks)
		}
		failsHaveNext(t, c.name, o)
		b, made := o.Fact("bore")
		if made != c.newHome {
			t.Errorf("%s: bore made anew %v, want %v", c.name, made, c.newHome)
		}
		if made && (math.Abs(b.Value[0]-(-312.445+c.dx)) > 1e-9 || math.Abs(b.Value[1]-(-158.221+c.dy)) > 1e-9) {
			t.Errorf("%s: the bore went to %v", c.name, b.Value)
		}
		if f, ok := o.Fact("floor"); ok != c.newHome || ok && math.Abs(f.Value[0]-(-286+(c.rim[0]+c.rim[1])/2)) > 1e-9 {
			t.Errorf("%s: floor made anew %v: %v", c.name, ok, f.Value)
		}
		if d, ok := o.Fact("drift"); !ok || !c.newHome && c.verdict == fold.Pass && math.Abs(d.Value[0]-math.Max(math.Hypot(c.dx, c.dy), math.Max(math.Abs(c.rim[0]), math.Abs(c.rim[1])))) > 1e-9 {
			t.Errorf("%s: carried in the budget is %v", c.name, d.Value)
		}
	}
}

// A chip at one hit shows in the size.
func TestDatumCheckSeesAChip(t *testing.T) {
	p := lidPlan(t, nil)
	sp, _ := p.Spec("datum-check")
	typed := append(quartersAt(0, 0), rimAt(0, 0)...)
	typed[0][1] = fmtMM(-312.445 + 4 - 0.991 - 0.030)
	o := sp.Judge(after(p, "datum-check", mounting(), []fold.MishapID{"left-alone"}, typed...))
	if o.Named != "chip-in-bore" && verdictOf(t, o, "check.size").Verdict != fold.Fail {
		t.Errorf("a short hit passes: %+v", o.Checks)
	}
	failsHaveNext(t, "chip", o)
}

func TestLengthCheck(t *testing.T) {
	p := lidPlan(t, nil)
	sp, _ := p.Spec("length-check")
	for _, c := range []struct {
		mishap fold.MishapID
		fields string
	}{{"rehomed", "t3 tprobe"}, {"power-lost", "t3 tprobe"}, {"head-moved", "t3 tprobe"}, {"left-alone", "t3 t5 tprobe"}, {"probe-refitted", "tprobe"}} {
		var got []string
		for _, a := range sp.Asks(after(p, "length-check", mounting(), []fold.MishapID{c.mishap})) {
			got = append(got, a.Field)
		}
		if strings.Join(got, " ") != c.fields {
			t.Errorf("after %s asked are %v, want %s", c.mishap, got, c.fields)
		}
	}
	for _, c := range []struct {
		tool, probe string
		verdict     fold.Verdict
		named       string
	}{{"76.127", "98.238", fold.Pass, ""}, {"76.130", "98.234", fold.Fail, "tool-pulled"}, {"76.118", "98.241", fold.Fail, "probe-refitted"}} {
		o := sp.Judge(after(p, "length-check", mounting(), []fold.MishapID{"rehomed"}, [2]string{"t3", c.tool}, [2]string{"tprobe", c.probe}))
		if fold.Worst(o.Checks) != c.verdict || o.Named != c.named {
			t.Errorf("tool %s probe %s: %v named %q, want %v %q", c.tool, c.probe, fold.Worst(o.Checks), o.Named, c.verdict, c.named)
		}
		failsHaveNext(t, "lengths", o)
	}
}

func TestTramBySweepAndTyped(t *testing.T) {
	p := lidPlan(t, nil)
	o := outcome(t, p, "tram", nil, [2]string{"way", "sweep the table now"}, [2]string{"radius", "100"}, [2]string{"jog0", "0"}, [2]string{"jog1", "0.200"},
		[2]string{"r0", "0.010"}, [2]string{"r90", "0.002"}, [2]string{"r180", "-0.010"}, [2]string{"r270", "-0.002"}, [2]string{"close", "0.010"})
	if len(o.Facts) != 1 || math.Abs(o.Facts[0].Value[0]-1e-4) > 1e-12 || math.Abs(o.Facts[0].Value[1]-2e-5) > 1e-12 {
		t.Errorf("0.020 over 200 along X and 0.004 along Y: %+v", o.Facts)
	}
	o = outcome(t, p, "tram", nil, [2]string{"way", "sweep the table now"}, [2]string{"radius", "100"}, [2]string{"jog0", "0"}, [2]string{"jog1", "0.200"},
		[2]string{"r0", "0.030"}, [2]string{"r90", "0"}, [2]string{"r180", "0"}, [2]string{"r270", "0"}, [2]string{"close", "0.030"})
	if fold.Worst(o.Checks) != fold.Fail {
		t.Error("a chip under one reading passes")
	}
	failsHaveNext(t, "tram", o)
	o = outcome(t, p, "tram", nil, [2]string{"way", "type the two tilts"}, [2]string{"tilt.x", "0.010/300"}, [2]string{"tilt.y", "-0.006/300"})
	if len(o.Facts) != 1 || math.Abs(o.Facts[0].Value[0]-0.010/300) > 1e-12 || math.Abs(o.Facts[0].Value[1]+0.006/300) > 1e-12 {
		t.Errorf("typed tilts: %+v", o.Facts)
	}
}

// The edge check has its own jog test, so that a turn has its sign.
func TestEdgeCheck(t *testing.T) {
	p := lidPlan(t, nil)
	st := kit.Stations(p)
	l := st[len(st)-1] - st[0]
	for _, c := range []struct {
		name    string
		turn    float64
		verdict fold.Verdict
	}{{"as before", 0, fold.Pass}, {"turned by 0.05 over the edge", 0.050 / l, fold.Fail}, {"turned the other way", -0.050 / l, fold.Fail}} {
		theta := 0.0001 + c.turn + float64(p.Job.Fixture.AsMade.Edge.Zero)
		// a jog of +0.200 changed the reading by -0.200: the dial reads as the surface moves
		o := outcome(t, p, "edge-check", mounting(), [2]string{"low", "0"}, [2]string{"jog", "-0.200"}, [2]string{"high", fmtMM(theta * l)})
		if got := verdictOf(t, o, "check.skew"); got.Verdict != c.verdict || math.Abs(got.Got-math.Abs(c.turn)) > 1e-6 {
			t.Errorf("%s: %v at %g, want %v at %g", c.name, got.Verdict, got.Got, c.verdict, math.Abs(c.turn))
		}
		failsHaveNext(t, c.name, o)
	}
}

func TestScrewsThatLetGo(t *testing.T) {
	p := lidPlan(t, nil)
	n := len(p.Setup.Screws.At)
	if n != 4 {
		t.Fatalf("the job has %d screws", n)
	}
	good := [][2]string{{"pause", "8"}, {"round1.z", "0.001"}, {"round2.z", "0.002"}, {"round3.z", "0.002"}, {"torque", "0.029"}, {"soft", "0"}, {"loose", "0"}, {"in", "4"}, {"head", "2.3"}}
	if o := outcome(t, p, "screws", nil, good...); fold.Worst(o.Checks) != fold.Pass || len(o.Facts) != 1 {
		t.Errorf("good screws: %+v", o.Checks)
	}
	for field, c := range map[string]struct{ value, named, limit string }{
		"round2.z": {"0.009", "", "screws.round"}, "pause": {"10", "screw-bottomed", "screws.bottom"}, "head": {"2.8", "screw-head-high", "screws.head"}, "soft": {"1", "soft-thread", ""}, "loose": {"1", "screw-bottomed", ""},
	} {
		typed := append([][2]string{}, good...)
		for i := range typed {
			if typed[i][0] == field {
				typed[i][1] = c.value
			}
		}
		o := outcome(t, p, "screws", nil, typed...)
		if o.Named != c.named || len(o.Next) == 0 {
			t.Errorf("%s %s: named %q next %v, want %q and an act", field, c.value, o.Named, o.Next, c.named)
		}
		if c.limit != "" && verdictOf(t, o, c.limit).Verdict != fold.Fail {
			t.Errorf("%s %s passes %s", field, c.value, c.limit)
		}
	}
	s := lidPlan(t, func(j *jobs.Job) { j.Setups[0].HoldDown = "S" })
	typed := [][2]string{{"pause", "8"}, {"round1.x", "0.004"}, {"round1.y", "0"}, {"round2.x", "0.009"}, {"round2.y", "0"}, {"round3.x", "0.0135"}, {"round3.y", "0"}, {"torque", "0.029"}, {"soft", "0"}, {"loose", "0"}, {"in", "4"}, {"walls", "0"}}
	o := outcome(t, s, "screws", nil, typed...)
	if verdictOf(t, o, "screws.shift.x").Verdict != fold.Fail || verdictOf(t, o, "screws.shift.y").Verdict != fold.Pass || o.Named != "shift-at-swap" {
		t.Errorf("plan S, moved by 0.0135 along X: %+v", o.Checks)
	}
	if f, ok := o.Fact("shift"); !ok || math.Abs(f.Value[0]-0.0135) > 1e-9 || len(f.Cov) != 3 {
		t.Errorf("plan S makes the shift: %+v", o.Facts)
	}
}

func TestThreads(t *testing.T) {
	p := lidPlan(t, nil)
	for turns, want := range map[string]fold.Verdict{"12": fold.Pass, "10": fold.Pass, "9": fold.Fail} { // M2: 0.4 a turn, 2 d in acrylic is 4.0
		o := outcome(t, p, "threads", nil, [2]string{"good", "4"}, [2]string{"turns", turns}, [2]string{"shards", "0"})
		if got := verdictOf(t, o, "threads.engaged"); got.Verdict != want {
			t.Errorf("%s turns: %v of %v is %v, want %v", turns, got.Got, got.Limit.Max, got.Verdict, want)
		}
		failsHaveNext(t, turns+" turns", o)
	}
	old := lidPlan(t, func(j *jobs.Job) { j.Fixture.Threads.Cycles, j.Fixture.Threads.Retire = 10, 10 })
	o := outcome(t, old, "threads", nil, [2]string{"good", "4"}, [2]string{"turns", "12"}, [2]string{"shards", "0"})
	if c := verdictOf(t, o, "threads.cycles"); c.Verdict != fold.Fail || c.Limit.Class != fold.Soft {
		t.Errorf("threads past their retirement: %+v", c)
	}
	failsHaveNext(t, "cycles", o)
}

func TestDrillDepth(t *testing.T) {
	p := lidPlan(t, nil)
	for depth, c := range map[string]struct {
		verdict fold.Verdict
		named   string
	}{"0.92": {fold.Pass, ""}, "0.98": {fold.Pass, ""}, "1.20": {fold.Fail, "tool-pulled"}, "0.65": {fold.Fail, "drill-short"}} {
		o := outcome(t, p, "drill", nil, [2]string{"pause", "2"}, [2]string{"depth", depth}, [2]string{"holes", "4"}, [2]string{"tight", "0"})
		if got := verdictOf(t, o, "drill.depth"); got.Verdict != c.verdict || o.Named != c.named {
			t.Errorf("depth %s: %v named %q, want %v %q", depth, got.Verdict, o.Named, c.verdict, c.named)
		}
		failsHaveNext(t, depth, o)
	}
}

// No pause point and no question is answered by a bare yes: each wants a count, a word seen or a number.
func TestPausesWantAValue(t *testing.T) {
	for _, hd := range []string{"T", "M", "S"} {
		p := lidPlan(t, func(j *jobs.Job) { j.Setups[0].HoldDown = hd })
		for _, sp := range append(append([]*fold.Spec{}, p.Line...), p.Off...) {
			if sp.Pause == nil {
				continue
			}
			if sp.Pause.Heading != strings.ToUpper(sp.Pause.Heading) || sp.Pause.Lost == "" {
				t.Errorf("%s: heading %q, lost %q", sp.ID, sp.Pause.Heading, sp.Pause.Lost)
			}
			a := sp.Pause.Ask(fold.View{Plan: p})
			if a.Kind == fold.Choice || a.Label == "" || a.What.By == "" {
				t.Errorf("%s: its pause asks %+v", sp.ID, a)
			}
			if a.Kind != fold.Reading && a.Want != "" && (a.WantWhy == "" || a.Hint == "") {
				t.Errorf("%s: another answer is not explained: %+v", sp.ID, a)
			}
			for _, w := range []string{"ok", "yes", "checked"} {
				if p.Fits(a, w) == nil && fold.SameAnswer(w, a.Want) {
					t.Errorf("%s: %q opens its pause", sp.ID, w)
				}
			}
		}
	}
}

// What the control was told for this job is taken back after it: the value read is 0.
func TestStopsAskForAnActiveRotation(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Machine.Rotation = "G68" })
	sp, _ := p.Spec("stops")
	asked := false
	for _, a := range sp.Asks(standing(p, "stops", nil)) {
		asked = asked || a.Field == "rotation" && a.Kind == fold.Echo && a.Blind
	}
	if !asked {
		t.Fatal("the rotation is not asked, blind, after the release")
	}
	for value, want := range map[string]fold.Verdict{"0": fold.Pass, "0.0000": fold.Pass, "0.0123": fold.Fail} {
		o := outcome(t, p, "stops", nil, [2]string{"lines", "4"}, [2]string{"soft", "0"}, [2]string{"rotation", value})
		if got := verdictOf(t, o, "rotation.zero").Verdict; got != want || (want == fold.Fail) != (o.Named == "rotation-left-active") {
			t.Errorf("rotation %s: %v named %q, want %v", value, got, o.Named, want)
		}
		failsHaveNext(t, value, o)
	}
	o := outcome(t, p, "stops", nil, [2]string{"lines", "3"}, [2]string{"soft", "0"}, [2]string{"rotation", "0"})
	if len(o.Next) == 0 || o.Next[0].Of != "screws" {
		t.Errorf("a turned paint line leads to %+v", o.Next)
	}
}

// A new allowance re-derives limits and costs no reading; other hole places cost the holes.
func TestWhatAnEditedJobCosts(t *testing.T) {
	p := lidPlan(t, nil)
	for _, c := range []struct {
		step fold.StepID
		key  string
		void bool
	}{{"shift", "allowance", false}, {"drill", "setups.side2.screws.at.0.1", true}, {"drill", "setups.side2.screws.washer", false},
		{"screws", "setups.side2.screws.washer", true}, {"straps", "setups.side2.clamps.left.top", true}, {"release", "allowance", false}, {"offset", "part.features.far corner.0", false}, {"square", "part.features.far corner.0", false}, {"lengths", "tools.3.name", false}, {"lengths", "tools.3.stickout", true}, {"seat", "setups.side2.flip", true}} {
		sp, _ := p.Spec(c.step)
		if got := fold.Touched(sp.Keys, []string{"job." + c.key}) != ""; got != c.void {
			t.Errorf("editing %s voids %s: %v, want %v", c.key, c.step, got, c.void)
		}
	}
}

// A rim read while no length stands is compared with nothing, and brings nothing back.
func TestDatumCheckWithoutALengthLiftsNothing(t *testing.T) {
	p := lidPlan(t, nil)
	sp, _ := p.Spec("datum-check")
	for _, gone := range []bool{false, true} {
		facts := mounting()
		if gone {
			facts = slices.DeleteFunc(facts, func(f fold.Known) bool { return f.ID == kit.ZDatum(p) })
		}
		v := after(p, "datum-check", facts, []fold.MishapID{"fixture-tapped"}, rimAt(0, 0)...)
		if o := sp.Judge(v); slices.Contains(o.Leaves, "floor") != gone || len(o.Notes) > 0 != gone {
			t.Errorf("length gone %v: leaves %v, notes %v", gone, o.Leaves, o.Notes)
		}
	}
}
