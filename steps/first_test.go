package steps_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fliptrue/calc/frame"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/machine"
	"fliptrue/steps/side2"
	"fliptrue/steps/trial"
)

// said is what a step makes of typed values, with facts given.
func said(t *testing.T, p *fold.Plan, id fold.StepID, facts []fold.Known, values ...trial.Typed) fold.Outcome {
	t.Helper()
	return trial.Judged(t, p, id, append(kit.GivenFacts(p), facts...), values...)
}

var side1Plan = trial.FirstSide

func factIn(t *testing.T, o fold.Outcome, id fold.FactID) fold.Known {
	t.Helper()
	f, ok := o.Fact(id)
	if !ok {
		t.Fatalf("no fact %s in %+v", id, o)
	}
	return f
}

// The two faces are 0.100268 and 0.085944 degrees off; a corner from the means of their
// contacts would be 0.053 and 0.060 mm wrong. Computed here from the two lines.
func TestCornerStepFindsTheTrueCorner(t *testing.T) {
	p := side1Plan(t, nil)
	skew := fold.Known{ID: "skew", Value: []float64{math.Atan(0.09 / 60), 0}, Cov: [][]float64{{1e-10}}}
	o := said(t, p, "corner", []fold.Known{skew}, [2]string{"a1.x", "-1.0000"}, [2]string{"a1.y", "10"}, [2]string{"a1.2", "-1.0000"}, [2]string{"a2.x", "-0.9300"}, [2]string{"a2.y", "50"}, [2]string{"a2.2", "-0.9300"},
		[2]string{"b1.y", "-1.0100"}, [2]string{"b1.x", "10"}, [2]string{"b1.2", "-1.0100"}, [2]string{"b2.y", "-0.9200"}, [2]string{"b2.x", "70"}, [2]string{"b2.2", "-0.9200"})
	f := factIn(t, o, "corner")
	near(t, "corner X", f.Value[0], -0.026558, 1e-6)
	near(t, "corner Y", f.Value[1], -0.034039, 1e-6)
	near(t, "interior", f.Value[3]*180/math.Pi, 89.813789, 1e-6)
	for _, c := range o.Checks { // stock so far out of square leaves no material at one end: the finished edge would be air
		if (c.Verdict == fold.Pass) != (c.Limit.ID != "corner.cover") {
			t.Errorf("%+v", c)
		}
	}
	// The same contacts against a jaw that lies true: a burr between stock and jaw.
	skew.Value[0] = 0
	o = said(t, p, "corner", []fold.Known{skew}, [2]string{"a1.x", "-1.0000"}, [2]string{"a1.y", "10"}, [2]string{"a1.2", "-1.0000"}, [2]string{"a2.x", "-0.9300"}, [2]string{"a2.y", "50"}, [2]string{"a2.2", "-0.9300"},
		[2]string{"b1.y", "-1.0100"}, [2]string{"b1.x", "10"}, [2]string{"b1.2", "-1.0100"}, [2]string{"b2.y", "-0.9200"}, [2]string{"b2.x", "70"}, [2]string{"b2.2", "-0.9200"})
	if o.Named != "off-the-jaw" || fold.Worst(o.Checks) != fold.Fail || len(o.Next) == 0 {
		t.Errorf("named %q, %+v", o.Named, o.Checks)
	}
}

func TestTopFollowsItsRule(t *testing.T) {
	p := side1Plan(t, nil)
	facts := []fold.Known{{ID: "length/probe", Value: []float64{98.234}, Cov: [][]float64{{1e-6}}}, {ID: "stock", Value: []float64{99, 66, 17.4, 17.3, 17.3, 17.4, 17.35, 0.02}}}
	o := said(t, p, "top", facts, [2]string{"z1", "-100.000"}, [2]string{"z2", "-100.010"}, [2]string{"z3", "-100.040"}, [2]string{"z4", "-100.020"}, [2]string{"z5", "-100.017"})
	f := factIn(t, o, "top")
	if !(f.Value[0] <= -100.040-0.5-98.234 && f.Value[0] > -100.060-0.5-98.234) {
		t.Errorf("Z0 %v is not one skin under the lowest place", f.Value[0])
	}
	if !strings.Contains(o.Learned, "FAR RIGHT") || !strings.Contains(o.Learned, "0.500") {
		t.Errorf("%s", o.Learned)
	}
}

func TestStockThatIsTooThin(t *testing.T) {
	p := side1Plan(t, nil)
	type v = [2]string
	good := []v{{"l", "99"}, {"w", "66"}, {"t1", "17.30"}, {"t2", "17.30"}, {"t3", "17.30"}, {"t4", "17.30"}, {"t5", "17.30"}, {"bow", "0.05"}, {"days", "30"}}
	if o := said(t, p, "stock", nil, good...); fold.Worst(o.Checks) != fold.Pass || len(o.Facts) != 1 {
		t.Errorf("%+v", o.Checks)
	}
	thin := append([]v{}, good...)
	thin[4] = v{"t3", "17.02"} // less twice the bow: 0.08 short
	o := said(t, p, "stock", nil, thin...)
	if fold.Worst(o.Checks) != fold.Fail || len(o.Next) == 0 || !strings.Contains(o.Checks[0].Words, "FAR RIGHT") {
		t.Errorf("%+v", o.Checks)
	}
	thin[4] = v{"t3", "17.11"} // enough by 0.01, which a calliper can't tell
	if o := said(t, p, "stock", nil, thin...); fold.Worst(o.Checks) != fold.NotProven {
		t.Errorf("%+v", o.Checks)
	}
}

// The wall of the vise advice: fixed at its ends, uniform load; standard beam tables.
// Acrylic E 2760 (lowest), 2 x 40 mm, 5 mm in the jaws.
func TestViseForceAdvice(t *testing.T) {
	p := side1Plan(t, func(j *jobs.Job, s *jobs.Setup) { j.Part.Material = "acrylic-cast" })
	o := said(t, p, "grip", nil, [2]string{"front", "toward you"}, [2]string{"loose", "0"}, [2]string{"g", "5"})
	i := 5.0 * 8 / 12
	bow := 500 * 40 * 40 * 40 / (384 * 2760 * i)
	near(t, "bow", o.Lines[2].Value, bow, 1e-9)
	if fold.Worst(o.Checks) != fold.Pass || !strings.Contains(strings.Join(o.Notes, " "), "No vise setting is gentle enough") {
		t.Errorf("%+v %v", o.Checks, o.Notes)
	}
	p = side1Plan(t, nil) // nobody knows the stiffness of stabilised walnut
	if o := said(t, p, "grip", nil, [2]string{"front", "toward you"}, [2]string{"loose", "0"}, [2]string{"g", "5"}); !strings.Contains(strings.Join(o.Notes, " "), "stiffness of walnut-stabilised is not known") {
		t.Errorf("%v", o.Notes)
	}
}

// Sweep of radius 60: tilts 0.400 and 0.0667 mrad, 0.120 over 300 (computed here), with a
// foot of 200 by 250 mm; and 0.02 over a sweep diameter of 200 with a 50 mm cutter.
func TestTramOfTheJob(t *testing.T) {
	j := trial.Lid(t)
	j.Machine.Foot = [2]float64{200, 250}
	j.Tools[9] = jobs.Tool{Name: "face mill", Dia: 50}
	j.Setups[0].Cut = jobs.Cut{Tool: 9, Ae: 40, Ap: 0.2, Fz: 0.02}
	j.Setups = append(j.Setups, jobs.Setup{Name: "head", Kind: kit.TramKind})
	p := trial.Plan(t, j, "head", nil)
	type v = [2]string
	sweep := func(radius string, r ...string) fold.Outcome {
		return said(t, p, "tram", nil, v{"radius", radius}, v{"jog0", "0"}, v{"jog1", "0.200"}, v{"r0", r[0]}, v{"r90", r[1]}, v{"r180", r[2]}, v{"r270", r[3]}, v{"close", r[0]})
	}
	o := sweep("60", "0.030", "0.008", "-0.018", "0.000")
	f := factIn(t, o, "tram")
	near(t, "tilt X", f.Value[0]*1e3, 0.4, 1e-9)
	near(t, "tilt Y", f.Value[1]*1e3, 0.066667, 1e-6)
	if fold.Worst(o.Checks) != fold.Fail || len(o.Next) == 0 || !strings.Contains(o.Next[0].Words, "leans RIGHT by") || !strings.Contains(o.Next[0].Words, "toward the LEFT") || !strings.Contains(o.Next[0].Words, "0.080 mm under the RIGHT") {
		t.Errorf("%+v", o.Next)
	}
	o = sweep("100", "0.010", "0", "-0.010", "0")
	f = factIn(t, o, "tram")
	near(t, "tilt", f.Value[0], 1e-4, 1e-12)
	row := func(label string) float64 {
		t.Helper()
		for _, r := range o.Lines {
			if strings.Contains(r.Label, label) {
				return r.Value
			}
		}
		t.Fatalf("no line %q in %+v", label, o.Lines)
		return 0
	}
	near(t, "step at 40 mm", row("step, passes along X"), 0.0040, 1e-6)
	near(t, "dish at 40 mm", row("dish, fed along X"), 0.0010, 1e-6)
	near(t, "kink", row("kink of sides in X"), 2*1e-4*16, 1e-9)
	said1 := ""
	for _, r := range o.Lines {
		said1 += r.Label + " " + r.Text + "\n"
	}
	if !strings.Contains(said1, "column not measured") {
		t.Errorf("%s", said1)
	}
	// A radius typed for a diameter, or the other way round, is a factor of two: the window asks for the radius.
	sp, _ := p.Spec("tram")
	a := sp.Asks(fold.View{Plan: p})[0]
	if a.Field != "radius" || a.Window == nil || math.Abs(200-a.Window.Want) <= a.Window.Half {
		t.Errorf("a diameter of 200 is taken for a radius: %+v", a.Window)
	}
	// A lever dial at 30 degrees shows more than there is; its jog shows the same more.
	o = said(t, p, "tram", nil, v{"radius", "100"}, v{"jog0", "0"}, v{"jog1", "-0.231"}, v{"r0", "-0.01155"}, v{"r90", "0"}, v{"r180", "0.01155"}, v{"r270", "0"}, v{"close", "-0.01155"})
	near(t, "tilt by a lever dial whose needle turns the other way", factIn(t, o, "tram").Value[0], 1e-4, 1e-9)
}

// A machine that cuts, turns the part over and cuts again, by its own arithmetic: a wall is
// two points, the turn a change of signs.
func TestLeanAndSquarenessOnAMachineThatCutsTwice(t *testing.T) {
	type point [3]float64
	turn := map[string]func(point) point{"x": func(p point) point { return point{p[0], -p[1], -p[2]} }, "y": func(p point) point { return point{-p[0], p[1], -p[2]} }}
	const tx, ty, eps, h = 0.4e-3, -0.25e-3, 0.05 / 300, 16.0
	// cut is where the machine leaves a point that the program has at p.
	cut := func(p point) point {
		return point{p[0] + tx*p[2] + eps*p[1], p[1] + ty*p[2], p[2]}
	}
	for _, flip := range []string{"x", "y"} {
		j := trial.Lid(t)
		j.Setups[0].Flip = flip
		j.Setups = append(j.Setups, jobs.Setup{Name: "head", Kind: kit.TramKind})
		p := trial.Plan(t, j, "head", nil)
		// A wall over a height h on either side: how much does it change direction at the parting line?
		kink := func(axis int) float64 {
			low, high := cut(point{10, 10, 0}), cut(point{10, 10, h})
			a, b := turn[flip](low), turn[flip](high)
			one := (b[axis] - a[axis]) / (b[2] - a[2])
			two := (high[axis] - low[axis]) / h
			return math.Abs(two-one) * h
		}
		rows := checks.LeanEffects(p, tx, ty)
		doubled := 0.0
		for _, r := range rows {
			if strings.Contains(r.Label, "doubled") {
				doubled = r.Value
			}
		}
		along := map[string]int{"x": 0, "y": 1}[flip]
		near(t, "kink along the flip axis "+flip, doubled, kink(along), 1e-12)
		near(t, "kink across it", kink(1-along), 0, 1e-12)

		// Two places of a test square, 54 apart in Y, cut at the same height from both sides.
		step := func(y float64) float64 {
			want := point{5, y, 0}
			side1 := turn[flip](cut(turn[flip](want)))
			return side1[0] - cut(want)[0]
		}
		type v = [2]string
		o := said(t, p, "test-square", nil, v{"way", machine.Known[0]}, v{"dy", "54"}, v{"near", fmtMM(step(-27))}, v{"far", fmtMM(step(27))})
		near(t, "squareness from a square turned about "+flip, factIn(t, o, "squareness").Value[0], eps, 1e-7)
		near(t, "mismatch at its ends", math.Abs(step(27)-step(-27))/2, 2*eps*27, 1e-12)
	}
}

// Twice over is nothing, and no flip is a mirror; a mirrored program is caught.
func TestBothSidesAndTheirSense(t *testing.T) {
	for _, flip := range []string{"x", "y"} {
		p := side1Plan(t, func(j *jobs.Job, _ *jobs.Setup) {
			j.Setups[0].Flip, j.Posted = flip, "mirrored"
			j.Part.Features = append(j.Part.Features, jobs.Feature{Name: "latch", At: jobs.Point{X: 80, Y: 10}})
		})
		s2, err := steps.NewPlan(p.Job, "side2", nil)
		if err != nil {
			t.Fatal(err)
		}
		three := side2.ThreePlaces(s2)
		type v = [2]string
		var turned, mirrored []v
		for i, q := range three {
			back := kit.FlipOf(p, s2.Setup).Plan(frame.Vec{X: q.Side1.X, Y: q.Side1.Y})
			if math.Abs(back.X-q.Side2.X) > 0 || math.Abs(back.Y-q.Side2.Y) > 0 {
				t.Errorf("%s: over and back is %v, was %v", q.Name, back, q.Side2)
			}
			x, y := string(rune('1'+i)), fmtMM(q.Side2.Y)
			turned = append(turned, v{"p" + x + ".x", fmtMM(q.Side2.X)}, v{"p" + x + ".y", y})
			mirrored = append(mirrored, v{"p" + x + ".x", fmtMM(96 - q.Side2.X)}, v{"p" + x + ".y", y})
		}
		if o := said(t, s2, "sense", nil, turned...); fold.Worst(o.Checks) != fold.Pass {
			t.Errorf("flip %s: %+v", flip, o.Checks)
		}
		if o := said(t, s2, "sense", nil, mirrored...); o.Named != "mirrored-program" || fold.Worst(o.Checks) != fold.Fail {
			t.Errorf("flip %s: a mirror passes: %+v", flip, o.Checks)
		}
		if !slices.Contains(s2.Makers("seat")[0].Stands(), fold.FactID("sense")) {
			t.Error("the seat does not wait for the sense of a mirrored program")
		}
	}
}

func TestAgesAreSaid(t *testing.T) {
	p := side1Plan(t, nil)
	p.Job.Machine.Probe.Date, p.Job.Machine.Tram.Date = "2026-01-15", "2025-10-01"
	v := fold.Trial(p, "", r0, nil, [2]string{"x", "1"}) // 2026-03-01
	if got := strings.Join(kit.CardAge(p, v, "ball"), ""); !strings.Contains(got, "45 days before") || !strings.Contains(got, "long ago") {
		t.Errorf("ball: %s", got)
	}
	if got := strings.Join(kit.CardAge(p, v, "tram"), ""); !strings.Contains(got, "151 days before") {
		t.Errorf("tram: %s", got)
	}
	p.Job.Machine.Probe.Date = "2026-02-28"
	if got := strings.Join(kit.CardAge(p, v, "ball"), ""); !strings.Contains(got, "1 day before") || strings.Contains(got, "long ago") {
		t.Errorf("ball: %s", got)
	}
	p.Job.Machine.Probe.Void = "stylus changed"
	for _, f := range kit.GivenFacts(p) {
		if f.ID == "ball" {
			t.Error("a ball that the card calls void is given")
		}
	}
}
