package inspect_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/trial"
)

func inspection(t testing.TB, edit func(*jobs.Job)) *fold.Plan {
	t.Helper()
	j := trial.Job(t, "testdata/cover/cover.job.yaml")
	j.Machine.Dial.Graduation = 0.005 // a step read with it: 0.003
	return trial.Plan(t, j, "bench", edit)
}

type typed = trial.Typed

// What rooms of steps share in their tests.
var (
	judged = trial.Judged
	fact   = trial.Fact
)

// ofBench is the job's inspection.
func ofBench(j *jobs.Job) *jobs.Inspect {
	for i := range j.Setups {
		if j.Setups[i].Name == "bench" {
			return &j.Setups[i].Inspect
		}
	}
	panic("the job inspects nothing")
}

var steps8 = []typed{{"feeler", "0.100"}, {"right.near", "0.018"}, {"right.far", "0.012"}, {"left.near", "-0.010"}, {"left.far", "-0.005"},
	{"away.low", "-0.023"}, {"away.high", "-0.007"}, {"toward.low", "0.026"}, {"toward.high", "0.013"}}

var shop = facts.Benched.Is(facts.BenchedFact{C: 20, Shop: 20})

func rows(t testing.TB, o fold.Outcome, want map[string]float64, tol float64) {
	t.Helper()
	for _, r := range o.Lines {
		if w, ok := want[r.Label]; ok {
			t.Logf("%-44s %14.8f %14.8f", r.Label, w, r.Value)
			if math.Abs(r.Value-w) > tol {
				t.Errorf("%s %.9f, want %.9f", r.Label, r.Value, w)
			}
			delete(want, r.Label)
		}
	}
	if len(want) > 0 {
		t.Errorf("not shown: %v", want)
	}
}

// Demonstration: eight steps, four walls, five places of a floor, typed; the numbers are computed elsewhere with numpy.
func TestWorkedExample(t *testing.T) {
	p := inspection(t, func(j *jobs.Job) { j.Part.Features = nil })
	o := judged(t, p, "steps", []fold.Known{shop}, steps8...)
	if v := fold.Worst(o.Checks); v != fold.Pass {
		t.Fatalf("%v %+v", v, o.Checks)
	}
	rows(t, o, map[string]float64{"side 2 along X, to the RIGHT is +": 0.011250, "side 2 along Y, AWAY is +": -0.017250, "side 2 turned, counter-clockwise is +": 0.201389e-3,
		"side 2 larger on each face": 0.003, "out of square, X per Y": 0.076389e-3}, 1e-9+5e-10)
	k := fact(o, facts.Mismatch.ID)
	// The dial over the feeler: 0.005/√12 and 0.001 of 0.100, and 0.005/√3 of the feeler's thickness.
	const scale = 0.033789
	for i, want := range []float64{0.0015, 0.0015, 0.041667e-3, 0.001061, 0.079905e-3} {
		want = math.Hypot(want, scale*k.Value[i])
		if u := math.Sqrt(k.Cov[i][i]); math.Abs(u-want) > 5e-7*math.Min(1, want*1e3) {
			t.Errorf("u of component %d %.9f, want %.9f", i, u, want)
		}
	}
	if !strings.Contains(strings.Join(o.Notes, " "), "radius smaller by 0.003") || strings.Contains(strings.Join(o.Notes, " "), "square") {
		t.Errorf("size is real, squareness is not: %v", o.Notes)
	}
	fs := []fold.Known{shop, k}
	w := judged(t, p, "walls", fs, typed{"right", "2.416"}, typed{"left", "2.391"}, typed{"away", "2.386"}, typed{"toward", "2.422"})
	rows(t, w, map[string]float64{"by the walls along X": 0.0125, "by the walls along Y": -0.0180, "walls thicker than drawn": 0.00375}, 1e-9)
	if w.Named != "" || fold.Worst(w.Checks) != fold.Pass {
		t.Errorf("%s %+v", w.Named, w.Checks)
	}
	if w = judged(t, p, "walls", fs, typed{"right", "2.436"}, typed{"left", "2.371"}, typed{"away", "2.386"}, typed{"toward", "2.422"}); w.Named != "cavity-off" {
		t.Errorf("walls that put side 2 elsewhere: %q", w.Named)
	}
	f := judged(t, p, "floor-left", fs, typed{"f1", "2.021"}, typed{"f2", "2.013"}, typed{"f3", "2.005"}, typed{"f4", "2.014"}, typed{"f5", "2.012"})
	rows(t, f, map[string]float64{"floor too thick": 0.0130, "thicker to the RIGHT": -0.10625e-3, "thicker AWAY": -0.15625e-3}, 1e-9)
	v := judged(t, p, "verdict", append(fs, fact(f, facts.FloorLeft.ID)), typed{"fate", "kept"})
	// Near left corner, Y: 0.026917 by place and turn.
	rows(t, v, map[string]float64{"mismatch at the worst feature": 0.026917}, 5e-7)
	if fold.Worst(v.Checks) != fold.Pass {
		t.Errorf("%+v", v.Checks)
	}
}

// judgedAt is a step judged in a record of that walk.
func judgedAt(t testing.TB, walk int, p *fold.Plan, step fold.StepID, fs []fold.Known, in ...typed) fold.Outcome {
	t.Helper()
	sp, ok := p.Spec(step)
	if !ok {
		t.Fatalf("no step %s", step)
	}
	return sp.Judge(fold.Trial(p, step, trial.When, fs, in...).AtWalk(walk))
}

// A dial that shows 0.094 over the feeler shows each step 6 % small: by the newest walk they are divided by it, and it is said.
func TestDialsScale(t *testing.T) {
	p := inspection(t, nil)
	var small []typed
	for _, r := range steps8 {
		v, err := strconv.ParseFloat(r[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		small = append(small, typed{r[0], strconv.FormatFloat(0.94*v, 'f', 6, 64)})
	}
	o := judged(t, p, "steps", []fold.Known{shop}, small...)
	rows(t, o, map[string]float64{"side 2 along X, to the RIGHT is +": 0.011250, "side 2 along Y, AWAY is +": -0.017250,
		"side 2 larger on each face": 0.003}, 1e-9)
	if !strings.Contains(strings.Join(o.Notes, " "), "shows -6 % over the feeler") {
		t.Errorf("%v", o.Notes)
	}
	o = judgedAt(t, 3, p, "steps", []fold.Known{shop}, small...)
	rows(t, o, map[string]float64{"side 2 along X, to the RIGHT is +": 0.94 * 0.011250}, 1e-9)
}

// The zero of micrometer and gauge is in the interval of what is a mean of all of them: 0.0024 of four walls, 0.0023 of five
// floors; not in the place by the walls, which is a difference. Earlier walks did not count it.
func TestZeroOfTheInstrument(t *testing.T) {
	p := inspection(t, nil)
	for _, c := range []struct {
		walk         int
		walls, floor float64
	}{{4, 0.00237, 0.00229}, {3, 0.00142, 0.00127}} {
		k := fact(judgedAt(t, c.walk, p, "steps", []fold.Known{shop}, steps8...), facts.Mismatch.ID)
		w := judgedAt(t, c.walk, p, "walls", []fold.Known{shop, k}, typed{"right", "2.416"}, typed{"left", "2.391"}, typed{"away", "2.386"}, typed{"toward", "2.422"})
		f := judgedAt(t, c.walk, p, "floor-left", []fold.Known{shop, k}, typed{"f1", "2.012"}, typed{"f2", "2.012"}, typed{"f3", "2.012"}, typed{"f4", "2.012"}, typed{"f5", "2.012"})
		for label, want := range map[string]float64{"walls thicker than drawn": c.walls, "by the walls along X": 0.00201, "floor too thick": c.floor} {
			for _, r := range append(w.Lines, f.Lines...) {
				if r.Label == label && math.Abs(r.Guard-want) > 1e-5 {
					t.Errorf("walk %d, %s: guard %.6f, want %.5f", c.walk, label, r.Guard, want)
				}
			}
		}
	}
}

// found are rows of a card.
func found(xs ...float64) (out []jobs.Found) {
	for i, x := range xs {
		out = append(out, jobs.Found{Record: strconv.Itoa(i), At: "2026-03-0" + strconv.Itoa(i+1), X: x})
	}
	return out
}

// seen is the mismatch fact of one number along X.
func seen(x float64) fold.Known {
	u := 0.0015 * 0.0015
	c := [][]float64{{u, 0, 0, 0, 0}, {0, u, 0, 0, 0}, {0, 0, 1e-9, 0, 0}, {0, 0, 0, 1e-6, 0}, {0, 0, 0, 0, 6e-9}}
	return facts.Mismatch.Is(facts.MismatchFact{DX: unit.Length(x), Cov: fold.NewCov("dx,dy,turn,size,square", c)})
}

// Demonstration: parts of 0.0119, 0.0068, 0.0142 along X. Part 1: leave it. Part 2: correct by -0.0072 (here with 0.0015 for
// measuring; 0.0012 gives the same digits). A part with a mishap, or in another climate, corrects nothing.
func TestCorrectOrLeave(t *testing.T) {
	for _, c := range []struct {
		name    string
		earlier []jobs.Found
		x       float64
		rh      float64
		spoiled bool
		takes   float64
		says    string
		walk    int // 0: the newest
	}{
		{"part 1", nil, 0.0119, 0, false, 0, "X: leave it. The fixture's share by one part", 0},
		{"part 2", found(0.0119), 0.0068, 0, false, 0.0072, "X: correct by -0.007", 0},
		{"part 3", found(0.0119, 0.0068), 0.0142, 0, false, 0.0091, "X: correct by -0.009", 0},
		{"mishap", found(0.0119), 0.0068, 0, true, 0, "X: leave it. A mishap", 0},
		{"left out", []jobs.Found{{Record: "1", At: "1", X: 0.0119, LeftOut: "a mishap"}}, 0.0068, 0, false, 0, "X: leave it. The fixture's share by one part", 0},
		{"corrected since", []jobs.Found{{Record: "1", At: "1", X: 0.0119, Took: jobs.Took{X: 0.0075}}}, 0.0068, 0, false, 0, "X: leave it. The fixture's share by one part", 0},
		{"taken back", []jobs.Found{{Record: "1", At: "1", X: 0.0119, Took: jobs.Took{X: 0.0075}, Back: "3"}, {Record: "2", At: "2", X: 0.03}}, 0.0068, 0, false, 0.0072, "X: correct by -0.007", 0},
		{"damp", []jobs.Found{{Record: "1", At: "1", X: 0.0119, RH: 30}}, 0.0068, 60, false, 0, "X: leave it. Today is", 0},
		{"outside", found(0.008, 0.0081, 0.008, 0.0081, 0.008, 0.0081, 0.008, 0.0081), 0.030, 0, false, 0, "X: leave it. A part lies outside", 0},
		{"small", found(0.004, 0.0041, 0.004, 0.0041, 0.004, 0.0041, 0.004), 0.0041, 0, false, 0, "is under a tenth", 0},
		{"too much, by an earlier walk", found(0.04, 0.041, 0.04), 0.041, 0, false, 0.025, "X: correct by -0.025 at most", 3},
		{"too much", found(0.04, 0.041, 0.04), 0.041, 0, false, 0, "X: look for the cause first. The mean of 4 parts is +0.041", 0},
		{"far beyond", nil, -0.08, 0, false, 0, "X: look for the cause first. The mean of one part is -0.080, and 0.030 mm is what chance gives", 0},
		{"far beyond, by an earlier walk", nil, -0.08, 0, false, -0.025, "X: correct by +0.025 at most", 3},
	} {
		p := inspection(t, func(j *jobs.Job) { j.Fixture.Found = c.earlier })
		b := facts.Benched.Is(facts.BenchedFact{C: 20, Shop: 20, RH: c.rh})
		v := fold.Trial(p, "verdict", trial.When, []fold.Known{b, seen(c.x)}, typed{"fate", "kept"}, typed{"card", "correct the card"})
		if c.walk > 0 {
			v = v.AtWalk(c.walk)
		}
		if c.spoiled {
			v = v.WithSpoiled(fold.Spoil{Setup: "side2", Seq: 9, Mishap: "part-bumped"})
		}
		sp, _ := p.Spec("verdict")
		o := sp.Judge(v)
		k, ok := facts.Corrected.Read(fact(o, facts.Corrected.ID))
		if !ok || math.Abs(float64(k.X)-c.takes) > 8e-5 || !strings.Contains(strings.Join(o.Notes, "\n"), c.says) || (k.Out == 1) != c.spoiled {
			t.Errorf("%s: takes %.5f, want %.5f; %v", c.name, float64(k.X), c.takes, o.Notes)
		}
		asks := sp.Asks(v)
		if offered := len(asks) == 2; offered != (c.takes != 0) {
			t.Errorf("%s: the card is offered: %v", c.name, offered)
		}
	}
}

// What is declared or waived while a part was cut keeps it from the card; at the bench only what puts its numbers in doubt.
func TestWhatSpoils(t *testing.T) {
	p := inspection(t, nil)
	sp, _ := p.Spec("verdict")
	for _, c := range []struct {
		spoil fold.Spoil
		out   bool
	}{{fold.Spoil{Setup: "side2", Seq: 1, Mishap: "part-bumped"}, true}, {fold.Spoil{Setup: "side2", Seq: 1, Limit: "shift.register"}, true}, {fold.Spoil{Setup: "bench", Seq: 1, Mishap: "left-alone"}, false},
		{fold.Spoil{Setup: "bench", Seq: 1, Limit: "inspect.odd"}, true}, {fold.Spoil{Setup: "bench", Seq: 1, Limit: "inspect.wall.left"}, false}} {
		o := sp.Judge(fold.Trial(p, "verdict", trial.When, []fold.Known{shop, seen(0.01)}, typed{"fate", "kept"}).WithSpoiled(c.spoil))
		if k, ok := facts.Corrected.Read(fact(o, facts.Corrected.ID)); !ok || (k.Out == 1) != c.out {
			t.Errorf("%+v: %v", c.spoil, k.Out)
		}
	}
}

// A dial that reads the other way is named before a card is corrected by it.
func TestDialBackwards(t *testing.T) {
	p := inspection(t, nil)
	in := append([]typed{{"feeler", "-0.100"}}, steps8[1:]...)
	if o := judged(t, p, "steps", []fold.Known{shop}, in...); o.Named != "dial-backwards" || fold.Worst(o.Checks) == fold.Pass {
		t.Errorf("%q %+v", o.Named, o.Checks)
	}
	odd := append([]typed{}, steps8...)
	odd[6] = typed{"away.high", "0.093"}
	if o := judged(t, p, "steps", []fold.Known{shop}, odd...); o.Named != "odd-step" || fold.Worst(o.Checks) == fold.Pass {
		t.Errorf("%q %+v", o.Named, o.Checks)
	}
}

// Two holes, their distances from side 1's faces typed: by hand dx = 0.030, 0.026, dy = -0.010, -0.014; a hole that wandered by
// itself is named. Numbers by hand.
func TestHoles(t *testing.T) {
	p := inspection(t, func(j *jobs.Job) {
		j.Part.Features = []jobs.Feature{{Name: "a", At: jobs.Point{X: 12, Y: 52}}, {Name: "b", At: jobs.Point{X: 84, Y: 52}}}
		ofBench(j).Holes = []string{"a", "b"}
	})
	in := []typed{{"pin", "4"}, {"h1.x", "14.030"}, {"h1.y", "53.990"}, {"h2.x", "86.026"}, {"h2.y", "53.986"}}
	o := judged(t, p, "holes", []fold.Known{shop, seen(0.028)}, in...)
	k, ok := facts.Edged.Read(fact(o, facts.Edged.ID))
	if !ok || math.Abs(float64(k.DX)-0.028) > 1e-9 || math.Abs(float64(k.DY)+0.012) > 1e-9 || fold.Worst(o.Checks) != fold.Pass {
		t.Errorf("%+v %+v", k, o.Checks)
	}
	in[1][1] = "14.130"
	if o = judged(t, p, "holes", []fold.Known{shop, seen(0.028)}, in...); o.Named != "hole-off" || o.Checks[0].Verdict == fold.Pass || o.Checks[1].Verdict != fold.Pass {
		t.Errorf("a hole 0.1 beside: %q %+v", o.Named, o.Checks)
	}
}

// An offcut narrower by 0.040, 0.044, 0.036: 0.020 a face, give or take 0.002. A step of 0.03 leaves 2.4 - 0.03 - 0.002 of a wall.
func TestSanding(t *testing.T) {
	p := inspection(t, func(j *jobs.Job) { ofBench(j).Finish = &jobs.Finish{Most: 0.05, Least: 2.2} })
	flat := facts.Walls.Is(facts.WallsFact{Cov: fold.NewCov("dx,dy,thicker", [][]float64{{0, 0, 0}, {0, 0, 0}, {0, 0, 0}})})
	in := []typed{{"b1", "12"}, {"b2", "12.01"}, {"b3", "11.99"}, {"a1", "11.96"}, {"a2", "11.966"}, {"a3", "11.954"}}
	o := judged(t, p, "finish", []fold.Known{shop, seen(0.03), flat}, in...)
	rows(t, o, map[string]float64{"largest step on a face": 0.03, "sanding takes of a face": 0.02, "thinnest wall then": 2.368}, 1e-9)
	if fold.Worst(o.Checks) != fold.Pass {
		t.Errorf("%+v", o.Checks)
	}
	if o = judged(t, p, "finish", []fold.Known{shop, seen(0.06), flat}, in...); o.Named != "step-high" || o.Checks[0].Verdict == fold.Pass {
		t.Errorf("a step of 0.06: %q %+v", o.Named, o.Checks)
	}
	p.Setup.Inspect.Finish.Least = 2.37
	if o = judged(t, p, "finish", []fold.Known{shop, seen(0.03), flat}, in...); o.Checks[1].Verdict == fold.Pass {
		t.Errorf("2.368 of 2.37: %+v", o.Checks)
	}
	wet := append([]typed{}, in...)
	wet[3] = typed{"a1", "12.02"}
	if o = judged(t, p, "finish", []fold.Known{shop, seen(0.03), flat}, wet...); fold.Worst(o.Checks) == fold.Pass {
		t.Error("an offcut that grew was taken")
	}
}
