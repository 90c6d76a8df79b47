package reuse_test

import (
	"fmt"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/trial"
)

type typed = trial.Typed

// What rooms of steps share in their tests.
var (
	judged = trial.Judged
	known  = trial.Fact
	near   = trial.Near
	when   = trial.When
)

func season(t testing.TB, edit func(*jobs.Job)) *fold.Plan {
	t.Helper()
	j, err := builtin.Job("reuse")
	if err != nil {
		t.Fatal(err)
	}
	return trial.Plan(t, j, "", edit)
}

// worked is the acrylic plate of the worked example: bores 119.9986 apart, 7.986 wide, alpha 72e-6, 45 % damp.
func worked(j *jobs.Job) {
	c := unit.Temperature(20)
	j.Fixture.Material, j.Fixture.Alpha = "acrylic-cast", 72e-6
	j.Fixture.AsMade = jobs.AsMade{Temperature: &c, Humidity: 45, Bore: jobs.Bore{Dia: 7.986, Kind: "bore"}, Bore2: &jobs.Bore2{At: jobs.Point{X: 119.9986}}, Edge: &jobs.Edge{Side: "front", Length: 120},
		PartZero: jobs.Point{X: 45, Y: 20}, Floor: jobs.Floor{Depth: 12, Under: 12}, DiaU: 0.0005, SpacingU: 0.0003}
}

var ball = fold.Known{ID: "ball", Value: []float64{1, 1, 0, 0, 0.001, 30}}

// touches are four in each bore of diameter d by a ball of radius 1, bore 2 at that place from bore 1.
func touches(d, x, y float64) (in []typed) {
	in = append(in, typed{"mark", "toward you"})
	r := d/2 - 1
	for _, b := range []struct {
		pre  string
		x, y float64
	}{{"", 0, 0}, {"b2", x, y}} {
		for _, h := range []struct {
			f string
			v float64
		}{{"f0", b.x + r}, {"f180", b.x - r}, {"f90", b.y + r}, {"f270", b.y - r}} {
			in = append(in, typed{b.pre + h.f, fmt.Sprintf("%.5f", h.v)})
		}
	}
	return in
}

func backAt(c, rh float64) fold.Known {
	return facts.Back.Is(facts.BackFact{C: c, Read: 1, RH: rh})
}

var looked = facts.LookedAt.Is(facts.LookedFact{})

// Demonstration: a fixture 4 K warmer and damper. Numbers computed elsewhere.
func TestWorkedExample(t *testing.T) {
	p := season(t, worked)
	o := judged(t, p, "scale", []fold.Known{ball, backAt(24, 55), looked}, touches(7.9952, 120.0628, 0.0110)...)
	if v := fold.Worst(o.Checks); v != fold.Pass {
		t.Fatalf("%v %+v", v, o.Checks)
	}
	s, _ := facts.Scale.Read(known(o, facts.Scale.ID))
	w, _ := facts.WornBore.Read(known(o, facts.WornBore.ID))
	near(t, "q - 1", s.Grown, 5.350e-4, 5e-8)
	near(t, "heat of 4 K", s.Heat, 2.412e-4, 5e-8)
	near(t, "rest", s.Rest, 2.938e-4, 5e-8)
	near(t, "bore 1 beyond its size", w.Rest, 7.9952-7.990273, 1e-6)
	for _, r := range o.Lines {
		if r.Label == "bore 1 should measure" {
			near(t, r.Label, r.Value, 7.990273, 1e-6)
		}
	}
	// 2.938e-4 over (72 - 11.7)e-6 a kelvin are 4.87 K: as much as 8.8 % of humidity, and no reading tells which.
	said := strings.Join(o.Notes, " ")
	if !strings.Contains(said, "damp, or a plate 3.8 °C to 6.0 °C warmer than its thermometer") || !strings.Contains(said, "The air would explain it") ||
		strings.Contains(said, "humidity") || s.Moist != 1 {
		t.Errorf("%q", said)
	}
	sp, _ := p.Spec("scale")
	old := sp.Judge(fold.Trial(p, "scale", trial.When, []fold.Known{ball, backAt(24, 55), looked}, touches(7.9952, 120.0628, 0.0110)...).AtWalk(3))
	if said := strings.Join(old.Notes, " "); !strings.Contains(said, "8.8 % more humidity") || !strings.Contains(said, "The air explains it") {
		t.Errorf("an earlier walk: %q", said)
	}
	plain := judged(t, p, "scale", []fold.Known{ball, backAt(24, 55), looked}, touches(7.9876, 120.0275, 0.0110)...)
	if said := strings.Join(plain.Notes, " "); !strings.Contains(said, "Heat as read explains its growth") {
		t.Errorf("%q", said)
	}
	wet := judged(t, p, "scale", []fold.Known{ball, backAt(24, 75), looked}, touches(8.0, 120.1186, 0.0110)...)
	if said := strings.Join(wet.Notes, " "); !strings.Contains(said, "Heat alone would take a plate 10.9 °C to 14.3 °C warmer") || strings.Contains(said, "cannot tell") {
		t.Errorf("%q", said)
	}
	// In dry air nothing explains it.
	dry := judged(t, p, "scale", []fold.Known{ball, backAt(24, 40), looked}, touches(7.9952, 120.0628, 0.0110)...)
	if said := strings.Join(dry.Notes, " "); !strings.Contains(said, "would not explain it") {
		t.Errorf("%q", said)
	}
	// A crack opens it by 2 parts in 1000.
	crack := judged(t, p, "scale", []fold.Known{ball, backAt(24, 55), looked}, touches(7.9952, 120.3, 0.0110)...)
	if fold.Worst(crack.Checks) != fold.Fail || crack.Named != "not-this-fixture" {
		t.Errorf("%+v", crack.Checks)
	}
	worn := judged(t, p, "scale", []fold.Known{ball, backAt(24, 55), looked}, touches(8.004, 120.0628, 0.0110)...)
	if fold.Worst(worn.Checks) != fold.Fail || worn.Named != "bore-worn" {
		t.Errorf("%+v", worn.Checks)
	}
}

// eight uses of the worked example, the last one today's.
var eight = []float64{0.4, -0.6, 0.9, 1.6, 1.2, 2.5, 2.9, 3.6}

// Demonstration: a bore that wears. The single points are silent, the moving average is not; the bound of the
// next two uses passes its limit after use 16, which today's eight do not yet reach.
func TestWornFromUseToUse(t *testing.T) {
	with := func(n int) *fold.Plan {
		return season(t, func(j *jobs.Job) {
			worked(j)
			for i, v := range eight[:n-1] {
				j.Fixture.Seen = append(j.Fixture.Seen, jobs.Seen{Record: fmt.Sprint("back.", i), At: "2026-01-01T00:00:00Z", Use: i + 1, Bore: v * 1e-3})
			}
			j.Fixture.Uses = n
		})
	}
	all := func(v float64) []fold.Known {
		return []fold.Known{backAt(24, 55), looked, facts.Scale.Is(facts.ScaleFact{}), facts.WornBore.Is(facts.WearFact{Rest: v * 1e-3}), facts.WornLine.Is(facts.WearFact{}), facts.FloorNow.Is(facts.FloorNowFact{}),
			facts.DryFit.Is(facts.Done{}), facts.Reproved.Is(facts.ReprovedFact{N: 6})}
	}
	o := judged(t, with(8), "fate", all(eight[7]), typed{"fate", "used"})
	if o.Named != "recut-due" || fold.Worst(o.Checks) != fold.Fail {
		t.Errorf("%q %+v", o.Named, o.Checks)
	}
	for _, r := range o.Lines {
		switch r.Label {
		case "a use adds":
			near(t, r.Label, r.Value, 0.527e-3, 1e-6)
		case "keeps its limit up to use":
			if r.Text != "16" {
				t.Errorf("%s %s", r.Label, r.Text)
			}
		case "its chart":
			t.Log(r.Text)
		}
	}
	if o := judged(t, with(8), "fate", all(eight[7]), typed{"fate", "cut anew"}); fold.Worst(o.Checks) != fold.Pass {
		t.Errorf("%+v", o.Checks)
	}
	if o := judged(t, with(2), "fate", all(eight[1]), typed{"fate", "used"}); fold.Worst(o.Checks) != fold.Pass || !strings.Contains(strings.Join(o.Notes, " "), "a trend needs more times") {
		t.Errorf("%+v %q", o.Checks, o.Notes)
	}
}

// The proof is 1.3 times the working torque, by a level pull; a soft thread is said, and the last load of a thread.
func TestProof(t *testing.T) {
	p := season(t, nil)
	o := judged(t, p, "proof", []fold.Known{looked}, typed{"turned", "6"}, typed{"soft", "0"})
	if fold.Worst(o.Checks) != fold.Pass || !strings.Contains(o.Learned, "10 parts") {
		t.Errorf("%+v %q", o.Checks, o.Learned)
	}
	if o = judged(t, p, "proof", []fold.Known{looked}, typed{"turned", "6"}, typed{"soft", "1"}); o.Named != "thread-soft" || len(o.Next) == 0 {
		t.Errorf("%+v", o)
	}
	old := season(t, func(j *jobs.Job) { j.Fixture.Threads.Cycles = 14 })
	if o = judged(t, old, "proof", []fold.Known{looked}, typed{"turned", "6"}, typed{"soft", "0"}); fold.Worst(o.Checks) != fold.Fail || o.Named != "threads-used-up" {
		t.Errorf("%+v", o.Checks)
	}
}
